// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/line_picture.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "io/outputs.hpp"

namespace bw::cli {
namespace {

// The sheet, in points.
constexpr double kWidth = 800, kLeft = 90, kRight = 680, kTop = 50, kBetween = 34, kUnder = 56,
                 kLine = 18, kTick = 5, kDot = 3;
constexpr std::array kColours{"#1b4f8a", "#b3541e", "#2e7d4f", "#6a3d8f"};
constexpr double kHalf = 0.5;

std::string escaped(std::string_view text) {
    std::string out;
    for (const char c : text) {
        out += c == '<'   ? "&lt;"
               : c == '>' ? "&gt;"
               : c == '&' ? "&amp;"
               : c == '"' ? "&quot;"
                          : std::string(1, c);
    }
    return out;
}

std::string text_at(double x, double y, const char* anchor, std::string_view words,
                    std::string_view more = "") {
    return fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\"{}>{}</text>\n", x, y,
                       anchor, more, escaped(words));
}

std::string stroke(double x1, double y1, double x2, double y2, const char* colour,
                   bool dashed = false) {
    return fmt::format(
        "<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" stroke=\"{}\"{}/>\n", x1, y1,
        x2, y2, colour, dashed ? " stroke-dasharray=\"6 4\"" : "");
}

/// From one round number to another, with a step of 1, 2 or 5 times a power of ten.
struct Scale {
    double low = 0, high = 1, step = 1;

    static Scale about(double least, double most, double steps) {
        const double about_0 = 1e-9 * std::max(std::abs(least), std::abs(most));
        const double raw = std::max({most - least, about_0, 1e-300}) / steps;
        const double unit = std::pow(10.0, std::floor(std::log10(raw)));
        Scale out;
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
    [[nodiscard]] double share(double value) const { return (value - low) / (high - low); }
    [[nodiscard]] std::string words(double value) const {
        return base::format_short(std::abs(value) < step * kHalf ? 0 : value, 6);
    }
};

struct Field {
    Scale x, y;
    double top = 0, bottom = 0;

    [[nodiscard]] double across(double v) const { return kLeft + x.share(v) * (kRight - kLeft); }
    [[nodiscard]] double down(double v) const { return bottom - y.share(v) * (bottom - top); }
};

std::string frame(const Field& f, const std::string& y_title, bool last) {
    std::string out;
    for (double v = f.x.low; v < f.x.high + kHalf * f.x.step; v += f.x.step) {
        out += stroke(f.across(v), f.top, f.across(v), f.bottom + kTick, "#e4e4e4");
        if (last) {
            out += text_at(f.across(v), f.bottom + kLine, "middle", f.x.words(v));
        }
    }
    for (double v = f.y.low; v < f.y.high + kHalf * f.y.step; v += f.y.step) {
        out += stroke(kLeft - kTick, f.down(v), kRight, f.down(v), "#e4e4e4");
        out += text_at(kLeft - 2 * kTick, f.down(v) + kTick, "end", f.y.words(v));
    }
    out += stroke(kLeft, f.bottom, kRight, f.bottom, "#000000");
    out += stroke(kLeft, f.top, kLeft, f.bottom, "#000000");
    return out + text_at(0, 0, "middle", y_title,
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
        out += fmt::format(
            "<polyline points=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"1.5\"/>\n", path,
            colour);
    }
    out += s.dots ? dots : "";
    if (!s.label.empty() && !s.points.empty()) {
        out += text_at(kRight + 8, f.down(s.points.back().second) + 4, "start", s.label,
                       fmt::format(" fill=\"{}\"", colour));
    }
    return out;
}

std::string rule_of(const Field& f, const PictureRule& r) {
    if (r.upright) {
        return stroke(f.across(r.at), f.top, f.across(r.at), f.bottom, "#444444", r.dashed) +
               text_at(f.across(r.at) + 4, f.top + 12, "start", r.label);
    }
    return stroke(kLeft, f.down(r.at), kRight, f.down(r.at), "#444444", r.dashed) +
           text_at(kRight + 8, f.down(r.at) + 4, "start", r.label);
}

struct Range {
    double low = HUGE_VAL, high = -HUGE_VAL;
    void take(double v) {
        low = std::min(low, v);
        high = std::max(high, v);
    }
};

Scale x_scale(const LinePicture& p) {
    Range x;
    for (const PicturePanel& panel : p.panels) {
        for (const PictureSeries& s : panel.series) {
            for (const auto& point : s.points) {
                x.take(point.first);
            }
        }
    }
    constexpr double kSteps = 8;
    return x.low <= x.high ? Scale::about(x.low, x.high, kSteps) : Scale{};
}

Scale y_scale(const PicturePanel& panel) {
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
    return y.low <= y.high ? Scale::about(y.low, y.high, steps) : Scale{};
}

}  // namespace

std::string svg_of(const LinePicture& picture) {
    double height = kTop + kUnder + kLine * static_cast<double>(picture.notes.size());
    for (const PicturePanel& panel : picture.panels) {
        height += panel.height + kBetween;
    }
    std::string out = fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}\" height=\"{1}\" viewBox=\"0 0 {0} "
        "{1}\" font-family=\"sans-serif\" font-size=\"12\">\n<rect width=\"{0}\" height=\"{1}\" "
        "fill=\"#ffffff\"/>\n",
        kWidth, height);
    out += text_at(kLeft, 26, "start", picture.title, " font-weight=\"bold\"");
    const Scale x = x_scale(picture);
    double top = kTop;
    for (const PicturePanel& panel : picture.panels) {
        const Field field{x, y_scale(panel), top, top + panel.height};
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
    out += text_at((kLeft + kRight) / 2, below, "middle", picture.x_title);
    for (const std::string& note : picture.notes) {
        below += kLine;
        out += text_at(kLeft, below, "start", note);
    }
    return out + "</svg>\n";
}

Result<void> write_files(const std::vector<WrittenFile>& files,
                         const std::vector<std::string>& read) {
    io::Outputs outputs;
    for (std::size_t i = 0; i < files.size(); ++i) {
        const WrittenFile& f = files[i];
        if (f.path.empty()) {
            continue;
        }
        for (const std::string& other : read) {
            if (io::same_file(other, f.path)) {
                return fail(ProblemCode::BadInput,
                            fmt::format("{} would overwrite {}, which was read: name another",
                                        f.option, base::quoted(other)));
            }
        }
        for (std::size_t j = 0; j < i; ++j) {
            if (io::same_file(files[j].path, f.path)) {
                return fail(ProblemCode::BadInput,
                            fmt::format("{} and {} name one file", files[j].option, f.option));
            }
        }
        BW_CHECK(outputs.add_text(f.path, f.text));
    }
    return outputs.publish();
}

}  // namespace bw::cli
