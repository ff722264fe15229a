"""The low form: vacuum and bucket side by side on one wide bottom.

Seen from the front::

                      ___
       _______       |   |  cyclone
      /       \\   ===|   |===   shelf between partition and end
     |  vacuum |  |  |   |  |   (a standing bucket needs no shelf)
    ||_________|__|__|___|__|   lipping in front, at the rear and at the left
    ==========================
      o                    o

Nothing is over the vacuum: it lifts straight up, and its lid opens where it stands.
"""

from __future__ import annotations

from dataclasses import dataclass

from ...facts import Amount, state
from ...faults import Refusal, refusal
from ...joinery.model import Step
from ...joinery.workbench import Workbench
from ...quantity import Draw
from ...shop import Sheet, Shop
from ...solids import BACK_X, Placement, X, Y, Z
from ...sources import fact
from ..bucket_opening import CLEAT_M
from ..carried_bodies import VacuumPlace
from ..cutsize import NeededSize, chosen, large
from ..model import FREE_M, HeldBucket, Sizes, SupportedPlate
from ..remedy import cannot_build
from ..steps import low_steps
from ..straps import loops_reach_m
from ..whole_cart import CartLayout, Places
from .common import (
    FACES,
    IN,
    Base,
    FormInputs,
    Joiner,
    above_shelf,
    base_of,
    form_inputs,
    lay_bottom,
    lay_cleats,
    lay_shelf,
    rail_note,
    upper_rail,
    where_of,
)
from .refusals import (
    arms,
    ballast_unmet,
    built_unmet,
    pockets_unmet,
    sheet_unmet,
    shelf_unmet,
    wishes_unmet,
)

# Longer than the bottom is deep by less, the short lipping is planed flush.
_PROUD_M = 0.0015
_PANELS = ("upright", "bottom", "shelf", "rail", "long lipping", "short lipping")


@dataclass(frozen=True)
class _Plan:
    g: FormInputs
    base: Base
    vacuum_bay: float
    air: float
    bucket_bay: float
    upright_height: float
    upright_depth: float
    shelf: bool

    @property
    def back(self) -> float:
        """y of the uprights' rear edges; the bottom may reach further."""
        return self.base.depth - self.g.deeper

    @property
    def roof(self) -> float:
        """Height of the shelf's underside [m]."""
        return self.base.top + self.upright_height

    @property
    def partition_x(self) -> float:
        """Where the partition's left face is, from the middle [m]."""
        return -self.base.width / 2 + self.vacuum_bay

    @property
    def shelf_width(self) -> float:
        """Width of the bucket's bay with the partition and the end [m]."""
        return self.g.cut("shelf", "length", self.bucket_bay + 2 * self.g.t)

    @property
    def end_x(self) -> float:
        """Where the end's right face is, from the middle [m]."""
        return self.partition_x + 2 * self.g.t + self.bucket_bay

    @property
    def bucket_x(self) -> float:
        """Middle of the bucket's bay."""
        return self.partition_x + self.g.t + self.bucket_bay / 2


def lay_out(shop: Shop, sheet: Sheet, draw: Draw) -> CartLayout:
    """Lay out a low cart for the shop's vacuum and bucket from one kind of sheet.

    Raises
    ------
    CannotBuild
        A wish, or the sheet, does not let the best values fit.
    """
    plan, unmet = _measures(shop, sheet, draw)
    if unmet:
        raise cannot_build("low", unmet, shop, sheet, lambda a, b: _measures(a, b, draw)[1])
    g, base, vacuum = plan.g, plan.base, shop.vacuum
    bench = Workbench(g.t, g.rule, g.second, g.joint, FACES)
    _panels(bench, plan)
    spot = VacuumPlace(
        -base.width / 2 + (plan.vacuum_bay - plan.air) / 2,
        g.ahead + g.play + vacuum.length.best_si / 2,
        base.top,
    )
    shelf_top = plan.roof + g.shelf_t if plan.shelf else base.top
    bucket_xy = None
    if g.held is not None:
        bucket_xy = (plan.bucket_x, plan.back - g.opening_back)
    length, width = base.depth + 2 * g.lip_t, _over_all(base, g.lip_t)
    vacuum_top = base.top + vacuum.height.best_si
    clear = shop.room.height.best_si - base.top
    handle = max(shelf_top, base.top + g.lip) if g.held is not None else vacuum_top
    sizes = Sizes(
        length_m=length,
        width_m=width,
        height_m=max(vacuum_top, shelf_top + above_shelf(shop, g.held)[0]),
        passing_m=base.passing(width, length),
        bay_width_m=plan.vacuum_bay,
        bay_depth_m=plan.back,
        bay_height_m=plan.upright_height,
        clear_height_m=clear,
        bottom_top_m=base.top,
        shelf_top_m=shelf_top,
        gap_over_vacuum_m=clear - vacuum.height.best_si,
        lip_height_m=g.lip - g.t,
        length_over_hose_m=length,
        handle_m=handle,
    )
    beside = g.play + plan.air if plan.upright_height > 0.4 * vacuum.height.best_si else FREE_M
    places = Places(
        spot=spot,
        where=where_of(base, (spot.x_m, spot.y_m), bucket_xy, shelf_top),
        held=g.held,
        front_of_hose_m=-g.lip_t if vacuum.inlet_on == "side" else base.depth,
        caster_plate_m=base.plate,
        breathing_gaps_m=dict.fromkeys(("front", "rear", "left", "top"), FREE_M)
        | {"right": beside},
        clear_m=clear,
        out_of_way="up",
        shelf=_shelf_outline(plan),
        under_bucket_m=shelf_top - base.top,
        hands_on=("right",),
        hose_over_m=vacuum_top,
        anchor_m=(
            plan.end_x,
            plan.back - plan.upright_depth / 2,
            base.top + fact("cart.anchor.height").value,
        ),
    )
    return CartLayout("low", bench, sizes, places, _joined, g.tied)


