"""What is made of plywood for a tool without a port: a bored plate, or an open box.

   plate                 hood box, cut through
┌───────────┐           ┌────────────┐
│    ___    │           │            \\_   45° or flatter from the face's
│   ( o )   │   face →  │              ]] hose    edge to the hole's rim
│    ‾‾‾    │           │            /‾
└───────────┘           └────────────┘
"""

from __future__ import annotations

import math
from dataclasses import replace

from ..shop import End, Tool
from ..sources import fact
from .model import Plate

_IN = 0.0254


def bored_m(end: End, metric: bool) -> float:
    """Diameter of the hole [m] that takes an end: the next mark at or over its outside.

    Marks are 1/32 in or 1 mm apart, so that the play is below the millimetre up to which a
    push fit stays on.
    """
    return _up(end.outside.best_si, 0.001 if metric else _IN / 32)


def designed(raw: Plate, tool: Tool, end: End, metric: bool) -> Plate:
    """A plate or box with all its sizes, for the end that goes into it.

    A face too narrow for hole and margins is made larger, never the margin smaller.
    """
    hole = bored_m(end, metric)
    margin = fact("hookup.bore_margin").value
    least = hole + 2 * margin
    up = 0.001 if metric else _IN / 16
    asked = tool.opening
    kind = tool.made or "plate"
    sides = (asked.length.best_si, asked.width.best_si) if asked else None
    if kind == "plate" or sides is None:
        land = fact("hookup.plate_land").value
        whole = sides or (0.0, 0.0)
        made = [_up(max(side + 2 * land if side else 0.0, least), up) for side in whole]
        return replace(raw, hole_m=hole, opening_m=sides, face_m=(made[0], made[1]))
    bored = tool.bored
    length, width = (_up(side, up) for side in sides)
    if bored == "back":
        length, width = (_up(max(side, least), up) for side in (length, width))
        depth = max((max(length, width) - hole) / 2, fact("hookup.box_depth").value)
    else:
        # The hose comes in at the middle of a long side: the far side is the way to spread over.
        length = _up(max(length, least), up)
        depth = max(least, (length - hole) / 2)
    return replace(
        raw,
        kind=kind,
        hole_m=hole,
        opening_m=sides,
        face_m=(length, width),
        depth_m=_up(depth, up),
        bored=bored,
    )


def _up(value_m: float, step_m: float) -> float:
    return math.ceil(value_m / step_m - 1e-6) * step_m


def mouth(plate: Plate, mate: End) -> End:
    """The bored hole as an end that ``mate`` goes into, air meeting ``mate``'s own bore."""
    at = mate.outside

    def size(value: float) -> object:
        return replace(
            at,
            best_si=value,
            low_si=value,
            high_si=value,
            shape="exact",
            text=f"{value * 1e3:.1f} mm",
            path="",
            standing="chosen",
        )

    straight = replace(
        at,
        best_si=0.0,
        low_si=0.0,
        high_si=0.0,
        shape="exact",
        text="0 °",
        path="",
        standing="chosen",
        dimension_name="angle",
    )
    around = plate.hole_m + 2 * fact("hookup.bore_margin").value
    return mate.model_copy(
        update={
            "inside": size(plate.hole_m),
            "outside": size(around),
            "length": size(fact("hookup.plate_least").value),
            "material": "rigid",
            "joint": "plain",
            "goes": "over",
            "taper": straight,
        }
    )
