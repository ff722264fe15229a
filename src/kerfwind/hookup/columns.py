"""The chains worth considering for each route.

Left out is only what cannot be in a best answer: a chain that weighs more, whatever is
shared or owned already, than another chain of the same route made all of new pieces.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from ..shop import Fitting
from ..sources import fact
from .chains import UNREACHED, Column, Joining, Part, Route
from .ends import Floats, no_port
from .made import Made, plate, print_making, printed, stepped_cuff
from .model import Weights

MOST_PIECES = 3
#: Chains kept of one route and head; what is beyond is told by `Columns.dropped`.
MOST_KEPT = 400

Pieces = tuple[tuple[int, bool], ...]
Head = tuple[int, bool]


@dataclass(frozen=True)
class Columns:
    """All columns, and the heads that hoses may carry with the weight of their joint.

    ``dropped`` is, by route and head, the least that a chain left out for number alone
    would have added to any answer.
    """

    columns: tuple[Column, ...]
    heads: dict[tuple[int, Head], float]
    dropped: dict[tuple[int, Head | None], float]


@dataclass(frozen=True)
class _Walk:
    """Oriented parts ``2 p + turned``: weight of each, of each after each, least price.

    ``cheap`` is the least that a part adds whatever else is chosen; ``new`` its price.
    """

    weight: Floats
    after: Floats
    cheap: Floats
    new: Floats

    @classmethod
    def of(cls, joining: Joining, parts: Sequence[Part], change: float) -> _Walk:
        count = 2 * len(parts)
        weight = (joining.piece_air + joining.piece_hang[:, None]).reshape(count)
        # A part with two like ends is the same thing turned: one way round is enough.
        weight[[2 * i + 1 for i, p in enumerate(parts) if _alike(p.fitting)]] = np.inf
        faces = np.arange(count)
        after = joining.joint[np.ix_(faces ^ 1, faces)]
        new = np.array([np.inf if p.price is None else p.price for p in parts])
        cheap = np.where([p.owned > 0 for p in parts], 0.0, np.minimum(new, change))
        return cls(weight, after, np.repeat(cheap, 2), np.repeat(new, 2))


def _alike(fitting: Fitting) -> bool:
    """Whether the two ends of a fitting are described just the same."""
    a, b = fitting.end_a, fitting.end_b
    if (a.material, a.joint, a.goes, a.nominal) != (b.material, b.joint, b.goes, b.nominal):
        return False
    pairs = ((a.inside, b.inside), (a.outside, b.outside), (a.length, b.length), (a.taper, b.taper))
    return all((p.low_si, p.best_si, p.high_si) == (q.low_si, q.best_si, q.high_si)
               for p, q in pairs)  # fmt: skip


@dataclass(frozen=True)
class Lister:
    """Lists columns of the routes; the hoses' heads come in once it is known which may pay."""

    parts: Sequence[Part]
    routes: Sequence[Route]
    joining: Joining
    weights: Weights
    own_printer: bool
    walk: _Walk

    @classmethod
    def of(
        cls, parts: Sequence[Part], routes: Sequence[Route], joining: Joining, weights: Weights,
        own_printer: bool,
    ) -> Lister:  # fmt: skip
        """For one shop."""
        walk = _Walk.of(joining, parts, weights.change)
        return cls(parts, routes, joining, weights, own_printer, walk)

    def bare(self) -> Columns:
        """Columns of every route with nothing left on the hoses."""
        columns: list[Column] = []
        dropped: dict[tuple[int, Head | None], float] = {}
        for index, route in enumerate(self.routes):
            found, lost = self._of_route(index, route, None)
            columns += found
            columns.append(Column(index, None, (), UNREACHED + route.air, unreached=True))
            if np.isfinite(lost):
                dropped[(index, None)] = lost
        return Columns(tuple(columns), {}, dropped)

    def with_heads(self, columns: Columns, heads: dict[tuple[int, Head], float]) -> Columns:
        """``columns`` and those that end in one of ``heads``, left on its hose."""
        more = list(columns.columns)
        dropped = dict(columns.dropped)
        for index, route in enumerate(self.routes):
            for hose, head in heads:
                if route.tool and route.hose == hose:
                    found, lost = self._of_route(index, route, head)
                    more += found
                    if np.isfinite(lost):
                        dropped[(index, head)] = lost
        used = {(self.routes[c.route].hose, c.head) for c in more if c.head is not None}
        worn = columns.heads | {k: w for k, w in heads.items() if k in used}
        return Columns(tuple(more), worn, dropped)

    def heads(self) -> dict[tuple[int, Head], float]:
        """Pieces that could stay on a hose, with the weight of their joint to it.

        Worth it only for several tools; one tool's last piece stays on the tool.
        """
        users: dict[int, list[int]] = {}
        for index, route in enumerate(self.routes):
            if route.tool:
                users.setdefault(route.hose, []).append(index)
        first = 2 * len(self.parts)
        return {
            (hose, (face // 2, bool(face % 2))): float(self.joining.fixing[face ^ 1, row])
            for hose, mine in users.items()
            if len(mine) > 1
            for row in [first + 2 * mine[0] + 1]
            for face in range(first)
            if np.isfinite(self.joining.joint[face ^ 1, row] + self.walk.weight[face])
        }

    def least_with_heads(
        self, heads: dict[tuple[int, Head], float]
    ) -> dict[tuple[int, Head | None], float]:
        """Least that each tool's route adds to any answer, by route and head.

        The same walk as in `_of_route`, for all heads at once and without keeping chains.
        """
        walk, joining = self.walk, self.joining
        count = len(walk.weight)
        flip = np.arange(count) ^ 1
        least: dict[tuple[int, Head | None], float] = {}
        for index, route in enumerate(self.routes):
            mine = [g for hose, g in heads if route.tool and hose == route.hose]
            if not mine:
                continue
            start, hose_row = 2 * len(self.parts) + 2 * index, 2 * len(self.parts) + 2 * index + 1
            rows = np.array([2 * p + t for p, t in mine])
            ahead = joining.air[rows ^ 1, hose_row] + np.array(
                [joining.piece_air[p, int(t)] for p, t in mine]
            )
            low = np.full(len(mine), self._least_made(route))
            if not no_port(route.upstream):
                leave = joining.joint[:, rows] + joining.remade[:, rows]
                enter = joining.joint[start, :count] + walk.weight + walk.cheap
                second = (enter[:, None] + walk.after).min(axis=0) + walk.weight + walk.cheap
                last = np.minimum(enter, second)[:, None] + leave[flip]
                low = np.minimum(low, np.minimum(leave[start], last.min(axis=0)))
            for head, value in zip(mine, low + ahead + route.air, strict=True):
                least[(index, head)] = float(value)
        return least

    def _least_made(self, route: Route) -> float:
        if no_port(route.upstream):
            return fact("hookup.plate_price").value
        return min(fact("hookup.stepped_cuff_price").value, print_making(self.own_printer))

    def _of_route(self, index: int, route: Route, head: Head | None) -> tuple[list[Column], float]:
        joining, parts = self.joining, self.parts
        start, hose_row = 2 * len(parts) + 2 * index, 2 * len(parts) + 2 * index + 1
        if head is None:
            row, end, ahead, mate = hose_row, route.downstream, 0.0, route.finish
        else:
            part, turned = head
            row = 2 * part + turned
            fitting = parts[part].fitting
            end = fitting.end_b if turned else fitting.end_a
            ahead = float(joining.piece_air[part, int(turned)] + joining.air[row ^ 1, hose_row])
            mate = fitting.name
        fixed = route.air + ahead
        remade = joining.remade[:, row] if route.tool else np.zeros(len(joining.remade))
        columns: list[Column] = []
        mates = (route.start, mate)

        def add(made: Made | None) -> float:
            if made is None:
                return np.inf
            weight = made.price + fixed + _weigh(made, self.weights)
            columns.append(Column(index, head, (), weight, made))
            return weight

        if route.tool and no_port(route.upstream):
            add(plate(route.tool, end))
            return columns, np.inf
        best = add(stepped_cuff(route.upstream, end, mates))
        direct = float(joining.joint[start, row] + remade[start] + fixed)
        if np.isfinite(direct):
            columns.append(Column(index, head, (), direct))
            best = min(best, direct)
        most = MOST_PIECES - (head is not None)
        found = _walks(start, row, joining, self.walk, remade, fixed, best, most)
        lost = np.inf
        if len(found) > MOST_KEPT:
            lost = found[MOST_KEPT][0]
            found = found[:MOST_KEPT]
        new = (w + sum(float(self.walk.new[f]) for f in faces) for _, w, faces in found)
        if fixed + print_making(self.own_printer) < min(new, default=best):
            add(printed(route.upstream, end, mates, self.own_printer))
        for _, weight, faces in found:
            pieces = tuple((f // 2, bool(f % 2)) for f in faces)
            columns.append(Column(index, head, pieces, weight))
        return _undominated(columns), lost


def _weigh(made: Made, weights: Weights) -> float:
    return made.loss_pa / 1000 * weights.air_per_kpa + made.length_m * weights.hang_per_m


def _walks(
    start: int, row: int, joining: Joining, walk: _Walk, remade: Floats, fixed: float,
    best: float, most: int,
) -> list[tuple[float, float, tuple[int, ...]]]:  # fmt: skip
    """Chains of pieces as (least possible weight, weight, oriented parts), lightest first."""
    count = len(walk.weight)
    if not count or most < 1:
        return []
    faces = np.arange(count)
    enter = joining.joint[start, :count] + walk.weight
    leave = joining.joint[faces ^ 1, row] + remade[faces ^ 1] + fixed
    found: list[tuple[float, float, tuple[int, ...]]] = []

    def keep(weight: Floats, chosen: NDArray[np.int64], best: float) -> float:
        """Note chains of the same length, and the bound after them."""
        low = weight + walk.cheap[chosen].sum(axis=1)
        new = weight + walk.new[chosen].sum(axis=1)
        best = min(best, float(new.min(initial=np.inf)))
        order = np.argsort(low, kind="stable")[: 4 * MOST_KEPT]
        for i in order[low[order] <= best + 1e-9]:
            found.append((float(low[i]), float(weight[i]), tuple(int(f) for f in chosen[i])))
        return best

    one = np.flatnonzero(np.isfinite(enter + leave))
    best = keep((enter + leave)[one], one[:, None], best)
    low_enter = enter + walk.cheap
    first = np.flatnonzero(low_enter < best)
    low_leave = leave + walk.cheap
    last = np.flatnonzero(low_leave < best)
    if most >= 2 and len(first) and len(last):
        middle = walk.after[np.ix_(first, last)] + walk.weight[last]
        two = enter[first][:, None] + middle + leave[last][None, :]
        a, b = np.nonzero(np.isfinite(two))
        best = keep(two[a, b], np.stack([first[a], last[b]], axis=1), best)
    if most >= 3 and len(first) and len(last):
        best = _three(walk, enter, leave, first, last, best, keep)
    return sorted(f for f in found if f[0] <= best + 1e-9)


def _three(walk: _Walk, enter: Floats, leave: Floats, first: NDArray[np.int64],
           last: NDArray[np.int64], best: float, keep: object) -> float:  # fmt: skip
    assert callable(keep)
    to_last = walk.after[:, last] + walk.weight[last] + leave[last]
    nearest = (to_last + walk.cheap[last]).min(axis=1)
    for f in first:
        step = enter[f] + walk.after[f] + walk.weight
        low = step + walk.cheap + walk.cheap[f] + nearest
        middle = np.flatnonzero(low <= best + 1e-9)
        if not len(middle):
            continue
        total = step[middle][:, None] + to_last[middle]
        m, b = np.nonzero(np.isfinite(total))
        chosen = np.stack([np.full(len(m), f), middle[m], last[b]], axis=1)
        best = keep(total[m, b], chosen, best)
    return best


def _undominated(columns: list[Column]) -> list[Column]:
    """Without columns that a lighter one beats with the same parts or some of them."""
    kept: list[Column] = []
    seen: set[tuple[int, ...]] = set()
    for column in sorted(columns, key=lambda c: (c.weight, len(c.pieces))):
        mine = sorted(p for p, _ in column.pieces)
        fewer = (some for n in range(len(mine) + 1) for some in combinations(mine, n))
        if not any(some in seen for some in fewer):
            kept.append(column)
            seen.add(tuple(mine))
    return kept
