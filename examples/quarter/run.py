#!/usr/bin/env python3
# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""A quarter's production of an invented works, run by the program's commands: 60 batches, 3 of them with a
planted fault. Everything here is invented: the works, its people, lots, weighings and results.

usage: run.py PROGRAM FOLDER [--batches N] [--seed N] [--at-work] [--until DAY]    N batches, 6 or more, 60 unless stated

With --at-work the works is left as it is found on a working day, in the last days before today: one batch waits for
the approval of its lot adjustment, one is half weighed, one is sampled, one is under test with a run to be checked, one
is ready for a decision. --until names another day than today, so that a page can show what everybody will see.

The truth behind the numbers is drawn here (what was really in a lot, what really went into the blender, what
the instruments really showed) and is told to the program only as a works would know it: by certificates,
scale readings and results. At the end the script holds what the program found against what was planted, and
exits with 1 where they differ."""
import argparse
import datetime
import json
import os
import pathlib
import random
import subprocess
import sys
import tomllib

HERE = pathlib.Path(__file__).resolve().parent
WORKS = HERE.parent / "works"
SUPPLIER = "an invented supplier"
PEOPLE = {  # id: name, duty
    "nell": ("N. Marl", "formulator"),
    "piet": ("P. Quoin", "receiving"),
    "olga": ("O. Brae", "operator"),
    "mira": ("M. Fell", "analyst"),
    "sten": ("S. Holm", "analyst"),
    "quin": ("Q. Ashe", "quality manager"),
}
PRODUCTS = {"Tarnlea raised": "raised.toml", "Tarnlea natural": "natural.toml"}
SIZE_KG = 250
WHOLE = 60  # batches of a quarter
MOLAR = {"Na": 22.98977, "Mg": 24.305, "Ca": 40.078, "K": 39.0983, "Sr": 87.62, "B": 10.81, "SO4": 96.06,
         "Cl": 35.45}
ICP = ["Na", "Mg", "Ca", "K", "Sr", "B", "SO4"]
# What the laboratory's methods do, relative: error common to a run, and repeatability.
RUN_ERROR = {"icp": 0.0025, "titration": 0.0015, "silver": 0.001}
CHECK = {"Na": 10780.0, "Mg": 1284.0, "Ca": 412.0}  # mg/kg of the works' check sample QC-35, as method-01.toml has it
REPEAT = {"icp": 0.0012, "titration": 0.0009, "silver": 0.0006}


# What the program is to say of each planted fault: kind, of what within its name, and where it came from. The damp material is one that no other
# brings the like of: of the two calcium chlorides in the recipe no test of the water could tell which of them was damp, and
# the program says so.
DAMP = "magnesium sulfate heptahydrate"
WANTED = {"tare": ("amount", "magnesium chloride hexahydrate", "weighing"), "damp lot": ("amount", DAMP, "lot"),
          "water": ("strength", "", None)}


class Works:
    """The books, and who acts in them at what instant."""

    def __init__(self, program, folder):
        self.program, self.folder = program, folder
        self.books = folder / "books"
        self.now = datetime.datetime(2026, 7, 1, 6, 0)
        self.signed_in = {}  # person: instant of their last act; a session ends when idle for 30 minutes
        self.calls = 0

    def path(self, name):
        return str(self.folder / name)

    def write(self, name, text):
        (self.folder / name).write_text(text)
        return self.path(name)

    def call(self, *words, code=0, read=False):
        self.calls += 1
        done = subprocess.run([self.program, *words, *([] if read == "none" else ["--books", str(self.books)])],
                              capture_output=True, text=True)
        codes = code if isinstance(code, tuple) else (code,)
        if done.returncode not in codes:
            sys.exit(f"{' '.join(words)}\n  ended with {done.returncode}: {done.stdout}{done.stderr}")
        return done

    def read(self, *words, code=(0, 1)):
        return json.loads(self.call(*words, "--json", code=code).stdout)

    def at(self):
        self.now += datetime.timedelta(minutes=1)
        return self.now.strftime("%Y-%m-%dT%H:%M:%S.000Z")

    def act(self, who, *words, sign=False, code=0):
        """An act of somebody, signed with their password where it has to be; gives the answer."""
        if self.now - self.signed_in.get(who, datetime.datetime.min) > datetime.timedelta(minutes=25):
            self.call("person", "sign-in", who, "--password-file", self.path(who + ".password"), "--to",
                      self.path(who + ".session"), "--device", "desk of " + who, "--at", self.at(), "--quiet")
        self.signed_in[who] = self.now
        secret = ["--password-file", self.path(who + ".password")] if sign else []
        done = self.call(*words, "--session", self.path(who + ".session"), *secret, "--at", self.at(), "--json",
                         code=code)
        return json.loads(done.stdout) if done.stdout.startswith("{") else {}

    def day_in(self, days):
        return (self.now + datetime.timedelta(days=days)).strftime("%Y-%m-%d")

    def next_day(self):
        self.now = datetime.datetime.combine(self.now.date() + datetime.timedelta(days=1), datetime.time(6, 0))
        while self.now.weekday() > 4:
            self.now += datetime.timedelta(days=1)


def open_books(works):
    for person in [*PEOPLE, "ada"]:
        works.write(person + ".password", f"an invented password of {person}\n")
    works.call("store", "init", "--invented", "--name", "Tarnlea Quay works (invented)", "--laboratory",
               "Tarnlea Quay laboratory (invented)", "--address", "1 Invented Quay", "--person", "ada",
               "--person-name", "A. Tarn", "--password-file", works.path("ada.password"), "--at", works.at(), "--quiet")
    for person, (name, duty) in PEOPLE.items():
        works.call("person", "add", person, "--name", name, "--duty", duty, "--new-password-file",
                   works.path(person + ".password"), "--person", "ada", "--password-file",
                   works.path("ada.password"), "--at", works.at(), "--quiet")
    works.call("store", "make-key", works.path("works.key"), "--quiet", read="none")
    works.act("nell", "material", "keep", str(WORKS / "materials.toml"))
    materials = tomllib.loads((WORKS / "materials.toml").read_text())["material"]
    works.act("piet", "supplier", "keep", SUPPLIER, "--review-by", works.day_in(360),
              *[word for m in materials for word in ("--material", m["name"])])
    for scale, step, capacity in [("W1", "0.01 g", "600 g"), ("W2", "0.1 g", "15 kg"), ("W3", "20 g", "300 kg")]:
        works.act("nell", "scale", "keep", scale, "--step", step, "--capacity", capacity, "--checked-until",
                  works.day_in(210))


def keep_recipes(works):
    """Solves each product, keeps the recipe and its limits; gives the materials that are used."""
    used = {}
    for product, target in PRODUCTS.items():
        recipe = works.path(target.replace(".toml", "-recipe.toml"))
        works.call("recipe", "solve", str(WORKS / target), "--materials", str(WORKS / "materials.toml"), "--out",
                   recipe, "--quiet", read="none")
        version = works.act("nell", "recipe", "keep", product, "--target", str(WORKS / target), "--recipe", recipe,
                            "--why", "first version of the quarter")["answer"]
        works.act("nell", "recipe", "offer", version)
        works.act("quin", "recipe", "approve", version, "--shown", works.read("recipe", "show", version)["mark"],
                  sign=True)
        for share in works.read("recipe", "show", version)["recipe"]["shares"]:
            used[share["material"]] = max(used.get(share["material"], 0), float(share["share"]))
        limits = HERE / ("limits-" + target)
        works.act("quin", "limits", "keep", str(limits), "--why", "limits of the quarter", sign=True)
    for method in sorted(HERE.glob("method-*.toml")):
        works.act("mira", "method", "keep", str(method))
    return used


def stated_assay(material):
    """The catalogue's assay in per cent with its standard uncertainty."""
    assay = material.get("assay")
    if assay is None:
        return None
    number = lambda text: float(text.split()[0])
    if "value" in assay:
        return number(assay["value"]), number(assay.get("u", "0.1 %"))
    low, high = number(assay["low"]), number(assay["high"])
    return (low + high) / 2, (high - low) / 12 ** 0.5


