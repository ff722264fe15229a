"""The shapes a cart is made of: panels with openings and chamfers, round bodies, boxes."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from .body import Body, Kind, Vector
from .polygon import Loop, triangulate

Corner = Literal["near left", "near right", "far left", "far right"]
Face = Literal["lower", "upper"]

#: Sides of the polygon that stands for a circle; its area equals the circle's.
SEGMENTS = 48


@dataclass(frozen=True)
class Opening:
    """A hole through a plate: round, or a rectangle with rounded corners.

    ``x_m``, ``y_m`` are its centre from the plate's near left corner. A round opening has
    ``length_m == width_m == 2 * radius_m``.
    """

    x_m: float
    y_m: float
    length_m: float
    width_m: float
    radius_m: float

    @property
    def round(self) -> bool:
        """Whether it is a circle."""
        return abs(self.length_m - 2 * self.radius_m) < 1e-9 and (
            abs(self.width_m - 2 * self.radius_m) < 1e-9
        )

    @property
    def area_m2(self) -> float:
        """Area [m²]."""
        return self.length_m * self.width_m - (4 - math.pi) * self.radius_m**2

    def loop(self) -> Loop:
        """Counter-clockwise outline; arcs by chords that keep the area."""
        if self.round:
            return circle(self.x_m, self.y_m, self.radius_m)
        points = _rounded_rectangle(self.length_m, self.width_m, self.radius_m, 8)
        return _distinct([(self.x_m + x, self.y_m + y) for x, y in points])


def _rounded_rectangle(
    length_m: float, width_m: float, radius_m: float, steps: int
) -> list[tuple[float, float]]:
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


def _distinct(points: Sequence[tuple[float, float]]) -> Loop:
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


@dataclass(frozen=True)
class Groove:
    """A flat-bottomed rectangular recess in one face of a plate, from its near left corner.

    The ``lower`` face is at depth zero, the ``upper`` one at the plate's thickness.
    """

    x_m: float
    y_m: float
    length_m: float
    width_m: float
    depth_m: float
    face: Face


@dataclass(frozen=True)
class FlatPanel:
    """A flat rectangle with corners cut off and openings: one panel before it is placed.

    The length runs along x from the left end, the width along y from the near edge.
    ``notches`` are rectangles cut out of corners, by their sides along x and y; a corner has
    a chamfer or a notch. Grooves keep clear of openings, chamfers and notches.
    """

    length_m: float
    width_m: float
    thickness_m: float
    openings: tuple[Opening, ...] = ()
    chamfers: tuple[tuple[Corner, float], ...] = field(default=())
    notches: tuple[tuple[Corner, float, float], ...] = field(default=())
    grooves: tuple[Groove, ...] = field(default=())

    @property
    def area_m2(self) -> float:
        """Area of the face, grooves counted as face [m²]."""
        return (
            self.length_m * self.width_m
            - sum(o.area_m2 for o in self.openings)
            - sum(leg**2 / 2 for _, leg in self.chamfers)
            - sum(a * b for _, a, b in self.notches)
        )

    @property
    def volume_m3(self) -> float:
        """Volume [m³]."""
        return self.area_m2 * self.thickness_m - sum(v for v, _ in groove_cells(self))

    @property
    def centroid_m(self) -> tuple[float, float, float]:
        """Centre of its volume: x, y and depth [m]."""
        x, y = self.centre_m
        if not self.grooves:
            return x, y, self.thickness_m / 2
        whole = self.area_m2 * self.thickness_m
        first = whole * np.array([x, y, self.thickness_m / 2])
        for volume, centre in groove_cells(self):
            first -= volume * np.array(centre)
        x, y, z = first / self.volume_m3
        return float(x), float(y), float(z)

    @property
    def centre_m(self) -> tuple[float, float]:
        """Centre of the face's area [m]."""
        whole = self.length_m * self.width_m
        mx, my = whole * self.length_m / 2, whole * self.width_m / 2
        for o in self.openings:
            mx -= o.area_m2 * o.x_m
            my -= o.area_m2 * o.y_m
        for corner, leg in self.chamfers:
            x = self.length_m - leg / 3 if "right" in corner else leg / 3
            y = self.width_m - leg / 3 if "far" in corner else leg / 3
            mx -= leg**2 / 2 * x
            my -= leg**2 / 2 * y
        for corner, a, b in self.notches:
            mx -= a * b * (self.length_m - a / 2 if "right" in corner else a / 2)
            my -= a * b * (self.width_m - b / 2 if "far" in corner else b / 2)
        return mx / self.area_m2, my / self.area_m2

    def outline(self) -> Loop:
        """Counter-clockwise outline, chamfers and notches cut."""
        legs = dict(self.chamfers)
        cut = {corner: (a, b) for corner, a, b in self.notches}
        a, b = self.length_m, self.width_m
        points: list[tuple[float, float]] = []
        for corner, x, y, (dx0, dy0), (dx1, dy1) in (
            ("near left", 0.0, 0.0, (0, 1), (1, 0)),
            ("near right", a, 0.0, (-1, 0), (0, 1)),
            ("far right", a, b, (0, -1), (-1, 0)),
            ("far left", 0.0, b, (1, 0), (0, -1)),
        ):
            if corner in cut:
                along, across = cut[corner]
                sx, sy = dx0 + dx1, dy0 + dy1
                first = (along, 0.0) if dx0 else (0.0, across)
                last = (along - first[0], across - first[1])
                points += [
                    (x + sx * first[0], y + sy * first[1]),
                    (x + sx * along, y + sy * across),
                    (x + sx * last[0], y + sy * last[1]),
                ]
                continue
            leg = legs.get(corner, 0.0)  # type: ignore[call-overload]
            points += [(x + leg * dx0, y + leg * dy0), (x + leg * dx1, y + leg * dy1)]
        return _distinct(points)


