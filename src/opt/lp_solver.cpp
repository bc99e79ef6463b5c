// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "opt/lp_solver.hpp"

#include <algorithm>
#include <cmath>

#include <coin/ClpSimplex.hpp>
#include <coin/CoinPackedMatrix.hpp>

#include "base/result.hpp"

namespace bw::opt {
namespace {

double to_clp(double bound) {
    if (std::isinf(bound)) {
        return bound > 0 ? COIN_DBL_MAX : -COIN_DBL_MAX;
    }
    return bound;
}

std::vector<double> to_clp(const std::vector<double>& bounds) {
    std::vector<double> out(bounds.size());
    std::transform(bounds.begin(), bounds.end(), out.begin(), [](double b) { return to_clp(b); });
    return out;
}

SolveStatus status_of(const ClpSimplex& model) {
    switch (model.status()) {
        case 0:
            return SolveStatus::Optimal;
        case 1:
            return SolveStatus::Infeasible;
        case 2:
            return SolveStatus::Unbounded;
        default:
            return SolveStatus::Stopped;
    }
}

}  // namespace

struct LpSolver::Impl {
    LinearProgram lp;
    ClpSimplex model;
    bool solved = false;
    bool cost_changed = false;

    explicit Impl(const LinearProgram& program) : lp(program) {
        model.setLogLevel(0);
        std::vector<int> columns;
        std::vector<double> values;
        std::vector<CoinBigIndex> starts;
        columns.reserve(lp.entries.size());
        values.reserve(lp.entries.size());
        for (const Entry& e : lp.entries) {
            columns.push_back(e.column);
            values.push_back(e.value);
        }
        starts.assign(lp.starts.begin(), lp.starts.end());
        const CoinPackedMatrix matrix(false, lp.columns(), lp.rows(),
                                      static_cast<CoinBigIndex>(values.size()), values.data(),
                                      columns.data(), starts.data(), nullptr);
        const auto column_low = to_clp(lp.column_low);
        const auto column_high = to_clp(lp.column_high);
        const auto row_low = to_clp(lp.row_low);
        const auto row_high = to_clp(lp.row_high);
        model.loadProblem(matrix, column_low.data(), column_high.data(), lp.cost.data(),
                          row_low.data(), row_high.data());
        model.setPrimalTolerance(kSimplexTolerance);
        model.setDualTolerance(kSimplexTolerance);
        model.scaling(0);  // rows and columns come scaled
    }
};

LpSolver::LpSolver(const LinearProgram& lp) : impl_(std::make_unique<Impl>(lp)) {}
LpSolver::~LpSolver() = default;
LpSolver::LpSolver(LpSolver&&) noexcept = default;
LpSolver& LpSolver::operator=(LpSolver&&) noexcept = default;

void LpSolver::set_cost(std::span<const double> cost) {
    base::expect(cost.size() == impl_->lp.cost.size(), "one cost per column");
    for (std::size_t j = 0; j < cost.size(); ++j) {
        impl_->lp.cost[j] = cost[j];
        impl_->model.setObjectiveCoefficient(static_cast<int>(j), cost[j]);
    }
    impl_->cost_changed = true;
}

void LpSolver::set_column_bounds(int column, double low, double high) {
    const auto k = static_cast<std::size_t>(column);
    impl_->lp.column_low[k] = low;
    impl_->lp.column_high[k] = high;
    impl_->model.setColumnBounds(column, to_clp(low), to_clp(high));
}

void LpSolver::set_row_bounds(int row, double low, double high) {
    const auto k = static_cast<std::size_t>(row);
    impl_->lp.row_low[k] = low;
    impl_->lp.row_high[k] = high;
    impl_->model.setRowBounds(row, to_clp(low), to_clp(high));
}

const LinearProgram& LpSolver::program() const { return impl_->lp; }

LpSolution LpSolver::solve() {
    ClpSimplex& model = impl_->model;
    // After a change of cost the last basis is primal feasible (or nearly so); after a change of
    // bounds alone it is dual feasible.
    if (impl_->solved && impl_->cost_changed) {
        model.primal();
    } else {
        model.dual();
    }
    if (status_of(model) ==
        SolveStatus::Stopped) {  // numerical trouble: from scratch, the other way
        model.allSlackBasis(true);
        model.primal();
    }
    impl_->solved = true;
    impl_->cost_changed = false;
    LpSolution out;
    out.status = status_of(model);
    out.iterations = model.numberIterations();
    const auto columns = static_cast<std::size_t>(impl_->lp.columns());
    const auto rows = static_cast<std::size_t>(impl_->lp.rows());
    out.x.assign(model.primalColumnSolution(), model.primalColumnSolution() + columns);
    out.row_dual.assign(model.dualRowSolution(), model.dualRowSolution() + rows);
    for (std::size_t j = 0; j < columns; ++j) {
        out.x[j] = std::clamp(out.x[j], impl_->lp.column_low[j], impl_->lp.column_high[j]);
        out.objective += impl_->lp.cost[j] * out.x[j];
    }
    return out;
}

LpSolution solve_lp(const LinearProgram& lp) { return LpSolver(lp).solve(); }

InfeasibilityProof prove_infeasible(const LinearProgram& lp) {
    LinearProgram out;
    for (int j = 0; j < lp.columns(); ++j) {
        const auto k = static_cast<std::size_t>(j);
        out.add_column(0, lp.column_low[k], lp.column_high[k]);
    }
    for (int r = 0; r < lp.rows(); ++r) {
        const auto k = static_cast<std::size_t>(r);
        std::vector<Entry> entries(lp.row(r).begin(), lp.row(r).end());
        entries.push_back({out.add_column(1, 0, kInfinity), 1});
        entries.push_back({out.add_column(1, 0, kInfinity), -1});
        out.add_row(entries, lp.row_low[k], lp.row_high[k]);
    }
    const LpSolution solution = solve_lp(out);
    InfeasibilityProof proof;
    proof.row_multiplier = solution.row_dual;
    proof.gap = infeasibility_gap(lp, proof.row_multiplier);
    return proof;
}

}  // namespace bw::opt