class Lots:
    """Deliveries, and what is really in them."""

    def __init__(self, works, used, draw):
        self.works, self.used, self.draw = works, used, draw
        catalogue = tomllib.loads((WORKS / "materials.toml").read_text())["material"]
        self.catalogue = {m["name"]: m for m in catalogue}
        self.true_over_stated = {}

    def deliver(self, month, batches, only=None, number=None, times=None, kg=None):
        """One lot of each material in use, enough for so many batches."""
        tables = []
        numbers = []
        for place, name in enumerate(sorted(self.used)):
            if only is not None and name != only:
                continue
            lot = number or f"{chr(65 + place)}26-{month:02}01"
            stock = kg or max(1.6 * batches * SIZE_KG * self.used[name], 25)
            lines = ["[[lot]]", f'material = "{name}"', f'number = "{lot}"', f'stock = "{stock:.0f} kg"',
                     f'supplier = "{SUPPLIER}"', 'use_by = "2028-12-31"']
            stated = stated_assay(self.catalogue[name])
            if stated is not None:
                value, u = stated
                u = min(u, 0.2)
                certified = value + self.draw.gauss(0, u)
                lines.append(f'assay = {{ value = "{certified:.2f} %", u = "{u:.2f} %" }}')
                self.true_over_stated[lot] = (1 + self.draw.gauss(0, u / 2) / certified) * (times or 1)
            else:
                self.true_over_stated[lot] = 1.0
            tables.append("\n".join(lines))
            numbers.append(lot)
        head = 'format = "brinewright/1"\nkind = "lots"\ninvented = true\n\n'
        path = self.works.write(f"lots-{month:02}{'-' + number if number else ''}.toml", head + "\n\n".join(tables) + "\n")
        certificate = self.works.write(f"supplier-{month:02}.txt", "An invented certificate.\n")
        self.works.act("piet", "lot", "receive", path, "--certificate", certificate)
        for lot in numbers:
            self.works.act("mira", "lot", "accept", lot)
        return numbers


