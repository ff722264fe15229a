"""What every form is made of: a bottom on casters, lipping, a shelf, and the wishes it meets."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from typing import Literal

from ...quantity import Draw, middle
from ...shop import Built, Sheet, Shop
from ...solids import Corner, Face, Opening, Placement
from ...sources import fact
from ..building import Workbench
from ..cutsize import Need, Rule, chosen, large, usable
from ..fasteners import screw_size
from ..grooves import depth_m, shoulder_m
from ..holding import CLEAT_M, hold
from ..hosepath import outside_m, under_m
from ..loads import Where
from ..model import HeldBucket, Unmet
from ..pockets import pocket_size
from ..things import TOP_INLET

X, Y, Z = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
BACK_X, DOWN = (-1.0, 0.0, 0.0), (0.0, 0.0, -1.0)
IN = 0.0254
CHAMFER_M = 0.025
#: The face of each panel that is out of sight when the cart stands: where pockets go.
FACES: dict[str, Face] = {
    "side": "upper", "post": "upper", "upright": "upper",
    "rail": "lower", "bracket": "lower", "bottom": "lower",
}  # fmt: skip
BLOCKS = ("front left block", "front right block", "rear left block", "rear right block")
CLEATS = ("front cleat", "rear cleat", "left cleat", "right cleat")


@dataclass(frozen=True)
class Ground:
    """What a form starts from: rule, sheet, bucket as it is held, and its margins [m].

    ``wider``, ``deeper`` (behind) and ``ahead`` are what is added to the bottom for steadiness;
    ``sink`` is how deep edges go into grooves, zero where the wish is for another ``joint``.
    """

    rule: Rule
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
    joint: str = "screwed butt"
    sink: float = 0.0

    def stop(self, depth: float) -> tuple[tuple[Corner, float, float], ...]:
        """The notch that keeps an upright's upper end out of the shelf's front, where it shows."""
        need = CHAMFER_M + fact("cart.dado.stop").value - (self.shelf_depth - depth)
        if not self.sink or need <= 0:
            return ()
        return (("near right", self.sink, self.rule.up(need)),)

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
        """Diameter of the opening, or of the pocket between cleats; zero without a bucket."""
        return self.held.opening_m if self.held is not None else 0.0

    @property
    def shelf_depth(self) -> float:
        """Shelf front to back: opening and margins, or a plain shelf."""
        if self.held is None:
            return self.cut("shelf", "width", self.rule.up(0.3))
        planned = self.rule.up(self.rear_margin + self.opening + self.margin)
        return self.cut("shelf", "width", planned)

    @property
    def hang(self) -> float:
        """How far the bucket can hang below the shelf's underside."""
        return max(self.held.most_m - self.t, 0.0) if self.held is not None else 0.0


def ground(shop: Shop, sheet: Sheet, draw: Draw) -> tuple[Ground, list[Unmet]]:
    """Rule, sheet and bucket, with what stands against them."""
    rule = Rule.of(shop)
    t = sheet.thickness.best_si
    along, across = usable(sheet, shop.saw)
    unmet = _thickness(t, rule) or _pocketable(shop, t, rule)
    held: HeldBucket | None = None
    if shop.separator.in_use:
        held, against = hold(shop.separator.bucket, shop.wishes.hold_bucket, rule, draw)
        unmet += against
    margin = fact("cart.shelf.margin").value
    lip = _lip(shop, t, rule)
    rail = rule.near(fact("cart.rail.width").value)
    wider, deeper = shop.wishes.extra_width.best_si, shop.wishes.extra_depth.best_si
    sink, behind = 0.0, t
    if shop.wishes.joint == "dado":
        # The screws of a cleat on the shelf keep clear of the groove behind it.
        behind = 1.5 * t if held is not None and held.hold == "standing" else t
        sink = depth_m(t, rule)
        wider, deeper = 2 * rule.up(shoulder_m(wider / 2, t)), rule.up(shoulder_m(deeper, t))
    found = Ground(
        rule, t, along, across, shop.wishes.clearance.best_si, held, margin,
        max(margin, behind + 0.25 * IN), lip, rail, rule.near(wider), rule.near(deeper),
        rule.near(shop.wishes.extra_front.best_si), shop.built, shop.wishes.joint, sink,
    )  # fmt: skip
    lip = found.cut("lipping", "width", found.cut("long lipping", "width", lip))
    found = replace(found, lip=lip, rail=found.cut("rail", "width", rail + sink) - sink)
    return found, unmet


