// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <vector>

#include "service/desk.hpp"
#include "works/assessment.hpp"

namespace bw::service {

/// What a batch's made-up water is to be.
struct WantedWater {
    std::vector<works::Wanted> constituents;  ///< that the target names with a value
    double practical_salinity = 0;
    double g_per_kg_water = 0;  ///< dose of the batch's blend
    double temperature_degC = 0;
};

/// By the target of the batch's recipe version and the batch's own dose.
///
/// Definition   a salinity stated in g/kg stands for 35/35.16504 of itself on the practical scale
///              [millero-2008]. Errors those of the target's reader.
[[nodiscard]] Result<WantedWater> wanted_water(const works::Batch& batch,
                                               const works::RecipeVersion& version);
[[nodiscard]] Result<WantedWater> wanted_water_of(const store::Books& books,
                                                  const works::Batch& batch);

}  // namespace bw::service
