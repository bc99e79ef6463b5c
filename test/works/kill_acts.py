# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Kills the program (SIGKILL) at random moments of weighings, an import and signings, sends each request again until
it is answered, and holds the books against what was acknowledged: nothing lost, nothing twice, nothing half
written, the trail whole.

usage: kill_acts.py SOURCE PROGRAM sqlite|postgres [SEED]

With postgres the books are on a server of the test's own; of the program's death it learns by the lost connection, and
what was sent before may yet be done."""
import json
import pathlib
import random
import subprocess
import sys
import tempfile
import time

SOURCE, PROGRAM = pathlib.Path(sys.argv[1]).resolve(), str(pathlib.Path(sys.argv[2]).resolve())
sys.path[:0] = [str(SOURCE / "examples" / "quarter"), str(SOURCE / "test" / "house")]
import figures  # noqa: E402
import postgres  # noqa: E402
import run as quarter  # noqa: E402

# Kills of a weighing, of the import and in all.
WEIGHING_KILLS, IMPORT_KILLS, KILLS = 6, 70, 200
# Five failed passwords in a row make the next wait, and a killed check counts as failed: fewer kills a signing.
SIGNING_KILLS, MOST_SIGNINGS = 4, 120


class Killer:
    def __init__(self, works, draw):
        self.works, self.draw = works, draw
        self.kills = self.requests = self.repeats = 0
        self.lasts_s = 0.02  # of an act like the next one

    def act(self, who, words, kills, sign=False):
        """Sends one request, killed so many times, until it is answered; gives the answer."""
        self.requests += 1
        works = self.works
        secret = ["--password-file", works.path(who + ".password")] if sign else []
        command = [PROGRAM, *words, "--books", str(works.books), "--session", works.path(who + ".session"), *secret,
                   "--request", f"kill-{self.requests}", "--at", works.at(), "--json"]
        for _ in range(kills):
            process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
            time.sleep(self.draw.uniform(0, self.lasts_s))
            process.kill()
            out, _ = process.communicate()
            if process.returncode == 0:
                return json.loads(out)
            self.kills += 1
        began = time.monotonic()
        done = subprocess.run(command, capture_output=True, text=True)
        self.lasts_s = time.monotonic() - began
        if done.returncode not in (0, 1):
            sys.exit(f"{' '.join(words)}: {done.stderr}")
        answer = json.loads(done.stdout)
        self.repeats += bool(answer.get("repeated"))
        return answer


def prepare(folder, books, draw):
    works = quarter.Works(PROGRAM, folder)
    works.books = books
    quarter.open_books(works)
    used = quarter.keep_recipes(works)
    lots = quarter.Lots(works, used, draw)
    works.next_day()
    lots.deliver(works.now.month, 3)
    batch = works.act("olga", "batch", "plan", "Tarnlea raised", "--size", "250 kg", "--open-packages")["answer"]
    sheet = works.read("batch", "show", batch)["batch"]
    if sheet["changes"]:
        works.act("nell", "batch", "approve", batch, sign=True)
    return works, lots, batch, sheet


def fail_unless(truth, sentence):
    if not truth:
        sys.exit("FAILED: " + sentence)


def main():
    kind, seed = sys.argv[3], int(sys.argv[4]) if len(sys.argv) > 4 else 4711
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        if kind == "sqlite":
            kill_acts(folder, folder / "books", kind, seed)
        else:
            with postgres.server(folder / "server") as books:
                kill_acts(folder, books, kind, seed)


def kill_acts(folder, books, kind, seed):
    draw = random.Random(seed)
    works, lots, batch, sheet = prepare(folder, books, draw)
    killer = Killer(works, draw)
    works.act("olga", "sample", "take", batch, "--increments", "1", "--mass", "450 g", code=4)  # signs olga in
    wanted = {}
    for addition in sheet["additions"]:
        step = str(addition["step"])
        killer.act("olga", ["batch", "weigh", batch, "--step", step, "--lot", addition["lot"], "--net",
                            addition["target_kg"] + " kg"], WEIGHING_KILLS)
        wanted[step] = addition["target_kg"] + " kg"
    weighed = works.read("batch", "show", batch)["weighings"]
    fail_unless({str(w["step"]): w["net"] for w in weighed} == wanted and len(weighed) == len(wanted),
                "each step is weighed once, as typed")
    used = {a["lot"]: 0.0 for a in sheet["additions"]}
    for addition in sheet["additions"]:
        used[addition["lot"]] += float(addition["target_kg"])
    for lot in works.read("lot", "list")["lots"]:
        taken = lot["received_kg"] - lot["left_kg"]
        fail_unless(abs(taken - used.get(lot["number"], 0)) < 1e-6, f"stock of {lot['number']} is taken once")

    works.act("olga", "batch", "blend", batch)
    sample = quarter.take_sample(works, batch)
    portion = works.act("mira", "sample", "portion", sample, "--salt", "43.70 g", "--water", "1000.0 g", "--by",
                        "dry mass")["answer"]
    rows = ["Sample,Measured," + ",".join(f"{s} line" for s in quarter.ICP), ",," + ",".join(["mg/kg"] * 7),
            f"{portion},{works.now:%Y-%m-%d},10700,1310,434,399,7.9,4.5,2710",
            f"QC-35,{works.now:%Y-%m-%d}," + ",".join(str(quarter.CHECK.get(s, "")) for s in quarter.ICP)]
    table = works.write("table.csv", "\n".join(rows) + "\n")
    imported = killer.act("mira", ["results", "import", table, "--map",
                                   str(SOURCE / "examples" / "quarter" / "icp_map.toml"), "--method", "M-01"],
                          IMPORT_KILLS)["answer"]
    runs = works.read("results", "show", batch)["runs"]
    fail_unless(len(runs) == 1 and len(runs[0]["results"]) == 7, "the table is imported once and whole")

    works.act("sten", "results", "check", imported)
    killer.act("mira", ["results", "count", imported], SIGNING_KILLS, sign=True)
    signings = 0
    while killer.kills < KILLS and signings < MOST_SIGNINGS:
        signings += 1
        entered = works.act("mira", "results", "enter", f"alkalinity=4.{signings:03} meq/kg", "--portion", portion,
                            "--method", "M-02")["answer"]
        works.act("sten", "results", "check", entered)
        killer.act("mira", ["results", "count", entered], SIGNING_KILLS, sign=True)
    runs = works.read("results", "show", batch)["runs"]
    fail_unless(len(runs) == 1 + signings and all("approved" in r for r in runs), "each run is signed")
    fail_unless(killer.kills >= KILLS, f"only {killer.kills} kills hit an act: try another seed")
    trail = works.read("trail", "verify")
    fail_unless(trail["sound"], "the trail is whole: " + "; ".join(trail["faults"]))
    print(f"{killer.kills} kills in {killer.requests} requests, {killer.repeats} of which were done though not "
          f"answered; {trail['entries']} entries, whole; {kind}, seed {seed}")
    record(kind, killer)


def record(kind, killer):
    """The kills for docs/validation/promises.md; their number beyond what is aimed at is by chance."""
    on = {"sqlite": "SQLite", "postgres": "PostgreSQL"}[kind]
    figures.record("Books", f"kill -9 at random moments of weighings, an import and signings by the program's commands, {on}: nothing "
                   "acknowledged is lost, nothing done twice, the trail whole", f"{KILLS} kills",
                   f"{KILLS} kills or more, {killer.kills} this time, and nothing lost or done twice", killer.kills >= KILLS,
                   f"kill_acts {kind}", varies=True)


if __name__ == "__main__":
    main()