def _measures(shop: Shop, sheet: Sheet, draw: Draw) -> tuple[_Plan, list[Refusal]]:
    g, unmet = form_inputs(shop, sheet, draw)
    w, vacuum, rule, t = shop.wishes, shop.vacuum, g.rule, g.t
    shelf = not g.standing
    bucket_bay, shelf_depth = g.opening, g.shelf_depth
    if g.held is None:
        bucket_bay = rule.up(0.3)
    elif shelf:
        need = large(shop.separator.bucket.top[0]) + 1.0 * IN
        need = need.most(g.opening + 2 * g.beside)
        bucket_bay = rule.up(need.worst_m)
    else:
        # Left and right cleat stand inside the bay, beside partition and end.
        bucket_bay = rule.up(
            max(
                g.opening + 2 * g.thick("cleat"),
                shop.separator.bucket.rim[0].high_si + 1 * IN,
                2 * loops_reach_m(shop.separator.bucket, g.held, g.thick("cleat")),
            )
        )
    bucket_bay = g.cut("rail", "length", bucket_bay + 2 * g.sink) - 2 * g.sink
    # Beside the partition a motor that breathes there needs more than the usual play.
    breathes = "right" in (vacuum.air_in_on, vacuum.air_out_on)
    air = max(rule.up(fact("cart.air.gap").value - g.play), 0.0) if breathes else 0.0
    cap = min(w.largest_width.best_si - g.lip_t, g.along) - 2 * t - bucket_bay
    vacuum_bay = chosen(large(vacuum.width) + (2 * g.play + g.wider + air), cap, rule)
    beside = bucket_bay + 2 * t
    width = g.cut("bottom", "length", rule.up(vacuum_bay + beside))
    vacuum_bay = width - beside
    need = (large(vacuum.length) + 2 * g.play).most(shelf_depth) + (g.deeper + g.ahead)
    cap = min(
        w.largest_length.best_si - 2 * g.lip_t, g.along if width <= g.across + 1e-7 else g.across
    )
    depth = g.cut("bottom", "width", chosen(need, cap, rule))
    base = base_of(shop, g, width, depth)
    height = rule.up(CLEAT_M * 2)
    above = above_shelf(shop, g.held)
    if shelf and g.held is not None:
        best = float(max(g.held.depth_m.mean(), 0.0)) - g.shelf_t
        lift = fact("cart.lift.gap").value
        need = NeededSize(best + lift, g.hang + lift)
        cap = w.greatest_height.best_si - base.top - g.shelf_t - above[1]
        height = chosen(need.most(2 * g.rail + 1 * IN), max(cap, best + lift), rule)
    ends = g.sinks if shelf else g.sink
    height = g.cut("upright", "length", height + ends) - ends
    plan = _Plan(
        g,
        base,
        vacuum_bay,
        air,
        bucket_bay,
        height,
        g.cut("upright", "width", min(shelf_depth, depth - g.deeper)),
        shelf,
    )
    total = (plan.roof + g.shelf_t if shelf else base.top) + above[0]
    total = max(total, base.top + vacuum.height.best_si)
    unmet += built_unmet(g, _PANELS)
    unmet += shelf_unmet(g, beside) if shelf else []
    if g.cut("short lipping", "length", depth) > depth + _PROUD_M:
        unmet.append(
            refusal(
                "cart.refused.long_lipping", "built[short lipping]", most=Amount(depth, "length")
            )
        )
    unmet += pockets_unmet(g, ("shelf", "rail", "lipping") if shelf else ("lipping",))
    unmet += ballast_unmet(base)
    over = _over_all(base, g.lip_t)
    unmet += wishes_unmet(shop, base, "low", over, depth + 2 * g.lip_t, total)
    unmet += sheet_unmet(
        sheet,
        g,
        [("shelf", plan.shelf_width, shelf_depth), *arms(base)],
        [
            ("bottom", width, depth),
            ("upright", height + ends, plan.upright_depth),
            ("long lipping", width + g.lip_t, g.lip),
            ("short lipping", depth, g.lip),
            ("rail", bucket_bay + 2 * g.sink, g.rail + g.sink),
        ],
    )
    return plan, unmet


