// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace bw::cli {

/// A round axis: from one round number to another, with a step of 1, 2 or 5 times a power of ten.
struct RoundAxis {
    double low = 0, high = 1, step = 1;

    /// Holds [least, most] in about so many steps; `span` is what is to be divided, above 0.
    [[nodiscard]] static RoundAxis about(double least, double most, double span, double steps);
    [[nodiscard]] double share(double value) const { return (value - low) / (high - low); }
    [[nodiscard]] std::vector<double> ticks() const;
};

// Elements of an SVG 1.1 picture, lengths in points with one digit after the point.

/// The picture's begin on a white ground.
[[nodiscard]] std::string svg_head(double width, double height, int type_size);
/// `more`: further attributes, as they stand in the file.
[[nodiscard]] std::string svg_words(double x, double y, const char* anchor, std::string_view words,
                                    std::string_view more = "");
[[nodiscard]] std::string svg_line(double x1, double y1, double x2, double y2, const char* colour,
                                   bool dashed = false);
/// A line through points: "x,y x,y".
[[nodiscard]] std::string svg_course(std::string_view points, const char* colour, double width);

}  // namespace bw::cli
