# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Does what docs/howto tells, page by page, as a reader does.

    howto.py SOURCE PROGRAM [PAGE ...]    with PAGE these alone: howto.py . build/default/src/brinewright install
    howto.py SOURCE PROGRAM --print ...   prints what each block shows, for whoever writes a page

docs/howto/README.md is done first: it makes the works that all pages begin with. Its blocks with the info 'sh each' are done again
before each page, in a copy of that folder. Each page is then one script of bash -e, compared with what it shows as
test/house/tutorial.py does; lots, marks of figures and numbers of records, which hold the day, are masked.

* A block 'sh by-hand' changes a machine (packages, services, containers) and is not done here. It may hold nothing but
  what BY_HAND names, its brinewright commands must exist with their options, and how many there are is stated here: a
  block that is made by-hand to get out of the way makes this test fail.
* A PostgreSQL of the test's own stands behind PGHOST, and the port 8443 of a page is one that is free here.
* Each address of the pages, `/batches/...`, must be one of web/src/routes.ts.
"""
import concurrent.futures
import os
import pathlib
import re
import shutil
import socket
import subprocess
import sys
import tempfile

import docs
import postgres
import tutorial

FOLDER = "docs/howto"
FIRST = "README"
BY_HAND_BLOCKS = {"install": 10, "many_machines": 1}
BY_HAND = {"apt-get", "systemctl", "podman", "runuser", "cmake", "cpack", "install", "sudo", "ninja", "createuser", "createdb", "chmod",
           "brinewright", "echo", "tools/sbom"}
PAGE_PORT = "8443"
ADDRESS = re.compile(r"`(/[a-z][^` ]*)`")
SERVER_PATHS = ("/api/", "/var/", "/etc/", "/usr/")
OPTION = re.compile(r"(?<!\S)--[a-z][a-z-]*")
tutorial.VARIES = (*tutorial.VARIES,  # a number of a record begins anew with each year
                   (re.compile(r"\b(B|C|D|R|S|MS-B)YY-\d{4}-X"), r"\1YY-N-X"),
                   (re.compile(r"\b[A-Z]\d\d-\d{4}\b(?!-)"), "LOT"),
                   (re.compile(r"\b\d+-[0-9a-f]{4,16}\b"), "TRAIL"))


def free_port():
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return str(one.getsockname()[1])


def routes(source):
    """Patterns of the addresses that the pages have."""
    paths = re.findall(r"path: '([^']+)'", (source / "web" / "src" / "routes.ts").read_text(encoding="utf-8"))
    return [re.compile(re.sub(r":\w+", "[^/]+", re.sub(r":\w+\*", ".+", path))) for path in paths]


def wrong_addresses(page, lines, known):
    out = []
    for number, line in enumerate(lines, 1):
        for match in ADDRESS.finditer(line):
            address = match[1].split("?")[0]
            if not address.startswith(SERVER_PATHS) and not any(route.fullmatch(address) for route in known):
                out.append(f"{page}:{number}: the pages have no address {address}")
    return out


def commands_of(block):
    """The lines of a block as commands, those that go on after a backslash as one."""
    text = "\n".join(line for line in block.lines if not line.startswith("#")).replace("\\\n", " ")
    return [line.strip() for line in text.split("\n") if line.strip()]


def unknown_command(where, command, program):
    """The brinewright command in a line that the program does not have, or has without such options."""
    called = re.search(r"(?:^|-- |brinewright )brinewright( [a-z][a-z-]*)( [a-z][a-z-]*)?( .*)", command)
    if not called:
        return []
    words = f"{called[1]}{called[2] or ''}".split()
    help_text = subprocess.run([str(program), *words, "--help"], capture_output=True, text=True, check=False)
    unknown = [o for o in OPTION.findall(called[3]) if o not in help_text.stdout]
    if help_text.returncode or unknown:
        return [f"{where}: brinewright {' '.join(words)} is no command, or has no {' '.join(unknown)}"]
    return []


def wrong_by_hand(page, blocks, program):
    """By-hand blocks with what could be done here, or with commands that the program does not have."""
    out = []
    for block in blocks:
        for command in commands_of(block):
            where = f"{page}:{block.number + 1}"
            first = command.split()[0]
            if first not in BY_HAND:
                out.append(f"{where}: {first} is nothing that has to be done by hand")
            out += unknown_command(where, command, program)
    return out


class Desk:
    """The folder that a page begins with, and what its blocks have around them."""

    def __init__(self, source, folder, program, database):
        self.source, self.folder, self.database = source, folder, database
        self.tools = folder / "tools"
        self.tools.mkdir()
        (self.tools / "brinewright").symlink_to(program)
        self.first = folder / FIRST
        shutil.copytree(source / "examples", self.first / "examples")
        self.each = ""

    def blocks(self, page, desk):
        lines = (self.source / FOLDER / f"{page}.md").read_text(encoding="utf-8").split("\n")
        blocks = tutorial.read_page(lines, desk, f"{FOLDER}/{page}.md")
        by_hand = [block for block in blocks if "by-hand" in block.words]
        return lines, [block for block in blocks if block not in by_hand], by_hand

    def run(self, page, program, known):
        """A page's faults, its blocks that ran, and those that are by hand."""
        desk = self.first
        if page != FIRST:
            desk = self.folder / page
            shutil.copytree(self.first, desk)
        lines, blocks, by_hand = self.blocks(page, desk)
        port = free_port()
        for block in blocks:
            block.lines = [line.replace(PAGE_PORT, port) for line in block.lines]
            block.shown = block.shown and [line.replace(PAGE_PORT, port) for line in block.shown]
        bin_of_postgres = sorted(pathlib.Path("/usr/lib/postgresql").glob("*/bin"))[-1]
        ran = tutorial.run(desk, f"{self.tools}{os.pathsep}{bin_of_postgres}", blocks, self.each if page != FIRST else "",
                           PGHOST=str(self.database), PGUSER=postgres.USER)
        if page == FIRST:
            self.each = "".join("\n".join(block.lines) + "\n" for block in blocks if "each" in block.words)
        name = f"{FOLDER}/{page}.md"
        faults = tutorial.judged(name, blocks, ran) if blocks else []
        faults += wrong_by_hand(name, by_hand, program) + wrong_addresses(name, lines, known)
        stated = BY_HAND_BLOCKS.get(page, 0)
        if len(by_hand) != stated:
            faults.append(f"{name}: {len(by_hand)} blocks are by-hand; {stated} are known (BY_HAND_BLOCKS of test/house/howto.py)")
        return faults, blocks, by_hand, ran.stdout.decode("utf-8", "replace")


