# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Time of scipy's variance shares of Ishigami's function, 65536 draws of three variables, as JSON."""
import json
import sys
import time

import numpy as np
import scipy
from scipy.stats import sobol_indices, uniform


def ishigami(x):
    return np.sin(x[0]) + 7 * np.sin(x[1]) ** 2 + 0.1 * x[2] ** 4 * np.sin(x[0])


def main():
    side = uniform(loc=-np.pi, scale=2 * np.pi)
    best = 1e9
    for _ in range(5):
        start = time.perf_counter()
        sobol_indices(func=ishigami, n=65536, dists=[side, side, side], random_state=np.random.default_rng(1))
        best = min(best, time.perf_counter() - start)
    json.dump({"library": f"scipy {scipy.__version__} sobol_indices", "draws": 65536, "seconds": best}, sys.stdout)


if __name__ == "__main__":
    main()
