"""Routes, the parts to join them with, and the weight of joining any two ends.

A route runs in the direction of the air from a tool's port to a hose, or between the
unit's own ends. A candidate is one way of making it; `candidates` finds those worth
having and `solving` chooses among them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray

from ..kept import Kept
from ..quantity import Draw
from ..shop import End, Fitting
from ..sources import fact
from .ends import EndTable, Floats
from .fits import CLAMP, LOOSE, TAPE, Limits, assess
from .loss import change_of_bore_pa, fittings_pa
from .made import Made
from .model import ChainEnd, Origin, Weights

#: A joint less likely than this is not proposed.
LEAST_LIKELY = 0.05
#: Weight of leaving two ends apart.
UNREACHED = 1000.0


@dataclass(frozen=True)
class Part:
    """A kind of fitting to draw on: how many are owned, and the price of one more."""

    fitting: Fitting
    owned: int
    price: float | None

    @property
    def origin(self) -> Origin:
        """Where it comes from when the count does not matter."""
        return "owned" if self.owned else "buy"


@dataclass(frozen=True)
class Route:
    """Two ends to join; ``of_hose`` is the weight of the hose's own loss, and of what it hangs.

    A route of the unit itself has an empty ``tool``.
    """

    start: ChainEnd
    finish: ChainEnd
    tool: str
    hose: int
    upstream: End
    downstream: End
    of_hose: float = 0.0


#: A piece that stays on a hose for all its tools: part, and whether it is turned.
Head = tuple[int, bool]


@dataclass(frozen=True)
class Candidate:
    """One way of making one route.

    Attributes
    ----------
    head
        What stays on the hose and is not among the pieces; None where the hose is bare.
    pieces
        Part and whether it is turned, upstream first.
    weight
        Everything but the prices of parts and the shared use of them.
    made
        A piece made to measure, in the place of ``pieces``.
    unreached
        Whether the ends stay apart, at a weight that any chain undercuts.
    """

    route: int
    head: Head | None
    pieces: tuple[tuple[int, bool], ...]
    weight: float
    made: Made | None = None
    unreached: bool = False


@dataclass(frozen=True)
class Joining:
    """Ends of all parts and routes side by side, and the weight of joining any two.

    Rows ``2 p`` and ``2 p + 1`` are the ends of part ``p``; the ends of routes follow them
    all, each once however many routes share it. Matrices have shape ``(rows, rows)``, upstream
    end first.

    Attributes
    ----------
    shelf
        The same object where parts, weights and draw are the same.
    starts, finishes
        Rows of the two ends of each route.
    fixing
        Doubt, clamp and tape; infinite where the joint would not hold.
    air
        Loss at the change of bore, where the joint would hold.
    joint
        Both together.
    remade
        Bother of a joint that is pulled apart at every change of tool, likewise.
    piece_air, piece_hang
        Of each part, for not turned and turned: shape ``(parts, 2)`` and ``(parts,)``.
    """

    shelf: object
    starts: tuple[int, ...]
    finishes: tuple[int, ...]
    fixing: Floats
    air: Floats
    joint: Floats
    remade: Floats
    piece_air: Floats
    piece_hang: Floats

    @classmethod
    def of(
        cls, parts: Sequence[Part], routes: Sequence[Route], weights: Weights, draw: Draw
    ) -> Joining:
        """The table of all pairs of ends."""
        ends = [e for p in parts for e in (p.fitting.end_a, p.fitting.end_b)]
        # Every tool's port meets each hose, and every hose each tool's port.
        rows: dict[int, int] = {}
        for end in (e for r in routes for e in (r.upstream, r.downstream)):
            if id(end) not in rows:
                rows[id(end)] = len(ends)
                ends.append(end)
        # What is owned comes first, and then what is on sale, which is the same in every shop.
        owned = sum(p.price is None for p in parts)
        likely, clamp, tape = _held(ends, slice(2 * owned, 2 * len(parts)), draw)
        at = np.nonzero(likely >= LEAST_LIKELY)
        aids = (
            clamp[at] * fact("hookup.clamp_price").value
            + tape[at] * fact("hookup.tape_price").value
        )
        fixing, joint = np.full((2, *likely.shape), np.inf)
        air, remade = np.zeros((2, *likely.shape))
        fixing[at] = -np.log(likely[at]) * weights.doubt + aids
        inside = np.array([e.inside.best_si for e in ends])
        lost = change_of_bore_pa(inside[at[0]], inside[at[1]])
        air[at] = lost / 1000 * weights.air_per_kpa
        joint[at] = fixing[at] + air[at]
        remade[at] = weights.change * (1.5 * clamp[at] + 1.0 * tape[at])
        told = tuple((p.owned, p.price) for p in parts), weights, draw
        return cls(
            _shelves.of(tuple(p.fitting for p in parts), told, object),
            tuple(rows[id(r.upstream)] for r in routes),
            tuple(rows[id(r.downstream)] for r in routes),
            fixing,
            air,
            joint,
            remade,
            fittings_pa([p.fitting for p in parts]) / 1000 * weights.air_per_kpa,
            np.array([p.fitting.length.best_si * weights.hang_per_m for p in parts]),
        )


_shelves: Kept[object] = Kept(8)

#: How likely each pair of ends holds, and holds by a clamp or by tape, the better way round.
_Held = tuple[Floats, Floats, Floats]


#: The same of one end and others: with it upstream, and downstream.
_Row = tuple[tuple[Floats, Floats], ...]


@dataclass(frozen=True)
class _Sold:
    """Ends of parts on sale, and how they hold each other: many, and the same in every shop."""

    ends: tuple[End, ...]
    held: _Held


#: What was drawn of each end, how parts on sale hold each other, and how another end holds them.
_rows: Kept[Floats] = Kept(1024)
_among_sold: Kept[_Sold] = Kept(4)
_on_sold: Kept[_Row] = Kept(96)


def _held(ends: Sequence[End], sold: slice, draw: Draw) -> _Held:
    """How all pairs of ends hold; those at ``sold`` are of parts on sale."""
    limits, held = Limits.of(draw), _none(len(ends))
    every = np.arange(len(ends))
    others = np.delete(every, sold).tolist()
    for whole, part in zip(held, _among([ends[i] for i in others], limits, draw), strict=True):
        whole[np.ix_(others, others)] = part
    own = tuple(ends[sold])
    if not own:
        return held
    shelf = _among_sold.of(own, draw, lambda: _Sold(own, _among(own, limits, draw)))
    for whole, part in zip(held, shelf.held, strict=True):
        whole[sold, sold] = part
    unknown = [i for i in others if not _on_sold.knows((ends[i], shelf), draw)]
    found = dict(zip(unknown, _on([ends[i] for i in unknown], own, limits, draw), strict=True))

    def worked_out(i: int) -> _Row:
        # One that was known may have been dropped meanwhile.
        return found.pop(i) if i in found else next(iter(_on([ends[i]], own, limits, draw)))

    # What is known is taken before more is held.
    for i in sorted(others, key=lambda i: i in found):
        rows = _on_sold.of((ends[i], shelf), draw, partial(worked_out, i))
        for whole, (row, column) in zip(held, rows, strict=True):
            whole[i, sold], whole[sold, i] = row, column
    return held


def _among(ends: Sequence[End], limits: Limits, draw: Draw) -> _Held:
    """How ends hold each other."""
    found, table = _none(len(ends)), EndTable.of(ends, draw, _rows)
    _hold(found, table, limits, *_plausible(table))
    return found


def _on(some: Sequence[End], others: Sequence[End], limits: Limits, draw: Draw) -> Iterator[_Row]:
    """How each of some ends holds each of others."""
    if not some:
        return
    count = len(some)
    found, table = _none(count + len(others)), EndTable.of((*some, *others), draw, _rows)
    first, rest = slice(count), slice(count, None)
    ways = zip(_plausible(table, first, rest), _plausible(table, rest, first), strict=True)
    inner, outer = (np.concatenate(each) for each in ways)
    _hold(found, table, limits, inner, outer)
    for i in range(count):
        yield tuple((whole[i, count:].copy(), whole[count:, i].copy()) for whole in found)


def _none(count: int) -> _Held:
    likely, clamp, tape = (np.zeros((count, count)) for _ in range(3))
    return likely, clamp, tape


def _hold(
    held: _Held, table: EndTable, limits: Limits, inner: NDArray[np.int64], outer: NDArray[np.int64]
) -> None:
    """Write down how these pairs hold, ``inner`` in ``outer``."""
    likely, clamp, tape = held
    for part in np.array_split(np.arange(len(inner)), max(1, len(inner) // 20_000)):
        if not len(part):
            continue
        i, o = inner[part], outer[part]
        codes, *_ = assess(table, limits, i, o)
        holds = np.mean(codes < LOOSE, axis=1)
        by_clamp = np.mean(codes == CLAMP, axis=1)
        by_tape = np.mean(codes == TAPE, axis=1)
        for a, b in ((i, o), (o, i)):
            better = holds > likely[a, b]
            where = (a[better], b[better])
            likely[where], clamp[where], tape[where] = (
                holds[better],
                by_clamp[better],
                by_tape[better],
            )


_EVERY = slice(None)


def _plausible(
    table: EndTable, i: slice = _EVERY, o: slice = _EVERY
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Pairs (inner, outer), from these rows each, whose ranges of diameter leave them a chance."""
    low_in, high_in = table.outside[i].min(axis=1), table.outside[i].max(axis=1)
    low_out, high_out = table.inside[o].min(axis=1), table.inside[o].max(axis=1)
    stretch = fact("hookup.cuff_stretch").span[1] * table.rubber[o] * high_out
    squeeze = fact("hookup.cuff_squeeze").span[1] * table.rubber[i] * high_in
    tight = fact("hookup.rigid_interference").value * high_in
    closes = table.slope.max(axis=1) * table.length.max(axis=1)
    play_high = high_out[None, :] - low_in[:, None]
    play_low = low_out[None, :] - high_in[:, None]
    may = (play_high >= -(stretch[None, :] + (tight + squeeze)[:, None])) & (
        play_low <= fact("hookup.bushing_play").value + closes[i, None] + closes[None, o]
    )
    may |= (table.lock[i, None] == table.lock[None, o]) & (table.lock[i, None] > 0)
    may &= table.may_go_in[i, None] & table.may_go_over[None, o]
    inner, outer = np.nonzero(may)
    return inner + (i.start or 0), outer + (o.start or 0)
