#!/usr/bin/env python3
# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Make test/golden/ion_interaction.json: activity coefficients of both parameter sets.

`seawater`: ln gamma and the osmotic coefficient from the package `pytzer` with its library CWTD23, at
given molalities of species (a rough division of the totals, written into the file: the comparison is
of the equations and rows, not of the equilibrium).

`brine`: equilibria from the package `phreeqpython` with its own pitzer.dat, single-ion coefficients
unscaled (-MacInnes false). The package carries an older release of that table; the rows in which the
release of December 2025 differs are put over it (OVERRIDES). Polyborates, which are no species of
the brine set, are switched off. Fluoride is no species of that table.

Waters: salinity 5 to 45, and salinity 35 concentrated 2, 5 and 10 times; 10 to 35 degC; calcium 300
to 550 and magnesium 900 to 1600 mg/L and alkalinity 1.5 to 5 meq/kg at salinity 35, carried to other
salinities in proportion; chloride balances the charge.
"""

import argparse
import importlib.metadata
import json
import math
import pathlib

import jax

jax.config.update("jax_enable_x64", True)

import numpy as np  # noqa: E402
import pytzer  # noqa: E402
from phreeqpython import PhreeqPython  # noqa: E402

# Reference-Composition Seawater of salinity 35, mol/kg of solution (Millero et al. 2008, table 4).
NATURAL = {"Na": 0.468967, "K": 0.010208, "Sr": 0.0000907, "Br": 0.000842, "F": 0.0000683, "SO4": 0.028235,
           "B": 0.000415}
SALT = 0.0351650  # kg/kg
LITRES_PER_KG = 1 / 1.0233
CALCIUM, MAGNESIUM = [300, 410, 480, 550], [900, 1280, 1600]  # mg/L
WEIGHT = {"Ca": 40.078, "Mg": 24.305}
ALKALINITY = [1.5, 2.3, 3.5, 4.1, 5.0]  # meq/kg
TEMPERATURES = [10.0, 15.0, 20.0, 25.0, 30.0, 35.0]
TIMES = [5 / 35, 10 / 35, 20 / 35, 30 / 35, 1.0, 45 / 35, 2.0, 5.0, 10.0]

OVERRIDES = """
PITZER
-MacInnes false
-B0
Na+ HCO3- -0.018 0 0 -2.3e-4
-B1
Na+ HCO3- -0.0101 0 0 1.72e-3
-B2
Na+ HCO3- 6.84 0 0 -7.11e-3
-THETA
Cl- HCO3- 0.0512 0 0 -4.81e-4
-PSI
Cl- HCO3- Na+ -4.73e-3 0 0 1.92e-4
SOLUTION_SPECIES
SO4-2 + H+ = HSO4-
    log_k 1.988
    -analytic -56.889 6.473e-3 2307.9 19.8858
3B(OH)3 = B3O3(OH)4- + 2H2O + H+
    log_k -100
    -delta_h 0
4B(OH)3 = B4O5(OH)4-2 + 3H2O + 2H+
    log_k -100
    -delta_h 0
PHASES
Calcite
    CaCO3 = CO3-2 + Ca+2
    log_k -8.44
    -analytic -67.278 -0.050767 0 29.8956
