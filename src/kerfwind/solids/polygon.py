"""Plane polygons with holes, cut into triangles."""

from __future__ import annotations

import math
from functools import lru_cache

Point = tuple[float, float]
Loop = tuple[Point, ...]


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _inside(a: Point, b: Point, c: Point, p: Point) -> bool:
    return _turn(a, b, p) >= 0 and _turn(b, c, p) >= 0 and _turn(c, a, p) >= 0


def _crosses(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether segments ab and cd cross properly."""
    return (_turn(a, b, c) > 0) != (_turn(a, b, d) > 0) and (
        (_turn(c, d, a) > 0) != (_turn(c, d, b) > 0)
    )


def _bridge(ring: list[int], hole: list[int], points: list[Point], blocks: list[Loop]) -> list[int]:
    """Join a hole to the ring by the shortest line between them that nothing crosses."""
    pairs = sorted(
        (math.dist(points[r], points[h]), i, j)
        for i, r in enumerate(ring)
        for j, h in enumerate(hole)
    )
    for _, i, j in pairs:
        a, b = points[ring[i]], points[hole[j]]
        if not any(
            _crosses(a, b, c, d)
            for loop in blocks
            for c, d in zip(loop, loop[1:] + loop[:1], strict=True)
            if a not in (c, d) and b not in (c, d)
        ):
            return ring[: i + 1] + hole[j:] + hole[: j + 1] + ring[i:]
    raise ValueError("a hole lies outside its outline")


@lru_cache(maxsize=512)
def triangulate(outline: Loop, holes: tuple[Loop, ...] = ()) -> tuple[tuple[int, int, int], ...]:
    """Triangles over the points of ``outline`` followed by those of each hole.

    Holes are bridged to the outline and ears are clipped (Meisters 1975).

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
    points = [*outline, *(p for hole in holes for p in hole)]
    ring = list(range(len(outline)))
    blocks = [outline, *holes]
    start = len(outline)
    waiting = []
    for hole in holes:
        waiting.append(list(range(start, start + len(hole))))
        start += len(hole)
    waiting.sort(key=lambda h: -max(points[i][0] for i in h))
    for hole_points in waiting:
        ring = _bridge(ring, hole_points, points, blocks)
    triangles: list[tuple[int, int, int]] = []
    while len(ring) > 3:
        best = -1
        for k in range(len(ring)):
            i, j, m = ring[k - 1], ring[k], ring[(k + 1) % len(ring)]
            a, b, c = points[i], points[j], points[m]
            if _turn(a, b, c) <= 1e-15:
                continue
            low_x, high_x = min(a[0], b[0], c[0]), max(a[0], b[0], c[0])
            if not any(
                low_x <= points[n][0] <= high_x
                and points[n] not in (a, b, c)
                and _inside(a, b, c, points[n])
                for n in ring
            ):
                best = k
                triangles.append((i, j, m))
                break
        if best < 0:
            flat = [
                k
                for k in range(len(ring))
                if abs(
                    _turn(points[ring[k - 1]], points[ring[k]], points[ring[(k + 1) % len(ring)]])
                )
                <= 1e-15
            ]
            if not flat:
                raise ValueError("the outline crosses itself")
            k = flat[0]
            triangles.append((ring[k - 1], ring[k], ring[(k + 1) % len(ring)]))
            best = k
        ring.pop(best)
    triangles.append((ring[0], ring[1], ring[2]))
    return tuple(triangles)
