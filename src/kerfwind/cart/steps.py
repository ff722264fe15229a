"""Steps of assembly: what each states, which parts it adds and which joints it makes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, Protocol

from ..facts import Statement, state
from ..joinery.joint_steps import drills, fastened, making
from ..joinery.model import Pose, Step, Taken
from ..joinery.workbench import Workbench
from .model import HeldBucket
from .straps import LOOPS

#: Edges that hands meet are rounded to so much (common practice) [m].
ROUND_M, ROUND_METRIC_M = 0.003175, 0.003
_CLEATS = ("front cleat", "rear cleat", "left cleat", "right cleat")
_BLOCKS = (
    "front left block",
    "front right block",
    "rear left block",
    "rear right block",
    "front outrigger",
    "rear outrigger",
)
_TRAY = (
    "left tray cleat",
    "right tray cleat",
    "left tray side",
    "right tray side",
    "front tray end",
    "rear tray end",
)
_CASTERS = ("front left caster", "front right caster", "rear left caster", "rear right caster")

#: What stands on the bottom and carries the shelf.
_Uprights = Literal["sides", "posts", "partition"]


class Joints(Protocol):
    """Something that knows which joints each step makes."""

    def keys(self, step: str) -> tuple[str, ...]:
        """Keys of the joints that a step makes."""
        ...


@dataclass(frozen=True)
class Draft:
    """A step before it is numbered."""

    title: Statement
    says: Sequence[Statement]
    cautions: Sequence[Statement]
    new: tuple[str, ...] = ()
    joints: tuple[str, ...] = ()
    pose: Pose = "upright"
    takes: tuple[Taken, ...] = ()


def numbered(drafts: Sequence[Draft]) -> tuple[Step, ...]:
    """Steps numbered from one."""
    return tuple(
        Step(i, d.title, tuple(d.says), tuple(d.cautions), d.new, d.joints, d.pose, takes=d.takes)
        for i, d in enumerate(drafts, 1)
    )


def _cut(bench: Workbench) -> Draft:
    holes = [h.diameter_m for p in bench.panels.values() for h in p.holes]
    square = any(
        not o.round for p in bench.panels.values() if p.name == "shelf" for o in p.openings
    )
    cut_out = any(p.openings for p in bench.panels.values())
    how, mind = making(bench)
    drilled = "yes" if holes else "no"
    opening = "square" if square else "other" if cut_out else "none"
    cut = state(
        "cart.say.cut",
        opening=opening,
        corners="yes" if any(p.chamfers for p in bench.panels.values()) else "no",
        drilled=drilled,
        drills=drills(holes, bench.rule),
    )
    return Draft(
        state("cart.title.cut", drilled=drilled),
        [
            state("cart.say.letters"),
            cut,
            *how,
            state(
                "cart.say.round_over",
                radius=bench.rule.amount(ROUND_METRIC_M if bench.rule.metric else ROUND_M),
            ),
            state("cart.finish.sand"),
        ],
        [state("cart.mind.cut", opening=opening), *mind],
    )


def _own_holes(bench: Workbench, made: tuple[str, ...]) -> bool:
    """Whether screws through a level panel take the place of pockets in some of these joints."""
    pockets = bench.wish == "pocket hole"
    return pockets and any(j.butts and j.carries for j in bench.joints if j.key in made)


def _from_below(bench: Workbench, made: tuple[str, ...]) -> list[Statement]:
    return [state("cart.say.from_below")] if _own_holes(bench, made) else []


def _lip(bench: Workbench, joints: Joints, title: Statement) -> Draft:
    """The step that fixes the front lipping."""
    says = [state("cart.say.lipping", joint=bench.wish)]
    if bench.wish != "glue":
        says.append(state("cart.say.without_glue"))
    return Draft(
        title,
        says,
        [state("cart.mind.lipping")],
        ("lipping",),
        joints.keys("lipping"),
        "upside down" if bench.wish == "pocket hole" else "upright",
    )


def _frame_pose(bench: Workbench) -> Pose:
    """Pockets are in the rails' front faces, which must then lie up."""
    return "rear edges" if bench.wish == "pocket hole" else "front edges"