def weigh(works, batch, sheet, draw, fault, only=None):
    """Weighs a batch to its sheet, or only so many of its steps; gives what really went in, step by step."""
    lines = ['format = "brinewright/1"', 'kind = "weighings"', "invented = true"]
    capacity = {"W1": 0.6, "W2": 15.0, "W3": 300.0}
    step_of = {"W1": 1e-5, "W2": 1e-4, "W3": 0.02}
    true = []
    for addition in sheet["additions"][:only]:
        target, step = float(addition["target_kg"]), step_of[addition["scale"]]
        shown = round(target / step) * step
        shown += step * draw.choice([-1, 0, 0, 1]) if float(addition["tolerance_kg"]) >= 2 * step else 0
        parts = [shown] if shown <= capacity[addition["scale"]] else [shown / 2, shown / 2]
        for part in parts:
            part = round(part / step) * step
            lines += ["", "[[weighing]]", f"step = {addition['step']}", f'lot = "{addition["lot"]}"',
                      f'net = "{part:.5f} kg"', "by_hand = false"]
        real = shown + draw.gauss(0, step / 2)
        if fault == "tare" and addition["material"] == "magnesium chloride hexahydrate":
            real *= 0.95  # the tare of another container was taken off
        true.append(real)
    path = works.write("weighings.toml", "\n".join(lines) + "\n")
    works.act("olga", "batch", "weigh", batch, "--file", path, code=(0, 1))
    if only is not None:
        return true
    works.act("olga", "batch", "blend", batch)
    total = sum(float(a["target_kg"]) for a in sheet["additions"])
    works.act("olga", "batch", "close", batch, "--packed", f"{total - 2.2:.1f} kg", "--packs", "10", "--sampled",
              "0.5 kg", "--swept", "0.8 kg")
    return true


