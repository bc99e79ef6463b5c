// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <utility>
#include <vector>

namespace bw::cli {

/// Points of a panel, drawn as dots, as a line, or both.
struct PictureSeries {
    std::vector<std::pair<double, double>> points;
    bool dots = false, line = false;
    int colour = 0;  ///< of a few that colour-blind readers can tell apart
    std::string label;
};
/// A line across the whole panel.
struct PictureRule {
    double at = 0;
    bool upright = false;
    bool dashed = false;
    std::string label;
};
struct PicturePanel {
    std::string y_title;
    double height = 0;  ///< of the field, in points
    std::vector<PictureSeries> series;
    std::vector<PictureRule> rules;
};
/// Panels below one another with one axis across.
struct LinePicture {
    std::string title, x_title;
    std::vector<PicturePanel> panels;
    std::vector<std::string> notes;  ///< lines below
};

/// The picture as SVG 1.1; the same picture gives the same bytes.
[[nodiscard]] std::string svg_of(const LinePicture& picture);

}  // namespace bw::cli
