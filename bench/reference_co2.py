# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Times the reference library on the states of bench/brine_bench.cpp: one vectorised call for constants and pH, the best
of several rounds. Prints one JSON document."""
import contextlib
import io
import json
import time

import numpy as np
import PyCO2SYS as pyco2

STATES = 100_000
ROUNDS = 3


def main() -> None:
    i = np.arange(STATES)
    salinity = 20.0 + (i % 211) * (23.0 / 211)
    celsius = 10.0 + (i % 173) * (25.0 / 173)
    alkalinity = 1500.0 + (i % 97) * (3500.0 / 97)
    carbon = alkalinity * (0.8 + (i % 31) * (0.2 / 31))
    best = float("inf")
    for _ in range(ROUNDS):
        with contextlib.redirect_stdout(io.StringIO()):
            start = time.perf_counter()
            result = pyco2.sys(par1=alkalinity, par1_type=1, par2=carbon, par2_type=2, salinity=salinity,
                               temperature=celsius, opt_k_carbonic=10, opt_k_bisulfate=1, opt_k_fluoride=2,
                               opt_total_borate=2, opt_pH_scale=1)
            best = min(best, time.perf_counter() - start)
    print(json.dumps({"library": "PyCO2SYS", "version": pyco2.__version__, "states": STATES, "seconds": best,
                      "mean_ph": float(np.mean(result["pH_total"]))}))


main()
