// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "recipe/stages.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "opt/lp_solver.hpp"

namespace bw::recipe {
namespace {

using opt::Entry;
using opt::kInfinity;

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
        const std::vector<Entry> row{{m.dose[j], 1 / scale}, {more, -1}, {less, 1}};
        const double at = near[j] / m.dose_scale[j] / scale;
        m.lp.add_row(row, at, at);
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
    return objective.measures_misses
               ? std::max({round_off, kFreezeOfMiss * best, objective.resolution})
               : round_off;
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
            frozen_.push_back({&objective, found.objective, misses_at(objective, found.x)});
            hold(frozen_.back());
        }
    }

    /// The last point without the materials that came in as dust through the slip of the stages:
    /// doses that bring so little of what the material is bought for that they are no recipe. Where
    /// the stages can't slip enough for it, the dust stays.
    void sweep_dust(std::vector<double>& x) {
        constexpr double kDust = 1e-5;
        bool any = false;
        for (const int column : m_.dose) {
            const auto j = static_cast<std::size_t>(column);
            if (x[j] > 0 && x[j] < kDust && m_.lp.column_low[j] == 0) {
                solver_.set_column_bounds(column, 0, 0);
                any = true;
            }
        }
        if (any) {
            opt::LpSolution swept = solve_slipping();
            if (swept.status == opt::SolveStatus::Optimal) {
                x = std::move(swept.x);
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
    opt::LpSolution solve_slipping() {
        constexpr double kSlipMore = 10;
        opt::LpSolution found = solver_.solve();
        while (found.status == opt::SolveStatus::Infeasible && !frozen_.empty() &&
               slip_ < kMostSlip) {
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
            solver_.set_column_bounds(o.misses[k], 0,
                                      std::min(high, f.misses[k] + room_of(o, f.misses[k], slip_)));
        }
    }

    const Model& m_;
    opt::LpSolver solver_;
    std::vector<Frozen> frozen_;
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
    }
    if (resolution > 0) {
        std::vector<Entry> all;
        for (const Model::Priority& p : m.priorities) {
            for (const int column : p.misses) {
                all.push_back({column, 1});
            }
        }
        out.push_back(
            {"sum of all misses", {}, m.lp.add_row(all, -kInfinity, kInfinity), true, 0, {}});
    }
    for (Objective& objective : out) {  // what a row sums is what is made least
        objective.cost.assign(static_cast<std::size_t>(m.lp.columns()), 0);
        for (const Entry& e : m.lp.row(objective.row)) {
            objective.cost[static_cast<std::size_t>(e.column)] += e.value;
        }
    }
    if (!options.stay_near.empty()) {
        out.push_back(nearness_objective(m, options.stay_near));
    }
    if (options.may_break.empty()) {
        out.push_back({"cost", m.cost, m.cost_row, false, 0, {}});
    }
    out.push_back({"mass of blend", m.mass, -1, false, 0, {}});
    for (Objective& objective : out) {
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

Result<bool> serve_in_whole_numbers(const Model& m, const std::vector<Objective>& objectives,
                                    const std::vector<int>& integer_columns, int most_nodes,
                                    std::vector<double>& point, bool& proven) {
    // Wider than for plain programs: branch and bound holds whole numbers to 1e-7 only.
    constexpr double kFreezeWhole = 1e-6;
    opt::LinearProgram lp = m.lp;
    point.clear();
    proven = true;
    for (const Objective& objective : objectives) {
        lp.cost = objective.cost;
        const opt::MilpSolution found = opt::solve_milp(lp, integer_columns, {most_nodes});
        if (found.status == opt::SolveStatus::Infeasible && point.empty()) {
            return false;
        }
        proven = proven && found.status == opt::SolveStatus::Optimal;
        if (!found.found) {
            break;  // the last point stands
        }
        if (objective.row >= 0) {
            lp.row_high[static_cast<std::size_t>(objective.row)] =
                found.objective +
                room_of(objective, found.objective, kFreezeWhole) * spread_of(objective);
        }
        for (const int column : objective.misses) {
            const double miss = std::max(0.0, found.x[static_cast<std::size_t>(column)]);
            double& high = lp.column_high[static_cast<std::size_t>(column)];
            high = std::min(high, miss + room_of(objective, miss, kFreezeWhole));
        }
        point = found.x;
    }
    return !point.empty();
}

}  // namespace bw::recipe
