"""Made of the cart's plywood beside it: plates and hood boxes for tools, rings and backing for a bucket."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from ..facts import Amount, Ref, Statement, Term, state
from ..shop import Shop
from ..solids import Body, Corner, Opening, Placement, X, Y, Z
from .aligned import Parts, aligned
from .marks import MarkingRule
from .model import CutPanel, HardwareItem, Hole, PanelJoint, PlacedPanel, Step, Taken
from .workbench import Workbench

BoardKind = Literal["plate", "hood box", "ring", "lid", "valve"]


@dataclass(frozen=True)
class BoardWanted:
    """What is to be made: sizes [m] of hole, face (inside the walls) and depth inside.

    ``tool`` is whose it is, empty for what belongs to the bucket: a stiffening ``ring``, of which
    ``face_m`` are the outer sides, ``hole_m`` the width of its wood and ``depth_m`` the height
    over the bucket's floor; the backing of its ``lid``; a relief ``valve``, which is bought, opens
    at ``opens_pa`` [Pa] and must let in ``passes_m3_s`` [m³/s]. ``number`` tells rings apart, and
    ``round`` those of a round bucket.
    """

    name: str
    tool: str
    kind: BoardKind
    hole_m: float
    face_m: tuple[float, float]
    depth_m: float = 0.0
    bored: Literal["back", "side"] = "back"
    number: int = 0
    round: bool = True
    wedges: bool = True
    opens_pa: float = 0.0
    passes_m3_s: float = 0.0


@dataclass(frozen=True)
class Board:
    """A plate or box with its panels, joints, hardware and steps, as a cart has them."""

    wanted: BoardWanted
    panels: tuple[CutPanel, ...]
    placed: tuple[PlacedPanel, ...]
    joints: tuple[PanelJoint, ...]
    hardware: tuple[HardwareItem, ...]
    steps: tuple[Step, ...]
    bodies: tuple[Body, ...]

    @property
    def called(self) -> Statement:
        """What to say for it."""
        return _called(self.wanted)


def boards(
    shop: Shop, wanted: Sequence[BoardWanted], thickness_m: float, cart: Sequence[CutPanel]
) -> tuple[Board, ...]:
    """Make all the plates and boxes that are wanted from plywood of one thickness.

    Their letters go on from those of the cart's panels."""
    rule = MarkingRule.of(shop)
    bench = Workbench(thickness_m, rule, panels={p.key: p for p in cart})
    made = []
    for each in wanted:
        before = (set(bench.panels), set(bench.placed), len(bench.joints))
        bench.screws = {}
        steps, hardware = _LAY_OUT[each.kind](bench, each)
        placed = tuple(p for n, p in bench.placed.items() if n not in before[1])
        bodies = [b for b in bench.bodies() if b.name not in before[1]]
        joints = tuple(bench.joints[before[2] :])
        panels = tuple(p for k, p in bench.panels.items() if k not in before[0])
        made.append(
            Board(
                each,
                panels,
                placed,
                joints,
                (*(replace(s, uses=(_called(each),)) for s in bench.screws.values()), *hardware),
                aligned(steps, Parts.of(bodies, panels, placed, joints)),
                tuple(bodies),
            )
        )
    return tuple(made)


def _round(x_m: float, y_m: float, hole_m: float) -> tuple[Opening, ...]:
    return (Opening(x_m, y_m, hole_m, hole_m, hole_m / 2),)


def _plate(
    bench: Workbench, want: BoardWanted
) -> tuple[tuple[Step, ...], tuple[HardwareItem, ...]]:
    length, width = want.face_m
    key = bench.panel(
        want.name,
        length,
        width,
        {want.name: Placement((-length / 2, 0.0, 0.0), X, Z, Y)},
        own=_called(want),
        grain="free",
        openings=_round(length / 2, width / 2, want.hole_m),
    )
    size = bench.size
    inset = 0.0125
    holes = tuple(
        Hole(x, y, size.clearance_m, "", state("joinery.hole.fixing"))
        for x in (inset, length - inset)
        for y in (inset, width - inset)
    )
    bench.panels[key] = replace(bench.panels[key], holes=holes)
    tool = Ref("tool", want.tool)
    steps = (
        Step(
            1,
            state("joinery.title.bore"),
            (_try_first(want), state("joinery.say.bore_plate")),
            (state("joinery.mind.boring"),),
            (want.name,),
            (),
        ),
        Step(
            2,
            state("joinery.title.fix_plate"),
            (state("joinery.say.fix_plate", tool=tool),),
            (state("joinery.mind.guards"),),
            (),
            (),
            takes=(Taken("plate-fastener", 4), Taken("foam", 1)),
        ),
    )
    hardware = (
        HardwareItem(
            "plate-fastener",
            state("joinery.fastener", tool=tool),
            4,
            (_called(want),),
            clearance_hole_m=size.clearance_m,
            kind="fastener",
        ),
        HardwareItem("foam", state("joinery.foam"), 1, (_called(want),), kind="foam"),
    )
    return steps, hardware


