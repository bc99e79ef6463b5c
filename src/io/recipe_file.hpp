// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "io/document.hpp"
#include "matter/constituent.hpp"

namespace bw::io {

struct RecipePart {
    std::string material;
    std::string lot;
    double g_per_kg_purified_water = 0;
    double share_percent = 0;
    Place place;
};

/// A recipe as stored in a file of kind "recipe".
struct RecipeFile {
    std::string name;
    std::string target;
    std::string program;      ///< version that made it
    std::string data_digest;  ///< of the data tables it was made with
    double temperature_degC = 25;
    double dissolved_g_per_kg = 0;
    bool invented = false;
    std::vector<RecipePart> parts;
    matter::Amounts purified_water;  ///< mol per kg of it, what the target stated of it
};

/// Errors   as read_target; DuplicateName for a material and lot that stand twice; OutOfRange for a
/// negative amount.
[[nodiscard]] Result<RecipeFile> read_recipe(const Document& document);

/// TOML text that reads back to the same numbers.
[[nodiscard]] std::string recipe_toml(const RecipeFile& recipe);

}  // namespace bw::io
