// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "opt/linear_program.hpp"

#include <algorithm>
#include <cmath>

namespace bw::opt {
namespace {

/// Least value of d * v over low <= v <= high; -infinity when unbounded.
long double least(long double d, double low, double high) {
    if (d == 0) {
        return 0;
    }
    const double bound = d > 0 ? low : high;
    return std::isinf(bound) ? -static_cast<long double>(kInfinity)
                             : d * static_cast<long double>(bound);
}

/// c - A^T y for every column.
std::vector<long double> reduced_costs(const LinearProgram& lp, std::span<const double> y,
                                       bool with_cost) {
    std::vector<long double> d(static_cast<std::size_t>(lp.columns()), 0.0L);
    if (with_cost) {
        std::copy(lp.cost.begin(), lp.cost.end(), d.begin());
    }
    for (int r = 0; r < lp.rows(); ++r) {
        const long double multiplier = y[static_cast<std::size_t>(r)];
        for (const Entry& e : lp.row(r)) {
            d[static_cast<std::size_t>(e.column)] -= multiplier * static_cast<long double>(e.value);
        }
    }
    return d;
}

/// An upper bound that the rows imply for a column without one: from a row of terms that cannot be
/// negative.
double implied_high(const LinearProgram& lp, int column) {
    double best = kInfinity;
    for (int r = 0; r < lp.rows(); ++r) {
        const double high = lp.row_high[static_cast<std::size_t>(r)];
        double coefficient = 0;
        bool no_negative_term = !std::isinf(high);
        for (const Entry& e : lp.row(r)) {
            no_negative_term = no_negative_term && e.value >= 0 &&
                               lp.column_low[static_cast<std::size_t>(e.column)] >= 0;
            coefficient = e.column == column ? e.value : coefficient;
        }
        if (no_negative_term && coefficient > 0) {
            best = std::min(best, high / coefficient);
        }
    }
    return best;
}

double excess(long double value, double low, double high) {
    const long double below =
        std::isinf(low) ? 0.0L
                        : (static_cast<long double>(low) - value) / std::max(1.0, std::abs(low));
    const long double above =
        std::isinf(high) ? 0.0L
                         : (value - static_cast<long double>(high)) / std::max(1.0, std::abs(high));
    return static_cast<double>(std::max({0.0L, below, above}));
}

}  // namespace

int LinearProgram::add_column(double column_cost, double low, double high) {
    cost.push_back(column_cost);
    column_low.push_back(low);
    column_high.push_back(high);
    return columns() - 1;
}

int LinearProgram::add_row(std::span<const Entry> row_entries, double low, double high) {
    for (const Entry& e : row_entries) {
        if (e.value != 0.0) {
            entries.push_back(e);
        }
    }
    starts.push_back(static_cast<int>(entries.size()));
    row_low.push_back(low);
    row_high.push_back(high);
    return rows() - 1;
}

std::span<const Entry> LinearProgram::row(int r) const {
    const auto from = static_cast<std::size_t>(starts[static_cast<std::size_t>(r)]);
    const auto to = static_cast<std::size_t>(starts[static_cast<std::size_t>(r) + 1]);
    return std::span<const Entry>(entries).subspan(from, to - from);
}

double LinearProgram::activity(int r, std::span<const double> x) const {
    long double sum = 0;
    for (const Entry& e : row(r)) {
        sum += static_cast<long double>(e.value) *
               static_cast<long double>(x[static_cast<std::size_t>(e.column)]);
    }
    return static_cast<double>(sum);
}

Certificate certify(const LinearProgram& lp, const LpSolution& solution) {
    Certificate out;
    long double primal = 0;
    for (int j = 0; j < lp.columns(); ++j) {
        const auto k = static_cast<std::size_t>(j);
        primal += static_cast<long double>(lp.cost[k]) * static_cast<long double>(solution.x[k]);
        out.primal_residual = std::max(out.primal_residual,
                                       excess(solution.x[k], lp.column_low[k], lp.column_high[k]));
    }
    for (int r = 0; r < lp.rows(); ++r) {
        const auto k = static_cast<std::size_t>(r);
        out.primal_residual = std::max(
            out.primal_residual, excess(lp.activity(r, solution.x), lp.row_low[k], lp.row_high[k]));
    }
    // Dual objective: sum over rows of y times the bound it leans on, plus the least the columns
    // can add.
    const auto d = reduced_costs(lp, solution.row_dual, true);
    long double dual = 0;
    long double size = std::max(1.0L, std::abs(primal));
    double largest_wrong = 0;
    long double explained = 0;  // by bounds that hold to kRowTolerance
    for (int j = 0; j < lp.columns(); ++j) {
        const auto k = static_cast<std::size_t>(j);
        const long double part = least(d[k], lp.column_low[k], lp.column_high[k]);
        if (std::isinf(part)) {
            const double relative =
                static_cast<double>(std::abs(d[k])) / std::max(1.0, std::abs(lp.cost[k]));
            largest_wrong = std::max(largest_wrong, relative);
        } else {
            dual += part;
            size = std::max(size, std::abs(part));
        }
    }
    for (int r = 0; r < lp.rows(); ++r) {
        const auto k = static_cast<std::size_t>(r);
        const double y = solution.row_dual[k];
        const double bound = y > 0 ? lp.row_low[k] : lp.row_high[k];
        explained += std::abs(y) * std::max(1.0, std::isinf(bound) ? 1.0 : std::abs(bound));
        const long double part = least(y, lp.row_low[k], lp.row_high[k]);
        if (std::isinf(part)) {
            largest_wrong = std::max(largest_wrong, std::abs(solution.row_dual[k]));
        } else {
            dual += part;
            size = std::max(size, std::abs(part));
        }
    }
    out.dual_residual = largest_wrong;
    const long double gap = std::abs(primal - dual) - explained * kRowTolerance;
    out.complementarity = static_cast<double>(std::max(0.0L, gap) / size);
    return out;
}

double infeasibility_gap(const LinearProgram& lp, std::span<const double> row_multiplier) {
    // A multiplier's round-off on a column without an upper bound would spoil the proof: the bound
    // that the rows imply serves instead, where there is one. For any x within its bounds, y . A x
    // <= most_of_columns; every point that satisfies the rows has y . A x >= least_of_rows. If
    // least_of_rows > most_of_columns there is no such point.
    const auto d = reduced_costs(lp, row_multiplier, false);  // -A^T y
    long double most_of_columns = 0;
    for (int j = 0; j < lp.columns(); ++j) {
        const auto k = static_cast<std::size_t>(j);
        const double high =
            std::isinf(lp.column_high[k]) && d[k] < 0 ? implied_high(lp, j) : lp.column_high[k];
        most_of_columns -= least(d[k], lp.column_low[k], high);
    }
    long double least_of_rows = 0;
    for (int r = 0; r < lp.rows(); ++r) {
        const auto k = static_cast<std::size_t>(r);
        least_of_rows += least(row_multiplier[k], lp.row_low[k], lp.row_high[k]);
    }
    if (std::isinf(most_of_columns) || std::isinf(least_of_rows)) {
        return -kInfinity;
    }
    return static_cast<double>(least_of_rows - most_of_columns);
}

}  // namespace bw::opt
