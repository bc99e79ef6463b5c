// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/axis.hpp"

#include <algorithm>
#include <cmath>

#include "base/decimal.hpp"
#include "report/figure.hpp"

namespace bw::report {
namespace {

/// Round-off of a decimal logarithm.
constexpr double kRoundOff = 1e-9;

}  // namespace

std::vector<double> Axis::ticks() const {
    std::vector<double> out;
    const int count = static_cast<int>(std::lround((high - low) / step));
    for (int i = 0; i <= count; ++i) {
        out.push_back(low + i * step);
    }
    return out;
}

std::string Axis::text(double tick) const {
    const int places = std::max(0, -static_cast<int>(std::floor(std::log10(step) + kRoundOff)));
    return printed(base::format_places(tick, places));
}

Axis axis_about(double least, double most, int parts, double from, double to) {
    constexpr double kHundredth = 0.01, kRounding = 1e-9, kTen = 10, kFive = 5;
    if (most - least <= kRounding * std::max(std::abs(least), std::abs(most))) {
        const double spread = least == 0 ? 1 : kHundredth * std::abs(least);
        least -= spread;
        most += spread;
    }
    const double raw = (most - least) / parts;
    const double unit = std::pow(kTen, std::floor(std::log10(raw)));
    Axis out;
    out.step = raw <= unit           ? unit
               : raw <= 2 * unit     ? 2 * unit
               : raw <= kFive * unit ? kFive * unit
                                     : kTen * unit;
    out.low = std::floor(least / out.step + kRounding) * out.step;
    out.high = std::ceil(most / out.step - kRounding) * out.step;
    out.from = from;
    out.to = to;
    return out;
}

Drawing plot_ground(const PlotField& field, const Axis& y, const std::string& y_title) {
    constexpr double kFine = 0.35, kFrame = 0.7, kOut = 5, kTitleOut = 46, kDrop = 0.34;
    Drawing out;
    for (const double tick : y.ticks()) {
        const double at = y.at(tick);
        out.emplace_back(line(field.left, at, field.right, at, {kHair, kFine, {}}));
        out.emplace_back(TextItem{field.left - kOut,
                                  at + kDrop * kTickType,
                                  y.text(tick),
                                  {Face::Regular, kTickType, kQuiet, true},
                                  Anchor::End});
    }
    out.emplace_back(line(field.left, field.top, field.left, field.low, {kInk, kFrame, {}}));
    out.emplace_back(line(field.left, field.low, field.right, field.low, {kInk, kFrame, {}}));
    out.emplace_back(TextItem{field.left - kTitleOut,
                              (field.top + field.low) / 2,
                              y_title,
                              {Face::Regular, kAxisTitleType, kInk},
                              Anchor::Middle,
                              true});
    return out;
}

Drawing x_ticks(const PlotField& field, const Axis& x, const std::string& x_title) {
    constexpr double kTick = 4, kTextBelow = 14, kTitleBelow = 28, kFrame = 0.7;
    Drawing out;
    for (const double tick : x.ticks()) {
        const double at = x.at(tick);
        out.emplace_back(line(at, field.low, at, field.low + kTick, {kInk, kFrame, {}}));
        out.emplace_back(TextItem{at,
                                  field.low + kTextBelow,
                                  x.text(tick),
                                  {Face::Regular, kTickType, kQuiet, true},
                                  Anchor::Middle});
    }
    out.emplace_back(TextItem{(field.left + field.right) / 2,
                              field.low + kTitleBelow,
                              x_title,
                              {Face::Regular, kAxisTitleType, kInk},
                              Anchor::Middle});
    return out;
}

}  // namespace bw::report
