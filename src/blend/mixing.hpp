// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <vector>

#include "base/result.hpp"

namespace bw::blend {

/// One addition of carrier by geometric dilution.
struct Dilution {
    double carrier_kg = 0;
    double total_kg = 0;
};

/// A minor part made up to a share of a batch: about as much carrier as there is in the vessel,
/// again and again.
///
/// Definition   stages = ceil(log(1/share)/log(fold)), all of them by the same factor, which is at
///              most `fold`: 2 for doubling, 10 for tenfold premixes.
/// Inputs       a share between 0 and 1, a mass above 0, fold above 1.
/// Errors       BadInput. Source: geometric dilution, common practice of pharmacy.
[[nodiscard]] Result<std::vector<Dilution>> geometric_dilution(double minor_kg, double share,
                                                               double fold = 2);

/// Lacey's mixing index M = (s0^2 - s^2)/(s0^2 - sR^2): 0 unmixed, 1 mixed as well as chance can;
/// it is below 0 or above 1 where s^2 lies outside.
///
/// Inputs   p mass fraction of one of two parts, n grains in a sample (above 1), s^2 the variance
/// of
///          the fraction among samples.
/// Errors   BadInput. Source [lacey-1954]: s0^2 = p(1-p), sR^2 = p(1-p)/n.
[[nodiscard]] Result<double> lacey_index(double p, double grains, double variance);

/// Samples of a batch that prove a promise.
struct ProofPlan {
    int samples = 0;
    double factor = 0;  ///< k of the tolerance interval: k s must not exceed the promise
};

/// The least number of samples whose tolerance interval, mean -+ k s, lies within the promise when
/// they scatter as expected.
///
/// Inputs       relative standard deviation among samples and promise, both above 0; content and
///              confidence between 0 and 1: "with 95 % confidence, 95 % of all scoops".
/// Errors       OutOfRange: even 1000 samples would not do, for the factor stays above that of a
/// normal
///              distribution.
/// Source       stat::tolerance_factor.
[[nodiscard]] Result<ProofPlan> samples_to_prove(double relative_sd, double promise,
                                                 double content = 0.95, double confidence = 0.95);

/// Increments of one composite so that the mean's standard deviation is at most `wanted`.
///
/// Definition   ceil((s/wanted)^2), at least `least`: ten places of a mixer are usual.
[[nodiscard]] Result<int> increments_needed(double increment_sd, double wanted, int least = 10);

/// Our rule: the scatter of grains is at most a third of the repeatability that is claimed.
[[nodiscard]] bool sample_large_enough(double scatter, double repeatability);

}  // namespace bw::blend
