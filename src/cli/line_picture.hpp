// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <utility>
#include <vector>

#include "base/result.hpp"

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

/// A file that a command writes beside its answer.
struct WrittenFile {
    std::string option, path, text;
};
/// Writes those with a path together or not at all.
///
/// Errors   BadInput where one is a file that was read, or two are one; those of io::Outputs.
[[nodiscard]] Result<void> write_files(const std::vector<WrittenFile>& files,
                                       const std::vector<std::string>& read);

}  // namespace bw::cli
