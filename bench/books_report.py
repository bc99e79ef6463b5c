# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Writes the books' part of docs/benchmarks.md from what bench/books measured: books_report.py SQLITE.json
POSTGRES.json PAGE [FEWER_YEARS.json...]. The rest of the page stays as bench/run wrote it."""
import json
import pathlib
import sys

HEAD = "## Twenty years of books"


def figure(ms: float) -> str:
    return f"{ms:.2f}" if ms < 1 else f"{ms:.1f}" if ms < 10 else f"{ms:.0f}"


BATCHES_A_YEAR = 3650


def growth(books: list[dict]) -> str:
    """How the answers of SQLite's books grow with their years; empty for one of them alone."""
    if len(books) < 2:
        return ""
    books = sorted(books, key=lambda x: x["batches"])
    rows = [("99th of a hundred: " + question["name"], [figure(x["questions"][k]["p99_ms"]) + " ms" for x in books])
            for k, question in enumerate(books[0]["questions"])]
    rows += [("opening", [f"{1000 * x['open_s']:.0f} ms" for x in books]), ("size", [f"{x['size_gb']:.2f} GB" for x in books]),
             ("writing all of it", [f"{x['write_s']:.0f} s" for x in books]),
             ("`trail verify`", [f"{x['verify_s']:.1f} s" for x in books])]
    heads = " | ".join(f"{x['batches'] // BATCHES_A_YEAR} {'year' if x['batches'] == BATCHES_A_YEAR else 'years'}" for x in books)
    return f"""
How it grows with the years, SQLite:

| what | {heads} |
|{'---|' * (len(books) + 1)}
""" + "\n".join(f"| {name} | {' | '.join(values)} |" for name, values in rows) + "\n"


def section(sqlite: dict, postgres: dict, fewer: list[dict]) -> str:
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

Written by `bench/books`: {sqlite['batches']} batches of 40 analytes in 4 replicates, {sqlite['results']} results (asked for: 73 000 and 12 million;
four replicates make 160 results a batch, a fortieth fewer), asked
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
""" + growth([*fewer, sqlite])


def main() -> None:
    sqlite, postgres = (json.loads(pathlib.Path(name).read_text()) for name in sys.argv[1:3])
    fewer = [json.loads(pathlib.Path(name).read_text()) for name in sys.argv[4:]]
    page = pathlib.Path(sys.argv[3])
    before, _, after = page.read_text().partition(HEAD)
    others = after.partition("\n## ")[2]  # parts that other programs write
    page.write_text(before.rstrip("\n") + "\n\n" + section(sqlite, postgres, fewer) + ("\n## " + others if others else ""))


main()
