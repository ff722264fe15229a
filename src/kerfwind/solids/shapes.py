"""Bodies of simple shapes: boxes, round bodies, bands and what follows from their sections."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from .body import Body, Kind
from .loops import SEGMENTS, equal_area, rounded_rectangle


def box(
    name: str,
    low: Sequence[float],
    high: Sequence[float],
    kind: Kind = "hardware",
    tone: float = 0.7,
) -> Body:
    """A box between two corners [m]."""
    lo, hi = np.asarray(low, dtype=float), np.asarray(high, dtype=float)
    if np.any(hi <= lo):
        raise ValueError(f"{name}: a box needs its high corner above its low one, got {lo} to {hi}")
    corners = np.array([[x, y, z] for z in (0, 1) for y in (0, 1) for x in (0, 1)])
    faces = np.array(
        [
            [0, 2, 1],
            [1, 2, 3],
            [4, 5, 6],
            [5, 7, 6],
            [0, 1, 4],
            [1, 5, 4],
            [2, 6, 3],
            [3, 6, 7],
            [0, 4, 2],
            [2, 4, 6],
            [1, 3, 5],
            [3, 7, 5],
        ]
    )
    return Body(name, kind, lo + corners * (hi - lo), faces, tone)


def revolved(
    name: str,
    foot: Sequence[float],
    profile: Sequence[tuple[float, float]],
    axis: Sequence[float] = (0.0, 0.0, 1.0),
    kind: Kind = "round",
    tone: float = 0.8,
    segments: int = SEGMENTS,
) -> Body:
    """A round body: heights along the axis and radii there, closed by flat ends.

    Parameters
    ----------
    foot
        Where the axis starts, shape (3,) [m].
    profile
        Pairs (height, radius) [m], heights never falling; radii above zero. Two pairs at
        one height make a step.
    axis
        Direction, any length.
    """
    direction = np.asarray(axis, dtype=float)
    direction = direction / np.linalg.norm(direction)
    helper = np.array([1.0, 0, 0]) if abs(direction[0]) < 0.9 else np.array([0, 1.0, 0])
    u = helper - direction * (helper @ direction)
    u /= np.linalg.norm(u)
    v = np.cross(direction, u)
    turn = 2 * np.pi * np.arange(segments) / segments
    ring = np.cos(turn)[:, None] * u + np.sin(turn)[:, None] * v
    grow = equal_area(segments)
    rows = [np.asarray(foot) + h * direction + r * grow * ring for h, r in profile]
    triangles = swept(segments, len(profile))
    return Body(name, kind, np.concatenate(rows), triangles, tone)


def box_like(
    name: str,
    foot: Sequence[float],
    sections: Sequence[tuple[float, float, float, float]],
    kind: Kind = "round",
    tone: float = 0.8,
) -> Body:
    """An upright body of rectangular sections with rounded corners, closed by flat ends.

    Parameters
    ----------
    foot
        Middle of its floor, shape (3,) [m].
    sections
        Height, side to side, front to back, and radius of the corners [m]; heights never
        falling. Two sections at one height make a step.
    """
    rows = []
    for z, wide, long, radius in sections:
        r = min(max(radius, 1e-3), 0.49 * wide, 0.49 * long)
        ring = np.array(rounded_rectangle(wide, long, r, 4))
        rows.append(np.asarray(foot) + np.column_stack([ring, np.full(len(ring), z)]))
    return Body(name, kind, np.concatenate(rows), swept(len(rows[0]), len(rows)), tone)


def band(
    name: str,
    points: Sequence[tuple[float, float]],
    at: tuple[float, float],
    thickness_m: float,
    kind: Kind = "round",
    tone: float = 0.5,
) -> Body:
    """A flat band along a line in an upright plane, laid on the left of the line.

    Parameters
    ----------
    points
        Pairs (x, z) [m] of the line, which never turns sharply.
    at
        From and to, front to back [m].
    """
    line = np.asarray(points, dtype=float)
    way = np.diff(line, axis=0)
    way /= np.linalg.norm(way, axis=1, keepdims=True)
    left = np.column_stack([-way[:, 1], way[:, 0]])
    before, after = np.vstack([left[:1], left]), np.vstack([left, left[-1:]])
    both = before + after
    # Mitred, so that each stretch keeps its thickness.
    out = both / (1 + np.sum(before * after, axis=1, keepdims=True))
    outer = line + thickness_m * out
    rings = [
        [(x, at[0], z), (x, at[1], z), (u, at[1], w), (u, at[0], w)]
        for (x, z), (u, w) in zip(line, outer, strict=True)
    ]
    return Body(name, kind, np.array(rings).reshape(-1, 3), swept(4, len(rings)), tone)


@lru_cache(maxsize=64)
def swept(sides: int, rows: int) -> NDArray[np.int64]:
    """Triangles of a closed tube: so many rings of so many corners, a flat fan at either end.

    Not to be written to.
    """
    n, last = sides, (rows - 1) * sides
    i = np.arange(n)
    j = np.roll(i, -1)
    faces = []
    for k in range(rows - 1):
        a, b = k * n, (k + 1) * n
        faces += [np.stack([a + i, a + j, b + j], 1), np.stack([a + i, b + j, b + i], 1)]
    fan = np.arange(1, n - 1)
    floor = np.stack([np.zeros_like(fan), fan + 1, fan], 1)
    roof = np.stack([np.full_like(fan, last), last + fan, last + fan + 1], 1)
    triangles = np.concatenate([*faces, floor, roof])
    triangles.setflags(write=False)
    return triangles


def coarser(body: Body, least_sides: int = 12) -> Body:
    """A body for small pictures: its tubes with half the sides, a hose with half the rings.

    Tubes whose sides would fall below ``least_sides``, and surfaces that are no tubes, stay.
    """
    tri = body.triangles
    first = np.minimum.accumulate(tri.min(axis=1)[::-1])[::-1]
    cuts = np.flatnonzero(np.maximum.accumulate(tri.max(axis=1))[:-1] < first[1:]) + 1
    points, triangles, start = [], [], 0
    for part in np.split(tri, cuts):
        low, high = int(part.min()), int(part.max()) + 1
        p, t = _fewer(body.vertices[low:high], part - low, body.kind == "hose", least_sides)
        points.append(p)
        triangles.append(t + start)
        start += len(p)
    return replace(body, vertices=np.concatenate(points), triangles=np.concatenate(triangles))


def _fewer(
    p: NDArray[np.float64], t: NDArray[np.int64], hose: bool, least: int
) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    sides = int(t[0, 2]) - 1
    rows = len(p) // sides if sides > 2 and len(p) % sides == 0 else 0
    if rows < 2 or not np.array_equal(swept(sides, rows), t):
        return p, t
    around = 2 if sides % 2 == 0 and sides >= 2 * least else 1
    kept = [*range(0, rows - 1, 2), rows - 1] if hose else list(range(rows))
    fewer = p.reshape(rows, sides, 3)[kept, ::around].reshape(-1, 3)
    return fewer, swept(sides // around, len(kept))


def frustum_volume_m3(bottom_radius_m: float, top_radius_m: float, height_m: float) -> float:
    """Volume of a tapered round body [m³]: π h (R² + R r + r²) / 3."""
    a, b = bottom_radius_m, top_radius_m
    return math.pi * height_m * (a * a + a * b + b * b) / 3


def frustum_centre_m(bottom_radius_m: float, top_radius_m: float, height_m: float) -> float:
    """Height of its centre of volume above the bottom [m]."""
    a, b = bottom_radius_m, top_radius_m
    return height_m * (a * a + 2 * a * b + 3 * b * b) / (4 * (a * a + a * b + b * b))


def prismoid_centre_m(
    bottom_m: tuple[float, float], top_m: tuple[float, float], height_m: float
) -> float:
    """Height of the centre of volume of a tapered rectangular body above its bottom [m].

    Its two sides grow evenly, so that its section is a quadratic of the height.
    """
    (a, b), (da, db) = bottom_m, (top_m[0] - bottom_m[0], top_m[1] - bottom_m[1])
    volume = a * b + (a * db + b * da) / 2 + da * db / 3
    first = a * b / 2 + (a * db + b * da) / 3 + da * db / 4
    return height_m * first / volume
