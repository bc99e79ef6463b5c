// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <limits>
#include <span>
#include <vector>

namespace bw::opt {

inline constexpr double kInfinity = std::numeric_limits<double>::infinity();

struct Entry {
    int column;
    double value;
};

/// minimise cost . x   subject to   row_low <= A x <= row_high,  column_low <= x <= column_high.
///
/// Bounds may be +-kInfinity. Rows are stored one after another.
class LinearProgram {
public:
    int add_column(double cost, double low, double high);
    int add_row(std::span<const Entry> entries, double low, double high);

    [[nodiscard]] int columns() const { return static_cast<int>(cost.size()); }
    [[nodiscard]] int rows() const { return static_cast<int>(row_low.size()); }
    [[nodiscard]] std::span<const Entry> row(int r) const;
    [[nodiscard]] double activity(int r, std::span<const double> x) const;

    std::vector<double> cost, column_low, column_high;
    std::vector<double> row_low, row_high;
    std::vector<int> starts{0};  ///< row r holds entries[starts[r]] .. entries[starts[r+1]-1]
    std::vector<Entry> entries;
};

enum class SolveStatus {
    Optimal,
    Infeasible,
    Unbounded,
    Stopped,  ///< a limit of iterations or nodes was reached; the point, if any, is the best found
};

struct LpSolution {
    SolveStatus status = SolveStatus::Stopped;
    double objective = 0;
    std::vector<double> x;
    std::vector<double> row_dual;  ///< d objective / d (right-hand side of the row's active bound)
    int iterations = 0;
};

/// What a row or column may be off its bound. An objective that rows with multipliers y hold is
/// then known to the sum of |y| times this, and no better, however good the answer.
inline constexpr double kRowTolerance = 1e-9;

/// How well an answer satisfies the optimality conditions, computed from the problem alone in long
/// double.
///
/// Residuals are relative: of a row to max(1, |bound|), of a reduced cost to max(1, |cost|).
struct Certificate {
    double primal_residual = 0;  ///< largest violation of a row or column bound
    double dual_residual = 0;    ///< largest reduced cost of the wrong sign
    double complementarity = 0;  ///< |primal - dual objective| beyond what kRowTolerance explains,
                                 ///< over the largest term of either, at least 1
    [[nodiscard]] bool holds(double tolerance) const {
        return primal_residual <= tolerance && dual_residual <= tolerance &&
               complementarity <= tolerance;
    }
};
[[nodiscard]] Certificate certify(const LinearProgram& lp, const LpSolution& solution);

/// A proof that no point satisfies all rows: a combination of rows whose value is bounded away from
/// what the column bounds allow. `gap` > 0 is the proof, computed in long double from the
/// multipliers alone.
struct InfeasibilityProof {
    std::vector<double> row_multiplier;
    double gap = 0;
    [[nodiscard]] bool holds() const { return gap > 0; }
};
[[nodiscard]] double infeasibility_gap(const LinearProgram& lp,
                                       std::span<const double> row_multiplier);

}  // namespace bw::opt
