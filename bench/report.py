# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Writes docs/benchmarks.md from what bench/run measured, and measures the command itself: start-up, memory."""
import json
import pathlib
import platform
import resource
import subprocess
import sys
import time

PROGRAM = "build/default/src/brinewright"
BOOKS = "## Twenty years of books"  # the part that bench/books writes
SOLVE = [PROGRAM, "recipe", "solve", "examples/works/raised.toml", "--materials", "examples/works/materials.toml", "--quiet"]


def best_seconds(command: list[str], times: int) -> float:
    best = float("inf")
    for _ in range(times):
        start = time.perf_counter()
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
        best = min(best, time.perf_counter() - start)
    return best


def peak_megabytes(command: list[str]) -> float:
    code = ("import resource, subprocess, sys; subprocess.run(sys.argv[1:], check=True, stdout=subprocess.DEVNULL);"
            "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)")
    return int(subprocess.run([sys.executable, "-c", code, *command], check=True, capture_output=True, text=True).stdout) / 1024


def read(folder: pathlib.Path, name: str) -> dict:
    return json.loads((folder / f"{name}.json").read_text())


def medians(raw: dict) -> dict:
    return {b["run_name"]: b for b in raw["benchmarks"] if b.get("aggregate_name") == "median"}


def waters(folder: pathlib.Path) -> tuple[list, list]:
    """Rows of what was asked for, and rows against the references."""
    brine, water = medians(read(folder, "brine")), medians(read(folder, "water"))
    co2, aqueous = read(folder, "reference_co2"), read(folder, "reference_water")
    state = water["equilibria/joined"]
    microseconds = state["real_time"] * 1000 / state["states"]
    one, two = water["batch/20000/1/real_time"], water["batch/20000/2/real_time"]
    field = brine["stoichiometric_route/1/real_time"]["real_time"] / 1000
    ratio = aqueous["seconds_per_state_with_indices"] * 1e6 / microseconds
    asked = [
        (f"one equilibrium from nothing with all saturation states, mean of {state['states']:.0f} waters, seawater to ten times seawater",
         f"{microseconds:.1f} us", "under 25 us"),
        ("preparing the model for a temperature", f"{water['preparation']['real_time']:.0f} us", ""),
        (f"a batch of {one['waters']:.0f} seawaters, pH and one saturation state, 1 thread",
         f"{one['real_time'] / one['waters'] * 1000:.1f} us per water", ""),
        ("the same, 2 threads", f"{one['real_time'] / two['real_time']:.2f} times as fast", "near 2"),
        ("its workspace per thread, which does not grow with the number of waters",
         f"{one['workspace_bytes']:.0f} bytes", "16 MB or less"),
    ]
    against = [
        (f"one equilibrium with saturation states, {aqueous['states']} waters of test/golden/ion_interaction.json, parameters loaded on both sides",
         f"{microseconds:.1f} us", f"{aqueous['library']}: {aqueous['seconds_per_state_with_indices'] * 1e6:.0f} us",
         f"{ratio:.0f} times faster (asked for: 100)"),
        (f"stoichiometric route, constants and pH of {co2['states']} states, 1 thread",
         f"{field * 1000:.0f} ms", f"{co2['library']} {co2['version']}, one vectorised call: {co2['seconds'] * 1000:.0f} ms",
         f"{co2['seconds'] / field:.0f} times faster (asked for: 5)"),
    ]
    return asked, against


def vats(folder: pathlib.Path) -> tuple[list, list]:
    path, reference = medians(read(folder, "path")), read(folder, "reference_vat")
    run, seeded = path["run_48_hours/0"], path["run_48_hours/1"]
    small = path["small_vats"]["real_time"] / 1e6
    name, seconds = min(reference["seconds"].items(), key=lambda item: item[1])
    asked = [
        (f"a vat's course over 48 h, {run['materials']:.0f} materials, 1 thread", f"{run['real_time']:.0f} ms", "under 100 ms"),
        ("the same with 1 mg/kg of seed", f"{seeded['real_time']:.0f} ms", "under 100 ms"),
        ("`path compare`: 8 orders x 4 temperatures x 5 doses of dust and what else it runs, each looked at for a year, 2 threads",
         f"{path['compare/real_time']['real_time'] / 1000:.2f} s", "under 3 s"),
    ]
    against = [(f"{reference['vats']} small vats of test/golden/vat_course.json, relative tolerance 1e-6",
                f"{small * 1000:.2f} ms", f"{reference['library']} {name}: {seconds * 1000:.0f} ms",
                f"{seconds / small:.0f} times faster")]
    return asked, against


def blends(folder: pathlib.Path) -> tuple[list, list]:
    blend, reference = medians(read(folder, "blend")), read(folder, "reference_sobol")
    one, two = (blend[f"budget/{n}/real_time"]["real_time"] for n in (1, 2))
    scatter, shares = blend["scatter"], blend["sobol"]["real_time"] / 1000
    asked = [
        (f"scatter of {scatter['materials']:.0f} materials x {scatter['constituents']:.0f} constituents x 10 portions",
         f"{scatter['real_time']:.3f} ms", "under 5 ms"),
        ("budget from lot to reef of the same, 100 000 draws with variance shares, 1 thread", f"{one / 1000:.2f} s", ""),
        ("the same, 2 threads", f"{two / 1000:.2f} s", "under 5 s"),
    ]
    against = [(f"variance shares of Ishigami's function, {reference['draws']} draws, 1 thread", f"{shares * 1000:.1f} ms",
                f"{reference['library']}: {reference['seconds'] * 1000:.0f} ms", f"{reference['seconds'] / shares:.1f} times faster")]
    return asked, against


