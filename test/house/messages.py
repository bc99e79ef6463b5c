# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""A message of src/service and the floors below reaches the command line and the pages alike: it names no option
("give --why") and no command ("`supplier keep`"), but the field or what is to be done. Where a problem lies may still be
an option's name by itself ({"", 0, "--keep"}): the command line prints it so, and the server takes the dashes off."""
import pathlib
import re
import sys

TEXT = re.compile(r'"((?:[^"\\\n]|\\.)*)"')
OPTION = re.compile(r"(?:^|[^\w-])--[a-z][a-z-]*")
PLACE = re.compile(r"--[a-z][a-z-]*")  # a whole text: the place of a problem, no message

# Said where books are opened, before there is a server or a page.
BEFORE_PAGES = {"src/store/books.cpp", "src/store/shelf.cpp"}


def commands(root: pathlib.Path) -> re.Pattern[str]:
    """Two words between backticks or in brackets that name a command: `supplier keep`, (results count)."""
    nouns = sorted({m for path in (root / "src/cli").glob("*.cpp")
                    for m in re.findall(r'noun_of\(\s*app,\s*"([a-z-]+)"', path.read_text())})
    return re.compile(r"[`(\\'](?:%s) [a-z-]+(?: \{\})?[`)\\']" % "|".join(nouns))


def joined(text: str):
    """The texts of a file with the line of each; pieces that the compiler joins are one text."""
    plain = re.sub(r"//[^\n]*", lambda m: " " * len(m[0]), text)
    last, start, whole = None, 0, ""
    for found in TEXT.finditer(plain):
        if last is not None and plain[last:found.start()].strip() == "":
            whole += found[1]
        else:
            if last is not None:
                yield text.count("\n", 0, start) + 1, whole
            start, whole = found.start(), found[1]
        last = found.end()
    if last is not None:
        yield text.count("\n", 0, start) + 1, whole


def main(root: pathlib.Path) -> int:
    above = {"http", "cli", "app"}
    command = commands(root)
    faults, files = [], 0
    for path in sorted((root / "src").rglob("*.?pp")):
        if path.relative_to(root / "src").parts[0] in above or str(path.relative_to(root)) in BEFORE_PAGES:
            continue
        files += 1
        for line, words in joined(path.read_text()):
            if PLACE.fullmatch(words):
                continue
            for what, pattern in (("an option", OPTION), ("a command", command)):
                found = pattern.search(words)
                if found:
                    faults.append(f"{path.relative_to(root)}:{line}: names {what}: {found[0].strip()}")
    for fault in faults:
        print(fault)
    print(f"messages: {files} files name fields, not options" if not faults else f"messages: {len(faults)} faults")
    return 1 if faults or files == 0 else 0


if __name__ == "__main__":
    sys.exit(main(pathlib.Path(sys.argv[1])))
