// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <vector>

#include "recipe/solve.hpp"

namespace bw::recipe {

/// Whether the target or a material asks for numbers of materials, smallest doses, whole packages
/// or weighing steps.
[[nodiscard]] bool needs_whole_numbers(const Target& target, const std::vector<Supply>& supplies);

/// Re-solves with them, starting from the continuous answer in `out`, and replaces its doses.
///
/// Definition   Numbers of materials, smallest doses, whole packages and the weighing steps that
/// matter (half a step
///              is more than kCoarseStep of the dose) are searched by branch and bound; the finer
///              weighings are then rounded to their step and the result is checked again.
[[nodiscard]] Result<void> solve_in_whole_numbers(const Target& target,
                                                  const std::vector<Supply>& supplies,
                                                  const SolveOptions& options, Solution& out);

/// The same for a water that breaks some limits, by a short search; no doses where it finds none.
[[nodiscard]] Result<void> nearest_in_whole_numbers(const Target& target,
                                                    const std::vector<Supply>& supplies,
                                                    const SolveOptions& options, Solution& out);

/// Where weighings come in steps, a relative miss below this counts as none: rounding makes as
/// much, and to chase less would cost a later goal per cents.
inline constexpr double kWeighedMiss = 5e-4;

/// Half a weighing step over the dose, beyond which the step is part of the search instead of
/// rounded afterwards.
inline constexpr double kCoarseStep = 1e-3;

}  // namespace bw::recipe
