// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/water_limits.hpp"

#include <algorithm>
#include <cmath>
#include <memory>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "recipe/chance.hpp"
#include "recipe/explain.hpp"
#include "service/limit_loop.hpp"
#include "service/recipe_course.hpp"
#include "unit/factors.hpp"

namespace bw::service {
namespace {

using recipe::SaturationLimit;
using recipe::Solution;
using recipe::Supply;
using recipe::Target;
using recipe::Verdict;

constexpr int kDigits = 3;

/// One answer of the search, with its safe time where one is asked.
struct Attempt {
    std::unique_ptr<LimitLoop> loop;
    Solution solution;  ///< by weighings of any fineness
    double ln_omega = 0;
    std::optional<path::SafeTime> time;

    [[nodiscard]] bool solved() const { return solution.verdict == Verdict::Solved; }
};

/// The search for one target; keeps the models of the brine between tries.
class Search {
public:
    Search(const Target& target, const std::vector<Supply>& supplies,
           const recipe::SolveOptions& options)
        : target_(target), supplies_(supplies), options_(options) {}

    /// The recipe that holds every limit, or the try that came nearest.
    Result<Attempt> go() {
        BW_TRY(free, attempt(std::nullopt));
        if (!asked() || !free.solved() || is_long(free)) {
            return std::move(free);
        }
        double per_omega = 6;  // -d ln(time) / d ln(Omega), about; then as found
        constexpr double kLeastSlope = 1;
        constexpr double kBeyond = 1.15;
        constexpr double kLeastStep = 0.01;
        constexpr double kMostStep = 0.7;
        Attempt high = std::move(free);
        std::optional<Attempt> low;
        for (int i = 0; i < kTries && !low; ++i) {
            const double step = std::clamp(kBeyond * lack(high) / per_omega, kLeastStep, kMostStep);
            BW_TRY(tried, attempt(high.ln_omega - step));
            if (!tried.solved()) {
                BW_TRY(least, at_least_omega(high, std::move(tried)));
                if (!least.solved()) {
                    return std::move(least);
                }
                tried = std::move(least);
            }
            if (is_long(tried)) {
                low = std::move(tried);
                break;
            }
            per_omega = std::max(kLeastSlope,
                                 (lack(high) - lack(tried)) / (high.ln_omega - tried.ln_omega));
            high = std::move(tried);
        }
        if (!low) {
            return high;
        }
        return between(std::move(*low), std::move(high));
    }

    /// Makes weighings of an attempt; where rounding shortens the safe time, the limit on Omega is
    /// drawn in.
    Result<Solution> weighed(Attempt& attempt_made) {
        constexpr double kDrawIn = 0.003;
        constexpr int kRounds = 4;
        Solution out;
        for (int i = 0; i < kRounds; ++i) {
            BW_TRY(found, attempt_made.loop->in_whole_numbers());
            out = std::move(found);
            if (!asked() || out.verdict != Verdict::Solved) {
                return out;
            }
            BW_TRY(time, recipe_safe_time(supplies_, out.dose_kg_per_kg, *asked()));
            if (time.hours >= asked()->hours * (1 - kLimitTolerance)) {
                return out;
            }
            BW_TRY(drawn, attempt(attempt_made.ln_omega - kDrawIn * (i + 1)));
            if (!drawn.solved()) {
                break;
            }
            attempt_made = std::move(drawn);
        }
        out.verdict = Verdict::NotProven;
        out.dose_kg_per_kg.clear();
        out.notices.push_back({"limits_not_met",
                               "There is a recipe, but none was found whose weighings keep the "
                               "safe time: take a finer scale, or ask for a shorter time."});
        return out;
    }

    [[nodiscard]] WaterSaturation& water() { return water_; }
    [[nodiscard]] SaturationLimit aragonite(double ln_omega) const {
        return {std::string(kSafeTimeKey), "aragonite", std::exp(ln_omega), asked()->air_pco2_atm,
                asked()->temperature_degC};
    }

private:
    static constexpr int kTries = 12;

    [[nodiscard]] const std::optional<recipe::SafeTimeLimit>& asked() const {
        return target_.limits.safe_time;
    }
    /// ln of how many times longer it should be.
    [[nodiscard]] double lack(const Attempt& a) const {
        return std::log(asked()->hours / a.time->hours);
    }
    [[nodiscard]] bool is_long(const Attempt& a) const { return lack(a) <= 0; }

    Result<Attempt> attempt(std::optional<double> ln_omega) {
        std::vector<SaturationLimit> limits = target_.limits.saturation;
        if (ln_omega) {
            limits.push_back(aragonite(*ln_omega));
        }
        Attempt out;
        out.loop =
            std::make_unique<LimitLoop>(target_, supplies_, options_, water_, std::move(limits));
        BW_TRY(solution, out.loop->run());
        out.solution = std::move(solution);
        if (asked() && out.solved()) {
            BW_CHECK(time_it(out.solution, out));
        }
        return out;
    }

