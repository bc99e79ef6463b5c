// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "recipe/robustness.hpp"
#include "recipe/solve.hpp"

namespace bw::recipe {

/// What part of a constituent one material brings. The purified water has supply index -1.
struct BudgetShare {
    int supply = -1;
    double share = 0;  ///< of one; may be negative where a material takes alkalinity away
};
struct Budget {
    matter::Constituent constituent;
    std::vector<BudgetShare> shares;  ///< largest first
};
[[nodiscard]] std::vector<Budget> budgets(const Target& target, const std::vector<Supply>& supplies,
                                          const Solution& solution);

/// A limit that the recipe leans on.
struct Binding {
    std::string what;  ///< "Mg at its high, 1350 mg/L"
};
[[nodiscard]] std::vector<Binding> bindings(const Target& target, const Solution& solution);

/// Sentences on what moves what: errors of assay, and what a target costs.
[[nodiscard]] std::vector<std::string> sensitivities(const Target& target,
                                                     const std::vector<Supply>& supplies,
                                                     const Solution& solution,
                                                     const Robustness& robustness);

/// Another recipe that serves the goals as well, for little more money.
struct Alternative {
    std::string without;                 ///< the material it does without
    std::vector<std::string> takes_up;   ///< materials that come in or grow by over a tenth
    std::vector<double> dose_kg_per_kg;  ///< of each supply
    double cost_change = 0;              ///< relative to the recipe
};

inline constexpr double kAlternativeCost = 0.02;  ///< alternatives cost at most this much more
/// How much larger the largest miss of a priority may be in an alternative.
inline constexpr double kAlternativeMiss = 1e-3;

/// For each material of the recipe, the cheapest recipe that does without it, with at most one
/// other material instead, serves every priority as well within kAlternativeMiss and costs at most
/// kAlternativeCost more; cheapest first.
///
/// Weighing steps and whole packages are not looked at; smallest doses are. Where the target has
/// cuts, which stand for limits that are not linear near one recipe only, `within` solves anew
/// within those limits for each material's best shelf; it gives nothing where that fails.
/// Complexity   one solve for each material used and each not used.
using SolveWithin = std::function<std::optional<Solution>(const std::vector<Supply>&)>;
[[nodiscard]] std::vector<Alternative> alternatives(const Target& target,
                                                    const std::vector<Supply>& supplies,
                                                    const Solution& solution,
                                                    const SolveWithin& within = {});

[[nodiscard]] double cost_per_kg_finished_water(const std::vector<Supply>& supplies,
                                                const Solution& solution);
[[nodiscard]] double cost_per_t_blend(const std::vector<Supply>& supplies,
                                      const Solution& solution);
[[nodiscard]] bool all_priced(const std::vector<Supply>& supplies, const Solution& solution);

}  // namespace bw::recipe