def true_water(sheet, true_kg, lots):
    """mol per kg of made-up water at the batch's mixing rate, by symbol."""
    additions = sheet["additions"]
    wanted = sum(float(a["target_kg"]) for a in additions)
    ratio = [kg / float(a["target_kg"]) * lots.true_over_stated[a["lot"]] for kg, a in zip(true_kg, additions)]
    shares = {s["symbol"]: [float(x) for x in s["by_step"]] for s in sheet["shares"]}
    blend = sum(true_kg) / wanted
    return {p["symbol"]: float(p["mol_per_kg"]) * sum(s * r for s, r in zip(shares[p["symbol"]], ratio)) / blend
            for p in sheet["water"] if p["symbol"] in shares}


def take_sample(works, batch):
    return works.act("olga", "sample", "take", batch, "--increments", "10", "--mass", "480 g", "--split-by",
                     "riffle")["answer"]


def test(works, sample, sheet, water, draw, tag, really_g=1000.0):
    """Dissolves two portions of a sample, each in what is read as 1000.0 g of water, and tests both; gives the
    runs."""
    rate = float(sheet["blend_g_per_kg_purified_water"])
    portions, strengths = [], []
    for _ in range(2):
        salt = round(rate + draw.uniform(-0.4, 0.4), 2)
        strengths.append((salt / (really_g + salt)) / (rate / (1000 + rate)))
        portions.append(works.act("mira", "sample", "portion", sample, "--salt", f"{salt:.2f} g", "--water",
                                  "1000.0 g", "--by", "dry mass")["answer"])
    return run_tests(works, portions, strengths, water, draw, tag)


def run_tests(works, portions, strengths, water, draw, tag):
    error = {s: draw.gauss(0, RUN_ERROR["icp"]) for s in ICP}
    unit = {s: "mg/kg" for s in ICP}
    rows = ["Sample,Measured," + ",".join(f"{s} line" for s in ICP), ",," + ",".join(unit.values())]
    for portion, strength in zip(portions, strengths):
        cells = []
        for s in ICP:
            value = water[s] * MOLAR[s] * 1e3 * strength * (1 + error[s] + draw.gauss(0, REPEAT["icp"]))
            cells.append(f"{value:.5g}" if value < 1e4 else f"{value:.0f}")
        rows.append(f"{portion},{works.now:%Y-%m-%d}," + ",".join(cells))
    beside = random.Random(f"check {tag}")
    cells = [f"{c * (1 + error[s] + beside.gauss(0, REPEAT['icp'])):.5g}" if (c := CHECK.get(s)) else "" for s in ICP]
    rows.append(f"QC-35,{works.now:%Y-%m-%d}," + ",".join(cells))
    table = works.write(f"icp-{tag}.csv", "\n".join(rows) + "\n")
    runs = [works.act("mira", "results", "import", table, "--map", str(HERE / "icp_map.toml"), "--method", "M-01")
            ["answer"]]
    for symbol, method, kind in [("alkalinity", "M-02", "titration"), ("Cl", "M-03", "silver"),
                                 ("Ca", "M-04", "titration")]:
        common = draw.gauss(0, RUN_ERROR[kind])
        read = []
        for portion, strength in zip(portions, strengths):
            value = water[symbol] * strength * (1 + common + draw.gauss(0, REPEAT[kind]))
            digits = f"{value * 1e3:.4f} meq/kg" if symbol == "alkalinity" else f"{value * 1e3:.2f} mmol/kg"
            read.append(f"{portion}: {symbol}={digits}")
        runs.append(works.act("mira", "results", "enter", *read, "--method", method)["answer"])
    for run in runs:
        works.act("sten", "results", "check", run)
        works.act("mira", "results", "count", run, sign=True)
    return runs


def dissolve_again(works, sample, sheet, water, draw, tag, runs):
    """Sets aside what was tested in portions that were dissolved wrongly, and tests two new ones."""
    for run in runs:
        for line in works.read("results", "show", run)["runs"][0]["results"]:
            works.act("sten", "results", "set-aside", run, "--line", str(line["line"]), "--why",
                      "both portions were dissolved in 1050 g of water: the flask was read wrongly")
        works.act("sten", "results", "count", run, sign=True)
    test(works, sample, sheet, water, draw, tag + "c")


def judge(works, batch):
    """What the program says of a batch: its release view and its explanation."""
    return works.read("release", "show", batch), works.read("batch", "explain", batch)


