// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "recipe/stages.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "opt/lp_solver.hpp"

namespace bw::recipe {
namespace {

using opt::Entry;
using opt::kInfinity;

constexpr double kSameMass = 1e-3;  // of the batch
constexpr auto kAndChanges = ", and changes at their price";

/// Columns and rows that measure how far doses are from given ones.
Objective nearness_objective(Model& m, const std::vector<double>& near) {
    Objective out{"change of the weighings", {}, -1, false, 0, {}};
    std::vector<std::pair<int, double>> costs;
    std::vector<Entry> sum;
    for (std::size_t j = 0; j < m.dose.size(); ++j) {
        const double scale =
            std::max(near[j], m.dose_scale[j] * 1e-3) / m.dose_scale[j];  // relative change
        const int more = m.lp.add_column(0, 0, kInfinity);
        const int less = m.lp.add_column(0, 0, kInfinity);
        const double at = near[j] / m.dose_scale[j] / scale;
        m.lp.add_row(
            std::vector<Entry>{{m.dose[j], 1 / scale}, {m.size, -at}, {more, -1}, {less, 1}}, 0, 0);
        sum.push_back({more, 1});
        sum.push_back({less, 1});
    }
    out.row = m.lp.add_row(sum, -kInfinity, kInfinity);
    out.cost.assign(static_cast<std::size_t>(m.lp.columns()), 0);
    for (const Entry& e : sum) {
        out.cost[static_cast<std::size_t>(e.column)] = e.value;
    }
    return out;
}

/// How far a batch that may swing is from the mass asked. Beyond kSameMass it moves for limits and
/// targets only, not for the cost.
Objective mass_objective(Model& m) {
    Objective out{"distance from the mass asked", {}, -1, false, kSameMass, {}, false};
    std::vector<Entry> sum;
    out.cost.assign(static_cast<std::size_t>(m.lp.columns()), 0);
    for (const int column : m.off_mass) {
        sum.push_back({column, 1});
        out.cost[static_cast<std::size_t>(column)] = 1;
    }
    out.row = m.lp.add_row(sum, -kInfinity, kInfinity);
    return out;
}

/// A row that sums the breaches of the demands that may be broken, each relative to its target.
/// Priorities do not count here, for a strict order would give up every lower goal for a hair of a
/// higher one.
void add_breach_objective(Model& m, const std::vector<std::size_t>& may_break,
                          std::vector<Objective>& out) {
    std::vector<Entry> sum;
    for (const std::size_t d : may_break) {
        for (const int column : m.demands[d].breach_columns) {
            m.lp.column_high[static_cast<std::size_t>(column)] = kInfinity;
            sum.push_back({column, 1});
        }
    }
    out.push_back({"sum of breaches", {}, m.lp.add_row(sum, -kInfinity, kInfinity), false, 0, {}});
}

void add_miss_objectives(Model& m, std::vector<Objective>& out) {
    for (const Model::Priority& p : m.priorities) {
        Objective most{fmt::format("largest miss, priority {}", p.level), {}, -1, true, 0, {}};
        most.row = m.lp.add_row(std::vector<Entry>{{p.largest_miss, 1}}, -kInfinity, kInfinity);
        out.push_back(std::move(most));
        out.push_back(
            {fmt::format("sum of misses, priority {}", p.level), {}, p.sum_row, true, 0, p.misses});
    }
}

/// Lets each change of a weighing count with the misses, at its price. What is kept of a stage are
/// the misses alone: with the changes in the row, a goal that is met without any would leave no
/// room for those that later goals are worth.
void add_price_of_change(const Model& m, const Objective& nearness,
                         std::vector<Objective>& objectives) {
    for (Objective& objective : objectives) {
        if (objective.measures_misses) {
            for (const Entry& e : m.lp.row(nearness.row)) {
                objective.cost[static_cast<std::size_t>(e.column)] += e.value * kChangeMustBring;
            }
            objective.what += kAndChanges;
            objective.priced = true;
        }
    }
}

Objective sum_of_all_misses(Model& m) {
    std::vector<Entry> all;
    for (const Model::Priority& p : m.priorities) {
        for (const int column : p.misses) {
            all.push_back({column, 1});
        }
    }
    return {"sum of all misses", {}, m.lp.add_row(all, -kInfinity, kInfinity), true, 0, {}};
}

/// What a row sums is what is made least.
std::vector<double> cost_of_row(const Model& m, int row) {
    std::vector<double> out(static_cast<std::size_t>(m.lp.columns()), 0);
    for (const Entry& e : m.lp.row(row)) {
        out[static_cast<std::size_t>(e.column)] += e.value;
    }
    return out;
}

std::vector<double> misses_at(const Objective& objective, const std::vector<double>& x) {
    std::vector<double> out;
    for (const int column : objective.misses) {
        out.push_back(x[static_cast<std::size_t>(column)]);
    }
    return out;
}

/// How far the frozen value of an objective may slip.
double room_of(const Objective& objective, double best, double slip) {
    const double round_off = slip * std::max(1.0, std::abs(best));
    return std::max({round_off, objective.measures_misses ? kFreezeOfMiss * best : 0,
                     objective.resolution, std::min(best - objective.unhindered, kHeldOff),
                     objective.share * std::abs(best)});
}

/// The same for one of the misses that it is about.
double room_of_miss(const Objective& objective, double stage, double miss, double slip) {
    const double round_off = slip * std::max(1.0, miss);
    return std::max({round_off, kFreezeOfMiss * miss, objective.resolution,
                     std::min({stage - objective.unhindered, kHeldOff, miss})});
}

/// A sum of misses below the resolution may be as many times it as there are misses.
double spread_of(const Objective& objective) {
    return objective.resolution > 0 ? std::max(1.0, static_cast<double>(objective.misses.size()))
                                    : 1;
}

/// A chain of linear programs, each warm from the one before, that keeps what was won.
class Chain {
public:
    explicit Chain(const Model& m) : m_(m), solver_(m.lp) {}

