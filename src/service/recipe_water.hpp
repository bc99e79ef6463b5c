// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <vector>

#include "io/water_file.hpp"

namespace bw::service {

/// The made-up water of a recipe: its parts, as the materials' catalogue values give them, in the
/// purified water that it states, else in pure water; alkalinity and carbon as both bring them.
///
/// Errors   BadInput without materials, for a recipe names them but not what they hold;
/// UnknownName for a part that is not among them; those of the readers.
[[nodiscard]] Result<io::WaterSpec> recipe_water(const io::Document& recipe,
                                                 const std::vector<io::Document>& materials);

/// Share of a recipe's blend that is salt free of water, above 0 and at most 1.
///
/// Definition   dissolved mass of the made-up water, on the scale of Amounts::dissolved_mass_g, per
///              mass of blend. Water of hydration, moisture and what does not dissolve are the
///              rest.
/// Accuracy     that of the materials' catalogue values; lots are not counted.
/// Errors       those of recipe_water; BadInput for a recipe that dissolves no salt.
[[nodiscard]] Result<double> recipe_salt_share(const io::Document& recipe,
                                               const std::vector<io::Document>& materials);

}  // namespace bw::service
