// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <memory>
#include <span>
#include <vector>

#include "opt/linear_program.hpp"

namespace bw::opt {

/// Primal and dual feasibility tolerance asked of the simplex; rows and columns should be scaled to
/// about 1.
inline constexpr double kSimplexTolerance = kRowTolerance;

/// Solves a linear program, and again after changes, starting from the last basis.
///
/// Deterministic: the same calls give the same digits. Not for use by two threads at once.
class LpSolver {
public:
    explicit LpSolver(const LinearProgram& lp);
    ~LpSolver();
    LpSolver(LpSolver&&) noexcept;
    LpSolver& operator=(LpSolver&&) noexcept;
    LpSolver(const LpSolver&) = delete;
    LpSolver& operator=(const LpSolver&) = delete;

    void set_cost(std::span<const double> cost);
    void set_column_bounds(int column, double low, double high);
    void set_row_bounds(int row, double low, double high);

    [[nodiscard]] LpSolution solve();
    /// The program with all changes so far: what a certificate is to be checked against.
    [[nodiscard]] const LinearProgram& program() const;

private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

[[nodiscard]] LpSolution solve_lp(const LinearProgram& lp);

/// Finds multipliers that prove the program infeasible, by minimising the sum of row violations.
/// The proof's gap is 0 or less when the program is feasible within tolerance.
[[nodiscard]] InfeasibilityProof prove_infeasible(const LinearProgram& lp);

struct MilpLimits {
    int most_nodes = 20000;
    double cutoff = kInfinity;  ///< only points below it are wanted
    double gap = 1e-9;          ///< a point this near to the bound counts as best
};

struct MilpSolution {
    SolveStatus status =
        SolveStatus::Stopped;  ///< Stopped with points: best found, not proven best
    bool found = false;
    double objective = 0;
    std::vector<double> x;
    double bound = 0;  ///< no point is better than this
    int nodes = 0;
};

/// Branch and bound; Infeasible means that there is no point below the cutoff. Single thread, node
/// limit instead of time limit, so the same input gives the same answer.
[[nodiscard]] MilpSolution solve_milp(const LinearProgram& lp, std::span<const int> integer_columns,
                                      const MilpLimits& limits = {});

}  // namespace bw::opt