    /// Makes an objective least within what is frozen; a chain can close up by round-off, and then
    /// all of it slips a little more.
    opt::LpSolution make_least(const Objective& objective) {
        solver_.set_cost(objective.cost);
        return solve_slipping();
    }

    void freeze(const Objective& objective, const opt::LpSolution& found) {
        if (objective.row >= 0) {
            const double best =
                objective.priced ? m_.lp.activity(objective.row, found.x) : found.objective;
            frozen_.push_back({&objective, best, misses_at(objective, found.x)});
            hold(frozen_.back());
        }
    }

    /// The last point without the materials that came in as dust through the slip of the stages:
    /// doses that bring so little of what the material is bought for that they are no recipe. All
    /// at once, or, when the stages can't slip enough for it, one by one with a slip of the dust's
    /// own size; what even then cannot be spared stays.
    void sweep_dust(std::vector<double>& x) {
        constexpr int kRounds = 4;  // a point without some dust may have other
        for (int round = 0; round < kRounds; ++round) {
            const std::vector<int> dust = dust_in(x);
            if (dust.empty()) {
                break;
            }
            if (!sweep(dust, kMostSlip, x)) {
                for (const int column : dust) {
                    if (!sweep({column}, kDust, x)) {
                        needed_.push_back(column);
                    }
                }
            }
        }
        constexpr double kRoundOff = 1e-8;  // goes in any case
        for (const int column : m_.dose) {
            double& dose = x[static_cast<std::size_t>(column)];
            dose = dose < kRoundOff ? 0 : dose;
        }
    }

    [[nodiscard]] const opt::LinearProgram& program() const { return solver_.program(); }

private:
    /// Of what the material's goal could need: far below what any balance or assay could show.
    static constexpr double kDust = 1e-5;

    [[nodiscard]] std::vector<int> dust_in(const std::vector<double>& x) const {
        constexpr double kGhost = 5e-9;  // kg/kg, prints as 0.00000 g/kg
        constexpr double kSmallPart = 1e-3;
        std::vector<int> out;
        for (std::size_t k = 0; k < m_.dose.size(); ++k) {
            const auto j = static_cast<std::size_t>(m_.dose[k]);
            const bool ghost = x[j] < kSmallPart && x[j] * m_.dose_scale[k] < kGhost;
            if (x[j] > 0 && (x[j] < kDust || ghost) && m_.lp.column_low[j] == 0 &&
                std::find(needed_.begin(), needed_.end(), m_.dose[k]) == needed_.end()) {
                out.push_back(m_.dose[k]);
            }
        }
        return out;
    }

    bool sweep(const std::vector<int>& dust, double most_slip, std::vector<double>& x) {
        for (const int column : dust) {
            solver_.set_column_bounds(column, 0, 0);
        }
        opt::LpSolution swept = solve_slipping(most_slip);
        if (swept.status == opt::SolveStatus::Optimal) {
            x = std::move(swept.x);
            return true;
        }
        for (const int column : dust) {
            const auto j = static_cast<std::size_t>(column);
            solver_.set_column_bounds(column, m_.lp.column_low[j], m_.lp.column_high[j]);
        }
        return false;
    }

