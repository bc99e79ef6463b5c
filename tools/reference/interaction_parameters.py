#!/usr/bin/env python3
# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Make test/golden/interaction_parameters.json: every temperature function of the brine floor.

From: data/interaction_*.toml, reactions.toml and minerals.toml, read here with the
standard library and evaluated with the forms of docs/reference/data.md written anew,
each as the formula stands there. Values at 5, 25 and 40 degC; a constant is given as
log10 K. Rounded to 13 significant digits.
"""

import argparse
import json
import math
import pathlib
import platform
import tomllib

TR = 298.15
P = 1.01325  # bar
R = 8.31446261815324e-3  # kJ/mol/K
TEMPERATURES = [5.0, 25.0, 40.0]


def inverse(T):
    return 1 / T - 1 / TR


def squares(T):
    return T**2 - TR**2


def moller(c, T):
    return math.fsum([c[0], c[1] * T, c[2] / T, c[3] * math.log(T), c[4] / (T - 263), c[5] * T**2, c[6] / (680 - T),
                      c[7] / (T - 227)])


def phutela_pitzer(c, T):
    return math.fsum([
        c[0] * (T / 2 + TR**2 / (2 * T) - TR),
        c[1] * (T**2 / 6 + TR**3 / (3 * T) - TR**2 / 2),
        c[2] * (T**3 / 12 + TR**4 / (4 * T) - TR**3 / 3),
        c[3] * ((T / TR)**5 + 4 - 5 * T / TR) * TR**5 / (20 * T),
        c[4] * (TR - TR**2 / T),
        c[5]])


def pabalan_pitzer(c, T):
    return math.fsum([
        c[0], c[1] * P, c[2] / T, c[3] * P / T, c[4] * math.log(T), c[5] * T, c[6] * T * P, c[7] * T**2, c[8] * T**2 * P,
        c[9] / (T - 227), c[10] / (647 - T), c[11] * P / (647 - T)])


FORMS = {
    "Constant": lambda c, T: c[0],
    "Quadratic": lambda c, T: math.fsum([c[0], c[1] * T, c[2] * T**2]),
    "QuadraticFrom25": lambda c, T: c[0] + c[1] * (T - TR) + c[2] * (T - TR)**2,
    "QuadraticFrom30": lambda c, T: c[0] + c[1] * (T - 303.15)**2,
    "Moller": moller,
    "MilleroPierrot": lambda c, T: c[0] + (c[1] * 1e-5 * TR**3 / 3 - c[2] * 1e-4 * TR**2) * inverse(T)
    + c[1] * 1e-5 / 6 * squares(T),
    "SilvesterPitzer": lambda c, T: c[0] + (c[1] * TR**3 / 3 + c[2] * TR**2) * inverse(T) + c[1] / 6 * squares(T),
    "HeMorse": lambda c, T: math.fsum([c[0], c[1] * T, c[2] * T**2, c[3] / T, c[4] * math.log(T)]),
    "CleggRardPitzer": lambda c, T: c[0] + 1e-3 * (c[1] * (T - 328.15) + c[2] * (T - 328.15)**2 / 2
                                                   + c[3] * (T - 328.15)**3 / 6),
    "InverseFrom25": lambda c, T: c[0] + c[1] * inverse(T),
    "PhutelaPitzer": phutela_pitzer,
    "PabalanPitzer": pabalan_pitzer,
    "PeiperPitzer": lambda c, T: c[0] + (T - TR) * (c[1] - TR * c[2]) + 0.5 * c[2] * squares(T),
    "SixTermFrom25": lambda c, T: math.fsum([c[0], c[1] * inverse(T), c[2] * math.log(T / TR), c[3] * (T - TR),
                                             c[4] * squares(T), c[5] * (1 / T**2 - 1 / TR**2)]),
    "LogTen": lambda c, T: math.fsum([c[0], c[1] * T, c[2] / T, c[3] * math.log10(T), c[4] / T**2, c[5] * T**2]),
    "NaturalLog": lambda c, T: math.fsum([c[0], c[1] / T, c[2] * math.log(T), c[3] * T]),
    "VantHoff": lambda c, T: c[0] - c[1] / (R * math.log(10)) * inverse(T),
}


def evaluate(row, celsius):
    coefficients = list(row["c"]) + [0.0] * (12 - len(row["c"]))
    return FORMS[row["form"]](coefficients, celsius + 273.15)


def log10(part, celsius):
    return evaluate(part, celsius) * part.get("times", 1) / (math.log(10) if part["form"] == "NaturalLog" else 1)


def values(function):
    return [float(f"{function(t):.12e}") for t in TEMPERATURES]


def main():
    root = pathlib.Path(__file__).resolve().parents[2]
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--out", type=pathlib.Path, default=root / "test" / "golden", help="folder to write to")
    out = parser.parse_args().out
    out.mkdir(parents=True, exist_ok=True)

    def read(name):
        return tomllib.loads((root / "data" / f"{name}.toml").read_text(encoding="utf-8"))

    groups = {}
    for name in ("seawater", "brine"):
        table = read(f"interaction_{name}")
        rows = [{"of": "limiting_slope", "values": values(lambda t, r=table["limiting_slope"]: evaluate(r, t))}]
        rows += [{"of": " ".join([row["kind"], *row["species"]]), "values": values(lambda t, r=row: evaluate(r, t))}
                 for row in table["coefficient"]]
        groups[name] = rows
    table = read("reactions")
    for name in ("Seawater", "Brine"):
        groups[f"reactions_{name.lower()}"] = [
            {"of": row["product"], "values": values(lambda t, r=row: math.fsum(log10(p, t) for p in r["log_k"]))}
            for row in table["reaction"] if row["set"] == name]
    groups["gases"] = [{"of": row["symbol"], "values": values(lambda t, r=row: log10(r["log_k"], t))}
                       for row in table["gas"]]
    minerals = read("minerals")["mineral"]
    groups["minerals"] = [{"of": row["key"], "values": values(lambda t, r=row: log10(r["log_k"], t))} for row in minerals]
    groups["minerals_brine"] = [
        {"of": row["key"], "values": values(lambda t, r=row: log10(r.get("log_k_brine", r["log_k"]), t))}
        for row in minerals]

    lines = ["{", '"version":1,', f'"made_with":{json.dumps({"python": platform.python_version()})},',
             f'"temperatures_degC":{json.dumps(TEMPERATURES)},']
    for number, (name, rows) in enumerate(groups.items(), 1):
        lines += [f'"{name}":[', ",\n".join(json.dumps(row) for row in rows), "]" + ("," if number < len(groups) else "")]
    lines.append("}")
    path = out / "interaction_parameters.json"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")
    print(f"interaction_parameters.json: {sum(map(len, groups.values()))} functions, {path.stat().st_size} bytes")


if __name__ == "__main__":
    main()
