"""Steps of assembly in plain sentences."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol

from ..facts import Name
from ..joinery.joint_wording import drill_text, fastened, making
from ..joinery.model import Pose, Step
from ..joinery.workbench import Workbench
from .model import HeldBucket

_EYES = "Wear eye protection and a dust mask; clamp the work, never hold it while drilling."
_CLEATS = ("front cleat", "rear cleat", "left cleat", "right cleat")
_BLOCKS = ("front left block", "front right block", "rear left block", "rear right block")
_CASTERS = ("front left caster", "front right caster", "rear left caster", "rear right caster")


class Joints(Protocol):
    """Something that knows which joints each step makes."""

    def keys(self, step: str) -> tuple[str, ...]:
        """Keys of the joints that a step makes."""
        ...


@dataclass(frozen=True)
class Draft:
    """A step before it is numbered."""

    title: str
    text: str
    caution: str
    new: tuple[str, ...] = ()
    joints: tuple[str, ...] = ()
    pose: Pose = "upright"


def numbered(drafts: Sequence[Draft]) -> tuple[Step, ...]:
    """Steps numbered from one."""
    return tuple(
        Step(i, Name(d.title), (Name(d.text),), (Name(d.caution),), d.new, d.joints, d.pose)
        for i, d in enumerate(drafts, 1)
    )


def _drills(sizes: Iterable[float | None], units: str) -> str:
    """Drills by their sizes, each once, largest first."""
    drills = sorted({round(s, 6) for s in sizes if s is not None}, reverse=True)
    return " or ".join(dict.fromkeys(drill_text(s, units) for s in drills))


def _cut(bench: Workbench) -> Draft:
    holes = [h.diameter_m for p in bench.panels.values() for h in p.holes]
    bore = (
        f"and drill the clearance holes ({_drills(holes, bench.rule.units)}), countersunk from "
        "the side the screw goes in."
        if holes
        else "and keep glued faces bare."
    )
    square = any(
        not o.round for p in bench.panels.values() if p.name == "shelf" for o in p.openings
    )
    how, mind = making(bench)
    return Draft(
        "Cut, sand and drill" if holes else "Cut and sand",
        "Write each panel's letter on it as it comes off the saw. Cut the openings"
        + (
            " (drill the corners of the shelf's first, then saw from hole to hole)"
            if square
            else ""
        )
        + f", ease every edge that a hand meets with 120 grit, {bore}{how}",
        "Support both halves of an opening's waste before the last of the cut, and keep small "
        f"pieces away from the saw: cut them from a long strip with a stop block. {mind}".strip(),
    )


def _pilot(bench: Workbench, joints: Joints) -> str:
    """Pilot drills of the frame's joints."""
    kinds = bench.screws_of(joints.keys("frame"))
    return _drills((s.pilot_hole_m for s in kinds), bench.rule.units)


def _down(bench: Workbench, made: tuple[str, ...]) -> str:
    """How a level panel is fixed on upright ones, by the joints ``made``."""
    if bench.wish == "pocket hole":
        both = any(j.butts and j.carries for j in bench.joints if j.key in made)
        more = "; drive the screws through its own holes as well" if both else ""
        return f"clamp it, and drive the pocket screws into it from the inner faces{more}"
    if bench.wish == "dado":
        return "press it down until every edge is home in its groove, and screw it down"
    return "and screw it down"


def _from_below(bench: Workbench, made: tuple[str, ...]) -> str:
    """What is said of screws through the bottom that take the place of pockets."""
    if not any(j.butts and j.carries for j in bench.joints if j.key in made):
        return ""
    return (
        " Then lay the frame on its back with a helper and drive the screws through the bottom's "
        "own holes."
    )


def _lip(bench: Workbench, joints: Joints, title: str) -> Draft:
    """The step that fixes the front lipping."""
    held = "Hold the lipping to the front edge of the bottom, its lower edge flush below, and "
    way = {
        "pocket hole": "drive the pocket screws into it from under the bottom.",
        "glue": "clamp it with glue on the whole edge until that has set.",
    }.get(bench.wish, "screw it on.")
    loose = (
        ""
        if bench.wish == "glue"
        else (" Leave out the glue if you want to be able to take it off.")
    )
    return Draft(
        title,
        held + way + loose,
        "Round its upper edge: the vacuum is lifted over it.",
        ("lipping",),
        joints.keys("lipping"),
        "upside down" if bench.wish == "pocket hole" else "upright",
    )


