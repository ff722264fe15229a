"""The best answer of one setup: branch and bound over what is lent out.

Once it is settled how many of each part are lent out, the relaxed program is nearly
always whole; so those numbers are branched on first, and the use of a part by one tool
where that is not enough.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from .ends import Floats
from .relaxed import Limits, Relaxation, Relaxed
from .settling import Settler
from .slate import Chains, Ints

_WHOLE = 1e-6
#: Relaxed programs solved for one setup before HiGHS takes over, which has cuts as well.
MOST_SOLVED = 60
#: Nodes that HiGHS may look into, and how near to the best is near enough.
_MOST_NODES = 5_000
_NEAR = 5e-5


class Swaps:
    """Answers of one setup, made better by changing one tool's chain at a time."""

    def __init__(
        self,
        chains: Chains,
        user: Ints,
        tools: int,
        worn: Floats,
        settler: Settler,
        unlike: Ints | None = None,
    ) -> None:
        self.chains, self.user, self.tools, self.settler = chains, user, tools, settler
        self.first, self.last = chains.first >> 1, chains.last >> 1
        self.twice = (self.first >= 0) & (self.first == self.last)
        self.worn, self.unlike = worn, unlike
        order = np.argsort(user, kind="stable")
        edges = np.flatnonzero(np.diff(user[order])) + 1
        self.rows: list[Ints] = np.split(order, edges)
        self.fixed: dict[int, int] = {}
        self.uses: dict[int, list[int]] = {}

    def _phi(self, part: int, more: tuple[int, ...] = (), fixed: int = 0) -> float:
        uses = tuple(sorted([*self.uses.get(part, ()), *more]))
        return self.settler.part(part, self.fixed.get(part, 0) + fixed, uses)[0]

    def _needs(self, k: int) -> list[tuple[int, int]]:
        a, b = int(self.first[k]), int(self.last[k])
        if self.twice[k]:
            return [(b, 2)]
        return [(p, 1) for p in (a, b) if p >= 0]

    def _take(self, k: int) -> None:
        for p, n in self._needs(k):
            if self.user[k] < self.tools:
                self.uses.setdefault(p, []).append(n)
            else:
                self.fixed[p] = self.fixed.get(p, 0) + n

    def _give(self, k: int) -> None:
        for p, n in self._needs(k):
            if self.user[k] < self.tools:
                self.uses[p].remove(n)
            else:
                self.fixed[p] -= n

    def weigh(self, taken: list[int]) -> float:
        """Weight of chains and parts together."""
        self.fixed = {int(p): int(self.worn[p]) for p in np.flatnonzero(self.worn)}
        self.uses = {}
        for k in taken:
            self._take(k)
        parts = sorted({*self.fixed, *self.uses})
        return float(sum(self.chains.weight[taken])) + sum(self._phi(p) for p in parts)

    def improve(self, share: Floats, rounds: int = 12) -> tuple[float, list[int]]:
        """From each user's likeliest chain, change one at a time while it helps."""
        taken = [int(row[np.argmax(share[row])]) for row in self.rows]
        start = list(taken)
        self.weigh(taken)
        parts = np.unique(np.concatenate([self.first, self.last]))
        more = np.zeros((3, int(parts[-1]) + 2))

        def look(part: int, *, on_tool: bool) -> None:
            now = self._phi(part)
            for n in (1, 2):
                then = self._phi(part, (n,)) if on_tool else self._phi(part, (), n)
                more[n, part] = then - now

        def touched(row: Ints, k: int, *, on_tool: bool) -> Iterable[int]:
            """Parts whose weight is other for the tools; for the unit, all that it could use."""
            if on_tool:
                return [p for p, _ in self._needs(k)]
            return {int(p) for p in (*self.first[row], *self.last[row]) if p >= 0}

        tool_rows = [i for i, row in enumerate(self.rows) if self.user[row[0]] < self.tools]
        unit_rows = [i for i in range(len(self.rows)) if i not in set(tool_rows)]
        for p in parts[parts >= 0].tolist():
            look(p, on_tool=True)
        better = True
        while better and rounds > 0:
            better, rounds = False, rounds - 1
            for group, on_tool in ((tool_rows, True), (unit_rows, False)):
                for i in group:
                    row, old = self.rows[i], taken[i]
                    self._give(old)
                    for p in touched(row, old, on_tool=on_tool):
                        look(p, on_tool=on_tool)
                    a, b = self.first[row], self.last[row]
                    add = np.where(self.twice[row], more[2, b], more[1, a] + more[1, b])
                    total = self.chains.weight[row] + add
                    new = int(row[np.argmin(total)])
                    here = int(np.flatnonzero(row == old)[0])
                    if total.min() < total[here] - 1e-9:
                        better = True
                    else:
                        new = old
                    taken[i] = new
                    self._take(new)
                    for p in touched(row, new, on_tool=on_tool):
                        look(p, on_tool=True)
        if self._unwanted(taken):
            taken = start
        return np.inf if self._unwanted(taken) else self.weigh(taken), taken

    def neighbour(self, taken: list[int]) -> tuple[float, list[int] | None]:
        """The best answer that differs from ``taken`` in one chain, None where there is none."""
        best: tuple[float, list[int] | None] = (np.inf, None)
        for row in self.rows:
            old = next(k for k in taken if k in set(row.tolist()))
            rest = [k for k in taken if k != old]
            now = self.weigh(rest)
            for k in row.tolist():
                if k == old or now + self.chains.weight[k] >= best[0]:
                    continue
                self._take(k)
                parts = [p for p, _ in self._needs(k)]
                with_it = sum(self._phi(p) for p in parts)
                self._give(k)
                weight = (
                    now + float(self.chains.weight[k]) + with_it - sum(self._phi(p) for p in parts)
                )
                if weight < best[0]:
                    best = weight, [*rest, k]
        return best

    def _unwanted(self, taken: list[int]) -> bool:
        return self.unlike is not None and set(self.unlike.tolist()) <= set(taken)


