# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Holds docs/methods, a page for each method that the program computes with, against the code, its sources and its proofs.

    methods.py SOURCE PROGRAM

* A page has the sections SECTIONS in their order, none empty, and stands in docs/methods/README.md.
* Each text in backticks that is a path of the source exists. `Code` names a file of src/, `Proof` a validation page or a test.
* Each `brinewright ...` of Commands is a command; a page without one says "Library only".
* Each [key] is one of data/sources.toml. What the named code cites stands under Sources, and where the work was not at hand
  ("memory" in its `checked`), under From memory too.
* Names of published checks in Proof, `like_this`, are cases of test/check.
* A number of three digits or more in Equations stands in the code or data that the page names (or a thousand, a hundred times of it: J for
  kJ, parts for per cent).
* Each header of the rooms ROOMS that states a Definition is named by a page.

Links are held by docs.py, as those of all pages."""
import pathlib
import re
import subprocess
import sys

import references

FOLDER = "docs/methods"
SECTIONS = ("Answers", "Equations", "Range", "Sources", "Known limits", "From memory", "Commands", "Proof", "Code")
ROOMS = ("matter", "brine", "path", "blend", "recipe", "assay")
CODE = (".hpp", ".cpp", ".inl")
KEY = re.compile(r"\[([a-z][a-z0-9.-]+)\](?!\()")
BACKTICKS = re.compile(r"`([^`]+)`")
CASE = re.compile(r"[a-z][a-z0-9]*(?:_[a-z0-9]+)+")
NUMBER = re.compile(r"(?<![\w.])\d+(?:\.\d+)?(?:e[+-]?\d+)?(?![\w.]*\d)")
LITERAL = re.compile(r"(?<![\w.])\d[\d']*(?:\.\d+)?(?:[eE][+-]?\d+)?")
SCALES = (1, 1e3, 1e-3, 1e2, 1e-2)
SECONDS = 60
NO_COMMAND = "Library only"


def sources(source):
    """How each work is known, by its key."""
    text = (source / "data" / "sources.toml").read_text(encoding="utf-8")
    found = [(re.search(r'^key = "([^"]+)"', block, re.M), re.search(r'^checked = "([^"]*)"', block, re.M))
             for block in text.split("[[source]]")[1:]]
    return {key[1]: checked[1] if checked else "" for key, checked in found}


def sections(text):
    """The page's sections by name; the names in their order."""
    parts = re.split(r"^## (.+)$", text, flags=re.M)
    return dict(zip(parts[1::2], parts[2::2])), tuple(parts[1::2])


def digits(number):
    """Significant digits, as written."""
    return len(number.split("e")[0].replace(".", "").strip("0"))


