// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "path/verdict.hpp"
#include "recipe/solve.hpp"

namespace bw::service {

/// A limit on saturation and what the recipe makes of it, evaluated apart from the search.
struct SaturationHeld {
    recipe::SaturationLimit limit;
    double omega = 0;
    double factor = 1;   ///< the model is trusted within it
    bool held = false;   ///< within kLimitTolerance
    bool leans = false;  ///< the recipe would be another without it
};

struct SafeTimeHeld {
    recipe::SafeTimeLimit limit;
    path::SafeTime time;
    bool held = false;  ///< by SafeTime::use_within_h, as `path run` judges it
    bool leans = false;
    double omega_aragonite = 0;  ///< of the water in touch with that air
};

/// The recipe without one of the limits.
struct WithoutLimit {
    std::string key;  ///< "omega_aragonite", "chance_inside" ...; "all" for none of them left
    double cost_per_t_blend = 0;
    recipe::MadeUpWater water;
};

/// What the limits on the finished water came to.
struct WaterLimits {
    std::vector<SaturationHeld> saturation;
    std::optional<SafeTimeHeld> safe_time;
    std::vector<std::string> costs;         ///< sentences: what the recipe could be without them
    std::vector<WithoutLimit> without;      ///< the same in numbers
    std::vector<std::string> out_of_reach;  ///< sentences: how near the materials come
    int rounds = 0;                         ///< linear programs of the search
    bool settled = true;
};

struct LimitedRecipe {
    recipe::Solution solution;
    recipe::Target target;  ///< with the cuts that stand for the limits near the recipe
    WaterLimits limits;
};

/// A limit counts as held within this part of itself.
inline constexpr double kLimitTolerance = 1e-6;

/// Whether a target has limits that are not linear in the doses.
[[nodiscard]] bool has_curved_limits(const recipe::Target& target);

/// The recipe from other materials within the same limits, weighed as finely as one likes; nothing
/// where there is none. A safe time is sought at the Omega that `made` has, and then evaluated.
[[nodiscard]] std::optional<recipe::Solution> from_other_materials(
    const recipe::Target& target, const std::vector<recipe::Supply>& supplies,
    const WaterLimits& made);

/// Fills in what a recipe makes of each limit, held or not.
[[nodiscard]] Result<void> evaluate_limits(const recipe::Target& target,
                                           const std::vector<recipe::Supply>& supplies,
                                           const recipe::Solution& solution, WaterLimits& out);

/// Whether doses hold all limits that are not linear, evaluated apart from any search.
[[nodiscard]] Result<bool> holds_curved_limits(const recipe::Target& target,
                                               const std::vector<recipe::Supply>& supplies,
                                               const std::vector<double>& dose_kg_per_kg);

/// Solves a recipe within its limits on saturation, safe time and chance.
///
/// Definition   see LimitLoop. The safe time falls as Omega of aragonite rises: a limit on that is
///              sought with which the course of the vat (recipe_safe_time) stays clear as long as
///              asked, within 0.1 %. Every answer is evaluated again: saturations from the state
///              that `water show` prints, the safe time by a course of its own.
/// Inputs       as recipe::solve; with `costs`, it is solved again for what the limits cost.
/// Errors       as LimitLoop and recipe_safe_time. A target that cannot be met is a verdict, with
///              sentences.
/// Complexity   some 10 linear programs; with a safe time some 8 times that and as many courses.
[[nodiscard]] Result<LimitedRecipe> solve_within_limits(const recipe::Target& target,
                                                        const std::vector<recipe::Supply>& supplies,
                                                        const recipe::SolveOptions& options,
                                                        bool costs);

}  // namespace bw::service