    Result<void> time_it(const Solution& solution, Attempt& out) {
        BW_TRY(time, recipe_safe_time(supplies_, solution.dose_kg_per_kg, *asked()));
        out.time = time;
        BW_TRY(omega, water_.slope(aragonite(0), solution.water.mol_per_kg));
        out.ln_omega = omega.ln_omega;
        return {};
    }

    /// From a try below the least Omega within reach to one just above it; when even that is too
    /// short a time, the try stays unsolved, with the time that is within reach.
    Result<Attempt> at_least_omega(const Attempt& above, Attempt tried) {
        if (!tried.loop->least_over()) {
            return tried;
        }
        BW_CHECK(time_it(*tried.loop->least_over(), tried));
        if (!is_long(tried)) {
            // The conflict is explained at the Omega that the time would take.
            const double per_omega =
                (lack(above) - lack(tried)) / (above.ln_omega - tried.ln_omega);
            BW_TRY(needed, attempt(tried.ln_omega - lack(tried) / per_omega));
            needed.time = tried.time;
            return std::move(needed);
        }
        constexpr double kAbove = 1e-4;
        return attempt(tried.ln_omega + kAbove);
    }

    /// Draws a bracket in by the secant of the logarithms, an end that stays counting half each
    /// time (the Illinois rule); by its middle while the longer time is only known to be over a
    /// year.
    Result<Attempt> between(Attempt low, Attempt high) {
        constexpr double kNear = 1e-3;  // of the time asked
        const auto off = [&](const Attempt& a) { return lack(a) + kNear / 2; };
        double off_low = off(low);
        double off_high = off(high);
        bool last_was_low = false;
        bool first = true;
        for (int i = 0; i < 2 * kTries && -lack(low) > kNear; ++i) {
            const double share =
                low.time->over_a_year || !(off_high > 0) ? 0.5 : off_high / (off_high - off_low);
            BW_TRY(tried, attempt(high.ln_omega + share * (low.ln_omega - high.ln_omega)));
            if (!tried.solved()) {
                break;
            }
            const bool is_low = is_long(tried);
            double& stays = is_low ? off_high : off_low;
            stays *= !first && is_low == last_was_low ? 0.5 : 1;
            (is_low ? off_low : off_high) = off(tried);
            (is_low ? low : high) = std::move(tried);
            last_was_low = is_low;
            first = false;
        }
        return low;
    }

    const Target& target_;
    const std::vector<Supply>& supplies_;
    const recipe::SolveOptions& options_;
    WaterSaturation water_;
};

/// "Ca 4.1 mg/L higher, alkalinity 0.30 dKH higher"; empty when nothing that was named moves.
std::string moved_words(const Target& target, const matter::Amounts& from,
                        const matter::Amounts& to) {
    std::vector<std::string> words;
    constexpr double kWorthSaying = 2e-3;  // of the amount
    for (const recipe::ConstituentGoal& goal : target.constituents) {
        const double change = to[goal.constituent] - from[goal.constituent];
        if (goal.origin != recipe::Origin::Named || !goal.target ||
            !(std::abs(change) > kWorthSaying * std::abs(from[goal.constituent]))) {
            continue;
        }
        words.push_back(
            fmt::format("{} {} {} {}", goal.constituent.symbol(),
                        base::format_significant(std::abs(change) * goal.shown_per_mol_per_kg, 2),
                        recipe::unit_text(goal.shown), change > 0 ? "higher" : "lower"));
    }
    return base::join_words(words);
}

std::string money_words(const std::vector<Supply>& supplies, const Solution& from,
                        const Solution& to) {
    constexpr double kWorthSaying = 1e-3;
    if (!recipe::all_priced(supplies, from) || !recipe::all_priced(supplies, to)) {
        return {};
    }
    const double before = recipe::cost_per_t_blend(supplies, from);
    const double change = recipe::cost_per_t_blend(supplies, to) - before;
    std::string currency;
    for (const Supply& s : supplies) {
        currency = currency.empty() ? s.material.currency : currency;
    }
    return std::abs(change) > kWorthSaying * before
               ? fmt::format("a t of blend {} {} {}", base::format_significant(std::abs(change), 2),
                             currency, change > 0 ? "dearer" : "cheaper")
               : std::string();
}

std::string could_be(const Target& target, const std::vector<Supply>& supplies,
                     const std::string& when, const Solution& from, const Solution& to) {
    std::vector<std::string> parts;
    for (std::string words : {moved_words(target, from.water.mol_per_kg, to.water.mol_per_kg),
                              money_words(supplies, from, to)}) {
        if (!words.empty()) {
            parts.push_back(std::move(words));
        }
    }
    return parts.empty() ? std::string()
                         : fmt::format("{} it would be: {}.", when, base::join_words(parts));
}

/// What the limits cost: without them, and some degrees cooler.
Result<void> add_costs(const Target& target, const std::vector<Supply>& supplies,
                       const recipe::SolveOptions& options, const Attempt& made, WaterLimits& out) {
    const auto say = [&](std::string sentence) {
        if (!sentence.empty()) {
            out.costs.push_back(std::move(sentence));
        }
    };
    say(could_be(target, supplies, "Without these limits", made.solution, made.loop->unlimited()));
    if (target.limits.saturation.empty() && !target.limits.safe_time) {
        return {};
    }
    constexpr double kCooler = 2;
    constexpr double kColdest = 5;
    Target cooler = target;
    double now = 0;
    for (SaturationLimit& limit : cooler.limits.saturation) {
        now = limit.temperature_degC;
        limit.temperature_degC -= kCooler;
    }
    if (cooler.limits.safe_time) {
        now = cooler.limits.safe_time->temperature_degC;
        cooler.limits.safe_time->temperature_degC -= kCooler;
    }
    if (now - kCooler < kColdest) {
        return {};
    }
    BW_TRY(other, Search(cooler, supplies, options).go());
    if (other.solved()) {
        say(could_be(target, supplies,
                     fmt::format("With the limits at {} °C instead of {} °C",
                                 base::format_exact(now - kCooler), base::format_exact(now)),
                     made.solution, other.solution));
    }
    return {};
}

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
        out.safe_time = SafeTimeHeld{limit, time, time.hours >= limit.hours * (1 - kLimitTolerance),
                                     time_leans, state.omega};
    }
    return {};
}

