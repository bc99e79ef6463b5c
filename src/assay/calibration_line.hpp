// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <span>
#include <vector>

#include "base/result.hpp"

namespace bw::assay {

/// A calibration solution: its content, the signal, and how much the point counts.
struct CalibrationPoint {
    double x = 0, y = 0;
    double weight = 1;  ///< 1/s^2 of the signal there, in any common unit
};

enum class Intercept : std::uint8_t { Fitted, Zero };

/// Whether the points bend more than repeated readings scatter.
struct LackOfFit {
    double f = 0, critical = 0;  ///< 95 %
    double freedom_bend = 0, freedom_scatter = 0;
    double p_value = 1;
    [[nodiscard]] bool bends() const { return f > critical; }
};

/// A straight line y = intercept + slope x by least squares.
struct CalibrationLine {
    double intercept = 0, slope = 0;
    double u_intercept = 0, u_slope = 0;
    double covariance = 0;   ///< of the two
    double residual_sd = 0;  ///< of weight 1, with freedom
    double freedom = 0;
    double r_squared = 0;  ///< of a line through zero about zero; no test of straightness
    double mean_x = 0, mean_y = 0, sxx = 0;  ///< weighted; sxx of a line through zero about zero
    double weights = 0;                      ///< their sum
    std::size_t count = 0;
    Intercept kind = Intercept::Fitted;
    double least_x = 0, most_x = 0;
    std::vector<double> residuals;
    std::optional<LackOfFit> lack_of_fit;  ///< where solutions were read more than once
};

/// Fits the line.
///
/// Definition   minimum of sum w (y - a - b x)^2; sums of differences from the weighted means.
///              Uncertainties from the residuals, s^2 = sum w r^2/(n - 2) (n - 1 through zero).
///              Lack of fit: readings of equal x against their own means.
/// Inputs       3 points or more (2 through zero) at two contents or more, weights above 0, finite.
/// Accuracy     11 of the certified digits of Norris, 12 of NoInt1 [nist-strd].
/// Errors       BadInput. Source [nist-strd]; ISO 11095, basic method.
[[nodiscard]] Result<CalibrationLine> fit_line(std::span<const CalibrationPoint> points,
                                               Intercept intercept = Intercept::Fitted);

/// A value with its standard uncertainty and whether it lies within the calibration solutions.
struct LineReading {
    double value = 0, u = 0;
    bool inside = true;
};

/// The line's value at x, with the two parameters' correlation.
[[nodiscard]] LineReading value_at(const CalibrationLine& line, double x);

/// The content behind a signal.
///
/// Definition   x0 = (y0 - a)/b; u = (s/b) sqrt(1/(p w) + 1/sum w + (x0 - mean x)^2/sxx); through
///              zero (s/b) sqrt(1/(p w) + x0^2/sxx).
/// Inputs       the mean of `readings` signals, 1 or more; their weight on the line's scale.
/// Errors       BadInput, also for a slope not above twice its uncertainty.
[[nodiscard]] Result<LineReading> content_of(const CalibrationLine& line, double signal,
                                             int readings, double weight = 1);

/// The content of a sample by additions to it, x being what was added.
///
/// Definition   x0 = a/b; u = (s/b) sqrt(1/sum w + (x0 + mean x)^2/sxx): no 1 below the root, for
///              the sample's signal is on the line itself. Some worksheets add one and print 25 %
///              more.
/// Valid        effects that change the slope; a background that adds to the signal is not seen.
/// Errors       as content_of(); BadInput for a line through zero or a content below 0.
/// Source       the IUPAC compendium's entry on measurement with standard addition
/// [iupac-addition].
[[nodiscard]] Result<LineReading> standard_addition(const CalibrationLine& line);

}  // namespace bw::assay
