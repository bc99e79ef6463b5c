// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "report/drawing.hpp"

namespace bw::report {

/// A linear axis from one round number to another, with a step of 1, 2 or 5 times a power of ten.
struct Axis {
    double low = 0, high = 1, step = 1;
    double from = 0, to = 1;  ///< on the page, points; from > to where the axis runs upwards

    [[nodiscard]] double at(double value) const {
        return from + (value - low) / (high - low) * (to - from);
    }
    [[nodiscard]] std::vector<double> ticks() const;
    /// The tick as papers print numbers, with as many digits as the step needs.
    [[nodiscard]] std::string text(double tick) const;
};

/// An axis that holds all of [least, most] with about `parts` steps.
///
/// Inputs   finite, least <= most; equal ones are spread by a hundredth, or by 1 around 0.
[[nodiscard]] Axis axis_about(double least, double most, int parts, double from, double to);

/// The field of a plot: frame lines at the left and below, fine lines at the ticks of y.
struct PlotField {
    double left, top, right, low;
};
[[nodiscard]] Drawing plot_ground(const PlotField& field, const Axis& y,
                                  const std::string& y_title);
[[nodiscard]] Drawing x_ticks(const PlotField& field, const Axis& x, const std::string& x_title);

inline constexpr double kTickType = 7.5, kAxisTitleType = 8.5, kChartTitleType = 12;

}  // namespace bw::report
