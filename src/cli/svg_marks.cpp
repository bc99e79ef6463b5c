// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/svg_marks.hpp"

#include <cmath>

#include <fmt/format.h>

#include "report/svg.hpp"

namespace bw::cli {

RoundAxis RoundAxis::about(double least, double most, double span, double steps) {
    const double raw = span / steps;
    const double unit = std::pow(10.0, std::floor(std::log10(raw)));
    RoundAxis out;
    out.step = raw <= unit       ? unit
               : raw <= 2 * unit ? 2 * unit
               : raw <= 5 * unit ? 5 * unit
                                 : 10 * unit;
    constexpr double kHair = 1e-9;
    out.low = std::floor(least / out.step + kHair) * out.step;
    out.high = std::ceil(most / out.step - kHair) * out.step;
    if (!(out.high > out.low)) {
        out.high = out.low + out.step;
    }
    return out;
}

std::vector<double> RoundAxis::ticks() const {
    std::vector<double> out;
    for (double v = low; v < high + step / 2; v += step) {
        out.push_back(v);
    }
    return out;
}

std::string svg_head(double width, double height, int type_size) {
    return fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}\" height=\"{1}\" viewBox=\"0 0 {0} "
        "{1}\" font-family=\"sans-serif\" font-size=\"{2}\">\n<rect width=\"{0}\" height=\"{1}\" "
        "fill=\"#ffffff\"/>\n",
        width, height, type_size);
}

std::string svg_words(double x, double y, const char* anchor, std::string_view words,
                      std::string_view more) {
    return fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\"{}>{}</text>\n", x, y,
                       anchor, more, report::svg_escaped(words));
}

std::string svg_line(double x1, double y1, double x2, double y2, const char* colour, bool dashed) {
    return fmt::format(
        "<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" stroke=\"{}\"{}/>\n", x1, y1,
        x2, y2, colour, dashed ? " stroke-dasharray=\"6 4\"" : "");
}

std::string svg_course(std::string_view points, const char* colour, double width) {
    return fmt::format(
        "<polyline points=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"/>\n", points,
        colour, width);
}

}  // namespace bw::cli
