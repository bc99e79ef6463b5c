# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Time of scipy's integrators on the equations of test/golden/vat_course.json, as JSON."""
import importlib.util
import json
import pathlib
import sys
import time

import scipy
from scipy.integrate import solve_ivp

ROOT = pathlib.Path(__file__).resolve().parents[1]


def load(path):
    spec = importlib.util.spec_from_file_location("vat_course", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def main():
    vat = load(ROOT / "tools" / "reference" / "vat_course.py")
    best = {}
    for method in ("BDF", "LSODA"):
        for _ in range(5):
            start = time.perf_counter()
            for case in vat.CASES:
                solve_ivp(vat.slope(case), (0.0, vat.HOURS[-1]), [1.0, 0.0, 0.0], method=method, t_eval=vat.HOURS,
                          rtol=1e-6, atol=[1e-8, 1e-11, 1e-8])
            best[method] = min(best.get(method, 1e9), time.perf_counter() - start)
    json.dump({"library": f"scipy {scipy.__version__}", "vats": len(vat.CASES), "seconds": best}, sys.stdout)


if __name__ == "__main__":
    main()
