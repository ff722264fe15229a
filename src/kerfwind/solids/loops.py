"""Closed lines in a plane: circles and rounded rectangles by chords that keep their areas."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Point = tuple[float, float]
Loop = tuple[Point, ...]

#: Sides of the polygon that stands for a circle; its area equals the circle's.
SEGMENTS = 48


def rounded_rectangle(length_m: float, width_m: float, radius_m: float, steps: int) -> list[Point]:
    """Counter-clockwise points about the middle, ``steps`` chords a corner, its area kept."""
    r = radius_m
    a, b = length_m / 2 - r, width_m / 2 - r
    # Chords from tangent to tangent lose a little of each corner; widening keeps it.
    wide = math.sqrt((math.pi / 2 / steps) / math.sin(math.pi / 2 / steps))
    points: list[tuple[float, float]] = []
    for quarter, (sx, sy) in enumerate(((1, 1), (-1, 1), (-1, -1), (1, -1))):
        for k in range(steps + 1):
            angle = math.pi / 2 * (quarter + k / steps)
            grow = wide if 0 < k < steps else 1.0
            points.append(
                (sx * a + r * grow * math.cos(angle), sy * b + r * grow * math.sin(angle))
            )
    return points


def distinct(points: Sequence[Point]) -> Loop:
    """The points without those that repeat the one before them."""
    kept: list[tuple[float, float]] = []
    for p in points:
        if not kept or math.dist(p, kept[-1]) > 1e-7:
            kept.append(p)
    if len(kept) > 1 and math.dist(kept[0], kept[-1]) <= 1e-7:
        kept.pop()
    return tuple(kept)


@lru_cache(maxsize=256)
def circle(x_m: float, y_m: float, radius_m: float, segments: int = SEGMENTS) -> Loop:
    """Counter-clockwise polygon with the area of the circle."""
    r = radius_m * equal_area(segments)
    return tuple(
        (
            x_m + r * math.cos(2 * math.pi * k / segments),
            y_m + r * math.sin(2 * math.pi * k / segments),
        )
        for k in range(segments)
    )


def equal_area(segments: int = SEGMENTS) -> float:
    """Radius of a regular polygon's corners over that of the circle of the same area."""
    turn = 2 * math.pi / segments
    return math.sqrt(turn / math.sin(turn))


@lru_cache(maxsize=512)
def triangulate(outline: Loop, holes: tuple[Loop, ...] = ()) -> NDArray[np.int64]:
    """Triangles over the points of ``outline`` followed by those of each hole, shape (n, 3).

    Parameters
    ----------
    outline
        Counter-clockwise, without crossing itself.
    holes
        Clockwise, inside the outline and apart from one another.

    Raises
    ------
    ValueError
        The loops do not bound a region.
    """
    from manifold3d import triangulate as triangles_of

    loops = [np.array(loop, dtype=float) for loop in (outline, *holes)]
    triangles = np.asarray(triangles_of(loops), dtype=np.int64)
    a, b, c = (np.concatenate(loops)[triangles[:, i]] for i in range(3))
    turns = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    # Loops that bound no region are covered all the same, some of it by triangles turned over.
    if len(triangles) == 0 or np.any(turns < -1e-12):
        raise ValueError("the outline crosses itself, or a hole lies outside it")
    triangles.setflags(write=False)
    return triangles
