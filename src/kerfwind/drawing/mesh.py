"""Bodies as triangles, and what a drawing needs of them: edges, creases, flat faces."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from kerfwind.solids import Body

from .overlap import Floats

Ints = NDArray[np.intp]


@dataclass(frozen=True)
class Mesh:
    """All bodies together.

    Attributes
    ----------
    points, triangles
        Corners and corner numbers.
    body
        Of each triangle.
    normals
        Unit outward normals of the triangles, shape (m, 3).
    edges
        Corner numbers, shape (k, 2); ``sides`` has the two triangles of each, -1 for none.
    sharp
        Whether the faces of an edge meet at more than the crease angle.
    face
        Number of the flat face each triangle belongs to.
    """

    points: Floats
    triangles: Ints
    body: Ints
    normals: Floats
    edges: Ints
    sides: Ints
    sharp: NDArray[np.bool_]
    face: Ints


def mesh_of(bodies: Sequence[Body], crease_deg: float = 28.0) -> Mesh:
    """Join the bodies: corners welded within each, windings made outward.

    Raises
    ------
    ValueError
        There is no body, or one has no triangles or corners that are not finite.
    """
    if not bodies:
        raise ValueError("no body was given to draw; give at least one")
    points, triangles, owner = [], [], []
    start = 0
    for n, body in enumerate(bodies):
        p, t = _clean(body)
        points.append(p)
        triangles.append(t + start)
        owner.append(np.full(len(t), n))
        start += len(p)
    xyz, tri = np.concatenate(points), np.concatenate(triangles)
    who = np.concatenate(owner)
    a, b, c = (xyz[tri[:, i]] for i in range(3))
    normals = np.cross(b - a, c - a)
    normals /= np.linalg.norm(normals, axis=1, keepdims=True)
    edges, sides = _edges(tri)
    paired = sides[:, 1] >= 0
    cosine = np.ones(len(edges))
    cosine[paired] = np.sum(normals[sides[paired, 0]] * normals[sides[paired, 1]], axis=1)
    sharp = ~paired | (cosine < np.cos(np.radians(crease_deg)))
    flat = paired & (cosine > 1 - 1e-7)
    return Mesh(xyz, tri, who, normals, edges, sides, sharp, _groups(len(tri), sides[flat]))


#: What was found of bodies drawn before, which come again moved: by name and triangles.
_KNOWN: dict[tuple[str, int], tuple[Ints, Ints, Ints]] = {}
_MOST_KNOWN = 512


def _clean(body: Body) -> tuple[Floats, Ints]:
    given = body.triangles
    key = (body.name, id(given))
    known = _KNOWN.get(key)
    if known is None or known[0] is not given:
        if len(_KNOWN) >= _MOST_KNOWN:
            _KNOWN.clear()
        known = _KNOWN[key] = (given, *_welded(body))
    _, corners, triangles = known
    return np.asarray(body.vertices, dtype=float).reshape(-1, 3)[corners], triangles


def _welded(body: Body) -> tuple[Ints, Ints]:
    """Corners that are kept, and triangles of them that have an area, wound outward."""
    p = np.asarray(body.vertices, dtype=float).reshape(-1, 3)
    t = np.asarray(body.triangles, dtype=np.intp).reshape(-1, 3)
    if not len(t) or not np.isfinite(p).all():
        raise ValueError(
            f"body {body.name!r} has {len(t)} triangles or a corner that is not a number; "
            "give a closed body with finite corners"
        )
    size = float(np.ptp(p, axis=0).max()) or 1.0
    # Three whole numbers of a millionth each in one: sorted far faster than rows.
    x, y, z = np.round((p - p.min(axis=0)) / (size * 1e-6)).astype(np.int64).T
    key = (x * 1_000_001 + y) * 1_000_001 + z
    _, first, new = np.unique(key, return_index=True, return_inverse=True)
    # In the order in which they were given: the same, whichever way the body lies.
    order = np.argsort(first)
    rank = np.empty_like(order)
    rank[order] = np.arange(len(order))
    keep = first[order]
    p, t = p[keep], rank[new.reshape(-1)][t]
    a, b, c = (p[t[:, i]] for i in range(3))
    area = np.linalg.norm(np.cross(b - a, c - a), axis=1)
    used, back = np.unique(t[area > 1e-12 * size * size], return_inverse=True)
    p, t = p[used], back.reshape(-1, 3)
    a, b, c = (p[t[:, i]] for i in range(3))
    if float(np.sum(a * np.cross(b, c))) < 0:
        t = t[:, ::-1]
    return keep[used], t


def _edges(tri: Ints) -> tuple[Ints, Ints]:
    pairs = np.concatenate([tri[:, (0, 1)], tri[:, (1, 2)], tri[:, (2, 0)]])
    of = np.tile(np.arange(len(tri)), 3)
    pairs = np.sort(pairs, axis=1)
    order = np.lexsort((of, pairs[:, 1], pairs[:, 0]))
    pairs, of = pairs[order], of[order]
    new = np.ones(len(pairs), dtype=bool)
    new[1:] = (pairs[1:] != pairs[:-1]).any(axis=1)
    first = np.nonzero(new)[0]
    count = np.diff(np.append(first, len(pairs)))
    second = np.where(count == 2, of[np.minimum(first + 1, len(of) - 1)], -1)
    return pairs[first], np.stack([of[first], second], axis=1)


def _groups(count: int, links: Ints) -> Ints:
    """Number of the connected group of each of ``count`` things joined by ``links``."""
    label = np.arange(count)
    if not len(links):
        return label
    while True:
        low = np.minimum(label[links[:, 0]], label[links[:, 1]])
        before = label.copy()
        np.minimum.at(label, links[:, 0], low)
        np.minimum.at(label, links[:, 1], low)
        label = label[label]
        if np.array_equal(before, label):
            return label
