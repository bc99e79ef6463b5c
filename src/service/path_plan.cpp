// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/path_plan.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace bw::service {
namespace {

constexpr double kGramPerKg = 1000;

/// Ratio of the 84th to the 50th percentile of a log-normal distribution with these deciles.
double spread_of(const matter::Grain& grain) {
    constexpr double kDecile = 1.2815515655446004;  // standard deviations from median to decile
    constexpr double kMost = 5;
    const bool stated = grain.d10_m > 0 && grain.d90_m > grain.d10_m;
    return stated ? std::clamp(std::exp(std::log(grain.d90_m / grain.d10_m) / (2 * kDecile)), 1.0,
                               kMost)
                  : 1;
}

Result<path::Part> part_of(const io::RecipePart& stated, const io::PlacedMaterial& placed,
                           base::Notices& notices) {
    const matter::Material& material = placed.material;
    path::Part out;
    out.name = stated.material;
    out.kg_per_kg_water = stated.g_per_kg_purified_water / kGramPerKg;
    matter::Amounts brings = placed.make_up.mol_per_kg;
    brings.scale(out.kg_per_kg_water);
    out.brings = path::dissolved_of(brings);
    out.water_kg_per_kg = placed.make_up.water_share * out.kg_per_kg_water;
    if (material.formula.empty()) {
        notices.push_back({"path_mixture", fmt::format("{} is a mixture; its grains are taken to "
                                                       "dissolve like sodium chloride.",
                                                       material.name)});
    }
    BW_TRY(solid, path::dissolving_solid(material.formula.empty() ? "NaCl" : material.formula));
    out.solid = solid;
    if (solid.estimated) {
        notices.push_back(
            {"path_estimate", fmt::format("How fast {} dissolves is an estimate: {} is not in the "
                                          "table of solids.",
                                          material.name, material.formula)});
    }
    constexpr double kUsual = 0.5e-3;
    constexpr double kMuch = 1e-3;  // kg per kg of water: a fortieth of the salt and up
    const int classes_of_part = out.kg_per_kg_water >= kMuch ? 5 : 2;
    const matter::Grain grain = material.grain.value_or(matter::Grain{});
    if (!(grain.d50_m > 0)) {
        notices.push_back(
            {"path_grain", fmt::format("The grain size of {} is not stated; 0.5 mm is "
                                       "taken.",
                                       material.name)});
    }
    BW_TRY(classes, path::grains_about(grain.d50_m > 0 ? grain.d50_m : kUsual, spread_of(grain),
                                       classes_of_part));
    out.grains = classes;
    return out;
}

}  // namespace

Result<PathParts> path_parts(const RecipeSupplies& recipe) {
    PathParts out;
    for (std::size_t i = 0; i < recipe.materials.size(); ++i) {
        BW_TRY(part, part_of(recipe.recipe.parts[i], recipe.materials[i], out.notices));
        if (part.kg_per_kg_water > 0) {
            out.parts.push_back(std::move(part));
        }
    }
    return out;
}

std::vector<path::Addition> all_at_once(std::size_t parts) {
    std::vector<path::Addition> out;
    for (std::size_t p = 0; p < parts; ++p) {
        out.push_back({p, 0, false});
    }
    return out;
}

path::VatPlan kept_at(const path::VatPlan& plan, double celsius) {
    constexpr double kRate = 2;  // K/h
    path::VatPlan out = plan;
    out.start_celsius = out.room_celsius = celsius;
    out.heating = path::VatPlan::Heating{0, celsius, kRate};
    return out;
}

}  // namespace bw::service
