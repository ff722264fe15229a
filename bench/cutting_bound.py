"""How few sheets the furniture set can take at all, cut edge to edge.

Linear programming over all edge-to-edge fillings of a sheet (Gilmore and Gomory 1965)
bounds the sheets of an instance. For any prices of the parts, their total divided by the
price of the dearest filling is such a bound (Farley 1990). The dearest filling, with as
many of each part as wanted, is found exactly by dynamic programming over the sums of the
parts' sides. Prices come from the search's own patterns and are smoothed between rounds.
"""

from __future__ import annotations

import math
import time
from concurrent.futures import ProcessPoolExecutor
from typing import Any

import numpy as np
from numba import njit
from numpy.typing import NDArray

from bench.cutting_search import FILES, Instance, data_folder, read_instances, warm_up
from kerfwind.cutting.bounds import sheets_bound
from kerfwind.cutting.first import Tally, noisy_nests
from kerfwind.cutting.problem import Part, Problem, Stock

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]

#: Instances whose bound rises above that of `sheets_bound` within minutes.
INSTANCES = ("a09", "a13", "a15", "a18", "a20", "a23")


@njit(cache=True)
def _reachable(most: int, sides: Ints, demand: Ints) -> NDArray[np.bool_]:
    """Lengths up to ``most`` that are sums of sides, each used as often as wanted."""
    can = np.zeros(most + 1, np.bool_)
    can[0] = True
    for i in range(len(sides)):
        for _ in range(demand[i]):
            grew = False
            for x in range(most, sides[i] - 1, -1):
                if can[x - sides[i]] and not can[x]:
                    can[x] = True
                    grew = True
            if not grew:
                break
    return can


@njit(cache=True)
def _dearest(w: Ints, h: Ints, value: Floats, px: Ints, py: Ints, fx: Ints, fy: Ints) -> Floats:
    """Value of the dearest filling of every rectangle px[i] by py[j]."""
    nx, ny = len(px), len(py)
    best = np.zeros((nx, ny))
    turned = np.zeros((ny, nx))
    for i in range(len(w)):
        for a, b in ((w[i], h[i]), (h[i], w[i])):
            if a > px[-1] or b > py[-1]:
                continue
            x = np.searchsorted(px, a)
            y = np.searchsorted(py, b)
            best[x, y] = max(best[x, y], value[i])
    for x in range(1, nx):
        for y in range(1, ny):
            top = max(best[x, y], best[x - 1, y], best[x, y - 1])
            for k in range(1, x):
                if px[k] * 2 > px[x]:
                    break
                both = turned[y, k] + turned[y, fx[px[x] - px[k]]]
                if both > top:
                    top = both
            for k in range(1, y):
                if py[k] * 2 > py[y]:
                    break
                both = best[x, k] + best[x, fy[py[y] - py[k]]]
                if both > top:
                    top = both
            best[x, y] = top
            turned[y, x] = top
    return best


def _points(most: int, sides: Ints, demand: Ints) -> tuple[Ints, Ints]:
    """Reachable lengths, and for every length the last of them that is not longer."""
    points = np.flatnonzero(_reachable(most, sides, demand)).astype(np.int64)
    below = np.searchsorted(points, np.arange(most + 1), side="right") - 1
    return points, below.astype(np.int64)


def _filling(
    w: Ints, h: Ints, value: Floats, px: Ints, py: Ints, fx: Ints, fy: Ints, best: Floats
) -> Ints:
    """How many of each part the dearest filling holds."""
    count = np.zeros(len(w), dtype=np.int64)
    stack = [(len(px) - 1, len(py) - 1)]
    close = 1e-11
    while stack:
        x, y = stack.pop()
        v = best[x, y]
        if v <= close:
            continue
        if x and abs(best[x - 1, y] - v) < close:
            stack.append((x - 1, y))
            continue
        if y and abs(best[x, y - 1] - v) < close:
            stack.append((x, y - 1))
            continue
        fits = ((w <= px[x]) & (h <= py[y])) | ((h <= px[x]) & (w <= py[y]))
        exact = np.flatnonzero(fits & (np.abs(value - v) < close))
        if len(exact):
            count[exact[0]] += 1
            continue
        k = np.arange(1, x)
        pair = np.flatnonzero(np.abs(best[k, y] + best[fx[px[x] - px[k]], y] - v) < close)
        if len(pair):
            at = int(k[pair[0]])
            stack += [(at, y), (int(fx[px[x] - px[at]]), y)]
            continue
        k = np.arange(1, y)
        pair = np.flatnonzero(np.abs(best[x, k] + best[x, fy[py[y] - py[k]]] - v) < close)
        at = int(k[pair[0]])
        stack += [(x, at), (x, int(fy[py[y] - py[at]]))]
    return count


