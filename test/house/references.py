# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""What docs/threat_model.md names as its proof is there, and the glossary is in order.

    references.py SOURCE

Each text in backticks that is a path of the source must exist, and each `Suite.Test` must be a test under test/. A row of its tables that
speaks of what is done names one of either. docs/glossary.md is alphabetical, has each term once and one sentence for it."""
import pathlib
import re
import sys

PAGE = "docs/threat_model.md"
GLOSSARY = "docs/glossary.md"
TOPS = ("src/", "test/", "web/", "tools/", "packaging/", "cmake/", ".ci/", "data/")
TEST_NAME = re.compile(r"[A-Z]\w+\.[A-Z]\w+")
DEFINED = re.compile(r"\bTEST(?:_F|_P)?\(\s*(\w+),\s*(\w+)\)")
PROVEN = "where, and what shows it"


def wrong_terms(source):
    rows = [[cell.strip() for cell in line.strip("|").split("|")]
            for line in (source / GLOSSARY).read_text(encoding="utf-8").split("\n") if line.startswith("| ")][1:]
    terms = [row[0] for row in rows]
    faults = [f"{GLOSSARY}: {b} stands after {a}" for a, b in zip(terms, terms[1:]) if a.casefold() >= b.casefold()]
    faults += [f"{GLOSSARY}: {row[0]} has not one sentence" for row in rows
               if len(row) != 2 or not row[1].endswith(".") or re.search(r"\. [A-Z]", row[1])]
    return faults, len(terms)


def main(source):
    tests = {f"{suite}.{name}" for path in sorted((source / "test").rglob("*.cpp"))
             for suite, name in DEFINED.findall(path.read_text(encoding="utf-8"))}
    faults, counted, heads = [], 0, None
    for number, line in enumerate((source / PAGE).read_text(encoding="utf-8").split("\n"), 1):
        named = re.findall(r"`([^`]+)`", line)
        proofs = [n for n in named if n.startswith(TOPS) or TEST_NAME.fullmatch(n)]
        for name in proofs:
            counted += 1
            if not (name in tests if TEST_NAME.fullmatch(name) else (source / name).exists()):
                faults.append(f"{PAGE}:{number}: there is no {name}")
        if not line.startswith("|"):
            heads = None
        elif heads is None:
            heads = line
        elif PROVEN in heads and not line.startswith("|---") and not proofs:
            faults.append(f"{PAGE}:{number}: this row names no file and no test")
    wrong, terms = wrong_terms(source)
    faults += wrong
    print("\n".join(faults) if faults else f"references: {counted} files and tests that {PAGE} names are there; {terms} terms in order")
    return 1 if faults or not counted or not terms else 0


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("use: references.py SOURCE")
    sys.exit(main(pathlib.Path(sys.argv[1]).resolve()))
