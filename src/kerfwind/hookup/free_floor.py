"""Where the unit may stand: clear of walls and of the tools' outlines.

The unit is a rectangle that lies along the room or across it. Its middle may be anywhere
within the walls, drawn in by half its sides, and outside of every outline, widened by the
same: the sum of two convex shapes, whose corners are sums of theirs.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from ..shop import Shop, Tool
from ..shop.tool_faults import corners
from ..sources import fact
from .ends import Floats

Point = tuple[float, float]
_TINY = 1e-9


#: Numbers in one array at most: many tools would else fill the memory.
_BLOCK = 1_000_000


def in_blocks(rows: int, columns: int) -> Iterator[slice]:
    """Some rows at a time of a table too large to be held whole."""
    size = max(1, _BLOCK // max(1, columns))
    for begin in range(0, rows, size):
        yield slice(begin, begin + size)


@dataclass(frozen=True)
class Outline:
    """A tool's outline seen from above, corners [m] counter-clockwise."""

    name: str
    corners: tuple[Point, ...]


@dataclass(frozen=True)
class FreeFloor:
    """Free floor for the unit lying one way.

    Attributes
    ----------
    turned
        Whether its length lies across the room.
    area
        Left, front, right and back of where its middle may be.
    blocked
        For each outline the polygon that its middle may not be in, shape (n, 2).
    edges
        Edges of area and polygons, shape (m, 2, 2).
    corners
        Their corners and crossings that are free, shape (k, 2).
    normals, offsets, starts
        Inward normals of all polygons' edges, their distances from the room's corner, and
        where each polygon's edges begin.
    """

    turned: bool
    area: tuple[float, float, float, float]
    blocked: tuple[Floats, ...]
    edges: Floats
    corners: Floats
    normals: Floats
    offsets: Floats
    starts: NDArray[np.int64]

    def free(self, spots: Floats) -> NDArray[np.bool_]:
        """Which of the spots, shape (n, 2), the unit's middle may be at."""
        left, front, right, back = self.area
        x, y = spots[:, 0], spots[:, 1]
        ok = (x >= left - _TINY) & (x <= right + _TINY) & (y >= front - _TINY) & (y <= back + _TINY)
        if self.blocked:
            # Strictly inside a convex polygon is left of all its edges; borders are free.
            for few in in_blocks(len(spots), len(self.offsets)):
                depth = spots[few] @ self.normals.T - self.offsets
                ok[few] &= ~(np.minimum.reduceat(depth, self.starts, axis=1) > 1e-7).any(axis=1)
        return np.asarray(ok)

    def crossings(self, at: Floats, radius: Floats) -> Floats:
        """Where circles, shape (n, 2) and (n,), cross the edges; shape (k, 2)."""
        a, way = self.edges[:, 0], self.edges[:, 1] - self.edges[:, 0]
        from_ = a[None] - at[:, None]
        square = np.maximum((way**2).sum(axis=1)[None], 1e-18)
        half = (from_ * way[None]).sum(axis=2)
        rest = (from_**2).sum(axis=2) - radius[:, None] ** 2
        under = half**2 - square * rest
        root = np.sqrt(np.maximum(under, 0.0))
        points = []
        for sign in (-1.0, 1.0):
            t = (-half + sign * root) / square
            circle, edge = np.nonzero((under >= 0) & (t >= -_TINY) & (t <= 1 + _TINY))
            points.append(a[edge] + t[circle, edge][:, None] * way[edge])
        return np.concatenate(points)


def outlines(shop: Shop) -> tuple[Outline, ...]:
    """Outlines of the tools that have one."""
    return tuple(
        Outline(t.name, tuple(corners(*middle(t), t.size, t.place.turn.best_si)))
        for t in shop.tools
        if t.place is not None and t.size is not None
    )


def middle(tool: Tool) -> Point:
    """Where a tool with a place stands [m]."""
    assert tool.place is not None
    return tool.place.x.best_si, tool.place.y.best_si


