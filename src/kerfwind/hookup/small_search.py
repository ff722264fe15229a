"""The best answer of one setup by looking through it, quicker than a program where little is left.

Every tool takes one of its candidates, and only the price of parts ties the tools
together. Candidates are taken tool by tool, those that add least first; what has been
taken and the least that the others must add rule out most of the rest.
"""

from __future__ import annotations

import numpy as np

from .cases import Case, Key
from .part_costs import PartCosts
from .prices import Prices

#: Candidates of each tool that a first good answer is sought among.
_FIRST_CANDIDATES = 25
_TINY = 1e-9


class _Tally:
    """Parts in use by the candidates added, and what they weigh together.

    Uses of a part are (fixed, tools that need one, tools that need two, …).
    """

    def __init__(self, case: Case, costs: PartCosts) -> None:
        self.needs, self.costs = case.needs, costs
        self.on_tool = (case.user < case.tools).tolist()
        self.uses: dict[int, tuple[int, ...]] = {
            int(p): (int(case.on_hoses[p]),) for p in np.flatnonzero(case.on_hoses)
        }
        self.weight = sum(costs.by_count(p, counts) for p, counts in self.uses.items())

    def add(self, candidate: int, sign: int = 1) -> None:
        """Take a candidate, or with ``sign`` -1 give it back."""
        on_tool = self.on_tool[candidate]
        for part, number in self.needs[candidate]:
            before = self.uses.get(part, (0,))
            after = self.uses[part] = _with_uses(before, number, sign, on_tool=on_tool)
            self.weight += self.costs.by_count(part, after) - self.costs.by_count(part, before)

    def with_candidate(self, candidate: int) -> float:
        """Weight of the parts if a candidate were added."""
        weight, on_tool = self.weight, self.on_tool[candidate]
        for part, number in self.needs[candidate]:
            before = self.uses.get(part, (0,))
            after = _with_uses(before, number, 1, on_tool=on_tool)
            weight += self.costs.by_count(part, after) - self.costs.by_count(part, before)
        return weight


def _with_uses(uses: tuple[int, ...], number: int, sign: int, *, on_tool: bool) -> tuple[int, ...]:
    if not on_tool:
        return (uses[0] + sign * number, *uses[1:])
    padded = uses + (0,) * (number + 1 - len(uses))
    return (*padded[:number], padded[number] + sign, *padded[number + 1 :])


class SmallSearch:
    """Searches one setup; ``unlike`` are candidates that may not all be taken again."""

    def __init__(
        self, case: Case, prices: Prices, costs: PartCosts, unlike: set[Key] | None = None
    ) -> None:
        self.case, self.costs = case, costs
        self.weight = case.table.weight.tolist()
        low = prices.low(case.table, case.row)
        self.low = low.tolist()
        order = np.lexsort((low, case.user))
        edges = np.flatnonzero(np.diff(case.user[order])) + 1
        self.rows: list[list[int]] = [row.tolist() for row in np.split(order, edges)]
        self.base = case.fixed(prices)
        rows = case.rows_of(unlike) if unlike else None
        self.unlike = None if rows is None else set(rows)

    def _known(self, taken: list[int]) -> bool:
        """Whether it is the answer not wanted again, or that and an idle hose."""
        return self.unlike is not None and self.unlike <= set(taken)

    def descend(self) -> tuple[float, list[int]]:
        """From every user's least candidate, change one at a time while it helps."""
        tally, taken = _Tally(self.case, self.costs), [row[0] for row in self.rows]
        for k in taken:
            tally.add(k)
        better = True
        while better:
            better = False
            for i, row in enumerate(self.rows):
                tally.add(taken[i], -1)
                best = min(
                    row[:_FIRST_CANDIDATES], key=lambda k: self.weight[k] + tally.with_candidate(k)
                )
                if self.weight[best] + tally.with_candidate(best) < (
                    self.weight[taken[i]] + tally.with_candidate(taken[i]) - _TINY
                ):
                    taken[i], better = best, True
                tally.add(taken[i])
        if self._known(taken):
            return np.inf, taken
        return self.case.constant + tally.weight + sum(self.weight[k] for k in taken), taken

    def neighbour(self, taken: list[int]) -> tuple[float, list[int]]:
        """The best answer that differs from ``taken`` in one candidate."""
        tally = _Tally(self.case, self.costs)
        for k in taken:
            tally.add(k)
        rest = self.case.constant + sum(self.weight[k] for k in taken)
        best: tuple[float, list[int]] = (np.inf, taken)
        for row in self.rows:
            old = next(k for k in taken if k in row)
            tally.add(old, -1)
            for k in row[:_FIRST_CANDIDATES]:
                weight = rest - self.weight[old] + self.weight[k] + tally.with_candidate(k)
                if k != old and weight < best[0]:
                    best = weight, [k if j == old else j for j in taken]
            tally.add(old)
        return best

    def search(self, limit: float, nodes: int) -> tuple[float, list[int] | None, int]:
        """The best answer below ``limit``, and how many of the ``nodes`` are left.

        Weight and candidates; no candidates where nothing is better. It was searched to
        the end where nodes are left.
        """
        depth_first = _DepthFirst(self, limit, nodes)
        depth_first.step(0, [], 0.0, self.base)
        return depth_first.limit, depth_first.taken, depth_first.nodes


class _DepthFirst:
    """Depth-first search of one setup."""

    def __init__(self, search: SmallSearch, limit: float, nodes: int) -> None:
        self.search, self.limit, self.nodes = search, limit, nodes
        costs, case = search.costs, search.case
        low = search.low
        # Those with the most to lose by a second-best candidate come first.
        self.rows = sorted(
            search.rows,
            key=lambda row: low[row[1]] - low[row[0]] if len(row) > 1 else np.inf,
            reverse=True,
        )
        self.tally = _Tally(case, costs)
        self.taken: list[int] | None = None
        cheap = [
            0.0 if part.owned else min(costs.bill(p, 1), costs.task.change)
            for p, part in enumerate(costs.task.parts)
        ]
        step = [
            w + sum(n * cheap[p] for p, n in needs)
            for w, needs in zip(search.weight, case.needs, strict=True)
        ]
        steps = [min(step[k] for k in row) for row in self.rows]
        lows = [low[row[0]] for row in self.rows]
        self.step_after = [sum(steps[i:]) for i in range(len(steps) + 1)]
        self.low_after = [sum(lows[i:]) for i in range(len(lows) + 1)]

    def step(self, depth: int, taken: list[int], weight: float, low: float) -> None:
        """Take each candidate of the next user that may lead to something better."""
        search, tally = self.search, self.tally
        constant = search.case.constant
        if depth == len(self.rows):
            total = constant + weight + tally.weight
            if total < self.limit - _TINY and not search._known(taken):
                self.limit, self.taken = total, list(taken)
            return
        options = []
        for k in self.rows[depth]:
            parts = tally.with_candidate(k)
            ahead = constant + weight + search.weight[k] + parts + self.step_after[depth + 1]
            options.append((max(ahead, low + search.low[k] + self.low_after[depth + 1]), k))
        for bound, k in sorted(options):
            if bound >= self.limit - _TINY or self.nodes <= 0:
                break
            self.nodes -= 1
            tally.add(k)
            taken.append(k)
            self.step(depth + 1, taken, weight + search.weight[k], low + search.low[k])
            taken.pop()
            tally.add(k, -1)
