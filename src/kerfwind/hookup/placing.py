"""Which hose by reach: a hose that cannot get to a tool is no choice, and a spot has its price.

The program of chains knows hoses, not places. Here the places have their say twice: before
it, by leaving out hoses that reach a tool from no spot; after it, by finding the hoses for
which the unit need not be moved so often, with what each tool's other hose would add to the
answer. Whether that is worth a move is then weighed with the program's own second answer.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..shop import Hose, Shop, Tool
from .ends import Floats
from .free_floor import FreeFloor, free_floors
from .part_costs import Choice
from .reach import Circle, circle, fewest_sets, plugs, where
from .solving import Solved

#: Sets of spots carried on from one size to the next, and numbers that it looks at for them:
#: where spots and tools are very many, it carries on fewer.
MOST_SETS = 2000
_MOST_LOOKS = 200_000_000

Allowed = Mapping[str, frozenset[str]]


@dataclass(frozen=True)
class Reach:
    """Where each tool's hoses reach from.

    Attributes
    ----------
    tools, hoses
        Tools with a place, and the hoses that go to tools.
    serves
        Whether a hose reaches a tool from a spot, shape (spots, tools, hoses).
    """

    tools: tuple[Tool, ...]
    hoses: tuple[Hose, ...]
    serves: NDArray[np.bool_]

    def allowed(self) -> dict[str, frozenset[str]]:
        """By tool, the hoses that reach it from some spot; all where none does."""
        some: NDArray[np.bool_] = np.asarray(self.serves.any(axis=0))
        names = [h.name for h in self.hoses]
        near_by_tool: dict[str, frozenset[str]] = {}
        for tool, row in zip(self.tools, some, strict=True):
            fitting_hoses = [n for n in names if tool.hose in (None, n)]
            near = frozenset(
                n for n, ok in zip(names, row, strict=True) if ok and n in fitting_hoses
            )
            if near and len(near) < len(fitting_hoses):
                near_by_tool[tool.name] = near
        return near_by_tool

    def spots(self, of: Mapping[str, str]) -> int:
        """The fewest spots with each tool on the hose that ``of`` names; unreached ones aside."""
        names = [h.name for h in self.hoses]
        picked = [
            self.serves[:, i, names.index(of[t.name])]
            for i, t in enumerate(self.tools)
            if t.name in of
        ]
        member = np.array([p for p in picked if p.any()]).T
        return len(fewest_sets(member)) if member.size else 0

    def lightest(self, added: Floats, move: float) -> dict[str, str]:
        """Hoses for which added weight and moves together are least.

        Parameters
        ----------
        added
            What a tool's hose adds to the answer, shape (tools, hoses); infinite where it
            cannot be.
        move
            Weight of one more spot.
        """
        cost = np.where(self.serves, added[None], np.inf)
        tools: NDArray[np.bool_] = np.asarray(np.isfinite(cost).any(axis=(0, 2)))
        # Never more than what a tool's best hose adds wherever the unit stands.
        best = cost.min(axis=2)[:, tools]
        rows = _undominated(best)
        chosen = _lightest_set(best[rows], move)
        at_chosen = cost[rows[list(chosen)]][:, tools] if chosen else cost[:0, tools]
        names = [h.name for h in self.hoses]
        kept = [t for t, ok in zip(self.tools, tools, strict=True) if ok]
        return (
            {t.name: names[int(np.argmin(at_chosen[:, i].min(axis=0)))] for i, t in enumerate(kept)}
            if chosen
            else {}
        )


def reach(shop: Shop, footprint_m: tuple[float, float] | None = None) -> Reach | None:
    """Spots for all pairs of tool and hose; None where no tool has a place.

    ``footprint_m`` is that of the unit; by default the largest that the shop allows.
    """
    tools = tuple(t for t in shop.tools if t.place is not None)
    hoses = tuple(h for h in shop.hoses if h.use == "tool")
    if not tools or not hoses:
        return None
    return _reach(free_floors(shop, footprint_m), tools, hoses, plugs(shop))


def _reach(
    floors: tuple[FreeFloor, ...],
    tools: tuple[Tool, ...],
    hoses: tuple[Hose, ...],
    outlets: Sequence[Circle],
) -> Reach:
    circles = [circle(t, h.length.best_si) for t in tools for h in hoses]
    _, serves = where(floors, circles, outlets)
    return Reach(tools, hoses, serves.reshape(len(serves), len(tools), len(hoses)))


def _undominated(cost: Floats) -> NDArray[np.int64]:
    """Rows that no other row is at most equal to in every column."""
    kept: list[int] = []
    least = np.empty_like(cost)
    for row in np.argsort(np.where(np.isfinite(cost), cost, 1e9).sum(axis=1), kind="stable"):
        if not (least[: len(kept)] <= cost[row]).all(axis=1).any():
            least[len(kept)] = cost[row]
            kept.append(int(row))
    return np.array(kept, dtype=np.int64)


def _lightest_set(cost: Floats, move: float) -> tuple[int, ...]:
    """Rows for which the columns' least costs and ``move`` for each further row are least.

    Exact while no size has more than `MOST_SETS` sets worth going on with, or fewer where
    there are very many rows and columns.
    """
    if not cost.size:
        return ()
    most = min(MOST_SETS, max(_MOST_LOOKS // cost.size, 50))
    floor = float(cost.min(axis=0).sum())
    sets: list[tuple[tuple[int, ...], Floats]] = [((row,), cost[row]) for row in range(len(cost))]
    best: tuple[float, tuple[int, ...]] = (np.inf, ())
    for size in range(1, cost.shape[1] + 1):
        for rows, least in sets:
            weight = float(least.sum()) + move * (size - 1)
            if weight < best[0] - 1e-9:
                best = (weight, rows)
        if floor + move * size >= best[0] - 1e-9:
            break
        sets = _grown(sets, cost, most)
    return best[1]


def _grown(
    sets: list[tuple[tuple[int, ...], Floats]], cost: Floats, most: int
) -> list[tuple[tuple[int, ...], Floats]]:
    """Sets with one row more that lightens some column: the ``most`` lightest.

    Of all the others no more is held than what they weigh.
    """
    weights, behind, added = [np.zeros(0)], [np.zeros(0, int)], [np.zeros(0, int)]
    for number, (rows, least) in enumerate(sets):
        later = cost[rows[-1] + 1 :]
        lighter = np.flatnonzero((later < least).any(axis=1))
        together = np.minimum(least, later[lighter])
        weights.append(np.where(np.isfinite(together), together, 1e6).sum(axis=1))
        behind.append(np.full(len(lighter), number))
        added.append(lighter + rows[-1] + 1)
    order = np.argsort(np.concatenate(weights), kind="stable")[:most]
    pairs = zip(np.concatenate(behind)[order], np.concatenate(added)[order], strict=True)
    return [
        ((*sets[number][0], int(row)), np.minimum(sets[number][1], cost[row]))
        for number, row in pairs
    ]


def added_weights(shop: Shop, solved: Solved, best: Choice, reach: Reach) -> Floats:
    """What each hose would add to an answer for each tool, at least, shape (tools, hoses).

    Hoses as they are in the answer, with their heads; a hose not in use yet comes with the
    weight of using it.
    """
    task, least = solved.task, solved.least
    taken = {task.routes[c.route].hose for c in best.taken}
    follow = {h: least[(r, None)] for r, h in task.follows.items()}
    tools = {t.name: i for i, t in enumerate(reach.tools)}
    hoses = {h.name: i for i, h in enumerate(reach.hoses)}
    added = np.full((len(tools), len(hoses)), np.inf)
    for r, route in enumerate(task.routes):
        if route.tool not in tools:
            continue
        name = shop.hoses[route.hose].name
        used = route.hose in taken
        extra = 0.0 if used else task.hose_weight + follow.get(route.hose, 0.0)
        added[tools[route.tool], hoses[name]] = least[(r, best.heads.get(route.hose))] + extra
    return added
