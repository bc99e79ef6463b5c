// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string>
#include <vector>

#include "works/batch.hpp"
#include "works/weighing.hpp"

namespace bw::service {

/// Weighed over target of each addition; 1 where nothing is weighed, and while a batch is weighed
/// also where an addition is short: its rest is still to come.
[[nodiscard]] std::vector<double> weighed_ratios(const works::Batch& batch,
                                                 std::span<const works::Weighing> weighings);

/// What such ratios make of an element [mol or eq per kg of made-up water]: their effect on the
/// whole blend goes through the strength, so that a salt that is over lowers the rest.
[[nodiscard]] double as_weighed_mol_per_kg(const works::Batch& batch,
                                           const works::Predicted& planned,
                                           const works::ElementShare& share,
                                           std::span<const double> ratios);

/// The water of a batch by what was weighed into it.
struct WeighedWater {
    std::vector<works::Predicted> water;  ///< u in proportion; by plan where no share is kept
    std::string masses;  ///< which ones it is of: "weighed masses of 3 of 8 steps, planned ..."
};
[[nodiscard]] WeighedWater water_as_weighed(const works::Batch& batch,
                                            std::span<const works::Weighing> weighings);

}  // namespace bw::service
