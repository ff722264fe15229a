"""The same choice by branch and bound, for shops of usual size; HiGHS for the rest.

A *setup* says which hoses are in use and what head each carries. Within a setup every
tool takes one of its columns, and only the price of parts ties the tools together. Let
φ(N) be what N uses of a part weigh together. Where up to n tools could use it, each that
does adds at least min φ(N)/N over N ≤ n; summed, that bounds any answer from below.
Setups and columns that the bound rules out against a good answer are dropped; the rest
is searched to the end, or handed to HiGHS when it is too much.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

import numpy as np

from .columns import Head
from .program import solve as solve_program
from .settling import Choice, Settler, Task
from .setups import Setup, list_setups

#: Partial answers looked at before the rest is handed to HiGHS.
MOST_NODES = 4_000
#: What a first good answer is sought among.
_FIRST_SETUPS = 4
_FIRST_COLUMNS = 25
_TINY = 1e-9


class _Tally:
    """Parts in use by the columns added, and what they weigh together.

    Uses of a part are (fixed, tools that need one, tools that need two, …).
    """

    def __init__(self, search: Search, heads: Sequence[Head]) -> None:
        self.search = search
        self.uses: dict[int, tuple[int, ...]] = {}
        self.weight = 0.0
        for part, _ in heads:
            self.uses[part] = _more(self.uses.get(part, (0,)), 1, 1, on_tool=False)
            self.weight += search.phi(part, self.uses[part])

    def add(self, column: int, sign: int = 1) -> None:
        """Take a column, or with ``sign`` -1 give it back."""
        on_tool = self.search.on_tool[column]
        for part, number in self.search.needs[column]:
            before = self.uses.get(part, (0,))
            after = self.uses[part] = _more(before, number, sign, on_tool=on_tool)
            self.weight += self.search.phi(part, after) - self.search.phi(part, before)

    def with_column(self, column: int) -> float:
        """Weight of the parts if a column were added."""
        weight, on_tool = self.weight, self.search.on_tool[column]
        for part, number in self.search.needs[column]:
            before = self.uses.get(part, (0,))
            after = _more(before, number, 1, on_tool=on_tool)
            weight += self.search.phi(part, after) - self.search.phi(part, before)
        return weight


def _more(uses: tuple[int, ...], number: int, sign: int, *, on_tool: bool) -> tuple[int, ...]:
    if not on_tool:
        return (uses[0] + sign * number, *uses[1:])
    padded = uses + (0,) * (number + 1 - len(uses))
    return (*padded[:number], padded[number] + sign, *padded[number + 1 :])


class Search:
    """Branch and bound over one task; `best` answers, and may be asked again."""

    def __init__(self, task: Task) -> None:
        self.task, self.settler = task, Settler(task)
        self.known: dict[tuple[int, tuple[int, ...]], float] = {}
        columns, routes = task.columns.columns, task.routes
        self.needs = [tuple(Counter(p for p, _ in c.pieces).items()) for c in columns]
        self.on_tool = [bool(routes[c.route].tool) for c in columns]
        self.weight = [c.weight for c in columns]
        share, least = self._least_shares()
        self.low = [c.weight + sum(share[p] for p, _ in c.pieces) for c in columns]
        self.step = [c.weight + sum(least[p] for p, _ in c.pieces) for c in columns]
        self.place: dict[tuple[int, Head | None], list[int]] = {}
        for k in sorted(range(len(columns)), key=lambda k: self.low[k]):
            self.place.setdefault((columns[k].route, columns[k].head), []).append(k)
        heads = {(h, g): self._head(h, g) for h, g in task.columns.heads}
        self.setups = list_setups(task, heads, self.least)
        #: Least weight of an answer with a chain that was left out for number alone.
        self.dropped = min(
            (
                self.setups[0][0] - self.least(*place) + lost
                for place, lost in task.columns.dropped.items()
            ),
            default=np.inf,
        )

    def _least_shares(self) -> tuple[dict[int, float], dict[int, float]]:
        """For each part the least of φ(N)/N, and the least of φ(N + 1) - φ(N)."""
        tools: dict[int, set[str]] = {}
        plain: dict[int, bool] = {}
        for k, column in enumerate(self.task.columns.columns):
            for part, number in self.needs[k]:
                tools.setdefault(part, set()).add(self.task.routes[column.route].tool)
                plain[part] = plain.get(part, True) and number == 1 and self.on_tool[k]
        share: dict[int, float] = {}
        least: dict[int, float] = {}
        for part, users in tools.items():
            owned = self.task.parts[part].owned
            price = self.settler.bill(part, 1)
            least[part] = 0.0 if owned else min(price, self.task.change)
            worn = any(g is not None and g[0] == part for _, g in self.task.columns.heads)
            if plain[part] and not owned and not worn:
                ways = range(1, len(users) + 1)
                share[part] = min(self.settler.part(part, 0, (1,) * n)[0] / n for n in ways)
            else:
                share[part] = least[part]
        return share, least

    def _head(self, hose: int, head: Head) -> float:
        return self.task.columns.heads[(hose, head)] + self.settler.head_price(head)

    def phi(self, part: int, uses: tuple[int, ...]) -> float:
        """What all uses of a part weigh together; ``uses`` as in `_Tally`."""
        key = (part, uses)
        weight = self.known.get(key)
        if weight is None:
            tools = tuple(n for n, many in enumerate(uses[1:], 1) for _ in range(many))
            weight = self.known[key] = self.settler.part(part, uses[0], tools)[0]
        return weight

    def least(self, route: int, head: Head | None) -> float:
        """Least that a route adds to any answer, by what its hose carries."""
        ks = self.place.get((route, head))
        return self.low[ks[0]] if ks else np.inf

    def _items(self, setup: Setup, bound: float, limit: float) -> list[list[int]]:
        """For each tool and route of the unit the columns that could beat ``limit``."""
        rows: list[list[int]] = []
        for group in self.task.demands:
            if self.task.routes[group[0]].tool:
                ks = [
                    k
                    for r in group
                    if (hose := self.task.routes[r].hose) in setup
                    for k in self.place.get((r, setup[hose]), [])
                ]
                rows.append(sorted(ks, key=lambda k: self.low[k]))
        rows += [self.place[(r, None)] for r, hose in self.task.follows.items() if hose in setup]
        spare = limit - bound + _TINY
        return [[k for k in row if self.low[k] - self.low[row[0]] <= spare] for row in rows]

    def _constant(self, setup: Setup) -> float:
        worn = [(h, g) for h, g in setup.items() if g is not None]
        return self.task.hose_weight * len(setup) + sum(self.task.columns.heads[w] for w in worn)

    def _tally(self, setup: Setup) -> _Tally:
        return _Tally(self, [g for g in setup.values() if g is not None])

    def best(
        self, *, unlike: tuple[int, ...] | None = None, time_s: float | None = None
    ) -> Choice | None:
        """The best answer; with ``unlike``, the best that takes other columns.

        ``time_s`` limits HiGHS where it is called; the gap is then in ``bound``.
        """
        limit = np.inf
        found: tuple[Sequence[int], Setup] | None = None
        for bound, setup in self.setups[:_FIRST_SETUPS]:
            weight, taken = self._descend(setup, bound, unlike)
            if weight < limit:
                limit, found = weight, (taken, setup)
        if unlike is not None:
            limit, found = self._neighbour(unlike, limit, found)
        nodes = MOST_NODES
        for bound, setup in self.setups:
            if bound >= limit - _TINY:
                break
            items = self._items(setup, bound, limit)
            leaf = _Leaf(self, setup, items, limit, unlike, nodes)
            leaf.walk()
            nodes = leaf.nodes
            if leaf.taken is not None:
                limit, found = leaf.limit, (leaf.taken, setup)
            if nodes <= 0:
                return self._rest(limit, found, unlike, time_s)
        return None if found is None else self._choice(found, min(limit, self.dropped))

    def _choice(self, found: tuple[Sequence[int], Setup], bound: float) -> Choice:
        taken, setup = found
        return self.settler.settle(taken, {h: g for h, g in setup.items() if g}, bound)

    def _descend(
        self, setup: Setup, bound: float, unlike: tuple[int, ...] | None
    ) -> tuple[float, list[int]]:
        """From every item's least column, change one at a time while it helps."""
        items = self._items(setup, bound, np.inf)
        tally, taken = self._tally(setup), [row[0] for row in items]
        for k in taken:
            tally.add(k)
        better = True
        while better:
            better = False
            for i, row in enumerate(items):
                tally.add(taken[i], -1)
                best = min(
                    row[:_FIRST_COLUMNS], key=lambda k: self.weight[k] + tally.with_column(k)
                )
                if self.weight[best] + tally.with_column(best) < (
                    self.weight[taken[i]] + tally.with_column(taken[i]) - _TINY
                ):
                    taken[i], better = best, True
                tally.add(taken[i])
        if unlike is not None and set(unlike) <= set(taken):
            return np.inf, taken
        return self._constant(setup) + tally.weight + sum(self.weight[k] for k in taken), taken

    def _neighbour(
        self, unlike: tuple[int, ...], limit: float, found: tuple[Sequence[int], Setup] | None
    ) -> tuple[float, tuple[Sequence[int], Setup] | None]:
        """The best answer that differs from ``unlike`` in one column."""
        columns, routes = self.task.columns.columns, self.task.routes
        setup: Setup = dict.fromkeys(routes[columns[k].route].hose for k in unlike)
        setup |= {
            routes[columns[k].route].hose: columns[k].head
            for k in unlike
            if columns[k].head is not None
        }
        tally = self._tally(setup)
        for k in unlike:
            tally.add(k)
        rest = self._constant(setup) + sum(self.weight[k] for k in unlike)
        for row in self._items(setup, 0.0, np.inf):
            mine = next((k for k in row if k in unlike), None)
            if mine is None:
                continue
            tally.add(mine, -1)
            for k in row[:_FIRST_COLUMNS]:
                weight = rest - self.weight[mine] + self.weight[k] + tally.with_column(k)
                if k != mine and weight < limit:
                    limit = weight
                    found = ([k if j == mine else j for j in unlike], setup)
            tally.add(mine)
        return limit, found

    def _rest(
        self,
        limit: float,
        found: tuple[Sequence[int], Setup] | None,
        unlike: tuple[int, ...] | None,
        time_s: float | None,
    ) -> Choice | None:
        """HiGHS over the columns that could still be in a better answer."""
        among: set[int] = set()
        for bound, setup in self.setups:
            if bound >= limit - _TINY:
                break
            among.update(k for row in self._items(setup, bound, limit) for k in row)
        if found is not None:
            among.update(found[0])
        forbid = () if unlike is None else (unlike,)
        answer = solve_program(self.task, among=tuple(among), forbid=forbid, time_s=time_s)
        if found is not None and (answer is None or answer.weight > limit + _TINY):
            lowest = self.setups[0][0] if answer is None else answer.bound
            answer = self._choice(found, min(lowest, limit))
        if answer is None:
            return None
        bound = min(answer.bound, self.dropped)
        return self.settler.settle(answer.taken, answer.heads, bound)


