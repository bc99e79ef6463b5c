# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""docs/reference/books.md is what --help of the books' commands says, as a page.

usage: books_page.py SOURCE PROGRAM [--write]"""
import difflib
import pathlib
import re
import subprocess
import sys

PAGE = "docs/reference/books.md"
NOUNS = ["store", "person", "material", "scale", "supplier", "lot", "recipe", "batch", "departure", "sample", "method", "limits",
         "results", "release", "certificate", "mixing-sheet", "trace", "trail"]
ELSEWHERE = {("recipe", "solve"), ("recipe", "compare"), ("recipe", "trade"), ("recipe", "sweep"), ("results", "preview"), ("results", "map"),
             ("sample", "homogeneity")}  # docs/reference/commands.md
COMMON = ["--books", "--json", "--quiet", "--session", "--person", "--password-file", "--device", "--request", "--why",
          "--at"]
HEAD = """# Commands of the works' books

What each does, what it is given, and a worked example. What most of them are told (`--books`, `--session` and the rest) stands
once, below. Exit codes: 0 done; 1 the answer is no; 2 bad input; 3 store or disk; 4 refused by a rule of duties or states.

How the parts belong together is told in [the works' books](../explanation/books.md).

## What every command is told

| option | what it says |
|---|---|
"""


def options(text):
    """Pairs of an option, or what is given, and what the help says of it."""
    found, current = [], None
    for line in text.split("\n"):
        entry = re.match(r"^  ((?:-|[A-Z]{2,}).*?)(?:\s{2,}(.*))?$", line)
        if entry and not line.startswith("   "):
            given, says = entry.group(1).strip(), (entry.group(2) or "").strip()
            if not says and "REQUIRED " in given:
                given, says = given.split("REQUIRED ", 1)
                given += "REQUIRED"
            if not says and " ... " in given and not given.endswith(" REQUIRED"):
                given, says = given.split(" ... ", 1)
                given += " ..."
            current = [given.replace(" TEXT", "").replace("{false}", ""), says]
            found.append(current)
        elif current is not None and line.startswith("      ") and line.strip():
            current[1] = (current[1] + " " + line.strip()).strip()
        else:
            current = None
    return found


def page(program):
    def help_of(*words):
        return subprocess.run([program, *words, "--help"], capture_output=True, text=True, check=True).stdout

    out = HEAD
    common = {}
    for given, says in options(help_of("batch", "weigh")):
        name = given.split()[0]
        if name in COMMON:
            common[name] = says
            out += f"| `{name}` | {says} |\n"
    for noun in NOUNS:
        listed = help_of(noun)
        for line in listed[listed.index("Subcommands:"):].split("\n")[1:]:
            verb = re.match(r"^  (\S+)(?:\s{2,}\S.*)?$", line)
            if not line.strip():
                break
            if verb and (noun, verb.group(1)) not in ELSEWHERE:
                out += section(noun, verb.group(1), help_of(noun, verb.group(1)), common)
    return out


def section(noun, verb, text, common):
    summary = text.split("\n")[0].rstrip(".")
    out = f"\n## {noun} {verb}\n\n{summary}.\n"
    rows = [(g, s) for g, s in options(text) if not g.startswith("-h,") and common.get(g.split()[0]) != s]
    if rows:
        out += "\n| given | what it says |\n|---|---|\n"
        out += "".join("| `{}` | {} |\n".format(g, s.replace("|", "/")) for g, s in rows)
    examples = re.search(r"Examples?:\n((?:  .*\n?)+)", text)
    if examples:
        lines = "\n".join(line.strip() for line in examples.group(1).rstrip().split("\n"))
        out += f"\n```text\n{lines}\n```\n"
    return out


def main():
    source, program = pathlib.Path(sys.argv[1]), sys.argv[2]
    wanted = page(program)
    if "--write" in sys.argv[3:]:
        (source / PAGE).write_text(wanted)
        return 0
    found = (source / PAGE).read_text()
    sys.stdout.writelines(difflib.unified_diff(found.splitlines(True), wanted.splitlines(True), PAGE, "the program"))
    if found != wanted:
        print(f"{PAGE} differs from the program: test/house/books_page.py . PROGRAM --write")
    return 0 if found == wanted else 1


if __name__ == "__main__":
    sys.exit(main())
