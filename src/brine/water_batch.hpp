// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "brine/water.hpp"

namespace bw::brine {

/// Many waters of one temperature, one array per quantity.
struct WaterBatch {
    std::size_t count = 0;
    std::array<std::span<const double>, kTotals> mol_per_kg;  ///< empty: none of it
    std::array<Closure, 2> closing{Closure::Alkalinity, Closure::Carbon};
    std::array<std::span<const double>, 2> closing_value;
};

/// Where the results go; an empty span is not filled.
struct WaterBatchResults {
    std::span<double> ph_total, alkalinity_eq_per_kg, carbon_mol_per_kg, fugacity_co2_atm;
    std::span<double> water_activity, osmotic_coefficient;
    struct Omega {
        std::size_t solid;  ///< place in ref::minerals()
        std::span<double> values;
    };
    std::vector<Omega> omega;
    std::span<std::uint8_t>
        failed;  ///< 1 where no state was found; its results are then not numbers
};

/// Solves every water of the batch.
///
/// Inputs     model of the waters' temperature; arrays of `count` each; threads, at least 1.
/// Valid      as WaterModel::state; amounts are not checked one by one: a bad one marks its water
///            as failed.
/// Accuracy   as WaterModel::state, with the mass of carbon taken as that of the alkalinity where
///            carbon is not stated (4e-5 of a molality).
/// Errors     BadInput when arrays do not have `count` entries.
/// Complexity about 20 us per water and thread; workspace a few kB per thread. The same digits for
///            any number of threads.
[[nodiscard]] Result<void> solve_batch(const WaterModel& model, const WaterBatch& batch,
                                       const WaterBatchResults& results, unsigned threads = 1);

}  // namespace bw::brine
