// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "report/drawing.hpp"
#include "report/pdf.hpp"
#include "report/typeface.hpp"

namespace bw::report {

struct Strip;
using Strips = std::vector<Strip>;

/// A box behind a run of strips, drawn anew on each page that the run reaches.
struct Frame {
    double x = 0, width = 0;
    double pad = 0;  ///< above and below the strips where the box begins, ends or is broken
    std::optional<Colour> fill;
    std::optional<Stroke> stroke;
    std::optional<Colour> edge;  ///< a bar at the left side
    double edge_width = 0;
};

/// A piece of the page over its whole text width that is not broken: a line of a paragraph, a row.
struct Strip {
    double height = 0;
    double before = 0;  ///< space above; dropped at the top of a page
    Drawing items;      ///< from the left edge of the text and the top of the strip
    bool with_next = false;
    bool new_page = false;
    std::shared_ptr<const Frame> frame;
    std::shared_ptr<const Strip> head;  ///< repeated where the strip comes first on a page
    std::string tag;                    ///< around this and its neighbours of the same tag and part
    int part = 0;
};

void append(Strips& to, Strips from);

/// A vertical space.
[[nodiscard]] Strip space(double height);
/// Each strip stays with the next but the last.
void keep_together(Strips& strips);
/// As one strip, for what must stay whole or stand beside something.
[[nodiscard]] Strip joined(const Strips& strips);
/// Columns side by side as one strip.
struct Beside {
    double x = 0;
    Strips strips;
};
[[nodiscard]] Strip beside(const std::vector<Beside>& columns);
/// The strips in a frame; `frame.x` and `frame.width` in the text area, the strips already inset.
[[nodiscard]] Strips framed(Strips strips, const Frame& frame);

/// Paper, and the part of it that is for text.
struct PageForm {
    PageSize size = kA4;
    double left = 0, right = 0, top = 0, bottom = 0;  ///< margins
    [[nodiscard]] double text_width() const { return size.width - left - right; }
    [[nodiscard]] double text_height() const { return size.height - top - bottom; }
};

/// What stands in the margins of page `page` of `pages`.
using Margins = std::function<Drawing(std::size_t page, std::size_t pages)>;

/// Fills pages from top to bottom.
///
/// Rules    a strip is not broken; a run of `with_next` moves to the next page as a whole unless it
///          is longer than a page; a repeated head counts.
/// Errors   TooLarge: a strip higher than a page, or over 500 pages.
[[nodiscard]] Result<std::vector<Drawing>> pages(const Strips& strips, const PageForm& form,
                                                 const Margins& margins);

}  // namespace bw::report