def _bottom_pose(bench: Workbench) -> Pose:
    """Pocket screws are driven down from inside, others from under the bottom."""
    return "upright" if bench.wish == "pocket hole" else "upside down"


def _in_order(bench: Workbench, shelf: Draft, lip: Draft) -> list[Draft]:
    """Pocket screws go into the lipping from below, while the cart still lies upside down."""
    return [lip, shelf] if bench.wish == "pocket hole" else [shelf, lip]


def _blocks_and_casters(bench: Workbench, joints: Joints) -> list[Draft]:
    arms = "front outrigger" in bench.placed
    says = [state("cart.say.outriggers" if arms else "cart.say.blocks", joint=bench.wish)]
    if bench.wish != "pocket hole":
        says.append(state("cart.say.mark_heads"))
    return [
        Draft(
            state("cart.title.outriggers" if arms else "cart.title.blocks", joint=bench.wish),
            says,
            [state("cart.mind.blocks", joint=bench.wish)],
            tuple(b for b in _BLOCKS if b in bench.placed),
            joints.keys("blocks"),
            "upside down",
        ),
        Draft(
            state("cart.title.casters"),
            [state("cart.say.casters")],
            [state("cart.mind.casters")],
            _CASTERS,
            pose="upside down",
            takes=(Taken("caster", 4), Taken("caster-screw", 16)),
        ),
        *_ballast(bench, joints),
    ]


def _ballast(bench: Workbench, joints: Joints) -> list[Draft]:
    """The ballast's tray under the bottom, the ballast in it, and its floor over that."""
    if "tray floor" not in bench.placed:
        return []
    return [
        Draft(
            state("cart.title.tray"),
            [state("cart.say.tray"), state("cart.say.tray_up")],
            [state("cart.mind.tray")],
            _TRAY,
            joints.keys("tray"),
            "upside down",
        ),
        Draft(
            state("cart.title.ballast"),
            [state("cart.say.ballast")],
            [state("cart.mind.slabs")],
            ("ballast",),
            pose="upside down",
        ),
        Draft(
            state("cart.title.tray_floor"),
            [state("cart.say.tray_floor")],
            [state("cart.mind.ballast")],
            ("tray floor",),
            joints.keys("ballast"),
            "upside down",
        ),
    ]


def _anchor(tied: bool) -> list[Draft]:
    """The loop that the tool hose is tied to low, where it is tied there."""
    if not tied:
        return []
    return [
        Draft(
            state("cart.title.anchor"),
            [state("cart.say.anchor")],
            [],
            ("hose anchor",),
            takes=(Taken("anchor-loop", 1), Taken("anchor-strap", 1), Taken("anchor-screw", 2)),
        )
    ]


def _shelf(bench: Workbench, joints: Joints, held: HeldBucket | None, uprights: _Uprights) -> Draft:
    made = joints.keys("shelf")
    says = [
        state(
            "cart.say.shelf",
            uprights=uprights,
            joint=bench.wish,
            own_holes="yes" if _own_holes(bench, made) else "no",
        )
    ]
    if held is not None and held.hold == "standing":
        says.insert(0, state("cart.say.cleats_on_shelf", joint=bench.wish))
    elif held is not None:
        says.insert(0, state("cart.say.try_bucket"))
    opening = any(p.openings for p in bench.panels.values() if p.name == "shelf")
    return Draft(
        state("cart.title.shelf"),
        says,
        [state("cart.mind.brakes"), state("cart.mind.shelf", opening="yes" if opening else "no")],
        tuple(c for c in ("shelf", *_CLEATS) if c in bench.placed),
        made,
    )


def _finish() -> Draft:
    """The step that seals and paints all wood, before anything stands on it."""
    return Draft(
        state("cart.title.finish"),
        [
            state("cart.finish.glue"),
            state("cart.finish.mask"),
            state("cart.finish.seal"),
            state("cart.finish.paint"),
        ],
        [state("cart.finish.rags")],
    )


def _vacuum(says: Statement) -> Draft:
    return Draft(
        state("cart.title.vacuum"),
        [state("cart.say.unplug"), says],
        [state("cart.mind.vacuum")],
        ("vacuum", "vacuum inlet"),
    )


