"""What every form is made of: a bottom on casters, lipping, a shelf, and the wishes it meets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from ...fact_samples import Samples
from ...facts import Amount, Fact, Fix, Listing, state
from ...faults import Refusal, refusal
from ...joinery.grooves import depth_m, shoulder_m
from ...joinery.marks import MarkingRule
from ...joinery.workbench import SecondSheet, Workbench
from ...quantity import Draw, middle
from ...shop import Built, Sheet, Shop
from ...solids import BACK_X, DOWN, Corner, Face, Opening, Placement, X, Y, Z
from ...sources import fact
from ..bucket_opening import CLEAT_M, cleat_run_m, hold
from ..carried_bodies import TOP_INLET
from ..cutsize import NeededSize, chosen, large, usable
from ..hosepath import outside_m, under_m
from ..loads import BallastPlace, StandingPoints
from ..model import HeldBucket, SupportedPlate
from ..straps import strap_m

IN = 0.0254
#: Off the shelf's front corners, before it is rounded to a mark [m].
_CHAMFER_M = 0.025
#: The face of each panel that is out of sight when the cart stands: where pockets go.
FACES: dict[str, Face] = {
    "side": "upper",
    "post": "upper",
    "upright": "upper",
    "rail": "lower",
    "bracket": "lower",
    "bottom": "lower",
}
BLOCKS = ("front left block", "front right block", "rear left block", "rear right block")
#: Width of the cleats by which the ballast's tray is screwed up under the bottom.
TRAY_CLEAT_M = 1.5 * IN
OUTRIGGERS = ("front outrigger", "rear outrigger")
#: A tray narrower than this has its floor screwed to each end once, in the middle [m].
_NARROW_TRAY_M = 0.25
TRAY_SIDES = ("left tray side", "right tray side")
TRAY_ENDS = ("front tray end", "rear tray end")
TRAY_CLEATS = ("left tray cleat", "right tray cleat")
CLEATS = ("front cleat", "rear cleat", "left cleat", "right cleat")


@dataclass(frozen=True)
class FormInputs:
    """What a form starts from: rule, sheet, bucket as it is held, and its margins [m].

    ``t`` is the thickness of all panels but those of the second sheet. ``wider``, ``deeper``
    (behind) and ``ahead`` are what is added to the bottom for steadiness; ``sink`` is how deep
    edges go into grooves of panels ``t`` thick, ``shelf_sink`` into the shelf's, zero where the
    wish is for another ``joint``. ``tied`` says that the tool hose is tied low.
    """

    rule: MarkingRule
    t: float
    along: float
    across: float
    play: float
    held: HeldBucket | None
    margin: float
    rear_margin: float
    lip: float
    rail: float
    wider: float
    deeper: float
    ahead: float
    built: tuple[Built, ...] = ()
    second: SecondSheet | None = None
    trimmed: float = 0.0
    joint: str = "screwed butt"
    sink: float = 0.0
    shelf_sink: float = 0.0
    outriggers: float = 0.0
    ballast_kg: float = 0.0
    tied: bool = True

    @property
    def chamfer(self) -> float:
        """What is cut off the shelf's front corners, along either edge [m]."""
        return self.rule.near(_CHAMFER_M)

    @property
    def sinks(self) -> float:
        """How much of an upright sinks into bottom and shelf, at both ends together [m]."""
        return self.sink + self.shelf_sink

    @property
    def beside(self) -> float:
        """Least from the opening to an upright's inner face; a cleat's screws clear its groove."""
        cleat = self.thick("cleat") / 2 + 0.25 * IN if self.sink and self.standing else 0.0
        return max(self.margin - self.t, 0.5 * IN, cleat)

    @property
    def upper(self) -> float:
        """How far the upper rail reaches below the shelf; the lower one is of the same width."""
        return self.rail + self.sink - self.shelf_sink

    def stop(self, depth: float) -> tuple[tuple[Corner, float, float], ...]:
        """The notch that keeps an upright's upper end out of the shelf's front, where it shows."""
        need = self.chamfer + fact("cart.dado.stop").value - (self.shelf_depth - depth)
        if not self.shelf_sink or need <= 0:
            return ()
        return (("near right", self.shelf_sink, self.rule.up(need)),)

    def thick(self, role: str) -> float:
        """Thickness of ``lipping``, ``cleat``, ``rail`` or ``shelf``."""
        if self.second is not None and role in self.second.roles:
            return self.second.thickness_m
        return self.t

    @property
    def shelf_t(self) -> float:
        """The shelf's thickness."""
        return self.thick("shelf")

    @property
    def rail_t(self) -> float:
        """The rails' thickness."""
        return self.thick("rail")

    @property
    def lip_t(self) -> float:
        """The lipping's thickness."""
        return self.thick("lipping")

    def cut(self, panel: str, side: Literal["length", "width"], planned: float) -> float:
        """A panel's side as it was cut, where the shop says so; otherwise as planned."""
        for row in self.built:
            measured = getattr(row, side)
            if row.name == panel and measured is not None:
                return float(measured.best_si)
        return planned

    @property
    def standing(self) -> bool:
        """The bucket stands on the shelf or bottom instead of hanging in an opening."""
        return self.held is not None and self.held.hold == "standing"

    @property
    def opening(self) -> float:
        """Opening, or pocket between cleats, side to side; zero without a bucket."""
        return self.held.opening_m if self.held is not None else 0.0

    @property
    def opening_depth(self) -> float:
        """Size of the bucket's opening front to back [m]."""
        return self.held.opening_length_m if self.held is not None else 0.0

    @property
    def opening_back(self) -> float:
        """From the shelf's rear edge to the middle of the opening."""
        return self.rear_margin + self.opening_depth / 2

    def outline(self, span: float, held_from: float = 0.0) -> SupportedPlate:
        """The shelf as a plate held at the ends of ``span``, with its opening."""
        held = self.held
        middle = (span / 2, self.shelf_depth - self.opening_back)
        if held is None or self.standing:
            return SupportedPlate(span, self.shelf_depth, middle, 0.0, held_from_m=held_from)
        # A corner sawn square is rounded a little, as the plate's elements need it.
        radius = max(held.corner_m, 0.004)
        stretch = (max(self.opening - 2 * radius, 0.0), max(self.opening_depth - 2 * radius, 0.0))
        return SupportedPlate(
            span, self.shelf_depth, middle, radius, held_from_m=held_from, stretch_m=stretch
        )

    @property
    def shelf_depth(self) -> float:
        """Shelf front to back: opening and margins, or a plain shelf."""
        if self.held is None:
            return self.cut("shelf", "width", self.rule.up(0.3))
        planned = self.rule.up(self.rear_margin + self.opening_depth + self.margin)
        return self.cut("shelf", "width", planned)

    @property
    def hang(self) -> float:
        """How far the bucket can hang below the shelf's underside."""
        return max(self.held.most_m - self.shelf_t, 0.0) if self.held is not None else 0.0

    @property
    def hangs(self) -> Samples | float:
        """How far the bucket hangs below the shelf's underside, over the draw."""
        return np.maximum(self.held.depth_m - self.shelf_t, 0.0) if self.held is not None else 0.0


