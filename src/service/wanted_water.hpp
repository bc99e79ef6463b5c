// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <vector>

#include "service/desk.hpp"
#include "works/assessment.hpp"
#include "works/wanted_strength.hpp"

namespace bw::service {

/// What a batch's made-up water is to be.
struct WantedWater {
    std::vector<works::Wanted> constituents;  ///< that the target names with a value
    works::WantedStrength strength;
    double temperature_degC = 0;
};

/// The water that a batch makes of its lots [mol (eq) per kg]. Errors UnknownName.
[[nodiscard]] Result<matter::Amounts> water_of(const works::Batch& batch);

/// Constituents by the target of the batch's recipe version; strength by the water that the batch
/// makes of its lots at its own dose.
///
/// Errors   Refused where the batch makes no salt water; those of the target's reader and of
///          works::wanted_strength.
[[nodiscard]] Result<WantedWater> wanted_water(const works::Batch& batch,
                                               const works::RecipeVersion& version);
[[nodiscard]] Result<WantedWater> wanted_water_of(const store::Books& books,
                                                  const works::Batch& batch);

}  // namespace bw::service
