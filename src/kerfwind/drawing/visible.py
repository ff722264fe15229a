"""What of edges and faces can be seen: exact, by pairs of edges and triangles.

On paper both the depth of an edge and the depth of a triangle's plane are affine (see
``View.project``), so the part of an edge hidden by a triangle is one interval, cut out by
three sides of the triangle and by the place where the edge passes through its plane.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .mesh import Ints, Mesh
from .overlap import Floats

_STEEP = 0.004  # a triangle seen more edge-on than this hides nothing worth drawing


@dataclass(frozen=True)
class Screen:
    """The mesh on paper.

    ``front`` marks triangles that face the eye; ``plane`` holds a, b, c of each one's
    depth ``a x + b y + c``; ``hides`` are the numbers of those that can hide something.
    """

    xyd: Floats
    front: NDArray[np.bool_]
    plane: Floats
    hides: Ints
    size: float

    @property
    def depth_slack(self) -> float:
        """Depths nearer than this count as touching."""
        return 2e-5 * self.size


def screen_of(mesh: Mesh, xyd: Floats) -> Screen:
    """Facing and depth planes of all triangles."""
    size = float(np.ptp(xyd[:, :2], axis=0).max()) or 1.0
    a, b, c = (xyd[mesh.triangles[:, i]] for i in range(3))
    u, v = b - a, c - a
    area = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    p, q, r = (mesh.points[mesh.triangles[:, i]] for i in range(3))
    true_area = np.linalg.norm(np.cross(q - p, r - p), axis=1)
    front = area > 1e-6 * true_area
    clear = area > _STEEP * true_area
    safe = np.where(np.abs(area) > 1e-15, area, 1.0)
    pa = (u[:, 2] * v[:, 1] - u[:, 1] * v[:, 2]) / safe
    pb = (u[:, 0] * v[:, 2] - u[:, 2] * v[:, 0]) / safe
    pc = a[:, 2] - pa * a[:, 0] - pb * a[:, 1]
    return Screen(xyd, front, np.stack([pa, pb, pc], axis=1), np.nonzero(clear)[0], size)


def _owner(mesh: Mesh, screen: Screen) -> Ints:
    return mesh.body[screen.hides]


def _bounds(xyd: Floats, numbers: Ints) -> tuple[Floats, Floats]:
    corners = xyd[numbers]
    return corners.min(axis=1), corners.max(axis=1)


def near_pairs(
    low_a: Floats, high_a: Floats, low_b: Floats, high_b: Floats, group_b: Ints, slack: float
) -> tuple[Ints, Ints]:
    """Pairs whose boxes meet on paper and where b is not wholly behind a.

    ``group_b`` numbers the body of each b, in rising order: whole bodies are ruled out first.
    """
    first, second = [np.zeros(0, dtype=np.intp)], [np.zeros(0, dtype=np.intp)]
    starts = np.nonzero(np.diff(group_b, prepend=-1))[0]
    for start, stop in zip(starts, np.append(starts[1:], len(group_b)), strict=True):
        lb, hb = low_b[start:stop], high_b[start:stop]
        i = np.nonzero(_meet(low_a, high_a, lb.min(axis=0), hb.max(axis=0), slack))[0]
        if not len(i):
            continue
        x, j = np.nonzero(_meet(low_a[i, None], high_a[i, None], lb, hb, slack))
        first.append(i[x])
        second.append(j + start)
    return np.concatenate(first), np.concatenate(second)


def _meet(
    low_a: Floats, high_a: Floats, low_b: Floats, high_b: Floats, slack: float
) -> NDArray[np.bool_]:
    meet: NDArray[np.bool_] = low_a[..., 0] < high_b[..., 0]
    meet &= high_a[..., 0] > low_b[..., 0]
    meet &= low_a[..., 1] < high_b[..., 1]
    meet &= high_a[..., 1] > low_b[..., 1]
    meet &= high_a[..., 2] > low_b[..., 2] + slack
    return meet


def hidden_intervals(mesh: Mesh, screen: Screen, ends: Floats) -> list[list[tuple[float, float]]]:
    """For each line, shape (k, 2, 3) on paper, the merged intervals of 0..1 that are hidden."""
    xyd = screen.xyd
    tri = mesh.triangles[screen.hides]
    grow = np.asarray((1e-9, 1e-9, 0.0)) * screen.size
    low_t, high_t = _bounds(xyd, tri)
    low_e, high_e = ends.min(axis=1) - grow, ends.max(axis=1) + grow
    group = _owner(mesh, screen)
    e, t = near_pairs(low_e, high_e, low_t, high_t, group, screen.depth_slack)
    p, q = ends[e, 0], ends[e, 1]
    start, end = np.zeros(len(e)), np.ones(len(e))
    corners = [xyd[tri[t, i]] for i in range(3)]
    for i in range(3):
        a, b = corners[i], corners[(i + 1) % 3]
        side = b[:, :2] - a[:, :2]
        side /= np.linalg.norm(side, axis=1, keepdims=True)
        _cut(start, end, _cross(side, p - a), _cross(side, q - a), -1e-9 * screen.size)
    plane = screen.plane[screen.hides[t]]
    behind_p = p[:, 2] - (plane[:, 0] * p[:, 0] + plane[:, 1] * p[:, 1] + plane[:, 2])
    behind_q = q[:, 2] - (plane[:, 0] * q[:, 0] + plane[:, 1] * q[:, 1] + plane[:, 2])
    _cut(start, end, behind_p, behind_q, screen.depth_slack)
    length = np.linalg.norm((q - p)[:, :2], axis=1)
    real = (end - start) * length > 1e-7 * screen.size
    return merged(e[real], start[real], end[real], len(ends))


def _cross(u: Floats, v: Floats) -> Floats:
    return np.asarray(u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0])


def _cut(start: Floats, end: Floats, at_p: Floats, at_q: Floats, least: float) -> None:
    """Narrow [start, end] to where the value that runs from at_p to at_q exceeds least."""
    f, g = at_p - least, at_q - least
    step = g - f
    with np.errstate(divide="ignore", invalid="ignore"):
        root = np.where(step != 0, -f / step, 0.0)
    np.copyto(start, np.maximum(start, root), where=(f <= 0) & (g > 0))
    np.copyto(end, np.minimum(end, root), where=(f > 0) & (g <= 0))
    np.copyto(end, -1.0, where=(f <= 0) & (g <= 0))


def merged(edge: Ints, start: Floats, end: Floats, count: int) -> list[list[tuple[float, float]]]:
    found: list[list[tuple[float, float]]] = [[] for _ in range(count)]
    order = np.lexsort((start, edge))
    for e, s, t in zip(
        edge[order].tolist(), start[order].tolist(), end[order].tolist(), strict=True
    ):
        row = found[e]
        if row and s <= row[-1][1] + 1e-6:
            if t > row[-1][1]:
                row[-1] = (row[-1][0], t)
        else:
            row.append((s, t))
    return found


def gaps(intervals: list[tuple[float, float]], least: float) -> list[tuple[float, float]]:
    """What the intervals leave of 0..1, pieces longer than ``least``."""
    left, at = [], 0.0
    for s, t in intervals:
        if s - at > least:
            left.append((at, s))
        at = max(at, t)
    if 1.0 - at > least:
        left.append((at, 1.0))
    return left


def visible_faces(mesh: Mesh, screen: Screen) -> list[tuple[int, list[Floats]]]:
    """Visible part of each flat face that faces the eye: its number and its loops.

    Everything in front of a face is taken away from it: whole silhouettes of bodies that
    lie wholly on the near side of its plane, whole faces that do, and of the faces that
    pass through its plane the nearer part of each triangle.
    """
    from manifold3d import CrossSection, FillRule

    slack = screen.depth_slack
    order = screen.hides[np.lexsort((mesh.face[screen.hides], mesh.body[screen.hides]))]
    first = np.nonzero(np.diff(mesh.face[order], prepend=-1))[0]
    last = np.append(first[1:], len(order))
    rank = np.repeat(np.arange(len(first)), last - first)
    corners = screen.xyd[mesh.triangles[order]]
    low_t, high_t = corners.min(axis=1), corners.max(axis=1)
    low, high = np.minimum.reduceat(low_t, first), np.maximum.reduceat(high_t, first)
    body = mesh.body[order[first]]
    planes = screen.plane[order[first]]
    outlines = [
        CrossSection(list(corners[a:b, :, :2]), FillRule.NonZero)
        for a, b in zip(first, last, strict=True)
    ]
    loops = [outline.to_polygons() for outline in outlines]
    silhouettes, before, apart = _bodies_in_front(mesh, screen, planes, low, high, body, loops)
    f, t = near_pairs(low, high, low_t, high_t, mesh.body[order], slack)
    open_pair = ~apart[f, mesh.body[order[t]]] & (rank[t] != f)
    f, t = f[open_pair], t[open_pair]
    gap = np.einsum("kij,kj->ki", corners[t, :, :2], planes[f, :2]) + planes[f, 2:]
    gap -= corners[t, :, 2] + slack
    some = (gap > 0).any(axis=1)
    f, t, gap = f[some], t[some], gap[some]
    whole = (gap > 0).all(axis=1)
    parts = _nearer_parts(corners[t[~whole], :, :2], gap[~whole])
    cutters: list[list[Floats]] = [
        [loop for b in np.nonzero(row)[0].tolist() for loop in silhouettes[b]] for row in before
    ]
    for n, part in zip(f[~whole].tolist(), parts, strict=True):
        cutters[n].append(part)
    near_faces = np.unique(np.stack([f[whole], t[whole]], axis=1), axis=0)
    for n, k in near_faces.tolist():
        cutters[n].append(corners[k, :, :2])
    least = (6e-4 * screen.size) ** 2
    found: list[tuple[int, list[Floats]]] = []
    for n, shape in enumerate(outlines):
        if cutters[n]:
            shape = shape - CrossSection(cutters[n], FillRule.NonZero)
            kept = [np.asarray(loop) for loop in shape.to_polygons()]
        else:
            kept = [np.asarray(loop) for loop in loops[n]]
        kept = [loop for loop in kept if abs(area_of(loop)) > least]
        if kept:
            found.append((int(mesh.face[order[first[n]]]), kept))
    return found


def _bodies_in_front(
    mesh: Mesh,
    screen: Screen,
    planes: Floats,
    low: Floats,
    high: Floats,
    body: Ints,
    loops: list[list[Floats]],
) -> tuple[dict[int, list[Floats]], NDArray[np.bool_], NDArray[np.bool_]]:
    """Silhouettes of the bodies; faces by bodies: wholly in front, and settled either way."""
    from manifold3d import CrossSection, FillRule

    slack = screen.depth_slack
    count = int(mesh.body.max()) + 1
    silhouettes = {}
    for b in np.unique(body).tolist():
        mine = np.nonzero(body == b)[0]
        shape = CrossSection([loop for n in mine for loop in loops[n]], FillRule.NonZero)
        silhouettes[b] = [np.asarray(loop) for loop in shape.to_polygons()]
    of_point = np.zeros(len(mesh.points), dtype=np.intp)
    of_point[mesh.triangles] = mesh.body[:, None]
    starts = np.searchsorted(of_point, np.arange(count))
    xyd = screen.xyd
    stops = np.append(starts[1:], len(xyd))
    low_b, high_b = np.minimum.reduceat(xyd, starts), np.maximum.reduceat(xyd, starts)
    apart = (low[:, None, :2] >= high_b[None, :, :2]) | (high[:, None, :2] <= low_b[None, :, :2])
    meets = np.asarray(~apart.any(axis=2))
    far = high[:, None, 2] <= low_b[None, :, 2]
    near = np.zeros_like(far)
    for b in range(count):
        rows = np.nonzero(meets[:, b] & ~far[:, b])[0]
        spots = xyd[starts[b] : stops[b]]
        gap = planes[rows, :2] @ spots[:, :2].T + planes[rows, 2:] - spots[:, 2]
        near[rows, b] = gap.min(axis=1) > slack
        far[rows, b] = gap.max(axis=1) <= slack
    drawn = np.isin(np.arange(count), body)
    return silhouettes, near & meets & drawn, near | far | ~meets


def _nearer_parts(triangles: Floats, gap: Floats) -> Floats:
    """Parts of triangles (k, 3, 2) where ``gap`` is positive, shape (k, 4, 2).

    Each has corners on both sides; one with a single near corner repeats its last point.
    """
    positive = gap > 0
    one = positive.sum(axis=1) == 1
    # The corner that is alone on its side comes first.
    alone = np.argmax(np.where(one[:, None], positive, ~positive), axis=1)
    turn = (alone[:, None] + np.arange(3)) % 3
    p = np.take_along_axis(triangles, turn[..., None], axis=1)
    g = np.take_along_axis(gap, turn, axis=1)
    a = p[:, 0] + (g[:, 0] / (g[:, 0] - g[:, 1]))[:, None] * (p[:, 1] - p[:, 0])
    b = p[:, 0] + (g[:, 0] / (g[:, 0] - g[:, 2]))[:, None] * (p[:, 2] - p[:, 0])
    few = np.stack([p[:, 0], a, b, b], axis=1)
    many = np.stack([a, p[:, 1], p[:, 2], b], axis=1)
    return np.asarray(np.where(one[:, None, None], few, many))


def area_of(loop: Floats) -> float:
    x, y = loop[:, 0], loop[:, 1]
    twice = x[:-1] @ y[1:] - x[1:] @ y[:-1] + x[-1] * y[0] - x[0] * y[-1]
    return float(twice) / 2


def nearest_depth(mesh: Mesh, screen: Screen, points: Floats) -> Floats:
    """Depth of the nearest surface at each point on paper; infinite where there is none."""
    xyd = screen.xyd
    tri = mesh.triangles[screen.hides]
    low, high = _bounds(xyd, tri)
    flat = np.concatenate([points, np.full((len(points), 1), np.inf)], axis=1)
    i, t = near_pairs(flat, flat, low, high, _owner(mesh, screen), 0.0)
    inside = np.ones(len(i), dtype=bool)
    for k in range(3):
        a, b = xyd[tri[t, k]], xyd[tri[t, (k + 1) % 3]]
        inside &= _cross((b - a)[:, :2], points[i] - a[:, :2]) >= 0
    i, t = i[inside], t[inside]
    plane = screen.plane[screen.hides[t]]
    depth = plane[:, 0] * points[i, 0] + plane[:, 1] * points[i, 1] + plane[:, 2]
    nearest = np.full(len(points), np.inf)
    np.minimum.at(nearest, i, depth)
    return nearest