def _separator(held: HeldBucket | None) -> list[Draft]:
    if held is None:
        return []
    standing = held.hold == "standing"
    drafts = [
        Draft(
            state("cart.title.bucket", hold="standing" if standing else "hanging"),
            [state("cart.say.stand_bucket" if standing else "cart.say.hang_bucket")],
            [state("cart.mind.bucket")],
            (*(LOOPS if standing else ()), "bucket"),
            takes=(Taken("strap-loop", 4), Taken("strap-screw", 8)) if standing else (),
        ),
        Draft(
            state("cart.title.lid"),
            [state("cart.say.lid_hole"), state("cart.say.lid_screws"), state("cart.say.lid_on")],
            [state("cart.mind.lid")],
            ("cyclone", "cyclone inlet"),
            takes=(Taken("cyclone-bolt", 4), Taken("lid-seal", 1)),
        ),
    ]
    if standing:
        drafts.append(
            Draft(
                state("cart.title.straps"),
                [state("cart.say.straps")],
                [state("cart.mind.straps")],
                ("front strap", "rear strap"),
                takes=(Taken("strap", 2),),
            )
        )
    drafts.append(
        Draft(
            state("cart.title.link_hose"),
            [state("cart.say.link_hose")],
            [state("cart.mind.link_hose")],
            ("link hose",),
            takes=(Taken("link-hose", 1),),
        )
    )
    return drafts


def _frame_cautions() -> list[Statement]:
    return [state("cart.mind.eyes"), state("cart.mind.middle_of_the_edge")]


def tower_steps(
    bench: Workbench, joints: Joints, held: HeldBucket | None, tied: bool
) -> tuple[Step, ...]:
    """How the tower goes together."""
    pose = _frame_pose(bench)
    return numbered(
        [
            _cut(bench),
            Draft(
                state("cart.title.sides_and_rails"),
                [
                    state("cart.say.sides_and_rails", pose=pose),
                    *fastened(bench, joints.keys("frame")),
                    state("cart.say.square_across_the_rear"),
                ],
                _frame_cautions(),
                ("left side", "right side", "lower rail", "upper rail"),
                joints.keys("frame"),
                pose,
            ),
            _bottom(
                bench,
                joints,
                "sides",
                [state("cart.say.bottom_on_sides", joint=bench.wish), state("cart.say.sink_heads")],
            ),
            *_blocks_and_casters(bench, joints),
            *_in_order(
                bench,
                _shelf(bench, joints, held, "sides"),
                _lip(bench, joints, state("cart.title.lipping")),
            ),
            _finish(),
            _vacuum(state("cart.say.vacuum_to_the_rail")),
            *_separator(held),
            *_anchor(tied),
        ]
    )


def backframe_steps(
    bench: Workbench, joints: Joints, held: HeldBucket | None, tied: bool
) -> tuple[Step, ...]:
    """How the backframe goes together."""
    pose = _frame_pose(bench)
    return numbered(
        [
            _cut(bench),
            Draft(
                state("cart.title.posts_and_rails"),
                [
                    state("cart.say.posts_and_rails", pose=pose),
                    *fastened(bench, joints.keys("frame")),
                    state("cart.say.square"),
                ],
                _frame_cautions(),
                ("left post", "right post", "lower rail", "middle rail", "upper rail"),
                joints.keys("frame"),
                pose,
            ),
            Draft(
                state("cart.title.brackets"),
                [state("cart.say.brackets", joint=bench.wish)],
                [state("cart.mind.brackets", joint=bench.wish)],
                ("left bracket", "right bracket"),
                joints.keys("brackets"),
            ),
            _bottom(bench, joints, "posts", [state("cart.say.bottom_on_posts", joint=bench.wish)]),
            Draft(
                state("cart.title.side_lipping"),
                [state("cart.say.side_lipping", joint=bench.wish)],
                [state("cart.mind.side_lipping")],
                ("left lipping", "right lipping"),
                joints.keys("side lipping"),
                "upside down",
            ),
            *_blocks_and_casters(bench, joints),
            *_in_order(
                bench,
                _shelf(bench, joints, held, "posts"),
                _lip(bench, joints, state("cart.title.front_lipping")),
            ),
            _finish(),
            _vacuum(state("cart.say.vacuum_to_the_posts")),
            *_separator(held),
            *_anchor(tied),
        ]
    )


