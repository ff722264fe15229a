"""Steps of assembly in plain sentences."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from .building import Workbench
from .model import HeldBucket, Step

_EYES = "Wear eye protection and a dust mask; clamp the work, never hold it while drilling."


@dataclass(frozen=True)
class Draft:
    """A step before it is numbered."""

    title: str
    text: str
    caution: str
    new: tuple[str, ...]
    joints: tuple[str, ...] = ()


def numbered(drafts: Sequence[Draft]) -> tuple[Step, ...]:
    """Steps numbered from one."""
    return tuple(
        Step(i, d.title, d.text, d.caution, d.new, d.joints) for i, d in enumerate(drafts, 1)
    )


def tower_steps(
    bench: Workbench, joints: dict[str, tuple[str, ...]], held: HeldBucket | None
) -> tuple[Step, ...]:
    """How the tower goes together."""
    size = bench.size
    drill = bench.rule
    clearance, pilot = (
        drill_text(size.clearance_m, drill.units),
        drill_text(size.pilot_m, drill.units),
    )
    shelf_new = tuple(
        c for c in ("shelf", "front cleat", "rear cleat", "left cleat", "right cleat")
        if c in bench.placed
    )  # fmt: skip
    drafts = [
        Draft(
            "Cut, sand and drill",
            f"Write each panel's letter on it as it comes off the saw. Cut the openings, ease "
            f"every edge that a hand meets with 120 grit, and drill the clearance holes "
            f"({clearance}), countersunk from the side the screw goes in.",
            "Support both halves of an opening's waste before the last of the cut, and keep "
            "small pieces away from the saw: cut them from a long strip with a stop block.",
            (),
        ),
        Draft(
            "Join the sides with the two rails",
            "Stand both sides on their front edges on a flat floor. Put glue on the rails' ends, "
            "set the lower rail flush with the sides' lower ends and the upper rail flush with "
            f"their upper ends, all flush at the rear. Drill pilot holes ({pilot}) through the "
            "clearance holes and drive the screws. Measure both diagonals across the rear: push "
            "the frame until they are equal before the glue sets.",
            f"{_EYES} Drill pilot holes in the middle of the edge: a screw off centre splits it.",
            ("left side", "right side", "lower rail", "upper rail"),
            joints["frame"],
        ),
        Draft(
            "Fix the bottom",
            "Turn the frame upside down on its shelf end. Glue the lower ends of the sides and "
            "the lower rail, lay the bottom on them flush at the rear and at both sides, and "
            "screw it down. Sink the heads flush: the caster blocks cover the rear ones.",
            "The frame is top-heavy upside down: have someone hold it.",
            ("bottom",),
            joints["bottom"],
        ),
        Draft(
            "Glue and screw the caster blocks",
            "Spread glue over the whole face of each block, set it flush with the corner and "
            "screw it while the glue is wet.",
            "Check that no screw's point comes through the bottom.",
            ("front left block", "front right block", "rear left block", "rear right block"),
            joints["blocks"],
        ),
        Draft(
            "Screw on the casters",
            "Centre each plate on its block and fix it with four screws. Put the casters with "
            "brakes at the front.",
            "Let the glue dry first, and use all four screws of each plate.",
            ("front left caster", "front right caster", "rear left caster", "rear right caster"),
        ),
        Draft(
            "Fix the shelf",
            _shelf_text(held),
            "Brakes on. Keep glue out of the opening, where the bucket must slide.",
            shelf_new,
            joints["shelf"],
        ),
        Draft(
            "Fix the lipping",
            "Hold the lipping to the front edge of the bottom, its lower edge flush below, and "
            "screw it on. Leave out the glue if you want to be able to take it off.",
            "Round its upper edge: the vacuum is lifted over it.",
            ("lipping",),
            joints["lipping"],
        ),
        Draft(
            "Set in the vacuum",
            "Lift the vacuum over the lipping and roll it back until it stops at the lower rail, "
            "its hose port to the front. Unplug it first.",
            "Bend your knees, or lift it with a helper.",
            tuple(n for n in ("vacuum", "vacuum inlet")),
        ),
    ]
    if held is not None:
        drafts += [
            Draft(
                "Set in the bucket and the cyclone",
                "Lower the bucket through the opening until it rests, press the lid on and "
                "mount the cyclone on it with its inlet towards the side your tools are on.",
                "Empty the bucket before it is full: dust that reaches the cyclone passes on.",
                ("bucket", "cyclone", "cyclone inlet"),
            ),
            Draft(
                "Connect the link hose",
                "Cut the hose to the length listed, push it on the cyclone's outlet, lead it "
                "forward and down, and push it into the vacuum's inlet.",
                "Static: a shock while working is a sign to earth the hose. Never suck up sparks, "
                "embers, metal grindings, or anything wet.",
                ("link hose",),
            ),
        ]
    return numbered(drafts)


def _shelf_text(held: HeldBucket | None) -> str:
    text = (
        "Turn the cart upright. Glue the upper ends of the sides and the upper rail, lay the shelf "
        "on flush at the rear, and screw it down."
    )
    if held is None:
        return text
    if held.hold == "standing":
        return (
            "Screw the four cleats to the shelf from below so that the bucket stands between them. "
            + text
        )
    return (
        "Try the bucket in the opening before anything is fixed; ease the opening with a rasp if it "
        "binds. " + text
    )


def drill_text(diameter_m: float, units: str) -> str:
    """A drill's size as it is sold: 64ths of an inch, or tenths of a millimetre."""
    if units == "mm":
        return f"{diameter_m * 1000:.1f} mm"
    from fractions import Fraction

    part = Fraction(round(diameter_m / 0.0254 * 64), 64)
    return f"{part.numerator}/{part.denominator} in"
