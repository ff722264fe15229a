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

from dataclasses import dataclass, replace

from ...facts import state
from ...faults import Refusal
from ...joinery.model import Step
from ...joinery.workbench import Workbench
from ...quantity import Draw
from ...shop import Sheet, Shop
from ...solids import BACK_X, Opening, Placement, X, Y, Z
from ...sources import fact
from ..carried_bodies import VacuumPlace
from ..cutsize import chosen, large, share_of_width
from ..model import FREE_M, HeldBucket, Sizes, SupportedPlate
from ..remedy import cannot_build
from ..steps import tower_steps
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
    lay_shelf,
    rail_note,
    upper_rail,
    upright_m,
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

_SIDES = ("left side", "right side")
_PANELS = ("side", "bottom", "shelf", "rail", "lipping")


@dataclass(frozen=True)
class _Plan:
    """The tower's own measures [m]."""

    g: FormInputs
    base: Base
    inner: float
    side_depth: float
    side_height: float

    @property
    def frame_width(self) -> float:
        """Width of the frame, over both sides [m]."""
        return self.g.rule.up(self.inner + 2 * self.g.t)

    @property
    def shelf_width(self) -> float:
        """Width of the shelf as it is cut, or was cut [m]."""
        return self.g.cut("shelf", "length", self.frame_width)

    @property
    def back(self) -> float:
        """y of the sides' rear edges; the bottom may reach further."""
        return self.base.depth - self.g.deeper

    @property
    def roof(self) -> float:
        """Height of the shelf's underside [m]."""
        return self.base.top + self.side_height


def lay_out(shop: Shop, sheet: Sheet, draw: Draw) -> CartLayout:
    """Lay out a tower for the shop's vacuum and bucket from one kind of sheet.

    Raises
    ------
    CannotBuild
        A wish, or the sheet, does not let the best values fit.
    """
    plan, unmet = _measures(shop, sheet, draw)
    if unmet:
        raise cannot_build("tower", unmet, shop, sheet, lambda a, b: _measures(a, b, draw)[1])
    g, base, vacuum = plan.g, plan.base, shop.vacuum
    bench = Workbench(g.t, g.rule, g.second, g.joint, FACES)
    _panels(bench, shop, plan)
    spot = VacuumPlace(0.0, plan.back - g.rail_t - g.play - vacuum.length.best_si / 2, base.top)
    shelf_top = plan.roof + g.shelf_t
    bucket_xy = None
    if g.held is not None:
        bucket_xy = (0.0, plan.back - g.opening_back)
    length = base.depth + g.lip_t
    clear = plan.side_height - g.hang
    sizes = Sizes(
        length_m=length,
        width_m=base.over_wheels,
        height_m=shelf_top + above_shelf(shop, g.held)[0],
        passing_m=base.passing(base.over_wheels, length),
        bay_width_m=plan.inner,
        bay_depth_m=plan.back - g.rail_t,
        bay_height_m=plan.side_height,
        clear_height_m=clear,
        bottom_top_m=base.top,
        shelf_top_m=shelf_top,
        gap_over_vacuum_m=clear - vacuum.height.best_si,
        lip_height_m=g.lip - g.t,
        length_over_hose_m=length,
        handle_m=shelf_top - 4.5 * IN,
    )
    shelf_front = plan.back - g.shelf_depth
    beside = FREE_M if _vents(shop) else g.play
    places = Places(
        spot=spot,
        where=where_of(base, (0.0, spot.y_m), bucket_xy, shelf_top),
        held=g.held,
        front_of_hose_m=shelf_front if vacuum.inlet_on == "top" else min(-g.lip_t, shelf_front),
        caster_plate_m=base.plate,
        breathing_gaps_m={
            "front": FREE_M,
            "rear": FREE_M if g.rail < 0.4 * vacuum.height.best_si else g.play,
            "left": beside,
            "right": beside,
            "top": sizes.gap_over_vacuum_m,
        },
        clear_m=plan.side_height - g.hangs,
        out_of_way="front",
        shelf=_shelf_outline(plan),
        anchor_m=(
            plan.inner / 2 + g.t,
            plan.back - plan.side_depth / 2,
            base.top + fact("cart.anchor.height").value,
        ),
    )
    return CartLayout("tower", bench, sizes, places, _joined, g.tied)


