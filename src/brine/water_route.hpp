// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "base/result.hpp"
#include "brine/speciation.hpp"
#include "brine/water.hpp"

namespace bw::brine {

/// A water solved on one route, and its constituents with the alkalinity and carbon found.
struct SolvedWater {
    Speciation<double> speciation;
    matter::Amounts amounts;
};

/// Checks amounts and closing statements, then solves.
///
/// Errors   BadInput, OutOfRange: one sentence.
[[nodiscard]] Result<SolvedWater> solve_route(const EquilibriumModel<double>& model,
                                              const WaterInput& input, Route route);

[[nodiscard]] Closing<double> closing_of(const WaterInput& input);

}  // namespace bw::brine
