"""The tower: two side panels, vacuum below, separator hung in a shelf above it.

Seen from the right; front to the left::

            ___
           |   | cyclone
         __|___|__
      =====|   |=====   shelf, on the sides' top edges
        |  |___| |#|    upper rail (#) at the rear
        |  bucket| |
        | .....  | |    gap over the vacuum
      ( vacuum  )| |
    |#(_________)|#|    lipping in front, lower rail at the rear
    |#==============    bottom, caster blocks and casters below
      o            o

The sides stand at the rear of the bottom, only as deep as the shelf needs, so that two of
them come side by side out of a narrow sheet.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ...quantity import Draw
from ...shop import Sheet, Shop
from ...solids import Opening, Placement
from ...sources import fact
from ..building import Workbench
from ..cutsize import Need, Rule, chosen, large, share_of_width, usable
from ..finishing import Carried, finish
from ..holding import CLEAT_M, hold
from ..hosepath import link_hose, outside_m, under_m
from ..loads import Where
from ..model import Cart, HeldBucket, Sizes, Unmet
from ..plate import Outline
from ..remedy import refusal
from ..things import TOP_INLET, Spot
from ..wording import tower_steps

_X, _Y, _Z = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
_IN = 0.0254
_CHAMFER_M = 0.025


@dataclass(frozen=True)
class _Plan:
    """The tower's own measures [m]."""

    t: float
    inner: float
    width: float
    depth: float
    side_depth: float
    side_height: float
    shelf_depth: float
    rear_margin: float
    lip: float
    rail: float
    block: tuple[float, float]
    caster: float
    clear: float
    held: HeldBucket | None


def tower(shop: Shop, sheet: Sheet, draw: Draw) -> Cart:
    """Lay out a tower for the shop's vacuum and bucket from one kind of sheet.

    Raises
    ------
    CannotBuild
        A wish, or the sheet, does not let the best values fit.
    """
    rule = Rule.of(shop)
    plan, unmet = _measures(shop, sheet, rule, draw)
    if unmet:
        raise refusal(
            "tower", unmet, shop, sheet, lambda a, b: _measures(a, b, Rule.of(a), draw)[1]
        )
    bench = Workbench(plan.t, rule)
    _panels(bench, shop, plan)
    joints = _joints(bench, plan)
    bottom_top = plan.caster + 2 * plan.t
    shelf_top = bottom_top + plan.side_height + plan.t
    vacuum = shop.vacuum
    spot = Spot(0.0, shop.wishes.clearance.best_si + vacuum.length.best_si / 2, bottom_top)
    bucket_xy = None
    if plan.held is not None:
        reach = max(plan.held.opening_m, 0.0) / 2
        bucket_xy = (0.0, plan.depth - plan.rear_margin - reach)
    bx, by = plan.block
    casters = tuple(
        (sx * (plan.width / 2 - bx / 2), y)
        for y in (by / 2, plan.depth - by / 2)
        for sx in (-1.0, 1.0)
    )
    where = Where((0.0, spot.y_m), bottom_top, bucket_xy, shelf_top, casters, plan.caster)
    trail, wheel = fact("cart.caster.trail").span[1], shop.wishes.caster_diameter.best_si
    reach = (trail + 0.5) * wheel
    length = plan.depth + plan.t
    sizes = Sizes(
        length_m=length,
        width_m=plan.width,
        height_m=shelf_top + _above_shelf(shop, plan.held)[0],
        passing_m=min(
            max(plan.width, 2 * casters[1][0] + 2 * reach),
            max(length, casters[2][1] - casters[0][1] + 2 * reach),
        ),
        bay_width_m=plan.inner,
        bay_depth_m=plan.depth - plan.t,
        bay_height_m=plan.side_height,
        clear_height_m=plan.clear,
        bottom_top_m=bottom_top,
        shelf_top_m=shelf_top,
        gap_over_vacuum_m=plan.clear - vacuum.height.best_si,
        lip_height_m=plan.lip - plan.t,
        length_over_hose_m=length,
        handle_m=shelf_top - 4.5 * _IN,
    )
    gaps = {
        "front": 1.0,
        "rear": 1.0 if plan.rail < 0.4 * vacuum.height.best_si else shop.wishes.clearance.best_si,
        "left": 1.0 if _vents(shop) else shop.wishes.clearance.best_si,
        "right": 1.0 if _vents(shop) else shop.wishes.clearance.best_si,
        "top": sizes.gap_over_vacuum_m,
    }
    carried = Carried(
        spot=spot,
        where=where,
        held=plan.held,
        front_of_hose_m=_hose_front(shop, plan),
        caster_plate_m=_caster_plate(plan),
        breathing_gaps_m=gaps,
        out_of_way="towards the front",
        shelf=_shelf_outline(plan),
    )
    return finish(
        "tower", shop, sheet, draw, bench, sizes, carried, tower_steps(bench, joints, plan.held)
    )


