# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Times the reference LP library on the programs of test/golden/recipe_lp.json: its solve alone, the model already
passed; the best of several rounds. Prints one JSON document."""
import json
import pathlib
import sys
import time

import highspy
import numpy as np

ROUNDS = 5


def model_of(p: dict) -> highspy.HighsLp:
    inf = highspy.kHighsInf
    bound = lambda values, missing: np.array([missing if v is None else v for v in values], dtype=float)  # noqa: E731
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(p["cost"]), len(p["matrix"])
    lp.col_cost_ = np.array(p["cost"], dtype=float)
    lp.col_lower_, lp.col_upper_ = bound(p["column_low"], -inf), bound(p["column_high"], inf)
    lp.row_lower_, lp.row_upper_ = bound(p["row_low"], -inf), bound(p["row_high"], inf)
    starts, index, value = [0], [], []
    for row in p["matrix"]:
        for j, v in enumerate(row):
            if v != 0:
                index.append(j)
                value.append(v)
        starts.append(len(index))
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = np.array(starts)
    lp.a_matrix_.index_ = np.array(index)
    lp.a_matrix_.value_ = np.array(value, dtype=float)
    return lp


def main() -> None:
    golden = json.loads(pathlib.Path(sys.argv[1]).read_text())
    models = [model_of(p) for p in golden["problems"]]
    best = float("inf")
    for _ in range(ROUNDS):
        total = 0.0
        for lp in models:
            h = highspy.Highs()
            h.setOptionValue("output_flag", False)
            h.setOptionValue("threads", 1)
            h.passModel(lp)
            start = time.perf_counter()
            h.run()
            total += time.perf_counter() - start
        best = min(best, total)
    print(json.dumps({"library": "highspy", "version": highspy.Highs().version(), "programs": len(models), "seconds": best}))


main()
