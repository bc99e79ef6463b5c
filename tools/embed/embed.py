#!/usr/bin/env python3
# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Puts files into the program: an assembler file takes their bytes as they are, and packed by gzip; a table names
them. The same files give the same bytes.

usage: embed.py --assembler OUT.S --table OUT.inc PREFIX=FOLDER[:PATTERN] ...

PREFIX is what their paths begin with ("/", "/examples/"). Files whose names hold a hash of their contents (under
assets/) are marked as immutable."""
import argparse
import gzip
import hashlib
import pathlib
import sys

TYPES = {".html": "text/html; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8",
         ".svg": "image/svg+xml", ".json": "application/json", ".toml": "text/plain; charset=utf-8",
         ".woff2": "font/woff2", ".png": "image/png", ".ico": "image/x-icon", ".txt": "text/plain; charset=utf-8",
         ".webmanifest": "application/manifest+json", ".csv": "text/csv; charset=utf-8"}


def files_of(place):
    prefix, _, rest = place.partition("=")
    folder, _, pattern = rest.partition(":")
    root = pathlib.Path(folder)
    found = [p for p in sorted(root.rglob(pattern or "*")) if p.is_file()]
    if not found:
        sys.exit(f"embed: {folder} holds no file to build in")
    return [(prefix + p.relative_to(root).as_posix(), p) for p in found]


def main():
    options = argparse.ArgumentParser()
    options.add_argument("--assembler", type=pathlib.Path, required=True)
    options.add_argument("--table", type=pathlib.Path, required=True)
    options.add_argument("places", nargs="+")
    a = options.parse_args()
    folder = a.assembler.parent
    folder.mkdir(parents=True, exist_ok=True)
    a.table.parent.mkdir(parents=True, exist_ok=True)
    assembler, rows, names = [".section .rodata"], [], []
    for number, (path, file) in enumerate(sorted(f for place in a.places for f in files_of(place))):
        if file.suffix not in TYPES:
            sys.exit(f"embed: {path}: files of the kind {file.suffix or '(none)'} have no media type here")
        plain = file.read_bytes()
        packed = gzip.compress(plain, 9, mtime=0)
        for kind, data in (("plain", plain), ("gzip", packed)):
            part = folder / f"asset_{number}.{kind}"
            part.write_bytes(data)
            label = f"bw_asset_{number}_{kind}"
            assembler.append(f".global {label}, {label}_end\n.balign 16\n{label}:\n.incbin \"{part}\"\n{label}_end:")
            names.append(f"extern \"C\" const char {label}[], {label}_end[];")
        rows.append((path, TYPES[file.suffix], hashlib.sha256(plain).hexdigest(), number, path.startswith("/assets/")))
    assembler.append('#if defined(__linux__) && defined(__ELF__)\n.section .note.GNU-stack,"",%progbits\n#endif')
    a.assembler.write_text("\n".join(assembler) + "\n")
    lines = [f"BW_ASSET(\"{path}\", \"{kind}\", \"{sha}\", bw_asset_{n}_plain, bw_asset_{n}_gzip, "
             f"{'true' if immutable else 'false'})" for path, kind, sha, n, immutable in rows]
    a.table.write_text("// Written by tools/embed/embed.py.\n#ifdef BW_ASSET_NAMES\n" + "\n".join(names) +
                       "\n#else\n" + "\n".join(lines) + "\n#endif\n")


if __name__ == "__main__":
    main()
