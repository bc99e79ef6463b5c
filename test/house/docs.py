# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Runs the documentation: what a page tells a reader to type must print what the page shows.

    docs.py ROOT PROGRAM            checks README.md, docs/**/*.md and examples/README.md
    docs.py ROOT PROGRAM --write    puts the output of today's program into the pages instead

Each page is worked through from top to bottom in a folder of its own that holds a copy of examples/:

* A block whose first line is '# file: NAME' is written to NAME, and one that starts with
  '# add to: NAME' is put at the end of NAME.
* In a console block, each '$ brinewright ...' or '$ cat NAME' is run, and the lines below it are what it prints. A
  command goes on after a backslash at the end of a line. '...' alone on a line stands for any number of lines. The
  exit code is 0 unless the last line below the command is '# exit code N'.
* A console block that starts with no command shows lines of what the last command printed.
* The version, the data digest and the residuals of the certificates are not compared; all pages show one digest. Numbers
  printed with all their digits, as in JSON, are compared to six.

Also checked: that relative links lead to a file and, after a '#', to a heading of it; and that
docs/reference/commands.md names every option of the commands' --help.
"""
import difflib
import os
import pathlib
import re
import shlex
import shutil
import subprocess
import sys
import tempfile
import time

import figures

COMMANDS_PAGE = "docs/reference/commands.md"
DOCUMENTED = (("recipe", "solve"), ("recipe", "compare"), ("recipe", "trade"), ("recipe", "sweep"), ("water", "show"), ("water", "compare"),
              ("reading", "convert"), ("vat", "plan"), ("vat", "correct"), ("vat", "mix"),
              ("calibration-fluid", "plan"), ("blend", "dry"), ("blend", "mixing"), ("blend", "scatter"), ("blend", "budget"),
              ("path", "run"), ("path", "compare"),
              ("results", "preview"), ("results", "map"),
              ("curve", "read"), ("chart", "trend"), ("sample", "homogeneity"), ("manual",))
FILE_LINE = re.compile(r"# (file|add to): (\S+)$")
EXIT_LINE = re.compile(r"# exit code (\d+)$")
FENCE = re.compile(r"(```+|~~~+)\s*(\w*)")
LINK = re.compile(r"!?\[[^\]]*\]\(\s*<?([^)\s>]+)>?(?:\s+\"[^\"]*\")?\s*\)|(?:src|href)=\"([^\"]+)\"")
HEADING = re.compile(r"#{1,6}\s+(.*?)\s*#*$")
OPTION = re.compile(r"--[a-z][a-z0-9-]*")
NOT_COMPARED = (
    (re.compile(r"brinewright \d+\.\d+\.\d+\S*?(?=[\s\",;]|$)"), "brinewright VERSION"),
    (re.compile(r"\b[0-9a-f]{16}\b"), "DIGEST"),
    (re.compile(r"(largest residual) \S+?(?=\.?$)"), r"\1 RESIDUAL"),
)
ALL_DIGITS = re.compile(r"-?\d+\.\d+(?:e[+-]?\d+)?")
HAS_ALL_DIGITS = re.compile(r'\s*"\w+": -?\d|\w+ = -?\d|.*\d\.\d{9}')
PROGRAM_DIGEST = re.compile(r"(?:brinewright \S+, data |data_digest\W{1,5})([0-9a-f]{16})")
ROUND_OFF = 1e-9  # below, a number is 0 but for round-off
SECONDS = 120
RECIPE_TUTORIAL = "docs/tutorial.md"
NEAR_ENOUGH = 0.6  # how like a moved line must be to be taken for the same


def compared(line):
    line = line.rstrip()
    for pattern, word in NOT_COMPARED:
        line = pattern.sub(word, line)
    if HAS_ALL_DIGITS.match(line):
        line = ALL_DIGITS.sub(six_digits, line)
    return line


def six_digits(number):
    value = float(number[0])
    return f"{value:.6g}" if abs(value) > ROUND_OFF else "0"


def blocks(lines):
    """(language, number of the first line inside, lines inside) of each fenced block; numbers count from 0."""
    start = None
    for number, line in enumerate(lines):
        fence = FENCE.match(line)
        if start is None and fence:
            mark, language, start = fence[1], fence[2], number + 1
        elif start is not None and line.rstrip() == mark:
            yield language, start, lines[start:number]
            start = None


def outside_blocks(lines):
    fenced = set()
    for _, start, inside in blocks(lines):
        fenced.update(range(start - 1, start + len(inside) + 1))
    return [(number, re.sub(r"`[^`]*`", "", line)) for number, line in enumerate(lines) if number not in fenced]


class Command:
    """A line to type, what the page says it prints, and where that stands. Nothing typed: more of the last output."""

    def __init__(self, start, typed):
        self.start, self.typed = start, typed
        self.shown, self.shown_at, self.code = [], start + 1, 0


def commands(start, inside):
    out = []
    going_on = False
    for number, line in enumerate(inside, start):
        if going_on or line.startswith("$ "):
            if not going_on:
                out.append(Command(number, ""))
            going_on = line.endswith("\\")
            out[-1].typed += (line[2:] if line.startswith("$ ") else " " + line.strip()).removesuffix("\\")
            out[-1].shown_at = number + 1
        else:
            if not out:
                out.append(Command(number - 1, ""))
            out[-1].shown.append(line)
    for command in out:
        while command.shown and not command.shown[-1].strip():
            command.shown.pop()
        stated = EXIT_LINE.match(command.shown[-1]) if command.shown else None
        if stated:
            command.code = int(stated[1])
            command.shown.pop()
    return out


def pieces(shown):
    """The shown lines between the cuts."""
    out = [[]]
    for line in shown:
        if line.strip() == "...":
            out.append([])
        else:
            out[-1].append(line)
    return out


def difference(shown, printed):
    """Nothing, or the lines that tell the page from the program."""
    want = pieces([compared(line) for line in shown])
    got = [compared(line) for line in printed]
    if len(want) == 1:
        return list(difflib.unified_diff(want[0], got, "the page", "the program", lineterm="", n=1)) if want[0] != got else []
    at = 0
    for index, piece in enumerate(want):
        room = range(at, len(got) - len(piece) + 1)
        if index == 0:
            room = room[:1]
        elif index == len(want) - 1 and piece:
            room = room[-1:]
        found = next((i for i in room if got[i:i + len(piece)] == piece), None)
        if found is None:
            around = got[at:at + len(piece) + 10] if index == 0 else got[at:]
            start = likely_start(piece, around)
            near = around[start:start + len(piece)]
            return list(difflib.unified_diff(piece, near, "the page", "the program", lineterm="", n=1)) or [
                "these lines stand elsewhere in what the program prints:", *piece]
        at = found + len(piece)
    return []


def likely_start(piece, lines):
    """Where in lines the piece most likely starts: at its first line, or the one most like it."""
    if not piece or not lines:
        return 0
    first = piece[0]
    if first in lines:
        return lines.index(first)
    likeness = [difflib.SequenceMatcher(None, first, line).ratio() for line in lines]
    best = max(range(len(lines)), key=likeness.__getitem__)
    return best if likeness[best] >= NEAR_ENOUGH else 0


def renewed(shown, printed):
    """The shown lines with today's output in their place, cut where the page cuts."""
    want = pieces(shown)
    if len(want) == 1:
        return printed
    out, at = [], 0
    for index, piece in enumerate(want):
        if index:
            out.append("...")
        rest = [compared(line) for line in printed[at:]]
        start = 0 if index == 0 else likely_start([compared(line) for line in piece], rest)
        end = start + len(piece)
        last = compared(piece[-1]) if piece else None
        if index == len(want) - 1 and piece:
            end = len(rest)
        elif last and last in rest[start:]:
            end = start + rest[start:].index(last) + 1
        if piece:
            out += printed[at + start:at + end]
            at += end
    return out


