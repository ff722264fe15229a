"""The chains worth considering for each route.

Left out is only what cannot be in a best answer: a chain that weighs more, whatever is
shared or owned already, than another chain of the same route made all of new pieces.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from ..shop import End, Fitting
from ..sources import fact
from .chains import UNREACHED, Column, Joining, Part, Route
from .ends import Floats, no_port
from .made import Made, plate, print_making, printed, stepped_cuff
from .model import Weights

#: What may stay on a hose for good; reducers and elbows stay on a tool or travel.
HEAD_KINDS = ("coupling", "cuff", "hose end")
#: Ways of using the hoses and of leaving heads on them that are weighed at most: they
#: multiply with every hose.
MOST_SETUPS = 200_000
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

    @cached_property
    def followers(self) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """Which oriented parts may come after each: where each one's begin, and they."""
        before, behind = np.nonzero(np.isfinite(self.after + self.weight))
        return np.searchsorted(before, np.arange(len(self.weight) + 1)), behind


def _alike(fitting: Fitting) -> bool:
    """Whether the two ends of a fitting are described just the same."""
    a, b = fitting.end_a, fitting.end_b
    if (a.material, a.joint, a.goes, a.nominal) != (b.material, b.joint, b.goes, b.nominal):
        return False
    pairs = ((a.inside, b.inside), (a.outside, b.outside), (a.length, b.length), (a.taper, b.taper))
    return all(
        (p.low_si, p.best_si, p.high_si) == (q.low_si, q.best_si, q.high_si) for p, q in pairs
    )


