#!/usr/bin/env python3
# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Make test/golden/chance_recipes.json: small recipes with a chance for every band, solved by another method.

Each problem is   minimise price.x,  x >= 0
                  P(low_i <= a_i x + u_i z <= high_i) >= chance   for every band i, z standard normal,
                  u_i^2 = sum_j (a_ij u_j x_j)^2                  (one assay per material)

and is solved by scipy's SLSQP with the chance as it stands (no tangents, no cone), from several starts; the best
answer that holds every band to 1e-9 counts, and a problem is kept when two starts agree to 1e-7. Amounts are mol per kg of
material, made up from a seeded stream and rounded to 6 digits; they are nobody's salts.
"""
import argparse
import json
import pathlib

import numpy as np
import scipy
from scipy.linalg import null_space
from scipy.optimize import minimize
from scipy.stats import norm

SEED, WANTED, BANDS, MATERIALS, STARTS = 19831125, 12, 4, 7, 6


def rounded(x: float) -> float:
    return float(f"{x:.6g}")


def problem(rng: np.random.Generator) -> dict:
    amounts = [[0.0] * MATERIALS for _ in range(BANDS)]
    for j in range(MATERIALS):
        amounts[j % BANDS][j] = rounded(rng.uniform(3, 9))
        other = int(rng.integers(BANDS))
        amounts[other][j] += rounded(rng.uniform(0, 1)) if other != j % BANDS else 0
    doses = rng.uniform(1e-3, 6e-3, MATERIALS)
    middle = np.array(amounts) @ doses
    width = rng.uniform(0.01, 0.05, BANDS)
    return {"chance": rounded(rng.uniform(0.65, 0.98)),
            "price": [rounded(p) for p in rng.uniform(0.3, 3, MATERIALS)],
            "u": [rounded(u) for u in rng.uniform(0.002, 0.012, MATERIALS)],
            "amounts": amounts,
            "low": [rounded(m * (1 - w)) for m, w in zip(middle, width)],
            "high": [rounded(m * (1 + w)) for m, w in zip(middle, width)]}


def solve(p: dict, rng: np.random.Generator) -> float | None:
    a, u = np.array(p["amounts"]), np.array(p["u"])
    low, high, price = np.array(p["low"]), np.array(p["high"]), np.array(p["price"])
    scale = 3e-3

    def room(y: np.ndarray) -> np.ndarray:
        x = y * scale
        m, s = a @ x, np.sqrt(((a * u) ** 2) @ (x ** 2)) + 1e-300
        return norm.cdf((high - m) / s) - norm.cdf((low - m) / s) - p["chance"]

    found = []
    # A chance above a half implies that the mean is inside; far outside, the chance is flat and shows no way.
    b = a * scale / high[:, None]
    inside = [{"type": "ineq", "fun": lambda y: 1 - b @ y, "jac": lambda y: -b},
              {"type": "ineq", "fun": lambda y: b @ y - low / high, "jac": lambda y: b}]
    middle = np.linalg.lstsq(a, (low + high) / 2, rcond=None)[0] / scale
    free = null_space(a)
    for _ in range(STARTS):
        start = middle + free @ rng.uniform(-0.3, 0.3, free.shape[1])
        got = minimize(lambda y: price @ y, start, jac=lambda y: price, method="SLSQP", bounds=[(0, 10)] * MATERIALS,
                       constraints=[{"type": "ineq", "fun": room}, *inside], options={"maxiter": 300, "ftol": 1e-12})
        if room(got.x).min() >= -1e-9:
            found.append(float(price @ got.x * scale))
    found.sort()
    return found[0] if len(found) >= 2 and found[1] - found[0] <= 1e-7 * found[0] else None


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--out", type=pathlib.Path, required=True)
    folder = parser.parse_args().out
    rng = np.random.Generator(np.random.PCG64(SEED))
    problems = []
    while len(problems) < WANTED:
        p = problem(rng)
        answer = solve(p, rng)
        if answer is not None:
            problems.append({**p, "cost": answer})
    text = json.dumps({"made_by": f"tools/reference/chance_recipes.py, scipy {scipy.__version__}, numpy {np.__version__}",
                       "seed": SEED, "problems": problems}, indent=1)
    (folder / "chance_recipes.json").write_text(text + "\n")


main()
