// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "matter/constituent.hpp"
#include "recipe/target.hpp"

namespace bw::recipe {

/// The water that given doses make, summed in long double from the make-ups, independently of any
/// solver.
///
/// Definition   c = sum_j a_j x_j + p (1 - sum_j x_j), with x_j kg of material and 1 - sum x_j kg
/// of purified water
///              per kg of finished water. CO2 that escapes and solids that stay undissolved are not
///              taken off.
struct MadeUpWater {
    matter::Amounts mol_per_kg;
    matter::Amounts worst_mol_per_kg;
    double purified_water_kg = 0;  ///< per kg of finished water
    double dissolved_g_per_kg = 0;
    double insoluble_mg_per_kg = 0;
    double charge_balance_percent = 0;  ///< of the cations' charge
};
[[nodiscard]] MadeUpWater made_up_water(std::span<const Supply> supplies,
                                        const matter::Amounts& purified_water,
                                        std::span<const double> dose_kg_per_kg);

/// A hard limit counts as broken beyond this part of itself.
inline constexpr double kHardTolerance = 1e-7;

/// Whether a value breaks a limit, or keeps both, within `tolerance` of each limit.
[[nodiscard]] bool is_below(double value, std::optional<double> low,
                            double tolerance = kHardTolerance);
[[nodiscard]] bool is_above(double value, std::optional<double> high,
                            double tolerance = kHardTolerance);
[[nodiscard]] bool is_inside(double value, std::optional<double> low, std::optional<double> high,
                             double tolerance = kHardTolerance);

/// A limit that a water breaks.
struct Breach {
    std::string what;
    double by_of_band = 0;  ///< in units of the limit itself
};

/// Checks every band, ratio bound, ceiling and the salinity against a water. `tolerance` is
/// relative to each limit.
[[nodiscard]] std::vector<Breach> breaches(const Target& target, const MadeUpWater& water,
                                           double tolerance);

/// The same for the cuts, each by how far its left side is above `high`.
[[nodiscard]] std::vector<Breach> cut_breaches(const Target& target,
                                               std::span<const Supply> supplies,
                                               std::span<const double> dose_kg_per_kg,
                                               double tolerance);

/// The target with the water of a standing recipe for its aims, inside its bands: what a lot
/// adjustment is to make again. Misses of that recipe are not misses of the adjustment.
[[nodiscard]] Target aiming_at(Target target, const MadeUpWater& standing);

}  // namespace bw::recipe
