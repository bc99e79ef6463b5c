// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "cli/recipe_trade_command.hpp"
#include "cli/svg_marks.hpp"

namespace bw::cli {
namespace {

// The sheet and the field of the curve in it, in points.
constexpr double kWidth = 760, kUnderAxis = 68, kLine = 18;
constexpr double kLeft = 80, kRight = 600, kTop = 50, kBottom = 410;
constexpr double kTick = 6;
constexpr int kType = 13;
constexpr std::array kColours{"#1b4f8a", "#b3541e", "#2e7d4f", "#6a3d8f", "#8a6d1b", "#444444"};

RoundAxis axis_of(double least, double most) {
    constexpr double kSteps = 5;
    return RoundAxis::about(least, most, std::max(most - least, 1e-6 * std::abs(most)), kSteps);
}

double across(const RoundAxis& x, double value) {
    return kLeft + x.share(value) * (kRight - kLeft);
}
double down(const RoundAxis& y, double value) {
    return kBottom - y.share(value) * (kBottom - kTop);
}

std::string frame(const RoundAxis& x, const RoundAxis& y, const service::TradeReport& r) {
    constexpr int kDigits = 6;
    constexpr double kBelow = 20;
    constexpr double kTitle = 45;
    std::string out;
    for (const double v : x.ticks()) {
        out += svg_line(across(x, v), kTop, across(x, v), kBottom + kTick, "#dddddd");
        out += svg_words(across(x, v), kBottom + kBelow, "middle", base::format_short(v, kDigits));
    }
    for (const double v : y.ticks()) {
        out += svg_line(kLeft - kTick, down(y, v), kRight, down(y, v), "#dddddd");
        out += svg_words(kLeft - 2 * kTick, down(y, v) + 4, "end", base::format_short(v, kDigits));
    }
    out += svg_line(kLeft, kBottom, kRight, kBottom, "#000000");
    out += svg_line(kLeft, kTop, kLeft, kBottom, "#000000");
    out +=
        svg_words((kLeft + kRight) / 2, kBottom + kTitle, "middle", "calcium, " + r.calcium.unit);
    out += svg_words(
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
    std::string out = svg_head(kWidth, height, kType);
    out += svg_words(kLeft, 26, "start", r.name + (r.invented ? " (invented example)" : ""),
                     " font-weight=\"bold\"");
    double below = kBottom + kUnderAxis;
    for (const std::string& limit : r.limits) {
        out += svg_words(kLeft, below, "start", "at " + limit);
        below += kLine;
    }
    if (!(least_x <= most_x)) {
        return out +
               svg_words(kLeft, kTop + 40, "start", "No recipe holds the limits at any point.") +
               "</svg>\n";
    }
    const bool marked = r.calcium.target_mol_per_kg && r.alkalinity.target_mol_per_kg;
    const double target_x = r.calcium.target_mol_per_kg.value_or(0) * r.calcium.per_mol_per_kg;
    const double target_y =
        r.alkalinity.target_mol_per_kg.value_or(0) * r.alkalinity.per_mol_per_kg;
    if (marked) {
        take(target_x, target_y);
    }
    const RoundAxis x = axis_of(least_x, most_x);
    const RoundAxis y = axis_of(least_y, most_y);
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
        out += svg_course(points, colour, 2);
        // Lines that end near one another keep their labels apart.
        const double label =
            std::abs(end_y - last_label) < kLabelGap ? last_label - kLabelGap : end_y;
        last_label = label;
        out += svg_words(
            kRight + 8, label + 4, "start",
            fmt::format("Mg {} {}", base::format_short(magnesium * r.magnesium.per_mol_per_kg, 4),
                        r.magnesium.unit),
            fmt::format(" fill=\"{}\"", colour));
    }
    if (marked) {
        const double cx = across(x, target_x);
        const double cy = down(y, target_y);
        out += svg_line(cx - kTick, cy, cx + kTick, cy, "#000000") +
               svg_line(cx, cy - kTick, cx, cy + kTick, "#000000") +
               svg_words(cx + 9, cy - 6, "start", "the target");
    }
    return out + "</svg>\n";
}

}  // namespace bw::cli
