"""A level board on a plate and two brackets: a rack with a hole or peg for each fitting, or a shelf.

Seen from its end::

    host  plate
    |  ||______________   board; fittings hang in its holes or stand over its pegs
    |  ||______________|
    |  || bracket  /
    |  ||________/
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..cart.fitted import Fitted
from ..cart.loads import at
from ..cart.model import Home
from ..fact_samples import spread_fact
from ..facts import Amount, Fact, Listing, Ref, Statement, Term, state
from ..joinery.model import HardwareItem, Step, Taken
from ..shop import Fitting
from ..solids import Body, Opening, revolved
from ..sources import fact
from .places import HostFace, OptionPlace, OptionShape, Site, seen_from
from .solids import fitting_volume_m3, hanging, sleeve

_IN = 0.0254
#: Dowels on sale, by their diameter (common practice, no source) [m].
_DOWELS_IN = (0.375, 0.5, 0.625, 0.75, 1.0, 1.25)
_DOWELS_MM = (10, 12, 16, 20, 25, 30)
_PLATE_M = 2.5 * _IN
_EDGE_M = 0.012
#: Share of a plate that must lie on the panel it is screwed to.
_BACKED = 0.6


@dataclass(frozen=True)
class Seat:
    """How one fitting is kept: in a hole of ``hole`` with its end ``down``, or over a peg.

    ``reach`` is the radius to keep free about it, ``aside`` what it needs on its left; ``above`` and ``below`` how far it stands
    over the board and hangs under its upper face [m].
    """

    fitting: Fitting
    number: int
    hole: float
    peg: bool
    down: str
    reach: float
    aside: float
    above: float
    below: float


def seat(fitting: Fitting, number: int, metric: bool) -> Seat:
    """A hole for its smaller end, where the other cannot follow; otherwise a peg inside it."""
    a, b = fitting.end_a, fitting.end_b
    down = "a" if a.outside.best_si <= b.outside.best_si else "b"
    low, high = (a, b) if down == "a" else (b, a)
    play = fact("cart.fitting.play").value
    length = fitting.length.best_si
    bends = fitting.turn.best_si > 0.3
    hole = low.outside.high_si + play
    fingers = fact("cart.fitting.fingers").value
    around = max(a.outside.high_si, b.outside.high_si) / 2 + fingers
    blocked = bends or fitting.kind in ("gate", "wye")
    if blocked or high.outside.low_si >= hole + 0.004:
        below = min(low.length.best_si, 0.45 * length)
        if not bends:
            return Seat(fitting, number, hole, False, down, around, around, length - below, below)
        radius = low.outside.best_si / 2
        bend = max(length - below - radius, 1.1 * radius)
        aside = (
            max(around, 2 * bend, bend + around)
            if fitting.turn.best_si > 1.8
            else (max(around, bend + fingers))
        )
        return Seat(fitting, number, hole, False, down, around, aside, bend + around, below)
    sizes = [d / 1000 for d in _DOWELS_MM] if metric else [d * _IN for d in _DOWELS_IN]
    inside = min(e.inside.low_si for e in (a, b))
    fitting_ones = [d for d in sizes if d <= inside - fact("cart.peg.play").value]
    if not fitting_ones:
        # Too narrow for a peg, and alike at both ends: it stands on the board.
        return Seat(fitting, number, 0.0, False, "stand", around, around, length, 0.0)
    peg_high = max(length, fact("cart.peg.height").value)
    return Seat(fitting, number, fitting_ones[-1], True, "a", around, around, peg_high, 0.0)


@dataclass(frozen=True)
class _Board:
    """One board: its depth outwards, bracket, and where its seats are along it [m]."""

    depth: float
    bracket: tuple[float, float]
    seats: tuple[tuple[Seat, float, float], ...] = ()


def _bracket(site: Site, depth: float, high: float) -> tuple[float, float]:
    rule = site.rule
    return rule.down(0.75 * depth), rule.down(high - site.t)


def rack_shapes(site: Site, waiting: Sequence[Seat], wood: HostFace) -> list[OptionShape]:
    """Rack boards for as many of the waiting fittings as a face has room for."""
    rule, t = site.rule, site.t
    high = rule.down(min(_PLATE_M, wood.v1 - wood.v0 - 0.001))
    if high < t + 1.0 * _IN:
        return []
    end = t + _EDGE_M
    most = (wood.u1 - wood.u0 - 0.009) / _BACKED
    shapes: list[OptionShape] = []
    for count in range(len(waiting), 0, -1):
        taken = waiting[:count]
        needed = 2 * end + sum(s.reach + s.aside for s in taken)
        long = rule.up(max(needed, 4 * _IN))
        if long > most:
            continue
        depth = rule.up(max(2 * max(s.reach for s in taken) + _EDGE_M, 3 * _IN))
        slack = (long - needed) / count
        u, seats = end, []
        for each in taken:
            seats.append((each, u + each.aside + slack / 2, depth / 2))
            u += each.aside + each.reach + slack
        above, below = max(s.above for s in taken), max(s.below for s in taken)
        shapes.append(
            OptionShape(
                long,
                high,
                ((0.0, long, 0.0, t + depth, min(0.0, high - below), high + above),),
                ((0.0, long, t, t + depth, high + above, high + above + below + 0.03),),
                backed_m=_BACKED * long,
                want_v=0.75,
                worth=5.0 * count,
                data=_Board(depth, _bracket(site, depth, high), tuple(seats)),
            )
        )
    return shapes


def build_rack(site: Site, spot: OptionPlace, name: str) -> Fitted:
    """Build one board of the rack in its place, with its pegs and the fittings on it."""
    made: _Board = spot.shape.data
    t, high = site.t, spot.shape.plate_v
    openings = tuple(
        Opening(u, w, s.hole, s.hole, s.hole / 2) for s, u, w in made.seats if s.hole > 0
    )
    numbered = tuple(
        state("options.rack.seat", number=s.number, fitting=Ref("fitting", s.fitting.name))
        for s, _, _ in made.seats
    )
    note = state("options.rack.note", seats=Listing(numbered, "commas"))
    _ledge(site, spot, name, name, made, openings, note)
    bodies: list[Body] = []
    pegs: list[HardwareItem] = []
    homes: list[Home] = []
    called: list[tuple[str, Fact]] = []
    density = spread_fact("cart.fitting.density", site.draw)
    moment, volume = np.zeros(3), 0.0
    for (s, u, w), called_so in zip(made.seats, numbered, strict=True):
        label = f"{s.number} {s.fitting.name}"
        foot = spot.point(u, t + w, high - s.below)
        if s.peg:
            tall = fact("cart.peg.height").value
            under = spot.point(u, t + w, high - t)
            bodies.append(
                revolved(
                    f"peg {s.number}", under, [(0.0, s.hole / 2), (t + tall, s.hole / 2)], tone=0.85
                )
            )
            inner = min(s.fitting.end_a.inside.best_si, s.fitting.end_b.inside.best_si) / 2
            outer = max(s.fitting.end_a.outside.best_si, s.fitting.end_b.outside.best_si) / 2
            bodies.append(sleeve(label, foot, outer, inner, s.fitting.length.best_si))
            pegs.append(_dowel(site, s.hole, t + tall))
        elif s.down == "stand":
            outer = max(s.fitting.end_a.outside.best_si, s.fitting.end_b.outside.best_si) / 2
            long = s.fitting.length.best_si
            bodies.append(
                revolved(label, foot, [(0.0, outer), (long, outer)], tone=0.7, segments=24)
            )
        else:
            bodies.append(hanging(label, s.fitting, foot, s.down, [-c for c in spot.wood.along]))
        kept = fitting_volume_m3(s.fitting)
        volume += kept
        moment += kept * np.array(foot)
        kept_by = "peg" if s.peg else "hole" if s.hole else "place"
        place = state("options.rack.home", kept_by=kept_by, number=s.number)
        homes.append(Home(s.fitting.name, place))
        called.append((label, called_so))
    x, y, z = moment / max(volume, 1e-9)
    load = at(f"{name} load", density * volume, x, y, z)
    return Fitted(tuple(bodies), (load,), (), tuple(pegs), tuple(homes), called=tuple(called))


def _dowel_key(diameter: float) -> str:
    return f"dowel-{diameter * 1000:.0f}"


def _dowel(site: Site, diameter: float, length: float) -> HardwareItem:
    return HardwareItem(
        _dowel_key(diameter),
        state(
            "options.rack.dowel",
            diameter=site.rule.amount(diameter),
            length=Amount(length, "length"),
        ),
        1,
        (state("options.rack.dowel.use"),),
        length,
        diameter,
        kind="dowel",
    )


def merged(items: Sequence[HardwareItem]) -> tuple[HardwareItem, ...]:
    """Hardware in which rows of the same kind are one row with their number."""
    rows: dict[str, HardwareItem] = {}
    for item in items:
        was = rows.get(item.key)
        rows[item.key] = replace(item, quantity=item.quantity + (was.quantity if was else 0))
    return tuple(rows.values())


def rack_steps(site: Site, boards: Sequence[tuple[str, OptionPlace]]) -> list[Step]:
    """Each board of the rack in a step of its own."""
    return [
        _rack_step(
            site,
            name,
            spot,
            state("options.rack.title.one_of", number=n, count=len(boards))
            if len(boards) > 1
            else state("options.rack.title"),
        )
        for n, (name, spot) in enumerate(boards, start=1)
    ]


def _rack_step(site: Site, name: str, spot: OptionPlace, title: Statement) -> Step:
    seats = [s for s, _, _ in spot.shape.data.seats]
    pegs = tuple(f"peg {s.number}" for s in seats if s.peg)
    says = [state("options.rack.fix", host=Term("panel", spot.wood.host))]
    if any(not s.peg and s.hole for s in seats):
        says.append(state("options.rack.try"))
    if pegs:
        says.append(state("options.rack.glue"))
    says += [state("options.rack.number"), *seen_from(spot.wood.side)]
    return Step(
        0,
        title,
        tuple(says),
        (state("options.rack.mind"),),
        (*_parts(name), *pegs),
        tuple(site.made[name]),
        takes=tuple(Taken(_dowel_key(s.hole), 1) for s in seats if s.peg),
    )


def _parts(name: str) -> tuple[str, ...]:
    return (f"{name} plate", f"{name} board", f"{name} bracket 1", f"{name} bracket 2")


def _ledge(
    site: Site,
    spot: OptionPlace,
    name: str,
    step: str,
    made: _Board,
    openings: tuple[Opening, ...],
    note: Fact | None,
) -> None:
    bench, t = site.bench, site.t
    long, high = spot.shape.plate_u, spot.shape.plate_v
    plate, board, one, two = _parts(name)
    out, tall = made.bracket
    low = high - t - tall
    bench.panel(plate, long, high, {plate: spot.upright(0.0, 0.0, 0.0)}, grain="free")
    bench.panel(
        board,
        long,
        made.depth,
        {board: spot.level(0.0, t, high - t)},
        grain="free",
        edges=("far", "left", "right"),
        openings=openings,
        note=note,
    )
    leg = min(out, tall) - 1.0 * _IN
    bench.panel(
        f"{name} bracket",
        out,
        tall,
        {one: spot.fin(0.0, t, low), two: spot.fin(long - t, t, low)},
        grain="free",
        chamfers=(("near right", leg),) if leg > 0.5 * _IN else (),
    )
    site.join(step, plate, board)
    for each in (one, two):
        site.join(step, plate, each, carries=False)
    for each in (one, two):
        site.join(step, board, each, carries=False)
    site.mount(step, plate, spot.wood.host, (board, one, two))


_SHELF_DEPTH_M = 5.5 * _IN
_LIP_M = 1.5 * _IN
_STANDS_M = 0.15


def shelf_shapes(site: Site, wood: HostFace) -> list[OptionShape]:
    """Small shelves that a face has room for."""
    rule, t = site.rule, site.t
    high = rule.down(min(_PLATE_M, wood.v1 - wood.v0 - 0.001))
    if high < t + 1.0 * _IN:
        return []
    shapes: list[OptionShape] = []
    for long in (12 * _IN, 9 * _IN, 7 * _IN):
        size = rule.down(min(long, (wood.u1 - wood.u0 - 0.009) / _BACKED))
        if size < 5 * _IN or any(s.plate_u == size for s in shapes):
            continue
        depth = rule.near(_SHELF_DEPTH_M)
        shapes.append(
            OptionShape(
                size,
                high,
                ((0.0, size, 0.0, depth + 2 * t, 0.0, high + _LIP_M),),
                ((0.0, size, t, depth + t, high, high + _STANDS_M),),
                want_v=0.8,
                backed_m=_BACKED * size,
                worth=0.4 * size,
                data=_Board(depth, _bracket(site, depth, high)),
            )
        )
    return shapes


def build_shelf(site: Site, spot: OptionPlace) -> tuple[Step, Fitted]:
    """Build the small shelf in its place; its step and what it adds."""
    made: _Board = spot.shape.data
    bench, t, high = site.bench, site.t, spot.shape.plate_v
    _ledge(site, spot, "small shelf", "shelf", made, (), None)
    lip = site.rule.near(_LIP_M)
    bench.panel(
        "small shelf lip",
        spot.shape.plate_u,
        lip,
        {"small shelf lip": spot.upright(0.0, t + made.depth, high - t)},
        grain="free",
        edges=("far",),
    )
    site.join("shelf", "small shelf lip", "small shelf board", carries=False)
    x, y, z = spot.point(spot.shape.plate_u / 2, t + made.depth / 2, high + 0.06)
    load = at("shelf load", spread_fact("cart.side_shelf.load", site.draw), x, y, z)
    step = Step(
        0,
        state("options.shelf.title"),
        (
            state("options.shelf.fix", host=Term("panel", spot.wood.host)),
            *seen_from(spot.wood.side),
        ),
        (state("options.shelf.mind"),),
        (*_parts("small shelf"), "small shelf lip"),
        tuple(site.made["shelf"]),
    )
    return step, Fitted(loads=(load,))
