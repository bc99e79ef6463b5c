// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "service/limit_search.hpp"
#include "service/water_limits.hpp"

namespace bw::service {

/// What each limit costs, by solving again without it, with all whole numbers; what all of them
/// cost; and what some degrees cooler would give.
///
/// Inputs       the recipe within the limits, with its weighings.
/// Complexity   a search per limit and two more.
[[nodiscard]] Result<void> add_costs(const recipe::Target& target,
                                     const std::vector<recipe::Supply>& supplies,
                                     const recipe::SolveOptions& options,
                                     const recipe::Solution& made, WaterLimits& out);

/// How near the materials come to limits that they cannot hold.
[[nodiscard]] Result<void> say_out_of_reach(const recipe::Target& target,
                                            const std::vector<recipe::Supply>& supplies,
                                            const recipe::SolveOptions& options,
                                            const LimitAttempt& made, WaterSaturation& water,
                                            WaterLimits& out);

}  // namespace bw::service