def _lip(shop: Shop, t: float, rule: Rule) -> float:
    """Width of the lipping: wide enough to hold and to cut, low enough for hose and inlet."""
    lip = max(t + fact("cart.lip.height").value, shop.saw.smallest_piece.best_si)
    hose = shop.link
    if shop.separator.in_use and hose is not None and shop.vacuum.inlet_on == "side":
        lip = min(lip, t + shop.vacuum.inlet_height.best_si - outside_m(hose))
    return rule.up(max(lip, t + 0.75 * IN))


def _thickness(t: float, rule: Rule) -> list[Unmet]:
    least, most = fact("cart.thickness.least").value, fact("cart.thickness.most").value
    if least <= t <= most:
        return []
    thin = t < least
    return [
        Unmet(
            "wishes.sheet", f"a thickness of {rule.text(t)}",
            f"{rule.text(least)} to {rule.text(most)}",
            "Choose thicker plywood: its edge must take a screw." if thin
            else "Choose thinner plywood.",
            (("sheet.thickness", "12 mm" if thin else "18 mm"),),
        )
    ]  # fmt: skip


def _pocketable(shop: Shop, t: float, rule: Rule) -> list[Unmet]:
    """Pocket holes that the plywood is too thin for."""
    metric = rule.units == "mm"
    if shop.wishes.joint != "pocket hole" or pocket_size(t, t, screw_size(t, metric), metric):
        return []
    return [
        Unmet(
            "wishes.joint", f"`pocket hole` in plywood of {rule.text(t)}",
            "plywood thick enough for a slanted screw with wood under its head and before its point",
            "Screw through the faces instead, or choose 15 mm (5/8 in) plywood or thicker.",
            (("wishes.joint", "screwed butt"),),
        )
    ]  # fmt: skip


def above_shelf(shop: Shop, held: HeldBucket | None) -> tuple[float, float]:
    """Height of bucket and cyclone over the shelf, best and worst [m]."""
    if held is None:
        return 0.0, 0.0
    bucket, cyclone = shop.separator.bucket, shop.separator.cyclone
    best = bucket.height.best_si - middle(held.depth_m) + cyclone.height.best_si
    worst = bucket.height.high_si - held.least_m + cyclone.height.high_si
    return best, worst


def built_unmet(g: Ground, panels: Collection[str]) -> list[Unmet]:
    """Rows of panels as built that this form does not have."""
    return [
        Unmet(
            f"built[{row.name}]", f"`{row.name}`", ", ".join(sorted(panels)),
            "Use a panel's name from the plan.",
        )
        for row in g.built if row.name not in panels
    ]  # fmt: skip


def upright_m(shop: Shop, g: Ground, behind: float) -> float:
    """Height of the uprights of a form with the bucket over the vacuum [m].

    Vacuum, room to lift it out, and whatever hangs below the shelf; for the worst of the
    ranges where the wish for height and the sheet allow. ``behind`` is how far the vacuum's
    rear stays in front of the shelf's rear edge.
    """
    w, vacuum = shop.wishes, shop.vacuum
    gap = max(g.lip - g.t + fact("cart.lift.gap").value, 0.0)
    if "top" in (vacuum.air_in_on, vacuum.air_out_on):
        gap = max(gap, fact("cart.air.gap").value)
    hose = shop.link
    if g.held is not None and hose is not None and vacuum.inlet_on == "top":
        mouth = behind + (0.5 + TOP_INLET) * vacuum.length.best_si
        if mouth - outside_m(hose) < g.shelf_depth:
            gap = max(gap, under_m(hose))
    need = large(vacuum.height) + gap + g.hang
    if g.held is not None:
        hang = max(middle(g.held.depth_m) - g.t, 0.0)
        need = Need(vacuum.height.best_si + gap + hang, need.worst_m)
    best, worst = above_shelf(shop, g.held)
    under = w.caster_height.best_si + 3 * g.t
    slack = w.caster_height.high_si - w.caster_height.best_si
    cap = w.greatest_height.best_si - under - slack - worst
    most = w.greatest_height.best_si - under - best
    return chosen(need, min(max(cap, need.best_m), g.along - 2 * g.sink, most), g.rule)


