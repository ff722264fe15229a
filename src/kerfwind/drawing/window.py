"""A picture seen through a window: what lies beyond its edges is cut away."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from .model import Point
from .overlap import Floats
from .project import Picture, SeenFace
from .visible import area_of


def windowed(seen: Picture, low: Point, high: Point) -> Picture:
    """The part of a picture between two corners, in drawing units."""
    from manifold3d import CrossSection, FillRule

    corners = np.array([low, (high[0], low[1]), high, (low[0], high[1])], dtype=float)
    frame = CrossSection([corners], FillRule.Positive)
    least = 1e-6 * (high[0] - low[0]) * (high[1] - low[1])
    faces: list[SeenFace] = []
    for face in seen.faces:
        # A face that something divides has its parts as loops beside each other.
        points = np.concatenate([np.asarray(loop) for loop in face.loops])
        if np.all(points >= low) and np.all(points <= high):
            faces.append(face)
        elif not (np.any(points.max(axis=0) <= low) or np.any(points.min(axis=0) >= high)):
            shape = CrossSection([np.asarray(p) for p in face.loops], FillRule.EvenOdd) ^ frame
            faces += [replace(face, loops=loops) for loops in _outlines(shape, least)]
    lines = [
        replace(line, points=tuple(points))
        for line in seen.lines
        for points in clipped(line.points, low, high)
    ]
    return replace(seen, faces=tuple(faces), lines=tuple(lines))


def _outlines(shape: object, least: float) -> list[tuple[tuple[Point, ...], ...]]:
    """Each connected part: its outline, then its holes."""
    found = []
    for part in shape.decompose():  # type: ignore[attr-defined]
        loops = [loop for loop in part.to_polygons() if abs(area_of(loop)) > least]
        loops.sort(key=lambda loop: -abs(area_of(loop)))
        if loops:
            found.append(tuple(tuple(map(tuple, loop.tolist())) for loop in loops))
    return found


def clipped(points: Sequence[Point], low: Point, high: Point) -> list[list[Point]]:
    """Pieces of a line inside the window (Liang and Barsky's parametric clip, from memory)."""
    pieces: list[list[Point]] = []
    for a, b in zip(points[:-1], points[1:], strict=True):
        span = _inside(np.asarray(a), np.asarray(b), low, high)
        if span is None:
            continue
        start, end = span
        if pieces and pieces[-1][-1] == start:
            pieces[-1].append(end)
        else:
            pieces.append([start, end])
    return pieces


def _inside(a: Floats, b: Floats, low: Point, high: Point) -> tuple[Point, Point] | None:
    s, t = 0.0, 1.0
    for axis in range(2):
        way = float(b[axis] - a[axis])
        if abs(way) < 1e-15:
            if not low[axis] <= a[axis] <= high[axis]:
                return None
            continue
        one, two = (low[axis] - float(a[axis])) / way, (high[axis] - float(a[axis])) / way
        s, t = max(s, min(one, two)), min(t, max(one, two))
    if s >= t:
        return None
    start = a if s == 0.0 else a + s * (b - a)
    end = b if t == 1.0 else a + t * (b - a)
    return (float(start[0]), float(start[1])), (float(end[0]), float(end[1]))
