"""One integer program over a whole shop: every hose, head and candidate at once.

Written apart from the search, which goes setup by setup: here HiGHS chooses the hoses and
their heads as well.

minimise   Σ weight·z + Σ price·bought + change·Σ borrowed + Σ head and hose weights
where      every tool takes one candidate z, of a hose (and head) in use;
           parts in use, less those borrowed, and one of each part that is shared, are
           owned or bought;
           a tool borrows only what it uses and what is shared.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

from kerfwind.hookup.candidates import Makings, find_candidates
from kerfwind.hookup.chains import Candidate
from kerfwind.hookup.part_costs import Task

Terms = list[tuple[int, float]]


def every_candidate(makings: Makings) -> list[Candidate]:
    """Every candidate of every route, to every head."""
    found = find_candidates(makings)
    tables = [found.whole(i) for i in range(len(found.places))]
    return [found.candidate(t, k) for t in tables for k in range(len(t))]


class _Rows:
    def __init__(self) -> None:
        self.cost: list[float] = []
        self.high: list[float] = []
        self.entries: list[tuple[int, int, float]] = []
        self.sides: list[tuple[float, float]] = []

    def variable(self, cost: float, high: float = 1.0) -> int:
        self.cost.append(cost)
        self.high.append(high)
        return len(self.cost) - 1

    def constraint(self, terms: Terms, low: float, high: float) -> None:
        self.entries += [(len(self.sides), col, value) for col, value in terms]
        self.sides.append((low, high))


def least_weight_by_highs(
    task: Task, candidates: Sequence[Candidate], forbid: Sequence[Candidate] = ()
) -> float:
    """Least weight of all answers, without those that take all of ``forbid``."""
    rows = _Rows()
    routes = task.routes
    z = [rows.variable(c.weight) for c in candidates]
    in_use = {h: rows.variable(task.hose_weight) for h in sorted({r.hose for r in routes})}
    worn = {key: rows.variable(w) for key, w in task.heads.items()}
    for group in task.demands:
        rows.constraint([(z[k], 1) for k, c in enumerate(candidates) if c.route in group], 1, 1)
    for route, hose in task.follows.items():
        terms: Terms = [(z[k], 1) for k, c in enumerate(candidates) if c.route == route]
        rows.constraint([*terms, (in_use[hose], -1)], 0, 0)
    for hose, col in in_use.items():
        on_it: Terms = [(v, 1) for (h, _), v in worn.items() if h == hose]
        rows.constraint([*on_it, (col, -1)], -np.inf, 0)
        for r, route in enumerate(routes):
            if route.tool and route.hose == hose:
                bare = [
                    (z[k], 1) for k, c in enumerate(candidates) if (c.route, c.head) == (r, None)
                ]
                rows.constraint([*bare, (col, -1), *on_it], -np.inf, 0)
    for (hose, head), col in worn.items():
        for r, route in enumerate(routes):
            if route.tool and route.hose == hose:
                ends = [
                    (z[k], 1) for k, c in enumerate(candidates) if (c.route, c.head) == (r, head)
                ]
                rows.constraint([*ends, (col, -1)], -np.inf, 0)
    _tie_parts(rows, task, candidates, z, worn)
    if forbid:
        same = [z[k] for k, c in enumerate(candidates) if c in forbid]
        rows.constraint([(col, 1) for col in same], -np.inf, len(forbid) - 1)
    row, col, value = zip(*rows.entries, strict=True)
    matrix = csr_array((value, (row, col)), shape=(len(rows.sides), len(rows.cost)))
    low, high = np.array(rows.sides).T
    result = milp(
        np.array(rows.cost),
        integrality=np.ones(len(rows.cost)),
        bounds=Bounds(0.0, np.array(rows.high)),
        constraints=LinearConstraint(matrix, low, high),
        options={"mip_rel_gap": 1e-9},
    )
    assert result.status == 0, result.message
    return float(result.fun)


def _tie_parts(
    rows: _Rows,
    task: Task,
    candidates: Sequence[Candidate],
    z: list[int],
    worn: dict[tuple[int, tuple[int, bool]], int],
) -> None:
    needs = [Counter(part for part, _ in c.pieces) for c in candidates]
    for part, kind in enumerate(task.parts):
        users = [k for k, n in enumerate(needs) if n[part]]
        supply: Terms = [(z[k], float(needs[k][part])) for k in users]
        supply += [(col, 1.0) for (_, head), col in worn.items() if head[0] == part]
        by_tool: dict[str, list[int]] = {}
        for k in users:
            if tool := task.routes[candidates[k].route].tool:
                by_tool.setdefault(tool, []).append(k)
        if len(by_tool) > 1:
            shared = rows.variable(0.0, 2.0)
            for ks in by_tool.values():
                borrowed = rows.variable(task.change, 2.0)
                uses: Terms = [(z[k], -float(needs[k][part])) for k in ks]
                rows.constraint([(borrowed, 1.0), *uses], -np.inf, 0)
                rows.constraint([(borrowed, 1.0), (shared, -1.0)], -np.inf, 0)
                supply.append((borrowed, -1.0))
            supply.append((shared, 1.0))
        if kind.price is not None:
            supply.append((rows.variable(kind.price, 1e4), -1.0))
        if supply:
            rows.constraint(supply, -np.inf, kind.owned)