def _frame_pose(bench: Workbench) -> Pose:
    """Pockets are in the rails' front faces, which must then lie up."""
    return "on rear edges" if bench.wish == "pocket hole" else "on front edges"


def _bottom_pose(bench: Workbench) -> Pose:
    """Pocket screws are driven down from inside, others from under the bottom."""
    return "upright" if bench.wish == "pocket hole" else "upside down"


def _in_order(bench: Workbench, shelf: Draft, lip: Draft) -> list[Draft]:
    """Pocket screws go into the lipping from below, while the cart still lies upside down."""
    return [lip, shelf] if bench.wish == "pocket hole" else [shelf, lip]


def _blocks_and_casters(bench: Workbench, joints: Joints) -> list[Draft]:
    glue = bench.wish == "glue"
    return [
        Draft(
            "Glue the caster blocks" if glue else "Glue and screw the caster blocks",
            "Spread glue over the whole face of each block, set it flush with the corner and "
            + ("clamp it until the glue has set." if glue else "screw it while the glue is wet.")
            + (
                ""
                if bench.wish == "pocket hole"
                else " Mark on its edges where screw heads lie under it: the casters' screws keep "
                "off them."
            ),
            "Do not load the blocks for a day: the casters' screws go through them into the bottom."
            if glue
            else "Check that no screw's point comes through the bottom.",
            _BLOCKS,
            joints.keys("blocks"),
            "upside down",
        ),
        Draft(
            "Screw on the casters",
            "Centre each plate on its block and fix it with four screws. Put the casters with "
            "brakes at the front.",
            "Let the glue dry first, and use all four screws of each plate.",
            _CASTERS,
            pose="upside down",
        ),
    ]


def _shelf(bench: Workbench, joints: Joints, held: HeldBucket | None, uprights: str) -> Draft:
    text = (
        f"Turn the cart upright. Glue the upper ends of {uprights}, lay the shelf on flush at the "
        f"rear, {_down(bench, joints.keys('shelf'))}."
    )
    if held is not None and held.hold == "standing":
        text = (
            (
                "Glue and clamp the four cleats on the shelf"
                if bench.wish == "glue"
                else "Screw the four cleats to the shelf from below"
            )
            + " so that the bucket stands between them. "
            + text
        )
    elif held is not None:
        text = (
            "Try the bucket in the opening before anything is fixed; ease the opening with a "
            "rasp if it binds. " + text
        )
    return Draft(
        "Fix the shelf",
        text,
        "Brakes on. "
        + (
            "Keep glue out of the opening, where the bucket must slide."
            if any(p.openings for p in bench.panels.values() if p.name == "shelf")
            else "Wipe off what glue squeezes out."
        ),
        tuple(c for c in ("shelf", *_CLEATS) if c in bench.placed),
        joints.keys("shelf"),
    )


def _vacuum(text: str) -> Draft:
    return Draft(
        "Set in the vacuum",
        f"Unplug the vacuum. {text}",
        "Bend your knees, or lift it with a helper.",
        ("vacuum", "vacuum inlet"),
    )


def _separator(bench: Workbench, held: HeldBucket | None) -> list[Draft]:
    if held is None:
        return []
    stands = held.hold == "standing"
    rest = (
        "Screw two strap loops beside each side of the bucket's place, just outside its foot, "
        f"{bench.rule.text(held.strap_m)} before and behind its middle. Stand the bucket between its "
        "cleats"
        if stands
        else "Lower the bucket through the opening until it rests"
    )
    strap = (
        " Pull a strap over the lid before the cyclone and one behind it, from the loops at one "
        "side to those at the other, until the bucket cannot rock."
    )
    return [
        Draft(
            "Set in the bucket and the cyclone",
            f"{rest}, press the lid on and mount the cyclone on it with its inlet towards the "
            f"side your tools are on.{strap * stands}",
            "Empty the bucket before it is full: dust that reaches the cyclone passes on."
            + " Unstrapped it can fall from the cart: strap it again each time." * stands,
            ("strap loops", "bucket", "cyclone", "cyclone inlet", "front strap", "rear strap"),
        ),
        Draft(
            "Connect the link hose",
            "Cut the hose to the length listed, push it on the cyclone's outlet, lead it forward "
            "and down, and push it into the vacuum's inlet.",
            "Static: a shock while working is a sign to earth the hose. Never suck up sparks, "
            "embers, metal grindings, or anything wet.",
            ("link hose",),
        ),
    ]


