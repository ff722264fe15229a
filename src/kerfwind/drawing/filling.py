"""Filling the paper at one scale: geometry, dimensions, labels, in that order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from . import labelling, ordinates, tiers
from .canvas import SIZES, Canvas, block_size
from .hatching import hatch_lines
from .model import (
    Arc,
    Balloon,
    Circle,
    Dimension,
    Drawing,
    GrainArrow,
    Item,
    Label,
    Ordinates,
    Point,
    Polygon,
    Polyline,
    RoundDimension,
    Side,
)
from .placed import Area, Bow, PlacedItem, Ring, Stroke, extent

_SIDES: tuple[Side, ...] = ("below", "left", "above", "right")


@dataclass
class Filled:
    """A drawing in millimetres about its own origin, y down; ``middle`` is x of its outline's."""

    items: list[PlacedItem]
    measures: list[tuple[Dimension, Point, str]]
    bounds: tuple[float, float, float, float]
    middle: float
    whole: bool = True


def fill(
    drawing: Drawing, k: float, write: Callable[[float], str], most: tuple[float, float]
) -> Filled:
    canvas = Canvas()

    def at(p: Point) -> Point:
        return (p[0] * k, -p[1] * k)

    for item in drawing.items:
        _geometry(canvas, item, at, k)
    drawn = len(canvas.items)
    geometry = extent(canvas.items)
    middle = (geometry[0] + geometry[2]) / 2
    measures = _dimensions(canvas, drawing, at, write, geometry)
    left, top, right, bottom = _wider(geometry, canvas.items[drawn:])
    if right - left > most[0] or bottom - top > most[1]:
        # Too large already: labels would be placed for nothing.
        return Filled(canvas.items, measures, (left, top, right, bottom), middle, whole=False)
    reach = max(right - left, bottom - top) + 60.0
    labels = [i for i in drawing.items if isinstance(i, Label)]
    for label in labels:
        if label.place == "here" and label.room is None:
            labelling.place_label(canvas, label, at(label.at), k, reach)
    roomy = [i for i in labels if i.place == "here" and i.room is not None]
    for label in sorted(roomy, key=lambda i: i.room[0] * i.room[1] if i.room else 0.0):
        labelling.place_label(canvas, label, at(label.at), k, reach)
    balloons = [i for i in drawing.items if isinstance(i, Balloon)]
    for balloon in balloons:
        if balloon.upon:
            a, b = balloon.upon
            labelling.place_balloon(canvas, balloon, at(balloon.at), (at(a), at(b)), reach)
    for item in drawing.items:
        if isinstance(item, GrainArrow):
            labelling.place_grain(canvas, item, at(item.at), k)
    for item in drawing.items:
        if isinstance(item, RoundDimension):
            _round(canvas, item, at(item.centre), k, write, drawing.unit_m, reach)
        elif isinstance(item, Label) and item.place == "leader":
            labelling.place_label(canvas, item, at(item.at), k, reach)
        elif isinstance(item, Balloon) and not item.upon:
            labelling.place_balloon(canvas, item, at(item.at), None, reach)
    bounds = _wider(geometry, canvas.items[drawn:])
    return Filled(canvas.finished(), measures, bounds, middle)


def _wider(
    bounds: tuple[float, float, float, float], items: list[PlacedItem]
) -> tuple[float, float, float, float]:
    """The bounds widened to hold further items."""
    if not items:
        return bounds
    x0, y0, x1, y1 = extent(items)
    return (min(bounds[0], x0), min(bounds[1], y0), max(bounds[2], x1), max(bounds[3], y1))


def add_caption(work: Filled, title: str) -> None:
    bottom = work.bounds[3]
    canvas = Canvas()
    _, height = block_size(title, SIZES["normal"], "Semibold")
    at = (work.middle, bottom + 2.0 + height / 2)
    canvas.text(title, at, size=SIZES["normal"], weight="Semibold")
    work.items += canvas.items
    work.bounds = extent(work.items)


