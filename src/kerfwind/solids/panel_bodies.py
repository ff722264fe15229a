"""Placed panels as bodies, their openings and grooves cut."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from .body import Body
from .cutting import cut_out
from .flat_panel import FlatPanel, Placement
from .loops import triangulate
from .shapes import box

#: Tools reach this far out of the wood, so that no skin is left on a face [m].
BEYOND_M = 0.001


def panel_body(name: str, plate: FlatPanel, at: Placement, tone: float = 0.9) -> Body:
    """A placed plate as a body, its grooves cut."""
    if plate.grooves:
        return _grooved(name, plate, at, tone)
    loops = [plate.outline(), *(tuple(reversed(o.loop())) for o in plate.openings)]
    flat = np.array([p for loop in loops for p in loop])
    top = triangulate(loops[0], tuple(loops[1:]))
    walls = []
    start = 0
    count = len(flat)
    for loop in loops:
        i = np.arange(start, start + len(loop))
        j = np.roll(i, -1)
        walls += [np.stack([i, j, j + count], 1), np.stack([i, j + count, i + count], 1)]
        start += len(loop)
    triangles = np.concatenate([top[:, ::-1], top + count, *walls])
    axes = np.array([at.along, at.across, at.through], dtype=float)
    both = np.concatenate(
        [
            np.column_stack([flat, np.zeros(count)]),
            np.column_stack([flat, np.full(count, plate.thickness_m)]),
        ]
    )
    if np.linalg.det(axes) < 0:
        triangles = triangles[:, ::-1]
    return Body(name, "panel", np.asarray(at.origin) + both @ axes, triangles, tone)


def _grooved(name: str, plate: FlatPanel, at: Placement, tone: float = 0.9) -> Body:
    """A placed plate with its grooves cut; a groove that reaches an edge is open there."""
    whole = panel_body(name, replace(plate, grooves=()), at, tone)
    tools = []
    for g in plate.grooves:
        x0 = g.x_m - (BEYOND_M if g.x_m <= 1e-9 else 0.0)
        y0 = g.y_m - (BEYOND_M if g.y_m <= 1e-9 else 0.0)
        x1, y1 = g.x_m + g.length_m, g.y_m + g.width_m
        x1 += BEYOND_M if x1 >= plate.length_m - 1e-9 else 0.0
        y1 += BEYOND_M if y1 >= plate.width_m - 1e-9 else 0.0
        z0, z1 = (
            (-BEYOND_M, g.depth_m)
            if g.face == "lower"
            else (plate.thickness_m - g.depth_m, plate.thickness_m + BEYOND_M)
        )
        a, b = at.point(x0, y0, z0), at.point(x1, y1, z1)
        tools.append(box(name, np.minimum(a, b).tolist(), np.maximum(a, b).tolist()))
    return cut_out(whole, tools)
