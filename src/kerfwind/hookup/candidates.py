"""Every candidate of every route that is worth considering, side by side as arrays.

A candidate joins the two ends of a route directly, by one or two pieces, or by a piece
made to measure. A *place* is a route together with what its hose carries (nothing, or a
head that stays on it); the candidates of one place stand together.

Left out is only what cannot be in a best answer: a candidate that weighs more, whatever
is shared or owned already, than another of the same place made all of new pieces. Where
there are too many for the memory, the heaviest are left out too, and the bound says so.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ..facts import Fact
from ..kept import Kept
from ..shop import End, Fitting
from ..sources import fact
from .chains import UNREACHED, Candidate, Head, Joining, Part, Route
from .ends import Floats, no_port
from .made import Made, plate, print_making, printed, stepped_cuff, takes_cuff
from .model import Weights

Ints = NDArray[np.int64]
#: What may stay on a hose for good; reducers and elbows stay on a tool or travel.
HEAD_KINDS = ("coupling", "cuff", "hose end")
#: Ways of using the hoses and of leaving heads on them that are weighed at most: they
#: multiply with every hose.
MOST_SETUPS = 200_000
#: Places, and candidates of them all, that are kept at most.
MOST_PLACES = 20_000
MOST_KEPT = 2_000_000
_TINY = 1e-9
#: What was made to measure for ends that stay the same from one plan to the next.
_cuffs: Kept[Made | None] = Kept(512)
_printed: Kept[Made | None] = Kept(512)


@dataclass(frozen=True)
class Steps:
    """What adding a piece weighs, by oriented part ``2 p + turned``.

    Attributes
    ----------
    weight
        Of the piece itself: air and hanging.
    after
        Of the joint of each piece (column) after each other (row).
    new
        Price of one more piece; infinite where it is not on sale.
    cheap
        The least that its use adds, whatever else is chosen.
    """

    weight: Floats
    after: Floats
    new: Floats
    cheap: Floats

    @classmethod
    def of(cls, joining: Joining, parts: Sequence[Part], change: float) -> Steps:
        """For all parts."""
        count = 2 * len(parts)
        weight = (joining.piece_air + joining.piece_hang[:, None]).reshape(count)
        # A part with two like ends is the same thing turned: one way round is enough.
        weight[[2 * i + 1 for i, p in enumerate(parts) if _alike(p.fitting)]] = np.inf
        faces = np.arange(count)
        after = joining.joint[np.ix_(faces ^ 1, faces)]
        new = np.array([np.inf if p.price is None else p.price for p in parts])
        cheap = np.where([p.owned > 0 for p in parts], 0.0, np.minimum(new, change))
        return cls(weight, after, np.repeat(new, 2), np.repeat(cheap, 2))

    @cached_property
    def followers(self) -> tuple[Ints, Ints]:
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
class Makings:
    """What candidates are made of: parts, routes, and the weight of joining them.

    ``left_out`` are heads that are not weighed, since there are too many; see `few_heads`.
    """

    parts: Sequence[Part]
    routes: Sequence[Route]
    joining: Joining
    weights: Weights
    own_printer: bool
    steps: Steps
    left_out: frozenset[tuple[int, Head]] = frozenset()

    @classmethod
    def of(
        cls,
        parts: Sequence[Part],
        routes: Sequence[Route],
        joining: Joining,
        weights: Weights,
        own_printer: bool,
    ) -> Makings:
        """For one shop."""
        steps = Steps.of(joining, parts, weights.change)
        return cls(parts, routes, joining, weights, own_printer, steps)

    @cached_property
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
            for hose, routes in users.items()
            if len(routes) > 1
            for row in [self.joining.finishes[routes[0]]]
            for face in range(first)
            if self.parts[face // 2].fitting.kind in HEAD_KINDS
            and np.isfinite(self.joining.joint[face ^ 1, row] + self.steps.weight[face])
            and (hose, (face // 2, bool(face % 2))) not in self.left_out
        }

    def few_heads(
        self, hose_weight: float, most: int = MOST_SETUPS, most_places: int = MOST_PLACES
    ) -> tuple[Makings, float]:
        """The same with few heads, and what an answer with one of the others weighs at least.

        So few that no more than ``most`` setups and ``most_places`` places come of them;
        those that could do most are kept. The weight is infinite where all are.
        """
        heads = self.heads
        tools: dict[str, list[int]] = {}
        users: dict[int, int] = {}
        for index, route in enumerate(self.routes):
            if route.tool:
                tools.setdefault(route.tool, []).append(index)
                users[route.hose] = users.get(route.hose, 0) + 1
        # A hose is out of use, bare, or carries one of its heads.
        ways = dict.fromkeys(sorted(users), 2)
        for hose, _ in heads:
            ways[hose] += 1
        if math.prod(ways.values()) <= most and _places(ways, users) <= most_places:
            return self, np.inf
        least = self._least_with_heads([*heads, *((hose, None) for hose in ways)])
        by_route: dict[int, float] = {}
        for (index, _), value in least.items():
            by_route[index] = min(value, by_route.get(index, np.inf))

        def low(hose: int, head: Head) -> float:
            total = hose_weight + heads[(hose, head)]
            for routes in tools.values():
                total += min(
                    least[(i, head)] if self.routes[i].hose == hose else by_route[i] for i in routes
                )
            return total

        lows = {key: low(*key) for key in heads}
        ways = dict.fromkeys(ways, 2)
        out: list[tuple[int, Head]] = []
        for key in sorted(lows, key=lambda k: lows[k]):
            ways[key[0]] += 1
            if math.prod(ways.values()) > most or _places(ways, users) > most_places:
                ways[key[0]] -= 1
                out.append(key)
        return replace(self, left_out=frozenset(out)), min(lows[key] for key in out)

    def _least_with_heads(
        self, heads: Iterable[tuple[int, Head | None]]
    ) -> dict[tuple[int, Head | None], float]:
        """Least that each tool's route adds to any answer, by route and head (None: bare).

        For all heads at once and without keeping candidates.
        """
        steps, joining = self.steps, self.joining
        heads = list(heads)
        count = len(steps.weight)
        flip = np.arange(count) ^ 1
        least: dict[tuple[int, Head | None], float] = {}
        for index, route in enumerate(self.routes):
            states = [head for hose, head in heads if route.tool and hose == route.hose]
            if not states:
                continue
            places = [self.place(index, head) for head in states]
            rows = np.array([place.row for place in places])
            start = places[0].start
            low = np.full(len(places), min(self._least_made(route), UNREACHED))
            if not no_port(route.upstream):
                leave = joining.joint[:, rows] + joining.remade[:, rows]
                enter = joining.joint[start, :count] + steps.weight + steps.cheap
                first = np.flatnonzero(np.isfinite(enter))
                second = np.full(count, np.inf)
                for face in first.tolist():
                    np.minimum(second, enter[face] + steps.after[face], out=second)
                last = np.minimum(enter, second + steps.weight + steps.cheap)
                some = np.flatnonzero(np.isfinite(last))
                whole = (last[some][:, None] + leave[flip[some]]).min(axis=0, initial=np.inf)
                low = np.minimum(low, np.minimum(leave[start], whole))
            for head, place, value in zip(states, places, low, strict=True):
                least[(index, head)] = float(value + place.fixed)
        return least

    def _least_made(self, route: Route) -> float:
        """Least price of a piece made to measure."""
        if no_port(route.upstream):
            return fact("hookup.plate_price").value
        return min(fact("hookup.stepped_cuff_price").value, print_making(self.own_printer))

    def place(self, index: int, head: Head | None) -> Place:
        """A route and what its hose carries."""
        joining, parts, route = self.joining, self.parts, self.routes[index]
        start, hose_row = joining.starts[index], joining.finishes[index]
        if head is None:
            return Place(
                self, index, None, start, hose_row, route.downstream, route.of_hose, route.finish
            )
        part, turned = head
        row = 2 * part + turned
        fitting = parts[part].fitting
        end = fitting.end_b if turned else fitting.end_a
        beyond = float(joining.piece_air[part, int(turned)] + joining.air[row ^ 1, hose_row])
        return Place(self, index, head, start, row, end, route.of_hose + beyond, fitting.called)


def _places(ways: dict[int, int], users: dict[int, int]) -> int:
    """Routes by heads, in all hoses together."""
    return sum((ways[hose] - 1) * users[hose] for hose in ways)


@dataclass(frozen=True)
class Place:
    """A route and what its hose carries: where a candidate starts and what it must reach.

    Attributes
    ----------
    start, row
        Rows of the two ends in `Joining`.
    end, mate
        What must be reached, and what it belongs to.
    fixed
        Weight of the air lost beyond, in the head and the hose.
    """

    makings: Makings
    index: int
    head: Head | None
    start: int
    row: int
    end: End
    fixed: float
    mate: Fact

    @property
    def route(self) -> Route:
        """The route."""
        return self.makings.routes[self.index]

    def made(self) -> list[Candidate]:
        """What can be made to measure without printing."""
        route = self.route
        if route.tool and no_port(route.upstream):
            return self._of_made(plate(route.tool, self.end))
        ends, mates = (route.upstream, self.end), (route.start, self.mate)
        return self._of_made(_cuffs.of(ends, mates, lambda: stepped_cuff(*ends, mates)))

    def printed(self) -> list[Candidate]:
        """A printed reducer, where one can be printed."""
        ends, mates = (self.route.upstream, self.end), (self.route.start, self.mate)
        own = self.makings.own_printer
        made = _printed.of(ends, (mates, own), lambda: printed(*ends, mates, own))
        return self._of_made(made)

    def _of_made(self, made: Made | None) -> list[Candidate]:
        if made is None:
            return []
        weights = self.makings.weights
        air = made.loss_pa / 1000 * weights.air_per_kpa
        weight = made.price + air + made.length_m * weights.hang_per_m + self.fixed
        return [Candidate(self.index, self.head, (), weight, made)]

    def apart(self) -> list[Candidate]:
        """The ends left apart, on a bare hose."""
        if self.head is not None:
            return []
        return [Candidate(self.index, None, (), UNREACHED + self.route.of_hose, unreached=True)]


@dataclass(frozen=True)
class Table:
    """Candidates side by side.

    Attributes
    ----------
    place
        Number of the place.
    first, last
        Oriented parts, -1 for none; a candidate of one piece has only ``last``. One without
        either is made to measure or left apart where `Candidates.special` knows one for its
        place, and else joins the two ends directly.
    weight
        As in `Candidate`.
    """

    place: Ints
    first: Ints
    last: Ints
    weight: Floats

    def __len__(self) -> int:
        return len(self.weight)

    def __getitem__(self, which: Ints | NDArray[np.bool_]) -> Table:
        return Table(self.place[which], self.first[which], self.last[which], self.weight[which])

    def with_parts(self, by_face: Floats) -> Floats:
        """Weight with so much added for each oriented part."""
        padded = np.append(by_face, 0.0)
        total: Floats = self.weight + padded[self.first] + padded[self.last]
        return total

    def keys(self) -> list[tuple[int, int, int]]:
        """What tells each candidate from all others of the shop."""
        return list(zip(self.place.tolist(), self.first.tolist(), self.last.tolist(), strict=True))


def together(tables: Sequence[Table]) -> Table:
    """One table of several."""
    return Table(
        np.concatenate([t.place for t in tables]),
        np.concatenate([t.first for t in tables]),
        np.concatenate([t.last for t in tables]),
        np.concatenate([t.weight for t in tables]),
    )


@dataclass
class Candidates:
    """All candidates of a shop.

    Attributes
    ----------
    heads
        For each hose what it may carry: None for nothing, and its heads.
    table
        By place, without what is made to measure or left apart.
    start
        Where each place begins in ``table``, and the end.
    places, number
        Route and head of each place, and the number of each route and head.
    other_low
        By place, the least that a piece made to measure, or leaving the ends apart, could
        weigh.
    dropped
        By place, the least that a candidate left out for number alone adds to any answer.
    reached
        What each route reaches.
    special
        By place, once `whole` was asked: what is made to measure or left apart.
    """

    makings: Makings
    heads: dict[int, list[Head | None]]
    table: Table
    start: Ints
    places: list[tuple[int, Head | None]]
    number: dict[tuple[int, Head | None], int]
    other_low: Floats
    dropped: Floats
    reached: Sequence[_Reached] = ()
    special: dict[int, Candidate] = field(default_factory=dict)
    _whole: dict[int, Table] = field(default_factory=dict)

    def least(self, low: Floats) -> Floats:
        """By place, the least of ``low`` over its candidates and of what else can be."""
        least = self.other_low.copy()
        some = np.flatnonzero(np.diff(self.start) > 0)
        least[some] = np.minimum(least[some], np.minimum.reduceat(low, self.start[some]))
        return least

    def whole(self, number: int) -> Table:
        """The candidates of one place, with what can be made for it."""
        known = self._whole.get(number)
        if known is None:
            known = self._whole[number] = self._with_made(number)
        return known

    def _with_made(self, number: int) -> Table:
        index, head = self.places[number]
        route = self.makings.routes[index]
        known = self.reached[index].made
        key = (head, route.start, route.finish, route.tool)
        if key not in known:
            rows = np.arange(self.start[number], self.start[number + 1])
            known[key] = self._made_of(index, head, self.table[rows])
        table, lightest = known[key]
        table = replace(table, place=np.full(len(table), number))
        if lightest is None:
            self.other_low[number] = np.inf
            return table
        self.special[number] = (
            lightest if lightest.route == index else replace(lightest, route=index)
        )
        self.other_low[number] = lightest.weight
        return table

    def _made_of(
        self, index: int, head: Head | None, table: Table
    ) -> tuple[Table, Candidate | None]:
        """Candidates of a place with what can be made for it, in the last row where there is any."""
        makings, steps = self.makings, self.makings.steps
        place = makings.place(index, head)
        others = place.made()
        if not (place.route.tool and no_port(place.route.upstream)):
            new = float(table.with_parts(steps.new).min(initial=np.inf))
            best = min([new, *(c.weight for c in others)])
            if place.fixed + print_making(makings.own_printer) < best:
                others += place.printed()
            best = min([best, *(c.weight for c in others)])
            table = table[table.with_parts(steps.cheap) <= best + _TINY]
        others += place.apart()
        # Of candidates that take no part the lightest; of likes, the ends joined directly.
        direct = table.last < 0
        lightest = min(others, key=lambda c: c.weight, default=None)
        if lightest is None or (direct.any() and lightest.weight >= float(table.weight[direct][0])):
            return table, None
        none = np.array([-1])
        made = Table(none, none, none, np.array([lightest.weight]))
        return together([table[~direct], made]), lightest

    def candidate(self, table: Table, at: int) -> Candidate:
        """One row of a table as a candidate."""
        number = int(table.place[at])
        if table.last[at] < 0 and number in self.special:
            return self.special[number]
        index, head = self.places[number]
        faces = [int(f) for f in (table.first[at], table.last[at]) if f >= 0]
        pieces = tuple((f // 2, bool(f % 2)) for f in faces)
        return Candidate(index, head, pieces, float(table.weight[at]))


def find_candidates(makings: Makings, most: int = MOST_KEPT) -> Candidates:
    """Every candidate that no other of its place beats whatever else is chosen.

    At most about ``most``; what is left out beyond is told by `Candidates.dropped`.
    """
    heads: dict[int, list[Head | None]] = {r.hose: [None] for r in makings.routes}
    for hose, head in makings.heads:
        heads[hose].append(head)
    count = sum(len(heads[r.hose]) if r.tool else 1 for r in makings.routes)
    seek = _Seeker(makings, heads, most // count)
    reached = [seek.reached(index) for index in range(len(makings.routes))]
    places: list[tuple[int, Head | None]] = []
    tables: list[Table] = []
    for index, each in enumerate(reached):
        tables.append(replace(each.table, place=each.table.place + len(places)))
        places += [(index, head) for head in each.heads]
    table = together(tables)
    return Candidates(
        makings,
        heads,
        table,
        np.searchsorted(table.place, np.arange(len(places) + 1)),
        places,
        {place: i for i, place in enumerate(places)},
        np.concatenate([each.other_low for each in reached]),
        np.concatenate([each.dropped for each in reached]),
        reached,
    )


#: Routes up to which what each reaches is kept from plan to plan; of more it is megabytes.
_FEW_ROUTES = 64
#: What a route's two ends reach from each other, with the same parts and heads.
_kept_reached: Kept[_Reached] = Kept(2 * _FEW_ROUTES)


@dataclass(frozen=True)
class _Reached:
    """What one route reaches; arrays as in `Candidates`, places by number among ``heads``.

    ``made`` keeps, by head and what is to be joined, the candidates with what is made for them.
    """

    heads: list[Head | None]
    table: Table
    other_low: Floats
    dropped: Floats
    made: dict[object, tuple[Table, Candidate | None]] = field(default_factory=dict)


class _Seeker:
    """Finds what routes reach, with what several of them share."""

    def __init__(self, makings: Makings, heads: dict[int, list[Head | None]], most: int) -> None:
        self.makings, self.heads, self.most = makings, heads, most
        self._targets: dict[tuple[int, bool], _Targets] = {}
        self._begun: tuple[int, _Starts] | None = None

    def reached(self, index: int) -> _Reached:
        """What one route reaches."""
        route, makings = self.makings.routes[index], self.makings
        if len(makings.routes) > _FEW_ROUTES:
            return self._found(index)
        told = (
            bool(route.tool),
            route.of_hose,
            tuple(self._heads_of(index)),
            makings.own_printer,
            self.most,
        )
        ends = (makings.joining.shelf, route.upstream, route.downstream)
        return _kept_reached.of(ends, told, lambda: self._found(index))

    def _heads_of(self, index: int) -> list[Head | None]:
        route = self.makings.routes[index]
        return self.heads[route.hose] if route.tool else [None]

    def _found(self, index: int) -> _Reached:
        route, makings = self.makings.routes[index], self.makings
        key = (route.hose if route.tool else index, bool(route.tool))
        if key not in self._targets:
            self._targets[key] = _Targets.of(makings, index, self._heads_of(index))
        if self._begun is None or self._begun[0] != id(route.upstream):
            # A tool's routes stand together, and its starts alone may be megabytes.
            self._begun = (id(route.upstream), _Starts.of(makings, index))
        target = self._targets[key]
        table, dropped = target.reached(makings, index, self._begun[1], self.most)
        return _Reached(target.heads, table, target.other_low(makings, index), dropped)


@dataclass(frozen=True)
class _Starts:
    """One or two pieces on the upstream end of a route, oriented as in `Table`."""

    first: Ints
    last: Ints
    weight: Floats

    @classmethod
    def of(cls, makings: Makings, index: int) -> _Starts:
        """All of one route.

        Those are left out that weigh more, whatever is owned or shared, than others that
        leave the same open end and are made all of new pieces.
        """
        steps, start = makings.steps, makings.joining.starts[index]
        count = len(steps.weight)
        enter = makings.joining.joint[start, :count] + steps.weight
        one = np.flatnonzero(np.isfinite(enter))
        at, after = steps.followers
        number = np.diff(at)[one]
        a = np.repeat(one, number)
        b = after[np.repeat(at[one], number) + _within(number)]
        weight = np.concatenate([enter[one], enter[a] + steps.after[a, b] + steps.weight[b]])
        first, last = np.concatenate([np.full(len(one), -1), a]), np.concatenate([one, b])
        new, cheap = np.append(steps.new, 0.0), np.append(steps.cheap, 0.0)
        best = np.full(count, np.inf)
        np.minimum.at(best, last, weight + new[first] + new[last])
        keep = weight + cheap[first] + cheap[last] <= best[last] + _TINY
        return cls(first[keep], last[keep], weight[keep])


def _within(numbers: Ints) -> Ints:
    """0, 1, … within each of a row of groups of so many."""
    ends = np.cumsum(numbers)
    return np.arange(ends[-1] if len(ends) else 0) - np.repeat(ends - numbers, numbers)


@dataclass(frozen=True)
class _Targets:
    """What a route may end in: the bare hose, or a head on it, one after the other.

    ``rows`` are their rows in `Joining`, ``beyond`` the weight of the air lost beyond. Those
    that fit the open end of an oriented part ``f`` are ``place[at[f]:at[f + 1]]``, and
    ``leave`` is what joining them weighs.
    """

    heads: list[Head | None]
    rows: Ints
    beyond: Floats
    cuffs: NDArray[np.bool_]
    at: Ints
    place: Ints
    leave: Floats

    @classmethod
    def of(cls, makings: Makings, index: int, heads: list[Head | None]) -> _Targets:
        """The ends that one route, and all routes of the same hose, may have."""
        joining, faces = makings.joining, np.arange(len(makings.steps.weight))
        places = [makings.place(index, head) for head in heads]
        rows = np.array([p.row for p in places])
        leave = joining.joint[np.ix_(faces ^ 1, rows)]
        if makings.routes[index].tool:
            leave = leave + joining.remade[np.ix_(faces ^ 1, rows)]
        face, place = np.nonzero(np.isfinite(leave))
        return cls(
            heads,
            rows,
            np.array([p.fixed for p in places]) - makings.routes[index].of_hose,
            np.array([takes_cuff(p.end) for p in places], dtype=bool),
            np.searchsorted(face, np.arange(len(faces) + 1)),
            place,
            leave[face, place],
        )

    def reached(
        self, makings: Makings, index: int, starts: _Starts, most: int
    ) -> tuple[Table, Floats]:
        """Candidates of one route that no other of their place beats with all its pieces new.

        At most ``most`` of a place; and by place, the least that one beyond adds.
        """
        steps, joining, route = makings.steps, makings.joining, makings.routes[index]
        lost = np.full(len(self.rows), np.inf)
        none = np.zeros(0, dtype=np.int64)
        if route.tool and no_port(route.upstream):
            return Table(none, none, none, np.zeros(0)), lost
        number = np.diff(self.at)[starts.last]
        begun = np.repeat(np.arange(len(number)), number)
        end = np.repeat(self.at[starts.last], number) + _within(number)
        start = joining.starts[index]
        direct = joining.joint[start, self.rows]
        if route.tool:
            direct = direct + joining.remade[start, self.rows]
        meet = np.flatnonzero(np.isfinite(direct))
        none = np.full(len(meet), -1)
        table = Table(
            np.concatenate([meet, self.place[end]]),
            np.concatenate([none, starts.first[begun]]),
            np.concatenate([none, starts.last[begun]]),
            np.concatenate([direct[meet], starts.weight[begun] + self.leave[end]]),
        )
        table = replace(table, weight=table.weight + (self.beyond + route.of_hose)[table.place])
        best = UNREACHED + route.of_hose + self.beyond
        np.minimum.at(best, table.place, table.with_parts(steps.new))
        table = table[table.with_parts(steps.cheap) <= best[table.place] + _TINY]
        table = table[np.lexsort((table.with_parts(steps.cheap), table.place))]
        table = table[_undominated(table, steps.new)]
        begin = np.searchsorted(table.place, np.arange(len(self.rows)))
        beyond = np.arange(len(table)) - begin[table.place] >= most
        np.minimum.at(lost, table.place[beyond], table.with_parts(steps.cheap)[beyond])
        return table[~beyond], lost

    def other_low(self, makings: Makings, index: int) -> Floats:
        """By place, the least that a piece made to measure or leaving it could weigh."""
        route = makings.routes[index]
        if route.tool and no_port(route.upstream):
            least = np.full(len(self.rows), fact("hookup.plate_price").value)
        else:
            printing = print_making(makings.own_printer)
            cuff = fact("hookup.stepped_cuff_price").value
            cuffs = self.cuffs & takes_cuff(route.upstream)
            least = np.where(cuffs, min(cuff, printing), printing)
        apart = np.array([UNREACHED if head is None else np.inf for head in self.heads])
        return np.minimum(least + route.of_hose + self.beyond, apart + route.of_hose)


def _undominated(table: Table, new: Floats) -> NDArray[np.bool_]:
    """Candidates that no other of their place beats whatever else is chosen.

    One beats another if it weighs no more even with the parts that the other does not
    use bought new, at the prices ``new`` by oriented part.
    """
    if not len(table):
        return np.zeros(0, dtype=bool)
    price = np.append(new, 0.0)
    parts = len(new) // 2 + 1
    a, b = table.first >> 1, table.last >> 1
    beside = np.full((int(table.place.max()) + 1, parts), np.inf)
    for part, rest in ((a, table.last), (b, table.first)):
        some = part >= 0
        np.minimum.at(beside, (table.place[some], part[some]), (table.weight + price[rest])[some])
    beside[:, -1] = np.inf
    keep = table.weight <= np.minimum(beside[table.place, a], beside[table.place, b]) + 1e-12
    # Of candidates of the same parts the lightest.
    low, high = np.minimum(a, b), np.maximum(a, b)
    key = (table.place * parts + low + 1) * parts + high + 1
    order = np.lexsort((table.weight, key))
    again = np.zeros(len(table), dtype=bool)
    again[order[1:]] = np.diff(key[order]) == 0
    kept: NDArray[np.bool_] = keep & ~again
    return kept
