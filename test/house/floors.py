# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Every #include "folder/..." under src/ must name its own folder, a lower floor, or a sibling that
cmake/floors.txt allows. Third-party headers may stand only where THIRD_PARTY allows them."""
import pathlib
import re
import sys

THIRD_PARTY = {  # header prefix: folders that may include it, and whether in headers too
    "fmt/": (None, True), "tl/": ({"base"}, True), "coin/": ({"opt"}, False), "boost/random": ({"stat"}, False),
    "toml++/": ({"io"}, False), "nlohmann/": ({"io", "cli", "service", "store", "http"}, False), "CLI/": ({"cli"}, False),
    "xlsxwriter": ({"io"}, False), "zip.h": ({"io"}, False), "pugixml": ({"io"}, False),
    "unistd": ({"io", "store"}, False), "fcntl": ({"io", "store"}, False),
    "sqlite3": ({"store"}, False), "libpq": ({"store"}, False), "sodium": ({"store"}, False),
    "sys/": ({"io", "store", "cli"}, False),
}
IMPURE = ["fstream", "iostream", "filesystem", "chrono", "thread", "mutex", "random", "clocale", "locale", "ctime"]
IMPURE_ALLOWED = {("stat", "random")}  # the engine only; seeds are arguments


def main(root: pathlib.Path) -> int:
    floors, siblings = {}, {}
    for line in (root / "cmake/floors.txt").read_text().splitlines():
        if not line or line.startswith("#"):
            continue
        own, _, allowed = line.partition("+")
        number, folder = own.split()
        floors[folder] = int(number)
        siblings[folder] = set(allowed.split())
    faults, files = [], 0
    for path in sorted((root / "src").rglob("*.?pp")):
        folder = path.relative_to(root / "src").parts[0]
        where = path.relative_to(root)
        files += 1
        if folder not in floors:
            faults.append(f"{where}: folder {folder} is not in cmake/floors.txt")
            continue
        for number, line in enumerate(path.read_text().splitlines(), 1):
            own = re.match(r'\s*#include "([^"/]+)/', line)
            if own and own[1] != folder:
                other = own[1]
                if other not in floors or not (floors[other] < floors[folder] or other in siblings[folder]):
                    faults.append(f"{where}:{number}: {folder} may not include {other}")
            system = re.match(r"\s*#include <([^>]+)>", line)
            if not system:
                continue
            for prefix, (folders, in_headers) in THIRD_PARTY.items():
                if system[1].startswith(prefix):
                    if folders is not None and folder not in folders:
                        faults.append(f"{where}:{number}: {system[1]} belongs to {sorted(folders)}")
                    if path.suffix == ".hpp" and not in_headers:
                        faults.append(f"{where}:{number}: {system[1]} shows in a header")
            if floors[folder] <= 5 and system[1] in IMPURE and (folder, system[1]) not in IMPURE_ALLOWED:
                faults.append(f"{where}:{number}: floors 0 to 5 are pure, <{system[1]}> is not")
    print("\n".join(faults) if faults else f"floors: {files} files hold them")
    return 1 if faults or files == 0 else 0


sys.exit(main(pathlib.Path(sys.argv[1])))