def form_inputs(shop: Shop, sheet: Sheet, draw: Draw) -> tuple[FormInputs, list[Refusal]]:
    """What a form starts from, and the wishes that cannot be met already by it."""
    rule = MarkingRule.of(shop)
    t = sheet.thickness.best_si
    along, across = usable(sheet, shop.saw)
    unmet = _thickness(t)
    second, against_second = _second(shop, t)
    unmet += against_second
    held: HeldBucket | None = None
    if shop.separator.in_use:
        held, against = hold(shop.separator.bucket, shop.wishes.hold_bucket, rule, draw)
        unmet += against
        if held.hold == "standing":
            held = replace(held, strap_m=rule.near(strap_m(held, shop.separator)))
    margin = fact("cart.shelf.margin").value
    lip = _lip(shop, t, rule)
    rail = rule.near(fact("cart.rail.width").value)
    thickest = max(t, second.thickness_m) if second else t
    wider, deeper = shop.wishes.extra_width.best_si, shop.wishes.extra_depth.best_si
    inputs = FormInputs(
        rule,
        t,
        along,
        across,
        shop.wishes.clearance.best_si,
        held,
        margin,
        max(margin, thickest + 0.25 * IN),
        lip,
        rail,
        rule.near(wider),
        rule.near(deeper),
        rule.near(shop.wishes.extra_front.best_si),
        shop.built,
        second,
        2 * shop.saw.trim.high_si,
        shop.wishes.joint,
        outriggers=rule.near(shop.wishes.outriggers.best_si),
        ballast_kg=shop.wishes.ballast.best_si,
        tied=shop.wishes.hose_anchor == "low",
    )
    lip = inputs.cut("lipping", "width", inputs.cut("long lipping", "width", lip))
    if shop.wishes.joint == "dado":
        inputs = _grooved(inputs, wider, deeper)
    sink = inputs.sink
    inputs = replace(inputs, lip=lip, rail=inputs.cut("rail", "width", rail + sink) - sink)
    return inputs, unmet


