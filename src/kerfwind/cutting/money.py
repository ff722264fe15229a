"""The least money that any nest can cost, from prices of parts.

Give each part any price. No sheet of a kind can hold more of it than its dearest
edge-to-edge filling, so the sheets bought must together be able to hold the price of all
parts: a *demand* on the numbers of sheets. Many such demands, and the least total of whole
sheets that meets them all, make the bound. Good prices are those of the linear programme
over fillings (Gilmore and Gomory 1965); one demand alone is Farley's bound (1990).

The dearest filling is found exactly by dynamic programming over a grid. Rounding parts and
sheets down to the grid keeps every real filling possible, so what is found on a coarse
grid is never too small.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from .problem import Problem

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]

#: Lines of the grid along the longest sheet.
GRID = 480

#: The dynamic programme's steps that take a millisecond.
_STEPS = 500_000


@dataclass
class Demands:
    """What the sheets of each stock must come to: room in rows, and how much is wanted."""

    problem: Problem
    room: list[Floats] = field(default_factory=list)
    wanted: list[float] = field(default_factory=list)

    def __post_init__(self) -> None:
        parts, stocks = self.problem.parts, self.problem.stocks
        scale = max(s.area for s in stocks)
        self.add(
            np.array([s.area / scale for s in stocks]),
            sum(p.area / scale * p.demand for p in parts),
        )

    def add(self, room: Floats, wanted: float) -> None:
        """One more demand: what a sheet of each stock can hold, and what there is to hold."""
        self.room.append(room)
        self.wanted.append(wanted)

    def sheets(self, fewest: int) -> None:
        """At least so many sheets are to be bought."""
        self.add(np.array([float(not s.offcut) for s in self.problem.stocks]), float(fewest))

    def met(self, counts: NDArray[Any]) -> bool:
        """Whether so many sheets of each stock meet every demand."""
        return all(
            float(room @ counts) >= wanted - 1e-7 * max(1.0, wanted)
            for room, wanted in zip(self.room, self.wanted, strict=True)
        )

    def least(self) -> float | None:
        """Least money for whole sheets that meet all demands; None where none do."""
        from scipy.optimize import Bounds, LinearConstraint, milp

        stocks = self.problem.stocks
        price = np.array([s.price for s in stocks])
        wanted = np.array(self.wanted)
        found = milp(
            price,
            constraints=LinearConstraint(
                np.array(self.room), wanted - 1e-7 * np.maximum(1.0, wanted), np.inf
            ),
            integrality=np.ones(len(stocks)),
            bounds=Bounds(0, np.array([float(s.limit) for s in stocks])),
            options={"node_limit": 2_000, "mip_rel_gap": 0.0},
        )
        if found.status == 2:
            return None
        if found.mip_dual_bound is None:
            return 0.0
        return float(found.mip_dual_bound)


class Dearest:
    """Dearest fillings of every stock of a problem, for any prices of the parts."""

    def __init__(self, problem: Problem, kernels: Any) -> None:
        self._k = kernels
        self.problem = problem
        widest = max(max(s.w, s.h) for s in problem.stocks)
        self._step = step = max(1, -(-widest // GRID))
        parts = problem.parts
        self._w = np.array([p.w // step for p in parts], dtype=np.int64)
        self._h = np.array([p.h // step for p in parts], dtype=np.int64)
        self._turn = np.array([p.may_turn for p in parts], dtype=np.bool_)
        demand = np.array([p.demand for p in parts], dtype=np.int64)
        turned = np.where(self._turn, demand, 0)
        most_x, most_y = (
            max(side) // step for side in zip(*((s.w, s.h) for s in problem.stocks), strict=True)
        )
        self._px, self._fx = self._points(
            most_x, np.concatenate([self._w, self._h]), np.concatenate([demand, turned])
        )
        self._py, self._fy = self._points(
            most_y, np.concatenate([self._h, self._w]), np.concatenate([demand, turned])
        )
        nx, ny = len(self._px), len(self._py)
        #: Whether the grid is fine enough to tell every part from nothing.
        self.fine = bool(self._w.min() > 0 and self._h.min() > 0)
        #: What one look costs [ms].
        self.cost = nx * ny * (nx + ny) / 4 / _STEPS + 1.0

    def _points(self, most: int, sides: Ints, often: Ints) -> tuple[Ints, Ints]:
        can = self._k.reachable(most, sides, often)
        points = np.flatnonzero(can).astype(np.int64)
        below = np.searchsorted(points, np.arange(most + 1), side="right") - 1
        return points, below.astype(np.int64)

    def tables(self, value: Floats) -> Floats:
        """Value of the dearest filling of every rectangle of the grid."""
        made: Floats = self._k.dearest(
            self._w, self._h, self._turn, value, self._px, self._py, self._fx, self._fy
        )
        return made

    def room(self, table: Floats) -> Floats:
        """The most that a sheet of each stock can hold."""
        return np.array(
            [
                table[self._fx[s.w // self._step], self._fy[s.h // self._step]]
                for s in self.problem.stocks
            ]
        )

    def filling(self, table: Floats, value: Floats, stock: int) -> Ints:
        """How many of each part the dearest filling of a stock holds."""
        sheet = self.problem.stocks[stock]
        px, py, fx, fy = self._px, self._py, self._fx, self._fy
        count = np.zeros(len(value), dtype=np.int64)
        stack = [(int(fx[sheet.w // self._step]), int(fy[sheet.h // self._step]))]
        close = 1e-11 * max(1.0, float(table.max()))
        while stack:
            x, y = stack.pop()
            v = table[x, y]
            if v <= close:
                continue
            if x and abs(table[x - 1, y] - v) < close:
                stack.append((x - 1, y))
                continue
            if y and abs(table[x, y - 1] - v) < close:
                stack.append((x, y - 1))
                continue
            fits = (self._w <= px[x]) & (self._h <= py[y])
            fits |= self._turn & (self._h <= px[x]) & (self._w <= py[y])
            exact = np.flatnonzero(fits & (np.abs(value - v) < close))
            if len(exact):
                count[exact[0]] += 1
                continue
            k = np.arange(1, x)
            pair = np.flatnonzero(np.abs(table[k, y] + table[fx[px[x] - px[k]], y] - v) < close)
            if len(pair):
                at = int(k[pair[0]])
                stack += [(at, y), (int(fx[px[x] - px[at]]), y)]
                continue
            k = np.arange(1, y)
            pair = np.flatnonzero(np.abs(table[x, k] + table[x, fy[py[y] - py[k]]] - v) < close)
            if not len(pair):
                continue
            at = int(k[pair[0]])
            stack += [(x, at), (x, int(fy[py[y] - py[at]]))]
        return count


class Bounder:
    """Raises the demands on the sheets, one set of prices after another."""

    def __init__(self, demands: Demands, kernels: Any) -> None:
        self._demands = demands
        self.problem = demands.problem
        self._dearest = Dearest(self.problem, kernels)
        self._wanted = np.array(self.problem.demand, dtype=float)
        self._known: dict[tuple[int, tuple[int, ...]], None] = {}
        self._best = 0.0
        self._centre: Floats | None = None
        self._price = np.array([s.price for s in self.problem.stocks])
        self._limit = np.array([float(s.limit) for s in self.problem.stocks])
        #: Prices can raise the bound no more.
        self.done = not self._dearest.fine
        for k, stock in enumerate(self.problem.stocks):
            for i, part in enumerate(self.problem.parts):
                if part.fits(stock.w, stock.h):
                    self.know(k, [int(i == j) for j in range(len(self.problem.parts))])

    def know(self, stock: int, counts: list[int]) -> bool:
        """A filling that prices have to allow for; whether it is new."""
        key = (stock, tuple(counts))
        new = key not in self._known
        self._known[key] = None
        return new

    def step(self) -> float:
        """One set of prices; the effort it took."""
        answer = self._prices()
        if answer is None:
            self.done = True
            return 1.0
        programme, value, limit_price, effort = answer
        plain = self._centre is None
        tried = value if self._centre is None else 0.6 * self._centre + 0.4 * value
        dearest = self._dearest
        table = dearest.tables(tried)
        room = dearest.room(table)
        wanted = float(tried @ self._wanted)
        self._demands.add(room, wanted)
        fresh = False
        for k in range(len(self._price)):
            counts = dearest.filling(table, tried, k)
            if float(counts @ value) > self._price[k] + limit_price[k] + 1e-7:
                fresh |= self.know(k, [int(c) for c in counts])
        alone = self._alone(room, wanted)
        if alone > self._best:
            self._best, self._centre = alone, tried
        elif not fresh:
            self._centre = None
        self.done = programme <= self._best * (1 + 5e-4) or (plain and not fresh)
        return effort + dearest.cost

    def _prices(self) -> tuple[float, Floats, Floats, float] | None:
        """Prices of the parts at which no known filling is worth more than its sheet."""
        from scipy.optimize import linprog
        from scipy.sparse import csc_array

        n, stocks = len(self._wanted), len(self._price)
        of = np.array([key[0] for key in self._known])
        rows = np.zeros((len(of), n + stocks))
        rows[:, :n] = np.array([key[1] for key in self._known], dtype=float)
        rows[np.arange(len(of)), n + of] = -1.0
        limited = self._limit < self._wanted.sum()
        dear = 1_000 * max(1e-3, float(self._price.max()))
        answer = linprog(
            np.concatenate([-self._wanted, np.where(limited, self._limit, 0.0)]),
            A_ub=csc_array(rows),
            b_ub=self._price[of],
            bounds=[(0.0, dear)] * n + [(0.0, dear if x else 0.0) for x in limited],
            method="highs",
        )
        if not answer.success:
            return None
        x = np.asarray(answer.x)
        return -float(answer.fun), x[:n], x[n:], 2.0 + rows.size / 3_000

    def _alone(self, room: Floats, wanted: float) -> float:
        """Least money by one demand alone, sheets not whole."""
        total = 0.0
        rate = self._price / np.maximum(room, 1e-12)
        for k in np.argsort(rate, kind="stable"):
            if wanted <= 0:
                break
            number = min(float(self._limit[k]), wanted / max(float(room[k]), 1e-12))
            total += number * float(self._price[k])
            wanted -= number * float(room[k])
        return total if wanted <= 1e-9 else float("inf")
