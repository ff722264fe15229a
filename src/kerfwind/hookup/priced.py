"""Large shops: prices from the relaxed program leave HiGHS few chains to choose among.

Setups (hoses in use, heads on them) are taken one by one, since a relaxed program that
may mix them says little. The dual of a setup's own relaxed program prices the parts, and
the prices bound all its answers from below. Against a good answer found by small changes
they rule out the setup, or most of its chains; HiGHS proves the best of the rest.
"""

from __future__ import annotations

import time
from dataclasses import dataclass, replace

import numpy as np

from .branching import Search
from .program import relax
from .program import solve as solve_program
from .settling import Choice, Task
from .setups import Setup

_TINY = 1e-6
#: An answer of a large shop counts as proven within this part of the best.
PROVEN_GAP = 1e-4


def solve(task: Task, *, runner_up: bool, time_s: float | None) -> tuple[Choice, Choice | None]:
    """The best answer of a task, and the second-best.

    ``time_s`` is for all of it; where it ends too soon, ``bound`` tells the gap.
    """
    end = None if time_s is None else time.monotonic() + time_s
    search = Search(task)
    best = search.descend(0.0)
    if best is None:
        raise RuntimeError("the program of hookups has no answer, though each tool may stay apart")
    best, bound = _best(task, search, best, (), end)
    best = replace(best, bound=min(bound, search.dropped, best.weight))
    if not runner_up:
        return best, None
    second = search.neighbour(best)
    if second is not None:
        second, bound = _best(task, search, second, (best.taken,), end)
        second = replace(second, bound=min(bound, search.dropped, second.weight))
    return best, second


def _best(
    task: Task, search: Search, good: Choice, unlike: tuple[tuple[int, ...], ...],
    end: float | None,
) -> tuple[Choice, float]:  # fmt: skip
    """The best answer and a bound, from a good one to beat."""
    bound = good.weight
    for low, setup in search.setups:
        if low >= good.weight * (1 - PROVEN_GAP / 2):
            break
        if end is not None and end - time.monotonic() < 0.05:
            bound = min(bound, low)
            break
        outlook = _outlook(task, setup)
        least = outlook.bound
        if least < good.weight * (1 - PROVEN_GAP / 2):
            among = outlook.within(good.weight + _TINY)
            found = solve_program(
                task, among=tuple({*among, *(k for k in good.taken if k in outlook.low)}),
                forbid=unlike, time_s=None if end is None else max(0.05, end - time.monotonic()),
                relative_gap=PROVEN_GAP / 2,
            )  # fmt: skip
            if found is not None:
                least = max(least, found.bound)
                good = min(good, found, key=lambda choice: choice.weight)
        bound = min(bound, least)
    return good, bound


@dataclass(frozen=True)
class _Outlook:
    """A setup at its prices: what each of its columns adds, and the bound of its answers."""

    bound: float
    low: dict[int, float]
    above: dict[int, float]

    def within(self, limit: float) -> set[int]:
        """Columns that an answer below a limit could use."""
        return {k for k, above in self.above.items() if above <= limit - self.bound}


def _outlook(task: Task, setup: Setup) -> _Outlook:
    columns, routes = task.columns.columns, task.routes
    groups = [
        [(r, setup[routes[r].hose]) for r in g if routes[r].hose in setup]
        for g in task.demands
        if routes[g[0]].tool
    ]
    groups += [[(r, None)] for r, hose in task.follows.items() if hose in setup]
    group_of = {place: i for i, places in enumerate(groups) for place in places}
    mine = {
        k: group_of[(c.route, c.head)]
        for k, c in enumerate(columns)
        if (c.route, c.head) in group_of
    }
    prices = relax(task, tuple(mine))
    low = {
        k: columns[k].weight
        + sum(float(prices.use[columns[k].route][p]) for p, _ in columns[k].pieces)
        for k in mine
    }
    least = [np.inf] * len(groups)
    for k, group in mine.items():
        least[group] = min(least[group], low[k])
    bound = prices.constant + sum(least) + task.hose_weight * len(setup)
    for hose, head in setup.items():
        if head is not None:
            bound += task.columns.heads[(hose, head)] + float(prices.part[head[0]])
    return _Outlook(bound, low, {k: low[k] - least[group] for k, group in mine.items()})