def tower_steps(bench: Workbench, joints: Joints, held: HeldBucket | None) -> tuple[Step, ...]:
    """How the tower goes together."""
    return numbered(
        [
            _cut(bench),
            Draft(
                "Join the sides with the two rails",
                f"Stand both sides {_frame_pose(bench).replace('on ', 'on their ')} on a flat floor. Put "
                "glue on the rails' ends, "
                "set the lower rail flush with the sides' lower ends and the upper rail flush with "
                f"their upper ends, all flush at the rear. {fastened(bench, joints.keys('frame'), _pilot(bench, joints))} "
                "Measure both diagonals across the rear: "
                "push the frame until they are equal before the glue sets.",
                f"{_EYES} Drill pilot holes in the middle of the edge: a screw off centre splits it.",
                ("left side", "right side", "lower rail", "upper rail"),
                joints.keys("frame"),
                _frame_pose(bench),
            ),
            _bottom(
                bench,
                joints,
                "Turn the frame upside down on its shelf end. Glue the lower ends of the sides and "
                "the lower rail, lay the bottom on them flush at the rear and at both sides, "
                f"{_down(bench, joints.keys('bottom'))}. Sink the heads flush: the caster blocks cover the "
                "rear ones.",
                "the sides",
            ),
            *_blocks_and_casters(bench, joints),
            *_in_order(
                bench,
                _shelf(bench, joints, held, "the sides and the upper rail"),
                _lip(bench, joints, "Fix the lipping"),
            ),
            _vacuum(
                "Lift it over the lipping and roll it back until it stops at the lower rail, "
                "its hose port to the front."
            ),
            *_separator(bench, held),
        ]
    )


def backframe_steps(bench: Workbench, joints: Joints, held: HeldBucket | None) -> tuple[Step, ...]:
    """How the backframe goes together."""
    return numbered(
        [
            _cut(bench),
            Draft(
                "Join the posts with the three rails",
                f"Stand both posts {_frame_pose(bench).replace('on ', 'on their ')} on a flat floor. Put "
                "glue on the rails' ends; "
                "the lower rail is flush with the posts' lower ends, the upper rail with their upper "
                "ends, the middle rail half way, all flush at the rear. "
                f"{fastened(bench, joints.keys('frame'), _pilot(bench, joints))} Push the frame "
                "until both diagonals are equal before the glue sets.",
                f"{_EYES} Drill pilot holes in the middle of the edge: a screw off centre splits it.",
                ("left post", "right post", "lower rail", "middle rail", "upper rail"),
                joints.keys("frame"),
                _frame_pose(bench),
            ),
            Draft(
                "Fix the brackets",
                "Glue each bracket to the inner face of its post, its upper edge flush with the "
                "post's upper end and its rear end against the upper rail, and "
                + (
                    "clamp it over its whole face until the glue has set."
                    if bench.wish == "glue"
                    else "screw it from inside."
                ),
                "Both upper edges must be level for the shelf."
                if bench.wish == "glue"
                else "Clamp it before you drill: both upper edges must be level for the shelf.",
                ("left bracket", "right bracket"),
                joints.keys("brackets"),
            ),
            _bottom(
                bench,
                joints,
                "Turn the frame upside down. Glue the lower ends of the posts and the lower rail, lay "
                f"the bottom on flush at the rear and at both sides, {_down(bench, joints.keys('bottom'))}.",
                "the posts",
            ),
            Draft(
                "Fix the side lipping",
                "Glue and screw a side lipping to each side edge of the bottom"
                + (" (the pocket screws from below)" if bench.wish == "pocket hole" else "")
                + (
                    ", and glue and clamp it to the outer face "
                    if bench.wish == "glue"
                    else " and to the outer face "
                )
                + "of its post: it keeps the posts from leaning forward.",
                "These two carry: use glue and every screw.",
                ("left lipping", "right lipping"),
                joints.keys("side lipping"),
                "upside down",
            ),
            *_blocks_and_casters(bench, joints),
            *_in_order(
                bench,
                _shelf(bench, joints, held, "the posts, the brackets and the upper rail"),
                _lip(bench, joints, "Fix the front lipping"),
            ),
            _vacuum(
                "Lift it over the front lipping and roll it back to the posts, its hose port to "
                "the front."
            ),
            *_separator(bench, held),
        ]
    )


