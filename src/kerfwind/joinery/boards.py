"""Made of the cart's plywood beside it: bored plates and hood boxes for tools without a port."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from ..facts import Amount, Ref, Statement, Term, state
from ..shop import Shop
from ..solids import Body, Opening, Placement, X, Y, Z
from .aligned import Parts, aligned
from .marks import MarkingRule
from .model import CutPanel, HardwareItem, Hole, PanelJoint, PlacedPanel, Step, Taken
from .workbench import Workbench


@dataclass(frozen=True)
class BoardWanted:
    """What is to be made: sizes [m] of hole, face (inside the walls) and depth inside."""

    name: str
    tool: str
    kind: Literal["plate", "hood box"]
    hole_m: float
    face_m: tuple[float, float]
    depth_m: float = 0.0
    bored: Literal["back", "side"] = "back"


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
        """What to say for it: a plate or box by the tool that it is for."""
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
        lay_out = _plate if each.kind == "plate" else _box
        steps, hardware = lay_out(bench, each)
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
    """A plate or box by the tool that it is for."""
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