def _above_shelf(shop: Shop, held: HeldBucket | None) -> tuple[float, float]:
    """Height of bucket and cyclone over the shelf, best and worst [m]."""
    if held is None:
        return 0.0, 0.0
    bucket, cyclone = shop.separator.bucket, shop.separator.cyclone
    best = bucket.height.best_si - float(np.median(held.depth_m)) + cyclone.height.best_si
    worst = bucket.height.high_si - held.least_m + cyclone.height.high_si
    return best, worst


def _hose_front(shop: Shop, plan: _Plan) -> float:
    """y of the foremost wood that the falling hose passes in front of [m]."""
    shelf = plan.depth - plan.shelf_depth
    return shelf if shop.vacuum.inlet_on == "top" else min(-plan.t, shelf)


def _shelf_outline(plan: _Plan) -> Outline | None:
    """The shelf between the middles of the sides' upper edges."""
    if plan.held is None:
        return None
    span = plan.inner + plan.t
    radius = plan.held.opening_m / 2
    return Outline(
        span,
        plan.shelf_depth,
        (span / 2, plan.shelf_depth - plan.rear_margin - radius),
        radius if plan.held.hold != "standing" else 0.0,
        held_from_m=plan.shelf_depth - plan.side_depth,
    )


def _vents(shop: Shop) -> bool:
    return bool({"left", "right"} & {shop.vacuum.air_in_on, shop.vacuum.air_out_on})


def _caster_plate(plan: _Plan) -> tuple[float, float]:
    long, short = fact("cart.caster.plate_length").value, fact("cart.caster.plate_width").value
    return (long, short) if plan.block[0] > plan.block[1] else (short, long)


def _measures(shop: Shop, sheet: Sheet, rule: Rule, draw: Draw) -> tuple[_Plan, list[Unmet]]:
    """Every measure of the tower, and the wishes that stand against it."""
    t = sheet.thickness.best_si
    w, vacuum, bucket = shop.wishes, shop.vacuum, shop.separator.bucket
    play = w.clearance.best_si
    along, across = usable(sheet, shop.saw)
    unmet = _thickness(sheet, rule)
    held: HeldBucket | None = None
    if shop.separator.in_use:
        held, against = hold(bucket, w.hold_bucket, rule, draw)
        unmet += against
    margin = fact("cart.shelf.margin").value
    rear_margin = max(margin, t + 0.25 * _IN)

    need = large(vacuum.width) + 2 * play
    if held is not None:
        need = need.most(large(bucket.top_diameter) + 1.0 * _IN)
        need = need.most(held.opening_m + 2 * max(margin - t, 0.5 * _IN))
    inner = chosen(need, min(w.largest_width.best_si, along) - 2 * t, rule)
    width = rule.up(inner + 2 * t)

    shelf = rear_margin + held.opening_m + margin if held is not None else 0.3
    shelf_depth = rule.up(shelf)
    need = (large(vacuum.length) + (2 * play + t)).most(shelf_depth)
    cap = min(w.largest_length.best_si - t, along if width <= across + 1e-7 else across)
    depth = chosen(need, cap, rule)

    middle = rear_margin + held.opening_m / 2 if held is not None else shelf / 2
    side_depth = share_of_width(
        sheet, shop.saw, min(max(8 * _IN, middle / 0.7), depth), min(shelf_depth, depth), rule
    )

    lip = _lip(shop, t, rule)
    gap = max(lip - t + fact("cart.lift.gap").value, 0.0)
    if "top" in (vacuum.air_in_on, vacuum.air_out_on):
        gap = max(gap, fact("cart.air.gap").value)
    hose = link_hose(shop)
    if held is not None and hose is not None and vacuum.inlet_on == "top":
        mouth = play + (0.5 - TOP_INLET) * vacuum.length.best_si
        if mouth + outside_m(hose) > depth - shelf_depth:
            gap = max(gap, under_m(hose))
    hang = max(held.most_m - t, 0.0) if held is not None else 0.0
    need = large(vacuum.height) + gap + hang
    if held is not None:
        hang_best = max(float(np.median(held.depth_m)) - t, 0.0)
        need = Need(vacuum.height.best_si + gap + hang_best, need.worst_m)
    above = _above_shelf(shop, held)
    under = w.caster_height.best_si + 3 * t
    best_cap = w.greatest_height.best_si - under - above[0]
    cap = w.greatest_height.best_si - under - (w.caster_height.high_si - w.caster_height.best_si)
    cap = min(max(cap - above[1], need.best_m), along, best_cap)
    side_height = chosen(need, cap, rule)
    plan = _Plan(
        t, inner, width, depth, side_depth, side_height, shelf_depth, rear_margin, lip,
        rule.near(fact("cart.rail.width").value), _block(rule, width <= depth),
        w.caster_height.best_si, side_height - hang, held,
    )  # fmt: skip
    unmet += _against_wishes(shop, plan, under + side_height + above[0], rule)
    unmet += _against_sheet(sheet, plan, along, across, rule)
    return plan, unmet


