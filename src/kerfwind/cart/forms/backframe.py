"""The backframe: an open frame behind, its shelf carried forward on brackets.

Seen from the right; front to the left::

            ___
           |   | cyclone
         __|___|___
        ====| |=====    shelf, on posts, brackets and upper rail
         \\__|_|___|#|   bracket (\\__) inside each post
                | |
      .......   | |     gap over the vacuum
     ( vacuum ) | |     posts at the rear, open on three sides
    |#________)_|#|     side lipping, screwed to the bottom and to the posts
    |#=============
      o          o

The vacuum stands in front of the posts, free on three sides: for motors that breathe
sideways, and for vacuums that are turned to reach a switch.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ...facts import Amount, state
from ...faults import Refusal, refusal
from ...joinery.model import Step
from ...joinery.workbench import Workbench
from ...quantity import Draw
from ...shop import Sheet, Shop
from ...solids import BACK_X, Placement, X, Y, Z
from ...sources import fact
from ..carried_bodies import VacuumPlace
from ..cutsize import chosen, large
from ..model import FREE_M, HeldBucket, Sizes, SupportedPlate
from ..remedy import cannot_build
from ..steps import backframe_steps
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
    over_vacuum_m,
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

_POST_M = 5.5 * IN
_BRACKET_M = 9 * IN
# Below this a bracket would hold little.
_LEAST_BRACKET_M = 4.5 * IN
_SIDE_LIP_M = 4 * IN
# Middle of the hose's anchor, from the front of the bottom.
_ANCHOR_M = 2 * IN
# Rails and bottom that differ by less are pulled together.
_APART_M = 0.0015
_RAILS = ("lower rail", "middle rail", "upper rail")
_SIDES = ("left", "right")
_PANELS = ("post", "bottom", "shelf", "rail", "bracket", "side lipping", "lipping")


@dataclass(frozen=True)
class _Plan:
    """The backframe's own measures [m].

    ``between`` says that the vacuum comes out between the brackets, not under them.
    """

    g: FormInputs
    base: Base
    post_height: float
    post_depth: float
    bracket: float
    side_lip: float
    between: bool

    @property
    def back(self) -> float:
        """y of the posts' rear edges; the bottom may reach further."""
        return self.base.depth - self.g.deeper

    @property
    def inner(self) -> float:
        """Free width between the posts [m]."""
        return self.base.width - 2 * self.g.t

    @property
    def bay(self) -> float:
        """Free width on the vacuum's way out."""
        return self.base.width - (4 * self.g.t if self.between else 0.0)

    @property
    def clear(self) -> float:
        """Free height on the vacuum's way out."""
        return self.post_height - max(self.g.hang, 0.0 if self.between else self.bracket)

    @property
    def roof(self) -> float:
        """Height of the shelf's underside [m]."""
        return self.base.top + self.post_height

    @property
    def reach(self) -> float:
        """Length of a bracket, front to back [m]."""
        planned = self.g.rule.down(self.g.shelf_depth - self.g.rail_t - 1.0 * IN)
        return self.g.cut("bracket", "length", planned)


def lay_out(shop: Shop, sheet: Sheet, draw: Draw) -> CartLayout:
    """Lay out a backframe for the shop's vacuum and bucket from one kind of sheet.

    Raises
    ------
    CannotBuild
        A wish, or the sheet, does not let the best values fit.
    """
    plan, unmet = _measures(shop, sheet, draw)
    if unmet:
        raise cannot_build("backframe", unmet, shop, sheet, lambda a, b: _measures(a, b, draw)[1])
    g, base, vacuum = plan.g, plan.base, shop.vacuum
    bench = Workbench(g.t, g.rule, g.second, g.joint, FACES)
    _panels(bench, plan)
    rear = plan.back - plan.post_depth - g.play
    spot = VacuumPlace(0.0, rear - vacuum.length.best_si / 2, base.top)
    shelf_top = plan.roof + g.shelf_t
    bucket_xy = None
    if g.held is not None:
        bucket_xy = (0.0, plan.back - g.opening_back)
    length, width = base.depth + g.lip_t, max(base.width + 2 * g.t, base.over_wheels)
    sizes = Sizes(
        length_m=length,
        width_m=width,
        height_m=shelf_top + above_shelf(shop, g.held)[0],
        passing_m=base.passing(width, length),
        bay_width_m=plan.bay,
        bay_depth_m=plan.back - plan.post_depth,
        bay_height_m=plan.post_height,
        clear_height_m=plan.clear,
        bottom_top_m=base.top,
        shelf_top_m=shelf_top,
        gap_over_vacuum_m=plan.clear - vacuum.height.best_si,
        lip_height_m=g.lip - g.t,
        length_over_hose_m=length,
        handle_m=shelf_top - 2 * IN,
    )
    shelf_front = plan.back - g.shelf_depth
    places = Places(
        spot=spot,
        where=where_of(base, (0.0, spot.y_m), bucket_xy, shelf_top),
        held=g.held,
        front_of_hose_m=shelf_front if vacuum.inlet_on == "top" else min(-g.lip_t, shelf_front),
        caster_plate_m=base.plate,
        breathing_gaps_m={
            "front": FREE_M,
            "rear": FREE_M,
            "left": FREE_M,
            "right": FREE_M,
            "top": sizes.gap_over_vacuum_m,
        },
        clear_m=plan.post_height - np.maximum(g.hangs, 0.0 if plan.between else plan.bracket),
        out_of_way="front",
        shelf=_shelf_outline(plan),
        anchor_m=(
            base.width / 2 + g.t,
            # Before the posts, on which options have their places.
            _ANCHOR_M,
            base.top + fact("cart.anchor.height").value,
        ),
    )
    return CartLayout("backframe", bench, sizes, places, _joined, g.tied)


