"""The long search: fewer or cheaper sheets, under a budget, the same for a seed.

Three things take turns. *Descent* gives up a sheet and tries to place its parts among
the others. *Patterns* builds many good fillings of a sheet against prices from a linear
programme (Gilmore and Gomory's column generation, with the greedy filler in place of an
exact one), and rounds the programme's answer to a nest for another descent. Then both
start again from other random numbers.

Effort is counted in places tried for a part, in thousands.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from .problem import Layout, Problem, Spot

if TYPE_CHECKING:
    from .kernels import Parts, Recipes, Room, Sheets

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]

_TRIES = 10
_CHUNK = 4_000
_UNIT = 1_000
_KEPT = 30


class LongSearch:
    """A search on one problem; ``run`` may be called again for more.

    ``offer`` is handed every nest as good as the best so far; ``go_on`` is asked now and
    then with the effort spent.
    """

    def __init__(
        self,
        problem: Problem,
        start: list[Layout],
        bound_cost: float,
        seed: int,
        offer: Callable[[list[Layout]], None],
        go_on: Callable[[int], bool],
    ) -> None:
        from . import kernels

        self._k: Any = kernels
        self.problem = problem
        self.best = start
        self.bound_cost = bound_cost
        self.offer = offer
        self.go_on = go_on
        self.stopped = False
        self._extra = 0
        self._halt = 0
        self._limit_price: dict[int, float] = {}
        parts, stocks = problem.parts, problem.stocks
        largest = max(s.area for s in stocks)
        self._demand = np.array([p.demand for p in parts], dtype=np.int64)
        self._parts: Parts = kernels.Parts(
            np.array([p.w for p in parts], dtype=np.int64),
            np.array([p.h for p in parts], dtype=np.int64),
            np.array([p.may_turn for p in parts], dtype=np.bool_),
            np.array([p.area / largest for p in parts]),
        )
        smallest = min(p.area for p in parts)
        self._cap = int(min(self._demand.sum(), largest // smallest)) + 2
        n, cap = len(parts), self._cap
        wide = cap + kernels.PRECUTS + 4
        state = np.array([(seed * 2654435761 + 88172645463325252) % 2**64], dtype=np.uint64)

        def ints(size: int) -> Ints:
            return np.zeros(size, dtype=np.int64)

        self._room: Room = kernels.Room(
            ints(cap),
            ints(cap),
            ints(cap),
            np.zeros(cap, dtype=np.bool_),
            ints(wide),
            ints(wide),
            ints(wide),
            ints(wide),
            np.zeros(n),
            ints(n),
            ints(n),
            ints(1),
            state,
        )
        for _ in range(10):
            kernels.chance(state)
        self._trial = self._recipes(2)
        self._kept = self._recipes(2)
        self._two = self._rows(2)

    @property
    def spent(self) -> int:
        """Effort so far."""
        return int(self._room.work[0]) // _UNIT + self._extra

    def _recipes(self, rows: int) -> Recipes:
        made: Recipes = self._k.Recipes(
            np.ones((rows, len(self._demand))),
            np.full((rows, self._cap), 2, dtype=np.int64),
            np.zeros((rows, self._k.PRECUTS), dtype=np.int64),
            np.full(rows, 0.3),
        )
        return made

    def _rows(self, rows: int) -> Sheets:
        made: Sheets = self._k.Sheets(
            *(np.zeros(rows, dtype=np.int64) for _ in range(3)),
            *(np.zeros((rows, self._cap), dtype=np.int64) for _ in range(3)),
            np.zeros((rows, self._cap), dtype=np.bool_),
        )
        return made

    def _layout(self, sheets: Sheets, row: int, stock: int) -> Layout:
        return Layout(
            stock,
            tuple(
                Spot(
                    int(sheets.part[row, j]),
                    int(sheets.x[row, j]),
                    int(sheets.y[row, j]),
                    bool(sheets.turned[row, j]),
                )
                for j in range(sheets.number[row])
            ),
        )

    def run(self, budget: int) -> None:
        """Search until ``budget`` is spent, a proof is found, or ``go_on`` says no."""
        self._halt = budget
        many = float(self._demand.mean()) >= 1.5
        rounds = 0
        start = self.best
        while not self._over():
            left = budget - self.spent
            share = left // (2 if rounds == 0 else 3) if many or left > 100_000 else left
            self._descend(start, self.spent + max(share, _CHUNK))
            if self._over():
                return
            start = (
                self._by_prices(self.spent + max((budget - self.spent) // 3, _CHUNK)) or self.best
            )
            rounds += 1

    def _over(self) -> bool:
        if self.problem.cost(self.best) <= self.bound_cost + 1e-9:
            return True
        if not self.stopped and not self.go_on(self.spent):
            self.stopped = True
        return self.stopped or self.spent >= self._halt

    def _keep(self, layouts: list[Layout]) -> None:
        layouts = [each for each in layouts if each.spots]
        if self.problem.cost(layouts) <= self.problem.cost(self.best) + 1e-9:
            self.best = layouts
            self.offer(layouts)

    def _descend(self, start: list[Layout], halt: int) -> None:
        """Give up sheets one after another, as long as their parts find a place."""
        problem = self.problem
        layouts = list(start)
        used = [sum(1 for each in layouts if each.stock == k) for k in range(len(problem.stocks))]
        for k, stock in enumerate(problem.stocks):
            if stock.price == 0:
                spare = min(stock.limit, 20) - used[k]
                layouts += [Layout(k, ())] * max(0, spare)
        options = self._ways_down(layouts)
        while options and not self._over() and self.spent < halt:
            left = min(halt, self._halt) - self.spent
            until = self.spent + max(left // len(options), _CHUNK)
            drop, swap = options.pop(0)
            found = self._without(layouts, drop, swap, min(until, halt))
            if found is not None:
                layouts = found
                self._keep(layouts)
                options = self._ways_down(layouts)

    def _ways_down(self, layouts: list[Layout]) -> list[tuple[int, int]]:
        """Cheaper sets of sheets, easiest first: a sheet to drop, a stock instead or -1."""
        problem = self.problem
        best = problem.cost(self.best)
        now = problem.cost(layouts)
        used = [sum(1 for each in layouts if each.stock == k) for k in range(len(problem.stocks))]
        filled = [sum(problem.parts[s.part].area for s in each.spots) for each in layouts]
        ways: list[tuple[float, int, int]] = []
        for k, stock in enumerate(problem.stocks):
            mine = [at for at, each in enumerate(layouts) if each.stock == k]
            if not mine or stock.price == 0:
                continue
            emptiest = min(mine, key=lambda at: filled[at])
            ways.append((stock.area, emptiest, -1))
            for other, smaller in enumerate(problem.stocks):
                if smaller.price < stock.price and used[other] < smaller.limit:
                    ways.append((stock.area - smaller.area, emptiest, other))
        good = [
            way
            for way in ways
            if now
            - problem.stocks[layouts[way[1]].stock].price
            + (problem.stocks[way[2]].price if way[2] >= 0 else 0.0)
            < best - 1e-9
            or now > best + 1e-9
        ]
        return [(drop, swap) for _, drop, swap in sorted(good)]

    def _without(
        self, layouts: list[Layout], drop: int, swap: int, halt: int
    ) -> list[Layout] | None:
        """The parts of all ``layouts`` without one sheet, or with a smaller one for it."""
        problem = self.problem
        keep = [each for at, each in enumerate(layouts) if at != drop]
        if swap >= 0:
            keep.append(Layout(swap, ()))
        if not keep:
            return None
        pool = np.array(layouts[drop].counts(len(problem.parts)), dtype=np.int64)
        sheets = self._rows(len(keep) + 2)
        recipes = self._recipes(len(keep))
        for row, each in enumerate(keep):
            sheets.w[row] = problem.stocks[each.stock].w
            sheets.h[row] = problem.stocks[each.stock].h
            sheets.number[row] = len(each.spots)
            for j, spot in enumerate(each.spots):
                sheets.part[row, j] = spot.part
                sheets.x[row, j] = spot.x
                sheets.y[row, j] = spot.y
                sheets.turned[row, j] = spot.turned
        weight = np.ones(len(problem.parts))
        while self.spent < halt:
            limit = self._room.work[0] + min(_CHUNK, halt - self.spent) * _UNIT
            done = self._k.improve(
                self._parts,
                sheets,
                recipes,
                len(keep),
                pool,
                weight,
                self._room,
                self._trial,
                self._kept,
                self._two,
                limit,
                _TRIES,
            )
            if done:
                return [self._layout(sheets, row, each.stock) for row, each in enumerate(keep)]
            if self._over():
                return None
        return None

    def patterns(self, halt: int) -> list[Layout]:
        """Good fillings of a sheet, as column generation meets them."""
        self._halt = halt
        return self._columns(halt)[0]

    def worth_more(self, value: Floats, stock: int, rounds: int) -> list[Layout]:
        """Fillings worth more than 1 at these prices of the parts; none where none is met."""
        found, worth, recipes = self._rows(_KEPT), np.zeros(_KEPT), self._recipes(_KEPT)
        sheet = self.problem.stocks[stock]
        have = self._k.patterns(
            self._parts,
            sheet.w,
            sheet.h,
            self._demand,
            value,
            1 + 1e-6,
            found,
            worth,
            recipes,
            self._trial,
            self._room,
            rounds,
        )
        return [self._layout(found, row, stock) for row in range(have) if worth[row] > 1 + 1e-6]

    def _by_prices(self, halt: int) -> list[Layout] | None:
        """A nest from column generation, rounded; None where that found none."""
        layouts, shares = self._columns(halt)
        return self._rounded(layouts, shares) if shares.size else None

    def _columns(self, halt: int) -> tuple[list[Layout], Floats]:
        """Fillings, and how often the linear programme takes the first of them."""
        from scipy.optimize import linprog
        from scipy.sparse import csc_array

        problem = self.problem
        n = len(problem.parts)
        limited = [k for k, s in enumerate(problem.stocks) if s.limit < self._demand.sum()]
        columns: dict[tuple[int, tuple[int, ...]], Layout] = {}

        def add(layout: Layout) -> bool:
            key = (layout.stock, tuple(layout.counts(n)))
            new = key not in columns
            columns.setdefault(key, layout)
            return new

        for layout in self.best:
            add(layout)
        found, worth, recipes = self._rows(_KEPT), np.zeros(_KEPT), self._recipes(_KEPT)
        value = self._parts.area.copy()
        shares: Floats = np.zeros(0)
        rounds = 3_000
        first = True
        while self.spent < halt and not self._over():
            new = 0
            for k, stock in enumerate(problem.stocks):
                least = 0.0 if first else stock.price + self._limit_price.get(k, 0.0) + 1e-6
                have = self._k.patterns(
                    self._parts,
                    stock.w,
                    stock.h,
                    self._demand,
                    value,
                    least,
                    found,
                    worth,
                    recipes,
                    self._trial,
                    self._room,
                    rounds,
                )
                for row in range(have):
                    if first or worth[row] > least:
                        new += add(self._layout(found, row, k))
            if not new and not first:
                if rounds > 20_000:
                    break
                rounds *= 2
                continue
            first = False
            layouts = list(columns.values())
            counts = np.array([key[1] for key in columns], dtype=float).T
            prices = np.array([max(problem.stocks[each.stock].price, 1e-6) for each in layouts])
            rows = [-counts]
            limits = [-self._demand.astype(float)]
            for k in limited:
                rows.append(np.array([[float(each.stock == k) for each in layouts]]))
                limits.append(np.array([float(problem.stocks[k].limit)]))
            answer = linprog(
                prices, A_ub=csc_array(np.vstack(rows)), b_ub=np.concatenate(limits), method="highs"
            )
            self._extra += counts.size // 20 + 300
            if not answer.success:
                break
            marginals = -np.asarray(answer.ineqlin.marginals)
            value = np.maximum(marginals[:n], 0.0)
            self._limit_price = dict(zip(limited, -marginals[n:], strict=True))
            shares = np.asarray(answer.x)
        return list(columns.values()), shares

    def _rounded(self, layouts: list[Layout], shares: Floats) -> list[Layout] | None:
        """Whole sheets of the programme's answer, then its largest fractions, then the rest."""
        from .first import RULES, Ranked, fill

        problem = self.problem
        left = problem.demand
        used = [0] * len(problem.stocks)
        made: list[Layout] = []

        def take(layout: Layout, least: float) -> bool:
            if used[layout.stock] >= problem.stocks[layout.stock].limit:
                return False
            kept: list[Spot] = []
            wanted = left.copy()
            for spot in layout.spots:
                if wanted[spot.part]:
                    wanted[spot.part] -= 1
                    kept.append(spot)
            if not kept or len(kept) < least * len(layout.spots):
                return False
            left[:] = wanted
            used[layout.stock] += 1
            made.append(Layout(layout.stock, tuple(kept)))
            return True

        order = sorted(range(len(shares)), key=lambda j: -(shares[j] % 1))
        for j, share in enumerate(shares):
            for _ in range(int(share + 1e-6)):
                take(layouts[j], 0.0)
        for j in order:
            if shares[j] % 1 > 0.3:
                take(layouts[j], 0.999)
        weights = [float(p.area) for p in problem.parts]
        onsale = sorted(
            range(len(problem.stocks)),
            key=lambda k: problem.stocks[k].price / problem.stocks[k].area,
        )
        while any(left):
            for k in onsale:
                stock = problem.stocks[k]
                if used[k] < stock.limit:
                    spots = fill(stock.w, stock.h, left, Ranked(problem.parts, weights), RULES[0])
                    if spots:
                        used[k] += 1
                        made.append(Layout(k, tuple(spots)))
                        break
            else:
                return None
        return made
