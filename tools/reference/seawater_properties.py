#!/usr/bin/env python3
# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Make test/golden/seawater_properties.json: conductivity and density of natural seawater.

From: functions C_from_SP, SP_from_C and rho_t_exact of the Python package `gsw`,
at one atmosphere (sea pressure 0). Before anything is written, values of the
package's documentation and of the release IAPWS-08 (table 8a; the package
differs from it by 1.5e-5 kg/m3) are met.

Numbers are rounded to 9 decimals, so that the file does not depend on the
machine's power function.
"""

import argparse
import json
import pathlib

import gsw
import numpy as np

G_PER_KG = 35.16504 / 35
SALINITIES = [0.05, 0.5, 1.0, 1.9, 2.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 33.0, 35.0, 37.0, 40.0, 42.0]
TEMPERATURES = [0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 28.0, 30.0, 35.0]
DENSITY_SALINITIES = [0.0, 1.0, 2.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 42.0, 60.0, 90.0, 110.0]
DENSITY_TEMPERATURES = [0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0]


def check():
    """The package gives what is printed elsewhere."""
    printed = [
        (float(gsw.SP_from_C(34.5487, 28.7856, 10)), 20.009869599086951, 1e-12),
        (float(gsw.SP_from_C(34.5600, 4.4036, 1000)), 36.400308494388170, 1e-12),
        (float(gsw.C_from_SP(34.86, 10, 100)), 37.99819884763376, 1e-12),
        (float(gsw.rho_t_exact(35.16504, 0, 0)), 1028.10720, 2e-5),
    ]
    for found, expected, tolerance in printed:
        if abs(found - expected) > tolerance:
            raise SystemExit(f"seawater_properties: {found!r}, published {expected!r}")
    return len(printed)


def main():
    root = pathlib.Path(__file__).resolve().parents[2]
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--out", type=pathlib.Path, default=root / "test" / "golden", help="folder to write to")
    out = parser.parse_args().out
    out.mkdir(parents=True, exist_ok=True)
    met = check()
    conductivity = [{"practical_salinity": s, "t90_degC": t, "mS_per_cm": round(float(gsw.C_from_SP(s, t, 0)), 9)}
                    for s in SALINITIES for t in TEMPERATURES]
    density = [{"g_per_kg": round(s * G_PER_KG, 9), "t90_degC": t,
                "kg_per_m3": round(float(gsw.rho_t_exact(round(s * G_PER_KG, 9), t, 0)), 9)}
               for s in DENSITY_SALINITIES for t in DENSITY_TEMPERATURES]
    made_with = {"gsw": gsw.__version__, "numpy": np.__version__}
    lines = ["{", '"version":1,', f'"made_with":{json.dumps(made_with)},', '"conductivity":[']
    lines.append(",\n".join(json.dumps(point) for point in conductivity))
    lines += ["],", '"density":[']
    lines.append(",\n".join(json.dumps(point) for point in density))
    lines += ["]", "}"]
    path = out / "seawater_properties.json"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")
    print(f"seawater_properties.json: {len(conductivity) + len(density)} points, {met} published values met, "
          f"{path.stat().st_size} bytes")


if __name__ == "__main__":
    main()
