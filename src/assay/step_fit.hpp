// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <vector>

#include "assay/end_point.hpp"

namespace bw::assay {

/// A step fitted to a piece of a curve.
struct StepFit {
    double level = 0, height = 0, place = 0, width = 0;
    double u_place = 0;
    double rms = 0;
    std::vector<double> residuals;
};

/// Least squares of level + height g((v - place)/width), g asinh or tanh.
///
/// Definition   damped Gauss-Newton steps in level, height, place and ln width; u from s^2
/// (J'J)^-1. Inputs       5 points or more by rising volume; a start for place, width (above 0) and
/// slope. Errors       BadInput for fewer points; Refused where it does not settle or leaves the
/// points.
[[nodiscard]] Result<StepFit> fit_step(std::span<const CurvePoint> points, CurveShape shape,
                                       double place, double width, double slope);

}  // namespace bw::assay
