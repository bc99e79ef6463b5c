// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/recipe_water.hpp"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "recipe/evaluate.hpp"
#include "service/recipe_supplies.hpp"
#include "unit/factors.hpp"

namespace bw::service {
namespace {

void note_assumptions(const io::RecipeFile& recipe, io::WaterSpec& spec) {
    const bool pure = std::ranges::all_of(recipe.purified_water.values(),
                                          [](double amount) { return amount == 0; });
    spec.notices.push_back(
        {"recipe_water",
         fmt::format("Made up in {} from the materials' catalogue values; the carbon is what {} "
                     "bring, before the water takes up or gives off any to the air.",
                     pure ? "pure water" : "the purified water that the recipe states",
                     pure ? "the materials" : "it and the materials")});
    const bool lots = std::any_of(recipe.parts.begin(), recipe.parts.end(),
                                  [](const io::RecipePart& p) { return !p.lot.empty(); });
    if (lots) {
        spec.notices.push_back(
            {"recipe_lots", "The recipe weighs lots; their own assays are not counted here."});
    }
}

struct MadeUp {
    io::RecipeFile recipe;
    recipe::MadeUpWater water;
};

Result<MadeUp> made_up(const io::Document& document, const std::vector<io::Document>& materials) {
    BW_TRY(of, recipe_supplies(document, materials));
    double blend = 0;
    for (const io::RecipePart& part : of.recipe.parts) {
        blend += part.g_per_kg_purified_water;
    }
    std::vector<recipe::Supply> supplies;
    std::vector<double> doses;
    for (std::size_t i = 0; i < of.recipe.parts.size(); ++i) {
        supplies.push_back({of.materials[i].material, of.materials[i].make_up});
        doses.push_back(of.recipe.parts[i].g_per_kg_purified_water / (unit::kGramPerKg + blend));
    }
    recipe::MadeUpWater water = recipe::made_up_water(supplies, of.recipe.purified_water, doses);
    return MadeUp{std::move(of.recipe), std::move(water)};
}

}  // namespace

Result<io::WaterSpec> recipe_water(const io::Document& document,
                                   const std::vector<io::Document>& materials) {
    BW_TRY(made, made_up(document, materials));
    const auto& [recipe, water] = made;
    io::WaterSpec spec;
    spec.name = recipe.name;
    spec.invented = recipe.invented;
    spec.place = Place{document.name, 0, ""};
    spec.input.temperature = unit::Celsius(recipe.temperature_degC);
    spec.input.mol_per_kg = water.mol_per_kg;
    spec.input.closing = {
        {{brine::Closure::Alkalinity, water.mol_per_kg[matter::constituent("alkalinity")]},
         {brine::Closure::Carbon, water.mol_per_kg[matter::constituent("carbon")]}}};
    spec.closed_by = "alkalinity and carbon of the materials";
    note_assumptions(recipe, spec);
    return spec;
}

Result<double> recipe_salt_share(const io::Document& document,
                                 const std::vector<io::Document>& materials) {
    BW_TRY(made, made_up(document, materials));
    const double blend_kg = 1 - made.water.purified_water_kg;
    const double from_water =
        made.water.purified_water_kg * made.recipe.purified_water.dissolved_mass_g();
    const double salt_kg = (made.water.dissolved_g_per_kg - from_water) / unit::kGramPerKg;
    if (!(blend_kg > 0 && salt_kg > 0)) {
        return fail(ProblemCode::BadInput, "the parts of the recipe dissolve no salt",
                    {document.name, 0, ""});
    }
    // Atomic weights of two dates may leave a salt without water a millionth above 1.
    return std::min(1.0, salt_kg / blend_kg);
}

}  // namespace bw::service
