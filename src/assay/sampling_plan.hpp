// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string>

#include "base/result.hpp"

namespace bw::assay {

/// One material of a blend, or a size class of it, as grains.
struct GrainClass {
    std::string name;
    double share = 0;    ///< of the blend's mass
    double grain_g = 0;  ///< mean grain mass, weighted by mass
    double content = 0;  ///< of the element, in any unit, the same for all
};

/// Mass-weighted mean mass of a grain, g.
///
/// Definition   (pi/6) rho d50^3 exp(4.5 ln^2 sg) of a log-normal distribution by mass.
/// Inputs       d50 in mm above 0, density in g/cm3 above 0, sg the geometric standard deviation, 1
///              or more. Errors BadInput. Source definition of the moments.
[[nodiscard]] Result<double> mean_grain_mass(double d50_mm, double density_g_per_cm3,
                                             double sg = 1);

/// Fundamental sampling error of an element, relative standard deviation.
///
/// Definition   s^2 = (1/M_S - 1/M_L) sum w m ((c_k - c)/c)^2: the scatter that is left when the
///              blend is mixed as well as chance can.
/// Inputs       shares that sum to 1 (to 1e-6), grain masses not negative, a content above 0 on
///              the whole; sample mass above 0 and not above the lot's, both in g.
/// Errors       BadInput. Source [gy-sampling], first order, exact form.
[[nodiscard]] Result<double> fundamental_error(std::span<const GrainClass> blend, double sample_g,
                                               double lot_g);
/// The sample mass for a wanted relative standard deviation, g, of a large lot.
[[nodiscard]] Result<double> least_sample_mass(std::span<const GrainClass> blend,
                                               double relative_sd);
/// Largest grain, mm, of an element's only carrier at share w for a relative standard deviation in
/// samples of a mass.
///
/// Definition   (6 s^2 w M/(pi rho))^(1/3)/exp(1.5 ln^2 sg), all other grains small and w small.
[[nodiscard]] Result<double> largest_grain(double relative_sd, double share, double sample_g,
                                           double density_g_per_cm3, double sg = 1);

/// Gy's engineering formula for broken ore and the like, by top size.
struct GyMaterial {
    double top_size_cm = 0;                        ///< 95 % pass
    double liberation_size_cm = 0;                 ///< grains of the mineral are free below it
    double mineral_share = 0;                      ///< mass fraction of the carrier
    double mineral_density = 0, rest_density = 0;  ///< g/cm3
    double shape = 0.5;                            ///< f: 0.5 usual, 0.2 flaky
    double size_range = 0.25;  ///< g: d95/d5 above 4: 0.25; 2 to 4: 0.5; below 2: 0.75; 1: 1
};
/// C = f g l m, l = min(1, sqrt(L/d)), m = ((1-a)/a)((1-a) rho_mineral + a rho_rest), g/cm3.
/// Errors   BadInput. Source [gy-sampling]; in a dry blend each salt is a grain of its own and
///          fundamental_error() is the better formula.
[[nodiscard]] Result<double> gy_constant(const GyMaterial& material);
/// Least mass, g: C d^3/s^2 of a large lot; `stages` that share the variance alike multiply it, and
/// so does a safety factor. Errors BadInput.
[[nodiscard]] Result<double> gy_least_mass(const GyMaterial& material, double relative_sd,
                                           int stages = 1, double safety = 1);

/// Increments of one composite so that the mean's standard deviation is at most `wanted`.
///
/// Definition   ceil((s/wanted)^2), at least `least`: ten places of a mixer are usual.
[[nodiscard]] Result<int> increments_needed(double increment_sd, double wanted, int least = 10);

/// Our rule: the fundamental error is at most a third of the repeatability that is claimed.
[[nodiscard]] bool sample_large_enough(double fundamental_error, double repeatability);

/// Probability that the number of carrier grains in a portion lies more than `share` off its mean.
///
/// Definition   Poisson. Inputs mean number above 0, at most 1e6; share above 0. Errors BadInput.
[[nodiscard]] Result<double> chance_outside(double mean_grains, double share);

}  // namespace bw::assay
