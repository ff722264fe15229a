"""One panel as DXF for a machine: true size in millimetres, arcs as arcs, layers by meaning."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from kerfwind.joinery.model import CutPanel, Pocket
from kerfwind.solids import Groove, Opening

from .dxf import as_text, new_document, text_of

if TYPE_CHECKING:
    from ezdxf.layouts import Modelspace

#: Bulge of a quarter circle: the tangent of a quarter of its angle.
_QUARTER = math.tan(math.pi / 8)
#: Outer contour with its chamfers; openings through the panel; screw holes; grooves by their
#: face, their depth in the layer's name; pockets' axes from face to edge; the mark.
LAYERS = ("OUTLINE", "OPENING", "SCREW_HOLE", "MARK")


def panel_dxf(panel: CutPanel) -> str:
    """The panel from its near left corner, x along its length, as the text of a DXF file (R2010).

    Finished sizes: the cutter's radius is left to the machine.
    """
    with new_document() as document:
        for name in layers_of(panel):
            document.layers.add(name)
        space = document.modelspace()
        outline = [(x * 1000, y * 1000) for x, y in panel.plate.outline()]
        space.add_lwpolyline(outline, close=True, dxfattribs={"layer": "OUTLINE"})
        for opening in panel.openings:
            _opening(space, opening)
        for hole in panel.holes:
            space.add_circle(
                (hole.x_m * 1000, hole.y_m * 1000),
                hole.diameter_m * 500,
                dxfattribs={"layer": "SCREW_HOLE"},
            )
        for groove in panel.grooves:
            _groove(space, groove)
        for pocket in panel.pockets:
            _pocket(space, pocket)
        _mark(space, panel)
        return text_of(document)


def layers_of(panel: CutPanel) -> tuple[str, ...]:
    """Layers of a panel's file: those of every panel, and those of its grooves and pockets."""
    more = dict.fromkeys(
        [*(_groove_layer(g) for g in panel.grooves), *(_pocket_layer(p) for p in panel.pockets)]
    )
    return (*LAYERS, *more)


def _groove_layer(groove: Groove) -> str:
    return f"GROOVE_{groove.face.upper()}_{groove.depth_m * 1000:.1f}MM".replace(".", "_")


def _pocket_layer(pocket: Pocket) -> str:
    return f"POCKET_{pocket.face.upper()}"


def _groove(space: Modelspace, groove: Groove) -> None:
    x0, y0 = groove.x_m * 1000, groove.y_m * 1000
    x1, y1 = x0 + groove.length_m * 1000, y0 + groove.width_m * 1000
    corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    space.add_lwpolyline(corners, close=True, dxfattribs={"layer": _groove_layer(groove)})


def _pocket(space: Modelspace, pocket: Pocket) -> None:
    """Where the axis meets the face, as a circle of the bore, and its way to the edge."""
    (dx, dy), layer = pocket.way, {"layer": _pocket_layer(pocket)}
    x, y = pocket.x_m * 1000, pocket.y_m * 1000
    reach = pocket.reach_m * 1000
    space.add_circle((x, y), pocket.bore_m * 500, dxfattribs=layer)
    space.add_line((x, y), (x + dx * reach, y + dy * reach), dxfattribs=layer)


def _opening(space: Modelspace, opening: Opening) -> None:
    x, y, r = opening.x_m * 1000, opening.y_m * 1000, opening.radius_m * 1000
    attributes = {"layer": "OPENING"}
    if opening.round:
        space.add_circle((x, y), r, dxfattribs=attributes)
        return
    a, b = opening.length_m * 500, opening.width_m * 500
    corners = ((a, -b, -r, 0), (a, b, 0, -r), (-a, b, r, 0), (-a, -b, 0, r))
    turned = ((0, r), (-r, 0), (0, -r), (r, 0))
    points: list[tuple[float, float, float]] = []
    for (cx, cy, bx, by), (ax, ay) in zip(corners, turned, strict=True):
        if r > 0:
            points.append((x + cx + bx, y + cy + by, _QUARTER))
            points.append((x + cx + ax, y + cy + ay, 0.0))
        else:
            points.append((x + cx, y + cy, 0.0))
    space.add_lwpolyline(points, format="xyb", close=True, dxfattribs=attributes)


def _mark(space: Modelspace, panel: CutPanel) -> None:
    """Letter and name near the left end, clear of the near edge."""
    size = min(12.0, 300 * panel.width_m)
    text = space.add_text(
        as_text(f"{panel.key} {panel.name}"), height=size / 2, dxfattribs={"layer": "MARK"}
    )
    text.set_placement((size, size))
