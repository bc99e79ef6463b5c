# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Draws where the time went from sampled stacks, and writes that part of docs/benchmarks.md:
flame_report.py PAGE "WHAT=STACKS=PICTURE.svg"...   The rest of the page stays."""
import collections
import html
import pathlib
import re
import sys

HEAD = "## Where the time goes"
WIDTH, ROW, TOP = 1200, 17, 24
LEAST = 0.004  # of all: narrower boxes have no room
MOST_ROWS = 10


def short(symbol: str) -> str:
    """A function's name without arguments, what it returns, templates' arguments and our outer namespace."""
    name = symbol.strip()
    while True:  # innermost brackets first
        plain = re.sub(r"<[^<>]*>", "", name)
        if plain == name:
            break
        name = plain
    name = name.replace("(anonymous namespace)::", "").split("(")[0].strip()
    name = name.split(" ")[-1] if " " in name and "operator" not in name else name
    return name.removeprefix("bw::") or symbol


def stacks(path: pathlib.Path) -> list[list[str]]:
    """Of each sample the functions, outermost first, from main inward."""
    out = []
    for sample in path.read_text().split("\n\n"):
        lines = [line for line in sample.splitlines() if line.startswith(("\t", " "))]
        names = [short(line.split(None, 1)[1]) for line in reversed(lines) if len(line.split(None, 1)) == 2]
        inner = [k for k, name in enumerate(names) if name.startswith("benchmark::") or name == "main"]
        names = [name for name in (names[inner[-1] + 1:] if inner else names) if name != "[unknown]"]
        if names:
            out.append(names)
    return out


def tree_of(samples: list[list[str]]) -> dict:
    root = {"count": len(samples), "inner": {}}
    for names in samples:
        node = root
        for name in names:
            node = node["inner"].setdefault(name, {"count": 0, "inner": {}})
            node["count"] += 1
    return root


def boxes(node: dict, left: int, depth: int, total: int):
    """(name, first sample, samples, depth) of all that is wide enough."""
    for name, child in sorted(node["inner"].items(), key=lambda item: -item[1]["count"]):
        if child["count"] >= LEAST * total:
            yield name, left, child["count"], depth
            yield from boxes(child, left, depth + 1, total)
        left += child["count"]


def picture(what: str, samples: list[list[str]]) -> str:
    total = len(samples)
    drawn = list(boxes(tree_of(samples), 0, 0, total))
    height = TOP + ROW * (max(depth for *_, depth in drawn) + 1)
    parts = [f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height}" width="{WIDTH}" height="{height}" '
             f'font-family="sans-serif" font-size="11" role="img"><title>Where the time of {html.escape(what)} goes</title>'
             f'<rect width="{WIDTH}" height="{height}" fill="#fff"/>'
             f'<text x="4" y="16">{html.escape(what)}: {total} samples; a box is a function, below it what it calls</text>']
    for name, left, count, depth in drawn:
        x, y, w = left / total * WIDTH, TOP + depth * ROW, count / total * WIDTH
        fits = int((w - 6) / 6.2)
        shade = ("#d5e5ea", "#e4e1d2")[depth % 2]
        label = html.escape(name if len(name) <= fits else name[: fits - 1] + "…") if fits > 3 else ""
        parts.append(f'<g><title>{html.escape(name)}: {100 * count / total:.1f} %</title><rect x="{x:.1f}" y="{y}" '
                     f'width="{max(w - 0.6, 0.4):.1f}" height="{ROW - 1}" fill="{shade}"/>'
                     + (f'<text x="{x + 3:.1f}" y="{y + 12}" fill="#1c2a30">{label}</text>' if label else "") + "</g>")
    return "\n".join(parts) + "\n</svg>\n"


def section(read: list[tuple[str, list, pathlib.Path]], page: pathlib.Path) -> str:
    text = f"""{HEAD}

Written by `bench/flame`: samples of the processor's time with the calls that led there. The share is of a function's own work,
without what it calls.

"""
    for what, samples, image in read:
        own = collections.Counter(names[-1] for names in samples).most_common(MOST_ROWS)
        text += f"""### {what[0].upper()}{what[1:]}

![Where the time of {what} goes]({image.relative_to(page.parent)})

| function | own share |
|---|---|
""" + "\n".join(f"| `{name}` | {100 * count / len(samples):.1f} % |" for name, count in own) + "\n\n"
    return text.rstrip("\n") + "\n"


def main() -> None:
    page = pathlib.Path(sys.argv[1])
    read = []
    for argument in sys.argv[2:]:
        what, path, image = argument.split("=")
        samples = stacks(pathlib.Path(path))
        if not samples:
            sys.exit(f"{path} holds no samples: has perf leave to read the processor's counters?")
        pathlib.Path(image).write_text(picture(what, samples))
        read.append((what, samples, pathlib.Path(image)))
    before, _, after = page.read_text().partition(HEAD)
    others = after.partition("\n## ")[2]
    page.write_text(before.rstrip("\n") + "\n\n" + section(read, page) + ("\n## " + others if others else ""))


main()
