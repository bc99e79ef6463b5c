// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "assay/homogeneity.hpp"
#include "base/notice.hpp"

namespace bw::service {

struct HomogeneityRequest {
    std::vector<std::string> names;          ///< of the units, in the order of filling
    std::vector<std::vector<double>> units;  ///< results of each
    double goal = 0.02;  ///< half width to which units are wanted alike, of their mean
};

enum class HomogeneityVerdict : std::uint8_t {
    Homogeneous,
    NotHomogeneous,
    CannotTell  ///< the method scatters too much to tell
};

struct HomogeneityReport {
    HomogeneityVerdict verdict = HomogeneityVerdict::Homogeneous;
    assay::Homogeneity judged;
    double mean = 0;
    double sigma = 0;  ///< half of the goal, in the results' unit
    std::vector<double> unit_means;
    double unit_sd = 0;  ///< of the unit means
    double factor = 0;   ///< of the tolerance interval, 95 % of units with 95 % confidence
    double tolerance_low = 0, tolerance_high = 0;
    double slope_per_unit = 0, slope_p = 1;  ///< of the means against the order
    base::Notices notices;
};

/// Judges whether the units of a batch are alike, in three views, against a goal.
///
/// Definition   homogeneous where judge_homogeneity() finds the units sufficiently alike for sigma
/// =
///              goal/2 of the mean and the method is good enough; cannot tell where only the method
///              is not. Tolerance interval of the unit means. Trend: t test of the slope of means
///              against their order.
/// Errors       BadInput: those of judge_homogeneity; a mean of 0; a goal not above 0 and below 1.
[[nodiscard]] Result<HomogeneityReport> sample_homogeneity(const HomogeneityRequest& request);

}  // namespace bw::service
