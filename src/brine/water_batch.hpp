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

/// Whether all arrays have `count` entries and the two statements close the acid-base balance.
/// Errors     BadInput, saying so.
[[nodiscard]] Result<void> check_batch(const WaterBatch& batch, const WaterBatchResults& results);

/// Solves the waters `begin` to `end` of a batch. Parts may run at the same time on threads of the
/// caller's.
///
/// Inputs     model of the waters' temperature; a batch that check_batch() passed.
/// Valid      as WaterModel::state; a water with a bad amount or statement is marked as failed.
/// Accuracy   as WaterModel::state. The same digits for any cut into parts.
/// Complexity some 15 us per water, twice that where alkalinity or carbon is not stated; workspace
/// a few kB per call.
void solve_batch_part(const WaterModel& model, const WaterBatch& batch,
                      const WaterBatchResults& results, std::size_t begin, std::size_t end);

}  // namespace bw::brine
