"""The least money that any nest can cost, from prices of parts.

Give each part any price. No sheet of a kind can hold more of it than its dearest
edge-to-edge filling, so the sheets bought must together be able to hold the price of all
parts: a *demand* on the numbers of sheets. Many such demands, and the least total of whole
sheets that meets them all, make the bound. Good prices are those of the linear programme
over fillings (Gilmore and Gomory 1965); one demand alone is Farley's bound (1990).

The dearest filling is found exactly by dynamic programming over a grid. Rounding parts and
sheets down to the grid keeps every real filling possible, so what is found on a coarse
grid is never too small. The lines of a grid lie where that loses least.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from .problem import Problem

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]

#: Lines of the grid along the longest sheet, at most.
GRID = 900

#: The dynamic programme's steps that take a millisecond.
_STEPS = 3_000_000

#: What a whole sheet can be worth in whole numbers: two still add up in 32 bits.
_DEAREST = 2**29


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
        found = self._cheapest()
        if found.status == 2:
            return None
        if found.mip_dual_bound is None:
            return 0.0
        return float(found.mip_dual_bound)

    def cheapest(self) -> Floats | None:
        """The cheapest whole sheets of each stock that meet all demands, as far as is known."""
        found = self._cheapest()
        return None if found.x is None or found.status != 0 else np.rint(found.x)

    def _cheapest(self) -> Any:
        from scipy.optimize import Bounds, LinearConstraint, milp

        stocks = self.problem.stocks
        wanted = np.array(self.wanted)
        return milp(
            np.array([s.price for s in stocks]),
            constraints=LinearConstraint(
                np.array(self.room), wanted - 1e-7 * np.maximum(1.0, wanted), np.inf
            ),
            integrality=np.ones(len(stocks)),
            bounds=Bounds(0, np.array([float(s.limit) for s in stocks])),
            options={"node_limit": 2_000, "mip_rel_gap": 0.0},
        )


class Dearest:
    """Dearest fillings of every stock of a problem, for any prices of the parts."""

    def __init__(self, problem: Problem, kernels: Any) -> None:
        self._k = kernels
        self.problem = problem
        parts, stocks = problem.parts, problem.stocks
        w = np.array([p.w for p in parts], dtype=np.int64)
        h = np.array([p.h for p in parts], dtype=np.int64)
        self._turn = np.array([p.may_turn for p in parts], dtype=np.bool_)
        demand = np.array(problem.demand, dtype=float)
        across, along = np.array([s.w for s in stocks]), np.array([s.h for s in stocks])
        longest = int(max(across.max(), along.max()))
        turned = np.where(self._turn, demand, 0.0)
        step_x = _step(longest, np.concatenate([w, h]), np.concatenate([demand, turned]), across)
        step_y = _step(longest, np.concatenate([h, w]), np.concatenate([demand, turned]), along)
        self._sides = (w // step_x, w // step_y, h // step_x, h // step_y)
        self._across, self._along = across // step_x, along // step_y
        nx, ny = self._most = int(self._across.max()), int(self._along.max())
        #: Whether the grid is fine enough to tell every part from nothing.
        self.fine = all(bool(side.min() > 0) for side in self._sides)
        #: What one look costs [ms].
        self.cost = nx * ny * (nx + ny) / 4 / _STEPS + 1.0

    def priced(self, value: Floats) -> Ints:
        """Prices in whole numbers, as dear as the grid can add up."""
        w, _, _, h = self._sides
        cells = self._most[0] * self._most[1]
        dearest = float((value / (w * h)).max()) * cells
        made: Ints = np.rint(value * (_DEAREST / max(dearest, 1e-300))).astype(np.int64)
        return made

    def tables(self, value: Ints) -> NDArray[np.int32]:
        """Value of the dearest filling of every rectangle of the grid, by height and width."""
        made: NDArray[np.int32] = self._k.dearest(*self._sides, self._turn, value, *self._most)
        return made

    def room(self, table: NDArray[np.int32]) -> Floats:
        """The most that a sheet of each stock can hold."""
        held: Floats = table[self._along, self._across].astype(float)
        return held

    def filling(self, table: NDArray[np.int32], value: Ints, stock: int) -> Ints:
        """How many of each part the dearest filling of a stock holds."""
        wx, wy, hx, hy = self._sides
        count = np.zeros(len(value), dtype=np.int64)
        stack = [(int(self._across[stock]), int(self._along[stock]))]
        while stack:
            x, y = stack.pop()
            v = table[y, x]
            if not v:
                continue
            if table[y, x - 1] == v:
                stack.append((x - 1, y))
                continue
            if table[y - 1, x] == v:
                stack.append((x, y - 1))
                continue
            fits = (wx <= x) & (hy <= y) | self._turn & (hx <= x) & (wy <= y)
            exact = np.flatnonzero(fits & (value == v))
            if len(exact):
                count[exact[0]] += 1
                continue
            pair = np.flatnonzero(table[y, 1:x] + table[y, x - 1 : 0 : -1] == v)
            if len(pair):
                at = int(pair[0]) + 1
                stack += [(at, y), (x - at, y)]
                continue
            at = int(np.flatnonzero(table[1:y, x] + table[y - 1 : 0 : -1, x] == v)[0]) + 1
            stack += [(x, at), (x, y - at)]
        return count


def _step(longest: int, sides: Ints, often: Floats, sheets: Ints) -> int:
    """The width of a grid's lines that loses least of the parts, in so many lines or fewer.

    What sheets lose by rounding down counts as a gain: the bound is the tighter for it.
    """
    best, chosen = 0.0, longest
    for lines in range(GRID * 2 // 3, GRID + 1, 4):
        step = -(-longest // lines)
        kept = float((sides // step * step / sides) @ often)
        room = float((sheets // step * step / sheets).mean())
        if room and kept / room > best:
            best, chosen = kept / room, step
    return chosen


class Bounder:
    """Raises the demands on the sheets, one set of prices after another.

    First prices are those of the linear programme for the least money. Then the cheapest whole
    sheets that meet all demands so far are taken, and prices at which they could not hold all
    the parts are looked for (as in Benders 1962), until there are none.
    """

    def __init__(self, demands: Demands, kernels: Any) -> None:
        self._demands = demands
        self.problem = demands.problem
        self._dearest = Dearest(self.problem, kernels)
        self._wanted = np.array(self.problem.demand, dtype=float)
        self._known: dict[tuple[int, tuple[int, ...]], None] = {}
        self._best = 0.0
        self._centre: Floats | None = None
        self._aim: Floats | None = None
        self._aiming = False
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
        return self._aimed() if self._aiming else self._cheapest()

    def _cheapest(self) -> float:
        """Prices of the programme for the least money."""
        answer = self._prices()
        if answer is None:
            self.done = True
            return 1.0
        programme, value, most, effort = answer
        plain = self._centre is None
        tried = value if self._centre is None else 0.6 * self._centre + 0.4 * value
        room, wanted, fresh = self._look(tried, value, most)
        alone = self._alone(room, wanted)
        if alone > self._best:
            self._best, self._centre = alone, tried
        elif not fresh:
            self._centre = None
        if programme <= self._best * (1 + 5e-4) or (plain and not fresh):
            self._aiming, self._centre = True, None
        return effort + self._dearest.cost

    def _aimed(self) -> float:
        """Prices at which the cheapest sheets that are still possible hold too little."""
        effort = 0.0
        if self._aim is None or not self._demands.met(self._aim):
            self._aim, self._best, self._centre = self._demands.cheapest(), math.inf, None
            effort += 5.0
            if self._aim is None:
                self.done = True
                return effort
        answer = self._too_small(self._aim)
        if answer is None:
            self.done = True
            return effort + 1.0
        value, most, more = answer
        plain = self._centre is None
        tried = value if self._centre is None else 0.5 * self._centre + 0.5 * value
        room, wanted, fresh = self._look(tried, value, most)
        held = float(room @ self._aim) / wanted
        if held < self._best:
            self._best, self._centre = held, tried
        elif not fresh:
            self._centre = None
        self.done = plain and not fresh and held >= 1.0
        return effort + more + self._dearest.cost

    def _look(self, tried: Floats, value: Floats, most: Floats) -> tuple[Floats, float, bool]:
        """A demand from some prices: room in each stock, what is wanted, whether more is known.

        Fillings worth more than ``most`` at the programme's own prices ``value`` are known then.
        """
        dearest = self._dearest
        priced = dearest.priced(tried)
        table = dearest.tables(priced)
        room = dearest.room(table)
        wanted = float(priced @ self._wanted)
        self._demands.add(room / wanted, 1.0)
        fresh = False
        for k in range(len(self._price)):
            counts = dearest.filling(table, priced, k)
            if float(counts @ value) > most[k] + 1e-7 * max(1.0, abs(most[k])):
                fresh |= self.know(k, [int(c) for c in counts])
        return room, wanted, fresh

    def _rows(self) -> tuple[Ints, Floats]:
        """Of each known filling its stock, and what its parts are worth less its stock's room."""
        n, stocks = len(self._wanted), len(self._price)
        of = np.array([key[0] for key in self._known])
        rows = np.zeros((len(of), n + stocks))
        rows[:, :n] = np.array([key[1] for key in self._known], dtype=float)
        rows[np.arange(len(of)), n + of] = -1.0
        return of, rows

    def _prices(self) -> tuple[float, Floats, Floats, float] | None:
        """Prices of the parts at which no known filling is worth more than its sheet."""
        from scipy.optimize import linprog
        from scipy.sparse import csc_array

        n = len(self._wanted)
        of, rows = self._rows()
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
        return -float(answer.fun), x[:n], self._price + x[n:], 2.0 + rows.size / 3_000

    def _too_small(self, counts: Floats) -> tuple[Floats, Floats, float] | None:
        """Prices at which so many sheets of each stock hold less than all the parts are worth.

        With the worth of the dearest known filling of each stock; None where there are none.
        """
        from scipy.optimize import linprog
        from scipy.sparse import csc_array

        n, stocks = len(self._wanted), len(self._price)
        of, rows = self._rows()
        answer = linprog(
            np.concatenate([np.zeros(n), counts]),
            A_ub=csc_array(rows),
            b_ub=np.zeros(len(of)),
            A_eq=np.concatenate([self._wanted, np.zeros(stocks)])[None, :],
            b_eq=[1.0],
            # Of a stock that is not taken a sheet may hold anything, but not without end.
            bounds=[(0.0, None)] * n + [(0.0, 10.0)] * stocks,
            method="highs",
        )
        if not answer.success or answer.fun > 1 - 1e-6:
            return None
        x = np.asarray(answer.x)
        return x[:n], x[n:], 2.0 + rows.size / 3_000

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
