"""Printed parts as closed triangle meshes, standing on the end that prints best: the wider one."""

from __future__ import annotations

import numpy as np

from ..solids import Body
from .reducer import Points, Reducer
from .rings import TestRing

SEGMENTS = 256


def solid(part: Reducer | TestRing, name: str, segments: int = SEGMENTS) -> Body:
    """The part as a closed mesh [m] of this name, its axis upright, the wider end on the floor.

    Rings of vertices lie on the true radii, so that a caliper over the corners reads the
    true diameter; the flats between them are ``segments`` to the turn.
    """
    inner, outer = part.inner, part.outer
    if outer[0][1] < outer[-1][1]:
        length = outer[-1][0]
        inner, outer = (
            tuple((length - x, r) for x, r in reversed(line)) for line in (inner, outer)
        )
    return _shell(name, inner, outer, segments)


def _shell(name: str, inner: Points, outer: Points, segments: int) -> Body:
    section = np.array([*outer, *reversed(inner)])
    turn = 2 * np.pi * np.arange(segments) / segments
    x = section[:, 1, None] * np.cos(turn)
    y = section[:, 1, None] * np.sin(turn)
    z = np.broadcast_to(section[:, 0, None], x.shape)
    vertices = np.stack([x, y, z], axis=-1).reshape(-1, 3)
    i = np.arange(segments)
    j = np.roll(i, -1)
    triangles = []
    for k in range(len(section)):
        a, b = k * segments, (k + 1) % len(section) * segments
        triangles += [np.stack([a + i, a + j, b + j], 1), np.stack([a + i, b + j, b + i], 1)]
    return Body(name, "hardware", vertices, np.concatenate(triangles))
