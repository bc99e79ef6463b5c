// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/water_limits.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "recipe/chance.hpp"
#include "service/limit_costs.hpp"
#include "service/limit_loop.hpp"
#include "service/limit_search.hpp"
#include "service/recipe_course.hpp"

namespace bw::service {

using recipe::SaturationLimit;
using recipe::Solution;
using recipe::Supply;
using recipe::Target;
using recipe::Verdict;

namespace {

/// Evaluates every limit at a water, apart from the search.
Result<void> evaluate(const Target& target, const std::vector<Supply>& supplies,
                      const Solution& solution, bool time_leans, WaterSaturation& water,
                      WaterLimits& out) {
    constexpr double kLeans = 1e-3;
    for (const SaturationLimit& limit : target.limits.saturation) {
        BW_TRY(state, water.value(limit, solution.water.mol_per_kg));
        out.saturation.push_back({limit, state.omega, state.factor,
                                  state.omega <= limit.highest_omega * (1 + kLimitTolerance),
                                  state.omega >= limit.highest_omega * (1 - kLeans)});
    }
    if (target.limits.safe_time) {
        const recipe::SafeTimeLimit& limit = *target.limits.safe_time;
        BW_TRY(time, recipe_safe_time(supplies, solution.dose_kg_per_kg, limit));
        const SaturationLimit in_air{std::string(kSafeTimeKey), "aragonite", 1, limit.air_pco2_atm,
                                     limit.temperature_degC};
        BW_TRY(state, water.value(in_air, solution.water.mol_per_kg));
        out.safe_time =
            SafeTimeHeld{limit, time, time.use_within_h >= limit.hours * (1 - kLimitTolerance),
                         time_leans, state.omega};
    }
    return {};
}

bool all_held(const WaterLimits& limits) {
    return std::all_of(limits.saturation.begin(), limits.saturation.end(),
                       [](const SaturationHeld& s) { return s.held; }) &&
           (!limits.safe_time || limits.safe_time->held);
}

}  // namespace

bool has_curved_limits(const Target& target) {
    return !target.limits.saturation.empty() || target.limits.safe_time ||
           target.limits.chance_inside;
}

Result<void> evaluate_limits(const Target& target, const std::vector<Supply>& supplies,
                             const Solution& solution, WaterLimits& out) {
    WaterSaturation water;
    return evaluate(target, supplies, solution, false, water, out);
}

Result<bool> holds_curved_limits(const Target& target, const std::vector<Supply>& supplies,
                                 const std::vector<double>& dose_kg_per_kg) {
    for (const recipe::ChanceRow& row : recipe::chance_rows(target, supplies, dose_kg_per_kg)) {
        if (!recipe::holds(row)) {
            return false;
        }
    }
    Solution solution;
    solution.dose_kg_per_kg = dose_kg_per_kg;
    solution.water = recipe::made_up_water(supplies, target.purified_water, dose_kg_per_kg);
    WaterSaturation water;
    WaterLimits limits;
    BW_CHECK(evaluate(target, supplies, solution, false, water, limits));
    return all_held(limits);
}

std::optional<Solution> from_other_materials(const Target& target,
                                             const std::vector<Supply>& supplies,
                                             const WaterLimits& made) {
    Target plain = target;
    plain.cuts.clear();
    plain.batch.reset();
    plain.limits.most_materials.reset();
    plain.limits.smallest_dose_kg_per_kg.reset();
    if (made.safe_time) {
        const recipe::SafeTimeLimit& limit = made.safe_time->limit;
        plain.limits.saturation.push_back({std::string(kSafeTimeKey), "aragonite",
                                           made.safe_time->omega_aragonite, limit.air_pco2_atm,
                                           limit.temperature_degC});
        plain.limits.safe_time.reset();
    }
    auto found = solve_within_limits(plain, supplies, {}, false);
    if (!found || found->solution.verdict != Verdict::Solved ||
        !holds_curved_limits(target, supplies, found->solution.dose_kg_per_kg).value_or(false)) {
        return std::nullopt;
    }
    return std::move(found->solution);
}

Result<LimitedRecipe> solve_within_limits(const Target& target, const std::vector<Supply>& supplies,
                                          const recipe::SolveOptions& options, bool costs) {
    LimitedRecipe out;
    if (!has_curved_limits(target)) {
        BW_TRY(solution, recipe::solve(target, supplies, options));
        out.solution = std::move(solution);
        out.target = target;
        return out;
    }
    LimitSearch search(target, supplies, options);
    BW_TRY(made, search.go());
    out.solution = made.solution;
    out.limits.rounds = made.loop->rounds();
    out.limits.settled = made.loop->settled();
    if (made.solved()) {
        BW_TRY(weighed, search.weighed(made));
        out.solution = std::move(weighed);
    } else {
        BW_CHECK(say_out_of_reach(target, supplies, options, made, search.water(), out.limits));
    }
    out.target = made.loop->with_cuts();
    if (out.solution.verdict != Verdict::Solved) {
        return out;
    }
    const bool time_leans =
        std::any_of(out.target.cuts.begin(), out.target.cuts.end(),
                    [](const recipe::Cut& cut) { return cut.symbol == kSafeTimeKey; });
    BW_CHECK(evaluate(target, supplies, out.solution, time_leans, search.water(), out.limits));
    if (!all_held(out.limits)) {
        out.solution.verdict = Verdict::NotProven;
        out.solution.notices.push_back(
            {"recheck", "Evaluating the water again shows that a limit on it is broken."});
    } else if (costs && made.loop->has_cuts()) {
        BW_CHECK(add_costs(target, supplies, options, out.solution, out.limits));
    }
    if (!out.limits.settled) {
        out.solution.notices.push_back(
            {"limits_not_settled",
             fmt::format("The limits hold, but after {} rounds the recipe had not settled: another "
                         "may be better.",
                         out.limits.rounds)});
    }
    return out;
}

}  // namespace bw::service
