// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "report/drawing.hpp"
#include "report/strip.hpp"
#include "report/typeface.hpp"

namespace bw::report {

/// A stretch of text in one style.
struct Span {
    std::string text;
    Style style;
};

/// Lines of at most `width` points, broken at spaces and after hyphens between letters, so that the
/// squares of the space left over are least; a number stays with its unit and with what "±" joins.
/// A word that is wider than a line is broken where it must be.
[[nodiscard]] std::vector<std::vector<Span>> broken_lines(const std::vector<Span>& spans,
                                                          double width, const Typeface& typeface);
[[nodiscard]] std::vector<std::string> broken_lines(std::string_view text, const Style& style,
                                                    double width, const Typeface& typeface);

/// From baseline to baseline, of the type size: of running text, of lists and addresses.
inline constexpr double kLeading = 1.38, kTightLeading = 1.3;

/// How a paragraph stands.
struct ParagraphForm {
    double x = 0, width = 0;
    double leading = kLeading;  ///< of the type size, from baseline to baseline
    double before = 0;          ///< points
    std::string tag = "P";
};

/// A strip for each line; the first two and the last two lines stay together.
[[nodiscard]] Strips paragraph(const std::vector<Span>& spans, const ParagraphForm& form,
                               const Typeface& typeface);

/// A line of text that is made narrower, down to `least` of its size, and then cut with an
/// ellipsis, to fit; for labels and margins.
[[nodiscard]] TextItem fitted(TextItem item, double width, double least, const Typeface& typeface);

}  // namespace bw::report
