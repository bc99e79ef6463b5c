#!/usr/bin/env python3
# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Make test/golden/seawater_carbonate.json: constants and states of the carbon dioxide system in seawater.

From: the Python package PyCO2SYS, at one atmosphere, on the total scale.
"constants": every constant on a grid of salinity and temperature, for each choice
of fits. "states": pH, saturation and the rest from alkalinity with inorganic
carbon, partial pressure or pH, with phosphate, silicate and ammonia in some rows.
The package ends its search for pH at steps of 1e-8, so pH is good to about that.

Before anything is written, check values that the Guide to best practices for ocean
CO2 measurements (2007), chapter 5, prints for S 35 and 25 degC are met. It moves
water, phosphoric and silicic acid from the seawater to the total scale by
subtracting 0.015 from ln K; that is undone here.

Numbers are rounded to 13 significant digits.
"""

import argparse
import json
import math
import pathlib

import numpy as np
import PyCO2SYS as pyco2

SALINITIES = [5.0, 10.0, 20.0, 30.0, 35.0, 40.0, 45.0]
TEMPERATURES = [10.0, 15.0, 20.0, 25.0, 30.0, 35.0]
ALKALINITIES = [1500.0, 2300.0, 3000.0, 4000.0, 5000.0]  # umol/kg
CARBON_PER_ALKALINITY = [0.85, 0.92, 1.03]
PARTIAL_PRESSURES = [280.0, 420.0, 1000.0]  # uatm
PHS = [7.4, 8.0, 8.6]
# name in the file: numbers of the package
CARBONIC = {"lueker": 10, "sulpis": 16, "waters": 15}
FLUORIDE = {"perez_fraga": 2, "dickson_riley": 1}
BORON = {"lee": 2, "uppstrom": 1}
CHOICES = [("lueker", "perez_fraga", "lee"), ("lueker", "dickson_riley", "uppstrom"),
           ("sulpis", "dickson_riley", "lee"), ("waters", "perez_fraga", "uppstrom")]
CONSTANTS = {"k0": "k_CO2", "fugacity_factor": "fugacity_factor", "k1": "k_carbonic_1", "k2": "k_carbonic_2",
             "kb": "k_borate", "kw": "k_water", "ks": "k_bisulfate", "kf": "k_fluoride", "kp1": "k_phosphoric_1",
             "kp2": "k_phosphoric_2", "kp3": "k_phosphoric_3", "ksi": "k_silicate", "knh4": "k_ammonia",
             "ksp_calcite": "k_calcite", "ksp_aragonite": "k_aragonite"}
TOTALS = {"boron": "total_borate", "sulfate": "total_sulfate", "fluoride": "total_fluoride", "calcium": "total_calcium"}
STATES = {"ph_total": "pH_total", "ph_free": "pH_free", "ph_sws": "pH_sws", "ph_nbs": "pH_nbs", "pco2_uatm": "pCO2",
          "omega_calcite": "saturation_calcite", "omega_aragonite": "saturation_aragonite", "revelle": "revelle_factor"}
AMOUNTS = {"alkalinity": "alkalinity", "inorganic_carbon": "dic", "co3": "carbonate", "boh4": "alkalinity_borate"}
# ln K at S 35, 25 degC, as printed, and what must be undone
PUBLISHED = {"k0": (-3.5617, 0), "ks": (-2.30, 0), "kf": (-6.09, 0), "kb": (-19.7964, 0), "kw": (-30.434, 0.015),
             "kp1": (-3.71, 0.015), "kp2": (-13.727, 0.015), "kp3": (-20.24, 0.015), "ksi": (-21.61, 0.015),
             "k1": (-5.8472 * math.log(10), 0), "k2": (-8.9660 * math.log(10), 0)}


def rounded(value):
    return float(f"{float(value):.12e}")


def options(choice):
    carbonic, fluoride, boron = choice
    return {"opt_k_carbonic": CARBONIC[carbonic], "opt_k_fluoride": FLUORIDE[fluoride],
            "opt_total_borate": BORON[boron], "opt_k_bisulfate": 1, "opt_pH_scale": 1}


def solve(first, second, second_type, salinity, temperature, choice, **totals):
    return pyco2.sys(par1=first, par1_type=1, par2=second, par2_type=second_type, salinity=salinity,
                     temperature=temperature, **options(choice), **totals)


def check_published():
    on_sws = pyco2.sys(salinity=35.0, temperature=25.0, **{**options(CHOICES[0]), "opt_pH_scale": 2})
    on_total = pyco2.sys(salinity=35.0, temperature=25.0, **options(CHOICES[0]))
    for name, (printed, moved) in PUBLISHED.items():
        found = math.log((on_sws if moved else on_total)[CONSTANTS[name]]) - moved
        digits = 0.006 if name in ("ks", "kf", "kp1", "kp3", "ksi") else 0.0006
        if abs(found - printed) > digits:
            raise SystemExit(f"seawater_carbonate: ln {name} is {found:.5f}, printed {printed}")


def constant_rows():
    salinity, temperature = (a.ravel() for a in np.meshgrid(SALINITIES, TEMPERATURES, indexing="ij"))
    rows = []
    for choice in CHOICES:
        r = pyco2.sys(salinity=salinity, temperature=temperature, **options(choice))
        columns = [r[name] for name in CONSTANTS.values()] + [r[name] * 1e-6 for name in TOTALS.values()]
        columns = [np.broadcast_to(c, salinity.shape) for c in columns]
        rows += [[*choice, s, t, *(rounded(c[i]) for c in columns)] for i, (s, t) in enumerate(zip(salinity, temperature))]
    return rows


def state_rows():
    seconds = [("inorganic_carbon", 2, r) for r in CARBON_PER_ALKALINITY]
    seconds += [("partial_pressure", 4, p) for p in PARTIAL_PRESSURES] + [("ph_total", 3, p) for p in PHS]
    given = []
    for s in SALINITIES:
        for t in TEMPERATURES:
            for alkalinity in ALKALINITIES:
                for kind, number, value in seconds:
                    given.append((s, t, alkalinity, kind, number, alkalinity * value if number == 2 else value))
    rows = []
    for c, choice in enumerate(CHOICES):
        part = [g for i, g in enumerate(given) if i % len(CHOICES) == c]
        s, t, alkalinity, kind, number, value = (np.array(column) for column in zip(*part))
        n = np.arange(len(part))
        totals = {"total_phosphate": np.where(n % 3 == 0, 40.0, 0.0), "total_silicate": np.where(n % 3 == 1, 100.0, 0.0),
                  "total_ammonia": np.where(n % 5 == 0, 30.0, 0.0)}
        r = solve(alkalinity, value, number, s, t, choice, **totals)
        columns = [r[name] for name in STATES.values()] + [r[name] * 1e-6 for name in AMOUNTS.values()]
        for i in range(len(part)):
            second = value[i] * (1e-6 if number[i] == 2 else 1)
            nutrients = [rounded(a[i] * 1e-6) for a in totals.values()]
            borate = np.broadcast_to(r["total_borate"], s.shape)[i] * 1e-6
            rows.append([*choice, s[i], t[i], rounded(alkalinity[i] * 1e-6), str(kind[i]), rounded(second),
                         rounded(borate), *nutrients, *(rounded(column[i]) for column in columns)])
    return rows


def main():
    root = pathlib.Path(__file__).resolve().parents[2]
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--out", type=pathlib.Path, default=root / "test" / "golden", help="folder to write to")
    out = parser.parse_args().out
    out.mkdir(parents=True, exist_ok=True)
    check_published()
    constants, states = constant_rows(), state_rows()
    head = ["carbonic", "fluoride", "boron", "salinity", "celsius"]
    names = {"constants": [*head, *CONSTANTS, *(f"total_{name}" for name in TOTALS)],
             "states": [*head, "first", "second_kind", "second", "total_boron", "total_phosphate", "total_silicate",
                        "total_ammonia", *STATES, *AMOUNTS]}
    lines = ["{", '"version":1,', f'"made_with":{json.dumps({"PyCO2SYS": pyco2.__version__, "numpy": np.__version__})},']
    for title, rows in (("constants", constants), ("states", states)):
        lines.append(f'"{title}_columns":{json.dumps(names[title])},')
        lines.append(f'"{title}":[')
        lines.append(",\n".join(json.dumps(row, separators=(",", ":")) for row in rows))
        lines.append("]," if title == "constants" else "]")
    lines.append("}")
    path = out / "seawater_carbonate.json"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")
    print(f"seawater_carbonate.json: {len(constants)} sets of constants, {len(states)} states, "
          f"{len(PUBLISHED)} published values met, {path.stat().st_size} bytes")


if __name__ == "__main__":
    main()
