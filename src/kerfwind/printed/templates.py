"""Full-size paper templates of openings and chamfers, tiled over pages.

Each page is an SVG of exactly the paper's size in millimetres; y runs down on it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from html import escape
from typing import Any

from ..cart import Cart
from ..drawing.svg import FONT_FAMILY
from ..facts import Listing, Name, Statement, Term, state
from ..joinery.model import CutPanel
from ..plan import Plan
from ..solids import Opening
from ..view.findings import voice_of
from ..words import Voice

PAPER_MM = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
#: Where the shape is printed: margins left and right, above and below [mm].
MARGIN_MM, HEAD_MM, FOOT_MM = 10.0, 27.0, 42.0
OVERLAP_MM = 15.0
#: Cross lines reach this far beyond the shape [mm].
AROUND_MM = 9.0
_IN = 25.4

Point = tuple[float, float]


@dataclass(frozen=True)
class Template:
    """One shape at true size in millimetres from its lower left corner, y up.

    Attributes
    ----------
    size_mm
        Width (along the panel's length) and height, with room for its cross lines.
    path
        What to cut: points joined by straight lines, or by an arc of ``radius_mm`` where
        the second of two points is marked round. Empty for a circle.
    circle
        Centre and radius of a round opening.
    lines
        Thin lines: centre lines, or the panel's own edges.
    """

    title: str
    place: str
    size_mm: tuple[float, float]
    path: tuple[tuple[Point, bool], ...] = ()
    radius_mm: float = 0.0
    circle: tuple[Point, float] | None = None
    lines: tuple[tuple[Point, Point], ...] = ()
    notes: tuple[tuple[Point, str], ...] = ()


@dataclass(frozen=True)
class Tile:
    """One page's share of a template: the lower left corner of its window [mm]."""

    row: int
    column: int
    x_mm: float
    y_mm: float


def window_mm(paper: str) -> tuple[float, float]:
    """Width and height of what one page shows of a shape [mm]."""
    width, height = PAPER_MM[paper]
    return width - 2 * MARGIN_MM, height - HEAD_MM - FOOT_MM


def tiles(size_mm: tuple[float, float], paper: str) -> list[Tile]:
    """Pages that a shape takes, from the upper left; neighbours share ``OVERLAP_MM``."""
    window = window_mm(paper)
    counts, starts = [], []
    for size, view in zip(size_mm, window, strict=True):
        step = view - OVERLAP_MM
        count = max(1, math.ceil((size - OVERLAP_MM) / step - 1e-9))
        counts.append(count)
        starts.append((size - (count * step + OVERLAP_MM)) / 2)
    step_x, step_y = (v - OVERLAP_MM for v in window)
    return [
        Tile(row, column, starts[0] + column * step_x, starts[1] + (counts[1] - 1 - row) * step_y)
        for row in range(counts[1])
        for column in range(counts[0])
    ]


def templates_of(cart: Cart, voice: Voice) -> list[Template]:
    """A template for every opening, and one for every size of chamfer."""
    found: list[Template] = []
    corners: dict[float, list[Statement]] = {}
    for panel in cart.panels:
        found += [_opening(panel, o, voice) for o in panel.openings]
        for corner, leg in panel.chamfers:
            said = state(
                "view.template.corner",
                panel=panel.called,
                mark=Name(panel.key),
                corner=Term("corner", corner),
            )
            corners.setdefault(round(leg, 6), []).append(said)
    return found + [_chamfer(leg, where, voice) for leg, where in corners.items()]


def _size(value_m: float, voice: Voice) -> Name:
    """As on the panel's own drawing."""
    return Name(voice.length(value_m, 16))


def _opening(panel: CutPanel, opening: Opening, voice: Voice) -> Template:
    a, b, r = (v * 1000 for v in (opening.length_m, opening.width_m, opening.radius_m))
    cx, cy = a / 2 + AROUND_MM, b / 2 + AROUND_MM
    wide, high = 2 * cx, 2 * cy
    size = (
        state("view.template.round", diameter=Name(voice.length(opening.length_m)))
        if opening.round
        else state(
            "view.template.square",
            length=_size(opening.length_m, voice),
            width=_size(opening.width_m, voice),
        )
    )
    left, near = _size(opening.x_m, voice), _size(opening.y_m, voice)
    place = voice.word("view.template.centre", left=left, near=near)
    lines = (((0.0, cy), (wide, cy)), ((cx, 0.0), (cx, high)))
    title = voice.word(
        "view.template.opening",
        panel=panel.called,
        mark=Name(panel.key),
        count=panel.quantity,
        size=size,
    )
    if opening.round:
        return Template(title, place, (wide, high), circle=((cx, cy), a / 2), lines=lines)
    x0, x1, y0, y1 = cx - a / 2, cx + a / 2, cy - b / 2, cy + b / 2
    path = (
        ((x0 + r, y0), False),
        ((x1 - r, y0), False),
        ((x1, y0 + r), True),
        ((x1, y1 - r), False),
        ((x1 - r, y1), True),
        ((x0 + r, y1), False),
        ((x0, y1 - r), True),
        ((x0, y0 + r), False),
        ((x0 + r, y0), True),
    )
    return Template(title, place, (wide, high), path, r, lines=lines)


def _chamfer(leg_m: float, where: list[Statement], voice: Voice) -> Template:
    leg, edge = leg_m * 1000, 14.0
    x0 = y0 = 4.0
    far = leg + edge
    return Template(
        voice.word("view.template.chamfer", leg=_size(leg_m, voice)),
        voice.word("view.template.edges", corners=Listing(tuple(where), "semicolons")),
        (far + 2 * x0, far + 2 * y0),
        (((x0 + leg, y0), False), ((x0, y0 + leg), False)),
        lines=(((x0, y0), (x0 + far, y0)), ((x0, y0), (x0, y0 + far))),
        notes=(((x0 + 0.31 * leg, y0 + 0.31 * leg), voice.word("view.template.off")),)
        if leg >= 20
        else (),
    )


@dataclass(frozen=True)
class _Sheet:
    """Where a tile stands on its page."""

    paper: str
    tile: Tile

    def at(self, p: Point) -> Point:
        """A point of the template on the page [mm]."""
        bottom = PAPER_MM[self.paper][1] - FOOT_MM
        return (MARGIN_MM + p[0] - self.tile.x_mm, bottom - (p[1] - self.tile.y_mm))


def template_pages(templates: list[Template], paper: str, voice: Voice) -> list[str]:
    """All pages as SVG texts."""
    pages: list[str] = []
    total = sum(len(tiles(t.size_mm, paper)) for t in templates)
    for template in templates:
        cut = tiles(template.size_mm, paper)
        for tile in cut:
            pages.append(_page(template, cut, tile, paper, (len(pages) + 1, total), voice))
    return pages


def _n(value: float) -> str:
    return f"{value:.4f}".rstrip("0").rstrip(".")


def _xy(p: Point) -> str:
    return f"{_n(p[0])} {_n(p[1])}"


def _line(a: Point, b: Point, width: float = 0.15, more: str = "") -> str:
    return f'<path d="M{_xy(a)}L{_xy(b)}" fill="none" stroke="#111" stroke-width="{width}"{more}/>'


def _text(p: Point, text: str, size: float = 3.0, more: str = "") -> str:
    return f'<text x="{_n(p[0])}" y="{_n(p[1])}" font-size="{size}"{more}>{escape(text)}</text>'


def _page(
    template: Template, cut: list[Tile], tile: Tile, paper: str, page: tuple[int, int], voice: Voice
) -> str:
    width, height = PAPER_MM[paper]
    wide, high = window_mm(paper)
    sheet = _Sheet(paper, tile)
    many = len(cut) > 1
    number, total = page
    share = voice.word(
        "view.template.share" if many else "view.template.page",
        row=tile.row + 1,
        column=tile.column + 1,
        page=number,
        pages=total,
    )
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}" font-family="{FONT_FAMILY}" fill="#111">',
        f"<title>{escape(template.title)}</title>",
        f'<clipPath id="w"><rect x="{MARGIN_MM}" y="{HEAD_MM}" width="{_n(wide)}" '
        f'height="{_n(high)}"/></clipPath>',
        _text((MARGIN_MM, 14), template.title, 4.6, ' font-weight="700"'),
        _text((MARGIN_MM, 19), template.place),
        _text((MARGIN_MM, 23.4), share),
        *_strips(cut, tile, paper, voice),
        '<g clip-path="url(#w)">',
        *_shape(template, sheet),
        "</g>",
        *(_marks(cut, sheet) if many else ()),
        *_rulers(height - FOOT_MM + 8, voice),
        *(_map(template, cut, tile, paper) if many else ()),
        "</svg>",
    ]
    return "\n".join(parts) + "\n"


