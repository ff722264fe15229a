"""A printed reducer between any two ends, as numbers; `mesh` makes the solid.

Seen in section, upstream end to the left:

      ______                      the mouth is chamfered, so that the part starts easily;
     |      \\___                  the grip takes the mating end; a lip stops what is
     | grip  lip \\_______         pushed in; the cone turns no steeper than 15°, which
    -|----------- cone --|- axis  is gentle to the air and prints without supports.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from ..facts import Fact, state
from ..quantity import Quantity
from ..shop import End
from ..sources import fact
from .made_fitting import MadeFitting

Points = tuple[tuple[float, float], ...]

#: To stand wherever a printed part is proposed (common practice, no source).
PRINT_CAUTIONS = (
    state("hookup.print.charge"),
    state("hookup.print.heat"),
    state("hookup.print.sparks"),
    state("hookup.print.layers"),
)

_CHAMFER_M = 0.0008
_LIP_M = 0.0012


@dataclass(frozen=True)
class PrintedEnd:
    """One end of a printed part [m]. ``mates`` is what it goes on; ``over``: that goes inside it."""

    mates: Fact
    mates_with: float
    over: bool
    inside: float
    outside: float
    grip: float


@dataclass(frozen=True)
class Reducer:
    """A printed reducer; lengths in metres, upstream end first.

    ``inner`` and ``outer`` are the section's two outlines as (along, radius), from the
    upstream mouth to the downstream one. ``time_s`` is an estimate within a factor of two.
    """

    first: PrintedEnd
    last: PrintedEnd
    wall: float
    allowance: float
    cone: float
    length: float
    bore: float
    inner: Points
    outer: Points
    volume_m3: float
    mass_kg: float
    material_price: float
    time_s: float

    @property
    def called(self) -> Fact:
        """What to say for it."""
        return as_fitting(self).called


def design(upstream: End, downstream: End, mates: tuple[Fact, Fact]) -> Reducer | None:
    """The reducer between two ends at their best values; None where none can be printed.

    A thread or lock cannot be met by a plain printed end, and ends beyond 15 to 160 mm
    do not hold or do not fit on a usual printer.
    """
    if upstream.joint != "plain" or downstream.joint != "plain":
        return None
    wall, allowance = fact("hookup.print_wall").value, fact("hookup.print_allowance").value
    ends = []
    for end, mate in zip((upstream, downstream), mates, strict=True):
        made = _end(end, mate, wall, allowance)
        if made is None:
            return None
        ends.append(made)
    first, last = ends
    through = (_throat(first), _throat(last))
    drop = abs(through[0] - through[1]) / 2
    half_angle = fact("hookup.cone_half_angle").value
    lips = _LIP_M * (first.over + last.over)
    cone = max(drop / math.tan(half_angle) + lips, _outer_run(first, last), 0.006)
    length = first.grip + cone + last.grip
    inner = _inner(first, last, length)
    outer = _outer(first, last, length)
    volume = revolved_m3(outer) - revolved_m3(inner)
    mass = volume * fact("hookup.filament_density").value
    return Reducer(
        first,
        last,
        wall,
        allowance,
        cone,
        length,
        min(2 * r for _, r in inner),
        inner,
        outer,
        volume,
        mass,
        mass * fact("hookup.filament_price").value,
        volume / fact("hookup.print_rate").value,
    )


def _end(end: End, mate: Fact, wall: float, allowance: float) -> PrintedEnd | None:
    over = end.goes != "over" and end.material == "rigid"
    grip = min(max(end.length.best_si, 0.015), fact("hookup.print_grip").value)
    if over:
        size = end.outside.best_si
        inside = size + allowance
        outside = inside + 2 * wall
    elif end.goes == "in" and end.material == "rubber":
        return None
    else:
        size = end.inside.best_si
        # A rubber cuff is stretched a little, so that it grips; a rigid one needs play.
        outside = size * 1.01 if end.material == "rubber" else size - allowance
        inside = outside - 2 * wall
    if inside < 0.015 or outside > 0.160:
        return None
    return PrintedEnd(mate, size, over, inside, outside, grip)


def _throat(end: PrintedEnd) -> float:
    """Bore behind the grip: narrowed by the lip where something is pushed in."""
    return end.inside - 2 * _LIP_M if end.over else end.inside


def _outer_run(first: PrintedEnd, last: PrintedEnd) -> float:
    drop = abs(first.outside - last.outside) / 2
    return drop / math.tan(fact("hookup.print_overhang").value)


def _inner(first: PrintedEnd, last: PrintedEnd, length: float) -> Points:
    left = _inner_half(first)
    right = tuple((length - x, r) for x, r in reversed(_inner_half(last)))
    return (*left, *right)


def _inner_half(end: PrintedEnd) -> Points:
    radius = end.inside / 2
    if not end.over:
        return ((0.0, radius), (end.grip, radius))
    # The lip's far side lies in the cone; its near side is a 45° ledge.
    return (
        (0.0, radius + _CHAMFER_M),
        (_CHAMFER_M, radius),
        (end.grip, radius),
        (end.grip + _LIP_M, radius - _LIP_M),
    )


def _outer(first: PrintedEnd, last: PrintedEnd, length: float) -> Points:
    left = _outer_half(first)
    right = tuple((length - x, r) for x, r in reversed(_outer_half(last)))
    return (*left, *right)


def _outer_half(end: PrintedEnd) -> Points:
    radius = end.outside / 2
    if end.over:
        return ((0.0, radius), (end.grip, radius))
    return ((0.0, radius - _CHAMFER_M), (_CHAMFER_M, radius), (end.grip, radius))


def revolved_m3(outline: Points) -> float:
    """Volume [m³] inside an outline turned about the axis: a sum of cone frustums.

    Each is π h (r1² + r1 r2 + r2²) / 3.
    """
    pairs = zip(outline, outline[1:], strict=False)
    return sum(
        math.pi * (x2 - x1) * (r1 * r1 + r1 * r2 + r2 * r2) / 3 for (x1, r1), (x2, r2) in pairs
    )


def as_fitting(reducer: Reducer) -> MadeFitting:
    """The reducer as a fitting of the shop; ``end_a`` is the upstream end."""
    name = "printed_reducer"
    path = f"printed[{name}]"

    def size(value: float, field: str) -> Quantity:
        return Quantity(
            value,
            value,
            value,
            "length",
            text=f"{value * 1e3:.1f} mm",
            path=f"{path}.{field}",
            standing="chosen",
        )

    def end(made: PrintedEnd, side: str) -> End:
        goes: Literal["over", "in"] = "over" if made.over else "in"
        return End.model_construct(
            nominal=None,
            inside=size(made.inside, f"{side}.inside"),
            outside=size(made.outside, f"{side}.outside"),
            length=size(made.grip, f"{side}.length"),
            taper=Quantity(
                0.0, 0.0, 0.0, "angle", text="0 °", path=f"{path}.{side}.taper", standing="chosen"
            ),
            material="rigid",
            joint="plain",
            goes=goes,
        )

    return MadeFitting.model_construct(
        name=name,
        how="print",
        first=reducer.first.mates,
        last=reducer.last.mates,
        kind="reducer",
        end_a=end(reducer.first, "end_a"),
        end_b=end(reducer.last, "end_b"),
        bore=size(reducer.bore, "bore"),
        length=size(reducer.length, "length"),
        turn=Quantity(0.0, 0.0, 0.0, "angle", text="0 °", path=f"{path}.turn", standing="chosen"),
        count=1,
    )
