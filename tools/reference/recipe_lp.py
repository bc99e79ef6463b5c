#!/usr/bin/env python3
# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Make test/golden/recipe_lp.json: 200 recipe linear programs with known answers.

From: the stoichiometry of common salts (CIAAW abridged 2021 atomic weights),
the Reference Composition totals of seawater (Millero et al. 2008, per kg of
solution), and a seeded random stream (numpy PCG64, uniform draws only).

Every problem is   minimise cost.x
                   row_low <= matrix.x <= row_high,  column_low <= x <= column_high
with x in g of material per kg of solution, and rows divided by their target,
so that a row activity of 1 means "on target". null stands for no bound.

A problem is kept only if all of this holds:
  * HiGHS gives one verdict with presolve on and off, by dual simplex, by
    primal simplex and by interior point, and scipy.optimize.linprog (another
    build of HiGHS) agrees; objectives agree to 1e-9 relative;
  * the verdict is proved: the final basis is solved again in rational
    arithmetic on the exact values of the stored doubles, and is exactly primal
    and dual feasible. The stored objective is that exact value, rounded once.
    For "infeasible" the proof is that of the elastic problem (least sum of row
    violations, column bounds kept), whose exact minimum must exceed 1e-4;
  * "optimal" problems stay feasible when every row is tightened by 1e-7 and
    when it is relaxed by 1e-7. Problems noted as "degenerate" and "no interior"
    are excused from the tightening only.

The first rule makes the infeasible problems an easy choice: of 56 candidates it
or the proof rejected, all were infeasible by at least one solver, and on 41 of
them HiGHS's dual simplex without presolve ended "unknown" (tolerances 1e-10 to 1e-7).
Agreement on this file therefore says little about hard infeasible problems.

