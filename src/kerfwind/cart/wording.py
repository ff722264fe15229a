"""Steps of assembly in plain sentences."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Protocol

from .building import Workbench
from .model import HeldBucket, Pose, Step

_EYES = "Wear eye protection and a dust mask; clamp the work, never hold it while drilling."
_CLEATS = ("front cleat", "rear cleat", "left cleat", "right cleat")
_BLOCKS = ("front left block", "front right block", "rear left block", "rear right block")
_CASTERS = ("front left caster", "front right caster", "rear left caster", "rear right caster")


class Joints(Protocol):
    """What knows the joints of a step."""

    def keys(self, step: str) -> tuple[str, ...]:
        """Joints of a step."""
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
        Step(i, d.title, d.text, d.caution, d.new, d.joints, d.pose)
        for i, d in enumerate(drafts, 1)
    )


def drill_text(diameter_m: float, units: str) -> str:
    """A drill's size as it is sold: 64ths of an inch, or tenths of a millimetre."""
    if units == "mm":
        return f"{diameter_m * 1000:.1f} mm"
    part = Fraction(round(diameter_m / 0.0254 * 64), 64)
    return f"{part.numerator}/{part.denominator} in"


def _drills(sizes: Iterable[float | None], units: str) -> str:
    """Drills by their sizes, each once, largest first."""
    found = sorted({round(s, 6) for s in sizes if s is not None}, reverse=True)
    return " or ".join(dict.fromkeys(drill_text(s, units) for s in found))


def _cut(bench: Workbench) -> Draft:
    clearance = _drills((s.clearance_hole_m for s in bench.screws.values()), bench.rule.units)
    square = any(
        not o.round for p in bench.panels.values() if p.name == "shelf" for o in p.openings
    )
    return Draft(
        "Cut, sand and drill",
        "Write each panel's letter on it as it comes off the saw. Cut the openings"
        + (
            " (drill the corners of the shelf's first, then saw from hole to hole)"
            if square
            else ""
        )
        + ", ease every "
        f"edge that a hand meets with 120 grit, and drill the clearance holes ({clearance}), "
        "countersunk from the side the screw goes in.",
        "Support both halves of an opening's waste before the last of the cut, and keep small "
        "pieces away from the saw: cut them from a long strip with a stop block.",
    )


def _pilot(bench: Workbench, joints: Joints) -> str:
    """Pilot drills of the frame's joints."""
    kinds = bench.screws_of(joints.keys("frame"))
    return _drills((s.pilot_hole_m for s in kinds), bench.rule.units)


