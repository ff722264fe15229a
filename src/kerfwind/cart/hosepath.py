"""The link hose from the separator's outlet to the vacuum's inlet."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..shop import Hose
from .model import Bend, HosePath


def bend_m(hose: Hose) -> float:
    """Radius it is laid in: for the stiffest hose of the range, so that it kinks for none."""
    return max(hose.smallest_bend.high_si, hose.bore.best_si)


def outside_m(hose: Hose) -> float:
    """From its middle line to whatever it must clear: half its bore, its wall, a finger's play."""
    return hose.bore.best_si / 2 + 0.006


def under_m(hose: Hose) -> float:
    """Height it takes to bend in below an edge and down again into an inlet that faces up."""
    return 2 * bend_m(hose) + hose.bore.best_si / 2 + 0.006


def rounded(
    corners: ArrayLike, radius_m: float, per_bend: int = 12
) -> tuple[NDArray[np.float64], float, tuple[Bend, ...]]:
    """A line through ``corners`` with every corner rounded.

    A corner whose neighbours leave no room for ``radius_m`` gets the largest arc that
    fits; its true radius is in its `Bend`.

    Returns
    -------
    points, length, bends
        Middle line (n, 3), its length [m], and each bend.
    """
    p = np.asarray(corners, dtype=float)
    leg = np.linalg.norm(np.diff(p, axis=0), axis=1)
    points: list[NDArray[np.float64]] = [p[0]]
    bends = []
    length = 0.0
    for k in range(1, len(p) - 1):
        into = (p[k] - p[k - 1]) / leg[k - 1]
        out = (p[k + 1] - p[k]) / leg[k]
        turn = math.acos(float(np.clip(into @ out, -1, 1)))
        if turn < 1e-6:
            continue
        half = math.tan(turn / 2)
        before = leg[k - 1] if k == 1 else leg[k - 1] / 2
        after = leg[k] if k == len(p) - 2 else leg[k] / 2
        radius = min(radius_m, before / half, after / half)
        tangent = radius * half
        start = p[k] - into * tangent
        length += float(np.linalg.norm(start - points[-1]))
        bends.append(Bend(length, turn, radius))
        normal = out - into * math.cos(turn)
        normal /= np.linalg.norm(normal)
        for angle in np.linspace(0, turn, per_bend + 1):
            points.append(
                start + radius * (math.sin(angle) * into + (1 - math.cos(angle)) * normal)
            )
        length += radius * turn
    length += float(np.linalg.norm(p[-1] - points[-1]))
    points.append(p[-1])
    kept = [points[0]]
    kept += [b for a, b in zip(points, points[1:], strict=False) if np.linalg.norm(b - a) > 1e-9]
    return np.array(kept), length, tuple(bends)


def over_the_front(
    outlet: ArrayLike,
    inlet: ArrayLike,
    front_m: float,
    side_inlet: bool,
    hose: Hose,
    push_m: float,
    over_m: float = 0.0,
) -> HosePath:
    """Up out of the cyclone, across and forward, down, and back into the vacuum.

    Parameters
    ----------
    outlet, inlet
        Middles of the two mouths, shape (3,) [m].
    front_m
        y of the foremost part that the falling hose must pass in front of.
    side_inlet
        The inlet faces the front; otherwise it faces up.
    push_m
        Hose pushed onto both ends together.
    over_m
        Height of what lies on the way from one to the other.
    """
    bore = hose.bore.best_si
    radius = bend_m(hose)
    a, b = np.asarray(outlet, dtype=float), np.asarray(inlet, dtype=float)
    outside = outside_m(hose)
    # A stiff end goes straight for a little before the hose bends.
    straight = bore / 2
    roof = max(a[2], over_m + outside) + radius + straight
    # Two quarter turns side by side need two radii of level way between them.
    ahead = math.sqrt(max((2 * radius) ** 2 - (a[0] - b[0]) ** 2, 0.0))
    if side_inlet:
        down = min(b[1] - radius - straight, front_m - outside, a[1] - ahead)
        corners = [a, [a[0], a[1], roof], [b[0], down, roof], [b[0], down, b[2]], b]
    else:
        down = min(b[1], front_m - outside)
        if math.hypot(a[0] - b[0], a[1] - down) < 2 * radius:
            down = min(down, a[1] - ahead)
        corners = [a, [a[0], a[1], roof], [b[0], down, roof]]
        if down < b[1] - 1e-4:
            # Two equal bends that shift it back over the inlet: 2 R (1 - cos) is the shift.
            shift = b[1] - down
            turn = math.acos(max(1 - shift / (2 * radius), 0.0))
            foot = b[2] + straight + radius * math.tan(turn / 2)
            rise = 2 * radius * math.tan(turn / 2) * math.cos(turn)
            corners += [[b[0], down, foot + rise], [b[0], b[1], foot]]
        corners.append(b)
    points, length, bends = rounded(np.array(corners), radius)
    return HosePath(points, length, length + push_m, bore, bends)
