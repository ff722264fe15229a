"""The usual cautions, each kept with the work it belongs to.

Common practice of the trade; none of it replaces the maker's instructions, local codes
or a licensed electrician.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Work = Literal["cutting", "building", "moving", "using", "emptying", "power"]


@dataclass(frozen=True)
class Caution:
    """One caution and the work where it is needed."""

    work: Work
    title: str
    text: str


CAUTIONS: tuple[Caution, ...] = (
    Caution(
        "cutting",
        "Kickback",
        "Keep guard and riving knife on, stand beside the line of cut, and never use fence and "
        "mitre gauge together on a through cut. Support a large sheet on both sides of the saw.",
    ),
    Caution(
        "cutting",
        "Small pieces",
        "Do not hold a piece shorter than a hand's width against fence or blade: cut it from a "
        "longer piece, use a sled and push block, or cut it by hand.",
    ),
    Caution(
        "cutting",
        "Eyes, ears, lungs",
        "Glasses, ear protection and a fitted dust mask, for the one who holds the sheet too.",
    ),
    Caution(
        "building",
        "Screws into edges",
        "Drill pilot holes. Plywood splits along its edge, and a screw that wanders comes out of the "
        "face: stop and reset it rather than force it.",
    ),
    Caution(
        "building",
        "Lifting",
        "Set the cart on its casters before the vacuum goes in, and get help with full sheets.",
    ),
    Caution(
        "moving",
        "Tipping",
        "Push low and slowly, never pull by the hose. Lift the front over cords and thresholds, and "
        "empty a full bucket before you move it far. Lock the casters before you work.",
    ),
    Caution(
        "using",
        "Dust in the lungs",
        "Suction at the tool lowers the dust and does not end it. Fine wood dust can cause asthma "
        "and cancer: wear a fitted mask while sanding, routing and emptying, air the room, and "
        "keep others out of it.",
    ),
    Caution(
        "using",
        "Sparks and embers",
        "Never vacuum anything that glows or smokes, and never grind metal into wood dust. A nail or "
        "a blunt blade makes embers that smoulder for hours in a bucket: look before you leave.",
    ),
    Caution(
        "using",
        "Static",
        "Dry dust in plastic hose charges it. You may feel shocks; a grounded wire along the hose, "
        "tied to the tool's or the vacuum's ground, drains them. Do not let a shock startle you "
        "beside a blade.",
    ),
    Caution(
        "using",
        "A blocked hose",
        "When a hose blocks, the bucket feels the vacuum's whole suction and can fold in. Switch off "
        "when the sound rises, and do not stand over the bucket.",
    ),
    Caution(
        "emptying",
        "The dustiest minute",
        "Empty outdoors with a mask on, gently, downwind. Knock and wash filters outdoors, never "
        "with compressed air in the shop.",
    ),
    Caution(
        "emptying",
        "Oily rags and finish dust",
        "Oily rags and dust of fresh finish heat up by themselves. Keep them out of the bucket, "
        "in a closed metal can or spread out to dry.",
    ),
    Caution(
        "emptying",
        "Do not store dust",
        "Wood dust burns, and thrown into the air it can explode near a flame. Empty the bucket when "
        "the day ends; no heater, pilot flame or smoking near it.",
    ),
    Caution(
        "power",
        "Circuits and cords",
        "One heavy cord, rolled out fully, no chain of power strips. A tool and a vacuum together can "
        "overload a circuit. Local codes decide; new circuits are a licensed electrician's work.",
    ),
    Caution(
        "power",
        "Before you reach in",
        "Pull the plug before you clear a port, change a hose at a blade or open the vacuum.",
    ),
)


def cautions_for(*works: Work) -> list[Caution]:
    """The cautions of these kinds of work, in order."""
    return [c for c in CAUTIONS if c.work in works]
