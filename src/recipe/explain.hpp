// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
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
    std::string without;                ///< the material it does without
    std::vector<std::string> takes_up;  ///< materials that come in or grow by over a tenth
    std::vector<double> dose_kg_per_kg;
    double cost_change = 0;  ///< relative
};
/// The doses between which each material may move at little more cost.
struct DoseRange {
    int supply = 0;
    double least_kg_per_kg = 0;
    double most_kg_per_kg = 0;
};
struct Family {
    std::vector<Alternative> alternatives;  ///< cheapest first
    std::vector<DoseRange> ranges;
};

inline constexpr double kAlternativeCost = 0.02;  ///< alternatives cost at most this much more
/// How much worse an alternative may serve the goals, in relative miss.
inline constexpr double kAlternativeMiss = 1e-6;

/// Explores the recipes within kAlternativeCost of the best, goals served as well. Continuous doses
/// only.
[[nodiscard]] Result<Family> explore_family(const Target& target,
                                            const std::vector<Supply>& supplies,
                                            const Solution& solution);

[[nodiscard]] double cost_per_kg_finished_water(const std::vector<Supply>& supplies,
                                                const Solution& solution);
[[nodiscard]] bool all_priced(const std::vector<Supply>& supplies, const Solution& solution);

}  // namespace bw::recipe
