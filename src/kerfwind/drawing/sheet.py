"""One sheet of plywood with its panels, cuts and marks, to be read in a dim garage."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from kerfwind.cutting import CutStep, Mark, Placed, Rect, SawCut, SheetNest
from kerfwind.quantity import UnitChoice

from .layout import length_text
from .model import (
    Balloon,
    Circle,
    Dimension,
    Drawing,
    GrainArrow,
    Hatch,
    Item,
    Label,
    LineMeaning,
    Point,
    Polygon,
    Polyline,
    RoundDimension,
    rectangle,
)

Write = Callable[[float], str]

#: Panels narrower than this carry their name and sizes in one line [m].
_STRIP_M = 0.11


def sheet_drawing(
    sheet: SheetNest,
    steps: Sequence[CutStep] = (),
    *,
    kerf_m: float = 0.0,
    units: UnitChoice = "in",
    denominator: int = 16,
    marks: bool = True,
) -> Drawing:
    """A sheet with its panels named and sized, waste hatched, cuts numbered.

    Parameters
    ----------
    steps
        The order of cuts; those of this sheet are drawn in the middle of their kerf, each
        with its number at both ends.
    kerf_m
        Width of the cut [m].
    marks
        Draw holes, chamfers and notches, with the dimensions to mark them out.
    """
    write = length_text(units, denominator)
    kind = sheet.kind
    length, width = kind.length_m, kind.width_m
    items: list[Item] = [rectangle(0, 0, length, width, None, 1.0)]
    items += [_rect(r, None, 0.93, "waste") for r in sheet.waste]
    items += [_rect(r, None, 1.0, "offcut") for r in sheet.offcuts]
    cuts = [c for step in steps for c in step.cuts if c.sheet == sheet.number]
    # Where the saw goes says where the panels end; two outlines and a kerf would only clog.
    edge: LineMeaning | None = None if cuts else "edge"
    items += [_rect(piece.rect, edge, 1.0) for piece in sheet.pieces]
    items += [_cut_line(cut, kerf_m) for cut in cuts]
    items.append(rectangle(0, 0, length, width, "outline"))
    for piece in sheet.pieces:
        if marks:
            for mark in piece.marks:
                items += _mark(piece, mark, write)
        items += _piece_notes(piece, write, kind.grain != "none")
    items += [_offcut_note(r, write) for r in sheet.offcuts]
    items += [_numbers(cut, kerf_m) for cut in cuts]
    items.append(Dimension((0, 0), (length, 0)))
    items.append(Dimension((0, 0), (0, width), "y", "left"))
    what = "Offcut" if kind.offcut else "Sheet"
    notes = ["numbers are cuts"] if cuts else []
    if kind.grain != "none":
        notes.append("arrows show the grain")
    return Drawing(f"{what} {sheet.number}", tuple(items), notes=tuple(notes))


def _rect(r: Rect, line: LineMeaning | None, grey: float, hatch: Hatch = "none") -> Polygon:
    return rectangle(r.x_m, r.y_m, r.length_m, r.width_m, line, grey, hatch)


def _piece_notes(piece: Placed, write: Write, grained: bool) -> list[Item]:
    x, y, w, h = piece.x_m, piece.y_m, piece.length_m, piece.width_m
    middle = (x + w / 2, y + h / 2)
    name = f"{piece.pencil} {piece.panel}"
    across, up = write(w), write(h)
    room = (w, h)
    if min(w, h) < _STRIP_M:
        sizes = f"{across} × {up}"
        brief = (f"{piece.pencil} · {sizes}", f"{piece.pencil}\n{sizes}", piece.pencil)
        text = f"{name} · {sizes}"
        return [Label(middle, text, room=room, weight="Semibold", shorter=brief)]
    holes = tuple(_hole_corners(piece, m) for m in piece.marks if m.kind == "hole")
    shorter = (piece.pencil,)
    items: list[Item] = [
        Label(middle, name, "here", room, "large", "Semibold", shorter=shorter, avoid=holes),
        Label(middle, across, room=room, hug="below"),
        Label(middle, up, room=room, hug="left"),
    ]
    if grained and piece.grain != "free":
        items.append(GrainArrow((middle[0], y + h * 0.4), 0.0, (w * 0.9, h * 0.7), holes))
    return items


def _hole_corners(piece: Placed, mark: Mark) -> tuple[Point, Point]:
    x, y = on_sheet(piece, mark.x_m, mark.y_m)
    r = mark.size_m / 2
    return ((x - r, y - r), (x + r, y + r))


def _offcut_note(r: Rect, write: Write) -> Label:
    middle = (r.x_m + r.length_m / 2, r.y_m + r.width_m / 2)
    text = f"offcut {write(r.length_m)} × {write(r.width_m)}"
    return Label(middle, text, room=(r.length_m, r.width_m), weight="It")


def _ends(cut: SawCut, kerf_m: float) -> tuple[Point, Point]:
    x0, y0, x1, y1 = cut.line_m
    shift = cut.waste_side * kerf_m / 2
    if cut.axis == "x":
        return (x0 + shift, y0), (x1 + shift, y1)
    return (x0, y0 + shift), (x1, y1 + shift)


def _cut_line(cut: SawCut, kerf_m: float) -> Polyline:
    return Polyline(_ends(cut, kerf_m), "cut")


def _numbers(cut: SawCut, kerf_m: float) -> Balloon:
    ends = _ends(cut, kerf_m)
    return Balloon(ends[0], str(cut.number), upon=ends)


def on_sheet(piece: Placed, x_m: float, y_m: float) -> Point:
    """Where a point of the panel lies on the sheet; a turned panel keeps its face up."""
    if piece.turned:
        return (piece.x_m + piece.length_m - y_m, piece.y_m + x_m)
    return (piece.x_m + x_m, piece.y_m + y_m)


def _mark(piece: Placed, mark: Mark, write: Write) -> list[Item]:
    if mark.kind == "hole":
        cx, cy = on_sheet(piece, mark.x_m, mark.y_m)
        r = mark.size_m / 2
        items: list[Item] = [Circle((cx, cy), r, "edge", 0.96)]
        items += centre_lines((cx, cy), r)
        items += [
            Dimension((piece.x_m, cy), (cx, cy), "x", "within"),
            Dimension((cx, piece.y_m), (cx, cy), "y", "within"),
            RoundDimension((cx, cy), r, note=mark.text),
        ]
        return items
    if mark.kind == "chamfer":
        return _chamfer(piece, mark, write)
    if mark.kind == "notch":
        corners = tuple(
            on_sheet(piece, x, y)
            for x, y in (
                (mark.x_m, mark.y_m),
                (mark.x_m + mark.size_m, mark.y_m),
                (mark.x_m + mark.size_m, mark.y_m + mark.depth_m),
                (mark.x_m, mark.y_m + mark.depth_m),
            )
        )
        xs, ys = zip(*corners, strict=True)
        x0, y0, x1, y1 = min(xs), min(ys), max(xs), max(ys)
        made: list[Item] = [Polygon(corners, "edge", 0.96)]
        made += [
            Dimension((x0, y1), (x1, y1), "x", "within"),
            Dimension((x1, y0), (x1, y1), "y", "within"),
        ]
        if x0 > piece.x_m + 1e-6:
            made.append(Dimension((piece.x_m, y0), (x0, y0), "x", "within"))
        if y0 > piece.y_m + 1e-6:
            made.append(Dimension((x0, piece.y_m), (x0, y0), "y", "within"))
        return made
    return [Label(on_sheet(piece, mark.x_m, mark.y_m), mark.text or "mark", "leader")]


def _chamfer(piece: Placed, mark: Mark, write: Write) -> list[Item]:
    own = (piece.width_m, piece.length_m) if piece.turned else (piece.length_m, piece.width_m)
    x, y, leg = mark.x_m, mark.y_m, mark.size_m
    sx = 1.0 if x < own[0] / 2 else -1.0
    sy = 1.0 if y < own[1] / 2 else -1.0
    corner = on_sheet(piece, x, y)
    a, b = on_sheet(piece, x + sx * leg, y), on_sheet(piece, x, y + sy * leg)
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    return [
        Polygon((corner, a, b), "edge", 0.93, "waste"),
        Label(middle, f"{write(leg)} × {write(leg)}", "leader", size="small"),
    ]


def centre_lines(centre: Point, radius: float, beyond: float = 0.12) -> list[Item]:
    """The cross through a circle's centre, reaching a little past it."""
    x, y = centre
    r = radius * (1 + beyond) if math.isfinite(radius) else 0.0
    return [
        Polyline(((x - r, y), (x + r, y)), "centre"),
        Polyline(((x, y - r), (x, y + r)), "centre"),
    ]