def _lip(shop: Shop, t: float, rule: Rule) -> float:
    """Width of the lipping: wide enough to hold and to cut, low enough for hose and inlet."""
    lip = max(t + fact("cart.lip.height").value, shop.saw.smallest_piece.best_si)
    hose = link_hose(shop)
    if shop.separator.in_use and hose is not None and shop.vacuum.inlet_on == "side":
        lip = min(lip, t + shop.vacuum.inlet_height.best_si - outside_m(hose))
    return rule.up(max(lip, t + 0.75 * _IN))


def _block(rule: Rule, along_depth: bool) -> tuple[float, float]:
    """Caster block's sides across and front to back; the short side on the narrow way."""
    long = rule.up(fact("cart.caster.plate_length").value + 0.25 * _IN)
    short = rule.up(fact("cart.caster.plate_width").value + 0.5 * _IN)
    return (short, long) if along_depth else (long, short)


def _thickness(sheet: Sheet, rule: Rule) -> list[Unmet]:
    least, most = fact("cart.thickness.least").value, fact("cart.thickness.most").value
    t = sheet.thickness.best_si
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


def _against_wishes(shop: Shop, plan: _Plan, height: float, rule: Rule) -> list[Unmet]:
    w = shop.wishes
    length = plan.depth + plan.t
    rows = (
        ("wishes.largest_width", plan.width, w.largest_width.best_si, "wider", 0.0),
        ("wishes.largest_length", length, w.largest_length.best_si, "deeper", 0.0),
        ("wishes.greatest_height", height, w.greatest_height.best_si, "higher", 0.0),
        ("wishes.narrowest_door", min(plan.width, length), w.narrowest_door.best_si, "wider",
         fact("cart.door.play").value),
    )  # fmt: skip
    return [
        Unmet(
            wish, f"{rule.entry(found + more)} needed", f"up to {rule.text(limit)}",
            f"Allow {rule.entry(found + more)}: vacuum and bucket make the tower {word} than that.",
            ((wish, rule.entry(found + more)),),
        )
        for wish, found, limit, word, more in rows
        if found + more > limit + 1e-7
    ]  # fmt: skip


def _against_sheet(
    sheet: Sheet, plan: _Plan, along: float, across: float, rule: Rule
) -> list[Unmet]:
    """Panels that do not fit the sheet, grain along its length where it must be."""
    longest = max(plan.side_height, plan.width)
    widest = max(plan.side_depth, plan.shelf_depth)
    if plan.depth > along or plan.width > across:
        widest = max(widest, plan.depth)
        longest = max(longest, plan.width)
    remedy: list[tuple[str, str]] = []
    if longest > along + 1e-7:
        remedy.append(("sheet.length", rule.entry(longest + sheet.length.best_si - along)))
    if widest > across + 1e-7:
        remedy.append(("sheet.width", rule.entry(widest + sheet.width.best_si - across)))
    if not remedy:
        return []
    return [
        Unmet(
            "wishes.sheet",
            f"a panel of {rule.text(longest)} and one of {rule.text(widest)} across the grain",
            f"up to {rule.text(along)} by {rule.text(across)} from `{sheet.name}`",
            "Choose a larger sheet.", tuple(remedy),
        )
    ]  # fmt: skip


