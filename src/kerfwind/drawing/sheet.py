"""One sheet of plywood with its panels, cuts and marks, to be read in a dim garage."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from kerfwind.cutting import CutStep, Edge, Mark, Placed, Rect, SawCut, SheetNest
from kerfwind.facts import Name
from kerfwind.words import Voice

from .layout import cut_text
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
    rectangle,
)

Write = Callable[[float], str]
Box = tuple[float, float, float, float]

#: Panels narrower than this carry their name and sizes in one line [m].
_STRIP_M = 0.11
#: An empty stretch is broken out where that shortens the sheet by more than this share of it.
_WORTH_BREAKING = 0.15
#: What is left of a broken stretch, as a share of the sheet's length.
_STUB = 0.14
#: More cuts on a sheet are numbered in the table alone, more panels have their names alone:
#: nobody could read them, and places for them are looked for among all the others.
_MOST_NUMBERS = 100
_MOST_SIZES = 60
#: With more panels than this nothing is taken outside on a leader: they would be a thicket.
_FEW = 16
#: Up to so many cuts each has its number, on a leader where there is no room.
_FEW_CUTS = 50
_MOST_NAMES = 300
#: More pieces with cuts to come are named in the table alone.
_MOST_PARTS = 24
#: Width of the strip that shows an edge's banding [m].
_BAND_M = 0.008
#: Half the width of the break mark [m].
_BREAK_M = 0.008
#: Smaller holes are for screws [m], and sizes keep clear of holes from this one up.
_SCREW_M, _LARGE_M = 0.016, 0.08


def sheet_drawing(
    sheet: SheetNest,
    steps: Sequence[CutStep] = (),
    *,
    kerf_m: float = 0.0,
    voice: Voice,
    names: Mapping[str, str] | None = None,
    pieces: Sequence[tuple[str, Box]] = (),
    alike: bool = False,
) -> Drawing:
    """A sheet with its panels named and sized, waste hatched, cuts numbered.

    A long stretch with nothing in it is broken out, so that the rest is drawn larger; sizes
    are the true ones. Holes, notches and cut corners are made after the cuts, by the panel's
    own drawing, which has their sizes.

    Parameters
    ----------
    steps
        The order of cuts; those of this sheet are drawn in the middle of their kerf, each
        with its number at both ends.
    kerf_m
        Width of the cut [m].
    names
        What panels are called in words, where that is not their own name.
    pieces
        Names pencilled on pieces with cuts to come, and where these lie
        (x0, y0, x1, y1) [m].
    alike
        The drawing stands for several sheets, whose panels have numbers of their own.
    """
    write = cut_text(voice)
    kind = sheet.kind
    cuts = [c for step in steps for c in step.cuts if c.sheet == sheet.number]
    gap = _empty_stretch(sheet, cuts)
    sheet, cuts = _closed_up(sheet, cuts, gap)
    shown = pieces if gap is None and len(pieces) <= _MOST_PARTS else ()
    length, width = kind.length_m - (gap[1] - gap[0] if gap else 0.0), kind.width_m
    items: list[Item] = [rectangle(0, 0, length, width, None, 1.0)]
    items += [_rect(r, None, 0.93, "waste") for r in sheet.waste]
    items += [_rect(r, None, 1.0, "offcut") for r in sheet.offcuts]
    # Where the saw goes says where the panels end; two outlines and a kerf would only clog.
    edge: LineMeaning | None = None if cuts else "edge"
    items += [_rect(piece.rect, edge, 1.0) for piece in sheet.pieces]
    items += [_band(piece, edge) for piece in sheet.pieces for edge in piece.banded]
    items += [_cut_line(cut, kerf_m) for cut in cuts]
    items.append(rectangle(0, 0, length, width, "outline"))
    items += _break_mark(gap[0], width) if gap else []
    for piece in sheet.pieces:
        for mark in piece.marks:
            items += _mark(piece, mark, voice)
        if len(sheet.pieces) > _MOST_SIZES:
            items += [_name_alone(piece)] if len(sheet.pieces) <= _MOST_NAMES else []
        else:
            called = (names or {}).get(piece.panel, piece.panel)
            items += _piece_notes(piece, called, write, kind.grain != "none")
    items += [_offcut_note(r, write, gap, voice) for r in sheet.offcuts]
    items += [_part_name(name, box) for name, box in shown]
    numbered = len(cuts) <= _MOST_NUMBERS
    few = len(sheet.pieces) <= _FEW
    lead = len(cuts) <= _FEW_CUTS
    items += [_numbers(cut, kerf_m, lead=lead) for cut in cuts if numbered]
    if not few:
        items = [replace(i, lead=False) if isinstance(i, Label) else i for i in items]
    items.append(Dimension((0, 0), (length, 0), text=write(kind.length_m) if gap else None))
    items.append(Dimension((0, 0), (0, width), "y", "left"))
    notes = [voice.word("cuts.drawn.numbers" if numbered else "cuts.drawn.many")] if cuts else []
    if shown:
        notes.append(voice.word("cuts.drawn.pieces"))
    if len(sheet.pieces) > _MOST_SIZES:
        notes.append(voice.word("cuts.drawn.crowded"))
    if kind.grain != "none":
        notes.append(voice.word("cuts.drawn.grain"))
    if any(p.marks for p in sheet.pieces):
        notes.append(voice.word("cuts.drawn.marks"))
    if any(p.banded for p in sheet.pieces):
        notes.append(voice.word("cuts.drawn.banded"))
    if alike:
        notes.append(voice.word("cuts.drawn.alike"))
    if gap:
        notes.append(voice.word("cuts.drawn.broken"))
    title = voice.word("cuts.drawn", number=sheet.number, offcut="yes" if kind.offcut else "no")
    return Drawing(title, tuple(items), notes=tuple(notes), to_cut=True)


def _empty_stretch(sheet: SheetNest, cuts: Sequence[SawCut]) -> tuple[float, float] | None:
    """From where to where along the sheet it can be broken out; None where that gains little."""
    length = sheet.kind.length_m
    pieces = [p.rect for p in sheet.pieces]
    ends = {0.0, length, *(c.line_m[0] for c in cuts if c.axis == "x")}
    for r in (*pieces, *sheet.waste, *sheet.offcuts):
        ends |= {r.x_m, r.x_m + r.length_m}
    marks = sorted(ends)
    free = [
        (a, b)
        for a, b in zip(marks[:-1], marks[1:], strict=True)
        if not any(r.x_m < (a + b) / 2 < r.x_m + r.length_m for r in pieces)
    ]
    low, high = max(free, key=lambda g: g[1] - g[0], default=(0.0, 0.0))
    stub = _STUB * length / 2
    if high - low - 2 * stub < _WORTH_BREAKING * length:
        return None
    return (low + stub, high - stub)


def _closed_up(
    sheet: SheetNest, cuts: list[SawCut], gap: tuple[float, float] | None
) -> tuple[SheetNest, list[SawCut]]:
    """The sheet and its cuts as they are drawn when the stretch is taken out."""
    if gap is None:
        return sheet, cuts
    low, high = gap

    def at(x: float) -> float:
        return x if x <= low else max(low, x - (high - low))

    def rect(r: Rect) -> Rect:
        return Rect(at(r.x_m), r.y_m, at(r.x_m + r.length_m) - at(r.x_m), r.width_m)

    drawn = replace(
        sheet,
        pieces=tuple(replace(p, x_m=at(p.x_m)) for p in sheet.pieces),
        waste=tuple(map(rect, sheet.waste)),
        offcuts=tuple(map(rect, sheet.offcuts)),
    )
    lines = [(at(c.line_m[0]), c.line_m[1], at(c.line_m[2]), c.line_m[3]) for c in cuts]
    return drawn, [replace(c, line_m=line) for c, line in zip(cuts, lines, strict=True)]


def _break_mark(x: float, width: float) -> list[Item]:
    """Two zigzag lines across the sheet, blank between them."""
    beyond, tooth = 0.02, 0.03
    heights = (
        -beyond,
        width / 2 - tooth,
        width / 2 - tooth / 3,
        width / 2 + tooth / 3,
        width / 2 + tooth,
        width + beyond,
    )
    aside = (0.0, 0.0, tooth, -tooth, 0.0, 0.0)
    left, right = (
        tuple((x + side + a, y) for a, y in zip(aside, heights, strict=True))
        for side in (-_BREAK_M, _BREAK_M)
    )
    return [
        Polygon((*left, *reversed(right)), None, 1.0),
        Polyline(left, "edge"),
        Polyline(right, "edge"),
    ]


def _rect(r: Rect, line: LineMeaning | None, grey: float, hatch: Hatch = "none") -> Polygon:
    return rectangle(r.x_m, r.y_m, r.length_m, r.width_m, line, grey, hatch)


def _piece_notes(piece: Placed, called: str, write: Write, grained: bool) -> list[Item]:
    x, y, w, h = piece.x_m, piece.y_m, piece.length_m, piece.width_m
    middle = (x + w / 2, y + h / 2)
    name = f"{piece.pencil} {called}"
    across, up = write(w), write(h)
    room = (w, h)
    sizes = f"{across} × {up}"
    if min(w, h) < _STRIP_M:
        brief = (f"{piece.pencil} · {sizes}", f"{piece.pencil}\n{sizes}", piece.pencil)
        text = f"{name} · {sizes}"
        return [Label(middle, text, room=room, weight="Semibold", shorter=brief)]
    holes = tuple(_hole_corners(piece, m) for m in piece.marks if m.kind == "hole")
    items: list[Item]
    if any(high[0] - low[0] >= _LARGE_M for low, high in holes):
        # A size by itself inside an opening, or led there, would be taken for the opening's own.
        stacked = f"{across} ×\n{up}"
        brief = (f"{name}\n{stacked}", f"{piece.pencil}\n{stacked}", piece.pencil)
        text = f"{name}\n{sizes}"
        items = [Label(middle, text, room=room, weight="Semibold", shorter=brief)]
    else:
        shorter = (piece.pencil,)
        items = [
            Label(middle, name, "here", room, "large", "Semibold", shorter=shorter, avoid=holes),
            Label(middle, across, room=room, hug="below"),
            Label(middle, up, room=room, hug="left"),
        ]
    if grained and piece.grain != "free":
        items.append(GrainArrow((middle[0], y + h * 0.4), 0.0, (w * 0.9, h * 0.7), holes))
    return items


def _part_name(name: str, box: Box) -> Label:
    """What is pencilled on a piece that will be cut further, near its upper edge."""
    x0, y0, x1, y1 = box
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    room = (x1 - x0, y1 - y0)
    return Label(middle, name, room=room, hug="above", weight="It", size="small", lead=False)


def _band(piece: Placed, edge: Edge) -> Polygon:
    """A dark strip along an edge that gets banding."""
    own_length, own_width = (
        (piece.width_m, piece.length_m) if piece.turned else (piece.length_m, piece.width_m)
    )
    ends = {
        "near": ((0.0, 0.0), (own_length, _BAND_M)),
        "far": ((0.0, own_width - _BAND_M), (own_length, own_width)),
        "left": ((0.0, 0.0), (_BAND_M, own_width)),
        "right": ((own_length - _BAND_M, 0.0), (own_length, own_width)),
    }[edge]
    (x0, y0), (x1, y1) = (on_sheet(piece, *end) for end in ends)
    low = (min(x0, x1), min(y0, y1))
    return rectangle(*low, abs(x1 - x0), abs(y1 - y0), None, 0.25)


def _name_alone(piece: Placed) -> Label:
    """The short name in the middle of a panel."""
    middle = (piece.x_m + piece.length_m / 2, piece.y_m + piece.width_m / 2)
    return Label(middle, piece.pencil, "here", weight="Semibold", size="small")


def _hole_corners(piece: Placed, mark: Mark) -> tuple[Point, Point]:
    x, y = on_sheet(piece, mark.x_m, mark.y_m)
    r = mark.size_m / 2
    return ((x - r, y - r), (x + r, y + r))


def _offcut_note(r: Rect, write: Write, gap: tuple[float, float] | None, voice: Voice) -> Label:
    middle = (r.x_m + r.length_m / 2, r.y_m + r.width_m / 2)
    broken = gap is not None and r.x_m < gap[0] < r.x_m + r.length_m
    true = r.length_m + (gap[1] - gap[0] if gap is not None and broken else 0.0)
    text = voice.word("cuts.drawn.offcut", length=Name(write(true)), width=Name(write(r.width_m)))
    return Label(middle, text, room=(r.length_m, r.width_m), weight="It")


def _ends(cut: SawCut, kerf_m: float) -> tuple[Point, Point]:
    x0, y0, x1, y1 = cut.line_m
    shift = cut.waste_side * kerf_m / 2
    if cut.axis == "x":
        return (x0 + shift, y0), (x1 + shift, y1)
    return (x0, y0 + shift), (x1, y1 + shift)


def _cut_line(cut: SawCut, kerf_m: float) -> Polyline:
    return Polyline(_ends(cut, kerf_m), "cut")


def _numbers(cut: SawCut, kerf_m: float, *, lead: bool) -> Balloon:
    ends = _ends(cut, kerf_m)
    return Balloon(ends[0], str(cut.number), upon=ends, lead=lead)


def on_sheet(piece: Placed, x_m: float, y_m: float) -> Point:
    """Where a point of the panel lies on the sheet; a turned panel keeps its face up."""
    if piece.turned:
        return (piece.x_m + piece.length_m - y_m, piece.y_m + x_m)
    return (piece.x_m + x_m, piece.y_m + y_m)


def _mark(piece: Placed, mark: Mark, voice: Voice) -> list[Item]:
    """What is made on a panel after it is cut."""
    if mark.kind == "chamfer":
        return _chamfer(piece, mark)
    if mark.kind == "other":
        text = mark.text or voice.word("cuts.drawn.mark")
        return [Label(on_sheet(piece, mark.x_m, mark.y_m), text, "leader")]
    if mark.kind == "notch":
        ends = (mark.x_m, mark.y_m), (mark.x_m + mark.size_m, mark.y_m + mark.depth_m)
        (x0, y0), (x1, y1) = (on_sheet(piece, *end) for end in ends)
        return [rectangle(min(x0, x1), min(y0, y1), abs(x1 - x0), abs(y1 - y0), "edge", 0.96)]
    centre, r = on_sheet(piece, mark.x_m, mark.y_m), mark.size_m / 2
    if mark.size_m < _SCREW_M:
        return centre_lines(centre, 0.008)
    return [Circle(centre, r, "edge", 0.96)]


def _chamfer(piece: Placed, mark: Mark) -> list[Item]:
    own = (piece.width_m, piece.length_m) if piece.turned else (piece.length_m, piece.width_m)
    x, y, leg = mark.x_m, mark.y_m, mark.size_m
    sx = 1.0 if x < own[0] / 2 else -1.0
    sy = 1.0 if y < own[1] / 2 else -1.0
    corner = on_sheet(piece, x, y)
    a, b = on_sheet(piece, x + sx * leg, y), on_sheet(piece, x, y + sy * leg)
    return [Polygon((corner, a, b), "edge", 0.93, "waste")]


def centre_lines(centre: Point, radius: float, beyond: float = 0.12) -> list[Item]:
    """The cross through a circle's centre, reaching a little past it."""
    x, y = centre
    r = radius * (1 + beyond) if math.isfinite(radius) else 0.0
    return [
        Polyline(((x - r, y), (x + r, y)), "centre"),
        Polyline(((x, y - r), (x, y + r)), "centre"),
    ]
