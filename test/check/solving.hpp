// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "matter/constituent.hpp"
#include "matter/material.hpp"
#include "recipe/solve.hpp"
#include "recipe/target.hpp"

namespace bw::check {

/// A salt of assay 100 %, named by its formula.
[[nodiscard]] matter::Material pure_salt(const std::string& formula);

/// Materials as the solver takes them.
[[nodiscard]] Result<std::vector<recipe::Supply>> supplies_of(
    const std::vector<matter::Material>& materials);

/// A water of which nothing may give way: every constituent that is not 0 has a band of +- `band`
/// of itself, and the salinity, the water's own dissolved mass, one of +- `salinity_band`; all of
/// priority 1.
[[nodiscard]] recipe::Target exact_target(const matter::Amounts& mol_per_kg, double band,
                                          double salinity_band);

/// kg of a material, by its name, per kg of finished water.
[[nodiscard]] double dose_of(const std::vector<recipe::Supply>& supplies,
                             const recipe::Solution& solution, std::string_view name);

/// "solved", "infeasible" or "not proven".
[[nodiscard]] std::string verdict_word(recipe::Verdict verdict);

/// All that the program says of a target that cannot be met.
[[nodiscard]] std::string explanation(const recipe::Target& target,
                                      const std::vector<recipe::Supply>& supplies,
                                      const recipe::Solution& solution);

}  // namespace bw::check