def _shape(template: Template, sheet: _Sheet) -> list[str]:
    at = sheet.at
    parts = [_line(at(a), at(b), 0.15, ' stroke-dasharray="6 1 1 1"') for a, b in template.lines]
    ink = 'fill="none" stroke="#000" stroke-width="0.4"'
    if template.circle:
        (x, y), r = at(template.circle[0]), template.circle[1]
        parts.append(f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(r)}" {ink}/>')
        parts.append(f'<circle cx="{_n(x)}" cy="{_n(y)}" r="1" {ink}/>')
    if template.path:
        corner = _n(template.radius_mm)
        way = [f"M{_xy(at(template.path[0][0]))}"]
        for p, round_ in template.path[1:]:
            way.append(f"A{corner} {corner} 0 0 0 {_xy(at(p))}" if round_ else f"L{_xy(at(p))}")
        parts.append(f'<path d="{"".join(way)}" {ink}/>')
    centred = ' text-anchor="middle" stroke="#fff" stroke-width="1.2" paint-order="stroke"'
    parts += [_text(at(p), text, 3.2, centred) for p, text in template.notes]
    return parts


def _strips(cut: list[Tile], tile: Tile, paper: str, voice: Voice) -> list[str]:
    """Edges of the window: grey strips that a neighbour covers, dashed lines to cut along."""
    wide, high = window_mm(paper)
    x0, y0, x1, y1 = MARGIN_MM, HEAD_MM, MARGIN_MM + wide, HEAD_MM + high
    last_row, last_column = cut[-1].row, cut[-1].column
    grey = 'fill="#e9e9e9"'
    parts = []
    if tile.column < last_column:
        parts.append(
            f'<rect x="{_n(x1 - OVERLAP_MM)}" y="{_n(y0)}" width="{OVERLAP_MM}" '
            f'height="{_n(high)}" {grey}/>'
        )
        middle = (x1 - OVERLAP_MM / 2 - 3, (y0 + y1) / 2)
        turn = f' text-anchor="middle" transform="rotate(-90 {_xy(middle)})"'
        parts.append(_text(middle, voice.word("view.template.glue_right"), 3.0, turn))
    if tile.row < last_row:
        parts.append(
            f'<rect x="{_n(x0)}" y="{_n(y1 - OVERLAP_MM)}" width="{_n(wide)}" '
            f'height="{OVERLAP_MM}" {grey}/>'
        )
        middle = ((x0 + x1) / 2, y1 - OVERLAP_MM / 2 - 3)
        parts.append(
            _text(middle, voice.word("view.template.glue_below"), 3.0, ' text-anchor="middle"')
        )
    dash, cut_here = ' stroke-dasharray="3 1.2"', voice.word("view.template.cut")
    if tile.column > 0:
        parts.append(_line((x0, y0 - 2), (x0, y1 + 2), 0.3, dash))
        at = (x0 - 1.6, (y0 + y1) / 2)
        turn = f' text-anchor="middle" transform="rotate(-90 {_xy(at)})"'
        parts.append(_text(at, cut_here, 2.6, turn))
    if tile.row > 0:
        parts.append(_line((x0 - 2, y0), (x1 + 2, y0), 0.3, dash))
        parts.append(_text(((x0 + x1) / 2, y0 - 1), cut_here, 2.6, ' text-anchor="middle"'))
    return parts


