"""Ways of looking at a thing: three sides, isometric, cabinet, perspective.

The thing stands with x to the right, y away from the person in front of it, z up.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from .overlap import Floats

_Vector = tuple[float, float, float]


@dataclass(frozen=True)
class View:
    """One way of looking.

    Attributes
    ----------
    right, up
        Drawing x and y of a point are its products with these (parallel views).
    away
        Depth of a point is its product with this.
    distance_m
        From the eye to ``target`` in a perspective; 0 for parallel views.
    true_size
        Whether lengths across the view can be measured on the drawing.
    """

    name: str
    right: _Vector
    up: _Vector
    away: _Vector
    distance_m: float = 0.0
    target: _Vector = (0.0, 0.0, 0.0)
    true_size: bool = False

    def project(self, points: ArrayLike) -> Floats:
        """Drawing x, y and a depth for points in space, shape (..., 3) to (..., 3).

        The depth grows away from the eye and is affine over every plane and line of the
        *drawing*, in a perspective too, so that depths between corners are interpolated
        on paper.

        Raises
        ------
        ValueError
            A point lies behind the eye of a perspective.
        """
        p = np.asarray(points, dtype=float) - np.asarray(self.target)
        axes = np.asarray((self.right, self.up, self.away))
        seen: Floats = p @ axes.T
        if not self.distance_m:
            return seen
        z = seen[..., 2:] + self.distance_m
        if np.any(z <= 0.02 * self.distance_m):
            raise ValueError(
                f"a point lies behind the eye, {self.distance_m:.2f} m from the target; "
                "move the eye farther away"
            )
        shrink = self.distance_m / z
        return np.concatenate([seen[..., :2] * shrink, self.distance_m * (1.0 - shrink)], axis=-1)

    def at(self, point: ArrayLike) -> tuple[float, float]:
        """Where one point in space stands on the drawing."""
        x, y, _ = self.project(np.asarray(point, dtype=float))
        return (float(x), float(y))


FRONT = View("Front", (1, 0, 0), (0, 0, 1), (0, 1, 0), true_size=True)
RIGHT = View("Right side", (0, 1, 0), (0, 0, 1), (-1, 0, 0), true_size=True)
TOP = View("Top", (1, 0, 0), (0, 1, 0), (0, 0, -1), true_size=True)


def turned(azimuth_deg: float, elevation_deg: float, name: str = "") -> View:
    """A parallel view from ``azimuth`` (0 in front, 90 from the right) and ``elevation``."""
    a, e = np.radians(azimuth_deg), np.radians(elevation_deg)
    ca, sa, ce, se = (float(f(v)) for v in (a, e) for f in (np.cos, np.sin))
    return View(name, (ca, sa, 0.0), (-sa * se, ca * se, ce), (-sa * ce, ca * ce, -se))


#: All three axes equally foreshortened: the eye 35.26° up (arctan of 1/√2).
ISOMETRIC = turned(-45.0, float(np.degrees(np.arctan(np.sqrt(0.5)))), "Isometric")


def cabinet(angle_deg: float = 40.0, depth: float = 0.5) -> View:
    """The front at true size, depth drawn at an angle and shortened (to half)."""
    a = np.radians(angle_deg)
    dx, dy = depth * float(np.cos(a)), depth * float(np.sin(a))
    return View("Cabinet", (1.0, dx, 0.0), (0.0, dy, 1.0), (0.0, 1.0, 0.0))


def perspective(
    points: ArrayLike, azimuth_deg: float = -35.0, elevation_deg: float = 22.0, spread: float = 2.6
) -> View:
    """A perspective of everything in ``points``, seen from ``spread`` times its size away."""
    p = np.asarray(points, dtype=float).reshape(-1, 3)
    low, high = p.min(axis=0), p.max(axis=0)
    middle = (low + high) / 2
    size = float(np.linalg.norm(high - low)) or 1.0
    flat = turned(azimuth_deg, elevation_deg)
    return View(
        "Perspective",
        flat.right,
        flat.up,
        flat.away,
        spread * size,
        (float(middle[0]), float(middle[1]), float(middle[2])),
    )
