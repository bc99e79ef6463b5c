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

/// Alkalinity and carbon that are not stated weigh a few mg/kg: a water is solved again with their
/// mass until that is steady.
inline constexpr int kMassPasses = 8;
inline constexpr double kSteadyMass = 1e-13;  // kg/kg

/// Checks amounts and closing statements, then solves.
///
/// Errors   BadInput, OutOfRange: one sentence.
[[nodiscard]] Result<SolvedWater> solve_route(const EquilibriumModel<double>& model,
                                              const WaterInput& input, Route route);

/// Whether two statements close the acid-base balance.
/// Errors   BadInput: one sentence.
[[nodiscard]] Result<void> check_closing(Closure first, Closure second);
/// Whether a closing statement may have a value: pH from 0 to 14, others but alkalinity from 0 up.
[[nodiscard]] bool is_allowed(Closure kind, double value);

[[nodiscard]] Closing<double> closing_of(const WaterInput& input);

}  // namespace bw::brine
