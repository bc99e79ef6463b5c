// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/line_picture.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "cli/svg_marks.hpp"

namespace bw::cli {
namespace {

// The sheet, in points.
constexpr double kWidth = 800, kLeft = 90, kRight = 680, kTop = 50, kBetween = 34, kUnder = 56,
                 kLine = 18, kTick = 5, kDot = 3;
constexpr int kType = 12;
constexpr std::array kColours{"#1b4f8a", "#b3541e", "#2e7d4f", "#6a3d8f"};

std::string tick_words(const RoundAxis& axis, double value) {
    return base::format_short(std::abs(value) < axis.step / 2 ? 0 : value, 6);
}

struct Field {
    RoundAxis x, y;
    double top = 0, bottom = 0;

    [[nodiscard]] double across(double v) const { return kLeft + x.share(v) * (kRight - kLeft); }
    [[nodiscard]] double down(double v) const { return bottom - y.share(v) * (bottom - top); }
};

std::string frame(const Field& f, const std::string& y_title, bool last) {
    std::string out;
    for (const double v : f.x.ticks()) {
        out += svg_line(f.across(v), f.top, f.across(v), f.bottom + kTick, "#e4e4e4");
        if (last) {
            out += svg_words(f.across(v), f.bottom + kLine, "middle", tick_words(f.x, v));
        }
    }
    for (const double v : f.y.ticks()) {
        out += svg_line(kLeft - kTick, f.down(v), kRight, f.down(v), "#e4e4e4");
        out += svg_words(kLeft - 2 * kTick, f.down(v) + kTick, "end", tick_words(f.y, v));
    }
    out += svg_line(kLeft, f.bottom, kRight, f.bottom, "#000000");
    out += svg_line(kLeft, f.top, kLeft, f.bottom, "#000000");
    return out + svg_words(0, 0, "middle", y_title,
                           fmt::format(" transform=\"translate(20 {:.1f}) rotate(-90)\"",
                                       (f.top + f.bottom) / 2));
}

std::string series_of(const Field& f, const PictureSeries& s) {
    const char* colour = kColours[static_cast<std::size_t>(s.colour) % kColours.size()];
    std::string out;
    std::string path;
    std::string dots;
    for (const auto& [x, y] : s.points) {
        path += fmt::format("{}{:.1f},{:.1f}", path.empty() ? "" : " ", f.across(x), f.down(y));
        dots += fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{}\" fill=\"{}\"/>\n",
                            f.across(x), f.down(y), kDot, colour);
    }
    if (s.line && s.points.size() > 1) {
        out += svg_course(path, colour, 1.5);
    }
    out += s.dots ? dots : "";
    if (!s.label.empty() && !s.points.empty()) {
        out += svg_words(kRight + 8, f.down(s.points.back().second) + 4, "start", s.label,
                         fmt::format(" fill=\"{}\"", colour));
    }
    return out;
}

std::string rule_of(const Field& f, const PictureRule& r) {
    if (r.upright) {
        return svg_line(f.across(r.at), f.top, f.across(r.at), f.bottom, "#444444", r.dashed) +
               svg_words(f.across(r.at) + 4, f.top + 12, "start", r.label);
    }
    return svg_line(kLeft, f.down(r.at), kRight, f.down(r.at), "#444444", r.dashed) +
           svg_words(kRight + 8, f.down(r.at) + 4, "start", r.label);
}

struct Range {
    double low = HUGE_VAL, high = -HUGE_VAL;
    void take(double v) {
        low = std::min(low, v);
        high = std::max(high, v);
    }
};

RoundAxis axis_of(const Range& of, double steps) {
    if (!(of.low <= of.high)) {
        return {};
    }
    const double least = std::max(1e-9 * std::max(std::abs(of.low), std::abs(of.high)), 1e-300);
    return RoundAxis::about(of.low, of.high, std::max(of.high - of.low, least), steps);
}

RoundAxis x_axis(const LinePicture& p) {
    Range x;
    for (const PicturePanel& panel : p.panels) {
        for (const PictureSeries& s : panel.series) {
            for (const auto& point : s.points) {
                x.take(point.first);
            }
        }
    }
    constexpr double kSteps = 8;
    return axis_of(x, kSteps);
}

RoundAxis y_axis(const PicturePanel& panel) {
    Range y;
    for (const PictureSeries& s : panel.series) {
        for (const auto& point : s.points) {
            y.take(point.second);
        }
    }
    for (const PictureRule& r : panel.rules) {
        if (!r.upright) {
            y.take(r.at);
        }
    }
    constexpr double kPointsPerStep = 55;
    const double steps = std::max(2.0, panel.height / kPointsPerStep);
    return axis_of(y, steps);
}

}  // namespace

std::string svg_of(const LinePicture& picture) {
    double height = kTop + kUnder + kLine * static_cast<double>(picture.notes.size());
    for (const PicturePanel& panel : picture.panels) {
        height += panel.height + kBetween;
    }
    std::string out = svg_head(kWidth, height, kType);
    out += svg_words(kLeft, 26, "start", picture.title, " font-weight=\"bold\"");
    const RoundAxis x = x_axis(picture);
    double top = kTop;
    for (const PicturePanel& panel : picture.panels) {
        const Field field{x, y_axis(panel), top, top + panel.height};
        out += frame(field, panel.y_title, &panel == &picture.panels.back());
        for (const PictureRule& r : panel.rules) {
            out += rule_of(field, r);
        }
        for (const PictureSeries& s : panel.series) {
            out += series_of(field, s);
        }
        top += panel.height + kBetween;
    }
    double below = top - kBetween + 2 * kLine + 2;
    out += svg_words((kLeft + kRight) / 2, below, "middle", picture.x_title);
    for (const std::string& note : picture.notes) {
        below += kLine;
        out += svg_words(kLeft, below, "start", note);
    }
    return out + "</svg>\n";
}

}  // namespace bw::cli