def _measures(shop: Shop, sheet: Sheet, draw: Draw) -> tuple[_Plan, list[Refusal]]:
    g, unmet = form_inputs(shop, sheet, draw)
    w, vacuum, rule, t = shop.wishes, shop.vacuum, g.rule, g.t
    post_depth = g.cut("post", "width", rule.up(max(_POST_M, 0.35 * g.shelf_depth)))
    behind = post_depth + g.play
    height = g.cut("post", "length", upright_m(shop, g, behind) + g.sinks) - g.sinks
    # A tight wish for height may leave less over the vacuum than the bucket can hang at most.
    under = min(g.hang, height - vacuum.height.best_si - over_vacuum_m(shop, g, behind))
    deep = min(_BRACKET_M, height / 3, *([under] if under >= _LEAST_BRACKET_M else []))
    bracket = g.cut("bracket", "width", rule.down(deep) + g.shelf_sink) - g.shelf_sink
    between = bracket > under + fact("cart.lift.gap").value / 2
    need = large(vacuum.width) + 2 * g.play
    if g.held is not None:
        # The bucket hangs between brackets, which sit inside the posts.
        need = need.most(large(shop.separator.bucket.top[0]) + (4 * t + 1.0 * IN))
        need = need.most(g.opening + 4 * t + 1.0 * IN)
    if between:
        need = need.most(large(vacuum.width) + (2 * g.play + 4 * t))
    need = need + g.wider
    width = chosen(need, min(w.largest_width.best_si, g.along) - 2 * t, rule)
    # The rails hold the posts apart, and these stand flush with the bottom's sides.
    rails = width - 2 * t + 2 * g.sink
    off = g.cut("rail", "length", rails) - rails
    railed = width + off
    width = g.cut("bottom", "length", railed)
    if off and abs(railed - width) > _APART_M:
        unmet.append(
            refusal(
                "cart.refused.rails_and_bottom",
                "built[rail]",
                posts=Amount(railed, "length"),
                bottom=Amount(width, "length"),
            )
        )
    need = (large(vacuum.length) + (2 * g.play + post_depth)).most(g.shelf_depth)
    need = need + (g.deeper + g.ahead)
    cap = min(w.largest_length.best_si - g.lip_t, g.along if width <= g.across + 1e-7 else g.across)
    depth = g.cut("bottom", "width", chosen(need, cap, rule))
    base = base_of(shop, g, width, depth)
    side_lip = g.cut("side lipping", "width", rule.up(max(g.lip, t + _SIDE_LIP_M)))
    plan = _Plan(g, base, height, post_depth, bracket, side_lip, between)
    total = plan.roof + g.shelf_t + above_shelf(shop, g.held)[0]
    unmet += built_unmet(g, _PANELS)
    unmet += pockets_unmet(g)
    unmet += shelf_unmet(g, width)
    deepest = rule.down(g.shelf_depth - g.chamfer)
    if g.shelf_sink and post_depth > deepest + 1e-7:
        row = next((r.name for r in g.built if r.name in ("post", "shelf")), "post")
        unmet.append(
            refusal(
                "cart.refused.wide_posts",
                f"built[{row}]",
                posts=Amount(post_depth, "length"),
                shelf=Amount(g.shelf_depth, "length"),
                widest=Amount(deepest, "length"),
            )
        )
    unmet += ballast_unmet(base)
    over = max(width + 2 * t, base.over_wheels)
    unmet += wishes_unmet(shop, base, "backframe", over, depth + g.lip_t, total)
    unmet += sheet_unmet(
        sheet,
        g,
        [
            ("post", height + g.sinks, post_depth),
            ("shelf", width, g.shelf_depth),
            ("side lipping", depth, side_lip),
            ("rail", plan.inner + 2 * g.sink, g.rail + g.sink),
            *arms(base),
        ],
        [("bottom", width, depth), ("lipping", width + 2 * t, g.lip)],
    )
    return plan, unmet


