# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Every command line in the documents is run by a test, or says why not.

    shell_blocks.py SOURCE PROGRAM

All *.md that git tracks are read. The pages that howto.py and tutorial.py work through are theirs; console blocks are run by docs.py, in
the pages that it reads. Of all others:

* The blocks of a page with the info 'sh' are one script of bash -e in a folder with a copy of examples/, run as test/house/tutorial.py
  does. What they print is not compared: a page that shows it uses console blocks.
* A block below the comment '<!-- not run: WHY -->' is not run. How many there are is stated in NOT_RUN: a block that gets the comment to be
  out of the way makes this test fail. What it and a text block call of the program must be there with its options.
* A fence has a language, so that no commands hide in a plain one, and commands of a shell have 'sh'.

Commands of the program in running text, `brinewright ...`, must be there with their options."""
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

import docs
import howto
import tutorial

NOT_RUN = {"CONTRIBUTING.md": 1, "README.md": 1, "docs/dependencies.md": 1, "docs/explanation/pages.md": 1, "docs/tutorial.md": 1,
           "test/check/README.md": 1}
WHY = re.compile(r"<!-- not run: (\S.*\S) -->$")
LEAST_WORDS = 4
SHELLS = ("bash", "shell", "zsh", "console-session", "shellsession")
CALLED = re.compile(r"`(brinewright(?:\s+[^`]*)?)`")
COMMAND = re.compile(r"[a-z][a-z-]*")
OPTION = re.compile(r"(?<!\S)--[a-z][a-z-]*")


def tracked(source):
    listed = subprocess.run(["git", "ls-files", "*.md"], cwd=source, capture_output=True, text=True, check=True).stdout
    return [name for name in listed.split("\n") if name and (source / name).is_file()]


def run_by(name):
    """The test that works through all sh blocks of a page, if one does."""
    return "howto.py" if name.startswith(howto.FOLDER + "/") else "tutorial.py" if name == tutorial.PAGE else None


class Helps:
    """What --help says of each command, asked for once."""

    def __init__(self, program):
        self.program, self.known = program, {}

    def of(self, words):
        if words not in self.known:
            asked = subprocess.run([str(self.program), *words, "--help"], capture_output=True, text=True, check=False)
            self.known[words] = asked.stdout if asked.returncode == 0 else None
        return self.known[words]

    def wrong(self, text):
        """Why this is no call of the program; nothing where it is one. A noun alone, or with a placeholder, is one."""
        words = []
        for word in text.split()[1:]:
            if not COMMAND.fullmatch(word) or len(words) == 2:
                break
            words.append(word)
        longest = tuple(words)
        while longest and self.of(longest) is None:
            longest = longest[:-1]
        said = self.of(longest)
        if words and not longest:
            return f"{words[0]} is no command"
        if len(words) == 2 and len(longest) == 1 and "Subcommands:" in said:
            return f"{' '.join(words)} is no command"
        unknown = [option for option in OPTION.findall(text) if option not in said]
        return f"{' '.join(longest) or 'the program'} has no {' '.join(unknown)}" if unknown else None


class Page:
    def __init__(self, source, name):
        self.source, self.name, self.faults = source, name, []
        self.lines = (source / name).read_text(encoding="utf-8").split("\n")
        self.skipped = 0

    def fault(self, line, why):
        self.faults.append(f"{self.name}:{line}: {why}")

    def reason(self, start):
        """Why the block whose first line has this number is not run; nothing where it is."""
        above = [line for line in self.lines[:start - 1] if line.strip()][-1:]
        found = WHY.match(above[0].strip()) if above else None
        if found and len(found[1].split()) < LEAST_WORDS:
            self.fault(start, f"'{found[1]}' is no reason")
        return found

    def read(self, helps, program):
        """Faults of its form; the numbers of the lines of the sh blocks that are to be run here."""
        out = []
        for language, start, inside in docs.blocks(self.lines):
            if not language:
                self.fault(start, "this block has no language: sh, console, text, toml ...")
            if language in SHELLS:
                self.fault(start, f"commands stand in 'sh' blocks, not in '{language}'")
            if language == "text" and inside and inside[0].startswith("brinewright "):
                wrong = helps.wrong(" ".join(inside))
                if wrong:
                    self.fault(start + 1, wrong)
            if language != "sh" or run_by(self.name):
                continue
            if self.reason(start):
                self.skipped += 1
                for command in howto.commands_of(tutorial.Block(start, inside)):
                    self.faults += howto.unknown_command(f"{self.name}:{start + 1}", command, program)
            else:
                out.append(start)
        text = "\n".join(line for _, line in self.outside())
        for match in CALLED.finditer(text):
            wrong = helps.wrong(match[1])
            if wrong:
                self.fault("text", f"`{' '.join(match[1].split())}`: {wrong}")
        if self.skipped != NOT_RUN.get(self.name, 0):
            self.fault("all", f"{self.skipped} blocks are not run; {NOT_RUN.get(self.name, 0)} are known (NOT_RUN of {pathlib.Path(__file__).name})")
        return out

    def outside(self):
        fenced = {n for _, start, inside in docs.blocks(self.lines) for n in range(start - 1, start + len(inside) + 1)}
        return [(n, line) for n, line in enumerate(self.lines) if n not in fenced]

    def run(self, wanted, program):
        with tempfile.TemporaryDirectory(prefix="brinewright-blocks-") as folder:
            desk, tools = pathlib.Path(folder, "desk"), pathlib.Path(folder, "tools")
            tools.mkdir()
            (tools / "brinewright").symlink_to(program)
            shutil.copytree(self.source / "examples", desk / "examples")
            lines = list(self.lines)
            for _, start, inside in docs.blocks(self.lines):
                if start not in wanted:
                    lines[start - 1:start + len(inside) + 1] = [""] * (len(inside) + 2)
            blocks = tutorial.read_page(lines, desk, self.name)
            self.faults += tutorial.judged(self.name, blocks, tutorial.run(desk, tools, blocks))
        return len(blocks)


def main(source, program):
    helps = Helps(program)
    pages = [Page(source, name) for name in tracked(source)]
    ran = 0
    for page in pages:
        wanted = page.read(helps, program)
        if wanted:
            ran += page.run(wanted, program)
    for name in sorted(NOT_RUN.keys() - {page.name for page in pages}):
        pages[0].fault("all", f"{name} of NOT_RUN is no document")
    faults = [fault for page in pages for fault in page.faults]
    skipped = sum(page.skipped for page in pages)
    print("\n".join(faults) if faults else f"shell_blocks: {len(pages)} documents; {ran} blocks run here, {skipped} say why they are not")
    return 1 if faults or not ran else 0


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit("use: shell_blocks.py SOURCE PROGRAM")
    sys.exit(main(pathlib.Path(sys.argv[1]).resolve(), pathlib.Path(sys.argv[2]).resolve()))
