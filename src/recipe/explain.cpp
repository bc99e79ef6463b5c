// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "recipe/explain.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "opt/lp_solver.hpp"
#include "recipe/stages.hpp"

namespace bw::recipe {
namespace {

using opt::kInfinity;

constexpr double kPercent = 100;

std::string shown(double value, double factor, const unit::TypedQuantity& unit) {
    constexpr int kDigits = 5;
    return base::format_significant(value * factor, kDigits) + " " + unit_text(unit);
}

std::string signed_percent(double share) {
    return (share < 0 ? "" : "+") + base::format_significant(share * kPercent, 2) + " %";
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
                moved += fmt::format("{}{} by {}", moved.empty() ? "" : ", ",
                                     goal.constituent.symbol(), signed_percent(share / kPercent));
            }
        }
        if (!moved.empty()) {
            out.push_back(
                fmt::format("1 % more assay of {} moves {}.", supplies[j].label(), moved));
        }
    }
}

/// Whether every goal of a priority hits its target.
bool met_exactly(const Target& target, const Solution& solution, int priority) {
    constexpr double kMet = 1e-6;
    return std::all_of(target.constituents.begin(), target.constituents.end(),
                       [&](const ConstituentGoal& g) {
                           return g.priority != priority || !g.target || g.aim == Aim::Band ||
                                  std::abs(solution.water.mol_per_kg[g.constituent] - *g.target) <=
                                      kMet * *g.target;
                       });
}

void price_sentences(const Target& target, const std::vector<Supply>& supplies,
                     const Solution& solution, std::vector<std::string>& out) {
    if (solution.goal_price.size() != target.constituents.size() ||
        !all_priced(supplies, solution)) {
        return;
    }
    const double cost = cost_per_kg_finished_water(supplies, solution);
    const double blend =
        std::accumulate(solution.dose_kg_per_kg.begin(), solution.dose_kg_per_kg.end(), 0.0);
    std::string currency;
    for (const Supply& s : supplies) {
        currency = currency.empty() ? s.material.currency : currency;
    }
    constexpr double kWorthSaying = 1e-4;  // of the cost, for 1 % of the constituent
    constexpr double kKgPerTonne = 1000;
    for (std::size_t i = 0; i < target.constituents.size(); ++i) {
        const double for_one_percent = solution.goal_price[i] / kPercent;
        // Where goals of a priority pull against each other, the price of one is that of the
        // quarrel: not told.
        if (met_exactly(target, solution, target.constituents[i].priority) &&
            target.constituents[i].origin != Origin::Unnamed &&
            std::abs(for_one_percent) > kWorthSaying * cost) {
            out.push_back(fmt::format(
                "1 % more {} in the target {} {} {} per t of blend.",
                target.constituents[i].constituent.symbol(),
                for_one_percent > 0 ? "costs" : "saves",
                base::format_significant(std::abs(for_one_percent) / blend * kKgPerTonne, 2),
                currency));
        }
    }
}

/// The program after all goals have been served, with the money limited to a little more than the
/// best.
struct Frozen {
    Model model;
    std::vector<Objective> objectives;
    double best_cost = 0;
};

std::optional<Frozen> freeze(const Target& target, const std::vector<Supply>& supplies,
                             const Solution& solution) {
    Frozen out{build_model(target, supplies), {}, 0};
    out.objectives = objectives_of(out.model, {});
    if (solution.stages.size() != out.objectives.size()) {
        return std::nullopt;
    }
    for (std::size_t k = 0; k < out.objectives.size(); ++k) {
        const Objective& objective = out.objectives[k];
        const double best = solution.stages[k].objective;
        if (objective.what == "cost") {
            out.best_cost = best;
            out.model.lp.row_high[static_cast<std::size_t>(objective.row)] =
                best * (1 + kAlternativeCost);
        } else if (objective.row >= 0) {
            out.model.lp.row_high[static_cast<std::size_t>(objective.row)] =
                best + kAlternativeMiss;
        }
    }
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
        const double value = ratio.per_mole_ratio() * water.mol_per_kg[ratio.numerator] /
                             water.mol_per_kg[ratio.denominator];
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
                base::format_significant(spread.drivers[0].variance_share * kPercent, 2)));
        }
    }
    price_sentences(target, supplies, solution, out);
    return out;
}

Result<Family> explore_family(const Target& target, const std::vector<Supply>& supplies,
                              const Solution& solution) {
    Family out;
    auto frozen = freeze(target, supplies, solution);
    if (!frozen) {
        return out;
    }
    const Model& m = frozen->model;
    opt::LpSolver solver(m.lp);
    std::vector<double> cost(static_cast<std::size_t>(m.lp.columns()), 0.0);
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        DoseRange range{static_cast<int>(j), solution.dose_kg_per_kg[j],
                        solution.dose_kg_per_kg[j]};
        const auto column = static_cast<std::size_t>(m.dose[j]);
        for (const double direction : {1.0, -1.0}) {
            cost[column] = direction;
            solver.set_cost(cost);
            const opt::LpSolution found = solver.solve();
            if (found.status == opt::SolveStatus::Optimal) {
                (direction > 0 ? range.least_kg_per_kg : range.most_kg_per_kg) =
                    found.x[column] * m.dose_scale[j];
            }
        }
        cost[column] = 0;
        out.ranges.push_back(range);
    }
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        constexpr double kLeftOut = 1e-9;
        if (solution.dose_kg_per_kg[j] <= 0 ||
            out.ranges[j].least_kg_per_kg > kLeftOut * m.dose_scale[j]) {
            continue;
        }
        std::vector<double> money = m.cost;
        money.resize(static_cast<std::size_t>(m.lp.columns()), 0.0);
        solver.set_cost(money);
        const double most = m.lp.column_high[static_cast<std::size_t>(m.dose[j])];
        solver.set_column_bounds(m.dose[j], 0, 0);
        const opt::LpSolution found = solver.solve();
        solver.set_column_bounds(m.dose[j], 0, most);
        if (found.status != opt::SolveStatus::Optimal) {
            continue;
        }
        Alternative alternative{
            supplies[j].label(), {}, m.doses(found.x), found.objective / frozen->best_cost - 1};
        for (std::size_t k = 0; k < supplies.size(); ++k) {
            constexpr double kGrown = 1.1;
            constexpr double kTrace = 1e-9;  // kg per kg: below, nothing one could weigh
            if (alternative.dose_kg_per_kg[k] > kGrown * solution.dose_kg_per_kg[k] + kTrace) {
                alternative.takes_up.push_back(supplies[k].label());
            }
        }
        out.alternatives.push_back(std::move(alternative));
    }
    std::stable_sort(
        out.alternatives.begin(), out.alternatives.end(),
        [](const Alternative& a, const Alternative& b) { return a.cost_change < b.cost_change; });
    return out;
}

}  // namespace bw::recipe