END
"""
# Names here and there.
SPECIES = {"H": "H+", "Na": "Na+", "K": "K+", "Mg": "Mg+2", "Ca": "Ca+2", "Sr": "Sr+2", "MgOH": "MgOH+",
           "MgBOH4": "MgB(OH)4+", "CaBOH4": "CaB(OH)4+", "Cl": "Cl-", "Br": "Br-", "SO4": "SO4-2", "HSO4": "HSO4-",
           "OH": "OH-", "HCO3": "HCO3-", "CO3": "CO3-2", "BOH4": "B(OH)4-", "CO2": "CO2", "BOH3": "B(OH)3",
           "MgCO3": "MgCO3"}
PHASES = {"calcite": "Calcite", "aragonite": "Aragonite", "gypsum": "Gypsum", "anhydrite": "Anhydrite",
          "celestite": "Celestite", "halite": "Halite", "brucite": "Brucite", "sylvite": "Sylvite",
          "epsomite": "Epsomite", "magnesite": "Magnesite", "syngenite": "Syngenite", "polyhalite": "Polyhalite"}


def waters():
    """Totals of mol/kg-water; alkalinity and carbon too."""
    number = 0
    for times in TIMES:
        for celsius in TEMPERATURES:
            for _ in range(2):
                number += 1
                salt = {**NATURAL,
                        "Ca": CALCIUM[number % 4] * LITRES_PER_KG / 1000 / WEIGHT["Ca"],
                        "Mg": MAGNESIUM[number // 2 % 3] * LITRES_PER_KG / 1000 / WEIGHT["Mg"]}
                alkalinity = ALKALINITY[number // 3 % 5] / 1000
                salt["alkalinity"] = alkalinity
                salt["carbon"] = alkalinity * (0.86 + 0.03 * (number % 5))
                salt["Cl"] = (salt["Na"] + salt["K"] + 2 * (salt["Mg"] + salt["Ca"] + salt["Sr"]) - salt["Br"] -
                              salt["F"] - 2 * salt["SO4"] - alkalinity)
                yield celsius, {name: float(f"{times * value / (1 - SALT):.9g}") for name, value in salt.items()}


def divided(total):
    """Species from totals, roughly as in seawater of pH 8."""
    carbon, boron = total["carbon"], total["B"]
    m = {"Na": total["Na"], "K": total["K"], "Mg": total["Mg"] * 0.997, "Ca": total["Ca"] * 0.998, "Sr": total["Sr"],
         "MgOH": total["Mg"] * 1e-4, "MgF": total["F"] * 0.5, "CaF": total["F"] * 0.02, "H": 1e-8, "Cl": total["Cl"],
         "Br": total["Br"], "F": total["F"] * 0.48, "SO4": total["SO4"], "HSO4": total["SO4"] * 1e-7, "OH": 4e-6,
         "HCO3": carbon * 0.89, "CO3": carbon * 0.05, "BOH4": boron * 0.24, "BOH3": boron * 0.76, "CO2": carbon * 0.006,
         "HF": 3e-12, "MgCO3": carbon * 0.04}
    return {name: float(f"{value:.9g}") for name, value in m.items()}


def seawater_points():
    for celsius, total in waters():
        m = divided(total)
        solutes = {name: np.float64(value) for name, value in m.items()}
        kelvin, decibar = np.float64(celsius + 273.15), np.float64(10.1325)
        gamma = pytzer.log_activity_coefficients(solutes, kelvin, decibar)
        osmotic = float(pytzer.osmotic_coefficient(solutes, kelvin, decibar))
        yield {"celsius": celsius, "molality": m, "osmotic": round(osmotic, 9),
               "ln_gamma": {name: round(float(value), 7) for name, value in gamma.items()}}


def brine_points():
    program = PhreeqPython(database="pitzer.dat").ip
    program.run_string(OVERRIDES)
    names = list(SPECIES.values())
    punch = ", ".join([f'LM("{n}")' for n in names] + [f'LG("{n}")' for n in names] +
                      [f'SI("{n}")' for n in PHASES.values()] + ['LA("H2O")'])
    for celsius, total in waters():
        lines = [f"temp {celsius}", "units mol/kgw", "pH 8"]
        rename = {"SO4": "S(6)", "carbon": "C(4)", "alkalinity": "Alkalinity"}
        lines += [f"{rename.get(name, name)} {value!r}" for name, value in total.items() if name != "F"]
        program.run_string("SOLUTION 1\n" + "\n".join(lines) + "\nSELECTED_OUTPUT\n-reset false\n-high_precision true\n"
                           f"USER_PUNCH\n-headings {' '.join(f'c{k}' for k in range(2 * len(names) + len(PHASES) + 1))}\n"
                           f"10 PUNCH {punch}\nEND\n")
        row = [float(value) for value in program.get_selected_output_array()[-1]]
        count = len(names)
        ln10 = math.log(10)
        yield {"celsius": celsius, "total": {k: v for k, v in total.items() if k != "F"},
               "ln_water": round(row[-1] * ln10, 9),
               "molality": {n: float(f"{10 ** v:.9g}") for n, v in zip(SPECIES, row[:count])},
               "ln_gamma": {n: round(v * ln10, 7) for n, v in zip(SPECIES, row[count:2 * count])},
               "si": {n: round(v, 6) for n, v in zip(PHASES, row[2 * count:-1])}}


def main():
    root = pathlib.Path(__file__).resolve().parents[2]
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--out", type=pathlib.Path, default=root / "test" / "golden", help="folder to write to")
    out = parser.parse_args().out
    out.mkdir(parents=True, exist_ok=True)
    made_with = {name: importlib.metadata.version(name) for name in ("pytzer", "phreeqpython", "jax", "numpy")}
    document = ["{", '"version":1,', f'"made_with":{json.dumps(made_with)},']
    for name, points in (("seawater", list(seawater_points())), ("brine", list(brine_points()))):
        document.append(f'"{name}":[\n' + ",\n".join(json.dumps(p, separators=(",", ":")) for p in points) +
                        ("\n]," if name == "seawater" else "\n]"))
        print(f"ion_interaction.json: {len(points)} points of the {name} set")
    path = out / "ion_interaction.json"
    path.write_text("\n".join(document) + "\n}\n", encoding="utf-8", newline="\n")
    print(f"ion_interaction.json: {path.stat().st_size} bytes")


if __name__ == "__main__":
    main()