def _geometry(canvas: Canvas, item: Item, at: Callable[[Point], Point], k: float) -> None:
    if isinstance(item, Polyline):
        points = tuple([(x * k, -y * k) for x, y in item.points])
        canvas.add(Stroke(points, item.line))
        if item.line != "grid":
            canvas.keep_clear_of(points)
    elif isinstance(item, Polygon):
        loops = tuple(
            [tuple([(x * k, -y * k) for x, y in loop]) for loop in (item.points, *item.holes)]
        )
        if item.grey is not None:
            canvas.add(Area(loops, item.grey))
        canvas.hatch(hatch_lines(loops, item.hatch))
        if item.line:
            for loop in loops:
                canvas.add(Stroke(loop, item.line, closed=True))
                canvas.keep_clear_of(loop, closed=True)
    elif isinstance(item, Circle):
        centre, r = at(item.centre), item.radius * k
        canvas.add(Ring(centre, r, item.line, item.grey))
        if item.line:
            canvas.keep_clear_of(_ring(centre, r), closed=True)
    elif isinstance(item, Arc):
        centre, r = at(item.centre), item.radius * k
        end = item.end_rad if item.end_rad > item.start_rad else item.end_rad + 2 * np.pi
        canvas.add(
            Bow(centre, r, -float(np.degrees(end)), -float(np.degrees(item.start_rad)), item.line)
        )
        t = np.linspace(item.start_rad, end, 17)
        canvas.keep_clear_of(
            [(centre[0] + r * float(np.cos(a)), centre[1] - r * float(np.sin(a))) for a in t]
        )


def _ring(centre: Point, r: float) -> list[Point]:
    t = np.linspace(0, 2 * np.pi, 24, endpoint=False)
    return [(centre[0] + r * float(np.cos(a)), centre[1] + r * float(np.sin(a))) for a in t]


def _dimensions(
    canvas: Canvas,
    drawing: Drawing,
    at: Callable[[Point], Point],
    write: Callable[[float], str],
    geometry: tuple[float, float, float, float],
) -> list[tuple[Dimension, Point, str]]:
    found: list[tuple[Dimension, Point, str]] = []
    by_side: dict[Side, list[tuple[Dimension, str]]] = {}
    aligned: list[tuple[Dimension, str]] = []
    for item in drawing.items:
        if not isinstance(item, Dimension):
            continue
        text = item.text if item.text is not None else write(_length(item) * drawing.unit_m)
        if item.along == "aligned":
            aligned.append((item, text))
        else:
            by_side.setdefault(_proper_side(item), []).append((item, text))
    ends = [at(p) for sided in by_side.values() for d, _ in sided for p in (d.start, d.end)]
    if ends:
        a = np.asarray([*ends, geometry[:2], geometry[2:]])
        (x0, y0), (x1, y1) = a.min(axis=0), a.max(axis=0)
        geometry = (float(x0), float(y0), float(x1), float(y1))
    for side in _SIDES:
        frame = tiers.Frame(side, geometry)
        rows = [i for i in drawing.items if isinstance(i, Ordinates) and i.side == side]
        for row in rows:
            reach = ordinates.set_ordinates(canvas, frame, row, at, write, drawing.unit_m)
            frame.edge += reach
        spans = [
            tiers.span_of(d, text, frame, at(d.start), at(d.end))
            for d, text in by_side.get(side, [])
        ]
        found += tiers.set_side(canvas, frame, spans)
    for dimension, text in aligned:
        found.append(tiers.set_aligned(canvas, dimension, text, at))
    return found


def _length(d: Dimension) -> float:
    dx, dy = d.end[0] - d.start[0], d.end[1] - d.start[1]
    if d.along == "aligned":
        return float(np.hypot(dx, dy))
    return abs(dx) if d.along == "x" else abs(dy)


def _proper_side(d: Dimension) -> Side:
    if d.along == "x":
        return "above" if d.side == "above" else "below"
    return "right" if d.side == "right" else "left"


def _round(
    canvas: Canvas,
    item: RoundDimension,
    centre: Point,
    k: float,
    write: Callable[[float], str],
    unit_m: float,
    reach: float,
) -> None:
    if item.text is not None:
        text = item.text
    elif item.kind == "diameter":
        text = f"Ø {write(2 * item.radius * unit_m)}"
    else:
        text = f"R {write(item.radius * unit_m)}"
    if item.note:
        text = f"{text} {item.note}"
    labelling.place_with_leader(
        canvas, centre, text, reach=reach, size=SIZES["normal"], radius=item.radius * k, arrow=True
    )
