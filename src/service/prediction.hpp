// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <vector>

#include "recipe/robustness.hpp"
#include "recipe/target.hpp"
#include "works/recipe_version.hpp"

namespace bw::service {

/// What lots and certificates leave uncertain of a recipe, to first order and by draws, on all
/// cores; the same for the same seed.
[[nodiscard]] recipe::Robustness drawn_spread(const recipe::Target& target,
                                              const std::vector<recipe::Supply>& supplies,
                                              const recipe::Solution& solution, std::uint64_t draws,
                                              std::uint64_t seed);

/// So many draws, from this seed, unless others are asked for.
inline constexpr std::uint64_t kUsualDraws = 20000;
inline constexpr std::uint64_t kUsualSeed = 1;

/// What doses of supplies make of every constituent: first those that the target speaks of, in its
/// order, then all else that is in the water; with the uncertainty that the materials' certificates
/// leave (first order).
///
/// Inputs   doses in kg per kg of finished water, one for each supply.
[[nodiscard]] std::vector<works::Predicted> predicted_water(
    const recipe::Target& wanted, const std::vector<recipe::Supply>& supplies,
    const std::vector<double>& dose_kg_per_kg);

/// A recipe as it stands, to be looked at as if it had just been solved for.
[[nodiscard]] recipe::Solution standing_solution(const recipe::Target& target,
                                                 const std::vector<recipe::Supply>& supplies,
                                                 const std::vector<double>& dose_kg_per_kg);

/// Doses per kg of finished water of parts given in g per kg of purified water.
[[nodiscard]] std::vector<double> doses_of_parts(
    const std::vector<double>& g_per_kg_purified_water);

}  // namespace bw::service
