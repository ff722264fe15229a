"""The calibration workload: defined once, so that times hold on any machine.

Half is a plain-Python loop, half a numpy solve; together about one second on an ordinary
desktop core. One `cal` is its time, measured in the same run as what is timed.
"""

from __future__ import annotations

import time

import numpy as np

_LOOP = 8_000_000
_SOLVES = 14
_SIZE = 900


def workload() -> float:
    """Run the workload once; returns a number, so that nothing of it can be left out."""
    total = 0
    for i in range(_LOOP):
        total += i * i % 7
    rng = np.random.default_rng(1)
    matrix = rng.normal(size=(_SIZE, _SIZE)) + _SIZE * np.eye(_SIZE)
    right = rng.normal(size=_SIZE)
    for _ in range(_SOLVES):
        right = np.linalg.solve(matrix, right) * _SIZE
    return total + float(right.sum())


def calibrate(times: int = 3) -> float:
    """Seconds of one workload, the least of ``times`` runs."""
    best = float("inf")
    for _ in range(times):
        start = time.perf_counter()
        workload()
        best = min(best, time.perf_counter() - start)
    return best
