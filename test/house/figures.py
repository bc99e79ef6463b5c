# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Holds docs/validation/promises.md against the figures that the tests recorded in their last run.

    figures.py SOURCE LINES            complains of what is not as the page has it
    figures.py SOURCE LINES --write    puts the lines on the page, in place of those of the same test and claim

LINES is the file that BW_FIGURES named while the tests ran: a JSON object a line (test/figure.hpp, record() here). What a test found
by chance or by the machine's speed is marked `varies`: the page is not held to its number, but to whether it was met. Lines of tests
that ./check does not run stay as they were written last."""
import json
import os
import pathlib
import sys

PAGE = "docs/validation/promises.md"
AREAS = ("Waters", "Recipes", "Dissolving", "Blends", "Books", "Pages", "House")
# Tests of .ci/run and .ci/weekly, by the beginning of their name: ./check does not run them.
OUTSIDE = ("looks", "the whole quarter", "test/fuzz/run", "tools/coverage", ".ci/")
HEAD = """<!-- SPDX-FileCopyrightText: The Brinewright authors -->
<!-- SPDX-License-Identifier: Apache-2.0 -->
# What was promised, and what the tests find

Figures that the tests measure, beside those held against published cases ([how do you know](../validation.md)) and those of speed
and size ([benchmarks](../benchmarks.md)). Written by the tests themselves; `./check` fails where a line here is not what they find. Lines by the looks,
the whole quarter, the fuzzers, `tools/coverage` and `.ci/run` are of their last run, which is outside `./check`.

- "At most 0.3 of it": the share of a tolerance that the worst case used, rounded up to tenths.
- A tilde before what was found: it varies by chance or with the machine; the page is held to whether it was met alone.
- Not met: what is asked for, what was found, and why, in the same line.
"""
COLUMNS = ("what", "asked for", "found", "met", "by")


def record(area, claim, asked, found, met, by, varies=False):
    """Appends a figure to the file that BW_FIGURES names; nothing where it is not set."""
    name = os.environ.get("BW_FIGURES")
    if name:
        line = {"area": area, "claim": claim, "asked": asked, "found": found, "met": met, "varies": varies, "by": by}
        with open(name, "a", encoding="utf-8") as out:
            out.write(json.dumps(line, ensure_ascii=False) + "\n")


def cells(line):
    found = ("~ " if line["varies"] else "") + line["found"]
    return tuple(str(text).replace("|", "/") for text in
                 (line["claim"], line["asked"], found, "yes" if line["met"] else "no", f"`{line['by']}`"))


def read_page(text):
    """Rows of the page by area."""
    rows, area = {}, None
    for line in text.splitlines():
        if line.startswith("## "):
            area = line[3:]
        elif line.startswith("| ") and area and not line.startswith(f"| {COLUMNS[0]} |"):
            rows.setdefault(area, []).append(tuple(cell.strip() for cell in line.strip("|").split(" | ")))
    return rows


def page(rows):
    out = HEAD
    for area in AREAS:
        if rows.get(area):
            out += f"\n## {area}\n\n| " + " | ".join(COLUMNS) + " |\n" + "|---" * len(COLUMNS) + "|\n"
            out += "".join("| " + " | ".join(row) + " |\n" for row in sorted(set(rows[area])))
    return out


def key(row):
    return row[0], row[1], row[4]


def held(row):
    """What the page is held to of a row."""
    return (*row[:2], "~" if row[2].startswith("~ ") else row[2], *row[3:])


def differences(kept, found):
    faults = []
    for area in AREAS:
        on_page = {key(row): row for row in kept.get(area, [])}
        now = {key(row): row for row in found.get(area, [])}
        for at, row in now.items():
            if at not in on_page:
                faults.append(f"{area}: '{row[0]}' ({row[4]}) is not on the page")
            elif held(on_page[at]) != held(row):
                faults.append(f"{area}: '{row[0]}' ({row[4]}): found {row[2]}, met {row[3]}; the page has {on_page[at][2]}, {on_page[at][3]}")
        faults += [f"{area}: no test found '{row[0]}' ({row[4]})" for at, row in on_page.items()
                   if at not in now and not row[4].strip("`").startswith(OUTSIDE)]
    return faults


def main():
    source, lines = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
    target = source / PAGE
    kept = read_page(target.read_text(encoding="utf-8")) if target.exists() else {}
    found = {}
    for text in lines.read_text(encoding="utf-8").splitlines():
        line = json.loads(text)
        if line["area"] not in AREAS:
            print(f"{line['by']}: no area {line['area']}; there are {', '.join(AREAS)}")
            return 1
        found.setdefault(line["area"], []).append(cells(line))
    if "--write" in sys.argv:
        for area, rows in found.items():
            fresh = {key(row) for row in rows}
            kept[area] = [row for row in kept.get(area, []) if key(row) not in fresh] + rows
        target.write_text(page(kept), encoding="utf-8")
        return 0
    faults = differences(kept, found)
    for fault in faults:
        print(f"{PAGE}: {fault}")
    if faults:
        print(f"Mend what is wrong, or write the page anew: test/house/figures.py . {lines} --write")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