def wishes_unmet(
    shop: Shop, base: Base, form: str, width: float, length: float, height: float
) -> list[Unmet]:
    """Footprint, height and door against the wishes."""
    rule = Rule.of(shop)
    w = shop.wishes
    rows = (
        ("wishes.largest_width", width, w.largest_width.best_si, "wider", 0.0),
        ("wishes.largest_length", length, w.largest_length.best_si, "deeper", 0.0),
        ("wishes.greatest_height", height, w.greatest_height.best_si, "higher", 0.0),
        ("wishes.narrowest_door", base.passing(width, length), w.narrowest_door.best_si, "wider",
         fact("cart.door.play").value),
    )  # fmt: skip
    return [
        Unmet(
            wish, f"{rule.entry(found + more)} needed", f"up to {rule.text(limit)}",
            f"Allow {rule.entry(found + more)}: vacuum and bucket make the `{form}` {word} than that.",
            ((wish, rule.entry(found + more)),),
        )
        for wish, found, limit, word, more in rows
        if found + more > limit + 1e-7
    ]  # fmt: skip


def sheet_unmet(
    sheet: Sheet, g: Ground, along_grain: list[tuple[float, float]], free: list[tuple[float, float]]
) -> list[Unmet]:
    """Panels that the sheet is too small for, as (length, width); ``free`` ones may be turned."""
    rows = list(along_grain)
    for length, width in free:
        turned = length <= g.across + 1e-7 and width <= g.along + 1e-7
        if not turned:
            rows.append((length, width))
    longest, widest = max(a for a, _ in rows), max(b for _, b in rows)
    remedy: list[tuple[str, str]] = []
    if longest > g.along + 1e-7:
        remedy.append(("sheet.length", g.rule.entry(longest + sheet.length.best_si - g.along)))
    if widest > g.across + 1e-7:
        remedy.append(("sheet.width", g.rule.entry(widest + sheet.width.best_si - g.across)))
    if not remedy:
        return []
    return [
        Unmet(
            "wishes.sheet",
            f"a panel {g.rule.text(longest)} long and one {g.rule.text(widest)} wide",
            f"up to {g.rule.text(g.along)} by {g.rule.text(g.across)} from `{sheet.name}`",
            "Choose a larger sheet.", tuple(remedy),
        )
    ]  # fmt: skip


@dataclass(frozen=True)
class Base:
    """The bottom and what it rolls on [m]: from x = -width/2 and y = 0."""

    width: float
    depth: float
    block: tuple[float, float]
    caster: float
    wheel: float
    t: float

    @property
    def under(self) -> float:
        """Height of the bottom's underside."""
        return self.caster + self.t

    @property
    def top(self) -> float:
        """Height of the bottom's upper face."""
        return self.caster + 2 * self.t

    @property
    def casters(self) -> tuple[tuple[float, float], ...]:
        """Middles of the caster plates: front left, front right, rear left, rear right."""
        bx, by = self.block
        return tuple(
            (sx * (self.width / 2 - bx / 2), y)
            for y in (by / 2, self.depth - by / 2)
            for sx in (-1.0, 1.0)
        )

    @property
    def plate(self) -> tuple[float, float]:
        """Caster plate across and front to back."""
        long = fact("cart.caster.plate_length").value
        short = fact("cart.caster.plate_width").value
        return (long, short) if self.block[0] > self.block[1] else (short, long)

    def passing(self, width: float, length: float) -> float:
        """The narrower way over the wood and all swivelling wheels."""
        reach = (fact("cart.caster.trail").span[1] + 0.5) * self.wheel
        (x0, y0), (x1, _), (_, y1), _ = self.casters
        return min(max(width, x1 - x0 + 2 * reach), max(length, y1 - y0 + 2 * reach))


def base_of(shop: Shop, g: Ground, width: float, depth: float) -> Base:
    """Bottom and casters; a block's short side lies along the bottom's narrow way."""
    long = g.rule.up(fact("cart.caster.plate_length").value + 0.25 * IN)
    short = g.rule.up(fact("cart.caster.plate_width").value + 0.5 * IN)
    block = (short, long) if width <= depth else (long, short)
    w = shop.wishes
    return Base(width, depth, block, w.caster_height.best_si, w.caster_diameter.best_si, g.t)