@dataclass(order=True)
class _Node:
    bound: float
    number: int
    limits: Limits = field(compare=False)
    answer: Relaxed = field(compare=False)


@dataclass(frozen=True)
class Proof:
    """What is known of one setup, without what the setup itself costs.

    No answer weighs less than ``bound``; ``taken`` are the chains of the best below the
    limit, None where there is none.
    """

    bound: float
    weight: float
    taken: list[int] | None


def prove(
    relaxation: Relaxation,
    swaps: Swaps,
    root: Relaxed,
    limit: float,
    enough: Callable[[float], float],
    left_s: Callable[[], float],
    most: int = MOST_SOLVED,
) -> Proof:
    """The least weight below ``limit`` in one setup.

    Parameters
    ----------
    root
        The answer of the relaxed program.
    enough
        Given the best weight, the bound from which on nothing is looked into.
    left_s
        Time left [s].
    most
        Relaxed programs to solve before HiGHS takes over.
    """
    best: list[int] | None = None
    weight, bound, count = limit, np.inf, 0
    most += relaxation.solved
    least = relaxation.least(root.low)
    heap = [_Node(root.bound, 0, Limits.none(len(swaps.worn), len(root.chains)), root)]
    while heap:
        node = heapq.heappop(heap)
        found, taken = np.inf, best
        if node.bound < enough(weight):
            found, taken = swaps.improve(np.where(node.limits.out, -1.0, node.answer.chains))
        if found < weight - 1e-9:
            weight, best = found, taken
        if node.bound >= enough(weight):
            # The others' bounds are higher still.
            bound = min(bound, node.bound)
            break
        if relaxation.solved >= most or left_s() <= 0:
            bound = min(bound, node.bound)
            beyond = root.low - least[relaxation.user] > weight - root.bound + 1e-9
            if left_s() <= 0:
                break
            return _by_highs(relaxation, swaps, ~beyond, Proof(bound, weight, best), left_s())
        # What no answer below the best can use.
        beyond = root.low - least[relaxation.user] > weight - root.bound + 1e-9
        children = _children(relaxation, node)
        if not children:
            bound = min(bound, node.bound)
        for limits in children:
            limits = replace(limits, out=limits.out | beyond)
            answer = relaxation.solve(limits, enough(weight))
            if answer is not None:
                count += 1
                at = max(answer.bound, node.bound)
                heapq.heappush(heap, _Node(at, count, limits, answer))
    return Proof(min(bound, weight), weight, best)


def _by_highs(
    relaxation: Relaxation, swaps: Swaps, among: NDArray[np.bool_], known: Proof, time_s: float
) -> Proof:
    """The least weight among some chains, which all answers below the known use."""
    some = np.flatnonzero(among)
    x, bound = relaxation.whole(some, time_s, _NEAR, _MOST_NODES)
    weight, best = known.weight, known.taken
    if x is not None:
        found, taken = swaps.improve(x)
        if found < weight - 1e-9:
            weight, best = found, taken
    return Proof(min(max(bound, known.bound), weight), weight, best)


def _children(relaxation: Relaxation, node: _Node) -> list[Limits]:
    limits, answer = node.limits, node.answer
    user, first, last = relaxation.user, relaxation.chains.first, relaxation.chains.last
    some = np.flatnonzero(answer.chains > _WHOLE)
    part = np.abs(answer.shared - np.round(answer.shared))
    if part.max(initial=0.0) > _WHOLE:
        at = int(np.argmax(part * (relaxation.users.sum(axis=0) + 1)))
        less, more = limits.high.copy(), limits.low.copy()
        less[at], more[at] = np.floor(answer.shared[at]), np.ceil(answer.shared[at])
        return [replace(limits, high=less), replace(limits, low=more)]
    # How much of each user's chain goes through each part.
    total: dict[tuple[int, int], float] = {}
    for k in some.tolist():
        for p in {int(first[k]) >> 1, int(last[k]) >> 1} - {-1}:
            key = (int(user[k]), p)
            total[key] = total.get(key, 0.0) + float(answer.chains[k])
    halves = {key: min(x, 1 - x) for key, x in total.items() if min(x, 1 - x) > _WHOLE}
    if halves:
        who, at = max(halves, key=lambda key: halves[key])
        through = (first >> 1 == at) | (last >> 1 == at)
        mine = user == who
        return [
            replace(limits, out=limits.out | (mine & some_way)) for some_way in (through, ~through)
        ]
    split = np.minimum(answer.chains, 1 - answer.chains)
    if split.max(initial=0.0) <= _WHOLE:
        return []
    one = np.arange(len(split)) == int(np.argmax(split))
    rest = (user == user[one][0]) & ~one
    return [replace(limits, out=limits.out | some_way) for some_way in (one, rest)]
