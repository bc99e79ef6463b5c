// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "recipe/explain.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "unit/factors.hpp"

namespace bw::recipe {
namespace {

std::string shown(double value, double factor, const unit::TypedQuantity& unit) {
    return amount_text(value, factor, unit_text(unit));
}

std::string signed_percent(double share) {
    return (share < 0 ? "" : "+") + base::format_significant(share * unit::kPercent, 2) + " %";
}

/// Sentences such as "1 % more assay of A moves Ca by 0.54 %", for the strongest driver of each
/// named goal.
void assay_sentences(const Target& target, const std::vector<Supply>& supplies,
                     const Solution& solution, std::vector<std::string>& out) {
    constexpr double kWorthSaying = 0.2;  // of the constituent; below, several materials share it
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        if (solution.dose_kg_per_kg[j] <= 0) {
            continue;
        }
        std::string moved;
        for (const ConstituentGoal& goal : target.constituents) {
            const double total = solution.water.mol_per_kg[goal.constituent];
            if (goal.origin == Origin::Unnamed || total <= 0) {
                continue;
            }
            const double share = supplies[j].make_up.main_mol_per_kg[goal.constituent] *
                                 solution.dose_kg_per_kg[j] / total;
            if (share >= kWorthSaying) {
                moved +=
                    fmt::format("{}{} by {}", moved.empty() ? "" : ", ", goal.constituent.symbol(),
                                signed_percent(share / unit::kPercent));
            }
        }
        if (!moved.empty()) {
            out.push_back(
                fmt::format("1 % more assay of {} moves {}.", supplies[j].label(), moved));
        }
    }
}

/// What a target that asks for 1 % more would cost, found by solving for it.
void price_sentences(const Target& target, const std::vector<Supply>& supplies,
                     std::vector<std::string>& out) {
    if (!target.cuts.empty()) {
        return;  // cuts stand for limits near one recipe only, not for what another target makes
    }
    Target continuous = target;
    continuous.limits = {};
    continuous.batch.reset();
    const auto base = solve(continuous, supplies);
    if (!base || base->verdict != Verdict::Solved || !all_priced(supplies, *base)) {
        return;
    }
    const auto per_t = [&](const Solution& s) { return cost_per_t_blend(supplies, s); };
    std::string currency;
    for (const Supply& s : supplies) {
        currency = currency.empty() ? s.material.currency : currency;
    }
    constexpr double kMore = 1.01;
    constexpr double kWorthSaying = 1e-4;  // of the cost
    for (std::size_t i = 0; i < target.constituents.size(); ++i) {
        Target more = continuous;
        ConstituentGoal& goal = more.constituents[i];
        if (goal.origin == Origin::Unnamed || !goal.target || goal.aim == Aim::Band) {
            continue;
        }
        for (std::optional<double>* limit : {&goal.target, &goal.low, &goal.high}) {
            *limit = *limit ? std::optional(**limit * kMore) : std::nullopt;
        }
        const auto found = solve(more, supplies);
        if (!found || found->verdict != Verdict::Solved) {
            continue;
        }
        const double change = per_t(*found) - per_t(*base);
        if (std::abs(change) > kWorthSaying * per_t(*base)) {
            out.push_back(fmt::format("1 % more {} in the target {} {} {} per t of blend.",
                                      goal.constituent.symbol(), change > 0 ? "costs" : "saves",
                                      base::format_significant(std::abs(change), 2), currency));
        }
    }
}

/// Largest relative miss of each priority.
std::map<int, double> largest_misses(const Target& target, const MadeUpWater& water) {
    std::map<int, double> out;
    for (const ConstituentGoal& goal : target.constituents) {
        if (!goal.target || goal.aim == Aim::Band || goal.origin == Origin::Unnamed ||
            *goal.target == 0) {
            continue;
        }
        const double miss = std::abs(water.mol_per_kg[goal.constituent] / *goal.target - 1);
        out[goal.priority] = std::max(out[goal.priority], miss);
    }
    return out;
}

/// The recipe from a part of the supplies, if it is as good.
std::optional<Alternative> as_good(const SolveWithin& solve_with,
                                   const std::vector<Supply>& supplies,
                                   const std::vector<bool>& allowed, const Target& target,
                                   const std::map<int, double>& misses, double smallest) {
    std::vector<Supply> some;
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        if (allowed[j]) {
            some.push_back(supplies[j]);
        }
    }
    const auto found = solve_with(some);
    if (!found) {
        return std::nullopt;
    }
    for (const auto& [priority, miss] : largest_misses(target, found->water)) {
        if (miss > misses.at(priority) + kAlternativeMiss) {
            return std::nullopt;
        }
    }
    Alternative out;
    std::size_t next = 0;
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        out.dose_kg_per_kg.push_back(allowed[j] ? found->dose_kg_per_kg[next++] : 0);
        if (out.dose_kg_per_kg.back() > 0 && out.dose_kg_per_kg.back() < smallest) {
            return std::nullopt;
        }
    }
    out.cost_change = cost_per_kg_finished_water(some, *found);  // made relative by the caller
    return out;
}

}  // namespace

