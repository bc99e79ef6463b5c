// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <vector>

#include "base/result.hpp"
#include "blend/scatter.hpp"

namespace bw::blend {

/// Relative variance of every constituent among portions of the same materials that nobody has
/// mixed: each portion is of one material.
///
/// Definition   s0^2 = sum_k w_k ((c_k - c)/c)^2; 0 for a constituent whose content is 0. For one
///              of two parts with mass fraction p it is (1 - p)/p, Lacey's p(1 - p) over p^2.
/// Inputs       as of scatter_of().
/// Errors       BadInput. Source [lacey-1954], carried to many parts.
[[nodiscard]] Result<std::vector<double>> unmixed_variances(std::span<const GrainPart> parts);

/// Lacey's mixing index M = (s0^2 - s^2)/(s0^2 - sR^2): 0 unmixed, 1 mixed as well as chance can;
/// it is below 0 or above 1 where s^2 lies outside.
///
/// Inputs   variances, all relative or all not: s0^2 unmixed, sR^2 by chance (below s0^2), s^2
///          observed among samples, without what the analysis adds.
/// Errors   BadInput. Source [lacey-1954].
[[nodiscard]] Result<double> lacey_index(double unmixed, double by_chance, double observed);

/// More than anybody would test.
inline constexpr int kMostSamples = 10'000;

/// Samples of a batch that prove a promise.
struct ProofPlan {
    int samples = 0;
    double factor = 0;  ///< k of the tolerance interval: k s must not exceed the promise
};

/// The least number of samples whose tolerance interval, mean -+ k s, lies within the promise when
/// they scatter as expected and their mean is right.
///
/// Inputs       relative standard deviation among samples and promise, both above 0; content and
///              confidence between 0 and 1: "with 95 % confidence, 95 % of all scoops".
/// Errors       BadInput; OutOfRange: even kMostSamples would not do, for the factor stays above
///              that of a normal distribution.
/// Source       stat::tolerance_factor.
[[nodiscard]] Result<ProofPlan> samples_to_prove(double relative_sd, double promise,
                                                 double content = 0.95, double confidence = 0.95);

/// Scatter above which samples_to_prove() finds no number: the promise over the factor of a normal
/// distribution. Inputs as there.
[[nodiscard]] double provable_sd(double promise, double content = 0.95);

/// Increments of one composite so that the mean's standard deviation is at most `wanted`.
///
/// Definition   ceil((s/wanted)^2), at least `least`: ten places of a mixer are usual.
/// Errors       BadInput; OutOfRange above a million.
[[nodiscard]] Result<int> increments_needed(double increment_sd, double wanted, int least = 10);

/// Scatter of grains that a sample may have at most: a third of the repeatability that is claimed,
/// which then grows by 5 % in all. Our rule.
[[nodiscard]] double scatter_allowed_beside(double repeatability);

}  // namespace bw::blend
