// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "recipe/conflict.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>
#include <optional>
#include <tuple>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "opt/lp_solver.hpp"
#include "ref/tables.hpp"
#include "unit/factors.hpp"

namespace bw::recipe {
namespace {

using opt::kInfinity;

using Set = std::vector<std::size_t>;  // indices of demands, ascending

opt::LinearProgram without_cost(const Model& m) {
    opt::LinearProgram lp = m.lp;
    std::fill(lp.cost.begin(), lp.cost.end(), 0.0);
    return lp;
}

/// Asks which demands can hold together.
class Oracle {
public:
    explicit Oracle(Model model) : model_(std::move(model)), solver_(without_cost(model_)) {}

    [[nodiscard]] bool can_hold(const Set& held) {
        return breaches_when_held(held, {}).has_value();
    }

    /// Starts from demands that can hold and adds all that still can; gives those left out.
    Set left_out_of_a_largest_set(const Set& held) {
        const Set others = all_but(held);
        const auto point = breaches_when_held(held, others);
        base::expect(point.has_value(), "a set of demands that held no longer holds");
        Set kept = held;
        Set doubtful;
        for (const std::size_t d : others) {
            (breach_of(d, *point) <= kNone ? kept : doubtful).push_back(d);
        }
        Set out;
        for (const std::size_t d : doubtful) {
            Set tried = kept;
            tried.push_back(d);
            std::sort(tried.begin(), tried.end());
            if (can_hold(tried)) {
                kept = tried;
            } else {
                out.push_back(d);
            }
        }
        std::sort(out.begin(), out.end());
        return out;
    }

    /// Least breach of one demand when all others hold, above 0 over its high, below 0 under its
    /// low; nothing when they cannot.
    std::optional<double> least_breach(std::size_t demand) {
        const Set held = all_but({demand});
        const auto point = breaches_when_held(held, {demand});
        if (!point) {
            return std::nullopt;
        }
        const std::vector<int>& columns = model_.demands[demand].breach_columns;
        const double over = (*point)[static_cast<std::size_t>(columns.front())];
        const double under =
            columns.size() > 1 ? (*point)[static_cast<std::size_t>(columns[1])] : 0;
        return over >= under ? over : -under;
    }

    [[nodiscard]] const std::vector<Model::Demand>& demands() const { return model_.demands; }

private:
    static constexpr double kNone = 1e-8;  // of a demand's own size: round-off, not a breach

    [[nodiscard]] Set all_but(const Set& some) const {
        Set out;
        for (std::size_t d = 0; d < model_.demands.size(); ++d) {
            if (!std::binary_search(some.begin(), some.end(), d)) {
                out.push_back(d);
            }
        }
        return out;
    }

    [[nodiscard]] double breach_of(std::size_t demand, const std::vector<double>& x) const {
        double sum = 0;
        for (const int column : model_.demands[demand].breach_columns) {
            sum += x[static_cast<std::size_t>(column)];
        }
        return sum;
    }

    /// A point at which `held` hold, with the breaches of `least` made least; nothing when there is
    /// none.
    std::optional<std::vector<double>> breaches_when_held(const Set& held, const Set& least) {
        std::vector<double> cost(static_cast<std::size_t>(solver_.program().columns()), 0.0);
        for (std::size_t d = 0; d < model_.demands.size(); ++d) {
            const bool holds = std::binary_search(held.begin(), held.end(), d);
            for (const int column : model_.demands[d].breach_columns) {
                solver_.set_column_bounds(column, 0, holds ? 0 : kInfinity);
            }
        }
        for (const std::size_t d : least) {
            for (const int column : model_.demands[d].breach_columns) {
                cost[static_cast<std::size_t>(column)] = 1;
            }
        }
        solver_.set_cost(cost);
        opt::LpSolution found = solver_.solve();
        if (found.status != opt::SolveStatus::Optimal) {
            return std::nullopt;
        }
        return std::move(found.x);
    }

