# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Writes the books' part of docs/benchmarks.md from what bench/books measured: books_report.py SQLITE.json
POSTGRES.json PAGE. The rest of the page stays as bench/run wrote it."""
import json
import pathlib
import sys

HEAD = "## Twenty years of books"


def figure(ms: float) -> str:
    return f"{ms:.2f}" if ms < 1 else f"{ms:.1f}" if ms < 10 else f"{ms:.0f}"


def section(sqlite: dict, postgres: dict) -> str:
    if sqlite["batches"] != postgres["batches"] or [q["name"] for q in sqlite["questions"]] != [
            q["name"] for q in postgres["questions"]]:
        sys.exit("the two databases were not asked the same: run bench/books again")
    rows = []
    for a, b in zip(sqlite["questions"], postgres["questions"]):
        rows.append(f"| {a['name']} | {figure(a['p50_ms'])}, {figure(a['p99_ms'])} ({figure(a['own_p50_ms'])}, "
                    f"{figure(a['own_p99_ms'])}) | {figure(b['p50_ms'])}, {figure(b['p99_ms'])} |")
    both = (sqlite, postgres)
    loads = [x[key] for x in both for key in ("load_before", "load_after")]

    def pair(form):
        return " | ".join(form(x) for x in both)

    return f"""{HEAD}

Written by `bench/books`: {sqlite['batches']} batches of 40 analytes in 4 replicates, {sqlite['results']} results, asked
through the program's own code, each question of {min(q['times'] for q in sqlite['questions'])} or more records drawn at random. Milliseconds by the clock, the
median and the 99th of a hundred (in brackets the processor's own time, SQLite working in the asking process).
Asked for: under 200 ms. Other work kept the machine busy meanwhile: its load was {min(loads):.1f} to {max(loads):.1f}.

| what | SQLite: p50, p99 [ms] | PostgreSQL: p50, p99 [ms] |
|---|---|---|
""" + "\n".join(rows) + f"""
| opening | {pair(lambda x: f"{1000 * x['open_s']:.0f} ms")} |
| size | {pair(lambda x: f"{x['size_gb']:.2f} GB")} |
| writing all of it, 250 batches to a transaction | {pair(lambda x: f"{x['write_s']:.0f} s" if "write_s" in x else "copied from SQLite (bench/books_copy)")} |
| looking through all of it: pages, trail, projections | {pair(lambda x: f"{x['verify_s']:.0f} s" if "verify_s" in x else "not measured")} |

The text of a run is 4 kB here; 160 results as the program writes them take some 60 kB, which no question above reads.
"""


def main() -> None:
    sqlite, postgres = (json.loads(pathlib.Path(name).read_text()) for name in sys.argv[1:3])
    page = pathlib.Path(sys.argv[3])
    before, _, after = page.read_text().partition(HEAD)
    others = after.partition("\n## ")[2]  # parts that other programs write
    page.write_text(before.rstrip("\n") + "\n\n" + section(sqlite, postgres) + ("\n## " + others if others else ""))


main()
