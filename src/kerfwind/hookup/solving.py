"""The best answer of a shop and the second-best: setup by setup, the most promising first.

Prices of parts bound every setup from below. In each setup whose bound leaves a chance,
the best answer is found by the small search while little was looked into, and by HiGHS
after that; the dual of HiGHS's program is a new set of prices and raises the bounds of
all the other setups. It ends when no setup's bound is below the best answer.

What may be looked into is counted, not timed, so that a shop has the same answer in every
run. Where the count ends it, or many tools make a good answer enough, the bound tells by how
much another answer could be better.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from .candidates import Candidates, Ints, Makings, find_candidates, together
from .cases import Case, Key
from .chains import Candidate, Head
from .ends import Floats
from .part_costs import Choice, PartCosts, Task
from .prices import Prices, Stock, first_prices
from .program import GOOD, find_whole, prove_whole, relax
from .setups import Lowest, Setup, Setups
from .small_search import SmallSearch

#: Partial answers that the small search looks at before HiGHS takes over, and the most
#: tools that it is tried with.
MOST_LOOKS = 4_000
MOST_SEARCHED = 16
#: Setups in which a first good answer is sought.
_FIRST_SETUPS = 4
#: Setups given to HiGHS at most for one answer.
MOST_PROGRAMS = 400
#: Tools up to which the best answer is proven. With more a good one does: one proof would take
#: many minutes and gigabytes, for less than any joint is known to.
MOST_PROVEN = 60
#: HiGHS looks for answers that are better by more than this part of the weight.
_NEAR = 1e-6
#: Candidates this far above what the relaxed program says go into the first whole one.
_FIRST_WIDTH = 1.0
_TINY = 1e-9
#: Setups whose candidates are held side by side.
_KNOWN_CASES = 8


@dataclass(frozen=True)
class Solved:
    """The two best answers.

    Attributes
    ----------
    second
        None where it was not asked for, or where there is no other.
    least
        Least that a route adds to any answer, by route and head.
    """

    task: Task
    best: Choice
    second: Choice | None
    least: dict[tuple[int, Head | None], float]


@dataclass
class _Answer:
    """The best answer so far; nothing yet where ``taken`` is empty."""

    weight: float = np.inf
    setup: Setup = field(default_factory=dict)
    taken: list[Candidate] = field(default_factory=list)
    keys: set[Key] = field(default_factory=set)

    @property
    def heads(self) -> dict[int, Head]:
        """The head of each hose that carries one."""
        return {hose: head for hose, head in self.setup.items() if head is not None}


def solve_task(
    makings: Makings,
    task: Task,
    *,
    runner_up: bool,
    candidates: Candidates | None = None,
    looks: int | None = None,
    programs: int = MOST_PROGRAMS,
) -> Solved:
    """The best answer and the second-best.

    Parameters
    ----------
    candidates
        To choose from; by default all that can be made.
    looks
        Partial answers that the small search may look at; by default `MOST_LOOKS` in shops
        of up to `MOST_SEARCHED` tools and none in others.
    programs
        Setups given to HiGHS at most for one answer.
    """
    solver = _Solver(task, candidates or find_candidates(makings), looks, programs)
    first, bound = solver.best()
    if not first.taken:
        raise RuntimeError("the program of hookups has no answer, though each tool may stay apart")
    best = solver.costs.choice(first.taken, first.heads, bound)
    second = None
    if runner_up:
        other, bound = solver.best(unlike=first)
        if other.taken:
            second = solver.costs.choice(other.taken, other.heads, bound)
    return Solved(task, best, second, solver.least())


class _Solver:
    """The search of one task."""

    def __init__(
        self, task: Task, candidates: Candidates, looks: int | None, programs: int
    ) -> None:
        self.task, self.costs, self.candidates = task, PartCosts(task), candidates
        self.programs = programs
        groups = [g for g in task.demands if task.routes[g[0]].tool]
        self.tools = len(groups)
        # The row of each route: its tool, or one for all joints of the unit.
        self.row = np.full(len(task.routes), self.tools)
        for tool, group in enumerate(groups):
            self.row[list(group)] = tool
        places = self.candidates.places
        self.user = self.row[np.array([r for r, _ in places], dtype=int)][
            self.candidates.table.place
        ]
        self.stock = Stock(
            np.array([float(p.owned) for p in task.parts]),
            np.array([np.inf if p.price is None else p.price for p in task.parts]),
            task.change,
            self._users(),
        )
        #: Part of its weight by which an answer may miss the best, and setups given to HiGHS:
        #: their programs grow with the tools, and what each takes faster than that.
        self.near = GOOD if self.tools > MOST_PROVEN else 0.0
        if self.tools > MOST_PROVEN:
            self.programs = math.ceil(programs * (MOST_PROVEN / self.tools) ** 3)
        self.looks = looks if looks is not None else MOST_LOOKS * (self.tools <= MOST_SEARCHED)
        self.setups = Setups(task, self.candidates.heads)
        self.prices: list[Prices] = []
        self.cases: dict[tuple[tuple[int, Head | None], ...], Case] = {}
        #: No answer with a candidate that was left out for number weighs less.
        self.beyond = np.inf
        self.lost = np.flatnonzero(np.isfinite(candidates.dropped))
        self.excess = np.full(len(self.lost), np.inf)
        self._reckon(first_prices(self.stock))

    def _users(self) -> Floats:
        """Which tools could use each part, shape ``(tools, parts)``."""
        users = np.zeros((self.tools + 1, len(self.task.parts) + 1))
        for faces in (self.candidates.table.first, self.candidates.table.last):
            users[self.user, faces >> 1] = 1.0
        return users[:-1, :-1]

    def _reckon(self, prices: Prices) -> None:
        """Raise the bounds of all setups to what these prices say."""
        candidates, heads = self.candidates, self.task.heads
        low = candidates.least(prices.low(candidates.table, self.user))
        self.prices.append(prices)
        lowest = self.setups.reckon(
            len(self.prices) - 1,
            prices.constant,
            lambda hose, head: heads[(hose, head)] + float(prices.part[head[0]]),
            lambda route, head: float(low[candidates.number[(route, head)]]),
        )
        # How much more, or less, than the least what was left out for number adds.
        if not len(self.lost):
            return
        self.excess = np.minimum(self.excess, candidates.dropped[self.lost] - low[self.lost])
        less = np.zeros(len(self.task.routes))
        np.minimum.at(less, [candidates.places[i][0] for i in self.lost], self.excess)
        bounds = []
        for i in self.lost.tolist():
            route, head = candidates.places[i]
            hose = self.task.routes[route].hose
            carried = [head] if self.task.routes[route].tool else candidates.heads[hose]
            bounds.append(min(lowest[(hose, g)] for g in carried))
        self.beyond = float((np.array(bounds) + np.maximum(self.excess, 0.0)).min() + less.sum())

    def least(self) -> dict[tuple[int, Head | None], float]:
        """Least that each route adds to any answer, by route and head."""
        candidates = self.candidates
        low = candidates.least(self.prices[0].low(candidates.table, self.user))
        return {place: float(low[i]) for i, place in enumerate(candidates.places)}

    def best(self, unlike: _Answer | None = None) -> tuple[_Answer, float]:
        """The best answer, or the best that takes other candidates, and a bound on all such."""
        answer, keys = _Answer(), None if unlike is None else unlike.keys
        self.setups.reopen()
        for each in self.setups.first(_FIRST_SETUPS):
            case = self._case(each.setup)
            if case.whole:
                search = SmallSearch(case, self.prices[0], self.costs, keys)
                self._take(answer, case, *search.descend())
        if unlike is not None:
            case = self._case(unlike.setup)
            taken = case.rows_of(unlike.keys)
            assert taken is not None
            search = SmallSearch(case, self.prices[0], self.costs)
            self._take(answer, case, *search.neighbour(taken))
        looks, programs = self.looks, self.programs
        while True:
            lowest = next(iter(self.setups.first(1)), None)
            if lowest is None or lowest.bound >= answer.weight * (1 - self.near) - _TINY:
                break
            case = self._case(lowest.setup).within(self.prices[lowest.by], answer.weight)
            if not case.whole:
                self.setups.close(lowest, answer.weight)
                continue
            if looks > 0:
                search = SmallSearch(case, self.prices[0], self.costs, keys)
                weight, rows, looks = search.search(answer.weight, looks)
                self._take(answer, case, weight, rows)
                if looks > 0:
                    self.setups.close(lowest, answer.weight)
                    continue
            if programs <= 0:
                break
            programs -= 1
            self.setups.close(lowest, self._by_highs(case, lowest, answer, keys))
        return answer, min(self.setups.lowest(), answer.weight, self.beyond)

    def _take(self, answer: _Answer, case: Case, weight: float, rows: list[int] | None) -> None:
        """Put a better answer in its place."""
        if rows is not None and weight < answer.weight - _TINY:
            some = case.table[np.array(rows)]
            answer.weight, answer.setup = weight, case.setup
            answer.taken = [self.candidates.candidate(some, i) for i in range(len(some))]
            answer.keys = set(some.keys())

    def _by_highs(
        self, case: Case, lowest: Lowest, answer: _Answer, keys: set[Key] | None
    ) -> float:
        """Find what is better in one setup by HiGHS; a bound on all its answers comes back."""

        def unlike(case: Case) -> Ints | None:
            rows = case.rows_of(keys) if keys else None
            return None if rows is None else np.array(rows)

        relaxed = relax(case, self.stock, self.prices[lowest.by], unlike(case))
        if relaxed is None:
            return answer.weight
        self._reckon(relaxed.prices)

        def take(rows: list[int] | None) -> None:
            if rows is not None:
                taken = [self.candidates.candidate(case.table, k) for k in rows]
                self._take(answer, case, self.costs.weigh(taken, case.heads), rows)

        if relaxed.bound >= answer.weight * (1 - self.near):
            return relaxed.bound
        width = _FIRST_WIDTH
        while answer.weight - relaxed.bound > width:
            some = np.flatnonzero(relaxed.above <= width)
            rows, _ = find_whole(case, some, self.stock, unlike(case))
            take(rows)
            if rows is not None or len(some) == len(case.table):
                break
            width *= 4
        if self.near:
            return relaxed.bound
        # A candidate that is further above the bound than the best answer is in no better one.
        some = np.flatnonzero(relaxed.above <= answer.weight - relaxed.bound)
        below = answer.weight * (1 - _NEAR)
        if relaxed.bound >= below:
            return below
        rows, bound = prove_whole(case, some, self.stock, unlike(case), below)
        take(rows)
        return max(bound, relaxed.bound)

    def _case(self, setup: Setup) -> Case:
        """One setup; the last few are known, since the second answer is sought where the first was."""
        key = tuple(setup.items())
        if key not in self.cases:
            while len(self.cases) >= _KNOWN_CASES:
                self.cases.pop(next(iter(self.cases)))
            self.cases[key] = self._case_of(setup)
        return self.cases[key]

    def _case_of(self, setup: Setup) -> Case:
        task, candidates = self.task, self.candidates
        constant = task.hose_weight * len(setup)
        on_hoses = np.zeros(len(task.parts))
        for hose, head in setup.items():
            if head is not None:
                constant += task.heads[(hose, head)]
                on_hoses[head[0]] += 1
        tables, users = [], []
        joints = 0
        for r, route in enumerate(task.routes):
            if route.hose not in setup:
                continue
            user = int(self.row[r])
            if not route.tool:
                user, joints = self.tools + joints, joints + 1
            head = setup[route.hose] if route.tool else None
            tables.append(candidates.whole(candidates.number[(r, head)]))
            users.append(np.full(len(tables[-1]), user))
        return Case(
            setup,
            constant,
            on_hoses,
            together(tables),
            np.concatenate(users),
            self.tools + joints,
            self.tools,
        )
