"""A flat panel before it is placed, what is cut out of it, and where it is placed."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from .body import Vector
from .loops import Loop, circle, distinct, rounded_rectangle

Corner = Literal["near left", "near right", "far left", "far right"]


Face = Literal["lower", "upper"]


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
        points = rounded_rectangle(self.length_m, self.width_m, self.radius_m, 8)
        return distinct([(self.x_m + x, self.y_m + y) for x, y in points])


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
        return distinct(points)


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
