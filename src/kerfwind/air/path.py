"""From a tool to the vacuum: what the air passes, in order, as elements."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache, partial

import numpy as np
from numpy.typing import NDArray

from ..facts import Ref, Term
from ..kept import Kept
from ..quantity import Draw, Quantity
from ..shop import End, Fitting, Hose, Shop, Tool
from ..shop.catalogue.needs import need
from ..sources import fact
from . import losses
from .curve import SuctionCurve
from .friction import corrugated_hose
from .properties import STANDARD_DENSITY_KG_M3
from .series import Element, Part, Valve

Array = NDArray[np.float64]

LINK_BENDS = 2
_VACUUM, _SEPARATOR = Term("part", "vacuum"), Term("part", "separator")
_QUARTER = np.pi / 2
# Darcy's factor of a smooth wall at a vacuum's Reynolds numbers, for bends alone.
_SMOOTH_FRICTION = 0.019


@dataclass(frozen=True)
class Piece:
    """One loose fitting on the way from tool to hose.

    ``turned``: its ``end_b`` looks to the tool; otherwise its ``end_a`` does.
    """

    fitting: Fitting
    turned: bool = False

    @property
    def tool_side(self) -> End:
        """The end towards the tool."""
        return self.fitting.end_b if self.turned else self.fitting.end_a

    @property
    def hose_side(self) -> End:
        """The end towards the hose."""
        return self.fitting.end_a if self.turned else self.fitting.end_b


@dataclass(frozen=True)
class Link:
    """The hose from separator to vacuum as it lies on the cart.

    ``length_m`` [m] and ``bends`` (quarter turns) are the cart's, where there is one; else the
    hose's own length and the usual bends count.
    """

    hose: Hose
    length_m: Array | float | None = None
    bends: float | None = None


@dataclass(frozen=True)
class Connection:
    """One tool on the unit, the other tools' ports being shut off: all its air depends on.

    Attributes
    ----------
    pieces
        Loose fittings in order, from the tool to the hose.
    link
        Not used when the separator is not.
    curve
        A suction curve in place of the shop's, of the draw that it is solved with.
    sealed
        Every joint on the way is airtight.
    """

    shop: Shop
    tool: Tool
    hose: Hose
    pieces: tuple[Piece, ...] = ()
    link: Link | None = None
    curve: SuctionCurve | None = None
    sealed: bool = False


@dataclass(frozen=True)
class Run:
    """A length of one bore in which chips must keep moving, if they have not been left behind."""

    name: str
    element: int
    bore_m: Array
    length_m: Array
    rise_m: Array
    after_separator: bool = False


@dataclass(frozen=True)
class Way:
    """The elements in order, the runs among them, and the quantities used, some more than once."""

    elements: tuple[Element, ...]
    runs: tuple[Run, ...]
    used: tuple[Quantity, ...]

    @cached_property
    def rests_on(self) -> tuple[Quantity, ...]:
        """The quantities used, each once."""
        return tuple(dict.fromkeys(self.used))

    @property
    def chips_pass(self) -> tuple[tuple[Part, Array], ...]:
        """The bores that chips pass, and whose they are: as far as the separator."""
        ends = [i for i, e in enumerate(self.elements) if e.what in ("cyclone", "inlet")]
        reached = self.elements[: ends[-1] + 1]
        cyclones = [i for i, e in enumerate(reached) if e.what == "cyclone"]
        passed = reached[: cyclones[0] + 1] if cyclones else reached
        return tuple((e.part, e.bore_m) for e in passed)


def goes_into(inner: End, outer: End) -> float:
    """How far ``inner``'s outside is from ``outer``'s inside [m], best values."""
    return abs(inner.outside.best_si - outer.inside.best_si)


def _spread(key: str, draw: Draw) -> Array:
    return draw.between(*fact(f"air.{key}").span, f"air.{key}")


@lru_cache(maxsize=8)
def _ribbed(draw: Draw) -> Array:
    """Friction factor of ribbed hose."""
    return corrugated_hose(_spread("rib_pitch", draw)) * _spread("ribbed_friction", draw)


@lru_cache(maxsize=32)
def _lying(bends: float, ribbed: bool, draw: Draw) -> Array:
    """Loss factor of quarter turns in a run, whose own wall is in the run's length."""
    f = _ribbed(draw) if ribbed else np.full(draw.count, _SMOOTH_FRICTION)
    radius = _spread("bend_radius", draw)
    quarter = losses.bend(_QUARTER, radius, f) - f * _QUARTER * radius
    return np.asarray(bends * quarter * _spread("bend_spread", draw))