def _bottom(bench: Workbench, joints: Joints, text: str, uprights: str) -> Draft:
    """The step that fixes the bottom under a frame of uprights and a lower rail."""
    caution = "The frame is top-heavy upside down: have someone hold it."
    if bench.wish == "pocket hole":
        text = (
            f"Lay the bottom on the floor. Glue the lower ends of {uprights} and the lower rail, "
            "stand the frame on it flush at the rear and at both sides, clamp it, and drive the "
            "pocket screws down into it from the inner faces."
            + _from_below(bench, joints.keys("bottom"))
        )
        caution = (
            "The frame is top-heavy: have someone hold it. A long driver bit keeps hands clear."
        )
    elif bench.wish == "dado":
        text = text.replace(
            "flush at the rear and at both sides", "with its grooves over their ends"
        )
    return Draft(
        "Fix the bottom", text, caution, ("bottom",), joints.keys("bottom"), _bottom_pose(bench)
    )


def _low_bottom(bench: Workbench, joints: Joints, cleats: tuple[str, ...]) -> Draft:
    pose = _bottom_pose(bench)
    text = (
        "Turn them upside down. Glue their lower ends and lay the bottom on, the end flush "
        f"with its right edge and both flush at the rear, its long end propped level on a box, "
        f"{_down(bench, joints.keys('bottom'))}."
    )
    if "upper rail" not in bench.placed and bench.wish != "pocket hole":
        # Nothing holds the uprights upright yet, and the bottom would tip off them.
        home = "until it is home in its groove " if bench.wish == "dado" else ""
        text = (
            "Lay the bottom across two trestles. Glue the lower end of each upright, stand it "
            f"{home}on its marks, the end flush with the bottom's right edge and both flush at the "
            "rear, clamp it to a square block beside it, and screw it from below."
        )
        pose = "upright"
    if bench.wish == "pocket hole":
        text = (
            "Lay the bottom on the floor. Glue the lower ends of the uprights and stand them on it, "
            "the end flush with its right edge and both flush at the rear; clamp them, and drive the "
            "pocket screws down into it from the inner faces."
            + _from_below(bench, joints.keys("bottom"))
        )
    if cleats:
        text += (
            " Glue and clamp the four cleats on as well."
            if bench.wish == "glue"
            else " Screw the four cleats to its inner face, through the bottom, as well."
        )
    return Draft(
        "Fix the bottom",
        text,
        # The cleats stand for the rails: nothing was drilled before.
        (f"{_EYES} Drill pilot holes. " if cleats else "")
        + "Measure both diagonals before the glue sets.",
        ("bottom", *cleats),
        joints.keys("bottom"),
        pose,
    )


def _low_last(
    bench: Workbench, joints: Joints, held: HeldBucket | None, shelf: bool
) -> list[Draft]:
    way = {
        "pocket hole": "Drive the pocket screws from under the bottom into the short lipping at its "
        "left edge, then into the long ones at",
        "glue": "Glue and clamp the short lipping to the left edge of the bottom, then the long ones to",
    }.get(
        bench.wish, "Screw the short lipping to the left edge of the bottom, then the long ones to"
    )
    lip = Draft(
        "Fix the lipping",
        f"{way} the front and the rear, lower edges flush below.",
        "Round the upper edges: the vacuum is lifted over them.",
        ("left lipping", "front lipping", "rear lipping"),
        joints.keys("lipping"),
        "upside down" if bench.wish == "pocket hole" else "upright",
    )
    if not shelf:
        return [lip]
    return _in_order(bench, _shelf(bench, joints, held, "the partition, the end and the rail"), lip)


def low_steps(bench: Workbench, joints: Joints, held: HeldBucket | None) -> tuple[Step, ...]:
    """How the low cart goes together."""
    rails = tuple(r for r in ("lower rail", "upper rail") if r in bench.placed)
    shelf = "shelf" in bench.placed
    cleats = () if shelf else tuple(c for c in _CLEATS if c in bench.placed)
    return numbered(
        [
            _cut(bench),
            Draft(
                "Join the partition and the end" if rails else "Lay out the partition and the end",
                (
                    f"Stand both uprights {_frame_pose(bench).replace('on ', 'on their ')}. Put glue on "
                    "the rails' ends, all flush at the rear. "
                    + fastened(bench, joints.keys("frame"), _pilot(bench, joints))
                    if rails
                    else "Mark on the bottom where the partition and the end will stand."
                ),
                _EYES
                if rails
                else "Mark both faces: the screws are drilled for from the other side.",
                ("partition", "end", *rails),
                joints.keys("frame"),
                _frame_pose(bench) if rails else "upright",
            ),
            _low_bottom(bench, joints, cleats),
            *_blocks_and_casters(bench, joints),
            *_low_last(bench, joints, held, shelf),
            _vacuum("Lower it into its bay, its hose port to the front."),
            *_separator(bench, held),
        ]
    )