class Page:
    def __init__(self, source, path):
        self.source, self.name = source, path.relative_to(source).as_posix()
        self.text = path.read_text(encoding="utf-8")
        self.parts, self.order = sections(self.text)
        self.faults = []

    def fault(self, why):
        self.faults.append(f"{self.name}: {why}")

    def named(self, section):
        return [name for name in BACKTICKS.findall(self.parts.get(section, "")) if name.startswith(references.TOPS)]

    def code(self):
        return [self.source / name for name in self.named("Code") if (self.source / name).is_file()]

    def check_form(self):
        if self.order != SECTIONS:
            return self.fault(f"its sections are {', '.join(self.order)}, not {', '.join(SECTIONS)}")
        for name in SECTIONS:
            if not self.parts[name].strip():
                self.fault(f"{name} is empty")
        for name in BACKTICKS.findall(self.text):
            if name.startswith((*references.TOPS, "examples/", "docs/")) and not (self.source / name).exists():
                self.fault(f"there is no {name}")
        if not any(name.startswith("src/") for name in self.named("Code")):
            self.fault("Code names no file of src/")
        if "../validation/" not in self.parts["Proof"] and not any(name.startswith("test/") for name in self.named("Proof")):
            self.fault("Proof names neither a validation page nor a test")
        return None

    def check_sources(self, known):
        own = set(KEY.findall(self.parts["Sources"]))
        everywhere = set(KEY.findall(self.text))
        cited = {key for path in self.code() if path.suffix in CODE for key in KEY.findall(path.read_text(encoding="utf-8")) if key in known}
        remembered = set(KEY.findall(self.parts["From memory"]))
        for key in sorted(everywhere - known.keys()):
            self.fault(f"[{key}] is no source of data/sources.toml")
        for key in sorted((cited | everywhere & known.keys()) - own):
            self.fault(f"[{key}] is cited by the page or by its code and does not stand under Sources")
        for key in sorted(key for key in own & known.keys() if "memory" in known[key] and key not in remembered):
            self.fault(f"[{key}] was not at hand ({known[key]}): say so under From memory")

    def check_cases(self, cases):
        for name in BACKTICKS.findall(self.parts["Proof"]):
            if CASE.fullmatch(name) and name not in cases:
                self.fault(f"no published check is called {name}")

    def check_numbers(self):
        known = {float(n.replace("'", "")) for path in self.code() for n in LITERAL.findall(path.read_text(encoding="utf-8"))}
        for number in NUMBER.findall(re.sub(r"(?<=\d) (?=\d{3}\b)", "", self.parts["Equations"])):
            value = float(number)
            if digits(number) >= 3 and not any(abs(k * scale - value) <= 1e-12 * value for k in known for scale in SCALES):
                self.fault(f"{number} of the equations does not stand in the code that the page names")

    def check_commands(self, is_command):
        commands = [name for name in BACKTICKS.findall(self.parts["Commands"]) if name.startswith("brinewright ")]
        if not commands and NO_COMMAND not in self.parts["Commands"]:
            self.fault(f'Commands names no command, and does not say "{NO_COMMAND}"')
        for name in commands:
            if not is_command(name):
                self.fault(f"{name} is no command")


def commands_of(program):
    """Whether a text is a command of the program; each is asked for once."""
    asked = {}

    def is_command(name):
        words = tuple(name.split()[1:])
        if words not in asked:
            asked[words] = subprocess.run([str(program), *words, "--help"], capture_output=True, timeout=SECONDS, check=False).returncode == 0
        return asked[words]

    return is_command


def without_page(source, pages):
    named = {path for page in pages for path in page.named("Code")}
    out = []
    for room in ROOMS:
        for path in sorted((source / "src" / room).glob("*.hpp")):
            name = path.relative_to(source).as_posix()
            if "/// Definition" in path.read_text(encoding="utf-8") and name not in named:
                out.append(f"{name} states a Definition and is named under Code of no page of {FOLDER}")
    return out


def main(source, program):
    known, is_command = sources(source), commands_of(program)
    cases = {case for path in (source / "test" / "check").glob("*.toml")
             for case in re.findall(r'^id = "([^"]+)"', path.read_text(encoding="utf-8"), re.M)}
    index = (source / FOLDER / "README.md").read_text(encoding="utf-8")
    pages = [Page(source, path) for path in sorted((source / FOLDER).glob("*.md")) if path.name != "README.md"]
    for page in pages:
        page.check_form()
        if page.order == SECTIONS:
            page.check_sources(known)
            page.check_cases(cases)
            page.check_numbers()
            page.check_commands(is_command)
        if f"({pathlib.Path(page.name).name})" not in index:
            page.fault(f"{FOLDER}/README.md does not link to it")
    faults = [fault for page in pages for fault in page.faults] + without_page(source, pages)
    print("\n".join(faults) if faults else f"methods: {len(pages)} pages hold")
    return 1 if faults or not pages else 0


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit("use: methods.py SOURCE PROGRAM")
    sys.exit(main(pathlib.Path(sys.argv[1]).resolve(), pathlib.Path(sys.argv[2]).resolve()))