def _called(want: BoardWanted) -> Statement:
    """A plate or box by the tool that it is for; what belongs to the bucket by what it is."""
    if want.kind == "ring":
        return state("joinery.board.ring", number=want.number)
    if want.kind == "lid":
        return state("joinery.board.lid")
    if want.kind == "valve":
        return state("joinery.board.valve")
    tool = Ref("tool", want.tool)
    if want.kind == "plate":
        return state("joinery.board.plate", tool=tool)
    return state("joinery.board.hood_box", tool=tool)


def _part(want: BoardWanted, part: str) -> Statement:
    """A panel of a box."""
    return state("joinery.board.part", board=_called(want), part=Term("board-part", part))


def _try_first(want: BoardWanted) -> Statement:
    return state("joinery.say.try_hole", hole=Amount(want.hole_m, "length", "cut"))


def _box(bench: Workbench, want: BoardWanted) -> tuple[tuple[Step, ...], tuple[HardwareItem, ...]]:
    t, name, rule = bench.thickness_m, want.name, bench.rule
    (face, width), depth = want.face_m, want.depth_m
    # On marks that can be cut: the face may come out a mark longer, the back a mark proud.
    outer, across = rule.up(face + 2 * t), rule.up(width + 2 * t)
    length = outer - 2 * t
    long, short = f"{name} long side", f"{name} short side"
    back = f"{name} back"
    in_side = _round(length / 2 + t, depth / 2, want.hole_m) if want.bored == "side" else ()
    upper, lower = f"{name} upper side", f"{name} lower side"
    left, right = f"{name} left side", f"{name} right side"
    x0 = -length / 2 - t
    bench.panel(
        back,
        outer,
        across,
        {back: Placement((x0, depth, -t), X, Z, Y)},
        own=_part(want, "back"),
        grain="free",
        openings=() if in_side else _round(length / 2 + t, width / 2 + t, want.hole_m),
    )
    if in_side:
        # Only one of the two is bored.
        bench.panel(
            f"{name} bored side",
            outer,
            depth,
            {upper: Placement((x0, 0.0, width), X, Y, Z)},
            own=_part(want, "bored side"),
            grain="free",
            openings=in_side,
        )
        bench.panel(
            long,
            outer,
            depth,
            {lower: Placement((x0, 0.0, -t), X, Y, Z)},
            own=_part(want, "long side"),
            grain="free",
        )
    else:
        bench.panel(
            long,
            outer,
            depth,
            {upper: Placement((x0, 0.0, width), X, Y, Z), lower: Placement((x0, 0.0, -t), X, Y, Z)},
            own=_part(want, "long side"),
            grain="free",
        )
    bench.panel(
        short,
        width,
        depth,
        {
            left: Placement((x0, 0.0, 0.0), Z, Y, X),
            right: Placement((length / 2, 0.0, 0.0), Z, Y, X),
        },
        own=_part(want, "short side"),
        grain="free",
    )
    sides = [
        bench.join(over, end, carries=False) for over in (upper, lower) for end in (left, right)
    ]
    backs = [bench.join(back, side, carries=False) for side in (upper, lower, left, right)]
    steps = (
        Step(
            1,
            state("joinery.title.bore"),
            (_try_first(want), state("joinery.say.bore_box", bored=want.bored)),
            (state("joinery.mind.boring"),),
            (),
            (),
        ),
        Step(
            2,
            state("joinery.title.join_sides"),
            (state("joinery.say.join_sides"),),
            (),
            (upper, lower, left, right),
            tuple(j.key for j in sides),
        ),
        Step(
            3,
            state("joinery.title.back"),
            (state("joinery.say.back"),),
            (),
            (back,),
            tuple(j.key for j in backs),
        ),
        Step(
            4,
            state("joinery.title.set_up"),
            (state("joinery.say.set_up", tool=Ref("tool", want.tool)),),
            (state("joinery.mind.guards"),),
            (),
            (),
        ),
    )
    return steps, ()