def _panels(bench: Workbench, shop: Shop, plan: _Plan) -> None:
    t, inner, width, depth = plan.t, plan.inner, plan.width, plan.depth
    bottom = plan.caster + t
    floor = bottom + t
    roof = floor + plan.side_height
    y = depth - plan.side_depth
    bench.panel(
        "side", plan.side_height, plan.side_depth,
        {
            "left side": Placement((-inner / 2 - t, y, floor), _Z, _Y, _X),
            "right side": Placement((inner / 2 + t, y, floor), _Z, _Y, (-1.0, 0.0, 0.0)),
        },
        edges=("near",), openings=_side_openings(shop, plan),
        note="The two are mirror images: drill from the outer face.",
    )  # fmt: skip
    bench.panel(
        "bottom", width, depth, {"bottom": Placement((-width / 2, 0.0, bottom), _X, _Y, _Z)},
        grain="free",
    )  # fmt: skip
    openings: tuple[Opening, ...] = ()
    if plan.held is not None and plan.held.hold != "standing":
        d = plan.held.opening_m
        openings = (Opening(width / 2, plan.shelf_depth - plan.rear_margin - d / 2, d, d, d / 2),)
    bench.panel(
        "shelf", width, plan.shelf_depth,
        {"shelf": Placement((-width / 2, depth - plan.shelf_depth, roof), _X, _Y, _Z)},
        edges=("near", "left", "right"), openings=openings,
        chamfers=(("near left", _CHAMFER_M), ("near right", _CHAMFER_M)),
    )  # fmt: skip
    bench.panel(
        "rail", inner, plan.rail,
        {
            "lower rail": Placement((-inner / 2, depth - t, floor), _X, _Z, _Y),
            "upper rail": Placement((-inner / 2, depth - t, roof - plan.rail), _X, _Z, _Y),
        },
    )  # fmt: skip
    bench.panel(
        "lipping", width, plan.lip, {"lipping": Placement((-width / 2, -t, bottom), _X, _Z, _Y)},
        grain="free", edges=("far",),
    )  # fmt: skip
    bx, by = plan.block
    bench.panel(
        "caster block", bx, by,
        {
            f"{row} {side} block": Placement((x, y0, plan.caster), _X, _Y, _Z)
            for row, y0 in (("front", 0.0), ("rear", depth - by))
            for side, x in (("left", -width / 2), ("right", width / 2 - bx))
        },
        grain="free",
    )  # fmt: skip
    if plan.held is not None and plan.held.hold == "standing":
        _fence(bench, plan, roof + t)


def _fence(bench: Workbench, plan: _Plan, shelf_top: float) -> None:
    """Four cleats on the shelf, between which the bucket stands."""
    assert plan.held is not None
    t, pocket = plan.t, plan.held.opening_m
    y = plan.depth - plan.rear_margin - pocket / 2
    tall, run = CLEAT_M, bench.rule.down(pocket * 0.6)
    bench.panel(
        "bucket cleat", run, bench.rule.near(tall),
        {
            "front cleat": Placement((-run / 2, y - pocket / 2 - t, shelf_top), _X, _Z, _Y),
            "rear cleat": Placement((-run / 2, y + pocket / 2, shelf_top), _X, _Z, _Y),
            "left cleat": Placement((-pocket / 2 - t, y - run / 2, shelf_top), _Y, _Z, _X),
            "right cleat": Placement((pocket / 2, y - run / 2, shelf_top), _Y, _Z, _X),
        },
        grain="free",
    )  # fmt: skip


def _side_openings(shop: Shop, plan: _Plan) -> tuple[Opening, ...]:
    found: list[Opening] = []
    bucket = shop.separator.bucket.top_diameter.best_si if plan.held is not None else 0.0
    if (plan.inner - bucket) / 2 >= 2 * _IN and plan.side_depth >= 8 * _IN:
        r = 0.625 * _IN
        found.append(
            Opening(plan.side_height - 4.5 * _IN, plan.side_depth / 2, 2 * r, 4.5 * _IN, r)
        )
    if _vents(shop):
        top = found[0].x_m - 3 * _IN if found else plan.side_height - 4 * _IN
        high = min(8 * _IN, 0.4 * shop.vacuum.height.best_si)
        middle = min(0.7 * shop.vacuum.height.best_si, top - high / 2)
        found.append(Opening(middle, plan.side_depth / 2, high, plan.side_depth - 5 * _IN, 1 * _IN))
    return tuple(found)


def _joints(bench: Workbench, plan: _Plan) -> dict[str, tuple[str, ...]]:
    """Every joint of the tower; their keys by the step that makes them."""
    made: dict[str, list[str]] = {}

    def join(step: str, first: str, second: str, carries: bool, text: str, **more: object) -> None:
        joint = bench.join(first, second, carries=carries, text=text, **more)  # type: ignore[arg-type]
        made.setdefault(step, []).append(joint.key)

    for side in ("left side", "right side"):
        for rail in ("lower rail", "upper rail"):
            join("frame", side, rail, True, "through the side into the rail's end")
    for side in ("left side", "right side"):
        join("bottom", "bottom", side, True, "from below, up into the side's end", least=3)
    join("bottom", "bottom", "lower rail", True, "from below, up into the rail's edge", least=3)
    for block in ("front left block", "front right block", "rear left block", "rear right block"):
        join("blocks", block, "bottom", True, "from below, glued over its whole face")
    for side in ("left side", "right side"):
        join("shelf", "shelf", side, True, "from above, down into the side's end", least=3)
    join("shelf", "shelf", "upper rail", True, "from above, down into the rail's edge", least=3)
    if plan.held is not None and plan.held.hold == "standing":
        # A cleat's only face is upright, so the shelf is screwed up into its edge.
        for cleat in ("front cleat", "rear cleat", "left cleat", "right cleat"):
            join("shelf", "shelf", cleat, False, "from below, up into the cleat's edge")
    join("lipping", "lipping", "bottom", False, "from the front into the bottom's edge", least=3)
    return {k: tuple(v) for k, v in made.items()}
