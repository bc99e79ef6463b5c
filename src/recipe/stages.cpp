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
    Objective out{"change of the weighings", {}, -1};
    std::vector<std::pair<int, double>> costs;
    std::vector<Entry> sum;
    for (std::size_t j = 0; j < m.dose.size(); ++j) {
        const double scale = std::max(near[j], m.dose_scale[j] * 1e-3) / m.dose_scale[j];  // relative change
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

/// Rows that measure the breaches of the demands of one priority: the largest, then the sum.
void add_breach_objectives(Model& m, std::vector<Objective>& out) {
    std::vector<int> levels;
    for (const Model::Demand& demand : m.demands) {
        if (std::find(levels.begin(), levels.end(), demand.priority) == levels.end()) {
            levels.push_back(demand.priority);
        }
    }
    std::sort(levels.begin(), levels.end());
    for (const int level : levels) {
        const int largest = m.lp.add_column(0, 0, kInfinity);
        std::vector<Entry> sum;
        for (const Model::Demand& demand : m.demands) {
            if (demand.priority != level) {
                continue;
            }
            for (const int column : demand.breach_columns) {
                m.lp.column_high[static_cast<std::size_t>(column)] = kInfinity;
                m.lp.add_row(std::vector<Entry>{{column, 1}, {largest, -1}}, -kInfinity, 0);
                sum.push_back({column, 1});
            }
        }
        Objective most{fmt::format("largest breach, priority {}", level), {}, -1};
        most.row = m.lp.add_row(std::vector<Entry>{{largest, 1}}, -kInfinity, kInfinity);
        Objective total{fmt::format("sum of breaches, priority {}", level), {}, -1};
        total.row = m.lp.add_row(sum, -kInfinity, kInfinity);
        out.push_back(std::move(most));
        out.push_back(std::move(total));
    }
}

void add_miss_objectives(Model& m, std::vector<Objective>& out) {
    for (const Model::Priority& p : m.priorities) {
        Objective most{fmt::format("largest miss, priority {}", p.level), {}, -1};
        most.row = m.lp.add_row(std::vector<Entry>{{p.largest_miss, 1}}, -kInfinity, kInfinity);
        out.push_back(std::move(most));
        out.push_back({fmt::format("sum of misses, priority {}", p.level), {}, p.sum_row});
    }
}

}  // namespace

std::vector<Objective> objectives_of(Model& m, const SolveOptions& options) {
    std::vector<Objective> out;
    if (options.relax_bands) {
        add_breach_objectives(m, out);
    }
    add_miss_objectives(m, out);
    for (Objective& objective : out) {  // what a row sums is what is made least
        objective.cost.assign(static_cast<std::size_t>(m.lp.columns()), 0);
        for (const Entry& e : m.lp.row(objective.row)) {
            objective.cost[static_cast<std::size_t>(e.column)] += e.value;
        }
    }
    if (!options.stay_near.empty()) {
        out.push_back(nearness_objective(m, options.stay_near));
    }
    if (!options.relax_bands) {
        out.push_back({"cost", m.cost, m.cost_row});
    }
    out.push_back({"mass of blend", m.mass, -1});
    for (Objective& objective : out) {
        objective.cost.resize(static_cast<std::size_t>(m.lp.columns()), 0);
    }
    return out;
}

Result<bool> serve(const Model& m, const std::vector<Objective>& objectives, Solution& out) {
    opt::LpSolver solver(m.lp);
    opt::LpSolution last;
    for (const Objective& objective : objectives) {
        solver.set_cost(objective.cost);
        opt::LpSolution found = solver.solve();
        if (found.status == opt::SolveStatus::Infeasible && last.x.empty()) {
            return false;
        }
        if (found.status != opt::SolveStatus::Optimal) {
            return fail(ProblemCode::Internal,
                        fmt::format("the solver stopped while making the {} least", objective.what));
        }
        out.stages.push_back({objective.what, found.objective, opt::certify(solver.program(), found), found.iterations});
        if (objective.what == "cost") {
            for (const int row : m.goal_row) {
                out.goal_price.push_back(found.row_dual[static_cast<std::size_t>(row)] * m.cost_scale);
            }
        }
        if (objective.row >= 0) {
            const double keep = found.objective + kFreeze * std::max(1.0, std::abs(found.objective));
            solver.set_row_bounds(objective.row, -kInfinity, keep);
        }
        last = std::move(found);
    }
    out.dose_kg_per_kg = m.doses(last.x);
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
                found.objective + kFreezeWhole * std::max(1.0, std::abs(found.objective));
        }
        point = found.x;
    }
    return !point.empty();
}

}  // namespace bw::recipe
