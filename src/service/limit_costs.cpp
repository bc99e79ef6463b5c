// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/limit_costs.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "recipe/explain.hpp"
#include "unit/factors.hpp"

namespace bw::service {

using recipe::Limits;
using recipe::SaturationLimit;
using recipe::Solution;
using recipe::Supply;
using recipe::Target;
using recipe::Verdict;

namespace {

constexpr int kDigits = 3;

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

/// A target without one of its limits, and the words for that.
struct Without {
    std::string key, words;
    Target target;
};

std::vector<Without> one_limit_less(const Target& target) {
    std::vector<Without> out;
    for (std::size_t i = 0; i < target.limits.saturation.size(); ++i) {
        const std::string& key = target.limits.saturation[i].key;
        out.push_back({key, fmt::format("Without {}", key), target});
        auto& limits = out.back().target.limits.saturation;
        limits.erase(limits.begin() + static_cast<std::ptrdiff_t>(i));
    }
    if (target.limits.safe_time) {
        out.push_back({"safe_time", "Without safe_time", target});
        out.back().target.limits.safe_time.reset();
    }
    if (target.limits.chance_inside) {
        out.push_back({"chance_inside", "Without chance_inside", target});
        out.back().target.limits.chance_inside.reset();
    }
    if (out.size() > 1) {
        out.push_back({"", "Without any of them", target});
        Limits& limits = out.back().target.limits;
        limits.saturation.clear();
        limits.safe_time.reset();
        limits.chance_inside.reset();
    }
    return out;
}

/// The target with its limits some degrees cooler; nothing where that is too cold.
std::optional<Without> cooler(const Target& target) {
    constexpr double kCooler = 2;
    constexpr double kColdest = 5;
    Without out{"", "", target};
    double now = 0;
    for (SaturationLimit& limit : out.target.limits.saturation) {
        now = limit.temperature_degC;
        limit.temperature_degC -= kCooler;
    }
    if (auto& time = out.target.limits.safe_time) {
        now = time->temperature_degC;
        time->temperature_degC -= kCooler;
    }
    out.words = fmt::format("With the limits at {} °C instead of {} °C",
                            base::format_exact(now - kCooler), base::format_exact(now));
    return now - kCooler < kColdest ? std::nullopt : std::optional(std::move(out));
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

}  // namespace

Result<void> add_costs(const Target& target, const std::vector<Supply>& supplies,
                       const recipe::SolveOptions& options, const Solution& made,
                       WaterLimits& out) {
    const auto solved = [&](const Target& other) -> Result<std::optional<Solution>> {
        BW_TRY(found, solve_within_limits(other, supplies, options, false));
        return found.solution.verdict == Verdict::Solved ? std::optional(std::move(found.solution))
                                                         : std::nullopt;
    };
    std::vector<std::string> nothing;
    for (const Without& without : one_limit_less(target)) {
        BW_TRY(other, solved(without.target));
        if (!other) {
            continue;
        }
        std::string sentence = could_be(target, supplies, without.words, made, *other);
        if (sentence.empty() && !without.key.empty()) {
            nothing.push_back(without.key);
        } else if (!sentence.empty()) {
            out.costs.push_back(std::move(sentence));
        }
        out.without.push_back({without.key.empty() ? "all" : without.key,
                               recipe::cost_per_t_blend(supplies, *other), other->water});
    }
    if (!nothing.empty()) {
        out.costs.push_back(fmt::format("Without {} alone nothing that is named would change.",
                                        base::join_words(nothing, "or")));
    }
    if (const auto colder = cooler(target)) {
        BW_TRY(other, solved(colder->target));
        std::string sentence =
            other ? could_be(target, supplies, colder->words, made, *other) : std::string();
        if (!sentence.empty()) {
            out.costs.push_back(std::move(sentence));
        }
    }
    return {};
}

/// How near the materials come to limits that they cannot hold.
Result<void> say_out_of_reach(const Target& target, const std::vector<Supply>& supplies,
                              const recipe::SolveOptions& options, const LimitAttempt& made,
                              WaterSaturation& water, WaterLimits& out) {
    if (made.time && target.limits.safe_time) {
        out.out_of_reach.push_back(fmt::format(
            "The longest time found within the bands that the vat may be counted on is {} ({} by "
            "the "
            "laws, trusted within a factor of {:g}), below the {} asked for ({}).",
            time_words(made.time->use_within_h, kDigits), time_words(made.time->hours, kDigits),
            made.time->factor, time_words(target.limits.safe_time->hours),
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

}  // namespace bw::service
