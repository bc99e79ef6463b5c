// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/recipe_trade_command.hpp"

namespace bw::cli {
namespace {

// The sheet and the field of the curve in it, in points.
constexpr double kWidth = 760, kUnderAxis = 68, kLine = 18;
constexpr double kLeft = 80, kRight = 600, kTop = 50, kBottom = 410;
constexpr double kTick = 6;
constexpr std::array kColours{"#1b4f8a", "#b3541e", "#2e7d4f", "#6a3d8f", "#8a6d1b", "#444444"};

std::string escaped(std::string_view text) {
    std::string out;
    for (const char c : text) {
        switch (c) {
            case '<':
                out += "&lt;";
                break;
            case '>':
                out += "&gt;";
                break;
            case '&':
                out += "&amp;";
                break;
            case '"':
                out += "&quot;";
                break;
            default:
                out += c;
        }
    }
    return out;
}

/// An axis from one round number to another, with a step of 1, 2 or 5 times a power of ten.
struct Axis {
    double low = 0, high = 1, step = 1;

    static Axis about(double least, double most) {
        constexpr double kSteps = 5;
        const double raw = std::max(most - least, 1e-6 * std::abs(most)) / kSteps;
        const double unit = std::pow(10.0, std::floor(std::log10(raw)));
        Axis out;
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
};

double across(const Axis& x, double value) { return kLeft + x.share(value) * (kRight - kLeft); }
double down(const Axis& y, double value) { return kBottom - y.share(value) * (kBottom - kTop); }

std::string text_at(double x, double y, const char* anchor, std::string_view words,
                    std::string_view more = "") {
    return fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\"{}>{}</text>\n", x, y,
                       anchor, more, escaped(words));
}

std::string line(double x1, double y1, double x2, double y2, const char* colour) {
    return fmt::format(
        "<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" stroke=\"{}\"/>\n", x1, y1,
        x2, y2, colour);
}

std::string frame(const Axis& x, const Axis& y, const service::TradeReport& r) {
    constexpr int kDigits = 6;
    constexpr double kBelow = 20;
    constexpr double kTitle = 45;
    std::string out;
    const double half = 0.5;
    for (double v = x.low; v < x.high + half * x.step; v += x.step) {
        out += line(across(x, v), kTop, across(x, v), kBottom + kTick, "#dddddd");
        out += text_at(across(x, v), kBottom + kBelow, "middle", base::format_short(v, kDigits));
    }
    for (double v = y.low; v < y.high + half * y.step; v += y.step) {
        out += line(kLeft - kTick, down(y, v), kRight, down(y, v), "#dddddd");
        out += text_at(kLeft - 2 * kTick, down(y, v) + 4, "end", base::format_short(v, kDigits));
    }
    out += line(kLeft, kBottom, kRight, kBottom, "#000000");
    out += line(kLeft, kTop, kLeft, kBottom, "#000000");
    out += text_at((kLeft + kRight) / 2, kBottom + kTitle, "middle", "calcium, " + r.calcium.unit);
    out += text_at(
        0, 0, "middle", "highest alkalinity, " + r.alkalinity.unit,
        fmt::format(" transform=\"translate(24 {:.1f}) rotate(-90)\"", (kTop + kBottom) / 2));
    return out;
}

}  // namespace

std::string trade_picture(const service::TradeReport& r) {
    double least_x = HUGE_VAL, most_x = -HUGE_VAL, least_y = HUGE_VAL, most_y = -HUGE_VAL;
    const auto take = [&](double x, double y) {
        least_x = std::min(least_x, x);
        most_x = std::max(most_x, x);
        least_y = std::min(least_y, y);
        most_y = std::max(most_y, y);
    };
    for (const service::TradePoint& p : r.points) {
        if (p.alkalinity_eq_per_kg) {
            take(p.calcium_mol_per_kg * r.calcium.per_mol_per_kg,
                 *p.alkalinity_eq_per_kg * r.alkalinity.per_mol_per_kg);
        }
    }
    const double height = kBottom + kUnderAxis + kLine * static_cast<double>(r.limits.size());
    std::string out = fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}\" height=\"{1}\" viewBox=\"0 0 {0} "
        "{1}\" font-family=\"sans-serif\" font-size=\"13\">\n<rect width=\"{0}\" height=\"{1}\" "
        "fill=\"#ffffff\"/>\n",
        kWidth, height);
    out += text_at(kLeft, 26, "start", r.name + (r.invented ? " (invented example)" : ""),
                   " font-weight=\"bold\"");
    double below = kBottom + kUnderAxis;
    for (const std::string& limit : r.limits) {
        out += text_at(kLeft, below, "start", "at " + limit);
        below += kLine;
    }
    if (!(least_x <= most_x)) {
        return out +
               text_at(kLeft, kTop + 40, "start", "No recipe holds the limits at any point.") +
               "</svg>\n";
    }
    const bool marked = r.calcium.target_mol_per_kg && r.alkalinity.target_mol_per_kg;
    const double target_x = r.calcium.target_mol_per_kg.value_or(0) * r.calcium.per_mol_per_kg;
    const double target_y =
        r.alkalinity.target_mol_per_kg.value_or(0) * r.alkalinity.per_mol_per_kg;
    if (marked) {
        take(target_x, target_y);
    }
    const Axis x = Axis::about(least_x, most_x);
    const Axis y = Axis::about(least_y, most_y);
    out += frame(x, y, r);
    constexpr double kLabelGap = 14;
    double last_label = -HUGE_VAL;
    std::size_t series = 0;
    for (std::size_t i = 0; i < r.points.size(); ++series) {
        const double magnesium = r.points[i].magnesium_mol_per_kg;
        const char* colour = kColours[series % kColours.size()];
        std::string points;
        double end_y = 0;
        for (; i < r.points.size() && r.points[i].magnesium_mol_per_kg == magnesium; ++i) {
            const service::TradePoint& p = r.points[i];
            if (!p.alkalinity_eq_per_kg) {
                continue;
            }
            end_y = down(y, *p.alkalinity_eq_per_kg * r.alkalinity.per_mol_per_kg);
            points +=
                fmt::format("{}{:.1f},{:.1f}", points.empty() ? "" : " ",
                            across(x, p.calcium_mol_per_kg * r.calcium.per_mol_per_kg), end_y);
        }
        if (points.empty()) {
            continue;
        }
        out += fmt::format(
            "<polyline points=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"2\"/>\n", points,
            colour);
        // Lines that end near one another keep their labels apart.
        const double label =
            std::abs(end_y - last_label) < kLabelGap ? last_label - kLabelGap : end_y;
        last_label = label;
        out += text_at(
            kRight + 8, label + 4, "start",
            fmt::format("Mg {} {}", base::format_short(magnesium * r.magnesium.per_mol_per_kg, 4),
                        r.magnesium.unit),
            fmt::format(" fill=\"{}\"", colour));
    }
    if (marked) {
        const double cx = across(x, target_x);
        const double cy = down(y, target_y);
        out += line(cx - kTick, cy, cx + kTick, cy, "#000000") +
               line(cx, cy - kTick, cx, cy + kTick, "#000000") +
               text_at(cx + 9, cy - 6, "start", "the target");
    }
    return out + "</svg>\n";
}

}  // namespace bw::cli
