#!/usr/bin/env python3
# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Make test/golden/vat_course.json: a vat's equations solved by another integrator.

From: scipy.integrate.solve_ivp (Radau, relative tolerance 1e-11). The equations
are those of a vat in small: grains that shrink by film transfer, CO2 that passes
to the air, crystals of calcium carbonate whose faces grow with (Omega - 1)^1.9,
and a carbonate system of two constants between them. They are stiff as the full
vat is: grains are gone in a minute, crystals take days. test/golden writes the
same equations down again and integrates them with bw::num::integrate.
"""

import argparse
import json
import pathlib

import numpy as np
import scipy
from scipy.integrate import solve_ivp

CASES = [
    {"name": "seeded", "alkalinity": 4.0e-3, "calcium": 1.1e-2, "dissolving_per_h": 120.0, "held_back": 0.02,
     "exchange_per_h": 1.0, "co2_of_air": 1.2e-5, "k1": 1.42e-6, "k2": 1.08e-9, "ksp": 6.5e-7,
     "seed_mol": 1.0e-8, "seed_radius_um": 0.5, "growth_um_per_h": 1.0e-3, "order": 1.9},
    {"name": "slow grains, much air", "alkalinity": 2.4e-3, "calcium": 1.0e-2, "dissolving_per_h": 2.0,
     "held_back": 0.2, "exchange_per_h": 20.0, "co2_of_air": 1.1e-5, "k1": 1.2e-6, "k2": 0.9e-9, "ksp": 6.6e-7,
     "seed_mol": 1.0e-6, "seed_radius_um": 1.0, "growth_um_per_h": 2.0e-3, "order": 1.9},
    {"name": "closed, much seed", "alkalinity": 5.0e-3, "calcium": 1.2e-2, "dissolving_per_h": 60.0,
     "held_back": 0.05, "exchange_per_h": 0.0, "co2_of_air": 1.2e-5, "k1": 1.42e-6, "k2": 1.08e-9, "ksp": 6.0e-7,
     "seed_mol": 1.0e-5, "seed_radius_um": 0.3, "growth_um_per_h": 2.0e-3, "order": 1.5},
]
HOURS = [0.01, 0.1, 1.0, 8.0, 48.0, 200.0]


def water(case, y):
    """What is dissolved: CO2 and Omega."""
    left, co2_taken, face = y
    fallen = case["seed_mol"] * ((1 + face / case["seed_radius_um"]) ** 3 - 1)
    alkalinity = 1e-4 + case["alkalinity"] * (1 - left) - 2 * fallen
    carbon = 1e-4 + case["alkalinity"] * (1 - left) + co2_taken - fallen
    k1, k2 = case["k1"], case["k2"]
    # alkalinity h^2 + k1 (alkalinity - carbon) h + k1 k2 (alkalinity - 2 carbon) = 0
    b, c = k1 * (alkalinity - carbon), k1 * k2 * (alkalinity - 2 * carbon)
    h = (-b + np.sqrt(b * b - 4 * alkalinity * c)) / (2 * alkalinity)
    share = h * h + k1 * h + k1 * k2
    omega = (case["calcium"] - fallen) * carbon * k1 * k2 / share / case["ksp"]
    return carbon * h * h / share, omega


def slope(case):
    def f(_, y):
        co2, omega = water(case, y)
        left = max(y[0], 0.0)
        grains = -case["dissolving_per_h"] * left / (left + 1e-3) ** (2 / 3) * (1 - case["held_back"] * (1 - left))
        growth = case["growth_um_per_h"] * max(omega - 1, 0.0) ** case["order"]
        return [grains, case["exchange_per_h"] * (case["co2_of_air"] - co2), growth]
    return f


def main():
    root = pathlib.Path(__file__).resolve().parents[2]
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--out", type=pathlib.Path, default=root / "test" / "golden", help="folder to write to")
    out = parser.parse_args().out
    out.mkdir(parents=True, exist_ok=True)
    cases = []
    for case in CASES:
        found = solve_ivp(slope(case), (0.0, HOURS[-1]), [1.0, 0.0, 0.0], method="Radau", t_eval=HOURS,
                          rtol=1e-11, atol=[1e-13, 1e-16, 1e-13])
        if not found.success:
            raise SystemExit(f"vat_course: {case['name']}: {found.message}")
        rows = [[float(f"{value:.10e}") for value in column] for column in found.y.T]
        cases.append({**case, "hours": HOURS, "y": rows,
                      "omega": [float(f"{water(case, column)[1]:.10e}") for column in found.y.T]})
    made_with = {"numpy": np.__version__, "scipy": scipy.__version__}
    lines = ["{", '"version":1,', f'"made_with":{json.dumps(made_with)},', '"cases":[']
    lines.append(",\n".join(json.dumps(case) for case in cases))
    lines += ["]", "}"]
    path = out / "vat_course.json"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")
    print(f"vat_course.json: {len(cases)} cases, {path.stat().st_size} bytes")


if __name__ == "__main__":
    main()
