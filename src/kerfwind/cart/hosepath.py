"""The link hose from the separator's outlet to the vacuum's inlet."""

from __future__ import annotations

import math
from collections.abc import Sequence

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


#: Wood that a hose falls in front of: its front edge's y, and its lowest and highest z [m].
Edge = tuple[float, float, float]

#: Steps in which a fall is moved forward until it is clear, and how far at most [m].
_STEP_M, _MOST_M = 0.01, 0.5


def arcs(
    start: ArrayLike,
    ahead: ArrayLike,
    pieces: Sequence[tuple[float, float]],
    radius_m: float,
    last_m: float,
    per_quarter: int = 12,
) -> tuple[NDArray[np.float64], float, tuple[Bend, ...]]:
    """A line in one upright plane: it begins upwards, and each piece is a straight and a bend.

    Parameters
    ----------
    start, ahead
        Where it begins, and the level unit vector of the plane, shape (3,).
    pieces
        Straight length [m], then the angle turned from upwards to ahead [rad], negative for
        the other way.
    last_m
        Straight length at the end.

    Returns
    -------
    points, length, bends
        As from `rounded`.
    """
    at, h = np.asarray(start, dtype=float), np.asarray(ahead, dtype=float)
    up = np.array([0.0, 0.0, 1.0])
    heading, length = 0.0, 0.0
    points = [at]
    bends = []
    for straight, turn in pieces:
        along = math.sin(heading) * h + math.cos(heading) * up
        at = at + straight * along
        length += straight
        bends.append(Bend(length, abs(turn), radius_m))
        sense = math.copysign(1.0, turn)
        inward = sense * (math.cos(heading) * h - math.sin(heading) * up)
        points.append(at)
        count = max(math.ceil(abs(turn) / (math.pi / 2) * per_quarter), 1)
        for angle in np.linspace(0, abs(turn), count + 1)[1:]:
            points.append(
                at + radius_m * (math.sin(angle) * along + (1 - math.cos(angle)) * inward)
            )
        at = points[-1]
        heading += turn
        length += radius_m * abs(turn)
    points.append(at + last_m * (math.sin(heading) * h + math.cos(heading) * up))
    kept = [points[0]]
    kept += [b for a, b in zip(points, points[1:], strict=False) if np.linalg.norm(b - a) > 1e-9]
    return np.array(kept), length + last_m, tuple(b for b in bends if b.turn_rad > 1e-6)


def _leaning(
    a: NDArray[np.float64],
    b: NDArray[np.float64],
    rise: float,
    radius: float,
    straight: float,
    side_inlet: bool,
    edges: Sequence[Edge],
    outside: float,
) -> tuple[NDArray[np.float64], float, tuple[Bend, ...]] | None:
    """The shortest line of two bends straight ahead from one mouth to the other, if it is clear.

    Both bends are arcs of ``radius`` with their common tangent between them: the shortest
    there is without bending tighter (L. E. Dubins, American Journal of Mathematics 79, 1957,
    from memory). None where no such line clears the edges.
    """
    ahead = np.array([0.0, -1.0, 0.0])
    level, drop = a[1] - b[1], b[2] - (a[2] + rise)
    out = straight
    while out < straight + _MOST_M:
        if side_inlet:
            # Same sense: over to the front, down, and back into the inlet, 270° in all.
            d = np.array([level + out - radius, drop + radius])
            length, first = math.hypot(*d), math.atan2(d[0], d[1]) % (2 * math.pi)
            second = 1.5 * math.pi - first
        elif level >= 2 * radius:
            d = np.array([level - 2 * radius, drop + out])
            length, first = math.hypot(*d), math.atan2(d[0], d[1]) % (2 * math.pi)
            second = math.pi - first
        else:
            d = np.array([level, drop + out])
            apart = math.hypot(*d)
            if apart < 2 * radius:
                return None
            length = math.sqrt(apart**2 - 4 * radius**2)
            first = (math.atan2(d[0], d[1]) + math.asin(2 * radius / apart)) % (2 * math.pi)
            second = math.pi - first
        if not math.pi / 2 <= first <= 1.5 * math.pi:
            return None
        laid = arcs(a, ahead, [(rise, first), (length, second)], radius, out)
        if all(_clear(laid[0], edge, outside) for edge in edges):
            return laid
        if not side_inlet:
            return None
        out += _STEP_M
    return None


def _clear(points: NDArray[np.float64], edge: Edge, outside: float) -> bool:
    """Whether the middle line keeps a hose's half from all that lies behind an edge.

    In the plane of y and z that is a level strip without end, nearest at its two corners or
    at a point of the line.
    """
    y, low, high = edge
    a, b = points[:-1, 1:], points[1:, 1:]
    ends = points[:, 1:]
    away = np.hypot(
        np.maximum(y - ends[:, 0], 0.0),
        np.maximum(np.maximum(low - ends[:, 1], ends[:, 1] - high), 0.0),
    )
    apart = float(away.min())
    along = b - a
    reach = np.maximum(np.sum(along**2, axis=1), 1e-18)
    for z in (low, high):
        corner = np.array([y, z])
        share = np.clip(np.sum((corner - a) * along, axis=1) / reach, 0.0, 1.0)
        apart = min(apart, float(np.linalg.norm(a + share[:, None] * along - corner, axis=1).min()))
        through = (a[:, 1] - z) * (b[:, 1] - z) < 0
        rise = np.where(through, b[:, 1] - a[:, 1], 1.0)
        if np.any(through & (a[:, 0] + (z - a[:, 1]) / rise * along[:, 0] > y)):
            return False
    return apart >= outside - 1e-6


def over_the_front(
    outlet: ArrayLike,
    inlet: ArrayLike,
    front_m: float,
    side_inlet: bool,
    hose: Hose,
    push_m: float,
    over_m: float = 0.0,
    edges: Sequence[Edge] = (),
) -> HosePath:
    """Up out of the cyclone, across and forward, down, and back into the vacuum.

    Where outlet and inlet lie one before the other, the shortest line that clears ``edges``.

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
    edges
        What the falling hose passes in front of; without any it falls upright.
    """
    bore = hose.bore.best_si
    radius = bend_m(hose)
    a, b = np.asarray(outlet, dtype=float), np.asarray(inlet, dtype=float)
    outside = outside_m(hose)
    # A stiff end goes straight for a little before the hose bends.
    straight = bore / 2
    roof = max(a[2], over_m + outside) + radius + straight
    if edges and abs(a[0] - b[0]) < 1e-6:
        rise = roof - radius - float(a[2])
        short = _leaning(a, b, rise, radius, straight, side_inlet, edges, outside)
        if short is not None:
            points, length, bends = short
            return HosePath(points, length, length + push_m, bore, bends)
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
