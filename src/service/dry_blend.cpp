// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/dry_blend.hpp"

#include <algorithm>

#include "service/recipe_supplies.hpp"

namespace bw::service {

Result<DryBlendReport> dry_blend(const DryBlendRequest& request) {
    BW_TRY(of, recipe_supplies(request.recipe, request.materials));
    const Place place{request.recipe.name, 0, ""};
    double dose = 0;
    for (const io::RecipePart& part : of.recipe.parts) {
        dose += part.g_per_kg_purified_water;
    }
    if (!(dose > 0)) {
        return fail(ProblemCode::OutOfRange, "the recipe weighs nothing: its amounts sum to 0",
                    place);
    }
    std::vector<blend::BagPart> parts;
    for (std::size_t i = 0; i < of.recipe.parts.size(); ++i) {
        const double share = of.recipe.parts[i].g_per_kg_purified_water / dose;
        if (share > 0) {
            parts.push_back({of.materials[i].material, of.materials[i].make_up, share});
        }
    }
    blend::BagConditions conditions = request.conditions;
    conditions.blend_g_per_kg_water = dose;
    auto bag = blend::dry_bag(parts, conditions);
    if (!bag) {
        Problem problem = bag.error();
        if (problem.place.file.empty() && problem.place.field.empty()) {
            problem.place = place;
        }
        return tl::make_unexpected(std::move(problem));
    }
    DryBlendReport out{of.recipe.name, of.recipe.invented, std::move(*bag)};
    const bool lots = std::any_of(of.recipe.parts.begin(), of.recipe.parts.end(),
                                  [](const io::RecipePart& p) { return !p.lot.empty(); });
    if (lots) {
        out.bag.notices.push_back(
            {"recipe_lots", "The recipe weighs lots; their own assays are not counted here."});
    }
    return out;
}

}  // namespace bw::service