    opt::LpSolution solve_slipping(double most_slip = kMostSlip) {
        constexpr double kSlipMore = 10;
        opt::LpSolution found = solver_.solve();
        while (found.status == opt::SolveStatus::Infeasible && !frozen_.empty() &&
               slip_ < most_slip * (1 - kFreeze)) {
            slip_ *= kSlipMore;
            for (const Frozen& f : frozen_) {
                hold(f);
            }
            found = solver_.solve();
        }
        return found;
    }

    struct Frozen {
        const Objective* objective;
        double best;
        std::vector<double> misses;
    };

    void hold(const Frozen& f) {
        const Objective& o = *f.objective;
        solver_.set_row_bounds(o.row, -kInfinity,
                               f.best + room_of(o, f.best, slip_) * spread_of(o));
        for (std::size_t k = 0; k < f.misses.size(); ++k) {
            const double high = m_.lp.column_high[static_cast<std::size_t>(o.misses[k])];
            solver_.set_column_bounds(
                o.misses[k], 0,
                std::min(high, f.misses[k] + room_of_miss(o, f.best, f.misses[k], slip_)));
        }
    }

    const Model& m_;
    opt::LpSolver solver_;
    std::vector<Frozen> frozen_;
    std::vector<int> needed_;  // dust that cannot be spared
    double slip_ = kFreeze;
};

}  // namespace

std::vector<Objective> objectives_of(Model& m, const SolveOptions& options, double resolution) {
    std::vector<Objective> out;
    if (!options.may_break.empty()) {
        add_breach_objective(m, options.may_break, out);
    }
    add_miss_objectives(m, out);
    for (Objective& objective : out) {
        objective.resolution = objective.measures_misses ? resolution : 0;
        for (const Stage& stage : options.unhindered) {
            if (objective.measures_misses && stage.what == objective.what) {
                objective.unhindered = stage.objective;
            }
        }
    }
    if (resolution > 0) {
        out.push_back(sum_of_all_misses(m));
    }
    std::optional<Objective> nearness;
    if (!options.stay_near.empty()) {
        nearness = nearness_objective(m, options.stay_near);
    }
    for (Objective& objective : out) {  // what a row sums is what is made least
        objective.cost = cost_of_row(m, objective.row);
    }
    if (nearness) {
        add_price_of_change(m, *nearness, out);
    }
    if (!m.off_mass.empty()) {
        out.push_back(mass_objective(m));
    }
    if (nearness) {
        out.push_back(std::move(*nearness));
    }
    if (options.may_break.empty()) {
        out.push_back({"cost", m.cost, m.cost_row, false, 0, {}});
        if (!options.unhindered.empty()) {
            out.back().share = kSameCost;
            out.push_back(sum_of_all_misses(m));
            out.back().what += " at that cost";
            out.back().cost = cost_of_row(m, out.back().row);
        }
    }
    out.push_back({"mass of blend", m.mass, -1, false, 0, {}});
    for (Objective& objective : out) {
        objective.coarse = resolution > 0;
        objective.cost.resize(static_cast<std::size_t>(m.lp.columns()), 0);
    }
    return out;
}

Result<bool> serve(const Model& m, const std::vector<Objective>& objectives, Solution& out) {
    Chain chain(m);
    std::vector<double> last;
    for (const Objective& objective : objectives) {
        opt::LpSolution found = chain.make_least(objective);
        if (found.status == opt::SolveStatus::Infeasible && last.empty()) {
            return false;
        }
        if (found.status != opt::SolveStatus::Optimal) {
            return fail(
                ProblemCode::Internal,
                fmt::format("the solver stopped while making the {} least", objective.what));
        }
        out.stages.push_back({objective.what, found.objective, opt::certify(chain.program(), found),
                              found.iterations});
        chain.freeze(objective, found);
        last = std::move(found.x);
    }
    chain.sweep_dust(last);
    out.dose_kg_per_kg = m.doses(last);
    return true;
}

namespace {

/// A program with whole numbers that keeps what was won, and the best point so far.
class WholeChain {
public:
    WholeChain(const Model& m, const std::vector<int>& integers, int most_nodes)
        : m_(m), lp_(m.lp), integers_(integers) {
        search.nodes_left = most_nodes;
    }

    WholeSearch search;
    int still_to_serve = 1;  ///< objectives, with the one at hand

