# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""A linear program with dense rows, solved in several ways, its verdict proved in rational arithmetic on the exact values of
its doubles. Used by recipe_lp.py, which says what a verdict has to pass."""

import math
from fractions import Fraction

import highspy
import numpy as np
import scipy.optimize

ELASTIC_MINIMUM = 1e-4
INF = math.inf


def rounded(value, digits=9):
    """The double nearest to the value written with so many significant digits."""
    if value is None or math.isinf(value) or value == 0.0:
        return value
    return float(f"{value:.{digits - 1}e}")


class Problem:
    """A linear program with dense rows."""

    def __init__(self, note, cost):
        self.note = note
        self.cost = cost
        self.column_low = [0.0] * len(cost)
        self.column_high = [INF] * len(cost)
        self.row_low, self.row_high, self.matrix, self.names = [], [], [], []

    def row(self, name, entries, low, high):
        self.names.append(name)
        self.matrix.append(entries)
        self.row_low.append(low)
        self.row_high.append(high)

    def round(self):
        for field in ("cost", "column_low", "column_high", "row_low", "row_high"):
            setattr(self, field, [rounded(v) for v in getattr(self, field)])
        self.matrix = [[rounded(v) for v in row] for row in self.matrix]

    def shifted(self, amount):
        """The same with every row relaxed (amount > 0) or tightened (< 0)."""
        other = Problem(self.note, self.cost)
        other.column_low, other.column_high = self.column_low, self.column_high
        for name, row, low, high in zip(self.names, self.matrix, self.row_low, self.row_high):
            other.row(name, row, low - amount, high + amount)
        return other

    def elastic(self):
        """Least sum of row violations; two more columns for each row."""
        n, m = len(self.cost), len(self.matrix)
        other = Problem(self.note, [0.0] * n + [1.0] * (2 * m))
        other.column_low = self.column_low + [0.0] * (2 * m)
        other.column_high = self.column_high + [INF] * (2 * m)
        for i, row in enumerate(self.matrix):
            extra = [0.0] * (2 * m)
            extra[2 * i], extra[2 * i + 1] = 1.0, -1.0
            other.row(self.names[i], row + extra, self.row_low[i], self.row_high[i])
        return other


# ---------------------------------------------------------------- solving

def highs_solve(problem, presolve="on", solver="simplex", strategy=1):
    """Verdict, objective and the solver object."""
    n, m = len(problem.cost), len(problem.matrix)
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = n, m
    lp.col_cost_ = np.array(problem.cost)
    lp.col_lower_, lp.col_upper_ = np.array(problem.column_low), np.array(problem.column_high)
    lp.row_lower_, lp.row_upper_ = np.array(problem.row_low), np.array(problem.row_high)
    start, index, value = [0], [], []
    for row in problem.matrix:
        for j, v in enumerate(row):
            if v != 0.0:
                index.append(j)
                value.append(v)
        start.append(len(index))
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = np.array(start)
    lp.a_matrix_.index_ = np.array(index)
    lp.a_matrix_.value_ = np.array(value)
    h = highspy.Highs()
    for key, setting in {
        "output_flag": False, "threads": 1, "random_seed": 0, "presolve": presolve,
        "solver": solver, "simplex_strategy": strategy, "small_matrix_value": 1e-12,
        "primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10,
    }.items():
        if h.setOptionValue(key, setting) != highspy.HighsStatus.kOk:
            raise RuntimeError(f"option {key} refused")
    h.passModel(lp)
    h.run()
    status = h.getModelStatus()
    if status == highspy.HighsModelStatus.kOptimal:
        return "optimal", h.getInfo().objective_function_value, h
    if status == highspy.HighsModelStatus.kInfeasible:
        return "infeasible", None, h
    return str(status), None, h


def scipy_solve(problem):
    """Verdict and objective by scipy.optimize.linprog."""
    a, b = [], []
    for row, low, high in zip(problem.matrix, problem.row_low, problem.row_high):
        if high < INF:
            a.append(row)
            b.append(high)
        if low > -INF:
            a.append([-v for v in row])
            b.append(-low)
    bounds = [(lo, None if hi == INF else hi) for lo, hi in zip(problem.column_low, problem.column_high)]
    result = scipy.optimize.linprog(
        problem.cost, A_ub=a, b_ub=b, bounds=bounds, method="highs",
        options={"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10})
    return {0: "optimal", 2: "infeasible"}.get(result.status, str(result.status)), result.fun


def exact_solve(matrix, right):
    """Solve a square system in rational arithmetic; None when singular."""
    n = len(right)
    table = [list(row) + [r] for row, r in zip(matrix, right)]
    for k in range(n):
        candidates = [i for i in range(k, n) if table[i][k] != 0]
        if not candidates:
            return None
        pivot = min(candidates, key=lambda i: sum(v != 0 for v in table[i]))
        table[k], table[pivot] = table[pivot], table[k]
        for i in range(k + 1, n):
            if table[i][k] != 0:
                factor = table[i][k] / table[k][k]
                for j in range(k + 1, n + 1):
                    if table[k][j] != 0:
                        table[i][j] -= factor * table[k][j]
                table[i][k] = Fraction(0)
    out = [Fraction(0)] * n
    for k in reversed(range(n)):
        rest = table[k][n] - sum((table[k][j] * out[j] for j in range(k + 1, n)), Fraction(0))
        out[k] = rest / table[k][k]
    return out


def exact_optimum(problem, h):
    """Exact objective at the solver's basis, or None if not proved optimal."""
    status = highspy.HighsBasisStatus
    basis = h.getBasis()
    if not basis.valid:
        return None
    n, m = len(problem.cost), len(problem.matrix)
    col, row = list(basis.col_status), list(basis.row_status)
    a = [[Fraction(v) for v in line] for line in problem.matrix]
    cost = [Fraction(v) for v in problem.cost]
    basic = [j for j in range(n) if col[j] == status.kBasic]
    tight = [i for i in range(m) if row[i] != status.kBasic]
    if len(basic) != len(tight):
        return None

    def bound(kind, low, high):
        value = high if kind == status.kUpper else low
        return None if math.isinf(value) else Fraction(value)

    x = [Fraction(0)] * n
    for j in range(n):
        if col[j] != status.kBasic:
            value = bound(col[j], problem.column_low[j], problem.column_high[j])
            if value is None:
                return None
            x[j] = value
    right = []
    for i in tight:
        value = bound(row[i], problem.row_low[i], problem.row_high[i])
        if value is None:
            return None
        right.append(value - sum(a[i][j] * x[j] for j in range(n) if col[j] != status.kBasic))
    solution = exact_solve([[a[i][j] for j in basic] for i in tight], right)
    if solution is None:
        return None
    for j, value in zip(basic, solution):
        x[j] = value
    dual = exact_solve([[a[i][j] for i in tight] for j in basic], [cost[j] for j in basic])
    if dual is None:
        return None
    # Primal feasibility.
    for value, low, high in zip(x, problem.column_low, problem.column_high):
        if value < low or value > high:
            return None
    activity = [sum((a[i][j] * x[j] for j in range(n) if x[j] != 0), Fraction(0)) for i in range(m)]
    for value, low, high in zip(activity, problem.row_low, problem.row_high):
        if value < low or value > high:
            return None
    # Dual feasibility: a multiplier pushes only against a bound that is met.
    for i, y in zip(tight, dual):
        if (y > 0 and activity[i] != problem.row_low[i]) or (y < 0 and activity[i] != problem.row_high[i]):
            return None
    for j in range(n):
        reduced = cost[j] - sum((a[i][j] * y for i, y in zip(tight, dual)), Fraction(0))
        if (reduced > 0 and x[j] != problem.column_low[j]) or (reduced < 0 and x[j] != problem.column_high[j]):
            return None
    return sum((c * v for c, v in zip(cost, x)), Fraction(0))


