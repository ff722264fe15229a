"""The long search: fewer or cheaper sheets, under a budget, the same for a seed.

Three things take turns, each for longer from round to round. *Descent* aims at a cheaper
set of sheets - one less, one smaller, two small ones for a large one or the other way - and
tries to place what lay on the sheets given up. *Fillings* builds many good fillings of each
kind of sheet against prices from a linear programme (Gilmore and Gomory's column
generation, with the greedy filler in place of an exact one), and chooses the cheapest whole
set of them. *Bound* finds the dearest filling exactly at these prices, and so what every
nest must cost.

What is done does not depend on the budget, which only ends it: more effort never finds
less. Effort is counted in places looked at, so many of which take about a millisecond.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from .money import Bounder, Demands
from .problem import Layout, Problem, Spot

if TYPE_CHECKING:
    from .kernels import Parts, Recipes, Room, Sheets

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]

_TRIES = 10
_CHUNK = 45
#: Places looked at in a millisecond or so.
_UNIT = 90_000
_KEPT = 30
#: Effort of the first round's descent and fillings; each round takes so many times more.
_FIRST_ROUND = 150
_GROWTH = 1.6
#: Fillings among which the cheapest whole set is chosen.
_MOST_FILLINGS = 1_500
#: Whole sets that are put together of them.
_SHAKEN = 60
#: Fillings among which the cheapest whole set is looked for with care.
_MOST_PICKED = 400
#: Times that it is looked for, in another order each time, and fillings' parts that are looked
#: at in a millisecond.
_TURNS = 6
_LOOKS = 3_000_000
#: Cheaper sets of sheets that are tried one after another.
_MOST_AIMS = 12

#: A cheaper set of sheets to aim at: sheets to give up, and stocks to take instead.
_Aim = tuple[tuple[int, ...], tuple[int, ...]]


class LongSearch:
    """A search on one problem; ``run`` may be called again for more.

    ``offer`` is handed every nest as good as the best so far; ``go_on`` is asked now and
    then with the effort spent. ``bound_cost`` grows as more is proven, where ``bounds`` asks
    for it.
    """

    def __init__(
        self,
        problem: Problem,
        start: list[Layout],
        demands: Demands,
        bound_cost: float,
        seed: int,
        offer: Callable[[list[Layout]], None],
        go_on: Callable[[int], bool],
        *,
        bounds: bool = True,
    ) -> None:
        from . import kernels

        self._k: Any = kernels
        self.problem = problem
        self.best = start
        self.demands = demands
        self.bound_cost = bound_cost
        self.offer = offer
        self.go_on = go_on
        self.stopped = False
        self._extra = 0.0
        self._halt = 0.0
        self._limit_price: dict[int, float] = {}
        self._bounder: Bounder | None = None
        self._fillings: dict[tuple[int, tuple[int, ...]], Layout] = {}
        self._value: Floats = np.zeros(0)
        self._share = float(_FIRST_ROUND)
        self._rounds = 0
        self._start: list[Layout] | None = None
        self._bounds = bounds
        parts, stocks = problem.parts, problem.stocks
        largest = max(s.area for s in stocks)
        self._demand = np.array([p.demand for p in parts], dtype=np.int64)
        self._parts: Parts = kernels.Parts(
            np.array([p.w for p in parts], dtype=np.int64),
            np.array([p.h for p in parts], dtype=np.int64),
            np.array([p.may_turn for p in parts], dtype=np.bool_),
            np.array([p.area / largest for p in parts]),
            problem.spare,
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
            np.zeros(wide, dtype=np.bool_),
            np.zeros(wide, dtype=np.bool_),
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
        return int(self._room.work[0] / _UNIT + self._extra)

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
            *(np.zeros(rows, dtype=np.int64) for _ in range(2)),
            np.ones(rows, dtype=np.bool_),
            np.zeros(rows, dtype=np.int64),
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

    def _sides(self, stock: int) -> tuple[int, int, bool]:
        """What there is to fill of a stock, its edges to saw off with it."""
        sheet = self.problem.stocks[stock]
        edge = min(sheet.edge, self.problem.spare)
        return sheet.w + edge, sheet.h + edge, edge == 0

    def adopt(self, layouts: list[Layout], bound_cost: float) -> None:
        """Take over what another search has found and proven."""
        self.bound_cost = max(self.bound_cost, bound_cost)
        if not self.best or self.problem.cost(layouts) < self.problem.cost(self.best) - 1e-9:
            self.best = layouts

    def begin(self, halt: float) -> None:
        """Set how much effort may be spent in all."""
        self._halt = halt

    def run(self, budget: float) -> None:
        """Search until ``budget`` is spent, a proof is found, or ``go_on`` says no."""
        self._halt = budget
        several = len(self.problem.stocks) > 1
        many = several or float(self._demand.mean()) >= 1.5
        while not self._over():
            if several and self._rounds == 0:
                self._start = self._by_prices(self.spent + self._share)
            if self._bounds and (several or self._rounds > 2):
                self._bounded(self.spent + self._share * 1.5)
            self._descend(self._start or self.best, self.spent + 2 * self._share)
            if self._over():
                return
            self._start = None
            if many or self._rounds > 3:
                self._start = self._by_prices(self.spent + self._share * 0.7)
            self._share *= _GROWTH
            self._rounds += 1

    def _over(self) -> bool:
        if self.best and self.problem.cost(self.best) <= self.bound_cost + 1e-9:
            return True
        if not self.stopped and not self.go_on(self.spent):
            self.stopped = True
        return self.stopped or self.spent >= self._halt

    def _keep(self, layouts: list[Layout]) -> None:
        layouts = [each for each in layouts if each.spots]
        if self.problem.cost(layouts) <= self.problem.cost(self.best) + 1e-9:
            self.best = layouts
            self.offer(layouts)

    def _descend(self, start: list[Layout], halt: float) -> None:
        """Take cheaper sets of sheets one after another, as long as all parts find a place."""
        problem = self.problem
        layouts = list(start)
        used = [sum(1 for each in layouts if each.stock == k) for k in range(len(problem.stocks))]
        for k, stock in enumerate(problem.stocks):
            if stock.price == 0:
                spare = min(stock.limit, 20) - used[k]
                layouts += [Layout(k, ())] * max(0, spare)
        aims = self._ways_down(layouts)
        while aims and not self._over() and self.spent < halt:
            # The roomiest are the likeliest to hold all: they get most of the time.
            share = (halt - self.spent) / min(len(aims), 3)
            until = self.spent + max(share, _CHUNK)
            drop, take = aims.pop(0)
            found = self._without(layouts, drop, take, min(until, halt))
            if found is not None:
                layouts = found
                self._keep(layouts)
                aims = self._ways_down(layouts)

    def _ways_down(self, layouts: list[Layout]) -> list[_Aim]:
        """Cheaper sets of sheets, roomiest first, that every demand allows."""
        problem = self.problem
        stocks = problem.stocks
        best = problem.cost(self.best)
        now = problem.cost(layouts)
        used = np.zeros(len(stocks))
        for each in layouts:
            used[each.stock] += 1
        filled = [sum(problem.parts[s.part].area for s in each.spots) for each in layouts]
        emptiest: dict[int, list[int]] = {}
        for at in sorted(range(len(layouts)), key=lambda at: filled[at]):
            emptiest.setdefault(layouts[at].stock, []).append(at)
        mine = [k for k in emptiest if stocks[k].price > 0]
        gone: list[tuple[int, ...]] = [(k,) for k in mine]
        gone += [(k, j) for n, k in enumerate(mine) for j in mine[n:] if k != j or used[k] > 1]
        onsale = [k for k, s in enumerate(stocks) if s.price > 0]
        come: list[tuple[int, ...]] = [(), *((k,) for k in onsale)]
        come += [(k, j) for n, k in enumerate(onsale) for j in onsale[n:]]
        cap = max(best, now) if now > best + 1e-9 else best
        found: list[tuple[int, float, tuple[int, ...], tuple[int, ...]]] = []
        for away in gone:
            for new in come:
                if set(away) & set(new):
                    continue
                cost = now + sum(stocks[k].price for k in new) - sum(stocks[k].price for k in away)
                if cost >= cap - 1e-9:
                    continue
                counts = used.copy()
                for k in away:
                    counts[k] -= 1
                for k in new:
                    counts[k] += 1
                if any(counts[k] > stocks[k].limit for k in new) or not self.demands.met(counts):
                    continue
                room = sum(stocks[k].area for k in new) - sum(stocks[k].area for k in away)
                found.append((-room, cost, away, new))
        found.sort()
        aims: list[_Aim] = []
        for _, _, away, new in found[:_MOST_AIMS]:
            drop = (
                tuple(emptiest[away[0]][:2])
                if len(away) == 2 and away[0] == away[1]
                else tuple(emptiest[k][0] for k in away)
            )
            aims.append((drop, new))
        return aims

    def _without(
        self, layouts: list[Layout], drop: Sequence[int], take: Sequence[int], halt: float
    ) -> list[Layout] | None:
        """The parts of all ``layouts`` without some sheets, or with others for them."""
        pool = np.zeros(len(self.problem.parts), dtype=np.int64)
        for at in drop:
            pool += np.array(layouts[at].counts(len(self.problem.parts)), dtype=np.int64)
        keep = [each for at, each in enumerate(layouts) if at not in drop]
        keep += [Layout(k, ()) for k in take]
        found, left = self.place(keep, pool, halt)
        return None if left.any() else found

    def place(self, keep: list[Layout], pool: Ints, halt: float) -> tuple[list[Layout], Ints]:
        """Sheets refilled until the pool is empty or ``halt``; the sheets, and what is left."""
        problem = self.problem
        if not keep:
            return keep, pool
        sheets = self._rows(len(keep) + 2)
        recipes = self._recipes(len(keep))
        for row, each in enumerate(keep):
            sheets.w[row], sheets.h[row], sheets.firm[row] = self._sides(each.stock)
            sheets.number[row] = len(each.spots)
            for j, spot in enumerate(each.spots):
                sheets.part[row, j] = spot.part
                sheets.x[row, j] = spot.x
                sheets.y[row, j] = spot.y
                sheets.turned[row, j] = spot.turned
        weight = np.ones(len(problem.parts))
        while self.spent < halt:
            limit = self._room.work[0] + int(min(_CHUNK, halt - self.spent) * _UNIT)
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
            if done or self._over():
                break
        return [self._layout(sheets, row, each.stock) for row, each in enumerate(keep)], pool

    def _bounded(self, halt: float) -> None:
        """Raise the bound on money, until ``halt`` or until prices can raise it no more."""
        if self._bounder is None:
            self._bounder = Bounder(self.demands, self._k)
        if self._bounder.done:
            return
        for layout in self._fillings.values():
            self._bounder.know(layout.stock, layout.counts(len(self.problem.parts)))
        while self.spent < halt and not self._bounder.done and not self._over():
            self._extra += self._bounder.step()
        least = self.demands.least()
        self._extra += 10
        if least is not None:
            self.bound_cost = max(self.bound_cost, least)

    def _by_prices(self, halt: float) -> list[Layout] | None:
        """The cheapest whole set of fillings that were met; None where that found none."""
        layouts, shares = self._columns(halt)
        if not shares.size or self._over():
            return None
        self._nearly()
        made = self._filled(self._whole(layouts, shares))
        if made is not None:
            self._keep(made)
        if self._over():
            return made
        picked = self._picked(list(self._fillings.values()))
        better = self._filled(picked) if picked else None
        if better is not None:
            self._keep(better)
        return better or made

    def _columns(self, halt: float) -> tuple[list[Layout], Floats]:
        """Fillings, and how often the linear programme takes each of them."""
        from scipy.optimize import linprog
        from scipy.sparse import csc_array

        problem = self.problem
        n = len(problem.parts)
        limited = [k for k, s in enumerate(problem.stocks) if s.limit < self._demand.sum()]
        columns = self._fillings

        def add(layout: Layout) -> bool:
            key = (layout.stock, tuple(layout.counts(n)))
            new = key not in columns
            columns.setdefault(key, layout)
            return new

        first = not columns
        for layout in self.best:
            add(layout)
        found, worth, recipes = self._rows(_KEPT), np.zeros(_KEPT), self._recipes(_KEPT)
        value = self._parts.area.copy() if first else self._value
        shares: Floats = np.zeros(0)
        rounds = 3_000
        while self.spent < halt and not self._over():
            new = 0
            for k, stock in enumerate(problem.stocks):
                least = 0.0 if first else stock.price + self._limit_price.get(k, 0.0) + 1e-6
                have = self._patterns(k, value, least, found, worth, recipes, rounds)
                for row in range(have):
                    if first or worth[row] > least:
                        new += add(self._layout(found, row, k))
            if not new and not first and shares.size:
                if rounds > 20_000:
                    break
                rounds *= 2
                continue
            first = False
            if len(columns) > 2 * _MOST_FILLINGS and shares.size:
                self._forget(value)
                columns = self._fillings
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
            self._extra += counts.size / 1_800 + 3.5
            if not answer.success:
                break
            marginals = -np.asarray(answer.ineqlin.marginals)
            value = self._value = np.maximum(marginals[:n], 0.0)
            self._limit_price = dict(zip(limited, -marginals[n:], strict=True))
            shares = np.asarray(answer.x)
        layouts = list(columns.values())
        return layouts, shares if len(shares) == len(layouts) else np.zeros(0)

    def _patterns(
        self,
        stock: int,
        value: Floats,
        least: float,
        found: Sheets,
        worth: Floats,
        recipes: Recipes,
        rounds: int,
    ) -> int:
        made: int = self._k.patterns(
            self._parts,
            *self._sides(stock),
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
        return made

    def _nearly(self) -> None:
        """More fillings, which lose a little at the programme's prices: whole sheets need them."""
        found, worth, recipes = self._rows(_KEPT), np.zeros(_KEPT), self._recipes(_KEPT)
        for k, stock in enumerate(self.problem.stocks):
            least = 0.9 * stock.price
            have = self._patterns(k, self._value, least, found, worth, recipes, 3_000)
            for row in range(have):
                if worth[row] > least:
                    layout = self._layout(found, row, k)
                    key = (k, tuple(layout.counts(len(self.problem.parts))))
                    self._fillings.setdefault(key, layout)

    def _forget(self, value: Floats) -> None:
        """Keep the fillings that are worth most for their price, and those of the best nest."""
        n = len(self.problem.parts)
        best = {(each.stock, tuple(each.counts(n))) for each in self.best}

        def lost(key: tuple[int, tuple[int, ...]]) -> float:
            return self.problem.stocks[key[0]].price - float(np.array(key[1]) @ value)

        ranked = sorted(self._fillings, key=lambda key: (key not in best, lost(key)))
        self._fillings = {key: self._fillings[key] for key in ranked[:_MOST_FILLINGS]}

    def _whole(self, layouts: list[Layout], shares: Floats) -> list[Layout]:
        """Whole sheets chosen one by one, each time the filling worth most for its price.

        Done many times with the programme's whole shares kept and its worths shaken; the
        cheapest set is taken. What no filling serves well any more is left out.
        """
        problem = self.problem
        n = len(problem.parts)
        price = np.array([max(problem.stocks[each.stock].price, 1e-4) for each in layouts])
        stock = np.array([each.stock for each in layouts])
        counts = np.array([each.counts(n) for each in layouts], dtype=float)
        limit = np.array([float(s.limit) for s in problem.stocks])
        value = np.maximum(self._value, 1e-6 * self._parts.area)
        chance = np.random.default_rng(self._rounds)
        kept = np.floor(shares + 1e-6)
        best: tuple[float, list[int]] | None = None
        for trial in range(_SHAKEN):
            # Of the whole shares some are given up again, so that they do not bind.
            sure = kept if trial == 0 else np.floor(kept * chance.random())
            chosen = [int(j) for j in np.repeat(np.arange(len(sure)), sure.astype(int))]
            left = self._demand - sure @ counts
            used = np.bincount(stock, sure, len(limit))
            shake = (
                1 + (0.3 * shares if trial else 0) + (trial > 0) * 0.2 * chance.random(len(price))
            )
            money = float(price @ sure)
            while left.max() > 0.5:
                worth = np.minimum(counts, np.maximum(left, 0.0)) @ value
                rate = worth / price * shake
                rate[used[stock] >= limit[stock]] = 0.0
                # The last sheet is the cheapest that holds all that is left.
                whole = (counts >= left - 0.5).all(axis=1) & (rate > 0)
                at = int(
                    np.argmin(np.where(whole, price, np.inf)) if whole.any() else np.argmax(rate)
                )
                if rate[at] <= 0.0:
                    break
                chosen.append(at)
                used[stock[at]] += 1
                money += float(price[at])
                left = left - counts[at]
            lacking = float(np.maximum(left, 0.0) @ value)
            if best is None or money + lacking < best[0]:
                best = (money + lacking, chosen)
        self._extra += 5 + _SHAKEN * counts.size / 20_000
        assert best is not None
        return [layouts[j] for j in best[1]]

    def _picked(self, layouts: list[Layout]) -> list[Layout] | None:
        """The cheapest whole set of fillings, of those that a cheaper nest can have at all.

        A filling that loses more at the programme's prices than lies between the programme and
        the best nest is in none. None where nothing cheaper is found by looking so far.
        """
        from .picking import DEEPEST, pick

        problem = self.problem
        n = len(problem.parts)
        price = np.array([problem.stocks[each.stock].price for each in layouts])
        stock = np.array([each.stock for each in layouts])
        counts = np.array([each.counts(n) for each in layouts], dtype=np.int64)
        limit = np.array([s.limit for s in problem.stocks])
        limit_price = np.array([self._limit_price.get(k, 0.0) for k in range(len(limit))])
        programme = float(self._value @ self._demand) - float(limit_price @ limit)
        may_lose = problem.cost(self.best) - programme - 1e-6
        lost = price + limit_price[stock] - counts @ self._value
        near = np.argsort(lost, kind="stable")[:_MOST_PICKED]
        near = near[lost[near] < may_lose]
        if not near.size:
            return None
        rows = np.zeros(DEEPEST, dtype=np.int64)
        picked: list[Layout] | None = None
        price_of_look = len(near) * n / _LOOKS
        looks = self._share * 0.5 / price_of_look
        shake = may_lose / 4
        for turn in range(_TURNS):
            found, looked = pick(
                counts[near],
                np.maximum(lost[near], 0.0),
                stock[near],
                limit,
                self._value,
                self._demand,
                may_lose,
                shake * (turn > 0),
                int(looks / _TURNS) + 1,
                self._room.state,
                rows,
            )
            self._extra += looked * price_of_look
            if found:
                picked = [layouts[near[row]] for row in rows[:found]]
                may_lose = problem.cost(picked) - programme - 1e-6
        return picked

    def _filled(self, chosen: list[Layout]) -> list[Layout] | None:
        """Chosen fillings without what is not wanted any more, and sheets for what lacks."""
        from .first import RULES, Ranked, fill_stock

        problem = self.problem
        left = problem.demand
        used = [0] * len(problem.stocks)
        made: list[Layout] = []
        for layout in chosen:
            if used[layout.stock] >= problem.stocks[layout.stock].limit:
                continue
            kept: list[Spot] = []
            for spot in layout.spots:
                if left[spot.part]:
                    left[spot.part] -= 1
                    kept.append(spot)
            if kept:
                used[layout.stock] += 1
                made.append(Layout(layout.stock, tuple(kept)))
        weights = [float(p.area) for p in problem.parts]
        onsale = sorted(
            range(len(problem.stocks)),
            key=lambda k: problem.stocks[k].price / problem.stocks[k].area,
        )
        while any(left):
            for k in onsale:
                if used[k] < problem.stocks[k].limit:
                    spots = fill_stock(problem, k, left, Ranked(problem.parts, weights), RULES[0])
                    if spots:
                        used[k] += 1
                        made.append(Layout(k, tuple(spots)))
                        break
            else:
                return None
        return made