    Model model_;
    opt::LpSolver solver_;
};

/// Fewest demands that hit every way out; by depth-first search with growing depth.
std::optional<Set> smallest_hitting_set(const std::vector<Set>& ways_out, std::size_t deepest) {
    for (std::size_t depth = 0; depth <= deepest; ++depth) {
        Set chosen;
        const std::function<bool(std::size_t)> extend = [&](std::size_t left) {
            const auto missed = std::find_if(ways_out.begin(), ways_out.end(), [&](const Set& way) {
                return std::none_of(way.begin(), way.end(), [&](std::size_t d) {
                    return std::find(chosen.begin(), chosen.end(), d) != chosen.end();
                });
            });
            if (missed == ways_out.end()) {
                return true;
            }
            if (left == 0) {
                return false;
            }
            for (const std::size_t d : *missed) {
                chosen.push_back(d);
                if (extend(left - 1)) {
                    return true;
                }
                chosen.pop_back();
            }
            return false;
        };
        if (extend(depth)) {
            std::sort(chosen.begin(), chosen.end());
            return chosen;
        }
    }
    return std::nullopt;
}

/// A set that cannot hold and from which nothing can be spared.
Set by_deletion(Oracle& oracle) {
    Set set(oracle.demands().size());
    for (std::size_t d = 0; d < set.size(); ++d) {
        set[d] = d;
    }
    for (std::size_t i = set.size(); i-- > 0;) {
        Set without = set;
        without.erase(without.begin() + static_cast<std::ptrdiff_t>(i));
        if (!oracle.can_hold(without)) {
            set = without;
        }
    }
    return set;
}

std::pair<Set, bool> smallest_conflict(Oracle& oracle) {
    constexpr std::size_t kDeepest = 6;
    constexpr int kRounds = 300;
    std::vector<Set> ways_out;
    for (int round = 0; round < kRounds; ++round) {
        const auto candidate = smallest_hitting_set(ways_out, kDeepest);
        if (!candidate) {
            break;
        }
        if (!oracle.can_hold(*candidate)) {
            return {*candidate, true};
        }
        ways_out.push_back(oracle.left_out_of_a_largest_set(*candidate));
    }
    return {by_deletion(oracle), false};
}

bool frees(const Target& target, const std::vector<Supply>& supplies) {
    const Model model = build_model(target, sorted_by_label(supplies));
    return opt::solve_lp(without_cost(model)).status == opt::SolveStatus::Optimal;
}

void find_additions(const Target& target, const std::vector<Supply>& supplies,
                    std::vector<std::string>& out) {
    constexpr std::size_t kMost = 4;
    for (const ref::PureSalt& salt : ref::pure_salts()) {
        Supply supply;
        supply.material.name = std::string(salt.name);
        supply.material.formula = std::string(salt.formula);
        supply.material.assay = matter::Assay{matter::Stated::exactly(1), "", std::nullopt};
        const auto made = matter::make_up(supply.material);
        if (!made) {
            continue;
        }
        supply.make_up = *made;
        std::vector<Supply> more = supplies;
        const bool have = std::any_of(more.begin(), more.end(), [&](const Supply& s) {
            return s.material.formula == salt.formula;
        });
        more.push_back(supply);
        Target with_it =
            target;  // what the addition brings beside what is named must stay near nature too
        add_unnamed_goals(with_it, more);
        if (!is_left_out(with_it, supply) && frees(with_it, more)) {
            out.push_back(
                fmt::format("{} {} ({})", have ? "a pure" : "adding", salt.name, salt.formula));
        }
        if (out.size() >= kMost) {
            return;
        }
    }
}

void find_purities(const Target& target, const std::vector<Supply>& supplies,
                   std::vector<std::string>& out) {
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        for (const matter::Component& impurity : supplies[j].material.impurities) {
            std::vector<Supply> purer = supplies;
            std::erase_if(purer[j].material.impurities,
                          [&](const matter::Component& c) { return c.of == impurity.of; });
            const auto made = matter::make_up(purer[j].material);
            if (!made) {
                continue;
            }
            purer[j].make_up = *made;
            if (frees(target, purer)) {
                out.push_back(fmt::format("a {} free of {}", supplies[j].label(), impurity.of));
            }
        }
    }
}

std::vector<std::string> breach_sentences(const Target& target, const Solution& nearest) {
    std::vector<std::string> out;
    constexpr int kDigits = 5;
    for (const ConstituentGoal& goal : target.constituents) {
        const double value = nearest.water.mol_per_kg[goal.constituent];
        const bool below = is_below(value, goal.low);
        if (below || is_above(value, goal.high)) {
            out.push_back(fmt::format(
                "The nearest water has {} {} {}, {} its band {}.", goal.constituent.symbol(),
                base::format_significant(value * goal.shown_per_mol_per_kg, kDigits),
                unit_text(goal.shown), below ? "below" : "above",
                band_text(goal.low, goal.high, goal.shown_per_mol_per_kg, unit_text(goal.shown))));
        }
    }
    const SalinityGoal& salinity = target.salinity;
    const double dissolved = nearest.water.dissolved_g_per_kg;
    if (!is_inside(dissolved, salinity.low_g_per_kg, salinity.high_g_per_kg)) {
        out.push_back(
            fmt::format("The nearest water has {} g/kg dissolved, {} its band {}.",
                        base::format_significant(dissolved, kDigits),
                        dissolved < salinity.low_g_per_kg ? "below" : "above",
                        band_text(salinity.low_g_per_kg, salinity.high_g_per_kg, 1, "g/kg")));
    }
    for (const Ceiling& ceiling : target.ceilings) {
        const double value = nearest.water.worst_mol_per_kg[ceiling.constituent];
        if (is_above(value, ceiling.high)) {
            out.push_back(fmt::format(
                "The nearest water may hold {} {} {}, above the ceiling of {}.",
                base::format_significant(value * ceiling.shown_per_mol_per_kg, kDigits),
                unit_text(ceiling.shown), ceiling.constituent.symbol(),
                base::format_significant(ceiling.high * ceiling.shown_per_mol_per_kg, kDigits)));
        }
    }
    return out;
}

/// Four digits, rounded away from what does not suffice, so that the number printed does. Round-off
/// below what the programs' rows are held to does not count.
std::string outward(double value, bool up) {
    constexpr int kDigits = 4;
    if (value == 0) {
        return "0";
    }
    const double unit = std::pow(10.0, std::floor(std::log10(std::abs(value))) - (kDigits - 1));
    const double room = std::abs(value) * opt::kRowTolerance;
    const double steps = up ? std::ceil((value - room) / unit) : std::floor((value + room) / unit);
    return base::format_significant(steps * unit, kDigits);
}

std::string charge_sentence(const Target& target, const std::vector<Supply>& supplies) {
    const double open = unclosed_charge(target, supplies);
    constexpr double kMilli = 1000;
    if (open == 0) {
        return {};
    }
    return fmt::format(
        "The bands leave at least {} meq/kg of {} charge open, and every mixture of salts is "
        "neutral: let Cl, Na or "
        "alkalinity give way by that much.",
        base::format_significant(std::abs(open) * kMilli, 4), open > 0 ? "positive" : "negative");
}

/// "With all else held, K needs a band that reaches up to 3.21 mg/L."
std::string alone_sentence(const Target& target, const Model::Demand& demand, double breach) {
    for (const ConstituentGoal& goal : target.constituents) {
        const auto& edge = breach > 0 ? goal.high : goal.low;
        if (goal.constituent.symbol() != demand.symbol || !edge) {
            continue;
        }
        double reach = *edge + breach * reference_of(goal);
        if (*edge >= 0) {
            reach = std::max(0.0, reach);
        }
        return fmt::format("With all else held, {} needs a band that reaches {} to {} {}.",
                           demand.symbol, breach > 0 ? "up" : "down",
                           outward(reach * goal.shown_per_mol_per_kg, breach > 0),
                           unit_text(goal.shown));
    }
    const SalinityGoal& salinity = target.salinity;
    if (demand.symbol == "salinity") {
        const double reach = breach > 0 ? salinity.high_g_per_kg + breach * salinity.target_g_per_kg
                                        : salinity.low_g_per_kg + breach * salinity.target_g_per_kg;
        return fmt::format(
            "With all else held, the salinity needs a band that reaches {} to {} g/kg.",
            breach > 0 ? "up" : "down", outward(reach, breach > 0));
    }
    for (const Ceiling& ceiling : target.ceilings) {
        if (demand.symbol == fmt::format("{} ceiling", ceiling.constituent.symbol())) {
            return fmt::format(
                "With all else held, {} needs a ceiling of {} {}.", ceiling.constituent.symbol(),
                outward(ceiling.high * (1 + breach) * ceiling.shown_per_mol_per_kg, true),
                unit_text(ceiling.shown));
        }
    }
    for (const RatioGoal& ratio : target.ratios) {
        if (demand.symbol == ratio.name()) {
            return fmt::format("With all else held, the {} of {} must give way.",
                               breach > 0 ? "high" : "low", ratio.name());
        }
    }
    if (std::any_of(target.cuts.begin(), target.cuts.end(),
                    [&](const Cut& cut) { return cut.symbol == demand.symbol; })) {
        return fmt::format("All else would hold without this: {}.", demand.what);
    }
    if (demand.limit_kg_per_kg > 0) {
        const double reach = std::max(0.0, demand.limit_kg_per_kg * (1 + breach));
        return fmt::format("With all else held, {} needs a {} of {} g/kg.", demand.symbol,
                           breach > 0 ? "most" : "least",
                           outward(reach * unit::kGramPerKg, breach > 0));
    }
    return fmt::format("With all else held, this limit alone must give way: {}.", demand.what);
}

std::string missing_sources(const Target& target, const std::vector<Supply>& supplies,
                            const Set& set, const std::vector<Model::Demand>& demands) {
    std::vector<std::string> missing;
    for (const std::size_t d : set) {
        for (const ConstituentGoal& goal : target.constituents) {
            const bool wanted =
                goal.constituent.symbol() == demands[d].symbol && goal.low && *goal.low > 0;
            const bool brought = std::any_of(
                supplies.begin(), supplies.end(),
                [&](const Supply& s) { return s.make_up.mol_per_kg[goal.constituent] > 0; });
            if (wanted && !brought) {
                missing.emplace_back(goal.constituent.symbol());
            }
        }
    }
    return missing.empty() ? std::string()
                           : fmt::format("No material brings {}.", base::join_words(missing, "or"));
}

}  // namespace