def close(one, other, tolerance=1e-9):
    return abs(one - other) <= tolerance * max(abs(one), abs(other), 1e-300)


def judge(problem, interior=True):
    """(verdict, objective, violation) when all the tests hold, otherwise None."""
    runs = [highs_solve(problem, "on"), highs_solve(problem, "off"),
            highs_solve(problem, "off", strategy=4), highs_solve(problem, "on", "ipx")]
    verdict = runs[0][0]
    if verdict not in ("optimal", "infeasible") or any(r[0] != verdict for r in runs):
        return None
    other, value = scipy_solve(problem)
    if other != verdict:
        return None
    if verdict == "optimal":
        exact = next((e for e in (exact_optimum(problem, r[2]) for r in runs) if e is not None), None)
        if exact is None or exact <= 0:
            return None
        exact = float(exact)
        if not all(close(exact, r[1]) for r in runs) or not close(exact, value):
            return None
        if highs_solve(problem.shifted(1e-7), "off")[0] != "optimal":
            return None
        if interior and highs_solve(problem.shifted(-1e-7), "off")[0] != "optimal":
            return None
        return verdict, exact, 0.0
    elastic = problem.elastic()
    solved, least, h = highs_solve(elastic, "off")
    if solved != "optimal":
        return None
    exact = exact_optimum(elastic, h)
    if exact is None or exact <= ELASTIC_MINIMUM:
        return None
    return verdict, None, float(exact)