@dataclass(frozen=True)
class Lister:
    """Lists columns of the routes; the hoses' heads come in once it is known which may pay.

    ``left_out`` are heads that are not weighed, since there are too many; see `few_heads`.
    """

    parts: Sequence[Part]
    routes: Sequence[Route]
    joining: Joining
    weights: Weights
    own_printer: bool
    walk: _Walk
    left_out: frozenset[tuple[int, Head]] = frozenset()

    @classmethod
    def of(
        cls,
        parts: Sequence[Part],
        routes: Sequence[Route],
        joining: Joining,
        weights: Weights,
        own_printer: bool,
    ) -> Lister:
        """For one shop."""
        walk = _Walk.of(joining, parts, weights.change)
        return cls(parts, routes, joining, weights, own_printer, walk)

    def bare(self, most_kept: int = MOST_KEPT) -> Columns:
        """Columns of every route with nothing left on the hoses."""
        columns: list[Column] = []
        dropped: dict[tuple[int, Head | None], float] = {}
        for index, route in enumerate(self.routes):
            found, lost = self._of_route(index, route, None, most_kept)
            columns += found
            columns.append(Column(index, None, (), UNREACHED + route.air, unreached=True))
            if np.isfinite(lost):
                dropped[(index, None)] = lost
        return Columns(tuple(columns), {}, dropped)

    def with_heads(
        self, columns: Columns, heads: dict[tuple[int, Head], float], most_kept: int = MOST_KEPT
    ) -> Columns:
        """``columns`` and those that end in one of ``heads``, left on its hose."""
        more = list(columns.columns)
        dropped = dict(columns.dropped)
        for index, route in enumerate(self.routes):
            for hose, head in heads:
                if route.tool and route.hose == hose:
                    found, lost = self._of_route(index, route, head, most_kept)
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
            if self.parts[face // 2].fitting.kind in HEAD_KINDS
            and np.isfinite(self.joining.joint[face ^ 1, row] + self.walk.weight[face])
            and (hose, (face // 2, bool(face % 2))) not in self.left_out
        }

    def few_heads(self, hose_weight: float, most: int = MOST_SETUPS) -> tuple[Lister, float]:
        """A lister of so few heads that no more than ``most`` setups come of them.

        Those that could do most are kept. The other answer is a weight below which no answer
        with one of the others can be; infinite where all are kept.
        """
        heads = self.heads()
        hoses = sorted({r.hose for r in self.routes if r.tool})
        # A hose is out of use, bare, or carries one of its heads.
        ways = dict.fromkeys(hoses, 2)
        for hose, _ in heads:
            ways[hose] += 1
        if math.prod(ways.values()) <= most:
            return self, np.inf
        states = [*heads, *((hose, None) for hose in hoses)]
        least = self.least_with_heads(states)
        tools: dict[str, list[int]] = {}
        for index, route in enumerate(self.routes):
            if route.tool:
                tools.setdefault(route.tool, []).append(index)
        by_route: dict[int, float] = {}
        for (index, _), value in least.items():
            by_route[index] = min(value, by_route.get(index, np.inf))

        def low(hose: int, head: Head) -> float:
            total = hose_weight + heads[(hose, head)]
            for mine in tools.values():
                total += min(
                    least[(i, head)] if self.routes[i].hose == hose else by_route[i] for i in mine
                )
            return total

        lows = {key: low(*key) for key in heads}
        ways = dict.fromkeys(hoses, 2)
        out: list[tuple[int, Head]] = []
        for key in sorted(lows, key=lambda k: lows[k]):
            ways[key[0]] += 1
            if math.prod(ways.values()) > most:
                ways[key[0]] -= 1
                out.append(key)
        return replace(self, left_out=frozenset(out)), min(lows[key] for key in out)

    def least_with_heads(
        self, heads: Iterable[tuple[int, Head | None]]
    ) -> dict[tuple[int, Head | None], float]:
        """Least that each tool's route adds to any answer, by route and head (None: bare).

        The same walk as in `_of_route`, for all heads at once and without keeping chains.
        """
        walk, joining = self.walk, self.joining
        heads = list(heads)
        count = len(walk.weight)
        flip = np.arange(count) ^ 1
        least: dict[tuple[int, Head | None], float] = {}
        for index, route in enumerate(self.routes):
            mine = [g for hose, g in heads if route.tool and hose == route.hose]
            if not mine:
                continue
            start, hose_row = 2 * len(self.parts) + 2 * index, 2 * len(self.parts) + 2 * index + 1
            rows = np.array([hose_row if g is None else 2 * g[0] + g[1] for g in mine])
            ahead = np.array(
                [
                    0.0
                    if g is None
                    else joining.air[(2 * g[0] + g[1]) ^ 1, hose_row]
                    + joining.piece_air[g[0], int(g[1])]
                    for g in mine
                ]
            )
            low = np.full(len(mine), min(self.least_made(route), UNREACHED))
            if not no_port(route.upstream):
                leave = joining.joint[:, rows] + joining.remade[:, rows]
                enter = joining.joint[start, :count] + walk.weight + walk.cheap
                first = np.flatnonzero(np.isfinite(enter))
                behind = enter[first][:, None] + walk.after[first]
                second = behind.min(axis=0, initial=np.inf) + walk.weight + walk.cheap
                last = np.minimum(enter, second)
                some = np.flatnonzero(np.isfinite(last))
                whole = (last[some][:, None] + leave[flip[some]]).min(axis=0, initial=np.inf)
                low = np.minimum(low, np.minimum(leave[start], whole))
            for head, value in zip(mine, low + ahead + route.air, strict=True):
                least[(index, head)] = float(value)
        return least

    def least_made(self, route: Route) -> float:
        """Least price of a piece made to measure."""
        if no_port(route.upstream):
            return fact("hookup.plate_price").value
        return min(fact("hookup.stepped_cuff_price").value, print_making(self.own_printer))

    def _of_route(
        self, index: int, route: Route, head: Head | None, most_kept: int = MOST_KEPT
    ) -> tuple[list[Column], float]:
        """Columns that no other of the route beats however parts are paid for."""
        place = self.place(index, route, head)
        if route.tool and no_port(route.upstream):
            return [c for c in [place.made(plate(route.tool, place.end))] if c], np.inf
        columns = [place.made(stepped_cuff(route.upstream, place.end, place.mates)), place.direct()]
        best = min((c.weight for c in columns if c), default=np.inf)
        found = place.walks(self.walk.cheap, best, self.walk.new, 4 * most_kept)
        lost = np.inf
        if len(found) > most_kept:
            lost = found[most_kept][0]
            found = found[:most_kept]
        new = (w + sum(float(self.walk.new[f]) for f in faces) for _, w, faces in found)
        if place.fixed + print_making(self.own_printer) < min(new, default=best):
            columns.append(place.printed(self.own_printer))
        columns += [place.column(weight, faces) for _, weight, faces in found]
        return _undominated([c for c in columns if c], self.walk.new[::2]), lost

    def place(self, index: int, route: Route, head: Head | None) -> Place:
        """A route and what its hose carries."""
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
        return Place(self, index, route, head, start, row, end, route.air + ahead, mate)


@dataclass(frozen=True)
class Place:
    """A route and what its hose carries: where a chain starts and what it must reach."""

    lister: Lister
    index: int
    route: Route
    head: Head | None
    start: int
    row: int
    end: End
    fixed: float
    mate: str

    @property
    def mates(self) -> tuple[str, str]:
        """Names of the two ends."""
        return self.route.start, self.mate

    def _remade(self) -> Floats:
        remade = self.lister.joining.remade[:, self.row]
        return remade if self.route.tool else np.zeros(len(remade))

    def column(self, weight: float, faces: tuple[int, ...]) -> Column:
        """A chain of oriented parts."""
        return Column(self.index, self.head, tuple((f // 2, bool(f % 2)) for f in faces), weight)

    def made(self, made: Made | None) -> Column | None:
        """A piece made to measure."""
        if made is None:
            return None
        weights = self.lister.weights
        air = made.loss_pa / 1000 * weights.air_per_kpa
        weight = made.price + air + made.length_m * weights.hang_per_m + self.fixed
        return Column(self.index, self.head, (), weight, made)

    def printed(self, own_printer: bool) -> Column | None:
        """A printed reducer."""
        return self.made(printed(self.route.upstream, self.end, self.mates, own_printer))

    def direct(self) -> Column | None:
        """The two ends straight together."""
        joining = self.lister.joining
        weight = joining.joint[self.start, self.row] + self._remade()[self.start] + self.fixed
        return Column(self.index, self.head, (), float(weight)) if np.isfinite(weight) else None

    def walks(
        self, cheap: Floats, best: float, new: Floats | None, most: int
    ) -> list[tuple[float, float, tuple[int, ...]]]:
        """Chains of pieces as (weight with ``cheap``, weight without, oriented parts).

        Lightest first, none above ``best``, at most about ``most``. Where ``new`` is
        given, a chain of parts at those prices lowers ``best`` as it is found.
        """
        joining, walk = self.lister.joining, self.lister.walk
        count = len(walk.weight)
        if not count:
            return []
        flip = np.arange(count) ^ 1
        enter = joining.joint[self.start, :count] + walk.weight
        leave = joining.joint[flip, self.row] + self._remade()[flip] + self.fixed
        finder = _Finder(walk, cheap, new, enter, leave, best, most)
        finder.find()
        return sorted(f for f in finder.found if f[0] <= finder.best + 1e-9)


class _Finder:
    """Finds chains of one and of two pieces, all of a length at once.

    Three loose fittings in a row sag, leak and cost air; a reducer is printed sooner.
    """

    def __init__(
        self,
        walk: _Walk,
        cheap: Floats,
        new: Floats | None,
        enter: Floats,
        leave: Floats,
        best: float,
        most: int,
    ) -> None:
        self.walk, self.cheap, self.new, self.most = walk, cheap, new, most
        # Any chain that holds undercuts leaving the ends apart, or is not worth making.
        self.best = min(best, UNREACHED)
        self.enter, self.leave = enter, leave
        self.found: list[tuple[float, float, tuple[int, ...]]] = []

    def find(self) -> None:
        """Note every chain of one or two pieces."""
        enter, leave, walk = self.enter, self.leave, self.walk
        one = np.flatnonzero(np.isfinite(enter + leave))
        self._keep((enter + leave)[one], one[:, None])
        first = np.flatnonzero(enter + self.cheap < self.best)
        last = np.flatnonzero(leave + self.cheap < self.best)
        if not len(first) or not len(last):
            return
        middle = walk.after[np.ix_(first, last)] + walk.weight[last]
        two = enter[first][:, None] + middle + leave[last][None, :]
        low = two + self.cheap[first][:, None] + self.cheap[last]
        a, b = np.nonzero(low <= self.best + 1e-9)
        self._keep(two[a, b], np.stack([first[a], last[b]], axis=1))

    def _keep(self, weight: Floats, chosen: NDArray[np.int64]) -> None:
        low = weight + self.cheap[chosen].sum(axis=1)
        if self.new is not None:
            new = weight + self.new[chosen].sum(axis=1)
            self.best = min(self.best, float(new.min(initial=np.inf)))
        order = np.argsort(low, kind="stable")[: self.most]
        for i in order[low[order] <= self.best + 1e-9]:
            self.found.append((float(low[i]), float(weight[i]), tuple(int(f) for f in chosen[i])))


def _undominated(columns: list[Column], new: Floats) -> list[Column]:
    """Without columns that another beats whatever else is chosen.

    One beats another if it weighs no more even with the parts that the other does not
    use bought new, at the prices ``new`` of shape ``(parts,)``.
    """
    beside: dict[tuple[int, ...], float] = {}
    for column in columns:
        parts = tuple(sorted(p for p, _ in column.pieces))
        for n in range(len(parts) + 1):
            for common in set(combinations(parts, n)):
                extra = column.weight + float(sum(new[list(_without(parts, common))]))
                beside[common] = min(extra, beside.get(common, np.inf))
    kept: list[Column] = []
    seen: set[tuple[int, ...]] = set()
    for column in sorted(columns, key=lambda c: (c.weight, len(c.pieces))):
        mine = tuple(sorted(p for p, _ in column.pieces))
        fewer = [some for n in range(len(mine) + 1) for some in combinations(mine, n)]
        if column.weight <= min(beside[s] for s in fewer if s in beside) + 1e-12 and not any(
            some in seen for some in fewer
        ):
            kept.append(column)
            seen.add(mine)
    return kept


def _without(parts: tuple[int, ...], some: tuple[int, ...]) -> tuple[int, ...]:
    rest = list(parts)
    for part in some:
        rest.remove(part)
    return tuple(rest)