def free_floors(
    shop: Shop, footprint_m: tuple[float, float] | None = None
) -> tuple[FreeFloor, ...]:
    """Free floor for the unit along the room, and across where that differs.

    Parameters
    ----------
    footprint_m
        Length and width of the unit; by default the largest that the shop allows.
    """
    wishes = shop.wishes
    size = footprint_m or (wishes.largest_length.best_si, wishes.largest_width.best_si)
    room = (shop.room.length.best_si, shop.room.width.best_si)
    stand = outlines(shop)
    ways = [False] if abs(size[0] - size[1]) < 0.01 else [False, True]
    return tuple(_free_floor(turned, size, room, stand) for turned in ways)


@lru_cache(maxsize=8)
def _free_floor(turned: bool, size: Point, room: Point, stand: tuple[Outline, ...]) -> FreeFloor:
    a, b = (size[1], size[0]) if turned else size
    half = (min(a / 2, room[0] / 2), min(b / 2, room[1] / 2))
    area = (half[0], half[1], room[0] - half[0], room[1] - half[1])
    play = fact("hookup.park_play").value
    grown = [_grown(o.corners, a / 2 + play, b / 2 + play) for o in stand]
    left, front, right, back = area
    box = np.array([(left, front), (right, front), (right, back), (left, back)])
    loops = [box, *grown]
    edges = np.concatenate([np.stack([p, np.roll(p, -1, axis=0)], axis=1) for p in loops])
    way = edges[4:, 1] - edges[4:, 0]
    normals = np.stack([-way[:, 1], way[:, 0]], axis=1)
    normals /= np.maximum(np.hypot(way[:, 0], way[:, 1]), _TINY)[:, None]
    offsets = (normals * edges[4:, 0]).sum(axis=1)
    starts = np.cumsum([0, *(len(p) for p in grown)])[:-1]
    bare = FreeFloor(turned, area, tuple(grown), edges, box, normals, offsets, starts)
    spots = np.concatenate([*loops, _meetings(edges)])
    return replace(bare, corners=spots[bare.free(spots)])


@lru_cache(maxsize=256)
def _grown(outline: tuple[Point, ...], along: float, across: float) -> Floats:
    """An outline widened by a rectangle of these half sides."""
    return _hull(
        [(x + i * along, y + j * across) for x, y in outline for i in (-1, 1) for j in (-1, 1)]
    )


def _hull(points: list[Point]) -> Floats:
    """Convex hull, counter-clockwise (Andrew's monotone chain)."""
    ordered = sorted(set(points))
    halves: list[list[Point]] = []
    for way in (ordered, ordered[::-1]):
        chain: list[Point] = []
        for p in way:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], p) <= 1e-12:
                chain.pop()
            chain.append(p)
        halves.append(chain[:-1])
    return np.array(halves[0] + halves[1])


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _meetings(edges: Floats) -> Floats:
    """Where edges cross one another, shape (k, 2)."""
    a, way = edges[:, 0], edges[:, 1] - edges[:, 0]
    cross = way[:, None, 0] * way[None, :, 1] - way[:, None, 1] * way[None, :, 0]
    between = a[None] - a[:, None]
    with np.errstate(divide="ignore", invalid="ignore"):
        t = (between[..., 0] * way[None, :, 1] - between[..., 1] * way[None, :, 0]) / cross
        u = (between[..., 0] * way[:, None, 1] - between[..., 1] * way[:, None, 0]) / cross
    ok = (np.abs(cross) > 1e-12) & (t >= 0) & (t <= 1) & (u >= 0) & (u <= 1)
    first, _ = np.nonzero(np.triu(ok, 1))
    return np.asarray(a[first] + t[np.triu(ok, 1)][:, None] * way[first])


def distance(x_m: float, y_m: float, tool: Tool) -> float:
    """From a spot to a tool's middle [m]."""
    x, y = middle(tool)
    return math.hypot(x_m - x, y_m - y)
