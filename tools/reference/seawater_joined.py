#!/usr/bin/env python3
# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Make test/golden/seawater_joined.json: pH and saturation of waters of natural proportions.

From the package PyCO2SYS: total scale, one atmosphere, carbonic acid of Lueker et al. (2000) between
salinity 21 and 41 and of Waters et al. (2014) up to 19 and from 43 on, as the joined route of the
program has it; Dickson (1990) for bisulfate and boric acid, Perez and Fraga (1987) for fluoride,
Mucci (1983) for calcite and aragonite. Totals are those of Reference-Composition Seawater and go in
as numbers, so that no ratio of the package enters.
"""

import argparse
import importlib.metadata
import json
import pathlib

import numpy as np
import PyCO2SYS as pyco2

# umol/kg at salinity 35 (Millero et al. 2008, table 4).
TOTALS = {"total_calcium": 10282.1, "total_borate": 415.1, "total_sulfate": 28235.2, "total_fluoride": 68.3}
LUEKER, WATERS = 10, 15  # the package's numbers
SALINITIES = [5, 8, 12, 16, 19, 21, 25, 30, 35, 38, 41, 43, 45]
TEMPERATURES = [10, 15, 20, 25, 30, 35]
# Alkalinity at salinity 35 [umol/kg], in proportion at other salinities, and carbon over alkalinity.
BUFFERS = [(2300, 0.89), (1500, 0.95), (4100, 0.97), (5000, 0.85)]
# Alkalinity that is the same at every salinity.
FIXED = [(1500, 0.95), (3000, 0.9), (5000, 0.85)]


def main():
    root = pathlib.Path(__file__).resolve().parents[2]
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--out", type=pathlib.Path, default=root / "test" / "golden", help="folder to write to")
    out = parser.parse_args().out
    out.mkdir(parents=True, exist_ok=True)
    points = []
    for s in SALINITIES:
        for t in TEMPERATURES:
            share = s / 35
            for alkalinity, ratio, natural in [(a * share, r, True) for a, r in BUFFERS] + [(*buffer, False) for buffer in FIXED]:
                found = pyco2.sys(
                    par1=alkalinity, par1_type=1, par2=alkalinity * ratio, par2_type=2, salinity=s,
                    temperature=t, pressure=0, opt_pH_scale=1, opt_k_carbonic=LUEKER if 21 <= s <= 41 else WATERS,
                    opt_k_bisulfate=1, opt_k_fluoride=2, **{name: value * share for name, value in TOTALS.items()})
                points.append({"salinity": s, "celsius": t, "in_proportion": natural, "alkalinity": round(alkalinity * 1e-6, 12),
                               "carbon": round(alkalinity * ratio * 1e-6, 12),
                               "ph_total": round(float(found["pH"]), 8),
                               "fugacity": round(float(found["fCO2"]) * 1e-6, 12),
                               "calcite": round(float(found["saturation_calcite"]), 8),
                               "aragonite": round(float(found["saturation_aragonite"]), 8)})
    made_with = {"PyCO2SYS": importlib.metadata.version("PyCO2SYS"), "numpy": np.__version__}
    lines = ["{", '"version":1,', f'"made_with":{json.dumps(made_with)},', '"points":[']
    lines.append(",\n".join(json.dumps(point, separators=(",", ":")) for point in points))
    lines += ["]", "}"]
    path = out / "seawater_joined.json"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")
    print(f"seawater_joined.json: {len(points)} points, {path.stat().st_size} bytes")


if __name__ == "__main__":
    main()
