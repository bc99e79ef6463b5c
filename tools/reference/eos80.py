#!/usr/bin/env python3
# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Make test/golden/eos80.json: density of seawater at one atmosphere (EOS-80).

From: function dens0 of the Python package `seawater`. Its temperature argument
is on ITS-90; the package converts to IPTS-68 (t68 = 1.00024 t90) inside. Before
anything is written, the four values printed in UNESCO Technical Papers in
Marine Science 44 (1983), which are on IPTS-68, are checked to their last digit.

Densities are rounded to 9 decimals, so that the file does not depend on the
machine's power function.
"""

import argparse
import json
import pathlib
import warnings

import numpy as np

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # the package announces its successor
    import seawater

SALINITIES = [0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 42.0]
TEMPERATURES = [0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0]
# practical salinity, t68 in degC, kg/m3
PUBLISHED = [(0.0, 5.0, 999.96675), (0.0, 25.0, 997.04796),
             (35.0, 5.0, 1027.67547), (35.0, 25.0, 1023.34306)]


def density(salinity, t90):
    """kg/m3 at one atmosphere."""
    return float(seawater.dens0(np.float64(salinity), np.float64(t90)))


def main():
    root = pathlib.Path(__file__).resolve().parents[2]
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--out", type=pathlib.Path, default=root / "test" / "golden", help="folder to write to")
    out = parser.parse_args().out
    out.mkdir(parents=True, exist_ok=True)
    for salinity, t68, published in PUBLISHED:
        found = density(salinity, t68 / 1.00024)
        if abs(found - published) > 0.5000001e-5:
            raise SystemExit(f"eos80: S {salinity}, t68 {t68}: {found:.7f}, published {published}")
    points = [{"practical_salinity": s, "temperature_degC_its90": t, "density_kg_per_m3": round(density(s, t), 9)}
              for s in SALINITIES for t in TEMPERATURES]
    made_with = {"numpy": np.__version__, "seawater": seawater.__version__}
    lines = ["{", '"version":1,', f'"made_with":{json.dumps(made_with)},', '"points":[']
    lines.append(",\n".join(json.dumps(point) for point in points))
    lines += ["]", "}"]
    path = out / "eos80.json"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")
    print(f"eos80.json: {len(points)} points, {len(PUBLISHED)} published values met, {path.stat().st_size} bytes")


if __name__ == "__main__":
    main()
