// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <utility>
#include <vector>

#include "base/result.hpp"
#include "report/paper.hpp"
#include "report/strip.hpp"
#include "report/text.hpp"
#include "report/typeface.hpp"

namespace bw::report {

/// How all papers look: one family, ink on white, one accent, generous margins; a heading hangs a
/// short accent bar into the margin.
struct HouseStyle {
    const Typeface& typeface;
    PageForm form;
    double body = 9;     ///< points
    double small = 7.5;  ///< labels, margins
    double title = 21;

    [[nodiscard]] double width() const { return form.text_width(); }

    /// The paper's name over the maker, with facts at the right.
    [[nodiscard]] Strips opening(
        const std::string& title_text, const Maker& maker,
        const std::vector<std::string>& under_maker,
        const std::vector<std::pair<std::string, std::string>>& facts) const;
    [[nodiscard]] Strips heading(const std::string& text) const;
    [[nodiscard]] Strips text(const std::string& text, double before = 0) const;
    [[nodiscard]] Strips quiet(const std::string& text, double before = 0) const;
    [[nodiscard]] Strips sentences(const std::vector<std::string>& texts) const;
    /// Label and value, `columns` pairs to a row. An empty value is left out; "-" stands for "not
    /// stated".
    [[nodiscard]] Strips facts(const std::vector<std::pair<std::string, std::string>>& pairs,
                               int columns) const;
    /// Boxes to tick.
    [[nodiscard]] Strips checks(const std::vector<std::string>& texts) const;
    /// Actions with a number each.
    [[nodiscard]] Strips steps(const std::vector<std::vector<Span>>& actions) const;
    /// Blocks of name, duty, meaning and time, or lines to sign by hand, `columns` to a row.
    [[nodiscard]] Strips signatures(const std::vector<SignatureBlock>& blocks, int columns) const;
    [[nodiscard]] Strips safety(const SafetyBox& box, const std::string& subject) const;

    [[nodiscard]] Style style(Face face = Face::Regular) const { return {face, body, kInk}; }
    [[nodiscard]] Style label() const { return {Face::Regular, small, kQuiet}; }

    /// The margins of each page: what the paper is at the top from the second page on, number,
    /// marks and "Page n of m" at the bottom, and the banner of invented papers.
    [[nodiscard]] Margins margins(const PaperMark& mark, std::string what, std::string about) const;
};

/// A field that a paper cannot do without. Errors BadInput, naming the field.
struct Needed {
    const char* field;
    const std::string& value;
};
[[nodiscard]] Result<void> check_needed(const std::vector<Needed>& fields);

}  // namespace bw::report