double cost_per_kg_finished_water(const std::vector<Supply>& supplies, const Solution& solution) {
    const std::vector<double> prices = prices_per_kg(supplies);
    double sum = 0;
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        sum += prices[j] * solution.dose_kg_per_kg[j];
    }
    return sum;
}

double cost_per_t_blend(const std::vector<Supply>& supplies, const Solution& solution) {
    return cost_per_kg_finished_water(supplies, solution) / solution.blend_kg_per_kg() *
           unit::kKgPerTonne;
}

bool all_priced(const std::vector<Supply>& supplies, const Solution& solution) {
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        if (solution.dose_kg_per_kg[j] > 0 && !supplies[j].material.price_per_kg) {
            return false;
        }
    }
    return true;
}

std::vector<Budget> budgets(const Target& target, const std::vector<Supply>& supplies,
                            const Solution& solution) {
    std::vector<Budget> out;
    for (const ConstituentGoal& goal : target.constituents) {
        const matter::Constituent c = goal.constituent;
        const double total = solution.water.mol_per_kg[c];
        if (!(total > 0)) {
            continue;
        }
        Budget budget{c, {}};
        for (std::size_t j = 0; j < supplies.size(); ++j) {
            const double brought = supplies[j].make_up.mol_per_kg[c] * solution.dose_kg_per_kg[j];
            if (brought != 0) {
                budget.shares.push_back({static_cast<int>(j), brought / total});
            }
        }
        const double water = target.purified_water[c] * solution.water.purified_water_kg;
        if (water != 0) {
            budget.shares.push_back({-1, water / total});
        }
        std::stable_sort(
            budget.shares.begin(), budget.shares.end(),
            [](const BudgetShare& a, const BudgetShare& b) { return a.share > b.share; });
        out.push_back(std::move(budget));
    }
    return out;
}

std::vector<Binding> bindings(const Target& target, const Solution& solution) {
    std::vector<Binding> out;
    constexpr double kAtLimit = 1e-6;  // relative
    const auto at = [](double value, double limit) {
        return std::abs(value - limit) <= kAtLimit * std::abs(limit);
    };
    const auto& water = solution.water;
    for (const ConstituentGoal& goal : target.constituents) {
        const double value = water.mol_per_kg[goal.constituent];
        if (goal.low && at(value, *goal.low) && *goal.low > 0) {
            out.push_back({fmt::format("{} at its low, {}", goal.constituent.symbol(),
                                       shown(*goal.low, goal.shown_per_mol_per_kg, goal.shown))});
        }
        if (goal.high && at(value, *goal.high)) {
            out.push_back({fmt::format("{} at its high, {}", goal.constituent.symbol(),
                                       shown(*goal.high, goal.shown_per_mol_per_kg, goal.shown))});
        }
    }
    for (const RatioGoal& ratio : target.ratios) {
        const double value = ratio.in(water.mol_per_kg);
        for (const auto& limit : {ratio.low, ratio.high}) {
            if (limit && at(value, *limit)) {
                out.push_back({fmt::format("{} at its limit, {}", ratio.name(),
                                           base::format_significant(*limit, 4))});
            }
        }
    }
    for (const Ceiling& ceiling : target.ceilings) {
        if (at(water.worst_mol_per_kg[ceiling.constituent], ceiling.high)) {
            out.push_back(
                {fmt::format("{} at its ceiling, {}", ceiling.constituent.symbol(),
                             shown(ceiling.high, ceiling.shown_per_mol_per_kg, ceiling.shown))});
        }
    }
    if (at(water.dissolved_g_per_kg, target.salinity.low_g_per_kg)) {
        out.push_back({"salinity at its low"});
    }
    if (at(water.dissolved_g_per_kg, target.salinity.high_g_per_kg)) {
        out.push_back({"salinity at its high"});
    }
    return out;
}