The random data are rounded to 9 significant digits (or to binary fractions
where a note says "dyadic") before anything is solved, and no linear-algebra
library takes part in making them, so the file should not depend on the machine.
"""

import argparse
import importlib.metadata
import json
import math
import pathlib
import re
import time
from fractions import Fraction

import numpy as np
import scipy
from linear_program import INF, Problem, judge, rounded

SEED = 20080135
WANTED_OPTIMAL, WANTED_INFEASIBLE, WANTED_DEGENERATE = 120, 60, 20

WEIGHTS = {
    "H": 1.0080, "Li": 6.94, "B": 10.81, "C": 12.011, "O": 15.999, "F": 18.998,
    "Na": 22.990, "Mg": 24.305, "S": 32.06, "Cl": 35.45, "K": 39.098,
    "Ca": 40.078, "Br": 79.904, "Sr": 87.62, "I": 126.90,
}

# mmol (TA: meq) per kg of solution at reference salinity 35.165 g/kg.
SEAWATER = {
    "Na": 468.967, "Mg": 52.8171, "Ca": 10.2821, "K": 10.2077, "Sr": 0.0907,
    "Li": 0.026, "Cl": 545.870, "SO4": 28.2352, "Br": 0.8421, "F": 0.0683,
    "I": 0.00044, "B": 0.4152, "DIC": 1.9663, "TA": 2.3044,
}
CHARGE = {
    "Na": 1, "Mg": 2, "Ca": 2, "K": 1, "Sr": 2, "Li": 1, "Cl": -1, "SO4": -2,
    "Br": -1, "F": -1, "I": -1, "B": 0, "DIC": 0, "TA": -1,
}

# Formula: components in mol per mol, and a typical price per kg.
SALTS = {
    "NaCl": ({"Na": 1, "Cl": 1}, 0.6),
    "Na2SO4": ({"Na": 2, "SO4": 1}, 0.9),
    "MgSO4.7H2O": ({"Mg": 1, "SO4": 1}, 0.7),
    "MgSO4": ({"Mg": 1, "SO4": 1}, 1.6),
    "MgCl2.6H2O": ({"Mg": 1, "Cl": 2}, 0.8),
    "MgCl2": ({"Mg": 1, "Cl": 2}, 3.0),
    "CaCl2.2H2O": ({"Ca": 1, "Cl": 2}, 0.9),
    "CaCl2": ({"Ca": 1, "Cl": 2}, 1.3),
    "CaSO4.2H2O": ({"Ca": 1, "SO4": 1}, 0.8),
    "KCl": ({"K": 1, "Cl": 1}, 1.5),
    "K2SO4": ({"K": 2, "SO4": 1}, 2.2),
    "KHCO3": ({"K": 1, "DIC": 1, "TA": 1}, 2.6),
    "NaHCO3": ({"Na": 1, "DIC": 1, "TA": 1}, 0.9),
    "Na2CO3": ({"Na": 2, "DIC": 1, "TA": 2}, 1.1),
    "KBr": ({"K": 1, "Br": 1}, 9.0),
    "NaBr": ({"Na": 1, "Br": 1}, 8.0),
    "SrCl2.6H2O": ({"Sr": 1, "Cl": 2}, 7.0),
    "NaF": ({"Na": 1, "F": 1}, 6.0),
    "H3BO3": ({"B": 1}, 3.0),
    "Na2B4O7.10H2O": ({"Na": 2, "B": 4, "TA": 2}, 2.5),
    "LiCl": ({"Li": 1, "Cl": 1}, 40.0),
    "KI": ({"K": 1, "I": 1}, 60.0),
    "MgO2H2": ({"Mg": 1, "TA": 2}, 2.0),  # as an impurity only
}
# The first group is in every recipe large enough; then the choice is random.
CORE = ["NaCl", "MgCl2.6H2O", "CaCl2.2H2O", "KCl"]
OTHERS = [name for name in SALTS if name not in CORE and name != "MgO2H2"]
IMPURITIES = ["NaCl", "KCl", "Na2SO4", "MgCl2", "CaCl2", "CaSO4.2H2O", "NaBr",
              "SrCl2.6H2O", "MgO2H2", "Na2CO3", "LiCl"]
ALTERNATIVES = {"MgCl2.6H2O": "MgCl2", "CaCl2.2H2O": "CaCl2", "KCl": "K2SO4"}


def molar_mass(formula):
    """Molar mass of a formula such as MgSO4.7H2O, g/mol."""
    total = 0.0
    for part in formula.split("."):
        lead = re.match(r"\d*", part).group(0)
        count = int(lead) if lead else 1
        for element, number in re.findall(r"([A-Z][a-z]?)(\d*)", part[len(lead):]):
            total += count * WEIGHTS[element] * (int(number) if number else 1)
    return total


def dyadic(value, bits):
    """The nearest multiple of 2**-bits."""
    return round(value * 2.0**bits) / 2.0**bits


class Draw:
    """The random stream; only draws that are the same on every machine."""

    def __init__(self, seed):
        self.rng = np.random.Generator(np.random.PCG64(seed))

    def uniform(self, low, high):
        return low + (high - low) * float(self.rng.random())

    def log_uniform(self, low, high):
        # A power of a fixed ratio in 64 steps: multiplications only.
        steps = self.integer(0, 64)
        return low * (high / low) ** (steps / 64.0)

    def integer(self, low, high):
        """An integer in [low, high]."""
        return int(self.rng.integers(low, high + 1))

    def chance(self, probability):
        return float(self.rng.random()) < probability

    def pick(self, items):
        return items[self.integer(0, len(items) - 1)]

    def sample(self, items, count):
        pool, out = list(items), []
        for _ in range(min(count, len(pool))):
            out.append(pool.pop(self.integer(0, len(pool) - 1)))
        return out


class Lot:
    """One lot: component amounts in mmol per g as weighed, metals in ug/g."""

    def __init__(self, draw, salt):
        components, price = SALTS[salt]
        assay = draw.uniform(0.95, 1.0)
        self.salt = salt
        self.amount = {}
        self._add(salt, assay)
        rest = 1.0 - assay
        for impurity in draw.sample([s for s in IMPURITIES if s != salt], draw.integer(0, 3)):
            part = rest * draw.uniform(0.02, 0.3)
            if impurity in ("MgO2H2", "Na2CO3", "LiCl"):
                part *= 0.05
            self._add(impurity, part)
        self.metal = draw.uniform(0.1, 8.0)
        self.price = price * draw.uniform(0.7, 1.5)

    def _add(self, salt, fraction):
        mass = molar_mass(salt)
        for component, number in SALTS[salt][0].items():
            self.amount[component] = self.amount.get(component, 0.0) + 1000.0 * fraction * number / mass


# ------------------------------------------------------------- generation

def fit(rows, target, sweeps=400):
    """Non-negative least squares by plain coordinate descent."""
    n = len(rows[0])
    x = [0.0] * n
    square = [sum(row[j] * row[j] for row in rows) for j in range(n)]
    residual = list(target)
    for _ in range(sweeps):
        for j in range(n):
            if square[j] == 0.0:
                continue
            step = sum(row[j] * r for row, r in zip(rows, residual)) / square[j]
            step = max(step, -x[j])
            if step != 0.0:
                x[j] += step
                residual = [r - row[j] * step for row, r in zip(rows, residual)]
    return x


class Setting:
    """Lots, wanted components, a random target and a recipe that is near it."""

    def __init__(self, draw, size=None):
        size = size or draw.integer(4, 20)
        names = CORE[:] if size > 4 else draw.sample(CORE, 3) + [draw.pick(OTHERS)]
        if size > 4:
            names = [ALTERNATIVES[s] if s in ALTERNATIVES and draw.chance(0.2) else s for s in names]
            names += draw.sample([s for s in OTHERS if s not in names], min(size, 19) - len(names))
        while len(names) < size:
            names.append(draw.pick(CORE))  # a second lot of a large material
        if draw.chance(0.3) and size > 5:
            names[-1] = draw.pick(CORE)
        self.lots = [Lot(draw, s) for s in names]
        supplied = {c for lot in self.lots for c in SALTS[lot.salt][0]}
        self.wanted = [c for c in SEAWATER if c in supplied]
        self.target = {c: SEAWATER[c] * draw.uniform(0.8, 1.3) for c in self.wanted}
        self.close_charge()
        self.dose = self.fitted()

    def close_charge(self):
        """Let Cl (or, without Cl, Na) take up the charge of the target."""
        residual = sum(CHARGE[c] * v for c, v in self.target.items())
        if "Cl" in self.target:
            self.target["Cl"] += residual
        elif "Na" in self.target:
            self.target["Na"] -= residual

    def amounts(self, component):
        return [lot.amount.get(component, 0.0) for lot in self.lots]

    def scaled(self, component):
        return [v / self.target[component] for v in self.amounts(component)]

    def fitted(self):
        return fit([self.scaled(c) for c in self.wanted], [1.0] * len(self.wanted))

    def adopt(self):
        """Take what the fitted recipe gives as the target (always reachable)."""
        for component in list(self.wanted):
            value = sum(a * x for a, x in zip(self.amounts(component), self.dose))
            if value < 0.02 * SEAWATER[component]:
                self.wanted.remove(component)
                del self.target[component]
            else:
                self.target[component] = value

    def level(self, entries):
        return sum(a * x for a, x in zip(entries, self.dose))

    def problem(self, draw, note, narrow=False, one_sided=0.12):
        """Bands, ratio rows, ceilings, stock and prices around the target."""
        p = Problem(note, [lot.price for lot in self.lots])
        for c in self.wanted:
            if c in ("Na", "Cl", "Mg", "Ca", "K", "SO4"):
                half = draw.log_uniform(0.001, 0.01 if narrow else 0.04)
            else:
                half = draw.log_uniform(0.005, 0.03 if narrow else 0.12)
            centre = 1.0 + draw.uniform(-0.7, 0.7) * half
            low, high = centre - half, centre + half
            if not narrow and draw.chance(one_sided):
                if draw.chance(0.7):
                    high = INF
                elif len(self.wanted) > 4:
                    low = -INF
            p.row(c, self.scaled(c), low, high)
        for top, bottom in (("Mg", "Ca"), ("TA", "Ca"), ("Sr", "Ca"), ("K", "Cl")):
            if top in self.wanted and bottom in self.wanted and draw.chance(0.35):
                above, below = self.amounts(top), self.amounts(bottom)
                ratio = self.target[top] / self.target[bottom]
                low = ratio * (1.0 - draw.uniform(0.005, 0.05))
                high = ratio * (1.0 + draw.uniform(0.005, 0.05))
                scale = self.target[top]
                if draw.chance(0.8):
                    p.row(f"{top}:{bottom} low", [(a - low * b) / scale for a, b in zip(above, below)], 0.0, INF)
                if draw.chance(0.8):
                    p.row(f"{top}:{bottom} high", [(a - high * b) / scale for a, b in zip(above, below)], -INF, 0.0)
        metal = [lot.metal for lot in self.lots]
        if draw.chance(0.7):
            cap = self.level(metal) * draw.uniform(1.001, 1.5)
            p.row("metal ceiling", [v / cap for v in metal], -INF, 1.0)
        for c in ("Li", "Br", "Sr"):
            if c not in self.wanted and draw.chance(0.5):
                entries = self.amounts(c)
                level = self.level(entries)
                if level > 0.0:
                    # Not below a tenth of seawater's, so that the row stays well scaled.
                    cap = max(level, 0.1 * SEAWATER[c]) * draw.uniform(1.001, 2.0)
                    p.row(f"{c} ceiling", [v / cap for v in entries], -INF, 1.0)
        if draw.chance(0.3):
            cap = sum(self.dose) * draw.uniform(1.001, 1.1)
            p.row("blend mass", [1.0 / cap] * len(self.lots), -INF, 1.0)
        for j, x in enumerate(self.dose):
            if draw.chance(0.35):
                p.column_high[j] = (x if x > 0.0 else 1.0) * draw.uniform(1.05, 3.0)
            if x > 0.0 and draw.chance(0.08):
                p.column_low[j] = x * draw.uniform(0.1, 0.95)
        return p


def salts_of(setting):
    return " ".join(lot.salt for lot in setting.lots)


def make_feasible(draw):
    setting = Setting(draw)
    if draw.chance(0.7):
        setting.adopt()
        kind = "target reached by a known recipe"
    else:
        kind = "charge-consistent target"
    p = setting.problem(draw, f"{kind}; {salts_of(setting)}")
    p.round()
    return p


def make_infeasible(draw, kind):
    setting = Setting(draw, draw.integer(5, 20) if kind != "few" else draw.integer(4, 7))
    if kind == "few":
        p = setting.problem(draw, f"too few materials for the target; {salts_of(setting)}", narrow=True)
        p.round()
        return p
    setting.adopt()
    narrow = kind in ("charge", "ratio")
    p = setting.problem(draw, "", narrow=narrow, one_sided=0.0)
    where = {name: i for i, name in enumerate(p.names)}
    if kind == "charge":
        ion = draw.pick([c for c in ("Na", "Cl") if c in where])
        factor = 1.0 + draw.pick([-1, 1]) * draw.log_uniform(0.003, 0.1)
        i = where[ion]
        p.row_low[i], p.row_high[i] = p.row_low[i] * factor, p.row_high[i] * factor
        detail = f"charge of the target does not close: {ion} x {factor:.4f}"
    elif kind == "source":
        missing = [c for c in SEAWATER if c not in where]
        if not missing:
            return None
        c = draw.pick(missing)
        p.row(c, [v / SEAWATER[c] for v in setting.amounts(c)], 0.9, 1.1)
        detail = f"no material is a source of {c}"
    elif kind == "ceiling":
        entries = [lot.metal for lot in setting.lots]
        cap = setting.level(entries) * draw.uniform(0.3, 0.95)
        p.row("metal ceiling, strict", [v / cap for v in entries], -INF, 1.0)
        detail = "metal ceiling below what the materials carry"
    elif kind == "stock":
        j = draw.integer(0, len(setting.lots) - 1)
        if setting.dose[j] <= 0.0:
            return None
        p.column_high[j] = setting.dose[j] * draw.uniform(0.3, 0.95)
        p.column_low[j] = 0.0
        detail = f"stock of {setting.lots[j].salt} too small"
    else:
        pairs = [(a, b) for a, b in (("Mg", "Ca"), ("TA", "Ca"), ("K", "Cl"), ("Sr", "Ca")) if a in where and b in where]
        if not pairs:
            return None
        top, bottom = draw.pick(pairs)
        ratio = setting.target[top] / setting.target[bottom] * (1.0 + draw.log_uniform(0.01, 0.3))
        p.row(f"{top}:{bottom} low, strict",
              [(a - ratio * b) / setting.target[top] for a, b in zip(setting.amounts(top), setting.amounts(bottom))],
              0.0, INF)
        detail = f"{top}:{bottom} ratio against the bands"
    p.note = f"{detail}; {salts_of(setting)}"
    p.round()
    return p


def make_degenerate(draw, kind):
    """(problem, has interior)"""
    if kind in ("twins", "free"):
        setting = Setting(draw, draw.integer(6, 16))
        setting.adopt()
        if kind == "twins":
            # The same lot twice or three times, at one price.
            for _ in range(draw.integer(1, 3)):
                j = draw.integer(0, len(setting.lots) - 1)
                setting.lots.append(setting.lots[j])
                setting.dose.append(0.0)
        p = setting.problem(draw, "")
        if kind == "twins":
            p.note = f"degenerate: ties, equal lots at equal prices; {salts_of(setting)}"
        else:
            for j in range(len(p.cost)):
                if draw.chance(0.5):
                    p.cost[j] = 0.0
            p.cost[0] = setting.lots[0].price
            # One material already weighed: its column is fixed.
            used = [j for j, x in enumerate(setting.dose) if x > 0.0]
            j = draw.pick(used)
            p.column_low[j] = p.column_high[j] = setting.dose[j]
            p.note = f"degenerate: ties, materials without price, one fixed; {salts_of(setting)}"
        p.round()
        return p, True
    setting = Setting(draw, draw.integer(6, 12))
    setting.adopt()
    lots = [lot for lot, x in zip(setting.lots, setting.dose) if x > 1e-3]
    dose = [dyadic(x, 12) for x in setting.dose if x > 1e-3]
    setting.lots, setting.dose = lots, dose
    wanted = [c for c in setting.wanted if any(c in SALTS[lot.salt][0] for lot in lots)]
    rows = {c: [dyadic(v, 26) for v in setting.scaled(c)] for c in wanted}
    level = {c: math.fsum(a * x for a, x in zip(row, dose)) for c, row in rows.items()}
    for c in wanted:  # the products and their sum must be exact in doubles
        if sum((Fraction(a) * Fraction(x) for a, x in zip(rows[c], dose)), Fraction(0)) != Fraction(level[c]):
            return None
    p = Problem("", [rounded(lot.price) for lot in lots])
    if kind == "equal":
        for c in wanted[:max(2, len(lots) - draw.integer(0, 2))]:
            p.row(c, rows[c], level[c], level[c])
        what = "bands of no width"
    elif kind == "repeat":
        chosen = wanted[:max(2, len(lots) - 2)]
        for c in chosen:
            p.row(c, rows[c], level[c], level[c])
        for _ in range(3):
            one, two = draw.sample(chosen, 2)
            both = [a + b for a, b in zip(rows[one], rows[two])]
            total = level[one] + level[two]
            if Fraction(level[one]) + Fraction(level[two]) != Fraction(total):
                return None
            p.row(f"{one}+{two}", both, total, total)
        what = "bands of no width, some rows the sum of two others"
    else:
        # More rows tight at one recipe than there are materials, and prices
        # inside the cone of those rows, so that this recipe is the optimum.
        for c in wanted:
            p.row(c, rows[c], level[c], INF)
        for k in range(4):
            one, two = draw.sample(wanted, 2)
            total = level[one] + level[two]
            if Fraction(level[one]) + Fraction(level[two]) != Fraction(total):
                return None
            p.row(f"{one}+{two}", [a + b for a, b in zip(rows[one], rows[two])], total, INF)
        weight = [draw.uniform(0.2, 2.0) for _ in p.matrix]
        p.cost = [rounded(sum(w * row[j] for w, row in zip(weight, p.matrix))) for j in range(len(lots))]
        what = "more tight rows than materials at the optimum"
    interior = all(lo < hi for lo, hi in zip(p.row_low, p.row_high))
    p.note = (f"degenerate: {what}{'' if interior else ', no interior'}, dyadic data; "
              + " ".join(lot.salt for lot in lots))
    return p, interior


def collect(seed):
    """All problems with their verdicts, in order of their kinds."""
    draw = Draw(seed)
    kept, tries = [], 0
    while len(kept) < WANTED_OPTIMAL:
        tries += 1
        p = make_feasible(draw)
        result = judge(p)
        if result and result[0] == "optimal":
            kept.append((p, result))
    kinds = ["charge", "source", "ceiling", "stock", "ratio", "few"]
    for number in range(WANTED_INFEASIBLE):
        while True:
            tries += 1
            p = make_infeasible(draw, kinds[number % len(kinds)])
            result = judge(p) if p else None
            if result and result[0] == "infeasible":
                p.note += f"; least violation {result[2]:.6g}"
                kept.append((p, result))
                break
    kinds = ["twins", "free", "equal", "repeat", "vertex"]
    for number in range(WANTED_DEGENERATE):
        while True:
            tries += 1
            made = make_degenerate(draw, kinds[number % len(kinds)])
            result = judge(*made) if made else None
            if result and result[0] == "optimal":
                kept.append((made[0], result))
                break
    return kept, tries


def write(path, seed, kept):
    """One line for each field and each matrix row; floats as repr."""

    def text(value):
        return json.dumps(value, separators=(",", ":"), allow_nan=False)

    def bounds(values):
        return text([None if math.isinf(v) else v for v in values])

    made_with = {"highspy": importlib.metadata.version("highspy"), "numpy": np.__version__, "scipy": scipy.__version__}
    lines = ["{", '"version":1,', f'"made_with":{text(made_with)},', f'"seed":{seed},', '"problems":[']
    for number, (p, (verdict, objective, _)) in enumerate(kept):
        lines += [
            f'{{"id":"lp{number:03d}",', f'"note":{text(p.note)},',
            f'"cost":{text(p.cost)},',
            f'"column_low":{bounds(p.column_low)},', f'"column_high":{bounds(p.column_high)},',
            f'"row_low":{bounds(p.row_low)},', f'"row_high":{bounds(p.row_high)},',
            '"matrix":[',
            ",\n".join(text(row) for row in p.matrix),
            "],", f'"verdict":{text(verdict)},',
            f'"objective":{text(objective)}}}' + ("," if number + 1 < len(kept) else ""),
        ]
    lines += ["]", "}"]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")


def main():
    root = pathlib.Path(__file__).resolve().parents[2]
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--out", type=pathlib.Path, default=root / "test" / "golden", help="folder to write to")
    out = parser.parse_args().out
    out.mkdir(parents=True, exist_ok=True)
    begin = time.monotonic()
    kept, tries = collect(SEED)
    path = out / "recipe_lp.json"
    write(path, SEED, kept)
    counts = {v: sum(r[0] == v for _, r in kept) for v in ("optimal", "infeasible")}
    degenerate = sum(p.note.startswith("degenerate") for p, _ in kept)
    print(f"recipe_lp.json: seed {SEED}, {len(kept)} problems ({counts['optimal']} optimal of which "
          f"{degenerate} degenerate, {counts['infeasible']} infeasible) kept of {tries} tried, "
          f"{path.stat().st_size} bytes, {time.monotonic() - begin:.0f} s")


if __name__ == "__main__":
    main()
