// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace bw::report {

/// One point of a trend chart, in the order of batches or dates.
struct TrendPoint {
    std::string label;  ///< batch or date, on the axis
    double value = 0;
    std::string signal;      ///< name of the rule it breaks; empty: none
    bool set_aside = false;  ///< drawn hollow, not joined
    std::string change;      ///< a vertical rule before this point: "recipe 4", "method M-07 v3"
};

/// A trend chart with frozen limits.
struct TrendChart {
    std::string title;    ///< "Calcium in check sample CS-3"
    std::string y_title;  ///< with unit: "Calcium, mg/kg"
    std::string x_title;  ///< "Batch, in order of making"
    std::vector<TrendPoint> points;
    double centre = 0;
    std::optional<double> warning_low, warning_high;  ///< two sigma, dashed
    std::optional<double> action_low, action_high;    ///< three sigma, solid
    std::string limits_note;  ///< "Limits frozen 2026-01-10 from 25 batches"
    std::string created;      ///< for the PDF: "2026-03-09T14:05:00Z"
};

/// One point of a titration.
struct CurvePoint {
    double x = 0, y = 0;
    bool used = true;  ///< by the fit; others are drawn hollow
};

/// A titration curve with the fit's residuals below it on the same axis.
struct TitrationChart {
    std::string title;           ///< "Alkalinity of sample S26-0311-H"
    std::string x_title;         ///< "Acid added, g"
    std::string y_title;         ///< "Potential, mV"
    std::string residual_title;  ///< "Residual, µmol/kg"
    std::vector<CurvePoint> points;
    std::vector<CurvePoint> fitted;     ///< a line; may be empty
    std::vector<CurvePoint> residuals;  ///< x as in points
    std::optional<double> end_point;    ///< on x
    std::string end_point_label;
    std::string created;
};

/// The charts as one-page PDF or as SVG with a title and a text that says in words what is drawn.
///
/// Inputs   a point at least, at most 5000, all finite; limits in order.
/// Errors   BadInput, TooLarge.
/// Rules    no cut bars, no smoothing, time order kept; a signal is another shape and has its
/// rule's
///          name; set-aside points are hollow; axis titles carry units.
[[nodiscard]] Result<std::string> trend_svg(const TrendChart& chart);
[[nodiscard]] Result<std::string> trend_pdf(const TrendChart& chart);
[[nodiscard]] Result<std::string> titration_svg(const TitrationChart& chart);
[[nodiscard]] Result<std::string> titration_pdf(const TitrationChart& chart);

/// The text that stands for the picture: number of points, range, limits, signals with their
/// points.
[[nodiscard]] std::string trend_in_words(const TrendChart& chart);
[[nodiscard]] std::string titration_in_words(const TitrationChart& chart);

}  // namespace bw::report
