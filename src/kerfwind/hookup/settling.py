"""What a set of chains costs together: who keeps a part, who borrows it, what is bought.

Once the columns are taken, each kind of part is settled by itself. With ``fixed`` uses
that cannot be borrowed (on the unit, on a hose) and some uses by tools, the cheapest of:
everyone keeps their own; or a number are shared, and some tools borrow.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from .chains import Column, Part, Route
from .columns import Columns, Head

Uses = tuple[int, tuple[int, ...]]


@dataclass(frozen=True)
class Task:
    """What is to be chosen.

    ``demands`` are groups of routes of which just one is made (one tool, by any hose);
    ``follows`` maps a route of the unit to the hose whose use calls for it. ``change`` is
    the weight of borrowing, ``hose_weight`` that of keeping a hose in use.
    """

    parts: Sequence[Part]
    routes: Sequence[Route]
    columns: Columns
    demands: Sequence[tuple[int, ...]]
    follows: dict[int, int]
    change: float
    hose_weight: float


@dataclass(frozen=True)
class Choice:
    """A whole answer.

    ``taken`` are the columns; ``borrowed`` counts by (route, part); ``bought`` by part;
    ``heads`` by hose. No answer weighs less than ``bound``.
    """

    taken: tuple[int, ...]
    heads: dict[int, Head]
    borrowed: dict[tuple[int, int], int]
    bought: dict[int, int]
    weight: float
    bound: float


@dataclass
class Settler:
    """Weighs what parts cost, remembering each combination of uses."""

    task: Task
    known: dict[tuple[int, int, tuple[int, ...]], tuple[float, int, int]] = field(
        default_factory=dict
    )

    def part(self, part: int, fixed: int, uses: tuple[int, ...]) -> tuple[float, int, int]:
        """Weight of one part's uses, how many are shared, how many times it is borrowed.

        ``uses`` holds the number that each tool needs, sorted.
        """
        key = (part, fixed, uses)
        answer = self.known.get(key)
        if answer is None:
            answer = self.known[key] = self._settle(part, fixed, uses)
        return answer

    def _settle(self, part: int, fixed: int, uses: tuple[int, ...]) -> tuple[float, int, int]:
        kind, all_uses = self.task.parts[part], fixed + sum(uses)
        best = (self.bill(part, all_uses), 0, 0)
        for shared in range(1, max(uses, default=0) + 1):
            for borrowed in range(1, sum(min(n, shared) for n in uses) + 1):
                needed = all_uses - borrowed + shared
                weight = self.bill(part, needed) + self.task.change * borrowed
                if weight < best[0] - 1e-12:
                    best = (weight, shared, borrowed)
                if needed <= kind.owned:
                    break
        return best

    def bill(self, part: int, needed: int) -> float:
        """Price of what is missing of a part; infinite where it is not on sale."""
        kind = self.task.parts[part]
        missing = max(0, needed - kind.owned)
        if not missing:
            return 0.0
        return float("inf") if kind.price is None else missing * kind.price

    def head_price(self, head: Head) -> float:
        """Least price of keeping a part on a hose."""
        return self.bill(head[0], 1)

    def weigh(self, taken: Iterable[int], heads: dict[int, Head]) -> float:
        """Weight of a whole answer."""
        columns = [self.task.columns.columns[k] for k in taken]
        weight = sum(c.weight for c in columns)
        weight += sum(self.task.columns.heads[(h, g)] for h, g in heads.items())
        weight += self.task.hose_weight * len({self.task.routes[c.route].hose for c in columns})
        for part, (fixed, uses) in count_uses(self.task.routes, columns, heads).items():
            weight += self.part(part, fixed, tuple(sorted(uses.values())))[0]
        return weight

    def settle(
        self, taken: Sequence[int], heads: dict[int, Head], bound: float | None = None
    ) -> Choice:
        """The whole answer for columns taken; ``bound`` is its own weight by default."""
        columns = [self.task.columns.columns[k] for k in taken]
        worn = {self.task.routes[c.route].hose for c in columns if c.head is not None}
        heads = {h: g for h, g in heads.items() if h in worn}
        borrowed: dict[tuple[int, int], int] = {}
        bought: dict[int, int] = {}
        for part, (fixed, uses) in count_uses(self.task.routes, columns, heads).items():
            _, shared, lent = self.part(part, fixed, tuple(sorted(uses.values())))
            needed = fixed + sum(uses.values()) - lent + shared
            if needed > self.task.parts[part].owned:
                bought[part] = needed - self.task.parts[part].owned
            # The tools that come last in the file borrow.
            for route in sorted(uses, reverse=True):
                take = min(lent, uses[route], shared)
                if take:
                    borrowed[(route, part)] = take
                    lent -= take
        weight = self.weigh(taken, heads)
        return Choice(
            tuple(sorted(taken)),
            heads,
            borrowed,
            bought,
            weight,
            weight if bound is None else min(bound, weight),
        )


def count_uses(
    routes: Sequence[Route], columns: Iterable[Column], heads: dict[int, Head]
) -> dict[int, tuple[int, dict[int, int]]]:
    """For each part: uses that cannot be borrowed, and uses by the tools' routes."""
    fixed: Counter[int] = Counter(part for part, _ in heads.values())
    by_tool: dict[int, Counter[int]] = {}
    for column in columns:
        for part, _ in column.pieces:
            if routes[column.route].tool:
                by_tool.setdefault(part, Counter())[column.route] += 1
            else:
                fixed[part] += 1
    return {part: (fixed[part], dict(by_tool.get(part, {}))) for part in {*fixed, *by_tool}}
