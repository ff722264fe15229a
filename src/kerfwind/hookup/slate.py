"""Every chain of every route, bare or to any head, side by side as arrays.

For large shops: so many chains are never made one by one. A *place* is a route with what
its hose carries; the chains of one place stand together.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from ..sources import fact
from .chains import UNREACHED, Column
from .columns import Head, Lister
from .ends import Floats, no_port
from .made import plate, print_making, stepped_cuff, takes_cuff

Ints = NDArray[np.int64]
_TINY = 1e-9


@dataclass(frozen=True)
class Chains:
    """Chains side by side: oriented parts ``first`` and ``last``, -1 for none, and weight.

    A chain of one piece has only ``last``; with neither the two ends meet, or something
    is made or left apart: then ``other`` is its number in `Slate.others`, else -1.
    """

    place: Ints
    first: Ints
    last: Ints
    weight: Floats
    other: Ints

    def __len__(self) -> int:
        return len(self.weight)

    def __getitem__(self, which: Ints | NDArray[np.bool_]) -> Chains:
        return Chains(
            self.place[which],
            self.first[which],
            self.last[which],
            self.weight[which],
            self.other[which],
        )


@dataclass
class Slate:
    """All chains of a shop.

    Attributes
    ----------
    chains
        By place; what is made to measure is not among them but in ``made_low``.
    start
        Where each place begins in ``chains``, and the end.
    places, number
        Route and head of each place, and the place of each route and head.
    made_low
        By place, the least that a piece made to measure could weigh; what it does weigh
        once `whole` was asked.
    """

    lister: Lister
    heads: dict[int, list[Head | None]]
    chains: Chains
    start: Ints
    places: list[tuple[int, Head | None]]
    number: dict[tuple[int, Head | None], int]
    made_low: Floats
    others: list[Column] = field(default_factory=list)
    _whole: dict[int, Chains] = field(default_factory=dict)

    @classmethod
    def of(cls, lister: Lister) -> Slate:
        """Every chain that no other of its place beats whatever else is chosen."""
        heads: dict[int, list[Head | None]] = {r.hose: [None] for r in lister.routes}
        for hose, head in lister.heads():
            heads[hose].append(head)
        mouths: dict[tuple[int, bool], _Mouths] = {}
        stubs: dict[int, _Some] = {}
        places: list[tuple[int, Head | None]] = []
        blocks: list[_Some] = []
        numbers, made_low = [], []
        for index, route in enumerate(lister.routes):
            tool = bool(route.tool)
            key = (route.hose if tool else index, tool)
            if key not in mouths:
                mouths[key] = _Mouths.of(lister, index, heads[route.hose] if tool else [None])
            end = mouths[key]
            if id(route.upstream) not in stubs:
                stubs[id(route.upstream)] = _stubs(lister, index)
            found = end.reached(lister, index, stubs[id(route.upstream)])
            numbers.append(found.place + len(places))
            blocks.append(found)
            places += [(index, head) for head in end.heads]
            made_low.append(end.made_low(lister, index))
        place = np.concatenate(numbers)
        first, last = (np.concatenate([getattr(b, n) for b in blocks]) for n in ("first", "last"))
        weight = np.concatenate([b.weight for b in blocks])
        chains = Chains(place, first, last, weight, np.full(len(weight), -1))
        chains = chains[_undominated(chains, lister.walk.new)]
        start = np.searchsorted(chains.place, np.arange(len(places) + 1))
        return cls(
            lister,
            heads,
            chains,
            start,
            places,
            {p: i for i, p in enumerate(places)},
            np.concatenate(made_low),
        )

    def whole(self, place: int) -> Chains:
        """The chains of one place, with what can be made for it."""
        found = self._whole.get(place)
        if found is None:
            found = self._whole[place] = self._with_made(place)
        return found

    def _with_made(self, number: int) -> Chains:
        index, head = self.places[number]
        lister = self.lister
        route = lister.routes[index]
        place = lister.place(index, route, head)
        chains = self.chains[np.arange(self.start[number], self.start[number + 1])]
        others: list[Column | None] = []
        if route.tool and no_port(route.upstream):
            others.append(place.made(plate(route.tool, place.end)))
        else:
            others.append(place.made(stepped_cuff(route.upstream, place.end, place.mates)))
            new = chains.weight + _price(lister.walk.new, chains)
            best = min([float(new.min(initial=np.inf)), *(c.weight for c in others if c)])
            if place.fixed + print_making(lister.own_printer) < best:
                others.append(place.printed(lister.own_printer))
            best = min([best, *(c.weight for c in others if c)])
            low = chains.weight + _price(lister.walk.cheap, chains)
            chains = chains[low <= best + _TINY]
        if head is None:
            others.append(Column(index, None, (), UNREACHED + route.air, unreached=True))
        # Of what takes no part the lightest; of likes, the ends joined directly.
        more = (
            [min((c for c in others if c is not None), key=lambda c: c.weight)]
            if any(others)
            else []
        )
        direct = chains.last < 0
        if direct.any() and more and more[0].weight < float(chains.weight[direct][0]):
            chains = chains[~direct]
        elif direct.any():
            more = []
        self.made_low[number] = min((c.weight for c in more if c.made), default=np.inf)
        here = len(self.others) + np.arange(len(more))
        self.others += more
        none = np.full(len(more), -1)
        return Chains(
            np.concatenate([chains.place, np.full(len(more), number)]),
            np.concatenate([chains.first, none]),
            np.concatenate([chains.last, none]),
            np.concatenate([chains.weight, [c.weight for c in more]]),
            np.concatenate([chains.other, here]),
        )

    def column(self, chains: Chains, at: int) -> Column:
        """One chain as a column."""
        other = int(chains.other[at])
        if other >= 0:
            return self.others[other]
        index, head = self.places[int(chains.place[at])]
        faces = [int(f) for f in (chains.first[at], chains.last[at]) if f >= 0]
        pieces = tuple((f // 2, bool(f % 2)) for f in faces)
        return Column(index, head, pieces, float(chains.weight[at]))


def _price(by_face: Floats, chains: Chains) -> Floats:
    """Sum over the parts of each chain."""
    priced = np.append(by_face, 0.0)
    total: Floats = priced[chains.first] + priced[chains.last]
    return total


@dataclass(frozen=True)
class _Some:
    """Oriented parts and weight of some chains or stubs of one route; ``place`` of chains."""

    place: Ints
    first: Ints
    last: Ints
    weight: Floats


def _stubs(lister: Lister, index: int) -> _Some:
    """None, one or two pieces on the upstream end of a route.

    A stub that weighs more, whatever is owned or shared, than another that leaves the
    same open end and is made all of new pieces is left out.
    """
    walk, start = lister.walk, 2 * len(lister.parts) + 2 * index
    count = len(walk.weight)
    enter = lister.joining.joint[start, :count] + walk.weight
    one = np.flatnonzero(np.isfinite(enter))
    at, after = walk.followers
    number = np.diff(at)[one]
    a = np.repeat(one, number)
    b = after[np.repeat(at[one], number) + _within(number)]
    weight = np.concatenate([enter[one], enter[a] + walk.after[a, b] + walk.weight[b]])
    first, last = np.concatenate([np.full(len(one), -1), a]), np.concatenate([one, b])
    new, cheap = np.append(walk.new, 0.0), np.append(walk.cheap, 0.0)
    best = np.full(count, np.inf)
    np.minimum.at(best, last, weight + new[first] + new[last])
    keep = weight + cheap[first] + cheap[last] <= best[last] + _TINY
    return _Some(np.zeros(0, np.int64), first[keep], last[keep], weight[keep])


def _within(numbers: Ints) -> Ints:
    """0, 1, … within each of a row of groups of so many."""
    ends = np.cumsum(numbers)
    return np.arange(ends[-1] if len(ends) else 0) - np.repeat(ends - numbers, numbers)


@dataclass(frozen=True)
class _Mouths:
    """What a route may end in: the bare hose, or a head on it, one after the other.

    ``rows`` are their rows in `Joining`, ``ahead`` the air lost beyond. The ends that fit
    the open end of an oriented part ``f`` are ``place[at[f]:at[f + 1]]``, and ``leave``
    is what joining them weighs.
    """

    heads: list[Head | None]
    rows: Ints
    ahead: Floats
    cuffs: NDArray[np.bool_]
    at: Ints
    place: Ints
    leave: Floats

    @classmethod
    def of(cls, lister: Lister, index: int, heads: list[Head | None]) -> _Mouths:
        """The ends that one route, and all routes of the same hose, may have."""
        joining, faces = lister.joining, np.arange(len(lister.walk.weight))
        places = [lister.place(index, lister.routes[index], head) for head in heads]
        rows = np.array([p.row for p in places])
        leave = joining.joint[np.ix_(faces ^ 1, rows)]
        if lister.routes[index].tool:
            leave = leave + joining.remade[np.ix_(faces ^ 1, rows)]
        face, place = np.nonzero(np.isfinite(leave))
        return cls(
            heads,
            rows,
            np.array([p.fixed for p in places]) - lister.routes[index].air,
            np.array([takes_cuff(p.end) for p in places], dtype=bool),
            np.searchsorted(face, np.arange(len(faces) + 1)),
            place,
            leave[face, place],
        )

    def reached(self, lister: Lister, index: int, stubs: _Some) -> _Some:
        """Chains of one route that no other of their place beats with all its pieces new."""
        walk, joining, route = lister.walk, lister.joining, lister.routes[index]
        if route.tool and no_port(route.upstream):
            none = np.zeros(0, dtype=np.int64)
            return _Some(none, none, none, np.zeros(0))
        number = np.diff(self.at)[stubs.last]
        stub = np.repeat(np.arange(len(number)), number)
        end = np.repeat(self.at[stubs.last], number) + _within(number)
        start = 2 * len(lister.parts) + 2 * index
        direct = joining.joint[start, self.rows]
        if route.tool:
            direct = direct + joining.remade[start, self.rows]
        none = np.full(int(np.isfinite(direct).sum()), -1)
        place = np.concatenate([np.flatnonzero(np.isfinite(direct)), self.place[end]])
        first = np.concatenate([none, stubs.first[stub]])
        last = np.concatenate([none, stubs.last[stub]])
        weight = np.concatenate([direct[np.isfinite(direct)], stubs.weight[stub] + self.leave[end]])
        weight += (self.ahead + route.air)[place]
        new, cheap = np.append(walk.new, 0.0), np.append(walk.cheap, 0.0)
        best = UNREACHED + route.air + self.ahead
        np.minimum.at(best, place, weight + new[first] + new[last])
        keep = np.flatnonzero(weight + cheap[first] + cheap[last] <= best[place] + _TINY)
        keep = keep[np.argsort(place[keep], kind="stable")]
        return _Some(place[keep], first[keep], last[keep], weight[keep])

    def made_low(self, lister: Lister, index: int) -> Floats:
        """By place, the least that a piece made to measure could weigh."""
        route = lister.routes[index]
        if route.tool and no_port(route.upstream):
            least = np.full(len(self.rows), fact("hookup.plate_price").value)
        else:
            printing = print_making(lister.own_printer)
            cuff = fact("hookup.stepped_cuff_price").value
            cuffs = self.cuffs & takes_cuff(route.upstream)
            least = np.where(cuffs, min(cuff, printing), printing)
        return least + route.air + self.ahead


def _undominated(chains: Chains, new: Floats) -> NDArray[np.bool_]:
    """Chains that no other of their place beats whatever else is chosen.

    One beats another if it weighs no more even with the parts that the other does not
    use bought new, at the prices ``new`` by oriented part; as in `columns`.
    """
    if not len(chains):
        return np.zeros(0, dtype=bool)
    price = np.append(new, 0.0)
    parts = len(new) // 2 + 1
    a, b = chains.first >> 1, chains.last >> 1
    beside = np.full((int(chains.place.max()) + 1, parts), np.inf)
    for part, rest in ((a, chains.last), (b, chains.first)):
        some = part >= 0
        np.minimum.at(beside, (chains.place[some], part[some]), (chains.weight + price[rest])[some])
    beside[:, -1] = np.inf
    keep = chains.weight <= np.minimum(beside[chains.place, a], beside[chains.place, b]) + 1e-12
    # Of chains of the same parts the lightest.
    low, high = np.minimum(a, b), np.maximum(a, b)
    key = (chains.place * parts + low + 1) * parts + high + 1
    order = np.lexsort((chains.weight, key))
    again = np.zeros(len(chains), dtype=bool)
    again[order[1:]] = np.diff(key[order]) == 0
    kept: NDArray[np.bool_] = keep & ~again
    return kept