#: Where one bore meets another: the smaller one, its loss factor, and whether it narrows; None
#: where both are alike. Samples of the same quantities come as the same arrays, so the same
#: meeting is known again in another tool's way.
_meetings: Kept[tuple[Array, Array, bool] | None] = Kept(128)
#: Likewise what else is worked out from samples of quantities alone.
_worked: Kept[Array] = Kept(128)


def _meeting(
    before: Array, bore: Array, angle: Array | None, spread: Array
) -> tuple[Array, Array, bool] | None:
    if np.array_equal(before, bore):
        return None
    factor = losses.step(before, bore, angle) * spread
    return np.minimum(before, bore), factor, bool(bore.mean() < before.mean())


@dataclass(frozen=True)
class _Block:
    """A part of a way: its elements, the runs by number among them, what it uses, its last bore."""

    elements: tuple[Element, ...]
    runs: tuple[Run, ...]
    rests_on: tuple[Quantity, ...]
    bore: Array | None


#: Parts of ways: changes of one tool leave the most of its way, and tools share the unit.
_blocks: Kept[_Block] = Kept(160)


class WayBuilder:
    """Collects elements along the flow, minding which mouth covers which."""

    def __init__(self, shop: Shop, draw: Draw) -> None:
        self.shop = shop
        self.draw = draw
        self.elements: list[Element] = []
        self.runs: list[Run] = []
        self.rests_on: list[Quantity] = []
        self.bore: Array | None = None

    def add(
        self, objects: tuple[object, ...], also: Hashable, build: Callable[[WayBuilder], None]
    ) -> None:
        """Go on by what ``build`` adds, known again from all that it reads."""

        def block() -> _Block:
            b = WayBuilder(self.shop, self.draw)
            b.bore = self.bore
            build(b)
            return _Block(tuple(b.elements), tuple(b.runs), tuple(b.rests_on), b.bore)

        added = _blocks.of((self.bore, *objects), (self.draw, also), block)
        self.runs += [replace(r, element=r.element + len(self.elements)) for r in added.runs]
        self.elements += added.elements
        self.rests_on += added.rests_on
        self.bore = added.bore

    def spread(self, key: str) -> Array:
        """Samples over the range of a fact of this room."""
        return _spread(key, self.draw)

    def of(self, quantity: Quantity) -> Array:
        """Samples of a quantity of the shop, noted as used."""
        self.rests_on.append(quantity)
        return self.draw.of(quantity)

    def step_to(self, part: Part, bore: Array, what: str = "", angle: Array | None = None) -> None:
        """A change of bore, where there is one."""
        before = self.bore
        self.bore = bore
        if before is None or before is bore:
            return
        spread = self.spread("step_spread")
        meeting = _meetings.of(
            (before, bore, angle, spread), None, lambda: _meeting(before, bore, angle, spread)
        )
        if meeting is not None:
            small, k, narrower = meeting
            name = what or ("step down" if narrower else "step up")
            self.elements.append(Element(part, name, small, k))

    def entry(self, tool: Tool, low: float, high: float) -> None:
        """The hood, on its port's velocity."""
        bore = self.of(tool.port.inside)
        k = self.draw.between(low, high, f"air.entry[{tool.hood}]")
        self.elements.append(Element(Ref("tool", tool.name), "hood entry", bore, k))
        self.bore = bore

    def piece(self, part: Fitting, before: End, into: End, out: End, after: End) -> None:
        """A loose fitting between two other ends."""
        name = part.called
        if not _covers(before, into):
            self.step_to(name, self.of(into.inside))
        if part.bore.assumed:
            ends = self.of(into.inside), self.of(out.inside)
            bore = _worked.of(ends, "narrower", lambda: np.minimum(*ends))
        else:
            bore = self.of(part.bore)
        angle = self._cone(part, into, out) if part.kind == "reducer" else None
        # From a mouth that goes into it the air widens at once, not along the cone.
        at_once = self.bore is not None and self.bore.mean() < bore.mean()
        self.step_to(name, bore, angle=None if at_once and _covers(before, into) else angle)
        length = self.of(part.length)
        turn = self.of(part.turn)
        if part.turn.high_si > 0:
            k = _worked.of((turn,), ("elbow", self.draw), lambda: self._elbow(turn))
            self.elements.append(Element(name, "bend", bore, k))
        self.wall(name, bore, length, ribbed=False)
        if not _covers(after, out):
            self.step_to(name, self.of(out.inside), angle=angle)

    def _elbow(self, turn: Array) -> Array:
        wall = np.full(self.draw.count, _SMOOTH_FRICTION)
        factor = losses.bend(turn, self.spread("elbow_radius"), wall)
        return np.asarray(factor * self.spread("bend_spread"))

    def _cone(self, part: Fitting, into: End, out: End) -> Array:
        sizes = [self.draw.of(q) for q in (part.length, into.inside, out.inside)]

        def angle() -> Array:
            long = self.spread("cone_part") * sizes[0]
            return 2 * np.arctan2(np.abs(sizes[1] - sizes[2]) / 2, np.maximum(long, 1e-3))

        return _worked.of(tuple(sizes), ("cone", self.draw), angle)

    def hose(
        self,
        hose: Hose,
        before: End,
        after: End,
        bends: float,
        *,
        rise: Quantity | None = None,
        length_m: Array | None = None,
        after_separator: bool = False,
    ) -> None:
        """A hose with its two ends, its wall and the bends it lies in."""
        into, out = hose.tool_end, hose.unit_end
        name = Ref("hose", hose.name)
        if not _covers(before, into):
            self.step_to(name, self.of(into.inside))
        bore = self.of(hose.bore)
        self.step_to(name, bore)
        length = self.of(hose.length) if length_m is None else length_m
        climb = self.draw.of(rise) if rise else self.draw.even(0.0)
        self.runs.append(Run(hose.name, len(self.elements), bore, length, climb, after_separator))
        self.wall(name, bore, length, ribbed=hose.wall == "ribbed")
        self.lying_bends(name, bore, bends, ribbed=hose.wall == "ribbed")
        if not _covers(after, out):
            self.step_to(name, self.of(out.inside))

    def wall(self, part: Part, bore: Array, length: Array, *, ribbed: bool) -> None:
        """Friction of a straight run."""
        if ribbed:
            friction = _worked.of(
                (length, bore), ("wall", self.draw), lambda: _ribbed(self.draw) * length / bore
            )
            wall = Element(part, "friction", bore, friction, length_m=length)
        else:
            wall = Element(
                part,
                "friction",
                bore,
                friction_length_m=length,
                roughness_m=self.spread("roughness"),
                length_m=length,
            )
        self.elements.append(wall)

    def lying_bends(self, part: Part, bore: Array, bends: float, *, ribbed: bool) -> None:
        """Quarter turns in a run; their own wall is already in its length."""
        if bends:
            self.elements.append(Element(part, "bends", bore, _lying(bends, ribbed, self.draw)))

    def leak_after(self, area: Array) -> None:
        """Let room air in after the last element."""
        last = self.elements[-1]
        self.elements[-1] = replace(last, leak_area_m2=last.leak_area_m2 + area)


