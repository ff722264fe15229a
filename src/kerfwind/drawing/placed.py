"""A drawing laid out on paper: strokes, areas and words in millimetres, y down."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

from .model import Anchor, Dimension, LineMeaning, Point, Weight
from .overlap import Floats, boxes_meet_boxes, boxes_meet_segments

PlacedLine: TypeAlias = LineMeaning | Literal["hatch"]


@dataclass(frozen=True)
class Stroke:
    """A line through ``points``."""

    points: tuple[Point, ...]
    line: PlacedLine
    closed: bool = False


@dataclass(frozen=True)
class Area:
    """A filled outline; further loops are holes."""

    loops: tuple[tuple[Point, ...], ...]
    grey: float


@dataclass(frozen=True)
class Ring:
    """A circle."""

    centre: Point
    radius: float
    line: PlacedLine | None
    grey: float | None = None


@dataclass(frozen=True)
class Bow:
    """Part of a circle, from ``start`` to ``end`` in degrees, clockwise as the eye sees it."""

    centre: Point
    radius: float
    start_deg: float
    end_deg: float
    line: PlacedLine


@dataclass(frozen=True)
class Head:
    """A filled arrow head: tip first."""

    points: tuple[Point, Point, Point]


@dataclass(frozen=True)
class Words:
    """One line of text; ``at`` lies on its baseline, ``turn_deg`` is counter-clockwise.

    ``box`` is centre x and y, half width, half height and turn in radians (y down).
    ``ground``: ``wash`` is a pale ground painted under it where it cannot help standing on
    lines; ``own`` means that it stands in a balloon.
    """

    at: Point
    text: str
    size: float
    weight: Weight
    anchor: Anchor
    turn_deg: float
    box: tuple[float, float, float, float, float]
    ground: Literal["none", "wash", "own"] = "none"


PlacedItem: TypeAlias = Stroke | Area | Ring | Bow | Head | Words


@dataclass(frozen=True)
class Placed:
    """A drawing on its piece of paper.

    Attributes
    ----------
    width, height
        Of the paper used [mm].
    mm_per_unit, origin
        A point (x, y) of the drawing stands at ``origin[0] + x * mm_per_unit`` and
        ``origin[1] - y * mm_per_unit``.
    scale
        How it is said on the drawing, such as ``1:10``; empty when there is none.
    measures
        Each dimension with the place of its line and its text, for other renderers.
    """

    title: str
    width: float
    height: float
    items: tuple[PlacedItem, ...]
    mm_per_unit: float
    unit_m: float
    origin: Point
    scale: str
    measures: tuple[tuple[Dimension, Point, str], ...] = ()

    @property
    def words(self) -> list[Words]:
        """All its lines of text."""
        return [i for i in self.items if isinstance(i, Words)]


def moved(item: PlacedItem, dx: float, dy: float) -> PlacedItem:
    """The item shifted on the paper."""

    def shift(p: Point) -> Point:
        return (p[0] + dx, p[1] + dy)

    if isinstance(item, Stroke):
        points = tuple([(x + dx, y + dy) for x, y in item.points])
        return Stroke(points, item.line, item.closed)
    if isinstance(item, Area):
        loops = tuple([tuple([(x + dx, y + dy) for x, y in loop]) for loop in item.loops])
        return Area(loops, item.grey)
    if isinstance(item, Ring | Bow):
        return replace(item, centre=shift(item.centre))
    if isinstance(item, Head):
        a, b, c = map(shift, item.points)
        return replace(item, points=(a, b, c))
    x, y, *rest = item.box
    return replace(item, at=shift(item.at), box=(x + dx, y + dy, rest[0], rest[1], rest[2]))


def zoomed(placed: Placed, by: float) -> Placed:
    """Everything on the paper, text too, made larger or smaller; it has no scale then."""

    def size(p: Point) -> Point:
        return (p[0] * by, p[1] * by)

    items: list[PlacedItem] = []
    for item in placed.items:
        if isinstance(item, Stroke):
            items.append(replace(item, points=tuple(map(size, item.points))))
        elif isinstance(item, Area):
            items.append(Area(tuple(tuple(map(size, loop)) for loop in item.loops), item.grey))
        elif isinstance(item, Ring | Bow):
            items.append(replace(item, centre=size(item.centre), radius=item.radius * by))
        elif isinstance(item, Head):
            a, b, c = map(size, item.points)
            items.append(Head((a, b, c)))
        else:
            x, y, w, h, turn = item.box
            box = (x * by, y * by, w * by, h * by, turn)
            items.append(replace(item, at=size(item.at), size=item.size * by, box=box))
    return replace(
        placed,
        width=placed.width * by,
        height=placed.height * by,
        items=tuple(items),
        mm_per_unit=placed.mm_per_unit * by,
        origin=size(placed.origin),
        scale="",
        measures=tuple((d, size(p), t) for d, p, t in placed.measures),
    )


def extent(items: Sequence[PlacedItem]) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of everything [mm]."""
    points: list[Point] = []
    for item in items:
        if isinstance(item, Stroke | Head):
            points.extend(item.points)
        elif isinstance(item, Area):
            points.extend(item.loops[0])
        elif isinstance(item, Ring | Bow):
            (x, y), r = item.centre, item.radius
            points.extend(((x - r, y - r), (x + r, y + r)))
        else:
            points.extend(box_corners(item.box))
    if not points:
        return (0.0, 0.0, 0.0, 0.0)
    a = np.asarray(points)
    (x0, y0), (x1, y1) = a.min(axis=0), a.max(axis=0)
    return (float(x0), float(y0), float(x1), float(y1))


