// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <cmath>
#include <vector>

#include <coin/CbcModel.hpp>
#include <coin/OsiClpSolverInterface.hpp>

#include "opt/lp_solver.hpp"

namespace bw::opt {

MilpSolution solve_milp(const LinearProgram& lp, std::span<const int> integer_columns,
                        const MilpLimits& limits) {
    OsiClpSolverInterface solver;
    solver.messageHandler()->setLogLevel(0);
    std::vector<int> columns;
    std::vector<double> values;
    for (const Entry& e : lp.entries) {
        columns.push_back(e.column);
        values.push_back(e.value);
    }
    const std::vector<CoinBigIndex> starts(lp.starts.begin(), lp.starts.end());
    const CoinPackedMatrix matrix(false, lp.columns(), lp.rows(),
                                  static_cast<CoinBigIndex>(values.size()), values.data(),
                                  columns.data(), starts.data(), nullptr);
    const auto bound = [](double b) {
        return std::isinf(b) ? (b > 0 ? COIN_DBL_MAX : -COIN_DBL_MAX) : b;
    };
    std::vector<double> column_low, column_high, row_low, row_high;
    for (int j = 0; j < lp.columns(); ++j) {
        column_low.push_back(bound(lp.column_low[static_cast<std::size_t>(j)]));
        column_high.push_back(bound(lp.column_high[static_cast<std::size_t>(j)]));
    }
    for (int r = 0; r < lp.rows(); ++r) {
        row_low.push_back(bound(lp.row_low[static_cast<std::size_t>(r)]));
        row_high.push_back(bound(lp.row_high[static_cast<std::size_t>(r)]));
    }
    solver.loadProblem(matrix, column_low.data(), column_high.data(), lp.cost.data(),
                       row_low.data(), row_high.data());
    solver.setDblParam(OsiPrimalTolerance, kSimplexTolerance);
    solver.setDblParam(OsiDualTolerance, kSimplexTolerance);
    for (const int column : integer_columns) {
        solver.setInteger(column);
    }
    CbcModel model(solver);
    model.setLogLevel(0);
    model.messageHandler()->setLogLevel(0);
    model.solver()->messageHandler()->setLogLevel(0);
    // No cut generators: on recipe programs, whose coefficients span six decades, Gomory cuts of
    // this version cut off points that are feasible (seen on the raised salt of the example works).
    model.setMaximumNodes(limits.most_nodes);
    constexpr double kFractionGap = 1e-9;
    model.setAllowableGap(limits.gap);
    model.setAllowableFractionGap(kFractionGap);
    if (!std::isinf(limits.cutoff)) {
        model.setCutoff(limits.cutoff);
    }
    constexpr double kIntegerTolerance = 1e-7;
    model.setIntegerTolerance(kIntegerTolerance);
    model.branchAndBound();
    MilpSolution out;
    out.found = model.bestSolution() != nullptr;
    out.nodes = model.getNodeCount();
    out.bound = model.getBestPossibleObjValue();
    if (model.isProvenOptimal()) {
        out.status = SolveStatus::Optimal;
    } else if (model.isProvenInfeasible()) {
        out.status = SolveStatus::Infeasible;
    }
    if (out.found) {
        out.x.assign(model.bestSolution(), model.bestSolution() + lp.columns());
        for (const int column : integer_columns) {
            double& value = out.x[static_cast<std::size_t>(column)];
            value = std::round(value);
        }
        for (std::size_t j = 0; j < out.x.size(); ++j) {
            out.objective += lp.cost[j] * out.x[j];
        }
    }
    return out;
}

}  // namespace bw::opt