def _covers(visitor: End, mouth: End) -> bool:
    """Whether ``visitor`` goes into ``mouth``, so that the air never meets the mouth's bore."""
    return goes_into(visitor, mouth) < goes_into(mouth, visitor)


def way(connection: Connection, draw: Draw) -> Way:
    """The elements from a tool's hood to the vacuum's inlet, filter included."""
    shop, tool, hose, pieces = connection.shop, connection.tool, connection.hose, connection.pieces
    b = WayBuilder(shop, draw)
    b.entry(tool, *need(tool.hood, tool.operation).entry.span)
    unit_end = shop.separator.cyclone.inlet if shop.separator.in_use else shop.vacuum.inlet
    ends = [(p.tool_side, p.hose_side) for p in pieces]
    befores = [tool.port, *(out for _, out in ends)]
    afters = [*(into for into, _ in ends[1:]), hose.tool_end]
    for p, (into, out), before, after in zip(pieces, ends, befores, afters, strict=False):
        piece = partial(
            WayBuilder.piece, part=p.fitting, before=before, into=into, out=out, after=after
        )
        b.add((p.fitting, before, into, out, after), "piece", piece)
    bends, rise = float(tool.bends), tool.rise
    b.add(
        (hose, befores[-1], unit_end, rise),
        bends,
        lambda b: b.hose(hose, befores[-1], unit_end, bends, rise=rise),
    )
    joints, link = len(pieces) + 2, connection.link
    if shop.separator.in_use:
        b.add((shop.separator, shop.vacuum, link), joints, lambda b: unit(b, joints, link))
    else:
        # Its joint may leak behind the hose's own last element.
        unit(b, joints, link)
    elements = tuple(b.elements)
    if connection.sealed:
        elements = tuple(
            e if isinstance(e.leak_area_m2, float) else replace(e, leak_area_m2=0.0)
            for e in elements
        )
    return Way(elements, tuple(b.runs), tuple(b.rests_on))