def _grooved(g: FormInputs, wider: float, deeper: float) -> FormInputs:
    """The inputs with the depths of grooves, and with the room that grooves need beside them."""
    rule, t = g.rule, g.t
    behind = 0.0
    if g.standing:
        # The screws of a cleat on the shelf keep clear of the groove behind it.
        behind = g.rail_t + g.thick("cleat") / 2 + 0.25 * IN
    return replace(
        g,
        sink=depth_m(t, rule),
        shelf_sink=depth_m(g.shelf_t, rule),
        rear_margin=max(g.rear_margin, behind),
        wider=rule.near(2 * rule.up(shoulder_m(wider / 2, t))),
        deeper=rule.near(rule.up(shoulder_m(deeper, t))),
    )


def _lip(shop: Shop, t: float, rule: MarkingRule) -> float:
    """Width of the lipping: wide enough to hold and to cut, low enough for hose and inlet."""
    lip = max(t + fact("cart.lip.height").value, shop.saw.smallest_piece.best_si)
    hose = shop.link
    if shop.separator.in_use and hose is not None and shop.vacuum.inlet_on == "side":
        lip = min(lip, t + shop.vacuum.inlet_height.best_si - outside_m(hose))
    return rule.up(max(lip, t + 0.75 * IN))


def _second(shop: Shop, t: float) -> tuple[SecondSheet | None, list[Refusal]]:
    """The second sheet, where one is wished for, and what stands against its thickness."""
    name = shop.wishes.second_sheet
    if name is None or not shop.wishes.second_panels:
        return None, []
    sheet = next(s for s in shop.sheets if s.name == name)
    thickness = sheet.thickness.best_si
    if abs(thickness - t) < 1e-5:
        thickness = t
    along, across = usable(sheet, shop.saw)
    second = SecondSheet(name, thickness, along, across, frozenset(shop.wishes.second_panels))
    unmet = _thickness(thickness, "wishes.second_sheet", "second")
    return second, unmet


def _thickness(t: float, wish: str = "wishes.sheet", place: str = "sheet") -> list[Refusal]:
    least, most = fact("cart.thickness.least").value, fact("cart.thickness.most").value
    if least <= t <= most:
        return []
    thin = t < least
    return [
        refusal(
            "cart.refused.too_thin" if thin else "cart.refused.too_thick",
            wish,
            fixes=(Fix(f"{place}.thickness", Amount(0.012 if thin else 0.018, "length"), False),),
            thickness=Amount(t, "length"),
            least=Amount(least, "length"),
            most=Amount(most, "length"),
        )
    ]


