"""A laid-out drawing as SVG: real text, plain attributes, the same bytes every time."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

import numpy as np

from kerfwind.plaintext import visible

from .model import Point
from .placed import Area, Bow, Head, Placed, PlacedItem, PlacedLine, Ring, Stroke, Words
from .textsize import measured, text_width

FONT_FAMILY = "'Source Sans Pro', 'Source Sans 3', Helvetica, Arial, sans-serif"
_WEIGHTS = {"Regular": "400", "Semibold": "600", "Bold": "700", "It": "400"}

#: Width [mm], grey of the ink and dashes [mm] of each meaning. Wide lines are about
#: twice the narrow ones, as drawing practice has it.
_LINES: dict[PlacedLine, tuple[float, str, str]] = {
    "outline": (0.5, "#111", ""),
    "edge": (0.25, "#222", ""),
    "hidden": (0.22, "#555", "1.6 0.9"),
    "centre": (0.18, "#444", "5 0.9 0.7 0.9"),
    "cut": (0.45, "#111", "5 1"),
    "waste": (0.25, "#555", ""),
    "new": (0.6, "#000", ""),
    "old": (0.22, "#777", ""),
    "curve": (0.7, "#111", ""),
    "second": (0.45, "#333", ""),
    "axis": (0.35, "#111", ""),
    "grid": (0.12, "#bbb", ""),
    "frame": (0.12, "#bbb", ""),
    "measure": (0.16, "#333", ""),
    "hatch": (0.13, "#666", ""),
}


def _n(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _grey(value: float) -> str:
    level = round(min(max(value, 0.0), 1.0) * 255)
    return f"#{level:02x}{level:02x}{level:02x}"


def _path(points: Iterable[Point], closed: bool) -> str:
    body = "L".join([f"{x:.5g} {y:.5g}" for x, y in points])
    return f"M{body}Z" if closed else f"M{body}"


def _ink(line: PlacedLine) -> str:
    width, colour, dashes = _LINES[line]
    dash = f' stroke-dasharray="{dashes}"' if dashes else ""
    return f'fill="none" stroke="{colour}" stroke-width="{width}"{dash}'


def _bow(item: Bow) -> str:
    (x, y), r = item.centre, item.radius
    a, b = np.radians(item.start_deg), np.radians(item.end_deg)
    large = 1 if abs(item.end_deg - item.start_deg) > 180 else 0
    start = (x + r * float(np.cos(a)), y + r * float(np.sin(a)))
    end = (x + r * float(np.cos(b)), y + r * float(np.sin(b)))
    return f"M{_n(start[0])} {_n(start[1])}A{_n(r)} {_n(r)} 0 {large} 1 {_n(end[0])} {_n(end[1])}"


def _words(item: Words) -> list[str]:
    parts = []
    x, y = item.at
    turn = f' transform="rotate({_n(-item.turn_deg)} {_n(x)} {_n(y)})"' if item.turn_deg else ""
    if item.ground == "wash":
        cx, cy, hw, hh, _ = item.box
        if abs(item.turn_deg) == 90:
            hw, hh = hh, hw
        parts.append(
            f'<rect x="{_n(cx - hw - 0.4)}" y="{_n(cy - hh)}" width="{_n(2 * hw + 0.8)}" '
            f'height="{_n(2 * hh)}" rx="0.5" fill="#fff" fill-opacity="0.85"/>'
        )
    style = ' font-style="italic"' if item.weight == "It" else ""
    anchor = "" if item.anchor == "start" else f' text-anchor="{item.anchor}"'
    length = ""
    if measured(item.text, item.weight):
        # Where this typeface is missing another is set as wide as this one.
        width = _n(text_width(item.text, item.size, item.weight))
        length = f' textLength="{width}" lengthAdjust="spacingAndGlyphs"'
    parts.append(
        f'<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(item.size)}"{length} '
        f'font-weight="{_WEIGHTS[item.weight]}"{style}{anchor}{turn}>{escape(visible(item.text))}</text>'
    )
    return parts


def _element(item: PlacedItem) -> tuple[str, list[str]]:
    """Attributes shared with neighbours, and path data or whole elements."""
    if isinstance(item, Stroke):
        return _ink(item.line), [_path(item.points, item.closed)]
    if isinstance(item, Bow):
        return _ink(item.line), [_bow(item)]
    if isinstance(item, Area):
        grey = _grey(item.grey)
        # A hair of the same grey closes the seam to the neighbouring face.
        seam = f' stroke="{grey}" stroke-width="0.2"' if item.grey < 1 else ""
        return f'fill="{grey}" fill-rule="evenodd"{seam}', [
            "".join(_path(loop, True) for loop in item.loops)
        ]
    if isinstance(item, Head):
        return 'fill="#222"', [_path(item.points, True)]
    if isinstance(item, Ring):
        (x, y), r = item.centre, item.radius
        fill = _grey(item.grey) if item.grey is not None else "none"
        ink = _ink(item.line).removeprefix('fill="none" ') if item.line else ""
        return "", [
            f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(r)}" fill="{fill}"'
            f"{' ' + ink if ink else ''}/>"
        ]
    return "", _words(item)


def svg(placed: Placed) -> str:
    """The drawing as an SVG document; its size is given in millimetres.

    Neighbouring strokes of one meaning share a path, so files stay small.
    """
    w, h = _n(placed.width), _n(placed.height)
    out = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{w}mm" height="{h}mm" '
        f'viewBox="0 0 {w} {h}" role="img" font-family="{FONT_FAMILY}" fill="#111" '
        'stroke-linejoin="round" stroke-linecap="round">',
        f"<title>{escape(visible(placed.title))}</title>",
        f'<rect width="{w}" height="{h}" fill="#fff"/>',
    ]
    shared, run = "", list[str]()

    def close() -> None:
        if run:
            out.append(f'<path {shared} d="{"".join(run)}"/>')
            run.clear()

    for item in placed.items:
        attributes, parts = _element(item)
        single = not attributes or 'fill="none"' not in attributes
        if attributes != shared or single:
            close()
            shared = attributes
        if not attributes:
            out.extend(parts)
        else:
            run.extend(parts)
    close()
    out.append("</svg>")
    return "\n".join(out) + "\n"
