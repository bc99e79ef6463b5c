// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "assay/homogeneity.hpp"
#include "base/notice.hpp"

namespace bw::service {

struct HomogeneityRequest {
    std::vector<std::string> names;          ///< of the units, in the order of filling
    std::vector<std::vector<double>> units;  ///< results of each
    double goal = 0.02;  ///< half width to which units are wanted alike, of their mean
    std::optional<double> by_chance = {};  ///< relative standard deviation that grains alone give
                                           ///< units of this mass (blend_mixing)
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
    std::optional<double> chance_sd;  ///< of units mixed as well as can be: the floor of between_sd
    double mixing_sd = 0;             ///< between_sd without it: what better mixing can take off
    base::Notices notices;
};

/// Judges whether the units of a batch are alike, in three views, against a goal.
///
/// Definition   homogeneous where judge_homogeneity() finds the units sufficiently alike for sigma
/// =
///              goal/2 of the mean and the method is good enough; cannot tell where only the method
///              is not. Tolerance interval of the unit means. Trend: t test of the slope of means
///              against their order.
/// Errors       BadInput: those of judge_homogeneity; a mean of 0; a goal, or a share by
///              chance, not above 0 and below 1.
[[nodiscard]] Result<HomogeneityReport> sample_homogeneity(const HomogeneityRequest& request);

}  // namespace bw::service