def unit(b: WayBuilder, joints: int, link: Link | None) -> None:
    """From the unit's own inlet to the motor: separator, link hose, vacuum, filter.

    ``joints`` counts the push fits upstream that may leak.
    """
    shop = b.shop
    leak = b.spread("leak.joint")
    if shop.separator.in_use:
        joints = _separator(b, link, joints, leak)
    inlet = b.of(shop.vacuum.inlet.inside)
    b.step_to(_VACUUM, inlet, "inlet")
    b.leak_after(joints * leak)
    if not curve_is_measured(shop):
        state = shop.vacuum.filter
        loading = b.spread(f"filter.{state}")
        b.elements.append(Element(_VACUUM, f"{state} filter", inlet, linear_pa_s_m3=loading))


def hose_elements(shop: Shop, hose: Hose, draw: Draw) -> tuple[Element, ...]:
    """A hose alone on the vacuum's inlet, lying straight."""
    b = WayBuilder(shop, draw)
    b.bore = draw.of(hose.bore)
    b.hose(hose, hose.tool_end, shop.vacuum.inlet, 0.0)
    b.step_to(_VACUUM, draw.of(shop.vacuum.inlet.inside), "inlet")
    return tuple(b.elements)


def behind_clogged_filter(elements: Sequence[Element], draw: Draw) -> tuple[Element, ...]:
    """The same way, its filter clogged."""
    loading = draw.between(*fact("air.filter.clogged").span, "air.filter.clogged")
    *before, last = elements
    return (*before, replace(last, what="clogged filter", linear_pa_s_m3=loading))


def curve_is_measured(shop: Shop) -> bool:
    """Whether the curve was measured, and so holds the filter as it was that day."""
    suction = shop.vacuum.suction
    if suction.home_test is not None:
        return True
    figures = suction.points or not (suction.sealed.assumed or suction.open_airflow.assumed)
    return suction.known_from == "measured" and bool(figures)


def relief_valve(shop: Shop, draw: Draw) -> Valve | None:
    """The valve in the separator's lid, where there is one.

    It opens fully somewhat beyond where it lifts, and then lets in `valve_lets_in_m3_s`.
    """
    opens = shop.separator.valve
    if opens is None or not shop.separator.in_use:
        return None
    lifts = draw.of(opens)
    beyond = draw.between(*fact("air.valve.over").span, "air.valve.over") * lifts
    return Valve(lifts, valve_lets_in_m3_s(shop) * STANDARD_DENSITY_KG_M3 / beyond)


def valve_lets_in_m3_s(shop: Shop) -> float:
    """Standard air that a relief valve lets in, wide open: all that the vacuum can move [m³/s].

    A valve of this size is the one that is tried, and so the one that is to be bought.
    """
    return shop.vacuum.suction.open_airflow.high_si


def _cyclone(inlet_m: Array, outlet_m: Array, draw: Draw) -> Array:
    factor = losses.cyclone_shepherd_lapple(np.pi / 4 * inlet_m**2, outlet_m)
    return np.asarray(factor * _spread("cyclone_factor", draw))


def _separator(b: WayBuilder, link: Link | None, joints: int, leak: Array) -> int:
    """Cyclone and link hose; returns the joints that are left for the vacuum's inlet."""
    shop = b.shop
    cyclone = shop.separator.cyclone
    inlet, outlet = b.of(cyclone.inlet.inside), b.of(cyclone.outlet.inside)
    b.step_to(_SEPARATOR, inlet, "inlet")
    k = _worked.of((inlet, outlet), ("cyclone", b.draw), lambda: _cyclone(inlet, outlet, b.draw))
    height = b.draw.of(cyclone.height)
    b.elements.append(Element(_SEPARATOR, "cyclone", inlet, k, length_m=height))
    b.leak_after(joints * leak + b.spread("leak.lid"))
    if shop.separator.valve is not None:
        b.elements[-1] = replace(b.elements[-1], valve=relief_valve(shop, b.draw))
    b.bore = outlet
    if link is None:
        return 1
    length: Array | None = None
    if link.length_m is not None:
        given = np.asarray(link.length_m, dtype=float)
        length = given if given.shape == (b.draw.count,) else b.draw.even(given.item())
    bends = LINK_BENDS if link.bends is None else link.bends
    b.hose(
        link.hose,
        cyclone.outlet,
        shop.vacuum.inlet,
        float(bends),
        length_m=length,
        after_separator=True,
    )
    return 2