#: Of a square's side, what is cut off each corner to leave eight equal sides.
_OCTAGON = 1 - math.sqrt(0.5)


def _ring(bench: Workbench, want: BoardWanted) -> tuple[tuple[Step, ...], tuple[HardwareItem, ...]]:
    rule = bench.rule
    across, along = (rule.down(side) for side in want.face_m)
    wood = rule.up(want.hole_m)
    corner = across * _OCTAGON if want.round else rule.down(want.hole_m)
    inner = (along - 2 * wood, across - 2 * wood)
    bench.panel(
        want.name,
        along,
        across,
        {want.name: Placement((-along / 2, 0.0, 0.0), X, Z, Y)},
        own=_called(want),
        grain="free",
        openings=(
            Opening(
                along / 2,
                across / 2,
                *inner,
                inner[0] / 2 if want.round else max(corner - wood, 0.0),
            ),
        ),
        chamfers=tuple((c, corner) for c in _CORNERS),
    )
    level = Amount(rule.near(want.depth_m), "length", "cut")
    steps = (
        Step(
            1,
            state("joinery.title.ring"),
            (
                state(
                    "joinery.say.ring_round",
                    outer=Amount(across, "length", "cut"),
                    inner=Amount(inner[1], "length", "cut"),
                )
                if want.round
                else state("joinery.say.ring_box", wood=Amount(wood, "length", "cut")),
            ),
            (state("joinery.mind.ring"),),
            (want.name,),
            (),
        ),
        Step(
            2,
            state("joinery.title.set_ring"),
            (
                state(
                    "joinery.say.set_ring", level=level, held="wedged" if want.wedges else "screwed"
                ),
            ),
            (),
            (),
            (),
            takes=() if want.wedges else (Taken("ring-screw", 3),),
        ),
    )
    screws = HardwareItem(
        "ring-screw",
        state("joinery.ring_screw", length=rule.amount(0.016 if bench.metric else 0.015875)),
        3,
        (_called(want),),
        kind="fastener",
    )
    return steps, () if want.wedges else (screws,)


def _lid(bench: Workbench, want: BoardWanted) -> tuple[tuple[Step, ...], tuple[HardwareItem, ...]]:
    rule = bench.rule
    across, along = (rule.near(side) for side in want.face_m)
    bench.panel(
        want.name,
        along,
        across,
        {want.name: Placement((-along / 2, 0.0, 0.0), X, Z, Y)},
        own=_called(want),
        grain="free",
        chamfers=tuple((c, across * _OCTAGON) for c in _CORNERS) if want.round else (),
    )
    steps = (
        Step(
            1,
            state("joinery.title.lid"),
            (state("joinery.say.lid", shape="round" if want.round else "box"),),
            (state("joinery.mind.lid"),),
            (want.name,),
            (),
        ),
    )
    return steps, ()


def _valve(
    bench: Workbench, want: BoardWanted
) -> tuple[tuple[Step, ...], tuple[HardwareItem, ...]]:
    opens, passes = Amount(want.opens_pa, "pressure"), Amount(want.passes_m3_s, "airflow")
    steps = (
        Step(
            1,
            state("joinery.title.valve"),
            (state("joinery.say.valve", opens=opens),),
            (state("joinery.mind.valve"),),
            (),
            (),
            takes=(Taken("relief-valve", 1),),
        ),
    )
    valve = HardwareItem(
        "relief-valve",
        state("joinery.valve", opens=opens, passes=passes),
        1,
        (_called(want),),
        kind="valve",
    )
    return steps, (valve,)


_CORNERS: tuple[Corner, ...] = ("near left", "near right", "far left", "far right")
_LAY_OUT = {"plate": _plate, "hood box": _box, "ring": _ring, "lid": _lid, "valve": _valve}
