// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <vector>

#include "base/result.hpp"

namespace bw::assay {

/// One reading of a titration curve.
struct CurvePoint {
    double volume = 0;  ///< of titrant, in any unit
    double signal = 0;  ///< potential, pH or absorbance
};

/// What the curve looks like about its end point.
enum class CurveShape : std::uint8_t {
    Potential,  ///< a step as logarithms of concentrations make it: asinh
    Indicator,  ///< a colour that turns: tanh
    TwoLines    ///< a signal in proportion to what is in excess: two straight lines
};
[[nodiscard]] std::string_view name(CurveShape shape);

struct EndPointOptions {
    CurveShape shape = CurveShape::Potential;
    std::size_t flank = 8;  ///< points on either side that the fit uses, at most
    std::size_t most = 3;   ///< end points looked for, steepest first; 1 of TwoLines
};

/// Where a titration ends.
struct EndPoint {
    double volume = 0;
    double u = 0;                     ///< from the scatter of the points about the fit alone
    double by_first_derivative = 0;   ///< top of the parabola through the three steepest slopes
    double by_second_derivative = 0;  ///< where the smoothed curvature changes its sign
    double step = 0;                  ///< signal right of it less left of it
    double rms = 0;                   ///< of the residuals, in the signal's unit
    std::size_t first = 0;            ///< point at which the fit begins
    std::vector<double> residuals;    ///< of the points from there on
};

struct EndPoints {
    std::vector<EndPoint> points;  ///< by rising volume
    std::vector<double> slope;     ///< smoothed, at each point of the curve; empty of TwoLines
};

/// Finds the end points of a curve.
///
/// Definition   slope: that of the parabola through 5 neighbouring points by least squares, at the
///              middle one; near the ends of the nearest five. A candidate is steeper than all
///              within the points up to where the slope has fallen to half on both sides, and the
///              signal steps over it by a tenth of its whole range or more. The end point is v0 of
///              the least squares fit of a + b asinh((v - v0)/w), or tanh, to the points about it;
///              u from the fit's covariance. TwoLines: where the two straight lines cross that
///              leave the smallest sum of squares.
/// Inputs       8 points or more; volumes rising; signals finite.
/// Valid        asinh is exact for a precipitation or a 1:1 complex without dilution and with a
///              logarithmic electrode; dilution within the flanks shifts v0 by less than a
///              hundredth of w. A pH curve of a weak acid is not symmetric: its v0 is an empirical
///              end point.
/// Errors       BadInput: too few points, volumes that do not rise, no inflection, one at the end
/// of
///              the curve, lines without a bend; Refused: a fit that does not settle.
/// Source       definitions; form of the step from the mass balance of a symmetric titration.
[[nodiscard]] Result<EndPoints> find_end_points(std::span<const CurvePoint> curve,
                                                const EndPointOptions& options = {});

}  // namespace bw::assay