def _bottom(
    bench: Workbench, joints: Joints, uprights: Literal["sides", "posts"], says: Sequence[Statement]
) -> Draft:
    """The step that fixes the bottom under a frame of uprights and a lower rail."""
    made = joints.keys("bottom")
    caution = state("cart.mind.top_heavy_upside_down")
    if bench.wish == "pocket hole":
        says = [state("cart.say.frame_on_bottom", uprights=uprights), *_from_below(bench, made)]
        caution = state("cart.mind.top_heavy")
    return Draft(
        state("cart.title.bottom"), says, [caution], ("bottom",), made, _bottom_pose(bench)
    )


def _low_bottom(bench: Workbench, joints: Joints) -> Draft:
    made, pose = joints.keys("bottom"), _bottom_pose(bench)
    framed = "upper rail" in bench.placed
    if bench.wish == "pocket hole":
        says = [state("cart.say.uprights_on_bottom"), *_from_below(bench, made)]
    elif not framed:
        # Nothing holds the uprights upright yet, and the bottom would tip off them.
        says = [state("cart.say.bottom_on_trestles", joint=bench.wish)]
        pose = "upright"
    else:
        says = [state("cart.say.bottom_on_uprights", joint=bench.wish)]
    cautions = [state("cart.mind.diagonals")]
    if not framed:
        # Nothing was drilled before.
        cautions = [state("cart.mind.eyes"), state("cart.mind.pilot_holes"), *cautions]
    title = state("cart.title.bottom" if framed else "cart.title.uprights")
    new = ("bottom",) if framed else ("partition", "end")
    return Draft(title, says, cautions, new, made, pose)


def _low_cleats(bench: Workbench, joints: Joints, cleats: tuple[str, ...]) -> list[Draft]:
    if not cleats:
        return []
    return [
        Draft(
            state("cart.title.cleats"),
            [state("cart.say.cleats_on_bottom", joint=bench.wish)],
            [state("cart.mind.middle_of_the_edge")],
            cleats,
            joints.keys("cleats"),
        )
    ]


def _low_last(
    bench: Workbench, joints: Joints, held: HeldBucket | None, shelf: bool
) -> list[Draft]:
    lip = Draft(
        state("cart.title.lipping"),
        [state("cart.say.lipping_all_round", joint=bench.wish)],
        [state("cart.mind.lipping_all_round")],
        ("left lipping", "front lipping", "rear lipping"),
        joints.keys("lipping"),
        "upside down" if bench.wish == "pocket hole" else "upright",
    )
    if not shelf:
        return [lip]
    return _in_order(bench, _shelf(bench, joints, held, "partition"), lip)


def _low_frame(bench: Workbench, joints: Joints) -> Draft:
    """Partition and end joined by their rails, or marked out on the bottom without any."""
    rails = tuple(r for r in ("lower rail", "upper rail") if r in bench.placed)
    new, made = ("partition", "end", *rails), joints.keys("frame")
    if not rails:
        return Draft(
            state("cart.title.lay_out_uprights"),
            [state("cart.say.lay_out_uprights")],
            [state("cart.mind.both_faces")],
            ("bottom",),
        )
    pose = _frame_pose(bench)
    return Draft(
        state("cart.title.partition_and_end"),
        [state("cart.say.partition_and_end", pose=pose), *fastened(bench, made)],
        [state("cart.mind.eyes")],
        new,
        made,
        pose,
    )


def low_steps(
    bench: Workbench, joints: Joints, held: HeldBucket | None, tied: bool
) -> tuple[Step, ...]:
    """How the low cart goes together."""
    shelf = "shelf" in bench.placed
    cleats = () if shelf else tuple(c for c in _CLEATS if c in bench.placed)
    return numbered(
        [
            _cut(bench),
            _low_frame(bench, joints),
            _low_bottom(bench, joints),
            *_low_cleats(bench, joints, cleats),
            *_blocks_and_casters(bench, joints),
            *_low_last(bench, joints, held, shelf),
            _finish(),
            _vacuum(state("cart.say.vacuum_into_its_bay")),
            *_separator(held),
            *_anchor(tied),
        ]
    )
