// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "base/result.hpp"

namespace bw::blend {

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
///          blend/scatter.hpp holds the better formula.
[[nodiscard]] Result<double> gy_constant(const GyMaterial& material);
/// Least mass, g: C d^3/s^2 of a large lot; `stages` that share the variance alike multiply it, and
/// so does a safety factor. Errors BadInput.
[[nodiscard]] Result<double> gy_least_mass(const GyMaterial& material, double relative_sd,
                                           int stages = 1, double safety = 1);

}  // namespace bw::blend
