// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>

#include "report/drawing.hpp"
#include "report/pdf.hpp"

namespace bw::report {

/// A text as it stands between or in the tags of SVG.
[[nodiscard]] std::string svg_escaped(std::string_view text);

/// A drawing as SVG 1.1 text with a title and a description for readers who do not see it.
///
/// Text stays text in a sans-serif face of the viewer; lengths in points, two digits after the
/// point. Text is escaped; the same input gives the same bytes.
[[nodiscard]] std::string svg_text(const Drawing& drawing, PageSize size, const std::string& title,
                                   const std::string& description);

}  // namespace bw::report
