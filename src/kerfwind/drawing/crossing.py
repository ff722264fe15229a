"""Where surfaces of different bodies run through each other: the lines to draw there."""

from __future__ import annotations

import numpy as np

from .mesh import Ints, Mesh
from .overlap import Floats


def crossing_segments(mesh: Mesh) -> tuple[Floats, Ints]:
    """Segments in which triangles of two bodies cross, and the first body of each.

    Bodies that only touch have none. Each pair of triangles whose boxes meet is cut with
    the other's plane; what the two cuts share is the segment (Möller 1997; cited from
    memory).

    Returns
    -------
    segments, body
        Shapes (k, 2, 3) [m] and (k,).
    """
    corners = mesh.points[mesh.triangles]
    low, high = corners.min(axis=1), corners.max(axis=1)
    size = float(np.ptp(mesh.points, axis=0).max()) or 1.0
    i, j = _meeting(low, high, mesh.body, 1e-6 * size)
    slack = 1e-5 * size
    a, b = corners[i], corners[j]
    da, db = _heights(a, b[:, 0], mesh.normals[j]), _heights(b, a[:, 0], mesh.normals[i])
    through = np.ones(len(i), dtype=bool)
    for d in (da, db):
        through &= (d.max(axis=1) > slack) & (d.min(axis=1) < -slack)
    i, j = i[through], j[through]
    a, b, da, db = (v[through] for v in (a, b, da, db))
    along = np.cross(mesh.normals[i], mesh.normals[j])
    norm = np.linalg.norm(along, axis=1, keepdims=True)
    along /= np.where(norm > 0, norm, 1.0)
    cuts = [_cut(a, da), _cut(b, db)]
    spans = [np.sort(np.einsum("kpi,ki->kp", c, along), axis=1) for c in cuts]
    start = np.maximum(spans[0][:, 0], spans[1][:, 0])
    end = np.minimum(spans[0][:, 1], spans[1][:, 1])
    # Any point of the line gives its place; the spans give how far along it.
    foot = cuts[0][:, 0] - np.einsum("ki,ki->k", cuts[0][:, 0], along)[:, None] * along
    made = np.stack([foot + start[:, None] * along, foot + end[:, None] * along], axis=1)
    real = (end - start > slack) & (norm[:, 0] > 1e-6)
    return made[real], mesh.body[i[real]]


def _meeting(low: Floats, high: Floats, body: Ints, slack: float) -> tuple[Ints, Ints]:
    """Pairs of triangles of different bodies (lower body first) whose boxes overlap."""
    starts = np.nonzero(np.diff(body, prepend=-1))[0]
    stops = np.append(starts[1:], len(body))
    low_b = np.array([low[s:e].min(axis=0) for s, e in zip(starts, stops, strict=True)])
    high_b = np.array([high[s:e].max(axis=0) for s, e in zip(starts, stops, strict=True)])
    first, second = [np.zeros(0, dtype=np.intp)], [np.zeros(0, dtype=np.intp)]
    for m in range(len(starts)):
        for n in range(m + 1, len(starts)):
            lo = np.maximum(low_b[m], low_b[n]) - slack
            hi = np.minimum(high_b[m], high_b[n]) + slack
            if (lo + 3 * slack >= hi).any():
                continue
            p = starts[m] + _touching(low, high, starts[m], stops[m], lo, hi)
            q = starts[n] + _touching(low, high, starts[n], stops[n], lo, hi)
            meet = (low[p, None] < high[None, q]).all(axis=2)
            meet &= (high[p, None] > low[None, q]).all(axis=2)
            x, y = np.nonzero(meet)
            first.append(p[x])
            second.append(q[y])
    return np.concatenate(first), np.concatenate(second)


def _touching(low: Floats, high: Floats, start: int, stop: int, lo: Floats, hi: Floats) -> Ints:
    inside = (low[start:stop] < hi).all(axis=1) & (high[start:stop] > lo).all(axis=1)
    return np.nonzero(inside)[0]


def _heights(triangles: Floats, foot: Floats, normals: Floats) -> Floats:
    return np.asarray(np.einsum("kpi,ki->kp", triangles - foot[:, None], normals))


def _cut(triangles: Floats, heights: Floats) -> Floats:
    """The two points where each triangle crosses height zero, shape (k, 2, 3)."""
    above = heights > 0
    lone = np.where(above.sum(axis=1) == 1, above.argmax(axis=1), (~above).argmax(axis=1))
    turn = (lone[:, None] + np.arange(3)) % 3
    p = np.take_along_axis(triangles, turn[..., None], axis=1)
    h = np.take_along_axis(heights, turn, axis=1)
    s, t = h[:, 0] / (h[:, 0] - h[:, 1]), h[:, 0] / (h[:, 0] - h[:, 2])
    one = p[:, 0] + s[:, None] * (p[:, 1] - p[:, 0])
    two = p[:, 0] + t[:, None] * (p[:, 2] - p[:, 0])
    return np.stack([one, two], axis=1)