Result<Conflict> explain_conflict(const Target& target, const std::vector<Supply>& supplies) {
    Conflict out;
    Oracle oracle(build_model(target, supplies));
    const auto [set, proven] = smallest_conflict(oracle);
    out.proven_smallest = proven;
    for (const std::size_t d : set) {
        out.smallest_set.push_back(oracle.demands()[d].what);
    }
    const auto say = [&](std::string sentence) {
        if (!sentence.empty()) {
            out.sentences.push_back(std::move(sentence));
        }
    };
    say(set.size() == 1
            ? fmt::format("{} cannot be reached with these materials.", out.smallest_set[0])
            : fmt::format("These cannot hold together: {}.", base::join_words(out.smallest_set)));
    say(missing_sources(target, supplies, set, oracle.demands()));
    say(charge_sentence(target, supplies));
    SolveOptions relaxed;
    // Of demands that could free the target alone, the one of least priority gives way, unless that
    // takes more than half of its own target: then the one that takes least.
    constexpr double kReasonable = 0.5;
    std::tuple<bool, int, double> least{
        true, 0, 0};  // unreasonable, priority (negative: least first), breach
    for (const std::size_t d : set) {
        const auto breach = oracle.least_breach(d);
        if (!breach) {
            continue;
        }
        if (set.size() > 1) {
            say(alone_sentence(target, oracle.demands()[d], *breach));
        }
        const bool far = std::abs(*breach) > kReasonable;
        const std::tuple<bool, int, double> own{far, far ? 0 : -oracle.demands()[d].priority,
                                                std::abs(*breach)};
        if (relaxed.may_break.empty() || own < least) {
            least = own;
            relaxed.may_break = {d};
        }
    }
    if (relaxed.may_break.empty()) {
        relaxed.may_break.resize(oracle.demands().size());
        std::iota(relaxed.may_break.begin(), relaxed.may_break.end(), std::size_t{0});
    }
    BW_TRY(nearest, solve(target, supplies, relaxed));
    out.nearest = nearest;
    for (std::string& sentence : breach_sentences(target, out.nearest)) {
        say(std::move(sentence));
    }
    find_additions(target, supplies, out.would_free);
    find_purities(target, supplies, out.would_free);
    if (!out.would_free.empty()) {
        say(fmt::format("Any one of these would free it: {}.",
                        base::join_words(out.would_free, "or")));
    } else {
        say("No single addition of a common salt and no single purer material frees it: a target "
            "has to give way.");
    }
    return out;
}

}  // namespace bw::recipe
