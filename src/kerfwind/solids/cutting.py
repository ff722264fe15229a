"""Wood taken out of bodies: grooves, holes and pockets, by exact boolean difference."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from .body import Body
from .contact import exact
from .shapes import FlatPanel, Placement, box, panel_body

#: Tools reach this far out of the wood, so that no skin is left on a face [m].
BEYOND_M = 0.001


def cut_out(body: Body, tools: Sequence[Body]) -> Body:
    """The body with all the tools' volumes taken out.

    Raises
    ------
    ValueError
        A surface is not closed.
    """
    if not tools:
        return body
    from manifold3d import Manifold, OpType

    whole = exact(body)
    mesh = Manifold.batch_boolean([whole, *(exact(t) for t in tools)], OpType.Subtract).to_mesh64()
    return replace(
        body,
        # A view of the library's own memory may not be written to, which it asks of input.
        vertices=np.array(mesh.vert_properties[:, :3], dtype=np.float64),
        triangles=np.array(mesh.tri_verts, dtype=np.int64),
    )


def grooved(name: str, plate: FlatPanel, at: Placement, tone: float = 0.9) -> Body:
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