def fits(found, planted):
    kind, of, source = WANTED[planted]
    return found is not None and found[0] == kind and found[1].startswith(of) and found[2] == source


def named(explained):
    causes = explained["explanations"]
    return (causes[0]["kind"], causes[0]["of"], causes[0]["source"]) if causes and explained["verdict"] == "found" else None


def make(works, product, lots, draw, fault, tag):
    """One batch from plan to decision; gives what the program found."""
    chosen = []
    if fault == "damp lot":
        number = f"X26-{works.now:%m%d}"
        lots.deliver(works.now.month, 1, only=DAMP, number=number, times=0.94, kg=60)
        chosen = ["--choose", f"{DAMP}={number}"]
    batch = works.act("olga", "batch", "plan", product, "--size", f"{SIZE_KG} kg", "--open-packages", *chosen)["answer"]
    sheet = works.read("batch", "show", batch)["batch"]
    if sheet["changes"]:
        works.act("nell", "batch", "approve", batch, "--why", "follows the certificates", sign=True)
    true_kg = weigh(works, batch, sheet, draw, fault)
    water = true_water(sheet, true_kg, lots)
    sample = take_sample(works, batch)
    runs = test(works, sample, sheet, water, draw, tag, 1050.0 if fault == "water" else 1000.0)
    view, explained = judge(works, batch)
    found = named(explained)
    if any("two more are wanted" in item["text"] for item in view["open"]):
        runs += test(works, sample, sheet, water, draw, tag + "b")
        view, explained = judge(works, batch)
        found = named(explained)
    if fault == "water" and fits(found, fault):
        dissolve_again(works, sample, sheet, water, draw, tag, runs)
        view, _ = judge(works, batch)
    if fault == "damp lot" and fits(found, fault):
        works.act("mira", "lot", "hold", number, "--why", "its assay is some 6 % below its certificate: batch " + batch)
        view, _ = judge(works, batch)
    decision = view["proposal"]
    reason = view["proposal_why"] if decision != "release" else "within its limits"
    works.act("quin", "release", "decide", batch, decision, "--shown", view["mark"], "--why", reason or "as proposed",
              sign=True)
    certificate = None
    if decision == "release":
        certificate = works.act("quin", "certificate", "issue", batch, "--key", works.path("works.key"), "--use-by",
                                "2028-12-31", "--with-lots", sign=True)["answer"]
        works.call("certificate", "print", certificate, "--out", works.path(f"{certificate.replace('/', '-')}.pdf"),
                   "--quiet")
    return {"batch": batch, "product": product, "planted": fault, "found": found, "verdict": explained["verdict"],
            "decision": decision, "why": reason, "certificate": certificate}


