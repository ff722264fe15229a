"""What parts cost once the chains are chosen: who keeps a part, who borrows it, what is bought.

Each kind of part is reckoned by itself. Some of its uses cannot be borrowed (on the unit,
on a hose); the others are by tools. The cheapest of these is taken: every tool keeps its
own; or some pieces are shared, and some tools borrow them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from .chains import Candidate, Head, Part, Route


@dataclass(frozen=True)
class Task:
    """What is to be chosen.

    Attributes
    ----------
    demands
        Groups of routes of which just one is made: one tool, by any hose.
    follows
        For each route of the unit, the hose whose use calls for it.
    heads
        Pieces that may stay on a hose, by hose and piece, with the weight of their joint.
    change
        Weight of borrowing a piece.
    hose_weight
        Weight of keeping a hose in use.
    """

    parts: Sequence[Part]
    routes: Sequence[Route]
    demands: Sequence[tuple[int, ...]]
    follows: dict[int, int]
    heads: dict[tuple[int, Head], float]
    change: float
    hose_weight: float


@dataclass(frozen=True)
class Choice:
    """A whole answer.

    Attributes
    ----------
    taken
        The candidates chosen, in the order of their routes.
    heads
        The piece that stays on a hose, by hose.
    borrowed
        How many pieces are borrowed, by route and part.
    bought
        How many pieces are bought, by part.
    bound
        No answer weighs less than this.
    """

    taken: tuple[Candidate, ...]
    heads: dict[int, Head]
    borrowed: dict[tuple[int, int], int]
    bought: dict[int, int]
    weight: float
    bound: float


@dataclass
class PartCosts:
    """Weighs what parts cost, and remembers each combination of uses."""

    task: Task
    known: dict[tuple[int, int, tuple[int, ...]], tuple[float, int, int]] = field(
        default_factory=dict
    )
    known_counts: dict[tuple[int, tuple[int, ...]], float] = field(default_factory=dict)

    def part(self, part: int, fixed: int, uses: tuple[int, ...]) -> tuple[float, int, int]:
        """Weight of one part's uses, how many are shared, how many times it is borrowed.

        ``uses`` holds the number that each tool needs, sorted.
        """
        key = (part, fixed, uses)
        answer = self.known.get(key)
        if answer is None:
            answer = self.known[key] = self._cheapest(part, fixed, uses)
        return answer

    def by_count(self, part: int, counts: tuple[int, ...]) -> float:
        """Weight of one part's uses, counted: those fixed, tools that need one, two, ..."""
        key = (part, counts)
        weight = self.known_counts.get(key)
        if weight is None:
            uses = tuple(n for n, tools in enumerate(counts[1:], 1) for _ in range(tools))
            weight = self.known_counts[key] = self.part(part, counts[0], uses)[0]
        return weight

    def _cheapest(self, part: int, fixed: int, uses: tuple[int, ...]) -> tuple[float, int, int]:
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

    def weigh(self, taken: Sequence[Candidate], heads: dict[int, Head]) -> float:
        """Weight of a whole answer."""
        routes = self.task.routes
        weight = sum(c.weight for c in taken)
        weight += sum(self.task.heads[(hose, head)] for hose, head in heads.items())
        weight += self.task.hose_weight * len({routes[c.route].hose for c in taken})
        for part, (fixed, uses) in count_uses(routes, taken, heads).items():
            weight += self.part(part, fixed, tuple(sorted(uses.values())))[0]
        return weight

    def choice(self, taken: Iterable[Candidate], heads: dict[int, Head], bound: float) -> Choice:
        """The whole answer for candidates taken."""
        routes = self.task.routes
        taken = tuple(sorted(taken, key=lambda c: c.route))
        used_heads = {routes[c.route].hose for c in taken if c.head is not None}
        heads = {hose: head for hose, head in heads.items() if hose in used_heads}
        borrowed: dict[tuple[int, int], int] = {}
        bought: dict[int, int] = {}
        for part, (fixed, uses) in count_uses(routes, taken, heads).items():
            _, shared, to_borrow = self.part(part, fixed, tuple(sorted(uses.values())))
            needed = fixed + sum(uses.values()) - to_borrow + shared
            if needed > self.task.parts[part].owned:
                bought[part] = needed - self.task.parts[part].owned
            # The tools that come last in the file borrow.
            for route in sorted(uses, reverse=True):
                take = min(to_borrow, uses[route], shared)
                if take:
                    borrowed[(route, part)] = take
                    to_borrow -= take
        weight = self.weigh(taken, heads)
        return Choice(taken, heads, borrowed, bought, weight, min(bound, weight))


def count_uses(
    routes: Sequence[Route], taken: Iterable[Candidate], heads: dict[int, Head]
) -> dict[int, tuple[int, dict[int, int]]]:
    """For each part: uses that cannot be borrowed, and uses by the tools' routes."""
    fixed: Counter[int] = Counter(part for part, _ in heads.values())
    by_tool: dict[int, Counter[int]] = {}
    for candidate in taken:
        for part, _ in candidate.pieces:
            if routes[candidate.route].tool:
                by_tool.setdefault(part, Counter())[candidate.route] += 1
            else:
                fixed[part] += 1
    return {part: (fixed[part], dict(by_tool.get(part, {}))) for part in {*fixed, *by_tool}}
