// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <vector>

#include "io/material_file.hpp"
#include "io/recipe_file.hpp"

namespace bw::service {

/// A recipe with the material of each of its parts, in the parts' order.
struct RecipeSupplies {
    io::RecipeFile recipe;
    std::vector<io::PlacedMaterial> materials;
};

/// Finds what a recipe's parts are made of; lots are taken by the catalogue values of their
/// material.
///
/// Errors   BadInput without materials, for a recipe names them but not what they hold; UnknownName
/// for a part that is not among them; DuplicateName for one in two files; those of the readers.
[[nodiscard]] Result<RecipeSupplies> recipe_supplies(const io::Document& recipe,
                                                     const std::vector<io::Document>& materials);

}  // namespace bw::service
