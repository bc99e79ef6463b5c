#!/usr/bin/env python3
# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Make test/golden/propagation.json: what a Monte Carlo propagation must find.

From: no data, only mathematics. Each case is c = offset + sum of coefficient
times input (a coefficient stands for composition times dose), with independent
normal and rectangular inputs given by mean and standard uncertainty u (the
half-width of a rectangular input is u times the square root of 3). Mean and u
of c are the sums of the parts; the probability of low <= c <= high is found
  1. from the density of the sum of the rectangular inputs (a piecewise
     polynomial, exact), convolved with the normal part by Gauss-Legendre
     quadrature between its knots, and
  2. by numerical inversion of the characteristic function (Gil-Pelaez),
which must agree to 1e-6 (they do so to better than 1e-8), and
  3. by 10^6 seeded draws, which must agree within 5 standard errors.
The first is stored, rounded to 12 decimals. No random numbers are stored.
"""

import argparse
import itertools
import json
import math
import pathlib

import numpy as np
import scipy
import scipy.integrate
import scipy.special

SEED = 20080135

# id; terms of (coefficient, kind, value, u); offset; low; high
CASES = [
    # Mg in mmol/kg from two assays, and a rectangular weighing error.
    ("normal_and_two_rectangular",
     [(28.23, "normal", 1.0, 0.004), (24.58, "rectangular", 1.0, 0.006), (1.0, "rectangular", 0.0, 0.08)],
     0.0, 52.5, 53.2),
    # Four equal rectangular errors: the Irwin-Hall distribution, scaled.
    ("four_equal_rectangular",
     [(1.0, "rectangular", 0.25, 0.05), (1.0, "rectangular", 0.25, 0.05),
      (1.0, "rectangular", 0.25, 0.05), (1.0, "rectangular", 0.25, 0.05)],
     1.0, 1.85, 2.2),
    # One rectangular error that is all but the whole: nearly a box.
    ("one_rectangular_rules",
     [(2.3044, "rectangular", 1.0, 0.02), (2.3044, "normal", 0.0, 0.0004)],
     0.0, 2.23, 2.37),
    # Normal errors only, with a negative coefficient and a lopsided band.
    ("normal_only",
     [(1.0, "normal", 468.967, 0.9), (-1.0, "normal", 545.87, 1.1), (2.0, "normal", 52.8171, 0.12)],
     0.0, 27.5, 32.0),
    # Unequal rectangular errors of either sign, band in one tail.
    ("three_unequal_rectangular",
     [(1.5, "rectangular", 2.0, 0.1), (-0.5, "rectangular", 1.0, 0.2), (0.25, "rectangular", 4.0, 0.06)],
     -0.5, 3.2, 4.0),
]


def parts(terms):
    """Standard deviation of the normal part, half-widths of the others."""
    sigma = math.sqrt(math.fsum((a * u) ** 2 for a, kind, _, u in terms if kind == "normal"))
    widths = [abs(a) * u * math.sqrt(3.0) for a, kind, _, u in terms if kind == "rectangular"]
    return sigma, widths


def rectangular_sum(widths, power):
    """f(t) = sum over signs of (t - knot)^power_+ /(power! * volume), and the knots."""
    knots = [(math.fsum(s * w for s, w in zip(signs, widths)), math.prod(-s for s in signs))
             for signs in itertools.product((-1, 1), repeat=len(widths))]
    scale = math.factorial(power) * math.prod(2.0 * w for w in widths)

    def function(t):
        return math.fsum(sign * (t - knot) ** power for knot, sign in knots if t > knot) / scale

    return function, sorted({round(knot, 14) for knot, _ in knots})


def cumulative_by_convolution(x, sigma, widths):
    """P(centred sum <= x)."""
    if not widths:
        return float(scipy.special.ndtr(x / sigma))
    if sigma == 0.0:
        top = math.fsum(widths)
        if abs(x) >= top:
            return 1.0 if x > 0 else 0.0
        return rectangular_sum(widths, len(widths))[0](x)
    density, knots = rectangular_sum(widths, len(widths) - 1)
    # The normal part is steep near x: cut there too.
    cuts = sorted(set(knots) | {min(max(x + k * sigma, knots[0]), knots[-1]) for k in range(-9, 10)})
    nodes, weights = np.polynomial.legendre.leggauss(24)
    total = []
    for left, right in zip(cuts, cuts[1:]):
        half, middle = 0.5 * (right - left), 0.5 * (right + left)
        for node, weight in zip(nodes, weights):
            t = middle + half * float(node)
            total.append(half * float(weight) * density(t) * float(scipy.special.ndtr((x - t) / sigma)))
    return math.fsum(total)


def probability_by_inversion(low, high, sigma, widths):
    """P(low <= centred sum <= high), Gil-Pelaez."""
    u = math.sqrt(sigma**2 + sum(w * w / 3.0 for w in widths))

    def integrand(s):
        t = s / u
        value = math.exp(-0.5 * (sigma * t) ** 2)
        for w in widths:
            value *= math.sin(w * t) / (w * t) if t else 1.0
        middle, half = 0.5 * (high + low), 0.5 * (high - low)
        return value * math.cos(middle * t) * (2.0 * math.sin(half * t) / t if t else 2.0 * half) / u

    # The integrand falls as the normal part, or as the power of t of the others.
    end = 9.0 * u / sigma if sigma else 2.0e4
    total = []
    edges = np.arange(0.0, end + 10.0, 10.0)
    for left, right in zip(edges, edges[1:]):
        total.append(scipy.integrate.fixed_quad(np.vectorize(integrand), left, right, n=40)[0])
    return math.fsum(total) / math.pi


def probability_by_draws(terms, offset, low, high, count=1_000_000):
    """The share of seeded draws that fall within the band."""
    rng = np.random.Generator(np.random.PCG64(SEED))
    c = np.full(count, offset)
    for a, kind, value, u in terms:
        if kind == "normal":
            c += a * rng.normal(value, u, count)
        else:
            c += a * rng.uniform(value - u * math.sqrt(3.0), value + u * math.sqrt(3.0), count)
    return float(np.mean((c >= low) & (c <= high)))


def main():
    root = pathlib.Path(__file__).resolve().parents[2]
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--out", type=pathlib.Path, default=root / "test" / "golden", help="folder to write to")
    out = parser.parse_args().out
    out.mkdir(parents=True, exist_ok=True)
    cases, worst = [], 0.0
    for name, terms, offset, low, high in CASES:
        mean = math.fsum([offset] + [a * value for a, _, value, _ in terms])
        u = math.sqrt(math.fsum((a * s) ** 2 for a, _, _, s in terms))
        sigma, widths = parts(terms)
        first = (cumulative_by_convolution(high - mean, sigma, widths)
                 - cumulative_by_convolution(low - mean, sigma, widths))
        second = probability_by_inversion(low - mean, high - mean, sigma, widths)
        third = probability_by_draws(terms, offset, low, high)
        worst = max(worst, abs(first - second))
        if abs(first - second) > 1e-6:
            raise SystemExit(f"propagation: {name}: convolution {first:.12f}, inversion {second:.12f}")
        if abs(first - third) > 5.0 * math.sqrt(first * (1.0 - first) / 1e6):
            raise SystemExit(f"propagation: {name}: convolution {first:.12f}, draws {third:.6f}")
        cases.append({
            "id": name,
            "terms": [{"coefficient": a, "kind": kind, "value": value, "u": s} for a, kind, value, s in terms],
            "offset": offset, "mean": mean, "u": u, "low": low, "high": high,
            "probability": round(first, 12),
        })
    made_with = {"numpy": np.__version__, "scipy": scipy.__version__}
    lines = ["{", '"version":1,', f'"made_with":{json.dumps(made_with)},', '"cases":[']
    lines.append(",\n".join(json.dumps(case, indent=1) for case in cases))
    lines += ["]", "}"]
    path = out / "propagation.json"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")
    print(f"propagation.json: {len(cases)} cases, methods agree to {worst:.1e}, {path.stat().st_size} bytes")


if __name__ == "__main__":
    main()