@dataclass(frozen=True)
class Placement:
    """Where a plate's near left lower corner is, and which way its three sides run."""

    origin: Vector
    along: Vector
    across: Vector
    through: Vector

    def point(self, x_m: float, y_m: float, depth_m: float = 0.0) -> NDArray[np.float64]:
        """A point of the plate in space, shape (3,) [m]."""
        return (
            np.asarray(self.origin)
            + x_m * np.asarray(self.along)
            + y_m * np.asarray(self.across)
            + depth_m * np.asarray(self.through)
        )

    def local(self, point: ArrayLike) -> tuple[float, float, float]:
        """x, y and depth on the plate of a point in space."""
        d = np.asarray(point, dtype=float) - np.asarray(self.origin)
        return float(d @ self.along), float(d @ self.across), float(d @ self.through)


def groove_cells(plate: FlatPanel) -> list[tuple[float, tuple[float, float, float]]]:
    """The wood that grooves take, each bit once though they cross: volume [m³] and centre [m]."""
    xs = sorted({v for g in plate.grooves for v in (g.x_m, g.x_m + g.length_m)})
    ys = sorted({v for g in plate.grooves for v in (g.y_m, g.y_m + g.width_m)})
    cells = []
    for x0, x1 in itertools.pairwise(xs):
        for y0, y1 in itertools.pairwise(ys):
            x, y = (x0 + x1) / 2, (y0 + y1) / 2
            over = [
                g for g in plate.grooves if 0 < x - g.x_m < g.length_m and 0 < y - g.y_m < g.width_m
            ]
            for face in ("lower", "upper"):
                depth = max((g.depth_m for g in over if g.face == face), default=0.0)
                if depth > 0:
                    z = depth / 2 if face == "lower" else plate.thickness_m - depth / 2
                    cells.append(((x1 - x0) * (y1 - y0) * depth, (x, y, z)))
    return cells


def panel_body(name: str, plate: FlatPanel, at: Placement, tone: float = 0.9) -> Body:
    """A placed plate as a body, its grooves cut."""
    if plate.grooves:
        from .cutting import grooved

        return grooved(name, plate, at, tone)
    loops = [plate.outline(), *(tuple(reversed(o.loop())) for o in plate.openings)]
    flat = np.array([p for loop in loops for p in loop])
    top = np.array(triangulate(loops[0], tuple(loops[1:])), dtype=np.int64)
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
    triangles = _swept(segments, len(profile))
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
        ring = np.array(_rounded_rectangle(wide, long, r, 4))
        rows.append(np.asarray(foot) + np.column_stack([ring, np.full(len(ring), z)]))
    return Body(name, kind, np.concatenate(rows), _swept(len(rows[0]), len(rows)), tone)


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
    return Body(name, kind, np.array(rings).reshape(-1, 3), _swept(4, len(rings)), tone)


def _swept(sides: int, rows: int) -> NDArray[np.int64]:
    """Triangles of a closed tube: so many rings of so many corners, a flat fan at either end."""
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
    return np.concatenate([*faces, floor, roof])


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
    if rows < 2 or not np.array_equal(_swept(sides, rows), t):
        return p, t
    around = 2 if sides % 2 == 0 and sides >= 2 * least else 1
    kept = [*range(0, rows - 1, 2), rows - 1] if hose else list(range(rows))
    fewer = p.reshape(rows, sides, 3)[kept, ::around].reshape(-1, 3)
    return fewer, _swept(sides // around, len(kept))


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
