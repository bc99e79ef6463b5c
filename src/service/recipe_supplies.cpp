// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/recipe_supplies.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "service/catalogue.hpp"

namespace bw::service {
Result<RecipeSupplies> recipe_supplies(const io::Document& document,
                                       const std::vector<io::Document>& materials) {
    BW_TRY(recipe, io::read_recipe(document));
    if (materials.empty()) {
        return fail(
            ProblemCode::BadInput,
            "a recipe names its materials but not what they hold: add the file of materials",
            {document.name, 0, ""});
    }
    BW_TRY(catalogue, read_catalogue(materials));
    RecipeSupplies out;
    for (const io::RecipePart& part : recipe.parts) {
        const auto found = std::find_if(
            catalogue.begin(), catalogue.end(),
            [&](const io::PlacedMaterial& m) { return m.material.name == part.material; });
        if (found == catalogue.end()) {
            return fail(ProblemCode::UnknownName,
                        fmt::format("{} is not among the materials", base::quoted(part.material)),
                        part.place);
        }
        out.materials.push_back(*found);
    }
    out.recipe = std::move(recipe);
    return out;
}

}  // namespace bw::service