class _Leaf:
    """Depth-first search of one setup."""

    def __init__(
        self,
        search: Search,
        setup: Setup,
        items: list[list[int]],
        limit: float,
        unlike: tuple[int, ...] | None,
        nodes: int,
    ) -> None:
        self.search, self.limit, self.unlike, self.nodes = search, limit, unlike, nodes
        # Those with the most to lose by a second-best column come first.
        self.items = sorted(items, key=self._regret, reverse=True)
        self.tally = search._tally(setup)
        self.constant = search._constant(setup)
        self.taken: list[int] | None = None
        steps = [min(search.step[k] for k in row) for row in self.items]
        lows = [search.low[row[0]] for row in self.items]
        self.step_after = [sum(steps[i:]) for i in range(len(steps) + 1)]
        self.low_after = [sum(lows[i:]) for i in range(len(lows) + 1)]

    def _regret(self, row: list[int]) -> float:
        return self.search.low[row[1]] - self.search.low[row[0]] if len(row) > 1 else np.inf

    def _known(self, taken: list[int]) -> bool:
        """Whether it is the answer not wanted again, or that and an idle hose."""
        return self.unlike is not None and set(self.unlike) <= set(taken)

    def walk(self) -> None:
        """Search to the end, or until the nodes are spent."""
        base = self.constant + sum(
            0.0 if self.search.task.parts[p].owned else self.search.settler.bill(p, n[0])
            for p, n in self.tally.uses.items()
        )
        self._step(0, [], 0.0, base)

    def _step(self, depth: int, taken: list[int], weight: float, low: float) -> None:
        if depth == len(self.items):
            total = self.constant + weight + self.tally.weight
            if total < self.limit - _TINY and not self._known(taken):
                self.limit, self.taken = total, list(taken)
            return
        search, tally = self.search, self.tally
        options = []
        for k in self.items[depth]:
            parts = tally.with_column(k)
            ahead = self.constant + weight + search.weight[k] + parts + self.step_after[depth + 1]
            options.append((max(ahead, low + search.low[k] + self.low_after[depth + 1]), k))
        for bound, k in sorted(options):
            if bound >= self.limit - _TINY or self.nodes <= 0:
                break
            self.nodes -= 1
            tally.add(k)
            taken.append(k)
            self._step(depth + 1, taken, weight + search.weight[k], low + search.low[k])
            taken.pop()
            tally.add(k, -1)
