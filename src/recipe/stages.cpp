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
    opt::LpSolver solver(m.lp);
    opt::LpSolution last;
    double slip = kFreeze;
    struct Frozen {
        const Objective* objective;
        double best;
        std::vector<double> misses;
    };
    std::vector<Frozen> frozen;
    const auto hold = [&](const Frozen& f) {
        solver.set_row_bounds(
            f.objective->row, -kInfinity,
            f.best + room_of(*f.objective, f.best, slip) * spread_of(*f.objective));
        for (std::size_t k = 0; k < f.misses.size(); ++k) {
            const int column = f.objective->misses[k];
            const double high = m.lp.column_high[static_cast<std::size_t>(column)];
            solver.set_column_bounds(
                column, 0, std::min(high, f.misses[k] + room_of(*f.objective, f.misses[k], slip)));
        }
    };
    for (const Objective& objective : objectives) {
        solver.set_cost(objective.cost);
        opt::LpSolution found = solver.solve();
        if (found.status == opt::SolveStatus::Infeasible && last.x.empty()) {
            return false;
        }
        // A chain of frozen stages can close up by round-off: let all of them slip a little more.
        constexpr double kSlipMore = 10;
        while (found.status == opt::SolveStatus::Infeasible && slip < kMostSlip) {
            slip *= kSlipMore;
            for (const Frozen& earlier : frozen) {
                hold(earlier);
            }
            found = solver.solve();
        }
        if (found.status != opt::SolveStatus::Optimal) {
            return fail(
                ProblemCode::Internal,
                fmt::format("the solver stopped while making the {} least", objective.what));
        }
        out.stages.push_back({objective.what, found.objective,
                              opt::certify(solver.program(), found), found.iterations});
        if (objective.row >= 0) {
            frozen.push_back({&objective, found.objective, misses_at(objective, found.x)});
            hold(frozen.back());
        }
        last = std::move(found);
    }
    out.dose_kg_per_kg = m.doses(last.x);
    out.slip = slip;
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
