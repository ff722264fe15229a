"""Wood taken out of bodies: grooves, holes and pockets, by exact boolean difference."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from .body import Body
from .exact import exact


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
