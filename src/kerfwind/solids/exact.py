"""Bodies as solids of an exact geometry library."""

from __future__ import annotations

from typing import Any

import numpy as np

from .body import Body


def exact(body: Body) -> Any:
    """The body as a manifold3d solid.

    Raises
    ------
    ValueError
        The surface is not closed.
    """
    from manifold3d import Error, Manifold, Mesh64

    # In single precision, panels that touch would overlap by a hair.
    solid = Manifold(
        Mesh64(
            np.asarray(body.vertices, dtype=np.float64), np.asarray(body.triangles, dtype=np.uint64)
        )
    )
    if solid.status() != Error.NoError:
        raise ValueError(f"{body.name}: its surface is not closed ({solid.status()})")
    return solid
