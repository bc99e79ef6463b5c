#!/usr/bin/env python3
# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Re-check data/atomic_weights.toml against public packages that carry CIAAW data.

Prints one line per difference, then a summary. Exit status 1 if a value, a limit
or an interval lies outside what is allowed below, or if the mean molar mass of
data/reference_composition.toml does not come out as printed there.

Versions are pinned in requirements.txt beside this script. Run with Python 3.11
or later:  python atomic_weights.py [path of the data folder]

What is compared
  pyciaaw         abridged values and limits of 2021: must be equal.
  periodictable   full values of 2021 (abridged where an interval is published),
                  and the intervals: the full value must round to ours.
  atomic-weights  full values after the 2024 revision: must round to ours.
  mendeleev       full values older than 2021, mixed: must round to ours.
  pyvalem         full values older than 2021, mixed: must round to ours.
  molmass         means formed from isotopic compositions, so not published
                  weights at all: must lie within our limit.
  chemicals, periodictable.mass_2001, molmass
                  for set "2005".
A package that copies another encyclopedic table with no set of its own adds
nothing and is left out.
"""

import re
import sys
import tomllib
from decimal import Decimal as D
from importlib import metadata
from pathlib import Path

# Differences that are known and harmless: (package, symbol, what) -> reason.
# "what" is "value" or "limit". A pair that is listed here but no longer differs
# is reported too, so that the list does not outlive its causes.
ALLOWED = {
    ("pyciaaw", "Zr", "value"): "package carries the 2021 table; 91.224 became 91.222 in 2024",
    ("pyciaaw", "Zr", "limit"): "package carries the 2021 table; 0.002 became 0.003 in 2024",
    ("periodictable", "Zr", "value"): "package carries the 2021 table; 91.224 became 91.222 in 2024",
    ("mendeleev", "Zr", "value"): "package is older than 2024",
    ("pyvalem", "Zr", "value"): "package is older than 2024",
    ("pyciaaw", "Gd", "limit"): "package carries the 2021 table; full value 157.25(3) became 157.249(2) in 2024",
    ("pyciaaw", "Be", "limit"): "misprint in the package: 9.0122 with 0.00001 would exclude the full value 9.0121831",
    ("mass_2001", "Na", "value"): "22.989770(2) of 2001 became 22.98976928(2) in 2005; same within the limit",
    ("chemicals", "Na", "value"): "printed with five decimals; our value rounds to it",
}


def half_unit(text: str) -> D:
    """Half a unit of the last printed digit of a decimal text."""
    return D(1).scaleb(D(text).as_tuple().exponent) / 2


def norm(x) -> D:
    """A float or text of a package as a short decimal (binary noise removed)."""
    return D(str(x)) if isinstance(x, str) else D(f"{x:.12g}")


class Report:
    def __init__(self) -> None:
        self.bad = 0
        self.allowed = 0
        self.used = set()
        self.counts = {}

    def check(self, package, set_, symbol, what, ours, theirs, tolerance) -> None:
        self.counts[package] = self.counts.get(package, 0) + 1
        if abs(D(ours) - theirs) <= tolerance:
            return
        key = (package, symbol, what)
        reason = ALLOWED.get(key)
        self.used.add(key)
        mark = "allowed" if reason else "DIFFERS"
        if reason:
            self.allowed += 1
        else:
            self.bad += 1
        print(f"{mark:8} {package:14} {set_} {symbol:3} {what:8} ours {ours} theirs {theirs.normalize():f}"
              + (f"  ({reason})" if reason else ""))

    def fail(self, text) -> None:
        self.bad += 1
        print("DIFFERS ", text)


def check_pins(report: Report, here: Path) -> None:
    for line in (here / "requirements.txt").read_text(encoding="ascii").splitlines():
        m = re.match(r"\s*(pyciaaw|periodictable|atomic-weights|mendeleev|pyvalem|molmass|chemicals)\s*==\s*(\S+)", line)
        if not m:
            continue
        try:
            have = metadata.version(m[1])
        except metadata.PackageNotFoundError:
            report.fail(f"package {m[1]} is pinned but not installed")
            continue
        if have != m[2]:
            print(f"note     {m[1]} {have} is installed, {m[2]} is pinned")


def check_2021(report: Report, rows: dict) -> None:
    import atomic_weights as aw_module  # the package, see main() for the name clash
    import mendeleev
    import molmass
    import periodictable
    import periodictable.mass as pt_mass
    import pyciaaw
    import pyvalem.atom_data

    for symbol, row in rows.items():
        value, limit = row["value"], row["limit"]
        report.check("pyciaaw", "2021", symbol, "value", value,
                     norm(pyciaaw.saw(symbol, ab=True)), D(0))
        report.check("pyciaaw", "2021", symbol, "limit", limit,
                     norm(pyciaaw.saw(symbol, ab=True, u=True)), D(0))
        half = half_unit(value)
        report.check("periodictable", "2021", symbol, "value", value,
                     norm(getattr(periodictable, symbol).mass), half)
        report.check("atomic-weights", "2021", symbol, "value", value,
                     D(getattr(aw_module.decimal, symbol)), half)
        report.check("mendeleev", "2021", symbol, "value", value,
                     norm(mendeleev.element(symbol).atomic_weight), half)
        report.check("pyvalem", "2021", symbol, "value", value,
                     norm(pyvalem.atom_data.atoms[symbol].mass), half)
        report.check("molmass", "2021", symbol, "value", value,
                     norm(molmass.ELEMENTS[symbol].mass), D(limit))

    # Intervals, from the text table of periodictable: "[low,high]" behind a value.
    theirs = {}
    for line in pt_mass.element_mass.splitlines():
        m = re.match(r"\s*\d+\s+(\w+)\s+\w+\s+\S+\s+\[([\d.]+),([\d.]+)\]", line)
        if m:
            theirs[m[1]] = [m[2], m[3]]
    ours = {s: r["interval"] for s, r in rows.items() if "interval" in r}
    for symbol in sorted(set(theirs) | set(ours)):
        if theirs.get(symbol) != ours.get(symbol):
            report.fail(f"interval of {symbol}: ours {ours.get(symbol)} theirs {theirs.get(symbol)}")
    # The same table lists every element that has a standard atomic weight, and no other.
    listed = {m[1] for m in re.finditer(r"^\s*\d+\s+([A-Z][a-z]?)\s", pt_mass.element_mass, re.M)}
    if listed != set(rows):
        report.fail(f"elements differ: only ours {sorted(set(rows) - listed)} only theirs {sorted(listed - set(rows))}")


def check_2005(report: Report, rows: dict) -> None:
    import molmass
    import periodictable.mass_2001 as mass_2001
    from chemicals.elements import periodic_table

    weights_2001 = {}
    for line in mass_2001.massdata.splitlines():
        parts = line.split(",")
        m = re.match(r"\d+-(\w+)-", parts[0])
        if m and len(parts) > 3 and "(" in parts[3]:
            weights_2001.setdefault(m[1], D(parts[3].split("(")[0]))
    for symbol, row in rows.items():
        value, limit = row["value"], row["limit"]
        report.check("mass_2001", "2005", symbol, "value", value, weights_2001[symbol], D(0))
        report.check("chemicals", "2005", symbol, "value", value, norm(getattr(periodic_table, symbol).MW), D(0))
        # Means of isotopic compositions: allowed the limit, and not less than 1e-6.
        report.check("molmass", "2005", symbol, "value", value, norm(molmass.ELEMENTS[symbol].mass),
                     max(D(limit), D("1e-6")))


def atoms_of(formula: str) -> dict:
    """Atoms of a formula such as SO4^2- or B(OH)4^-; one level of brackets."""
    body = formula.split("^")[0]
    count = {}
    for group, times, element, number in re.findall(r"\(([A-Za-z0-9]+)\)(\d*)|([A-Z][a-z]?)(\d*)", body):
        if group:
            for e, n in re.findall(r"([A-Z][a-z]?)(\d*)", group):
                count[e] = count.get(e, 0) + int(n or 1) * int(times or 1)
        else:
            count[element] = count.get(element, 0) + int(number or 1)
    return count


def charge_of(formula: str) -> int:
    if "^" not in formula:
        return 0
    text = formula.split("^")[1]
    return int(text[:-1] or 1) * (1 if text[-1] == "+" else -1)


def check_composition(report: Report, path: Path, sets: dict) -> None:
    data = tomllib.loads(path.read_text(encoding="ascii"))
    table, species = data["table"], data["species"]
    total = sum(D(s["mole_fraction"]) for s in species)
    charge = sum(D(s["mole_fraction"]) * charge_of(s["formula"]) for s in species)
    for set_, rows in sets.items():
        mass = sum(D(s["mole_fraction"]) * sum(D(rows[e]["value"]) * n for e, n in atoms_of(s["formula"]).items())
                   for s in species)
        print(f"mean molar mass of the reference composition, set {set_}: {mass:.9f} g/mol")
        if set_ == table["weights_set"] and abs(mass - D(table["molar_mass_g_per_mol"])) > half_unit(table["molar_mass_g_per_mol"]):
            report.fail(f"molar mass printed as {table['molar_mass_g_per_mol']}")
    if total != 1 or charge != 0:
        report.fail(f"sum of mole fractions {total}, charge {charge}")


def main() -> int:
    here = Path(__file__).resolve().parent
    # This file has the module name of one of the packages: keep its own folder off the path.
    sys.path[:] = [p for p in sys.path if Path(p or ".").resolve() != here]
    data = Path(sys.argv[1]) if len(sys.argv) > 1 else here.parent.parent / "data"
    report = Report()
    check_pins(report, here)
    sets = {}
    for row in tomllib.loads((data / "atomic_weights.toml").read_text(encoding="ascii"))["weight"]:
        rows = sets.setdefault(row["set"], {})
        if row["symbol"] in rows:
            report.fail(f"{row['symbol']} appears twice in set {row['set']}")
        rows[row["symbol"]] = row
    check_2021(report, sets["2021"])
    check_2005(report, sets["2005"])
    check_composition(report, data / "reference_composition.toml", sets)
    for key in sorted(set(ALLOWED) - report.used):
        print("note     no longer differs:", *key)
    print("compared:", ", ".join(f"{p} {n}" for p, n in report.counts.items()))
    print(f"{report.allowed} allowed difference(s), {report.bad} not allowed")
    return 1 if report.bad else 0


if __name__ == "__main__":
    sys.exit(main())
