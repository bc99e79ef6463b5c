#!/usr/bin/env python3
# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Make test/golden/gypsum_in_brine.json: what dissolves of gypsum, and of gypsum and halite together.

Equilibria from the package `phreeqpython` with its own pitzer.dat: one kilogram of water with 0 to
6 mol of sodium chloride against gypsum, and pure water against gypsum and halite. The rows of sodium,
calcium, chloride and sulfate and both constants are the same in the package's release and in that of
December 2025, so nothing is put over them. pH is 7 and there is no carbon; molalities are per kilogram
of the water that is there in the end (gypsum brings two mol of water with each mol).
"""

import argparse
import importlib.metadata
import json
import pathlib

from phreeqpython import PhreeqPython

TEMPERATURES = [5.0, 15.0, 25.0, 35.0]
SODIUM_CHLORIDE = [0.0, 0.1, 0.3, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0]
PUNCH = "USER_PUNCH\n-headings ca na cl so4 w\n10 PUNCH TOT(\"Ca\"), TOT(\"Na\"), TOT(\"Cl\"), TOT(\"S(6)\"), LA(\"H2O\")\n"


def equilibrium(program, celsius, molal, solids):
    """Molalities of Ca, Na, Cl and SO4 and the log10 of the activity of water."""
    salt = f"Na {molal!r}\nCl {molal!r}\n" if molal else ""
    program.run_string(f"SOLUTION 1\ntemp {celsius}\nunits mol/kgw\npH 7\n{salt}EQUILIBRIUM_PHASES 1\n" +
                       "".join(f"{solid} 0 20\n" for solid in solids) +
                       f"SELECTED_OUTPUT\n-reset false\n-high_precision true\n{PUNCH}END\n")
    return [float(value) for value in program.get_selected_output_array()[-1]]


def points(program):
    for celsius in TEMPERATURES:
        for molal in SODIUM_CHLORIDE:
            yield celsius, molal, ["Gypsum"]
        yield celsius, 0.0, ["Gypsum", "Halite"]


def main():
    root = pathlib.Path(__file__).resolve().parents[2]
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--out", type=pathlib.Path, default=root / "test" / "golden", help="folder to write to")
    out = parser.parse_args().out
    out.mkdir(parents=True, exist_ok=True)
    program = PhreeqPython(database="pitzer.dat").ip
    program.run_string("PITZER\n-MacInnes false\nEND\n")
    rows = []
    for celsius, molal, solids in points(program):
        ca, na, cl, so4, ln = equilibrium(program, celsius, molal, solids)
        rows.append({"celsius": celsius, "nacl_mol_per_kg_start": molal, "solids": [s.lower() for s in solids],
                     **{name: float(f"{value:.7g}") for name, value in
                        {"Ca": ca, "Na": na, "Cl": cl, "SO4": so4}.items()}, "log_water": round(ln, 8)})
    made_with = {name: importlib.metadata.version(name) for name in ("phreeqpython",)}
    path = out / "gypsum_in_brine.json"
    path.write_text("{\n" + f'"version":1,\n"made_with":{json.dumps(made_with)},\n"points":[\n' +
                    ",\n".join(json.dumps(row) for row in rows) + "\n]\n}\n", encoding="utf-8", newline="\n")
    print(f"gypsum_in_brine.json: {len(rows)} points")


if __name__ == "__main__":
    main()