def box_corners(box: tuple[float, float, float, float, float]) -> list[Point]:
    """The four corners of a text box."""
    x, y, hw, hh, turn = box
    c, s = float(np.cos(turn)), float(np.sin(turn))
    return [
        (x + a * hw * c - b * hh * s, y + a * hw * s + b * hh * c)
        for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    ]


def _segments(items: Sequence[PlacedItem]) -> tuple[Floats, list[str]]:
    rows: list[tuple[float, float, float, float]] = []
    names: list[str] = []
    for item in items:
        if isinstance(item, Ring) and item.line:
            t = np.linspace(0, 2 * np.pi, 25)
            (x, y), r = item.centre, item.radius
            loop: list[Point] = [
                (float(x + r * a), float(y + r * b))
                for a, b in zip(np.cos(t), np.sin(t), strict=True)
            ]
            line: str = item.line
        elif isinstance(item, Stroke) and item.line not in ("hatch", "grid"):
            loop = [*item.points, item.points[0]] if item.closed else list(item.points)
            line = item.line
        else:
            continue
        for p, q in zip(loop[:-1], loop[1:], strict=True):
            rows.append((*p, *q))
            names.append(line)
    return np.asarray(rows, dtype=float).reshape(-1, 4), names


def overlaps(placed: Placed, slack_mm: float = 0.1) -> list[tuple[str, str, str]]:
    """Text that meets other text, a line (hatching and grids aside) or the paper's edge.

    Returns
    -------
    list
        Kind (``text``, ``line`` or ``edge``), the text, and what it meets; empty
        when the drawing is clean. Overlap by less than ``slack_mm`` is not counted.
    """
    words = placed.words
    if not words:
        return []
    boxes: NDArray[np.float64] = np.asarray([w.box for w in words], dtype=float)
    boxes[:, 2:4] = np.maximum(boxes[:, 2:4] - slack_mm / 2, 0.01)
    found: list[tuple[str, str, str]] = []
    hits = np.triu(boxes_meet_boxes(boxes, boxes), 1)
    found += [("text", words[i].text, words[j].text) for i, j in np.argwhere(hits)]
    segments, names = _segments(placed.items)
    if len(segments):
        crossed = boxes_meet_segments(boxes, segments)
        crossed &= np.asarray([[w.ground != "own"] for w in words])
        found += [("line", words[i].text, names[j]) for i, j in np.argwhere(crossed)]
    for word in words:
        xs, ys = zip(*box_corners(word.box), strict=True)
        if (
            min(xs) < -slack_mm
            or min(ys) < -slack_mm
            or max(xs) > placed.width + slack_mm
            or max(ys) > placed.height + slack_mm
        ):
            found.append(("edge", word.text, "paper"))
    return found
