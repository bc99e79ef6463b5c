#!/usr/bin/env python3
# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Compare freshly made golden files with the committed ones; makes no file.

From: two folders of JSON files, `compare.py MADE COMMITTED`. Every file in MADE
must be in COMMITTED too. Structure, keys and text must be equal, and numbers
equal to the file's tolerance (TOLERANCES, otherwise 1e-9 relative). The member
"made_with" at the top of a file (versions) is not compared; a difference there
is mentioned. Ends with `reference: N files agree`, or with the differences and
exit status 1.
"""

import json
import math
import pathlib
import sys

DEFAULT = 1e-9
# File: (relative, absolute, reason)
TOLERANCES = {
    "recipe_lp.json": (1e-9, 0.0, "data are rounded to 9 digits or dyadic, objectives are exact values rounded once"),
    "eos80.json": (1e-11, 0.0, "rounded to 9 decimals; the last may differ with the power function"),
    "seawater_carbonate.json": (1e-7, 1e-15, "the package ends its search for pH at steps of 1e-8"),
    "ion_interaction.json": (1e-7, 2e-7, "coefficients are rounded to 7 decimals, solved to about 1e-8"),
    "seawater_joined.json": (1e-7, 2e-8, "rounded to 8 decimals; pH is solved to about 1e-8"),
    "seawater_properties.json": (1e-11, 2e-9, "rounded to 9 decimals; the last may differ with the power function"),
    "propagation.json": (1e-9, 1e-11, "probabilities are rounded to 12 decimals"),
    "chance_recipes.json": (1e-6, 0.0, "starts of the search agree to 1e-7"),
    "vat_course.json": (1e-7, 1e-13, "integrated to 1e-11 in each step"),
    "interaction_parameters.json": (1e-9, 1e-10, "terms of 1e5 cancel in a few rows"),
}
SHOWN = 20  # differences printed for each file


def is_number(value):
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def differences(made, committed, relative, absolute, where="$"):
    """Yield a line for each difference."""
    if is_number(made) and is_number(committed):
        if not math.isclose(made, committed, rel_tol=relative, abs_tol=absolute):
            yield f"{where}: made {made!r}, committed {committed!r}"
    elif type(made) is not type(committed):
        yield f"{where}: made {made!r:.60}, committed {committed!r:.60}"
    elif isinstance(made, dict):
        for key in sorted(made.keys() | committed.keys()):
            if key not in made or key not in committed:
                yield f"{where}.{key}: only in the {'made' if key in made else 'committed'} file"
            elif not (where == "$" and key == "made_with"):
                yield from differences(made[key], committed[key], relative, absolute, f"{where}.{key}")
    elif isinstance(made, list):
        if len(made) != len(committed):
            yield f"{where}: made {len(made)} members, committed {len(committed)}"
        for number, (one, other) in enumerate(zip(made, committed)):
            yield from differences(one, other, relative, absolute, f"{where}[{number}]")
    elif made != committed:
        yield f"{where}: made {made!r:.60}, committed {committed!r:.60}"


def main(arguments):
    if len(arguments) != 2:
        print("usage: compare.py MADE COMMITTED", file=sys.stderr)
        return 2
    made_folder, committed_folder = map(pathlib.Path, arguments)
    files = sorted(path.relative_to(made_folder) for path in made_folder.rglob("*") if path.is_file())
    if not files:
        print(f"compare: no files in {made_folder}", file=sys.stderr)
        return 1
    failed = 0
    for name in files:
        if not (committed_folder / name).is_file():
            print(f"{name}: not committed")
            failed += 1
            continue
        if name.suffix != ".json":
            lines = [] if (made_folder / name).read_bytes() == (committed_folder / name).read_bytes() else ["differs"]
        else:
            made = json.loads((made_folder / name).read_text(encoding="utf-8"))
            committed = json.loads((committed_folder / name).read_text(encoding="utf-8"))
            relative, absolute, _ = TOLERANCES.get(name.as_posix(), (DEFAULT, 0.0, ""))
            lines = list(differences(made, committed, relative, absolute))
            if isinstance(made, dict) and isinstance(committed, dict):
                if made.get("made_with") != committed.get("made_with"):
                    print(f"{name}: note: made with {made.get('made_with')}, committed {committed.get('made_with')}")
        for line in lines[:SHOWN]:
            print(f"{name}: {line}")
        if len(lines) > SHOWN:
            print(f"{name}: and {len(lines) - SHOWN} more")
        failed += bool(lines)
    if failed:
        print(f"reference: {failed} of {len(files)} files differ", file=sys.stderr)
        return 1
    print(f"reference: {len(files)} files agree")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