def above_shelf(shop: Shop, held: HeldBucket | None) -> tuple[float, float]:
    """Height of bucket and cyclone over the shelf, best and worst [m]."""
    if held is None:
        return 0.0, 0.0
    bucket, cyclone = shop.separator.bucket, shop.separator.cyclone
    best = bucket.height.best_si - middle(held.depth_m) + cyclone.height.best_si
    worst = bucket.height.high_si - held.least_m + cyclone.height.high_si
    return best, worst


def over_vacuum_m(shop: Shop, g: FormInputs, behind: float) -> float:
    """Height to keep free over the vacuum: to lift it out, to breathe, to bend its hose [m].

    ``behind`` is how far the vacuum's rear stays in front of the shelf's rear edge.
    """
    vacuum = shop.vacuum
    gap = max(g.lip - g.t + fact("cart.lift.gap").value, 0.0)
    if "top" in (vacuum.air_in_on, vacuum.air_out_on):
        gap = max(gap, fact("cart.air.gap").value)
    hose = shop.link
    if g.held is not None and hose is not None and vacuum.inlet_on == "top":
        mouth = behind + (0.5 + TOP_INLET) * vacuum.length.best_si
        if mouth - outside_m(hose) < g.shelf_depth:
            gap = max(gap, under_m(hose))
    return gap


def upright_m(shop: Shop, g: FormInputs, behind: float) -> float:
    """Height of the uprights of a form with the bucket over the vacuum [m].

    Vacuum, room to lift it out, and whatever hangs below the shelf; for the worst of the
    ranges where the wish for height and the sheet allow. ``behind`` is how far the vacuum's
    rear stays in front of the shelf's rear edge.
    """
    w, vacuum = shop.wishes, shop.vacuum
    gap = over_vacuum_m(shop, g, behind)
    need = large(vacuum.height) + gap + g.hang
    if g.held is not None:
        hang = max(middle(g.held.depth_m) - g.shelf_t, 0.0)
        need = NeededSize(vacuum.height.best_si + gap + hang, need.worst_m)
    best, worst = above_shelf(shop, g.held)
    under = w.caster_height.best_si + 2 * g.t + g.shelf_t
    slack = w.caster_height.high_si - w.caster_height.best_si
    cap = w.greatest_height.best_si - under - slack - worst
    most = w.greatest_height.best_si - under - best
    return chosen(need, min(max(cap, need.best_m), g.along - g.sinks, most), g.rule)


@dataclass(frozen=True)
class Base:
    """The bottom and what it rolls on [m]: from x = -width/2 and y = 0.

    ``out`` is how far outriggers reach beyond it at either side; ``ballast_kg`` is what its tray
    holds.
    """

    width: float
    depth: float
    block: tuple[float, float]
    caster: float
    wheel: float
    t: float
    rule: MarkingRule
    out: float = 0.0
    ballast_kg: float = 0.0

    @property
    def under(self) -> float:
        """Height of the bottom's underside."""
        return self.caster + self.t

    @property
    def top(self) -> float:
        """Height of the bottom's upper face."""
        return self.caster + 2 * self.t

    @property
    def over_wheels(self) -> float:
        """Width over the bottom and its outriggers."""
        return self.width + 2 * self.out

    @property
    def casters(self) -> tuple[tuple[float, float], ...]:
        """Middles of the caster plates: front left, front right, rear left, rear right."""
        bx, by = self.block
        return tuple(
            (sx * (self.over_wheels / 2 - bx / 2), y)
            for y in (by / 2, self.depth - by / 2)
            for sx in (-1.0, 1.0)
        )

    @property
    def plate(self) -> tuple[float, float]:
        """Caster plate across and front to back."""
        long = fact("cart.caster.plate_length").value
        short = fact("cart.caster.plate_width").value
        return (long, short) if self.block[0] > self.block[1] else (short, long)

    @property
    def swivel(self) -> float:
        """How far a swivelling wheel reaches from its pivot."""
        return (fact("cart.caster.trail").span[1] + 0.5) * self.wheel

    def passing(self, width: float, length: float) -> float:
        """The narrower way over the wood and all swivelling wheels."""
        (x0, y0), (x1, _), (_, y1), _ = self.casters
        return min(max(width, x1 - x0 + 2 * self.swivel), max(length, y1 - y0 + 2 * self.swivel))

    @property
    def tray(self) -> Tray | None:
        """The tray for the ballast; None where there is none, or no room for any."""
        return Tray.under(self) if self.ballast_kg > 0 else None


