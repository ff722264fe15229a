"""From a drawing and a piece of paper to strokes and words in millimetres.

The largest plain scale is taken at which the drawing with all its dimensions and labels
fits. Dimensions go first, in tiers outside the outline; then what must stand on a spot;
then what can be led away.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from kerfwind.quantity import UnitChoice, show_fraction_in

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
from .placed import Area, Bow, Placed, PlacedItem, Ring, Stroke, Words, extent, moved

#: One drawn length for so many real ones; the usual ones of either ruler.
_METRIC = (0.5, 1, 2, 2.5, 4, 5, 8, 10, 12.5, 15, 20, 25, 30, 40, 50, 75, 100, 200)
_IMPERIAL = (0.5, 1, 2, 3, 4, 6, 8, 10, 12, 16, 20, 24, 32, 48, 64, 96, 192)
_MARGIN = 1.0  # kept clear at the paper's edges [mm]
_FOOT = 5.0  # height of the line that states scale and units [mm]


@dataclass(frozen=True)
class Paper:
    """The space a drawing may use [mm]."""

    width: float
    height: float


def length_text(units: UnitChoice, denominator: int = 16) -> Callable[[float], str]:
    """How a length in metres is written on a dimension; the unit is stated once below."""

    def inches(length_m: float) -> str:
        return show_fraction_in(length_m, denominator).removesuffix(" in")

    def millimetres(length_m: float) -> str:
        value = length_m * 1000
        text = f"{value:.0f}" if abs(value) >= 20 else f"{value:.1f}"
        return text.removesuffix(".0")

    if units == "in":
        return inches
    if units == "mm":
        return millimetres
    return lambda m: f"{inches(m)} ({millimetres(m)})"


_SIDES: tuple[Side, ...] = ("below", "left", "above", "right")
_UNIT_WORDS = {"in": "inches", "mm": "mm", "both": "inches (mm)"}


@dataclass
class _Work:
    items: list[PlacedItem]
    measures: list[tuple[Dimension, Point, str]]
    bounds: tuple[float, float, float, float]


def layout(
    drawing: Drawing,
    paper: Paper,
    units: UnitChoice = "in",
    *,
    denominator: int = 16,
    footer: bool = True,
) -> Placed:
    """Set a drawing on paper.

    Parameters
    ----------
    paper
        The most it may use [mm]; the result is cut down to what it needs.
    units
        Of the dimension texts that are not given by the drawing.
    footer
        State the scale, the units and the drawing's notes in a line below.
    """
    return layout_together([[drawing]], paper, units, denominator=denominator, footer=footer)


def layout_together(
    rows: Sequence[Sequence[Drawing | None]],
    paper: Paper,
    units: UnitChoice = "in",
    *,
    title: str = "",
    denominator: int = 16,
    gap_mm: float = 9.0,
    footer: bool = True,
) -> Placed:
    """Set several views on one paper at one scale, their origins in line.

    Views in a column share the drawing's x = 0, views in a row share y = 0, as the
    three views of one thing must.
    """
    views = [d for row in rows for d in row if d is not None]
    if not views:
        raise ValueError("no drawing was given; give at least one")
    first = views[0]
    write = length_text(units, denominator)
    sizes = [_size(d) for d in views]
    guess = max(max(w / paper.width, h / paper.height) for w, h in sizes) or 1.0
    for k in _scales(first, guess, units):
        works = [[_work(d, k, write, paper) if d else None for d in row] for row in rows]
        items, measures, origin = _assemble(works, gap_mm)
        left, top, right, bottom = extent(items)
        state = _statement(views, k, units, first) if footer else ""
        foot = _FOOT if state else 0.0
        width, height = right - left + 2 * _MARGIN, bottom - top + 2 * _MARGIN + foot
        if width <= paper.width and height <= paper.height:
            break
    dx, dy = _MARGIN - left, _MARGIN - top
    placed = [moved(i, dx, dy) for i in items]
    if state:
        size = SIZES["small"]
        w, h = block_size(state, size, "It")
        width = max(width, w + 2 * _MARGIN)
        note = Canvas()
        note.text(state, (_MARGIN + w / 2, height - _MARGIN - h / 2), size=size, weight="It")
        placed += note.items
    return Placed(
        title or first.title,
        width,
        height,
        tuple(placed),
        k,
        first.unit_m,
        (origin[0] + dx, origin[1] + dy),
        _scale_words(k, first),
        tuple((d, (p[0] + dx, p[1] + dy), t) for d, p, t in measures),
    )


def _scales(drawing: Drawing, guess: float, units: UnitChoice) -> list[float]:
    """Millimetres of paper for one drawing unit, largest first."""
    if drawing.scaled == "paper":
        return [1.0]
    per_unit = drawing.unit_m * 1000
    if drawing.scaled == "free":
        return [1.0 / guess * 0.97**n for n in range(1, 60)]
    steps = _METRIC if units == "mm" else _IMPERIAL
    fitting = [per_unit / s for s in steps if per_unit / s <= 1.0 / guess]
    last = fitting[-1] if fitting else 1.0 / guess
    return [*fitting, *(last * 0.9**n for n in range(1, 40))]


def _scale_words(k: float, drawing: Drawing) -> str:
    if drawing.scaled != "scale":
        return ""
    ratio = drawing.unit_m * 1000 / k
    if ratio < 1:
        return f"{1 / ratio:.3g}:1"
    return f"1:{ratio:.3g}"


def _statement(views: Sequence[Drawing], k: float, units: UnitChoice, first: Drawing) -> str:
    parts = []
    if first.scaled == "scale":
        parts.append(f"Scale {_scale_words(k, first)}")
    if any(isinstance(i, Dimension | Ordinates | RoundDimension) for d in views for i in d.items):
        parts.append(f"sizes in {_UNIT_WORDS[units]}")
    parts += list(dict.fromkeys(n for d in views for n in d.notes))
    text = " · ".join(parts)
    return text[:1].upper() + text[1:]


def _size(drawing: Drawing) -> tuple[float, float]:
    points = [p for i in drawing.items for p in _points(i)]
    if not points:
        return (1e-9, 1e-9)
    a = np.asarray(points)
    w, h = a.max(axis=0) - a.min(axis=0)
    return (max(float(w), 1e-9), max(float(h), 1e-9))


def _points(item: Item) -> Sequence[Point]:
    if isinstance(item, Polyline | Polygon):
        return item.points
    if isinstance(item, Circle | Arc):
        (x, y), r = item.centre, item.radius
        return ((x - r, y - r), (x + r, y + r))
    return ()


def _work(drawing: Drawing, k: float, write: Callable[[float], str], paper: Paper) -> _Work:
    canvas = Canvas()

    def at(p: Point) -> Point:
        return (p[0] * k, -p[1] * k)

    for item in drawing.items:
        _geometry(canvas, item, at, k)
    geometry = extent(canvas.items)
    measures = _dimensions(canvas, drawing, at, write, geometry)
    left, top, right, bottom = extent(canvas.items)
    if right - left > paper.width or bottom - top > paper.height:
        # Too large already: labels would be placed for nothing.
        return _Work(canvas.items, measures, (left, top, right, bottom))
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
    items = canvas.finished()
    return _Work(items, measures, extent(items))


def _geometry(canvas: Canvas, item: Item, at: Callable[[Point], Point], k: float) -> None:
    if isinstance(item, Polyline):
        points = tuple(map(at, item.points))
        canvas.add(Stroke(points, item.line))
        if item.line != "grid":
            canvas.keep_clear_of(points)
    elif isinstance(item, Polygon):
        loops = tuple(tuple(map(at, loop)) for loop in (item.points, *item.holes))
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
        if item.along == "aligned" or item.side == "within":
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
        place = tiers.set_within if dimension.side == "within" else tiers.set_aligned
        found.append(place(canvas, dimension, text, at))
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
        canvas,
        centre,
        text,
        reach=reach,
        size=SIZES["normal"],
        radius=item.radius * k,
        arrow=True,
    )


def _assemble(
    works: list[list[_Work | None]], gap: float
) -> tuple[list[PlacedItem], list[tuple[Dimension, Point, str]], Point]:
    """All views in their columns and rows; also where the first view's origin went."""
    columns = max(len(row) for row in works)
    lefts, rights = [0.0] * columns, [0.0] * columns
    tops, bottoms = [0.0] * len(works), [0.0] * len(works)
    for r, row in enumerate(works):
        for c, work in enumerate(row):
            if work:
                left, top, right, bottom = work.bounds
                lefts[c], rights[c] = min(lefts[c], left), max(rights[c], right)
                tops[r], bottoms[r] = min(tops[r], top), max(bottoms[r], bottom)
    items: list[PlacedItem] = []
    measures: list[tuple[Dimension, Point, str]] = []
    origin: Point | None = None
    y = 0.0
    for r, row in enumerate(works):
        x = 0.0
        for c, work in enumerate(row):
            if work:
                dx, dy = x - lefts[c], y - tops[r]
                origin = origin or (dx, dy)
                items += [moved(i, dx, dy) for i in work.items]
                measures += [(d, (p[0] + dx, p[1] + dy), t) for d, p, t in work.measures]
            x += rights[c] - lefts[c] + gap
        y += bottoms[r] - tops[r] + gap
    return items, measures, origin or (0.0, 0.0)


__all__ = ["Paper", "Words", "layout", "layout_together", "length_text"]