def main(source, program, wanted, printing):
    pages = wanted or sorted(path.stem for path in (source / FOLDER).glob("*.md") if path.stem != FIRST)
    known = routes(source)
    with tempfile.TemporaryDirectory(prefix="brinewright-howto-") as name:
        folder = pathlib.Path(name)
        with postgres.server(folder / "server"):
            desk = Desk(source, folder, program, folder / "server")
            done = [desk.run(FIRST, program, known)]
            if not done[0][0]:
                with concurrent.futures.ThreadPoolExecutor(2) as pool:
                    done += pool.map(lambda page: desk.run(page, program, known), pages)
    if printing:
        print("\n".join(shown for *_, shown in done))
    faults = [fault for each, *_ in done for fault in each]
    blocks = [block for _, each, *_ in done for block in each]
    shown = sum(block.shown is not None for block in blocks)
    by_hand = sum(len(each) for _, _, each, _ in done)
    print("\n".join(faults) if faults else f"howto: {len(done)} pages; {len(blocks)} blocks run, {shown} outputs hold, "
          f"{by_hand} blocks are for machines and were only read")
    return 1 if faults or not blocks else 0


if __name__ == "__main__":
    words = [word for word in sys.argv[1:] if word != "--print"]
    if len(words) < 2:
        sys.exit("use: howto.py SOURCE PROGRAM [--print] [PAGE ...]")
    sys.exit(main(pathlib.Path(words[0]).resolve(), pathlib.Path(words[1]).resolve(), words[2:], "--print" in sys.argv))
