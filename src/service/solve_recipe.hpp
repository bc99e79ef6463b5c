// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "io/document.hpp"
#include "recipe/caution.hpp"
#include "recipe/conflict.hpp"
#include "recipe/explain.hpp"
#include "recipe/robustness.hpp"
#include "recipe/solve.hpp"
#include "service/prediction.hpp"
#include "service/water_limits.hpp"

namespace bw::service {

/// What the user asks for: a recipe for a target, from a catalogue or from lots.
struct RecipeRequest {
    io::Document target;
    std::vector<io::Document> materials;
    std::optional<io::Document> lots;
    std::optional<io::Document> standing;  ///< what a lot adjustment changes; else the catalogue's
    /// True: the adjustment aims at the water that `standing` makes of the materials' own values,
    /// in place of the target: for a recipe that was approved with what it misses.
    bool keep_water = false;
    std::vector<std::pair<std::string, std::string>> chosen_lots;  ///< material, lot number
    std::optional<double> blend_kg;  ///< size of the batch, in place of the target's
    bool open_packages = false;      ///< bags may be opened, whatever the materials say
    bool free_shares = false;  ///< what asks for whole numbers is left aside, and a notice says so
    bool split_lots = false;   ///< several lots of one material may be weighed
    std::uint64_t draws = kUsualDraws;
    std::uint64_t seed = kUsualSeed;
    bool explain = true;
};

/// The change of one weighing against the standing recipe.
struct WeighingChange {
    int supply = 0;
    double standing_g_per_kg_water = 0;
    double adjusted_g_per_kg_water = 0;
};

struct RecipeReport {
    recipe::Target target;
    std::vector<recipe::Supply> supplies;
    recipe::Solution solution;
    std::optional<recipe::Conflict> conflict;
    recipe::Robustness robustness;
    std::vector<recipe::Budget> budgets;
    std::vector<recipe::Binding> bindings;
    std::vector<std::string> sensitivities;
    std::vector<recipe::Alternative> alternatives;
    std::vector<WeighingChange> changes;  ///< only for a lot adjustment
    std::string standing_name;
    std::string currency;
    std::optional<WaterLimits> limits;  ///< where the target has limits on the finished water
    base::Notices notices;

    [[nodiscard]] bool feasible() const { return solution.verdict == recipe::Verdict::Solved; }
    /// g per kg of purified water for a dose per kg of finished water.
    [[nodiscard]] double g_per_kg_water(double dose_kg_per_kg) const;
};

/// Solves, explains and checks a recipe.
///
/// Errors   those of the readers; UnknownName for a lot of a material that is not in the catalogue;
/// BadInput for mixed
///          currencies. An infeasible target is no error but a report with a conflict.
[[nodiscard]] Result<RecipeReport> solve_recipe(const RecipeRequest& request);

}  // namespace bw::service
