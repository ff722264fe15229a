"""The integer program over all routes together, solved by HiGHS.

minimise   Σ weight·z + Σ price·bought + change·Σ borrowed + Σ head and hose weights
where      every route takes one column z of a hose (and head) in use;
           parts in chosen columns, less those borrowed, and one of each part that
           is shared, are owned or bought;
           a tool borrows only what it uses and what is shared.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from .chains import Column
from .columns import Head
from .ends import Floats
from .settling import Choice, Settler, Task


@dataclass
class _Rows:
    """Sparse rows of a program as they are written."""

    cost: list[float] = field(default_factory=list)
    whole: list[int] = field(default_factory=list)
    high: list[float] = field(default_factory=list)
    row: list[int] = field(default_factory=list)
    col: list[int] = field(default_factory=list)
    value: list[float] = field(default_factory=list)
    low_side: list[float] = field(default_factory=list)
    high_side: list[float] = field(default_factory=list)

    def variable(self, cost: float, high: float = 1.0, *, whole: bool = True) -> int:
        self.cost.append(cost)
        self.whole.append(int(whole))
        self.high.append(high)
        return len(self.cost) - 1

    def constraint(self, terms: Sequence[tuple[int, float]], low: float, high: float) -> None:
        here = len(self.low_side)
        for col, value in terms:
            self.row.append(here)
            self.col.append(col)
            self.value.append(value)
        self.low_side.append(low)
        self.high_side.append(high)


@dataclass
class _Program:
    """The rows, and where the variables stand."""

    rows: _Rows
    z: dict[int, int]
    v: dict[tuple[int, Head], int]


def _write(task: Task, among: Sequence[int] | None = None) -> _Program:
    rows = _Rows()
    numbers = range(len(task.columns.columns)) if among is None else sorted(among)
    columns = {k: task.columns.columns[k] for k in numbers}
    z = {k: rows.variable(c.weight) for k, c in columns.items()}
    hoses = sorted({r.hose for r in task.routes})
    u = {h: rows.variable(task.hose_weight) for h in hoses}
    worn = {(task.routes[c.route].hose, c.head) for c in columns.values() if c.head is not None}
    v = {key: rows.variable(w) for key, w in task.columns.heads.items() if key in worn}
    by_route: dict[int, list[int]] = {}
    for k, column in columns.items():
        by_route.setdefault(column.route, []).append(k)
    for group in task.demands:
        rows.constraint([(z[k], 1.0) for r in group for k in by_route.get(r, [])], 1, 1)
    for route, hose in task.follows.items():
        terms = [(z[k], 1.0) for k in by_route.get(route, [])]
        rows.constraint([*terms, (u[hose], -1.0)], 0, 0)
    program = _Program(rows, z, v)
    _tie_heads(rows, task, columns, z, u, v)
    _tie_parts(program, task, columns)
    return program


def solve(
    task: Task,
    *,
    among: Sequence[int] | None = None,
    forbid: Sequence[tuple[int, ...]] = (),
    time_s: float | None = None,
) -> Choice | None:
    """The best choice, or None where some demand cannot be met.

    Parameters
    ----------
    among
        The columns to choose from; all by default.
    forbid
        Sets of columns that may not all be taken again (for the runner-up).
    time_s
        Stop after this long; ``bound`` then tells the gap.
    """
    program = _write(task, among)
    z, v = program.z, program.v
    for taken in forbid:
        terms = [(z[k], 1.0) for k in taken if k in z]
        program.rows.constraint(terms, -np.inf, len(taken) - 1)
    answer = _highs(program.rows, time_s)
    if answer is None:
        return None
    x, _, bound = answer
    taken = tuple(k for k, col in z.items() if x[col] > 0.5)
    heads = {hose: head for (hose, head), col in v.items() if x[col] > 0.5}
    return Settler(task).settle(taken, heads, bound)


def _tie_heads(
    rows: _Rows,
    task: Task,
    columns: dict[int, Column],
    z: dict[int, int],
    u: dict[int, int],
    v: dict[tuple[int, Head], int],
) -> None:
    """A tool's column needs its hose in use, bare or with the column's own head on it."""
    groups: dict[tuple[int, int, Head | None], list[int]] = {}
    for k, column in columns.items():
        route = task.routes[column.route]
        if route.tool:
            groups.setdefault((column.route, route.hose, column.head), []).append(k)
    for (_, hose, head), ks in groups.items():
        terms = [(z[k], 1.0) for k in ks]
        if head is not None:
            rows.constraint([*terms, (v[(hose, head)], -1.0)], -np.inf, 0)
        else:
            on_it = [(col, 1.0) for (h, _), col in v.items() if h == hose]
            rows.constraint([*terms, (u[hose], -1.0), *on_it], -np.inf, 0)
    for hose, col in u.items():
        on_it = [(c, 1.0) for (h, _), c in v.items() if h == hose]
        if on_it:
            rows.constraint([*on_it, (col, -1.0)], -np.inf, 0)


def _tie_parts(program: _Program, task: Task, columns: dict[int, Column]) -> None:
    """Parts in use, less those borrowed, and those shared, are owned or bought."""
    rows, z, v = program.rows, program.z, program.v
    needs = {k: Counter(part for part, _ in c.pieces) for k, c in columns.items()}
    users: dict[int, list[int]] = {}
    for k, n in needs.items():
        for part in n:
            users.setdefault(part, []).append(k)
    for part in sorted({*users, *(head[0] for _, head in v)}):
        kind, ks = task.parts[part], users.get(part, [])
        supply: list[tuple[int, float]] = [(z[k], float(needs[k][part])) for k in ks]
        supply += [(col, 1.0) for (_, head), col in v.items() if head[0] == part]
        by_user: dict[int, list[int]] = {}
        for k in ks:
            if task.routes[columns[k].route].tool:
                by_user.setdefault(columns[k].route, []).append(k)
        # A tool's route by another hose is the same tool: no one lends to himself.
        if len({task.routes[r].tool for r in by_user}) > 1:
            shared = rows.variable(0.0, float(max(needs[k][part] for k in ks)))
            for mine in by_user.values():
                # With columns and shared parts whole, what is lent and bought comes out so.
                most = float(max(needs[k][part] for k in mine))
                col = rows.variable(task.change, most, whole=False)
                terms = [(z[k], -float(needs[k][part])) for k in mine]
                rows.constraint([(col, 1.0), *terms], -np.inf, 0)
                rows.constraint([(col, 1.0), (shared, -1.0)], -np.inf, 0)
                supply.append((col, -1.0))
            supply.append((shared, 1.0))
        if kind.price is not None:
            bought = rows.variable(kind.price, float(len(ks) + len(task.routes)), whole=False)
            supply.append((bought, -1.0))
        rows.constraint(supply, -np.inf, kind.owned)


def _highs(rows: _Rows, time_s: float | None) -> tuple[Floats, float, float] | None:
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array

    shape = (len(rows.low_side), len(rows.cost))
    matrix = csr_array((rows.value, (rows.row, rows.col)), shape=shape)
    result = milp(
        np.array(rows.cost),
        integrality=np.array(rows.whole),
        bounds=Bounds(0.0, np.array(rows.high)),
        constraints=LinearConstraint(matrix, np.array(rows.low_side), np.array(rows.high_side)),
        options={"mip_rel_gap": 1e-7, "time_limit": np.inf if time_s is None else time_s},
    )
    if result.x is None:
        return None
    bound = result.mip_dual_bound if result.mip_dual_bound is not None else result.fun
    return np.asarray(result.x), float(result.fun), float(min(bound, result.fun))
