# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""docs/dependencies.md names everything that is linked, compiled in or built with.

    dependencies.py SOURCE [PROGRAM]

Looked for on the page: what find_package, find_library and pkg_check_modules name in src, test and bench; the packages of tools/setup;
the packages of web/package.json with the version of the lock; each notice in data/notices; each #include of another's header in src;
and, with PROGRAM, the Debian package of each library that it asks for itself. Each row has a licence and a version, whose first
number is that of the package here, on Debian 12."""
import importlib.machinery
import importlib.util
import json
import pathlib
import re
import sys

FOUND_IN = ("src/CMakeLists.txt", "test/CMakeLists.txt", "test/fuzz/CMakeLists.txt", "bench/CMakeLists.txt", "cmake/BrinewrightWeb.cmake",
            "cmake/BrinewrightFonts.cmake", "cmake/BrinewrightCompiler.cmake")
OURS = {"brinewright"}
HEADERS = {  # beginning of a header's name: what the page calls it
    "Eigen/": "Eigen3", "boost/": "Boost", "toml++/": "toml++", "CLI/": "CLI11", "nlohmann/": "nlohmann_json", "tl/": "tl-expected",
    "fmt/": "fmt", "cvode/": "cvode", "nvector/": "cvode", "sunlinsol/": "cvode", "sunmatrix/": "cvode", "sundials/": "cvode",
    "coin/Clp": "Clp", "coin/Cbc": "Cbc", "coin/Coin": "CoinUtils", "coin/Osi": "OsiClp", "muParser": "muparser", "sqlite3": "SQLite3", "libpq": "PostgreSQL",
    "sodium": "sodium", "openssl/": "OpenSSL", "xlsxwriter": "xlsxwriter", "zip.h": "zip", "pugixml": "pugixml", "cairo": "cairo-pdf",
    "hb": "harfbuzz", "ft2build": "freetype2", "freetype/": "freetype2", "qrencode": "libqrencode",
}
SYSTEM = re.compile(r"(sys/|linux/|netinet/)?[a-z_0-9]+(\.h)?$")


def load_sbom(source):
    loader = importlib.machinery.SourceFileLoader("sbom", str(source / "tools" / "sbom"))
    module = importlib.util.module_from_spec(importlib.util.spec_from_loader("sbom", loader))
    sys.dont_write_bytecode = True
    loader.exec_module(module)
    return module


def looked_for(source):
    """Names that the page must have between backticks, with where each comes from."""
    out = {}
    for file in FOUND_IN:
        text = re.sub(r"(?m)#.*$", "", (source / file).read_text(encoding="utf-8"))
        names = re.findall(r"find_package\((\S+?)[\s)]", text)
        names += [n for found in re.findall(r"find_library\(\S+ (\S+) REQUIRED\)", text) for n in found.split() if "$" not in n]
        for loop, body in re.findall(r"foreach\(\w+ IN ITEMS ([^)]*)\)(.*?)endforeach", text, re.DOTALL):
            names += loop.split() if "find_library" in body else []
        for modules in re.findall(r"pkg_check_modules\(\S+ REQUIRED IMPORTED_TARGET ([^)]*)\)", text):
            names += modules.split()
        out.update({name: file for name in names if name not in OURS})
    setup = (source / "tools" / "setup").read_text(encoding="utf-8")
    for listed in re.findall(r"packages\+?=\(([^)]*)\)", setup):
        out.update({name: "tools/setup" for name in listed.split() if not name.startswith("$")})
    for path in sorted((source / "data" / "notices").glob("*")):
        out[f"data/notices/{path.name}"] = "data/notices"
    for path in [p for p in sorted((source / "src").rglob("*")) if p.suffix in (".cpp", ".hpp", ".inl")]:
        for header in re.findall(r"(?m)^#include <([^>]+)>", path.read_text(encoding="utf-8")):
            known = next((name for start, name in HEADERS.items() if header.startswith(start)), None)
            if known or not SYSTEM.match(header):
                out[known or header] = str(path.relative_to(source))
    return out


def wrong_npm(source, rows):
    """Packages of web/package.json that are missing, or stand with another version than the lock has."""
    wanted = json.loads((source / "web" / "package.json").read_text(encoding="utf-8"))
    lock = json.loads((source / "web" / "package-lock.json").read_text(encoding="utf-8"))["packages"]
    out = []
    for name in sorted({**wanted.get("dependencies", {}), **wanted.get("devDependencies", {})}):
        entry, row = lock[f"node_modules/{name}"], rows.get(name)
        if row is None:
            out.append(f"`{name}` of web/package.json is missing")
        elif (row["version"], row["licence"]) != (entry["version"], entry["license"]):
            out.append(f"`{name}` is {entry['version']} under {entry['license']} in web/package-lock.json")
    count = len(lock) - 1
    if f"{count} packages in all" not in (source / "docs" / "dependencies.md").read_text(encoding="utf-8"):
        out.append(f"web/package-lock.json holds {count} packages in all")
    return out


def first_number(version):
    return re.match(r"(?:\d+:)?(\d+)", version)[1] if re.match(r"(?:\d+:)?\d", version) else version


def main(source, program):
    sbom = load_sbom(source)
    text = sbom.PAGE.read_text(encoding="utf-8")
    named = set(re.findall(r"`([^`\n]+)`", text))
    tables = sbom.sections(text)
    rows = {sbom.name_of(row): row for table in tables.values() for row in table}
    wanted = looked_for(source)
    faults = [f"`{name}`, named in {where}, is missing" for name, where in sorted(wanted.items()) if name not in named]
    faults += wrong_npm(source, rows)
    faults += [f"`{name}` has no {key}" for name, row in rows.items() for key in ("licence", "version", "what for") if not row.get(key)]
    release = pathlib.Path("/etc/os-release")
    if release.exists() and 'VERSION_ID="12"' in release.read_text(encoding="utf-8"):
        for heading in (sbom.SHARED, sbom.COMPILED):
            for row in tables[heading]:
                here = sbom.debian_version(sbom.name_of(row))
                if here and first_number(here) != first_number(row["version"]):
                    faults.append(f"`{sbom.name_of(row)}` is {here} here, not {row['version']}")
    if program:
        found, asked = sbom.libraries(program)
        owners = sbom.debian_packages([path for _, path in found])
        of_page = {sbom.name_of(row) for row in tables[sbom.SHARED]}
        for library, path in found:
            owner = owners.get(path, (library,))[0]
            if library in asked and owner not in of_page:
                faults.append(f"`{owner}`, of which the program asks for {library}, is missing among its shared libraries")
    print("\n".join(f"docs/dependencies.md: {fault}" for fault in faults) if faults
          else f"dependencies: {len(wanted)} names looked for and {len(rows)} rows hold")
    return 1 if faults or len(wanted) < 50 else 0


if __name__ == "__main__":
    if len(sys.argv) not in (2, 3):
        sys.exit("use: dependencies.py SOURCE [PROGRAM]")
    sys.exit(main(pathlib.Path(sys.argv[1]).resolve(), pathlib.Path(sys.argv[2]).resolve() if len(sys.argv) == 3 else None))