def _over_all(base: Base, lip_t: float) -> float:
    """Width over the left lipping and the outriggers [m]."""
    return base.width + max(lip_t, base.out) + base.out


def _shelf_outline(plan: _Plan) -> SupportedPlate | None:
    g = plan.g
    if g.held is None or not plan.shelf:
        return None
    return g.outline(plan.bucket_bay + g.t)


def _panels(bench: Workbench, plan: _Plan) -> None:
    g, base = plan.g, plan.base
    t, lip_t, depth, half = g.t, g.lip_t, base.depth, base.width / 2
    px = plan.partition_x
    end = plan.end_x
    back = plan.back
    y, sink = back - plan.upright_depth, g.sink
    bench.panel(
        "upright",
        plan.upright_height + (g.sinks if plan.shelf else sink),
        plan.upright_depth,
        {
            "partition": Placement((px, y, base.top - sink), Z, Y, X),
            "end": Placement((end, y, base.top - sink), Z, Y, BACK_X),
        },
        grain="free",
        edges=("near",),
        note=state("cart.note.mirrored", face="away"),
        notches=g.stop(plan.upright_depth) if plan.shelf else (),
    )
    lay_bottom(bench, base)
    if plan.shelf:
        wide = plan.shelf_width
        over = (wide - plan.bucket_bay - 2 * t) / 2
        lay_shelf(bench, g, px - over, wide, back, plan.roof)
        left = px + t - sink
        rails = {"upper rail": upper_rail(g, left, back - g.rail_t, plan.roof, plan.bucket_bay)}
        if plan.upright_height >= 2 * g.rail + 0.5 * IN:
            rails["lower rail"] = Placement((left, back - g.rail_t, base.top - sink), X, Z, Y)
        if plan.upright_height < max(g.rail, g.upper):
            rails = {}
        if rails:
            bench.panel(
                "rail",
                plan.bucket_bay + 2 * sink,
                g.rail + sink,
                rails,
                grain="free",
                note=rail_note(g),
            )
    else:
        lay_cleats(bench, g, plan.bucket_x, back - g.opening_back, base.top)
    bench.panel(
        "long lipping",
        g.cut("long lipping", "length", base.width + lip_t),
        g.lip,
        {
            "front lipping": Placement((-half - lip_t, -lip_t, base.under), X, Z, Y),
            "rear lipping": Placement(
                (-half - lip_t, depth + lip_t, base.under), X, Z, (0.0, -1.0, 0.0)
            ),
        },
        grain="free",
        edges=("far",),
        note=state("cart.note.mirrored", face="outer"),
    )
    bench.panel(
        "short lipping",
        min(g.cut("short lipping", "length", depth), depth),
        g.cut("short lipping", "width", g.lip),
        {"left lipping": Placement((-half - lip_t, 0.0, base.under), Y, Z, X)},
        grain="free",
        edges=("far",),
    )


def _joined(bench: Workbench, held: HeldBucket | None, tied: bool) -> tuple[Step, ...]:
    return low_steps(bench, _joints(bench), held, tied)


def _joints(bench: Workbench) -> Joiner:
    join = Joiner(bench)
    # What has the least room for its screws comes first: others move out of their way.
    join.bottom_parts()
    rails = [r for r in ("lower rail", "upper rail") if r in bench.placed]
    for upright in ("partition", "end"):
        for rail in rails:
            join("frame", upright, rail)
    for upright in ("partition", "end"):
        join("bottom", "bottom", upright, least=3)
    if "lower rail" in rails:
        join("bottom", "bottom", "lower rail")
    join.cleats("bottom", "cleats")
    if "shelf" in bench.placed:
        for upright in ("partition", "end"):
            join("shelf", "shelf", upright, least=3)
        if "upper rail" in rails:
            join("shelf", "shelf", "upper rail")
    join("lipping", "left lipping", "bottom", carries=False)
    for lip in ("rear lipping", "front lipping"):
        join("lipping", lip, "bottom", carries=False, least=4)
    return join