def _measures(shop: Shop, sheet: Sheet, draw: Draw) -> tuple[_Plan, list[Refusal]]:
    """Every measure of the tower, and the wishes that stand against it."""
    g, unmet = form_inputs(shop, sheet, draw)
    w, vacuum, rule = shop.wishes, shop.vacuum, g.rule
    need = large(vacuum.width) + 2 * g.play
    if g.held is not None:
        need = need.most(large(shop.separator.bucket.top[0]) + 1.0 * IN)
        need = need.most(g.opening + 2 * g.beside)
    inner = chosen(need, min(w.largest_width.best_si, g.along) - 2 * g.t - g.wider, rule)
    inner = g.cut("rail", "length", inner + 2 * g.sink) - 2 * g.sink
    width = g.cut("bottom", "length", rule.up(inner + 2 * g.t) + g.wider)
    need = (large(vacuum.length) + (2 * g.play + g.rail_t)).most(g.shelf_depth)
    need = need + (g.deeper + g.ahead)
    cap = min(w.largest_length.best_si - g.lip_t, g.along if width <= g.across + 1e-7 else g.across)
    depth = g.cut("bottom", "width", chosen(need, cap, rule))
    middle = g.opening_back if g.held is not None else g.shelf_depth / 2
    side_depth = share_of_width(
        sheet,
        shop.saw,
        min(max(8 * IN, middle / 0.7), depth - g.deeper),
        min(g.shelf_depth, depth - g.deeper),
        rule,
    )
    side_depth = g.cut("side", "width", side_depth)
    base = base_of(shop, g, width, depth)
    height = upright_m(shop, g, g.rail_t + g.play)
    height = g.cut("side", "length", height + g.sinks) - g.sinks
    plan = _Plan(g, base, inner, side_depth, height)
    height = plan.roof + g.shelf_t + above_shelf(shop, g.held)[0]
    unmet += built_unmet(g, _PANELS)
    unmet += pockets_unmet(g)
    unmet += shelf_unmet(g, plan.frame_width)
    unmet += ballast_unmet(base)
    unmet += wishes_unmet(shop, base, "tower", base.over_wheels, depth + g.lip_t, height)
    unmet += sheet_unmet(
        sheet,
        g,
        [
            ("side", plan.side_height + g.sinks, side_depth),
            ("shelf", width, g.shelf_depth),
            ("rail", inner + 2 * g.sink, g.rail + g.sink),
            *arms(base),
        ],
        [("bottom", width, depth), ("lipping", width, g.lip)],
    )
    return plan, unmet


def _vents(shop: Shop) -> bool:
    return bool({"left", "right"} & {shop.vacuum.air_in_on, shop.vacuum.air_out_on})


def _shelf_outline(plan: _Plan) -> SupportedPlate | None:
    """The shelf between the middles of the sides' upper edges."""
    g = plan.g
    if g.held is None:
        return None
    return g.outline(plan.inner + g.t, g.shelf_depth - plan.side_depth)


def _panels(bench: Workbench, shop: Shop, plan: _Plan) -> None:
    g, base = plan.g, plan.base
    t, inner, back = g.t, plan.inner, plan.back
    y = back - plan.side_depth
    sink = g.sink
    bench.panel(
        "side",
        plan.side_height + g.sinks,
        plan.side_depth,
        {
            "left side": Placement((-inner / 2 - t, y, base.top - sink), Z, Y, X),
            "right side": Placement((inner / 2 + t, y, base.top - sink), Z, Y, BACK_X),
        },
        edges=("near",),
        openings=_side_openings(shop, plan),
        note=state("cart.note.mirrored", face="outer"),
        notches=g.stop(plan.side_depth),
    )
    lay_bottom(bench, base)
    wide = plan.shelf_width
    lay_shelf(bench, g, -wide / 2, wide, back, plan.roof)
    left = -inner / 2 - sink
    bench.panel(
        "rail",
        inner + 2 * sink,
        g.rail + sink,
        {
            "lower rail": Placement((left, back - g.rail_t, base.top - sink), X, Z, Y),
            "upper rail": upper_rail(g, left, back - g.rail_t, plan.roof, inner),
        },
        note=rail_note(g),
    )
    bench.panel(
        "lipping",
        g.cut("lipping", "length", base.width),
        g.lip,
        {"lipping": Placement((-base.width / 2, -g.lip_t, base.under), X, Z, Y)},
        grain="free",
        edges=("far",),
    )


def _side_openings(shop: Shop, plan: _Plan) -> tuple[Opening, ...]:
    """A hand hole under the shelf, and a window where the motor breathes sideways."""
    openings: list[Opening] = []
    bucket = shop.separator.bucket.top[0].best_si if plan.g.held is not None else 0.0
    if (plan.inner - bucket) / 2 >= 2 * IN and plan.side_depth >= 8 * IN:
        r = 0.625 * IN
        openings.append(
            Opening(plan.side_height - 4.5 * IN, plan.side_depth / 2, 2 * r, 4.5 * IN, r)
        )
    if _vents(shop):
        top = openings[0].x_m - 3 * IN if openings else plan.side_height - 4 * IN
        high = min(8 * IN, 0.4 * shop.vacuum.height.best_si)
        middle = min(0.7 * shop.vacuum.height.best_si, top - high / 2)
        wide = max(plan.side_depth - 5 * IN, plan.side_depth / 2)
        openings.append(Opening(middle, plan.side_depth / 2, high, wide, 1 * IN))
    return tuple(replace(o, x_m=o.x_m + plan.g.sink) for o in openings)


def _joined(bench: Workbench, held: HeldBucket | None, tied: bool) -> tuple[Step, ...]:
    return tower_steps(bench, _joints(bench), held, tied)


def _joints(bench: Workbench) -> Joiner:
    join = Joiner(bench)
    # What has the least room for its screws comes first: others move out of their way.
    join.bottom_parts()
    for side in _SIDES:
        for rail in ("lower rail", "upper rail"):
            join("frame", side, rail)
    for side in _SIDES:
        join("bottom", "bottom", side, least=3)
    join("bottom", "bottom", "lower rail", least=3)
    for side in _SIDES:
        join("shelf", "shelf", side, least=3)
    join("shelf", "shelf", "upper rail", least=3)
    join.cleats("shelf", "shelf")
    join("lipping", "lipping", "bottom", carries=False, least=3)
    return join
