# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Does the tutorial of the books as a reader does: every line that it tells to type, in order, in an empty folder.

    tutorial.py SOURCE PROGRAM

Everything happens in one folder that holds a copy of examples/, with PROGRAM on the PATH as `brinewright`:

* A block whose first line is '# file: NAME' is written to NAME.
* All sh blocks are one script of bash -e, so a variable that one block sets stands in the next. A block ends with exit code
  0, unless its last line is '# exit code N'.
* A text block below an sh block is what the reader sees, and '...' alone on a line stands for any number of lines. What
  another day, another key or another computer makes different is masked on both sides: instants, days, trail and content
  marks, verification codes, SHA-256. The numbers of the records, lots and figures are compared, with the year of the record.
* A block with the info 'text exact' is compared as it stands.
"""
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

import docs

PAGE = "docs/tutorial_books.md"
MARK = "=== block "
SECONDS = 300
VARIES = (
    (re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z"), "INSTANT"),
    (re.compile(r"\b\d{4}-\d\d-\d\d\b"), "DAY"),
    (re.compile(r"\b\d+-[0-9a-f]{16}\b"), "TRAIL"),
    (re.compile(r"\b[0-9a-f]{64}\b"), "SHA"),
    (re.compile(r"\b[0-9a-f]{16}\b"), "CONTENT"),
    (re.compile(r"\b[0-9a-f]{4}(-[0-9a-f]{4}){3}\b"), "CODE"),
    (re.compile(r"\b(B|C|D|R|S|MS-B)\d\d-(\d{4})-[0-9A-Z]\b"), r"\1YY-\2-X"),
)


class Block:
    """An sh block: its lines, where it stands, what its fence says beside sh, the exit code it announces, and what the
    page says it shows."""

    def __init__(self, number, lines, words=()):
        self.number, self.lines, self.words, self.code = number, lines, words, 0
        self.shown, self.exact = None, False
        stated = docs.EXIT_LINE.match(lines[-1]) if lines else None
        if stated:
            self.code = int(stated[1])

    def script(self, index):
        """The block between marks that tell its output; one that ends otherwise than with 0 has a shell of its own."""
        body = "\n".join(self.lines)
        if self.code:
            judged = f"[ $code = {self.code} ] || {{ echo \"exit code $code\"; exit 1; }}"
            body = f"set +e\n( set -e\n{body}\n)\ncode=$?\nset -e\n{judged}"
        return f"echo '{MARK}{index}'\n{body}\n"


def read_page(lines, desk, page=PAGE):
    """The sh blocks of the page in their order; files that the page shows are written to the desk."""
    out, last, after = [], None, 0
    for _, start, inside in docs.blocks(lines):
        info = lines[start - 1].strip("`~ ").split()
        named = docs.FILE_LINE.match(inside[0]) if inside else None
        if named and named[1] == "file":
            (desk / pathlib.PurePath(named[2]).name).write_text("\n".join(inside) + "\n", encoding="utf-8")
        elif info[:1] == ["sh"]:
            last = Block(start, inside, info[1:])
            out.append(last)
        elif info[:1] == ["text"]:
            if last is None or last.shown is not None or after != len(out):
                sys.exit(f"{page}:{start}: this text block stands below no sh block of its own")
            last.shown, last.exact, last.shown_at = inside, info[1:] == ["exact"], start
        after = len(out)
    return out


def masked(line):
    line = line.rstrip()
    for pattern, word in VARIES:
        line = pattern.sub(word, line)
    return re.sub(r"(?<=\S) {2,}", "  ", line)  # what is masked has a width of its own


def outputs(text):
    """What each block printed, by its index."""
    out = {}
    for line in text.split("\n"):
        if line.startswith(MARK):
            index = int(line[len(MARK):])
            out[index] = []
        elif out:
            out[index].append(line.rstrip())
    for lines in out.values():
        while lines and not lines[-1]:
            lines.pop()
    return out


def unlike(block, printed):
    shown = list(block.shown)
    while shown and not shown[-1].strip():
        shown.pop()
    if block.exact:
        return docs.difference(shown, printed)
    return docs.difference([masked(line) for line in shown], [masked(line) for line in printed])


def run(desk, tools, blocks, before="", **more):
    """All blocks as one script; `before` goes first and shows nothing."""
    script = before + "".join(block.script(index) for index, block in enumerate(blocks))
    env = docs.environment(PATH=f"{tools}{os.pathsep}{os.environ.get('PATH', os.defpath)}", HOME=str(desk), **more)
    return subprocess.run(["bash", "-e", "-c", script], cwd=desk, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                          stderr=subprocess.STDOUT, env=env, timeout=SECONDS, check=False)


def judged(page, blocks, ran):
    """What the run shows that the page does not, a sentence each."""
    printed = outputs(ran.stdout.decode("utf-8", "replace"))
    faults = []
    if ran.returncode or len(printed) != len(blocks):
        block = blocks[max(printed)] if printed else blocks[0]
        said = "\n    ".join(printed.get(blocks.index(block), [])[-10:])
        faults.append(f"{page}:{block.number + 1}: this block does not end with exit code {block.code}:\n    {said}")
    for index, block in enumerate(blocks[:len(printed)]):
        wrong = unlike(block, printed[index]) if block.shown is not None else []
        if wrong:
            faults.append("\n    ".join([f"{page}:{block.shown_at + 1}: the program shows something else", *wrong]))
    return faults


def main(source, program):
    lines = (source / PAGE).read_text(encoding="utf-8").split("\n")
    with tempfile.TemporaryDirectory(prefix="brinewright-tutorial-") as folder:
        desk, tools = pathlib.Path(folder, "desk"), pathlib.Path(folder, "tools")
        tools.mkdir()
        (tools / "brinewright").symlink_to(program)
        shutil.copytree(source / "examples", desk / "examples")
        blocks = read_page(lines, desk)
        ran = run(desk, tools, blocks)
    faults = judged(PAGE, blocks, ran)
    shown = sum(block.shown is not None for block in blocks)
    print("\n".join(faults) if faults else f"tutorial_books: {len(blocks)} blocks run, {shown} outputs hold")
    return 1 if faults or not blocks else 0


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit("use: tutorial.py SOURCE PROGRAM")
    sys.exit(main(pathlib.Path(sys.argv[1]).resolve(), pathlib.Path(sys.argv[2]).resolve()))