def marks_mm(cut: list[Tile], paper: str) -> list[Point]:
    """Registration marks in the template's millimetres: on the middle of every overlap."""
    wide, high = window_mm(paper)
    found: list[Point] = []
    for tile in cut:
        if tile.column < cut[-1].column:
            x = tile.x_mm + wide - OVERLAP_MM / 2
            found += [(x, tile.y_mm + part * high) for part in (0.2, 0.8)]
        if tile.row < cut[-1].row:
            y = tile.y_mm + OVERLAP_MM / 2
            found += [(tile.x_mm + part * wide, y) for part in (0.2, 0.8)]
    return found


def _marks(cut: list[Tile], sheet: _Sheet) -> list[str]:
    """Crosses in rings that must fall on each other; the same letter on both pages."""
    wide, high = window_mm(sheet.paper)
    parts = []
    for number, mark in enumerate(marks_mm(cut, sheet.paper)):
        x, y = sheet.at(mark)
        inside = MARGIN_MM <= x <= MARGIN_MM + wide and HEAD_MM <= y <= HEAD_MM + high
        if not inside:
            continue
        parts += [_line((x - 5, y), (x + 5, y)), _line((x, y - 5), (x, y + 5))]
        parts.append(
            f'<circle cx="{_n(x)}" cy="{_n(y)}" r="2.5" fill="none" stroke="#111" '
            'stroke-width="0.15"/>'
        )
        parts.append(_text((x + 2.6, y - 2.4), chr(ord("a") + number), 3.4, ' font-weight="700"'))
    return parts