@dataclass(frozen=True)
class Tray:
    """A closed tray under the bottom, between the wheels [m]; sizes are inside.

    ``front`` is how far its front end stays behind the bottom's front edge, ``floor`` the height
    of its floor's upper face; ballast that is laid in it lies as high as ``filled``, and is
    ``iron`` where slabs or sand would not go in.
    """

    width: float
    length: float
    height: float
    filled: float
    floor: float
    front: float
    iron: bool

    @classmethod
    def under(cls, base: Base) -> Tray | None:
        """The narrowest that holds a base's ballast, as long as there is room.

        One as large as there is room for, where the ballast is more than that holds.
        """
        t, rule = base.t, base.rule
        height = rule.down(base.caster - fact("cart.ballast.clearance").value)
        front = base.block[1] if base.out else 0.0
        length = base.depth - 2 * front - 2 * t
        beside = base.casters[1][0] - base.swivel - fact("cart.ballast.play").value
        widest = rule.down(min(2 * beside, base.width) - 2 * (t + TRAY_CLEAT_M))
        least = fact("cart.ballast.least").value
        if height < least or widest < 2 * least or length < 2 * least:
            return None
        # Slabs where they have room, iron where not.
        loose, dense = (fact(f"cart.ballast.{of}").value for of in ("density", "iron_density"))
        iron = base.ballast_kg > loose * widest * height * length
        density = dense if iron else loose
        needed = base.ballast_kg / density / height / length
        width = min(rule.up(max(needed, 2 * least)), widest)
        filled = min(base.ballast_kg / density / width / length, height)
        return cls(width, length, height, filled, base.under - height, front, iron)

    @property
    def holds_kg(self) -> float:
        """What it holds when it is full of iron."""
        return self.width * self.length * self.height * fact("cart.ballast.iron_density").value


def base_of(shop: Shop, g: FormInputs, width: float, depth: float) -> Base:
    """Bottom and casters; a block's short side lies along the bottom's narrow way."""
    long = g.rule.up(fact("cart.caster.plate_length").value + 0.25 * IN)
    short = g.rule.up(fact("cart.caster.plate_width").value + 0.5 * IN)
    block = (short, long) if width <= depth else (long, short)
    w = shop.wishes
    return Base(
        width,
        depth,
        block,
        w.caster_height.best_si,
        w.caster_diameter.best_si,
        g.t,
        g.rule,
        g.outriggers,
        g.ballast_kg,
    )


def lay_bottom(bench: Workbench, base: Base) -> None:
    """The bottom, its caster blocks or outriggers, and the ballast's tray."""
    w, d = base.width, base.depth
    bench.panel(
        "bottom", w, d, {"bottom": Placement((-w / 2, 0.0, base.under), X, Y, Z)}, grain="free"
    )
    bx, by = base.block
    if base.out:
        wide = base.over_wheels
        bench.panel(
            "outrigger",
            wide,
            by,
            {
                f"{row} outrigger": Placement((-wide / 2, y, base.caster), X, Y, Z)
                for row, y in (("front", 0.0), ("rear", d - by))
            },
        )
    else:
        bench.panel(
            "caster block",
            bx,
            by,
            {
                f"{row} {side} block": Placement((x, y0, base.caster), X, Y, Z)
                for row, y0 in (("front", 0.0), ("rear", d - by))
                for side, x in (("left", -w / 2), ("right", w / 2 - bx))
            },
            grain="free",
        )
    if base.tray is not None:
        lay_tray(bench, base.tray, base.t)


