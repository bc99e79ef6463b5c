// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/wanted_water.hpp"

#include <fmt/format.h>

#include "io/target_file.hpp"
#include "service/recipe_versions.hpp"

namespace bw::service {

Result<matter::Amounts> water_of(const works::Batch& batch) {
    matter::Amounts out;
    for (const works::Predicted& p : batch.water) {
        BW_TRY(c, matter::require_constituent(p.symbol));
        out[c] = p.mol_per_kg;
    }
    return out;
}

Result<WantedWater> wanted_water(const works::Batch& batch, const works::RecipeVersion& version) {
    BW_TRY(documents, documents_of(version));
    BW_TRY(target, io::read_target(documents.target));
    WantedWater out;
    out.temperature_degC = target.temperature_degC;
    for (const recipe::ConstituentGoal& goal : target.constituents) {
        if (goal.target) {
            out.constituents.push_back({std::string(goal.constituent.symbol()), *goal.target});
        }
    }
    BW_TRY(water, water_of(batch));
    if (!(batch.blend_g_per_kg_purified_water > 0) || !(water.dissolved_mass_g() > 0)) {
        return fail(ProblemCode::Refused,
                    fmt::format("batch {} makes no salt water: its results cannot be brought to "
                                "its strength",
                                batch.number));
    }
    BW_TRY(strength, works::wanted_strength(water, batch.blend_g_per_kg_purified_water));
    out.strength = strength;
    return out;
}

Result<WantedWater> wanted_water_of(const store::Books& books, const works::Batch& batch) {
    BW_TRY(version, kept<works::RecipeVersion>(books, batch.recipe));
    return wanted_water(batch, version.is);
}

}  // namespace bw::service
