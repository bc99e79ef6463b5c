// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <vector>

#include "path/course.hpp"
#include "service/recipe_supplies.hpp"

namespace bw::service {

/// The parts of a recipe as a vat meets them: what each brings, its solid and its grains.
///
/// Definition   grains about the material's d50 in five classes of equal mass, two for less than
///              1 g per kg of water, as wide as its d10 and d90 say; a material without grain sizes
///              is taken as 0.5 mm, a mixture without a formula as NaCl, both with a notice.
///              Insoluble matter is left out.
/// Errors       those of the readers and of path::grains_about.
struct PathParts {
    std::vector<path::Part> parts;
    base::Notices notices;
};
[[nodiscard]] Result<PathParts> path_parts(const RecipeSupplies& recipe);

/// Everything at once into the whole of the water, salt into water.
[[nodiscard]] std::vector<path::Addition> all_at_once(std::size_t parts);

/// The same vat held at one temperature by its heater and its room.
[[nodiscard]] path::VatPlan kept_at(const path::VatPlan& plan, double celsius);

}  // namespace bw::service