def lay_tray(bench: Workbench, tray: Tray, t: float) -> None:
    """Sides, ends, cleats and floor of the ballast's tray, which the bottom closes."""
    half, long, y = tray.width / 2, tray.length + 2 * t, tray.front
    out, over = half + t, tray.floor + tray.height - t
    wide = bench.rule.down(2 * out)
    bench.panel(
        "tray cleat",
        long,
        bench.rule.near(TRAY_CLEAT_M),
        {
            "left tray cleat": Placement((-out, y, over), Y, BACK_X, Z),
            "right tray cleat": Placement((out, y, over), Y, X, Z),
        },
        grain="free",
    )
    bench.panel(
        "tray side",
        long,
        tray.height,
        {
            "left tray side": Placement((-half - t, y, tray.floor), Y, Z, X),
            "right tray side": Placement((half, y, tray.floor), Y, Z, X),
        },
        grain="free",
    )
    bench.panel(
        "tray end",
        tray.width,
        tray.height,
        {
            "front tray end": Placement((-half, y, tray.floor), X, Z, Y),
            "rear tray end": Placement((-half, y + long - t, tray.floor), X, Z, Y),
        },
        grain="free",
    )
    bench.panel(
        "tray floor",
        long,
        wide,
        {"tray floor": Placement((wide / 2, y, tray.floor - t), Y, BACK_X, Z)},
        grain="free",
    )


def lay_shelf(
    bench: Workbench, g: FormInputs, left_x: float, width: float, rear_y: float, roof: float
) -> None:
    """The shelf with its opening, or with cleats on it where the bucket stands."""
    openings: tuple[Opening, ...] = ()
    if g.held is not None and not g.standing:
        openings = (
            Opening(
                width / 2,
                g.shelf_depth - g.opening_back,
                g.opening,
                g.opening_depth,
                g.held.corner_m,
            ),
        )
    bench.panel(
        "shelf",
        width,
        g.shelf_depth,
        {"shelf": Placement((left_x, rear_y - g.shelf_depth, roof), X, Y, Z)},
        edges=("near", "left", "right"),
        openings=openings,
        chamfers=(("near left", g.chamfer), ("near right", g.chamfer)),
    )
    if g.standing:
        lay_cleats(bench, g, left_x + width / 2, rear_y - g.opening_back, roof + g.shelf_t)


def lay_cleats(bench: Workbench, g: FormInputs, x: float, y: float, floor: float) -> None:
    """Four cleats about the middle (x, y) of a pocket, on a floor."""
    wide, long, t = g.opening / 2, g.opening_depth / 2, g.thick("cleat")
    assert g.held is not None
    run = bench.rule.down(cleat_run_m(g.held))
    bench.panel(
        "bucket cleat",
        run,
        bench.rule.near(CLEAT_M),
        {
            "front cleat": Placement((x - run / 2, y - long - t, floor), X, Z, Y),
            "rear cleat": Placement((x - run / 2, y + long, floor), X, Z, Y),
            "left cleat": Placement((x - wide - t, y - run / 2, floor), Y, Z, X),
            "right cleat": Placement((x + wide, y - run / 2, floor), Y, Z, X),
        },
        grain="free",
    )


