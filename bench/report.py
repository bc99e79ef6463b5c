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


def main() -> None:
    folder, target = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
    raw = json.loads((folder / "recipe.json").read_text())
    median = {b["run_name"]: b for b in raw["benchmarks"] if b.get("aggregate_name") == "median"}
    reference = json.loads((folder / "reference_lp.json").read_text())
    solve = median["solve_with_priorities"]
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
        ("start of the command (`--version`)", f"{best_seconds([PROGRAM, '--version'], 20) * 1000:.1f} ms", "under 30 ms"),
        ("the command on the raised salt of the example works, limits and 20 000 draws included",
         f"{best_seconds(SOLVE, 5) * 1000:.0f} ms", ""),
        ("its peak memory", f"{peak_megabytes(SOLVE):.1f} MB", "under 50 MB"),
    ]
    ratio = reference["seconds"] / ours
    text = f"""# Benchmarks

Written by `bench/run`; every figure is of one run on one machine. Do not edit.

Machine: {cpu}, {raw['context']['num_cpus']} cores; {compiler}; {version}.

| what | measured | asked for |
|---|---|---|
""" + "\n".join(f"| {a} | {b} | {c} |" for a, b, c in rows) + f"""

## Against a reference

| what | Brinewright | reference | ratio |
|---|---|---|---|
| {reference['programs']} recipe programs of test/golden/recipe_lp.json, from nothing (ours: building the model included; reference: its solve alone) | {ours * 1000:.1f} ms | {reference['library']} {reference['version']}: {reference['seconds'] * 1000:.1f} ms | {ratio:.1f} times faster |

Ours are medians of three repetitions, the reference's is the best of five rounds.
"""
    target.write_text(text)


main()
