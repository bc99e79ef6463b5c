// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "recipe/model.hpp"
#include "recipe/target.hpp"

namespace bw::service {

/// A material of a batch as its lots hold it, with its dose by the recipe and in the batch.
struct AdjustedMaterial {
    recipe::Supply as_weighed;
    double recipe_kg_per_kg = 0;  ///< kg per kg of finished water
    double batch_kg_per_kg = 0;
};

/// Why a lot adjustment changed each material, one sentence without its full stop a material: what
/// the recipe's own shares would miss of the element that the change serves most, or, where it
/// serves none by itself, the change of another that it balances, or what it keeps with the others.
/// A material that did not change has an empty one.
///
/// Inputs   target: its targets are what the adjustment aims at (recipe::aiming_at).
[[nodiscard]] std::vector<std::string> adjustment_reasons(
    const recipe::Target& target, const std::vector<AdjustedMaterial>& materials);

}  // namespace bw::service