class Page:
    def __init__(self, root, path, program):
        self.root, self.path, self.program = root, path, program
        self.name = path.relative_to(root).as_posix()
        self.lines = path.read_text(encoding="utf-8").split("\n")
        self.faults, self.renewals, self.printed = [], [], []
        self.commands = self.links = 0
        self.seconds = 0.0  # that its commands took

    def fault(self, number, why, details=()):
        self.faults.append("\n".join([f"{self.name}:{number + 1}: {why}", *(f"    {line}" for line in details)]))

    def work_through(self):
        with tempfile.TemporaryDirectory(prefix="brinewright-docs-") as folder:
            desk = pathlib.Path(folder)
            shutil.copytree(self.root / "examples", desk / "examples")
            for language, start, inside in blocks(self.lines):
                named = FILE_LINE.match(inside[0]) if inside else None
                if named:
                    self.keep_file(desk, start, named, inside)
                elif language == "console":
                    for command in commands(start, inside):
                        self.run(desk, command)

    def keep_file(self, desk, start, named, inside):
        target = desk / named[2]
        if pathlib.PurePosixPath(named[2]).name != named[2]:
            return self.fault(start, f"{named[2]} must be a name without folders")
        adds = named[1] == "add to"
        if adds and not target.exists():
            return self.fault(start, f"there is no {named[2]} to add to yet")
        with target.open("a" if adds else "w", encoding="utf-8") as out:
            out.write("\n".join([""] * adds + inside) + "\n")

    def show_more(self, command):
        shown = ["...", *command.shown, "..."]
        unlike = difference(shown, self.printed)
        if unlike:
            self.fault(command.shown_at, "these lines are not in what the last command prints", unlike)
            lines = renewed(shown, self.printed)[1:-1]
            self.renewals.append((command.shown_at, command.shown_at + len(command.shown), lines))

    def run(self, desk, command):
        if not command.typed:
            return self.show_more(command)
        words = shlex.split(command.typed)
        if words[0] not in ("brinewright", "cat"):
            return self.fault(command.start, f"{words[0]} is not a command that this test runs: put it into a sh block")
        self.commands += 1
        if words[0] == "brinewright":
            words[0] = str(self.program)
        began = time.monotonic()
        ran = subprocess.run(words, cwd=desk, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
                             env=environment(), timeout=SECONDS, check=False)
        self.seconds += time.monotonic() - began
        printed = ran.stdout.decode("utf-8", "replace").replace("\r\n", "\n").rstrip().split("\n")
        printed = [line.rstrip() for line in printed] if printed != [""] else []
        self.printed = printed
        if ran.returncode != command.code:
            self.fault(command.start, f"exit code {ran.returncode}, not {command.code}: {command.typed}", printed[:10])
        unlike = difference(command.shown, printed)
        if unlike:
            self.fault(command.start, f"prints something else: {command.typed}", unlike)
            end = command.shown_at + len(command.shown)
            self.renewals.append((command.shown_at, end, renewed(command.shown, printed)))

    def write(self):
        for start, end, lines in reversed(self.renewals):
            self.lines[start:end] = lines
        if self.renewals:
            self.path.write_text("\n".join(self.lines), encoding="utf-8")

    def check_links(self):
        for number, line in outside_blocks(self.lines):
            for match in LINK.finditer(line):
                link = match[1] or match[2]
                if re.match(r"[a-z][a-z0-9+.-]*:", link):
                    continue
                self.links += 1
                where, _, heading = link.partition("#")
                target = (self.path.parent / where) if where else self.path
                if not target.exists():
                    self.fault(number, f"the link {link} leads nowhere")
                elif heading and target.suffix == ".md" and heading not in headings(target):
                    self.fault(number, f"the link {link} leads to no heading of {target.name}")