def lay_bottom(bench: Workbench, base: Base) -> None:
    """The bottom and its caster blocks."""
    w, d = base.width, base.depth
    bench.panel(
        "bottom", w, d, {"bottom": Placement((-w / 2, 0.0, base.under), X, Y, Z)}, grain="free"
    )
    bx, by = base.block
    bench.panel(
        "caster block", bx, by,
        {
            f"{row} {side} block": Placement((x, y0, base.caster), X, Y, Z)
            for row, y0 in (("front", 0.0), ("rear", d - by))
            for side, x in (("left", -w / 2), ("right", w / 2 - bx))
        },
        grain="free",
    )  # fmt: skip


def lay_shelf(
    bench: Workbench, g: Ground, left_x: float, width: float, rear_y: float, roof: float
) -> None:
    """The shelf with its opening, or with cleats on it where the bucket stands."""
    openings: tuple[Opening, ...] = ()
    if g.held is not None and not g.standing:
        d = g.opening
        openings = (Opening(width / 2, g.shelf_depth - g.rear_margin - d / 2, d, d, d / 2),)
    bench.panel(
        "shelf", width, g.shelf_depth,
        {"shelf": Placement((left_x, rear_y - g.shelf_depth, roof), X, Y, Z)},
        edges=("near", "left", "right"), openings=openings,
        chamfers=(("near left", CHAMFER_M), ("near right", CHAMFER_M)),
    )  # fmt: skip
    if g.standing:
        lay_cleats(bench, g, left_x + width / 2, rear_y - g.rear_margin - g.opening / 2, roof + g.t)


def lay_cleats(bench: Workbench, g: Ground, x: float, y: float, floor: float) -> None:
    """Four cleats about the middle (x, y) of a pocket, on a floor."""
    pocket, t = g.opening, g.t
    run = bench.rule.down(pocket * 0.6)
    bench.panel(
        "bucket cleat", run, bench.rule.near(CLEAT_M),
        {
            "front cleat": Placement((x - run / 2, y - pocket / 2 - t, floor), X, Z, Y),
            "rear cleat": Placement((x - run / 2, y + pocket / 2, floor), X, Z, Y),
            "left cleat": Placement((x - pocket / 2 - t, y - run / 2, floor), Y, Z, X),
            "right cleat": Placement((x + pocket / 2, y - run / 2, floor), Y, Z, X),
        },
        grain="free",
    )  # fmt: skip


def where_of(
    base: Base,
    vacuum_xy: tuple[float, float],
    bucket_xy: tuple[float, float] | None,
    shelf_top: float,
) -> Where:
    """Where the things stand, for the loads."""
    return Where(vacuum_xy, base.top, bucket_xy, shelf_top, base.casters, base.caster)


def upper_rail(g: Ground, left: float, front: float, roof: float, inner: float) -> Placement:
    """Where the upper rail is: turned half round for pockets, which then face the shelf."""
    if g.joint == "pocket hole":
        return Placement((left + inner, front, roof), BACK_X, DOWN, Y)
    return Placement((left, front, roof - g.rail), X, Z, Y)


class Joiner:
    """Makes joints and remembers which step makes them."""

    def __init__(self, bench: Workbench) -> None:
        self.bench = bench
        self.made: dict[str, list[str]] = {}

    def __call__(
        self, step: str, first: str, second: str, text: str, *, carries: bool = True, least: int = 2
    ) -> None:
        """Join two placed panels in a step."""
        joint = self.bench.join(first, second, carries=carries, text=text, least=least)
        self.made.setdefault(step, []).append(joint.key)

    def keys(self, step: str) -> tuple[str, ...]:
        """Joints of a step."""
        return tuple(self.made.get(step, ()))

    def bottom_parts(self) -> None:
        """The caster blocks under the bottom."""
        for block in BLOCKS:
            self("blocks", block, "bottom", "from below, glued over its whole face")

    def cleats(self, floor: str, step: str) -> None:
        """Cleats screwed from below through what they stand on."""
        if "front cleat" not in self.bench.placed:
            return
        # A cleat's only face is upright, so what it stands on is screwed up into its edge.
        for cleat in CLEATS:
            self(step, floor, cleat, "from below, up into the cleat's edge", carries=False)