def main():
    options = argparse.ArgumentParser()
    options.add_argument("program")
    options.add_argument("folder", type=pathlib.Path)
    options.add_argument("--batches", type=int, default=WHOLE)
    options.add_argument("--seed", type=int, default=20260701)
    options.add_argument("--at-work", action="store_true")
    options.add_argument("--until", type=datetime.date.fromisoformat, default=datetime.date.today())
    a = options.parse_args()
    if a.batches < 6:
        options.error("--batches: 6 or more, for three of them have a fault")
    a.folder.mkdir(parents=True)
    draw = random.Random(a.seed)
    works = Works(str(pathlib.Path(a.program).resolve()), a.folder.resolve())
    if a.at_work:  # the last day is yesterday
        days = a.batches + 5
        works.now = datetime.datetime.combine(a.until - datetime.timedelta(days=days * 7 // 5 + 3), datetime.time(6, 0))
    open_books(works)
    used = keep_recipes(works)
    lots = Lots(works, used, draw)
    faults = {a.batches * 16 // 60 // 3 * 3: "tare", a.batches * 34 // 60 // 3 * 3 + 1: "damp lot", a.batches * 51 // 60: "water"}
    month, outcomes = None, []
    for i in range(a.batches):
        works.next_day()
        if works.now.month != month:
            month = works.now.month
            lots.deliver(month, 26)
        product = list(PRODUCTS)[0 if i % 3 != 2 else 1]
        outcome = make(works, product, lots, draw, faults.get(i), f"{i + 1:02}")
        outcomes.append(outcome)
        print(f"{outcome['batch']}  {outcome['product']:16}  {outcome['decision']:8} "
              f"{outcome['certificate'] or '-':14} {outcome['planted'] or '':12} {outcome['found'] or ''}", flush=True)
    if a.at_work:
        leave_at_work(works, lots, draw)
    finish(works, a.folder, outcomes)


def plan(works, product, approved=True):
    batch = works.act("olga", "batch", "plan", product, "--size", f"{SIZE_KG} kg", "--open-packages")["answer"]
    sheet = works.read("batch", "show", batch)["batch"]
    if approved and sheet["changes"]:
        works.act("nell", "batch", "approve", batch, "--why", "follows the certificates", sign=True)
    return batch, sheet


def leave_at_work(works, lots, draw):
    """Batches as they are found on a working day, each at another step of its way."""
    product = list(PRODUCTS)[0]
    made = []
    for step in ("ready", "under test", "sampled", "half weighed", "to be approved"):
        works.next_day()
        batch, sheet = plan(works, product, step != "to be approved")
        made.append(f"{batch} ({step})")
        if step == "to be approved":
            continue
        true_kg = weigh(works, batch, sheet, draw, None, 6 if step == "half weighed" else None)
        if step == "half weighed":
            continue
        sample = take_sample(works, batch)
        if step == "sampled":
            continue
        water = true_water(sheet, true_kg, lots)
        if step == "ready":
            test(works, sample, sheet, water, draw, "ready")
            continue
        portions = [works.act("mira", "sample", "portion", sample, "--salt",
                              f"{float(sheet['blend_g_per_kg_purified_water']):.2f} g", "--water", "1000.0 g", "--by", "dry mass")["answer"] for _ in range(2)]
        works.act("mira", "results", "enter", *[f"{p}: alkalinity={water['alkalinity'] * 1e3:.4f} meq/kg" for p in portions],
                  "--method", "M-02")
    print("at work: " + ", ".join(made), flush=True)


def finish(works, folder, outcomes):
    sound = works.call("trail", "verify", code=(0, 1)).returncode == 0
    caught = [o for o in outcomes if o["planted"] and fits(o["found"], o["planted"])]
    planted = [o for o in outcomes if o["planted"]]
    alarms = [o for o in outcomes if not o["planted"] and o["verdict"] == "found"]
    released = [o for o in outcomes if o["decision"] == "release"]
    wrong = [o for o in released if o["planted"] in ("tare", "damp lot")]
    (folder / "outcomes.json").write_text(json.dumps(outcomes, indent=1) + "\n")
    print(f"\n{len(outcomes)} batches: {len(released)} released, each with its certificate; "
          f"{len(caught)} of {len(planted)} planted faults found and named; {len(alarms)} explained without one; "
          f"{len(wrong)} faulty ones released; trail {'whole' if sound else 'NOT whole'}; {works.calls} commands")
    good = sound and len(caught) == len(planted) and not wrong
    if len(outcomes) == WHOLE and "BW_FIGURES" in os.environ:
        record(len(released), len(caught), len(planted), len(alarms), len(wrong), sound)
    sys.exit(0 if good else 1)


def record(released, caught, planted, alarms, wrong, sound):
    """What the whole quarter found of what was promised, for docs/validation/promises.md."""
    sys.path.append(str(HERE.parent.parent / "test" / "house"))
    import figures  # noqa: PLC0415

    by = "the whole quarter"
    figures.record("Books", "a quarter of an invented works by the program's commands, from the recipe to the certificate", f"{WHOLE} batches",
                   f"{WHOLE} batches, {released} released with a certificate, the trail {'whole' if sound else 'NOT whole'}", sound, by)
    figures.record("Books", "faults planted in that quarter (a tare read wrongly, a damp lot, too much water in a test): found and named by the "
                   "diagnosis, and no faulty salt released", f"all {planted}",
                   f"{caught} of {planted} found and named; {wrong} batches of faulty salt released; {alarms} faults named where none was planted",
                   caught == planted and wrong == 0, by)


if __name__ == "__main__":
    main()