def least_sheets(instance: Instance, rounds: int = 120) -> tuple[float, float]:
    """Sheets that no edge-to-edge nest can undercut, and the programme's value so far."""
    from scipy.optimize import linprog
    from scipy.sparse import csc_array

    scale = 40_000
    width, height = instance.sheet
    parts = tuple(
        Part(max(w, h) * scale, min(w, h) * scale, w != h, q) for w, h, q in instance.parts
    )
    problem = Problem(parts, (Stock(width * scale, height * scale, 1.0, 20_000),))
    w = np.array([p.w // scale for p in parts], dtype=np.int64)
    h = np.array([p.h // scale for p in parts], dtype=np.int64)
    demand = np.array([p.demand for p in parts], dtype=np.int64)
    sides, often = np.concatenate([w, h]), np.concatenate([demand, demand])
    px, fx = _points(width, sides, often)
    py, fy = _points(height, sides, often)
    columns: dict[tuple[int, ...], None] = {}
    for chance in range(60):
        shaken = noisy_nests(problem, chance, Tally())
        for layouts in (next(shaken) for _ in range(5)):
            for layout in layouts or ():
                columns.setdefault(tuple(layout.counts(len(parts))))
    bound = 0.0
    centre: Floats | None = None
    programme = math.inf
    while rounds:
        table = np.array(list(columns), dtype=float).T
        answer = linprog(
            np.ones(table.shape[1]), A_ub=-csc_array(table), b_ub=-demand, method="highs"
        )
        outer = np.maximum(-np.asarray(answer.ineqlin.marginals), 0.0)
        programme = float(answer.fun)
        if math.ceil(bound - 1e-6) >= math.ceil(programme - 1e-6):
            break
        rounds -= 1
        value = outer if centre is None else 0.5 * centre + 0.5 * outer
        best = _dearest(w, h, value, px, py, fx, fy)
        top = float(best[-1, -1])
        if float(value @ demand) / top > bound:
            bound, centre = float(value @ demand) / top, value / top
        columns.setdefault(tuple(_filling(w, h, value, px, py, fx, fy, best).tolist()))
    return bound, programme


def rows(full: bool, cal_seconds: float) -> list[dict[str, Any]]:
    """One row, in the full run: the furniture set's least number of sheets."""
    path = data_folder() / FILES["furniture"]
    if not full or not path.exists():
        return []
    instances = read_instances(path)
    total = 0
    told: list[str] = []
    hard = [each for each in instances if each.name in INSTANCES]
    with ProcessPoolExecutor(2, initializer=warm_up) as pool:
        found = dict(zip([h.name for h in hard], pool.map(least_sheets, hard), strict=True))
    for each in instances:
        parts = tuple(Part(max(w, h) * 1000, min(w, h) * 1000, w != h, q) for w, h, q in each.parts)
        stock = Stock(each.sheet[0] * 1000, each.sheet[1] * 1000, 1.0, 20_000)
        simple = sheets_bound(Problem(parts, (stock,)))
        better = math.ceil(found.get(each.name, (0.0, 0.0))[0] - 1e-6)
        total += max(simple, better)
        if better > simple:
            told.append(f"{each.name} {better}")
    return [
        {
            "name": "cutting.furniture_least",
            "value": total,
            "unit": "sheets",
            "reference": "no edge-to-edge nest takes fewer; raised by column generation: "
            + ", ".join(told),
        }
    ]


if __name__ == "__main__":
    import sys

    warm_up()
    for each in read_instances(data_folder() / FILES["furniture"]):
        if each.name in sys.argv[1:]:
            before = time.perf_counter()
            print(each.name, *least_sheets(each), time.perf_counter() - before, flush=True)