def where_of(
    base: Base,
    vacuum_xy: tuple[float, float],
    bucket_xy: tuple[float, float] | None,
    shelf_top: float,
) -> StandingPoints:
    """Where vacuum, bucket, casters and ballast are, to weigh the cart."""
    tray, held = base.tray, None
    if tray is not None:
        middle = tray.front + base.t + tray.length / 2
        held = BallastPlace(
            (0.0, middle, tray.floor),
            (tray.width, tray.length, tray.filled),
            base.ballast_kg,
            tray.iron,
        )
    return StandingPoints(
        vacuum_xy, base.top, bucket_xy, shelf_top, base.casters, base.caster, held
    )


def upper_rail(g: FormInputs, left: float, front: float, roof: float, inner: float) -> Placement:
    """Where the upper rail is: turned half round for pockets, which then face the shelf.

    Where shelf and bottom differ, their pockets do as well and are in the rail's two edges.
    """
    if g.joint == "pocket hole" and g.shelf_t == g.t:
        return Placement((left + inner, front, roof), BACK_X, DOWN, Y)
    return Placement((left, front, roof - g.upper), X, Z, Y)


def rail_note(g: FormInputs, middle: bool = False) -> Fact | None:
    """The note on a rail's drawing: which of its pockets a copy of it can do without."""
    if g.joint != "pocket hole":
        return None
    both = g.shelf_t != g.t
    sentences = [state("cart.note.middle_rail")] if middle else []
    sentences += [state("cart.note.rails")] if both else []
    return Listing(tuple(sentences), "sentences") if sentences else None


class Joiner:
    """Makes joints and remembers which step makes them."""

    def __init__(self, bench: Workbench) -> None:
        self.bench = bench
        self.made: dict[str, list[str]] = {}

    def __call__(
        self, step: str, first: str, second: str, *, carries: bool = True, least: int = 2
    ) -> None:
        """Join two placed panels in a step."""
        joint = self.bench.join(first, second, carries=carries, least=least)
        self.made.setdefault(step, []).append(joint.key)

    def keys(self, step: str) -> tuple[str, ...]:
        """Keys of the joints that a step makes."""
        return tuple(self.made.get(step, ()))

    def screwed(
        self, step: str, first: str, second: str, at: Sequence[float] | None = None
    ) -> None:
        """Screw two panels together, whatever joint is wished for: screws alone can be undone.

        ``at`` are the screws' places along the joint [m], where they are not spread by rule.
        """
        wish, self.bench.wish = self.bench.wish, "screwed butt"
        joint = self.bench.join(first, second, carries=False, least=2, at=at, glue=False)
        self.bench.wish = wish
        self.made.setdefault(step, []).append(joint.key)

    def bottom_parts(self) -> None:
        """Join the caster blocks or outriggers to the bottom from below, and make the tray."""
        for block in (*BLOCKS, *OUTRIGGERS):
            if block in self.bench.placed:
                self("blocks", block, "bottom")
        if "tray floor" not in self.bench.placed:
            return
        for side in TRAY_SIDES:
            for end in TRAY_ENDS:
                self.screwed("tray", side, end)
        for side, cleat in zip(TRAY_SIDES, TRAY_CLEATS, strict=True):
            self.screwed("tray", side, cleat)
            self.screwed("tray", cleat, "bottom")
        for side in TRAY_SIDES:
            self.screwed("ballast", "tray floor", side)
        # The sides' screws come into the ends from both corners: in a narrow tray only the
        # middle is free between them.
        width = self.bench.panels[self.bench.placed[TRAY_ENDS[0]].key].length_m
        for end in TRAY_ENDS:
            narrow = width < _NARROW_TRAY_M
            self.screwed("ballast", "tray floor", end, [width / 2] if narrow else None)

    def cleats(self, floor: str, step: str) -> None:
        """Join the cleats to what they stand on, with screws from below."""
        if "front cleat" not in self.bench.placed:
            return
        # A cleat's only face is upright, so what it stands on is screwed up into its edge.
        for cleat in CLEATS:
            self(step, floor, cleat, carries=False)