def growth(folder: pathlib.Path) -> list:
    """How times grow with the size of what is asked; the years of books stand with the books."""
    water, recipe = medians(read(folder, "water")), medians(read(folder, "recipe"))
    out = []
    for count in (1, 1000, 1000000):
        run = water[f"batch/{count}/2/real_time"]
        out.append((f"waters in a batch, pH and one saturation state, 2 threads: {count}",
                    f"{run['real_time']:.3g} ms", f"{run['real_time'] / count * 1000:.1f} us a water",
                    f"{run['workspace_bytes']:.0f} bytes of workspace a thread"))
    for count in (10, 40, 100, 300):
        run = recipe[f"solve_with_priorities/{count}"]
        out.append((f"materials in a solve with priorities, {run['goals']:.0f} constituents: {run['materials']:.0f}",
                    f"{run['real_time']:.3g} ms", f"{run['real_time'] / count * 1000:.0f} us a material",
                    f"{run['stages']:.0f} stages"))
    return out


def main() -> None:
    folder, target = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
    raw = read(folder, "recipe")
    median = medians(raw)
    reference = read(folder, "reference_lp")
    water_rows, water_against = waters(folder)
    solve = median["solve_with_priorities/40"]
    one = median["hundred_thousand_draws/1/real_time"]["real_time"]
    two = median["hundred_thousand_draws/2/real_time"]["real_time"]
    ours = median["reference_programs"]["real_time"] / 1000
    cpu = next((line.split(":", 1)[1].strip() for line in pathlib.Path("/proc/cpuinfo").read_text().splitlines()
                if line.startswith("model name")), platform.machine())
    compiler = subprocess.run(["g++", "--version"], capture_output=True, text=True, check=True).stdout.splitlines()[0]
    version = subprocess.run([PROGRAM, "--version"], capture_output=True, text=True, check=True).stdout.strip()
    rows = [
        (f"solve with priorities, {solve['materials']:.0f} materials x {solve['goals']:.0f} constituents, {solve['stages']:.0f} stages",
         f"{solve['real_time']:.2f} ms", "under 5 ms"),
        ("100 000 draws of the same, 13 uncertain inputs per material, all 40 materials in use, 1 thread", f"{one:.0f} ms", ""),
        ("the same, 2 threads", f"{two:.0f} ms", "under 1 s"),
        (f"search within Omega of aragonite on the raised salt of the example works, {median['within_limits/omega']['materials']:.0f} materials",
         f"{median['within_limits/omega']['real_time']:.0f} ms", "under 200 ms"),
        ("the same within a chance of 92 %", f"{median['within_limits/chance']['real_time']:.0f} ms", ""),
        ("the same within a safe time, a course of the vat for every try", f"{median['within_limits/safe_time']['real_time']:.0f} ms", ""),
        ("start of the command (`--version`)", f"{best_seconds([PROGRAM, '--version'], 20) * 1000:.1f} ms", "under 30 ms"),
        ("the command on the raised salt of the example works, limits and 20 000 draws included",
         f"{best_seconds(SOLVE, 5) * 1000:.0f} ms", "under 2 s with 10 000 draws"),
        ("its peak memory", f"{peak_megabytes(SOLVE):.1f} MB", "under 50 MB"),
        ("a second start: `./run --build-only`, nothing to build", f"{best_seconds(['./run', '--build-only'], 2):.1f} s", "seconds"),
    ]
    vat_rows, vat_against = vats(folder)
    blend_rows, blend_against = blends(folder)
    rows += water_rows + vat_rows + blend_rows
    water_against += vat_against + blend_against
    ratio = reference["seconds"] / ours
    text = f"""# Benchmarks

Written by `bench/run`: down to "How it grows" every figure is of one run on one machine. The parts below name what wrote them, each in
a run of its own. Do not edit.

Machine: {cpu}, {raw['context']['num_cpus']} cores; {compiler}; {version}.

| what | measured | asked for |
|---|---|---|
""" + "\n".join(f"| {a} | {b} | {c} |" for a, b, c in rows) + f"""

## Against a reference

| what | Brinewright | reference | ratio |
|---|---|---|---|
| {reference['programs']} recipe programs of test/golden/recipe_lp.json, from nothing (ours: building the model included; reference: its solve alone) | {ours * 1000:.1f} ms | {reference['library']} {reference['version']}: {reference['seconds'] * 1000:.1f} ms | {ratio:.1f} times faster (asked for: no slower) |
""" + "\n".join(f"| {a} | {b} | {c} | {d} |" for a, b, c, d in water_against) + """

## How it grows

| what | time | of one | besides |
|---|---|---|---|
""" + "\n".join(f"| {a} | {b} | {c} | {d} |" for a, b, c, d in growth(folder)) + """

Ours are medians of three repetitions, the references' are the best of three or five rounds.
"""
    before = target.read_text() if target.exists() else ""
    target.write_text(text + "".join("\n" + head + rest for head, rest in [before.partition(BOOKS)[1:]] if head))


main()
