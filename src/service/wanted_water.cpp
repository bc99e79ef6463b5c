// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/wanted_water.hpp"

#include <fmt/format.h>

#include "io/target_file.hpp"
#include "service/recipe_versions.hpp"

namespace bw::service {

Result<WantedWater> wanted_water(const works::Batch& batch, const works::RecipeVersion& version) {
    constexpr double kPractical = 35;
    constexpr double kReference_g_per_kg = 35.16504;  // of practical salinity 35 [millero-2008]
    BW_TRY(documents, documents_of(version));
    BW_TRY(target, io::read_target(documents.target));
    WantedWater out;
    out.practical_salinity = target.salinity.practical.value_or(target.salinity.target_g_per_kg *
                                                                kPractical / kReference_g_per_kg);
    out.g_per_kg_water = batch.blend_g_per_kg_purified_water;
    out.temperature_degC = target.temperature_degC;
    for (const recipe::ConstituentGoal& goal : target.constituents) {
        if (goal.target) {
            out.constituents.push_back({std::string(goal.constituent.symbol()), *goal.target});
        }
    }
    if (!(out.practical_salinity > 0) || !(out.g_per_kg_water > 0)) {
        return fail(ProblemCode::Refused,
                    fmt::format("batch {} makes no salt water: its results cannot be brought to "
                                "its strength",
                                batch.number));
    }
    return out;
}

Result<WantedWater> wanted_water_of(const store::Books& books, const works::Batch& batch) {
    BW_TRY(version, kept<works::RecipeVersion>(books, batch.recipe));
    return wanted_water(batch, version.is);
}

}  // namespace bw::service