    /// False when no point is known and none is found.
    bool make_least(const Objective& objective) {
        const bool quotient = m_.swings && objective.per_water;
        const double gap = gap_of(objective);
        constexpr int kRounds = 8;
        for (int round = 0; round < kRounds; ++round) {
            lp_.cost = objective.cost;
            if (quotient && !search.point.empty()) {
                lp_.cost[static_cast<std::size_t>(m_.size)] -= value(objective);
            }
            const bool better = improve(gap);
            if (search.point.empty()) {
                return false;
            }
            if (!better || !quotient) {
                break;
            }
        }
        return true;
    }

    void freeze(const Objective& objective) {
        if (objective.row >= 0) {
            const double best = kept_value(objective);
            const double most =
                best + room_of(objective, best, kFreezeWhole) * spread_of(objective);
            const auto row = m_.lp.row(objective.row);
            hold({row.begin(), row.end()}, most, objective.per_water);
        }
        for (const int column : objective.misses) {
            const auto k = static_cast<std::size_t>(column);
            const double miss = std::max(0.0, search.point[k] / size_of(objective));
            const double most =
                miss + room_of_miss(objective, kept_value(objective), miss, kFreezeWhole);
            if (m_.swings) {
                hold({{column, 1}}, most, true);
            } else {
                lp_.column_high[k] = std::min(lp_.column_high[k], most);
            }
        }
    }

private:
    // Wider than for plain programs: branch and bound holds whole numbers to 1e-7 only.
    static constexpr double kFreezeWhole = 1e-6;

    /// How near to the best counts as the best. Where weighings come in steps and a miss of
    /// kWeighedMiss counts as none, a fiftieth of that; of the cost, a cent in a thousand.
    static double gap_of(const Objective& objective) {
        constexpr double kWeighed = 1e-5;
        constexpr double kExact = 1e-9;
        return objective.coarse ? kWeighed : kExact;
    }

    [[nodiscard]] double size_of(const Objective& objective) const {
        return m_.swings && objective.per_water ? search.point[static_cast<std::size_t>(m_.size)]
                                                : 1;
    }

    [[nodiscard]] double value(const Objective& objective) const {
        return dot(objective.cost, search.point) / size_of(objective);
    }

    /// The value of what is kept: without the price of changes.
    [[nodiscard]] double kept_value(const Objective& objective) const {
        return objective.priced ? m_.lp.activity(objective.row, search.point) / size_of(objective)
                                : value(objective);
    }

    static double dot(const std::vector<double>& cost, const std::vector<double>& x) {
        double sum = 0;
        for (std::size_t j = 0; j < cost.size(); ++j) {
            sum += cost[j] * x[j];
        }
        return sum;
    }

    void hold(std::vector<Entry> row, double most, bool per_water) {
        if (m_.swings && per_water) {
            row.push_back({m_.size, -most});
            most = 0;
        }
        lp_.add_row(row, -kInfinity, most);
    }

    /// Looks for a point better than the one known by more than `gap`. The plain program bounds
    /// what can be won: where that is nothing, no search is needed.
    bool improve(double gap) {
        const bool known = !search.point.empty();
        const double best = known ? dot(lp_.cost, search.point) : kInfinity;
        if (known) {
            const opt::LpSolution plain = opt::solve_lp(lp_);
            if (plain.status == opt::SolveStatus::Optimal && plain.objective >= best - gap) {
                return false;
            }
        }
        // A fair share, so that later objectives have their turn.
        const int nodes = known ? search.nodes_left / still_to_serve : search.nodes_left;
        opt::MilpLimits limits{nodes, known ? best - gap : kInfinity, gap};
        const opt::MilpSolution found = opt::solve_milp(lp_, integers_, limits);
        search.nodes_left = std::max(0, search.nodes_left - found.nodes);
        search.proven = search.proven && (found.status == opt::SolveStatus::Optimal ||
                                          found.status == opt::SolveStatus::Infeasible);
        if (found.found && found.objective < best) {
            search.point = found.x;
            return true;
        }
        return false;
    }

    const Model& m_;
    opt::LinearProgram lp_;
    const std::vector<int>& integers_;
};

}  // namespace

WholeSearch serve_in_whole_numbers(const Model& m, const std::vector<Objective>& objectives,
                                   const std::vector<int>& integer_columns, int most_nodes) {
    WholeChain chain(m, integer_columns, most_nodes);
    chain.still_to_serve = static_cast<int>(objectives.size());
    for (const Objective& objective : objectives) {
        if (!chain.make_least(objective)) {
            break;
        }
        chain.freeze(objective);
        --chain.still_to_serve;
    }
    return std::move(chain.search);
}

}  // namespace bw::recipe