std::vector<std::string> sensitivities(const Target& target, const std::vector<Supply>& supplies,
                                       const Solution& solution, const Robustness& robustness) {
    std::vector<std::string> out;
    assay_sentences(target, supplies, solution, out);
    for (std::size_t i = 0; i < target.constituents.size(); ++i) {
        const GoalSpread& spread = robustness.constituents[i];
        constexpr double kMostOfIt = 0.5;
        constexpr double kSurelyInside = 0.99;
        if (target.constituents[i].origin == Origin::Unnamed || spread.drivers.empty()) {
            continue;
        }
        if (spread.drivers[0].variance_share > kMostOfIt &&
            spread.inside_first_order < kSurelyInside) {
            out.push_back(fmt::format(
                "The doubt about {} is mostly {} ({} % of its variance).",
                target.constituents[i].constituent.symbol(), spread.drivers[0].input,
                base::format_significant(spread.drivers[0].variance_share * unit::kPercent, 2)));
        }
    }
    price_sentences(target, supplies, out);
    return out;
}

std::vector<Alternative> alternatives(const Target& target, const std::vector<Supply>& supplies,
                                      const Solution& solution, const SolveWithin& within) {
    std::vector<Alternative> out;
    Target continuous = target;
    continuous.limits = {};
    continuous.batch.reset();
    const double smallest = target.limits.smallest_dose_kg_per_kg.value_or(0);
    const std::map<int, double> misses = largest_misses(target, solution.water);
    std::vector<bool> used;
    for (const double dose : solution.dose_kg_per_kg) {
        used.push_back(dose > 0);
    }
    // The same materials without packages and weighing steps: what the others are to be compared
    // with.
    const SolveWithin plain = [&](const std::vector<Supply>& some) -> std::optional<Solution> {
        auto found = solve(continuous, some);
        return found && found->verdict == Verdict::Solved ? std::optional(std::move(*found))
                                                          : std::nullopt;
    };
    const auto own = as_good(within ? within : plain, supplies, used, target, misses, smallest);
    const double cost = own ? own->cost_change : cost_per_kg_finished_water(supplies, solution);
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        if (!used[j]) {
            continue;
        }
        std::optional<Alternative> best;
        std::vector<bool> shelf;
        for (std::size_t k = 0; k < supplies.size(); ++k) {
            if (used[k] && k != j) {
                continue;
            }
            std::vector<bool> allowed = used;  // k == j: nothing instead
            allowed[j] = false;
            allowed[k] = k != j;
            auto found = as_good(plain, supplies, allowed, target, misses, smallest);
            if (found && (!best || found->cost_change < best->cost_change)) {
                best = std::move(found);
                shelf = allowed;
            }
        }
        if (best && within) {
            best = as_good(within, supplies, shelf, target, misses, smallest);
        }
        if (!best || best->cost_change > cost * (1 + kAlternativeCost)) {
            continue;
        }
        best->cost_change = best->cost_change / cost - 1;
        best->without = supplies[j].label();
        for (std::size_t k = 0; k < supplies.size(); ++k) {
            constexpr double kGrown = 1.1;
            if (best->dose_kg_per_kg[k] > kGrown * solution.dose_kg_per_kg[k]) {
                best->takes_up.push_back(supplies[k].label());
            }
        }
        out.push_back(std::move(*best));
    }
    std::stable_sort(out.begin(), out.end(), [](const Alternative& a, const Alternative& b) {
        return a.cost_change < b.cost_change;
    });
    return out;
}

}  // namespace bw::recipe