def headings(path):
    """The anchors that headings get on the usual code hosts."""
    out = set()
    for _, line in outside_blocks([line.replace("`", "") for line in path.read_text(encoding="utf-8").split("\n")]):
        heading = HEADING.match(line)
        if heading:
            plain = re.sub(r"[^\w\- ]", "", heading[1].lower()).replace(" ", "-")
            again = sum(1 for known in out if known == plain or re.fullmatch(re.escape(plain) + r"-\d+", known))
            out.add(f"{plain}-{again}" if again else plain)
    return out


def options_not_named(root, program):
    page = root / COMMANDS_PAGE
    named = set(OPTION.findall(page.read_text(encoding="utf-8"))) if page.exists() else set()
    faults = []
    for command in DOCUMENTED:
        asked = subprocess.run([str(program), *command, "--help"], capture_output=True, text=True, timeout=SECONDS, check=True)
        offered = set(OPTION.findall("\n".join(re.findall(r"^\s+(?:-\w,)?(--\S+)", asked.stdout, re.MULTILINE))))
        if not offered:
            faults.append(f"{' '.join(command)} --help names no option")
        faults += [f"{COMMANDS_PAGE}: {option} of {' '.join(command)} is missing" for option in sorted(offered - named)]
    return faults


def environment(**more):
    """What a reader's shell is taken to have; tools/coverage says besides where counts go."""
    counts = {key: os.environ[key] for key in ("LLVM_PROFILE_FILE",) if key in os.environ}
    return {"PATH": os.defpath, "LC_ALL": "C.UTF-8", **counts, **more}


def other_digests(root, paths):
    """Digests of the data beside a program's version: one throughout, or a page is older than another."""
    found = {}
    for path in paths:
        for digest in PROGRAM_DIGEST.findall(path.read_text(encoding="utf-8")):
            found.setdefault(digest, []).append(str(path.relative_to(root)))
    if len(found) < 2:
        return []
    return [f"pages show more than one digest of the program's data: {digest} on {', '.join(sorted(set(pages)))}"
            for digest, pages in sorted(found.items())]


def main(root, program, write):
    paths = [root / "README.md", *sorted((root / "docs").rglob("*.md")), root / "examples" / "README.md"]
    pages = [Page(root, path, program) for path in paths]
    for page in pages:
        page.work_through()
        page.check_links()
        if write:
            page.write()
    faults = [fault for page in pages for fault in page.faults] + options_not_named(root, program)
    faults += other_digests(root, [path for path in paths if path.name != "benchmarks.md"])  # as it was measured
    counted = f"{sum(p.commands for p in pages)} commands, {sum(p.links for p in pages)} links"
    if write:
        print(f"docs: {sum(len(p.renewals) for p in pages)} outputs written anew; {counted}")
        return 0
    print("\n".join(faults) if faults else f"docs: {counted} hold")
    for page in pages:
        if page.name == RECIPE_TUTORIAL:
            figures.record("Recipes", f"{page.commands} commands of the tutorial, from one's own materials to a recipe",
                           "a recipe of one's own in ten minutes",
                           f"{page.seconds:.0f} s of computing; not met, as nobody measured how long a person takes to read and type",
                           False, "docs", varies=True)
    figures.record("House", "command lines and links of all documents, each run or followed, or said why not", "every command line in docs",
                   counted, not faults, "docs", varies=True)
    return 1 if faults else 0


if __name__ == "__main__":
    if len(sys.argv) not in (3, 4) or sys.argv[3:] not in ([], ["--write"]):
        sys.exit("use: docs.py ROOT PROGRAM [--write]")
    sys.exit(main(pathlib.Path(sys.argv[1]).resolve(), pathlib.Path(sys.argv[2]).resolve(), len(sys.argv) == 4))
