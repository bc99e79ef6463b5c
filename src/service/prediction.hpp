// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <vector>

#include "recipe/target.hpp"
#include "works/recipe_version.hpp"

namespace bw::service {

/// What doses of supplies make of every constituent: first those that the target speaks of, in its
/// order, then all else that is in the water; with the uncertainty that the materials' certificates
/// leave (first order).
///
/// Inputs   doses in kg per kg of finished water, one for each supply.
[[nodiscard]] std::vector<works::Predicted> predicted_water(
    const recipe::Target& wanted, const std::vector<recipe::Supply>& supplies,
    const std::vector<double>& dose_kg_per_kg);

/// Doses per kg of finished water of parts given in g per kg of purified water.
[[nodiscard]] std::vector<double> doses_of_parts(
    const std::vector<double>& g_per_kg_purified_water);

}  // namespace bw::service
