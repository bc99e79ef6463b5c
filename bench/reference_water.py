# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Times the reference program for aqueous equilibria on the states of test/golden/ion_interaction.json: one instance
with its parameters loaded, all states in one input, the best of several rounds. Prints one JSON document.

  reference_water.py test/golden/ion_interaction.json

Twice: the equilibria alone, and with the saturation indices of twelve solids handed over. Reading the input is part of
the time, for the library has no other way in.
"""
import importlib.metadata
import json
import pathlib
import sys
import time

from phreeqpython import PhreeqPython

ROUNDS = 5
RENAME = {"SO4": "S(6)", "carbon": "C(4)", "alkalinity": "Alkalinity"}
SOLIDS = ["Calcite", "Aragonite", "Gypsum", "Anhydrite", "Celestite", "Halite", "Brucite", "Sylvite", "Epsomite",
          "Magnesite", "Syngenite", "Polyhalite"]


def best(program, text: str) -> float:
    seconds = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        program.run_string(text)
        seconds.append(time.perf_counter() - start)
    return min(seconds)


def main() -> None:
    points = json.loads(pathlib.Path(sys.argv[1]).read_text(encoding="utf-8"))["brine"]
    program = PhreeqPython(database="pitzer.dat").ip
    program.run_string("PITZER\n-MacInnes false\nEND\n")
    blocks = []
    for number, point in enumerate(points, 1):
        lines = [f"SOLUTION {number}", f"temp {point['celsius']}", "units mol/kgw", "pH 8"]
        lines += [f"{RENAME.get(name, name)} {value!r}" for name, value in point["total"].items()]
        blocks.append("\n".join(lines))
    text = "\n".join(blocks) + "\nEND\n"
    best(program, text)  # warm
    alone = best(program, text)
    with_indices = best(program, "SELECTED_OUTPUT\n-reset false\n-si " + " ".join(SOLIDS) + "\n" + text)
    print(json.dumps({"library": f"phreeqpython {importlib.metadata.version('phreeqpython')}", "states": len(points),
                      "seconds_per_state": alone / len(points),
                      "seconds_per_state_with_indices": with_indices / len(points)}))


if __name__ == "__main__":
    main()