def _blocks_and_casters(joints: Joints) -> list[Draft]:
    return [
        Draft(
            "Glue and screw the caster blocks",
            "Spread glue over the whole face of each block, set it flush with the corner and "
            "screw it while the glue is wet.",
            "Check that no screw's point comes through the bottom.",
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
        "rear, and screw it down."
    )
    if held is not None and held.hold == "standing":
        text = (
            "Screw the four cleats to the shelf from below so that the bucket stands between "
            "them. " + text
        )
    elif held is not None:
        text = (
            "Try the bucket in the opening before anything is fixed; ease the opening with a "
            "rasp if it binds. " + text
        )
    return Draft(
        "Fix the shelf",
        text,
        "Brakes on. Keep glue out of the opening, where the bucket must slide.",
        tuple(c for c in ("shelf", *_CLEATS) if c in bench.placed),
        joints.keys("shelf"),
    )


def _vacuum(text: str) -> Draft:
    return Draft(
        "Set in the vacuum",
        text + " Unplug it first.",
        "Bend your knees, or lift it with a helper.",
        ("vacuum", "vacuum inlet"),
    )


def _separator(held: HeldBucket | None) -> list[Draft]:
    if held is None:
        return []
    rest = (
        "Stand the bucket between its cleats"
        if held.hold == "standing"
        else "Lower the bucket through the opening until it rests"
    )
    return [
        Draft(
            "Set in the bucket and the cyclone",
            f"{rest}, press the lid on and mount the cyclone on it with its inlet towards the "
            "side your tools are on.",
            "Empty the bucket before it is full: dust that reaches the cyclone passes on.",
            ("bucket", "cyclone", "cyclone inlet"),
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
    return numbered([
        _cut(bench),
        Draft(
            "Join the sides with the two rails",
            "Stand both sides on their front edges on a flat floor. Put glue on the rails' ends, "
            "set the lower rail flush with the sides' lower ends and the upper rail flush with "
            f"their upper ends, all flush at the rear. Drill pilot holes ({_pilot(bench, joints)}) through "
            "the clearance holes and drive the screws. Measure both diagonals across the rear: "
            "push the frame until they are equal before the glue sets.",
            f"{_EYES} Drill pilot holes in the middle of the edge: a screw off centre splits it.",
            ("left side", "right side", "lower rail", "upper rail"),
            joints.keys("frame"),
            "on front edges",
        ),
        Draft(
            "Fix the bottom",
            "Turn the frame upside down on its shelf end. Glue the lower ends of the sides and "
            "the lower rail, lay the bottom on them flush at the rear and at both sides, and "
            "screw it down. Sink the heads flush: the caster blocks cover the rear ones.",
            "The frame is top-heavy upside down: have someone hold it.",
            ("bottom",),
            joints.keys("bottom"),
            "upside down",
        ),
        *_blocks_and_casters(joints),
        _shelf(bench, joints, held, "the sides and the upper rail"),
        Draft(
            "Fix the lipping",
            "Hold the lipping to the front edge of the bottom, its lower edge flush below, and "
            "screw it on. Leave out the glue if you want to be able to take it off.",
            "Round its upper edge: the vacuum is lifted over it.",
            ("lipping",),
            joints.keys("lipping"),
        ),
        _vacuum(
            "Lift the vacuum over the lipping and roll it back until it stops at the lower rail, "
            "its hose port to the front."
        ),
        *_separator(held),
    ])  # fmt: skip


def backframe_steps(bench: Workbench, joints: Joints, held: HeldBucket | None) -> tuple[Step, ...]:
    """How the backframe goes together."""
    return numbered([
        _cut(bench),
        Draft(
            "Join the posts with the three rails",
            "Stand both posts on their front edges on a flat floor. Put glue on the rails' ends; "
            "the lower rail is flush with the posts' lower ends, the upper rail with their upper "
            "ends, the middle rail half way, all flush at the rear. Drill pilot holes "
            f"({_pilot(bench, joints)}) through the clearance holes and drive the screws. Push the frame "
            "until both diagonals are equal before the glue sets.",
            f"{_EYES} Drill pilot holes in the middle of the edge: a screw off centre splits it.",
            ("left post", "right post", "lower rail", "middle rail", "upper rail"),
            joints.keys("frame"),
            "on front edges",
        ),
        Draft(
            "Fix the brackets",
            "Glue each bracket to the inner face of its post, its upper edge flush with the "
            "post's upper end and its rear end against the upper rail, and screw it from inside.",
            "Clamp it before you drill: both upper edges must be level for the shelf.",
            ("left bracket", "right bracket"),
            joints.keys("brackets"),
        ),
        Draft(
            "Fix the bottom",
            "Turn the frame upside down. Glue the lower ends of the posts and the lower rail, lay "
            "the bottom on flush at the rear and at both sides, and screw it down.",
            "The frame is top-heavy upside down: have someone hold it.",
            ("bottom",),
            joints.keys("bottom"),
            "upside down",
        ),
        Draft(
            "Fix the side lipping",
            "Glue and screw a side lipping to each side edge of the bottom and to the outer face "
            "of its post: it keeps the posts from leaning forward.",
            "These two carry: use glue and every screw.",
            ("left lipping", "right lipping"),
            joints.keys("side lipping"),
            "upside down",
        ),
        *_blocks_and_casters(joints),
        _shelf(bench, joints, held, "the posts, the brackets and the upper rail"),
        Draft(
            "Fix the front lipping",
            "Hold the lipping to the front edge of the bottom, its lower edge flush below, and "
            "screw it on. Leave out the glue if you want to be able to take it off.",
            "Round its upper edge: the vacuum is lifted over it.",
            ("lipping",),
            joints.keys("lipping"),
        ),
        _vacuum(
            "Lift the vacuum over the front lipping and roll it back to the posts, its hose port to "
            "the front."
        ),
        *_separator(held),
    ])  # fmt: skip


def low_steps(bench: Workbench, joints: Joints, held: HeldBucket | None) -> tuple[Step, ...]:
    """How the low cart goes together."""
    rails = tuple(r for r in ("lower rail", "upper rail") if r in bench.placed)
    shelf = "shelf" in bench.placed
    cleats = () if shelf else tuple(c for c in _CLEATS if c in bench.placed)
    return numbered([
        _cut(bench),
        Draft(
            "Join the partition and the end" if rails else "Lay out the partition and the end",
            (
                "Stand both uprights on their front edges. Put glue on the rails' ends, all flush "
                f"at the rear, drill pilot holes ({_pilot(bench, joints)}) through the clearance holes and "
                "drive the screws."
                if rails
                else "Mark on the bottom where the partition and the end will stand."
            ),
            _EYES,
            ("partition", "end", *rails),
            joints.keys("frame"),
            "on front edges" if rails else "upright",
        ),
        Draft(
            "Fix the bottom",
            "Turn them upside down. Glue their lower ends and lay the bottom on, the end flush "
            "with its right edge and both flush at the rear; screw it down."
            + (" Screw the four cleats on from below as well." if cleats else ""),
            "Measure both diagonals before the glue sets.",
            ("bottom", *cleats),
            joints.keys("bottom"),
            "upside down",
        ),
        *_blocks_and_casters(joints),
        *([_shelf(bench, joints, held, "the partition, the end and the rail")] if shelf else []),
        Draft(
            "Fix the lipping",
            "Screw the short lipping to the left edge of the bottom, then the long ones to the "
            "front and the rear, lower edges flush below.",
            "Round the upper edges: the vacuum is lifted over them.",
            ("left lipping", "front lipping", "rear lipping"),
            joints.keys("lipping"),
        ),
        _vacuum("Lower the vacuum into its bay, its hose port to the front."),
        *_separator(held),
    ])  # fmt: skip