def _rulers(y: float, voice: Voice) -> list[str]:
    """Check rulers of 100 mm and 4 in from the left margin."""
    x = MARGIN_MM
    parts = [_line((x, y), (x + 100, y), 0.3), _line((x, y + 12), (x + 4 * _IN, y + 12), 0.3)]
    for n in range(11):
        long = 4.0 if n % 5 == 0 else 2.5
        parts.append(_line((x + 10 * n, y), (x + 10 * n, y - long), 0.3))
    for n in range(17):
        long = 4.0 if n % 4 == 0 else 2.5 if n % 2 == 0 else 1.6
        at = x + n * _IN / 4
        parts.append(_line((at, y + 12), (at, y + 12 - long), 0.3))
    parts.append(_text((x + 104, y), "100 mm"))
    parts.append(_text((x + 104, y + 12), "4 in"))
    parts.append(_text((x, y + 18.5), voice.word("view.template.check")))
    parts.append(_text((x, y + 22.5), voice.word("view.template.try")))
    return parts


def _map(template: Template, cut: list[Tile], tile: Tile, paper: str) -> list[str]:
    """How the pages lie together, this one grey."""
    wide, high = window_mm(paper)
    width, height = PAPER_MM[paper]
    x_low, y_low = cut[0].x_mm, cut[-1].y_mm
    all_w = cut[-1].x_mm - x_low + wide
    all_h = cut[0].y_mm - y_low + high
    k = min(42 / all_w, 24 / all_h)
    left, bottom = width - MARGIN_MM - all_w * k, height - FOOT_MM + 26.0

    def at(p: Point) -> Point:
        return (left + (p[0] - x_low) * k, bottom - (p[1] - y_low) * k)

    parts = []
    for each in sorted(cut, key=lambda t: t == tile):
        x, y = at((each.x_mm, each.y_mm + high))
        fill = "#ccc" if each == tile else "none"
        parts.append(
            f'<rect x="{_n(x)}" y="{_n(y)}" width="{_n(wide * k)}" height="{_n(high * k)}" '
            f'fill="{fill}" stroke="#111" stroke-width="0.2"/>'
        )
    if template.circle:
        (x, y), r = at(template.circle[0]), template.circle[1] * k
        parts.append(
            f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(r)}" fill="none" stroke="#000" '
            'stroke-width="0.35"/>'
        )
    if template.path:
        way = "L".join(_xy(at(p)) for p, _ in template.path)
        parts.append(f'<path d="M{way}" fill="none" stroke="#000" stroke-width="0.35"/>')
    return parts


def templates_content(plan: Plan) -> tuple[dict[str, Any], dict[str, str]] | None:
    """Data and pages of the templates at true size; None where there is nothing to cut out."""
    if plan.build is None:
        return None
    voice = voice_of(plan)
    found = templates_of(plan.build.whole, voice)
    if not found:
        return None
    paper = plan.shop.about.page
    files = {f"page-{n}.svg": t for n, t in enumerate(template_pages(found, paper, voice), start=1)}
    data: dict[str, Any] = {
        "title": voice.word("view.template.title", plan=Name(plan.title)),
        "paper": {"letter": "us-letter", "a4": "a4"}[paper],
        "pages": list(files),
    }
    return data, files