bool all_held(const WaterLimits& limits) {
    return std::all_of(limits.saturation.begin(), limits.saturation.end(),
                       [](const SaturationHeld& s) { return s.held; }) &&
           (!limits.safe_time || limits.safe_time->held);
}

/// The highest chance that a search by halves finds a recipe for.
Result<std::optional<double>> highest_chance(const Target& target,
                                             const std::vector<Supply>& supplies,
                                             const recipe::SolveOptions& options,
                                             WaterSaturation& water) {
    constexpr int kHalvings = 10;
    double can = recipe::kLeastChance;
    double cannot = *target.limits.chance_inside;
    const auto solves = [&](double chance) -> Result<bool> {
        Target tried = target;
        tried.limits.chance_inside = chance;
        LimitLoop loop(tried, supplies, options, water, target.limits.saturation);
        BW_TRY(solution, loop.run());
        return solution.verdict == Verdict::Solved;
    };
    BW_TRY(at_all, solves(can));
    for (int i = 0; at_all && i < kHalvings; ++i) {
        const double middle = (can + cannot) / 2;
        BW_TRY(solved, solves(middle));
        (solved ? can : cannot) = middle;
    }
    return at_all ? std::optional(can) : std::nullopt;
}

/// How near the materials come to limits that they cannot hold.
Result<void> say_out_of_reach(const Target& target, const std::vector<Supply>& supplies,
                              const recipe::SolveOptions& options, const Attempt& made,
                              WaterSaturation& water, WaterLimits& out) {
    if (made.time && target.limits.safe_time) {
        out.out_of_reach.push_back(fmt::format(
            "The longest safe time found within the bands is {}, below the {} asked for ({}).",
            path::hours_in_words(made.time->hours),
            path::hours_in_words(target.limits.safe_time->hours),
            where_words(target.limits.safe_time->temperature_degC,
                        target.limits.safe_time->air_pco2_atm)));
    }
    if (target.limits.chance_inside && !made.time &&
        !made.loop->unlimited().dose_kg_per_kg.empty()) {
        BW_TRY(highest, highest_chance(target, supplies, options, water));
        if (highest) {
            out.out_of_reach.push_back(fmt::format(
                "The highest chance that these materials allow for every band is about {} %, below "
                "the {} % asked for.",
                base::format_significant(*highest * unit::kPercent, kDigits),
                base::format_short(*target.limits.chance_inside * unit::kPercent, kDigits + 1)));
        }
    }
    if (!made.loop->least_over()) {
        return {};
    }
    std::vector<std::string> over;
    for (const SaturationLimit& limit : target.limits.saturation) {
        BW_TRY(state, water.value(limit, made.loop->least_over()->water.mol_per_kg));
        if (state.omega > limit.highest_omega) {
            over.push_back(
                fmt::format("Omega of {} found within the bands is {}, above its "
                            "limit of {} ({})",
                            limit.solid, base::format_significant(state.omega, kDigits + 1),
                            base::format_short(limit.highest_omega, kDigits + 1),
                            where_words(limit.temperature_degC, limit.air_pco2_atm)));
        }
    }
    if (over.size() == 1) {
        out.out_of_reach.push_back("The lowest " + over[0] + ".");
    } else if (!over.empty()) {
        out.out_of_reach.push_back(
            "Where the limits are broken least, all together: " + base::join_words(over) + ".");
    }
    return {};
}

}  // namespace

bool has_curved_limits(const Target& target) {
    return !target.limits.saturation.empty() || target.limits.safe_time ||
           target.limits.chance_inside;
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
    Search search(target, supplies, options);
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
        BW_CHECK(add_costs(target, supplies, options, made, out.limits));
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
