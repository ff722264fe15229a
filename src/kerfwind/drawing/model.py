"""A drawing as data: what is drawn and measured, not where its text will stand.

Coordinates are real-world metres, x to the right and y up (``Drawing.unit_m`` says so when
they are something else: a chart is drawn in millimetres of paper). Lines are styled by
what they mean; the renderers give each meaning its weight, dashes and grey.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal, TypeAlias

Point: TypeAlias = tuple[float, float]

LineMeaning = Literal[
    "outline",  # what is seen, outer contour
    "edge",  # what is seen, inner edge
    "hidden",  # behind something
    "centre",  # centre and symmetry lines
    "cut",  # where the saw goes
    "waste",  # border of what is thrown away
    "new",  # the parts of this step
    "old",  # parts already in place
    "curve",  # the main curve of a chart
    "second",  # other curves of a chart
    "axis",
    "grid",
    "frame",  # where a picture is cut off
    "measure",  # dimension, extension and leader lines
]
Hatch = Literal["none", "waste", "offcut", "section", "band"]
Weight = Literal["Regular", "Semibold", "Bold", "It"]
Size = Literal["small", "normal", "large"]
Side = Literal["above", "below", "left", "right"]
Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True)
class Polyline:
    """Straight pieces through ``points``."""

    points: tuple[Point, ...]
    line: LineMeaning = "outline"


@dataclass(frozen=True)
class Polygon:
    """A closed outline with holes; ``grey`` is 1 for white, 0 for black, None for no fill."""

    points: tuple[Point, ...]
    line: LineMeaning | None = "outline"
    grey: float | None = None
    hatch: Hatch = "none"
    holes: tuple[tuple[Point, ...], ...] = ()


@dataclass(frozen=True)
class Circle:
    """A full circle."""

    centre: Point
    radius: float
    line: LineMeaning | None = "outline"
    grey: float | None = None


@dataclass(frozen=True)
class Arc:
    """Part of a circle, counter-clockwise from ``start_rad`` to ``end_rad``."""

    centre: Point
    radius: float
    start_rad: float
    end_rad: float
    line: LineMeaning = "outline"


@dataclass(frozen=True)
class Dimension:
    """The distance between two points, measured along x, along y or along their line.

    ``side`` is where its line should stand: below or above (along x), left or right (along
    y); for ``aligned``, ``left`` or ``right`` of the way from ``start`` to ``end``. ``text``
    replaces the measured length.
    """

    start: Point
    end: Point
    along: Literal["x", "y", "aligned"] = "x"
    side: Side = "below"
    text: str | None = None


@dataclass(frozen=True)
class Ordinates:
    """Distances of many points from one edge, written in a row at a side of the outline.

    ``datum`` is the x (or y) they are measured from; it is written as 0.
    """

    points: tuple[Point, ...]
    datum: float = 0.0
    along: Literal["x", "y"] = "x"
    side: Side = "below"


@dataclass(frozen=True)
class RoundDimension:
    """The diameter (or radius) of a circle, on a leader. ``note`` follows the size."""

    centre: Point
    radius: float
    kind: Literal["diameter", "radius"] = "diameter"
    text: str | None = None
    note: str = ""


@dataclass(frozen=True)
class Label:
    """Text at a place.

    Attributes
    ----------
    at
        What it names: the middle of the text, or the tip of its leader.
    place
        ``here``: on the spot, moved only when it must be. ``leader``: beside it,
        with a line to the spot.
    room
        Width and height, in drawing units and centred on ``at``, that ``here`` text may use;
        text that does not fit is made small, turned, or taken outside on a leader.
    shorter
        Briefer texts to use where the whole does not fit its room.
    avoid
        Lower left and upper right corners of places within the room to keep out of (holes).
    hug
        The side of its room the text should keep to (left and right are read upwards).
    anchor
        Which end of the text stands at ``at`` when there is no room given.
    lead
        Where there is no room at all, a leader may take the text outside; without it the
        briefest text stands in the middle, or none where there is no briefer one.
    """

    at: Point
    text: str
    place: Literal["here", "leader"] = "here"
    room: tuple[float, float] | None = None
    size: Size = "normal"
    weight: Weight = "Regular"
    anchor: Anchor = "middle"
    turned: bool = False
    hug: Side | None = None
    shorter: tuple[str, ...] = ()
    lead: bool = True
    avoid: tuple[tuple[Point, Point], ...] = ()


@dataclass(frozen=True)
class GrainArrow:
    """A two-headed arrow along the grain, within ``room`` about ``at``, out of ``avoid``."""

    at: Point
    angle_rad: float
    room: tuple[float, float]
    avoid: tuple[tuple[Point, Point], ...] = ()


@dataclass(frozen=True)
class Balloon:
    """A number in a circle; ``upon`` lets it slide along a line, else it has a leader.

    Without ``lead`` it is left out where its line has no room for it.
    """

    at: Point
    text: str
    upon: tuple[Point, Point] | None = None
    square: bool = False
    lead: bool = True


Item: TypeAlias = (
    Polyline
    | Polygon
    | Circle
    | Arc
    | Dimension
    | Ordinates
    | RoundDimension
    | Label
    | GrainArrow
    | Balloon
)


@dataclass(frozen=True)
class Drawing:
    """Items in the order they are painted.

    Attributes
    ----------
    title
        Names the drawing for people and for screen readers.
    unit_m
        Metres in one drawing unit.
    scaled
        ``scale``: printed at a plain scale such as 1:10, which is stated. ``free``: as large
        as it fits, and no scale stated (a perspective). ``paper``: the units are already
        those of the paper (a chart).
    to_cut
        Sizes are set out by it: they are written as finely as they are cut.
    """

    title: str
    items: tuple[Item, ...]
    unit_m: float = 1.0
    scaled: Literal["scale", "free", "paper"] = "scale"
    notes: tuple[str, ...] = field(default=())
    to_cut: bool = False


def rectangle(
    x: float,
    y: float,
    width: float,
    height: float,
    line: LineMeaning | None = "outline",
    grey: float | None = None,
    hatch: Hatch = "none",
) -> Polygon:
    """An upright rectangle by its lower left corner."""
    corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
    return Polygon(corners, line, grey, hatch)
