# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""House rules that a script can see: licence lines, file lengths, one concept per header, no paths of one machine."""
import pathlib
import re
import subprocess
import sys

import figures

LONGEST = {".cpp": 500, ".hpp": 300}  # of src
LONGEST_ELSEWHERE = 600  # lines of tests, of Python, of the pages and of what is around them
HAND_WRITTEN = (".cpp", ".hpp", ".py", ".ts", ".svelte", ".mjs", ".css")
REASONS = {"web/src/api/schema.d.ts": "made from api/openapi.yaml"}  # file: why it may be longer
BANNED_NAMES = re.compile(r"(utils?|common|helpers?|manager|misc)\.(hpp|cpp)$")
MACHINE_PATH = re.compile(r"/(root|home|work|farm|tmp/bash_jobs)/")


def main(root: pathlib.Path) -> int:
    faults = []
    sources = sorted(p for top in ("src", "test", "bench", "tools") for p in (root / top).rglob("*")
                     if p.suffix in (".cpp", ".hpp", ".py", ".def"))
    for path in sources:
        where = path.relative_to(root)
        text = path.read_text()
        head = "\n".join(text.splitlines()[:3])
        if "SPDX-License-Identifier: Apache-2.0" not in head:
            faults.append(f"{where}: the SPDX lines are missing")
        lines = text.count("\n")
        if lines > LONGEST.get(path.suffix, 10**9) and str(where) not in REASONS and where.parts[0] == "src":
            faults.append(f"{where}: {lines} lines, more than {LONGEST[path.suffix]}")
        if BANNED_NAMES.search(path.name):
            faults.append(f"{where}: a file is named for its concept")
        if path.suffix == ".hpp" and "#pragma once" not in text:
            faults.append(f"{where}: #pragma once is missing")
    listed = subprocess.run(["git", "ls-files"], cwd=root, capture_output=True, text=True, check=False).stdout.split("\n")
    for name in filter(None, listed):
        path = root / name
        if path.suffix in HAND_WRITTEN and path.is_file() and name not in REASONS:
            lines = path.read_text().count("\n")
            if lines > LONGEST_ELSEWHERE:
                faults.append(f"{name}: {lines} lines, more than {LONGEST_ELSEWHERE}")
        if path.suffix in (".py", ".cpp", ".hpp", ".md", ".toml", ".txt", ".json", "") and path.is_file() and path.name != "rules.py":
            try:
                text = path.read_text()
            except UnicodeDecodeError:
                continue
            for number, line in enumerate(text.splitlines(), 1):
                if MACHINE_PATH.search(line):
                    faults.append(f"{name}:{number}: a path of one machine")
    print("\n".join(faults) if faults else f"rules: {len(sources)} files keep them")
    figures.record("House", f"hand-written files above {LONGEST_ELSEWHERE} lines without a reason", "none",
                   f"none; {len(REASONS)} with a reason: " + ", ".join(f"{name}, {why}" for name, why in REASONS.items()), not faults, "rules")
    return 1 if faults or not sources else 0


sys.exit(main(pathlib.Path(sys.argv[1])))