def _shelf_outline(plan: _Plan) -> SupportedPlate | None:
    """The shelf between the middles of the brackets, which carry it nearly to its front."""
    g = plan.g
    if g.held is None:
        return None
    return g.outline(plan.inner - g.t, g.shelf_depth - g.rail_t - plan.reach)


def _panels(bench: Workbench, plan: _Plan) -> None:
    g, base = plan.g, plan.base
    t, depth, back, half = g.t, base.depth, plan.back, base.width / 2
    y, sink = back - plan.post_depth, g.sink
    bench.panel(
        "post",
        plan.post_height + g.sinks,
        plan.post_depth,
        {
            "left post": Placement((-half, y, base.top - sink), Z, Y, X),
            "right post": Placement((half, y, base.top - sink), Z, Y, BACK_X),
        },
        edges=("near",),
        note=state("cart.note.mirrored", face="outer"),
    )
    lay_bottom(bench, base)
    wide = g.cut("shelf", "length", base.width)
    lay_shelf(bench, g, -wide / 2, wide, back, plan.roof)
    inner = plan.inner
    middle, left = base.top + (plan.post_height - g.rail) / 2, -inner / 2 - sink
    bench.panel(
        "rail",
        inner + 2 * sink,
        g.rail + sink,
        {
            "lower rail": Placement((left, back - g.rail_t, base.top - sink), X, Z, Y),
            "middle rail": Placement((left, back - g.rail_t, middle), X, Z, Y),
            "upper rail": upper_rail(g, left, back - g.rail_t, plan.roof, inner),
        },
        note=rail_note(g, middle=True),
    )
    leg = min(plan.bracket - 2.5 * IN, plan.reach - plan.post_depth)
    y = back - g.rail_t - plan.reach
    bench.panel(
        "bracket",
        plan.reach,
        plan.bracket + g.shelf_sink,
        {
            "left bracket": Placement((-half + 2 * t, y, plan.roof - plan.bracket), Y, Z, BACK_X),
            "right bracket": Placement((half - 2 * t, y, plan.roof - plan.bracket), Y, Z, X),
        },
        chamfers=(("near left", leg),) if leg > 1 * IN else (),
        note=state("cart.note.mirrored", face="inner"),
    )
    bench.panel(
        "side lipping",
        g.cut("side lipping", "length", depth),
        plan.side_lip,
        {
            "left lipping": Placement((-half - t, 0.0, base.under), Y, Z, X),
            "right lipping": Placement((half + t, 0.0, base.under), Y, Z, BACK_X),
        },
        edges=("far",),
        note=state("cart.note.mirrored", face="outer"),
    )
    bench.panel(
        "lipping",
        g.cut("lipping", "length", base.width + 2 * t),
        g.lip,
        {"lipping": Placement((-half - t, -g.lip_t, base.under), X, Z, Y)},
        grain="free",
        edges=("far",),
    )


def _joined(bench: Workbench, held: HeldBucket | None, tied: bool) -> tuple[Step, ...]:
    return backframe_steps(bench, _joints(bench), held, tied)


def _joints(bench: Workbench) -> Joiner:
    join = Joiner(bench)
    # What has the least room for its screws comes first: others move out of their way.
    join.bottom_parts()
    for side in _SIDES:
        for rail in _RAILS:
            join("frame", f"{side} post", rail)
    for side in _SIDES:
        join("brackets", f"{side} bracket", f"{side} post")
    for side in _SIDES:
        join("bottom", "bottom", f"{side} post")
    join("bottom", "bottom", "lower rail", least=3)
    for side in _SIDES:
        lip = f"{side} lipping"
        join("side lipping", lip, "bottom", least=4)
        join("side lipping", lip, f"{side} post")
    for side in _SIDES:
        join("shelf", "shelf", f"{side} bracket")
        join("shelf", "shelf", f"{side} post")
    join("shelf", "shelf", "upper rail", least=3)
    join.cleats("shelf", "shelf")
    join("lipping", "lipping", "bottom", carries=False, least=3)
    return join
