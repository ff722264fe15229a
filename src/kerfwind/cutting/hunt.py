"""The search for one material and thickness: first nests, shaken ones, then the long search."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from .first import RULES, Tally, first_nests, nest_by_rule, noisy_nests
from .money import Demands
from .problem import Layout, Problem
from .tidy import Quality, Seen, better

#: Effort of the plain search at most; beyond it the compiled search is worth its start.
PLAIN_SEARCH = 100

#: Effort after which no more rules are tried for the first nest, once there is one.
FIRST_NESTS = 300

#: Effort of the compiled search's first turn; turns grow, and in every other one the last of
#: several parts may be what is left over.
_FIRST_TURN = 600

#: Effort at most to lay out a nest's own sheets again with wood for every cut.
_FIRM = 600


def within_limits(problem: Problem, layouts: Sequence[Layout]) -> bool:
    """Whether there are as many sheets of each stock as are used."""
    used = [0] * len(problem.stocks)
    for each in layouts:
        used[each.stock] += 1
    return all(n <= s.limit for n, s in zip(used, problem.stocks, strict=True))


class Hunt:
    """One search, the same for a seed; what it does does not depend on its budget.

    Attributes
    ----------
    best
        The best nest so far, empty where none holds every part.
    partial, left
        Where none does: sheets that hold most of the parts, and what is left over.
    bound_cost
        What any nest costs at least, as far as is proven.
    """

    def __init__(
        self,
        problem: Problem,
        sheets: int,
        bound_cost: float,
        seed: int,
        known: Sequence[Layout] = (),
        *,
        money_only: bool = False,
    ) -> None:
        self.problem = problem
        self.best: list[Layout] = []
        self.partial: list[Layout] = []
        self.left: list[int] = problem.demand
        self.bound_cost = bound_cost
        self.stopped = False
        self.effort = 0.0
        self.seen: Seen = {}
        self.demands = Demands(problem)
        self.demands.sheets(sheets)
        self._seed = seed
        self._known = known
        self._money_only = money_only
        self._quality: Quality | None = None
        self._loose = replace(problem, spare=0)

    @property
    def possible(self) -> bool:
        """Whether all the sheets there are have room enough."""
        return self.demands.met(np.array([float(s.limit) for s in self.problem.stocks]))

    @property
    def proven(self) -> bool:
        """Whether no nest can cost less."""
        return bool(self.best) and self.problem.cost(self.best) <= self.bound_cost + 1e-9

    def offer(self, layouts: list[Layout]) -> None:
        """Keep a nest if it is the best so far."""
        if not within_limits(self.problem, layouts):
            return
        if self._quality is not None:
            more = self.problem.cost(layouts) - self._quality[0]
            if more > 1e-9 or (self._money_only and more > -1e-9):
                return
        mark = better(self.problem, layouts, self.seen, self._quality)
        if mark is not None:
            self._quality = mark
            self.best = layouts

    def run(self, budget: int, go_on: Callable[[int], bool]) -> None:
        """Search until the budget is spent, a proof is found, or ``go_on`` says no."""
        if not self._plainly(budget, go_on):
            return
        if budget <= PLAIN_SEARCH:
            return
        if not self.best:
            self._squeeze(budget, go_on)
        if self.best and not self.proven:
            self._long(budget, go_on)
        if self.best and not self.stopped and not self._money_only:
            self._firmly(budget, go_on)

    def _plainly(self, budget: int, go_on: Callable[[int], bool]) -> bool:
        """First and shaken nests; whether to go on."""
        problem, tally = self.problem, Tally()
        ways = [problem] if not problem.spare else [problem, self._loose]
        for turn, way in enumerate(ways, 1):
            for layouts in first_nests(way, tally):
                if layouts is not None:
                    self.offer(layouts)
                self.effort = tally.effort
                if self.best and (self._enough() or self.effort > FIRST_NESTS * turn):
                    break
                if not go_on(int(self.effort)) and self.best:
                    self.stopped = True
                    return False
            if self.best and (self.proven or self.effort > FIRST_NESTS):
                break
        for rule in RULES if self._known else ():
            found = nest_by_rule(self._loose, rule, begun=self._known)
            if found is not None:
                self.offer(found)
        if not self.best:
            self.partial, self.left = fullest(problem)
        noisy = noisy_nests(problem, self._seed, tally)
        while self.effort < min(budget, PLAIN_SEARCH) and not self._enough():
            layouts = next(noisy)
            self.effort = tally.effort
            if layouts:
                self.offer(layouts)
            if not go_on(int(self.effort)):
                self.stopped = True
                return False
        return True

    def _enough(self) -> bool:
        return self._money_only and self.proven

    def _long(self, budget: int, go_on: Callable[[int], bool]) -> None:
        from .search import LongSearch

        # Searches count whole milliseconds: what is left of one would never be spent.
        begun = self.effort = float(math.ceil(self.effort))
        spent = [0, 0]
        ways = [self.problem] if not self.problem.spare else [self.problem, self._loose]

        def told(which: int) -> Callable[[int], bool]:
            return lambda now: go_on(int(begun + now + sum(spent) - spent[which]))

        searches = [
            LongSearch(
                way,
                self.best,
                self.demands,
                self.bound_cost,
                self._seed,
                self.offer,
                told(at),
                bounds=at == 0,
            )
            for at, way in enumerate(ways)
        ]
        turn = float(_FIRST_TURN)
        while self.effort < budget and not self.proven and not self.stopped:
            for at, search in enumerate(searches):
                share = turn if at == 0 else turn / 4
                search.adopt(self.best, self.bound_cost)
                search.run(math.ceil(spent[at] + min(share, budget - self.effort)))
                spent[at] = search.spent
                self.effort = begun + sum(spent)
                self.bound_cost = max(self.bound_cost, search.bound_cost)
                self.stopped = search.stopped
                if self.stopped or self.proven or self.effort >= budget:
                    return
            turn *= 2

    def _firmly(self, budget: int, go_on: Callable[[int], bool]) -> None:
        """The best nest's own sheets filled anew, so that every panel has wood to be sawn from."""
        from .search import LongSearch

        assert self._quality is not None
        begun = math.ceil(self.effort)
        halt = float(min(budget - begun, _FIRM))
        if not self._quality[2] or not self.problem.spare or halt < 1:
            return
        search = LongSearch(
            self.problem,
            [],
            self.demands,
            self.bound_cost,
            self._seed,
            self.offer,
            lambda now: go_on(int(begun + now)),
        )
        search.begin(halt)
        empty = [Layout(each.stock, ()) for each in self.best]
        wanted = np.array(self.problem.demand, dtype=np.int64)
        found, left = search.place(empty, wanted, halt)
        if not left.any():
            self.offer([each for each in found if each.spots])
        self.effort = begun + search.spent
        self.stopped = search.stopped

    def _squeeze(self, budget: int, go_on: Callable[[int], bool]) -> None:
        """All the sheets that there are, refilled until every part has found a place."""
        from .search import LongSearch

        problem = self.problem
        used = [0] * len(problem.stocks)
        for each in self.partial:
            used[each.stock] += 1
        sheets = list(self.partial)
        most = sum(problem.demand)
        for k, stock in enumerate(problem.stocks):
            sheets += [Layout(k, ())] * max(0, min(stock.limit - used[k], most - len(sheets)))
        begun = self.effort
        for way in (problem, self._loose) if problem.spare else (problem,):
            search = LongSearch(
                way,
                [],
                self.demands,
                self.bound_cost,
                self._seed,
                self.offer,
                lambda now, begun=begun: go_on(int(begun + now)),  # type: ignore[misc]
            )
            halt = (budget - begun) / 2
            search.begin(halt)
            found, left = search.place(sheets, np.array(self.left, dtype=np.int64), halt)
            self.effort += search.spent
            begun = self.effort
            self.stopped = search.stopped
            found = [each for each in found if each.spots]
            if not left.any():
                self.offer(found)
                return
            worth = sum(p.area * int(n) for p, n in zip(problem.parts, left, strict=True))
            if worth < sum(p.area * n for p, n in zip(problem.parts, self.left, strict=True)):
                self.partial, self.left = found, [int(n) for n in left]
            if self.stopped:
                return


def fullest(problem: Problem) -> tuple[list[Layout], list[int]]:
    """Sheets filled as well as some rule does it, and the parts for which there is no more."""
    best: tuple[int, list[Layout], list[int]] | None = None
    for rule in RULES:
        layouts: list[Layout] = []
        nest_by_rule(problem, rule, so_far=layouts)
        left = problem.demand
        for each in layouts:
            for spot in each.spots:
                left[spot.part] -= 1
        worth = sum(p.area * n for p, n in zip(problem.parts, left, strict=True))
        if best is None or worth < best[0]:
            best = (worth, layouts, left)
    assert best is not None
    return best[1], best[2]
