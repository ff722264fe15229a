"""The shelf as an orthotropic plate with its opening, by finite elements."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..cart.model import SupportedPlate
from ..solids import equal_area

# Curvatures of a quintic are cubic, so that degree 6 integrates their products exactly.
_ORDER = 6

# About where a support begins stress is left out, within this share of the plate's width.
_PEAK = 0.1


@dataclass(frozen=True)
class Stiffness:
    """Bending stiffness per width of an orthotropic plate [N m]; 1 is along x.

    ``d66`` belongs to the twist κ_xy counted once: M_xy = 2 d66 w_xy.
    """

    d11: float
    d22: float
    d12: float
    d66: float

    @classmethod
    def plywood(
        cls, modulus_pa: float, ratio: float, shear_ratio: float, poisson: float, thickness_m: float
    ) -> Stiffness:
        """From the bending modulus along the face grain (x) and its ratios to the others."""
        inertia = thickness_m**3 / 12
        e1, e2 = modulus_pa, modulus_pa * ratio
        across = poisson * ratio
        rigid = 1 - poisson * across
        return cls(
            e1 * inertia / rigid,
            e2 * inertia / rigid,
            poisson * e2 * inertia / rigid,
            modulus_pa * shear_ratio * inertia,
        )

    @classmethod
    def isotropic(cls, modulus_pa: float, poisson: float, thickness_m: float) -> Stiffness:
        """Of a plate that is alike in all directions."""
        d = modulus_pa * thickness_m**3 / (12 * (1 - poisson**2))
        return cls(d, d, poisson * d, d * (1 - poisson) / 2)


@dataclass(frozen=True)
class Bent:
    """Result for one load: largest deflection [m], and largest bending stress along and
    across the grain [Pa]."""

    deflection_m: float
    stress_along_pa: float
    stress_across_pa: float


def _ring_mesh(outline: SupportedPlate, around: int, layers: int) -> Any:
    """Triangles between the opening and the rectangle, finer towards the opening."""
    from skfem import MeshTri

    cx, cy = outline.centre_m
    a, b = outline.length_m, outline.width_m
    outer: list[tuple[float, float]] = []
    # A support that starts part way along an edge starts at a corner of the mesh.
    start = outline.held_from_m
    turns = [(0.0, 0.0), (a, 0.0), (a, start), (a, b), (0.0, b), (0.0, start)]
    turns = [p for k, p in enumerate(turns) if p != turns[k - 1]]
    for (x0, y0), (x1, y1) in zip(turns, turns[1:] + turns[:1], strict=True):
        steps = max(2, round(around * float(np.hypot(x1 - x0, y1 - y0)) / (2 * (a + b))))
        outer += [(x0 + (x1 - x0) * k / steps, y0 + (y1 - y0) * k / steps) for k in range(steps)]
    rim = np.array(outer)
    if max(outline.stretch_m) > 0:
        rim = _meeting_corners(outline, rim, np.array(turns), 2 * (a + b) / around)
    angle = np.arctan2(rim[:, 1] - cy, rim[:, 0] - cx)
    inner = np.array([cx, cy]) + _edge(outline, angle, len(rim))
    share = np.linspace(0, 1, layers + 1) ** 1.3
    points = np.concatenate([inner + s * (rim - inner) for s in share])
    n = len(rim)
    i = np.arange(n)
    j = (i + 1) % n
    faces = []
    for k in range(layers):
        p, q = k * n, (k + 1) * n
        faces += [np.stack([p + i, q + i, q + j], 1), np.stack([p + i, q + j, p + j], 1)]
    return MeshTri(np.ascontiguousarray(points.T), np.ascontiguousarray(np.concatenate(faces).T))


def _meeting_corners(
    outline: SupportedPlate, rim: NDArray[np.float64], kept: NDArray[np.float64], step: float
) -> NDArray[np.float64]:
    """Points around the outline, moved or added so that rays to the opening end on its corners.

    ``kept`` are points that stay; without a node on each end of a corner's arc, a coarse mesh
    cuts the corner off.
    """
    cx, cy = outline.centre_m
    half = np.array(outline.stretch_m) / 2
    parts = (0.5,) if outline.radius_m < 0.01 else (0.0, 0.5, 1.0)
    points = list(rim)
    for quarter in range(4):
        sign = np.array([1 if quarter in (0, 3) else -1, 1 if quarter < 2 else -1])
        for part in parts:
            turn = np.pi / 2 * (quarter + part)
            way = sign * half + outline.radius_m * np.array([np.cos(turn), np.sin(turn)])
            reach = np.where(way > 0, (outline.length_m - cx, outline.width_m - cy), (cx, cy))
            spot = np.array([cx, cy]) + way * np.min(reach / np.maximum(np.abs(way), 1e-12))
            if np.min(np.hypot(*(kept - spot).T)) < 0.2 * step:
                continue
            near = np.hypot(*(np.array(points) - spot).T)
            closest = int(np.argmin(near))
            if near[closest] < 0.4 * step and not np.any(
                np.hypot(*(kept - points[closest]).T) < 1e-9
            ):
                points.pop(closest)
            points.append(spot)
    moved = np.array(points)
    turns = np.arctan2(moved[:, 1] - cy, moved[:, 0] - cx)
    return moved[np.argsort(turns)]


def _edge(outline: SupportedPlate, angle: NDArray[np.float64], count: int) -> NDArray[np.float64]:
    """Points of the opening's edge in these directions from its middle, shape (n, 2)."""
    way = np.stack([np.cos(angle), np.sin(angle)], 1)
    a, b = (s / 2 for s in outline.stretch_m)
    r = outline.radius_m
    if a <= 0 and b <= 0:
        return r * equal_area(count) * way
    x, y = np.maximum(np.abs(way), 1e-12).T
    reach = np.minimum((a + r) / x, (b + r) / y)
    # Where that lies beyond both straight sides, the ray ends on the corner's arc.
    on_arc = (reach * x > a) & (reach * y > b)
    along = a * x + b * y
    arc = along + np.sqrt(np.maximum(along**2 - a * a - b * b + r * r, 0.0))
    edge: NDArray[np.float64] = np.where(on_arc, arc, reach)[:, None] * way
    return edge


def _plain_mesh(outline: SupportedPlate, around: int) -> Any:
    from skfem import MeshTri

    total = outline.length_m + outline.width_m
    # Even counts, so that a corner lies in the middle, where it bends most.
    nx = 2 * max(2, round(around / 4 * outline.length_m / total))
    ny = 2 * max(1, round(around / 4 * outline.width_m / total))
    across = np.linspace(0, outline.width_m, ny + 1)
    start = outline.held_from_m
    if 0 < start < outline.width_m:
        # A support that starts part way along an edge starts at a node; one beside it gives way.
        beside = 0.3 * outline.width_m / ny
        inner = (across == 0) | (across == across[-1]) | (np.abs(across - start) > beside)
        across = np.sort(np.append(across[inner], start))
    return MeshTri.init_tensor(np.linspace(0, outline.length_m, nx + 1), across)


@dataclass(frozen=True, eq=False)
class _Elements:
    """The elements of an outline, however its edges are held.

    ``curves`` are the curvatures xx, yy and xy of each element's functions at its points, and
    ``weighed`` the same with what of the area each point stands for, shape (3, element, function,
    point). ``order`` is an order of all unknowns in which those that meet are near each other.
    """

    basis: Any
    curves: NDArray[np.float64]
    weighed: NDArray[np.float64]
    order: NDArray[np.int64]


@lru_cache(maxsize=4)
def _elements(shape: SupportedPlate, around: int) -> _Elements:
    from skfem import Basis

    from .quintic import Quintic

    mesh = (
        _ring_mesh(shape, around, max(3, around // 8))
        if shape.radius_m > 0
        else _plain_mesh(shape, around)
    )
    basis = Basis(mesh, Quintic(), intorder=_ORDER)
    curves = basis.elem.curvatures(basis.mapping, basis.X)
    weighed = curves * np.asarray(basis.dx)[None, :, None, :]
    dofs = np.ascontiguousarray(basis.element_dofs.T, dtype=np.int64)
    return _Elements(basis, curves, weighed, _near_order(dofs.tobytes(), dofs.shape, basis.N))


@lru_cache(maxsize=8)
def _near_order(dofs: bytes, shape: tuple[int, int], count: int) -> NDArray[np.int64]:
    """Unknowns so that those of one element come near one another (Cuthill and McKee 1969)."""
    from scipy.sparse import coo_matrix
    from scipy.sparse.csgraph import reverse_cuthill_mckee

    each = np.frombuffer(dofs, dtype=np.int64).reshape(shape)
    rows = np.repeat(each, shape[1], axis=1).ravel()
    columns = np.tile(each, (1, shape[1])).ravel()
    graph = coo_matrix((np.ones(len(rows)), (rows, columns)), shape=(count, count)).tocsr()
    return np.asarray(reverse_cuthill_mckee(graph, symmetric_mode=True), dtype=np.int64)


def _entries(elements: _Elements, d: Stiffness) -> NDArray[np.float64]:
    """Of every element the stiffness between each two of its functions."""
    law = np.array([[d.d11, d.d12, 0.0], [d.d12, d.d22, 0.0], [0.0, 0.0, 4 * d.d66]])
    moments = np.tensordot(law, elements.weighed, 1)
    pairs: NDArray[np.float64] = (elements.curves @ moments.transpose(0, 1, 3, 2)).sum(axis=0)
    return pairs


def _solved(
    elements: _Elements, d: Stiffness, load: NDArray[np.float64], fixed: NDArray[np.int64]
) -> NDArray[np.float64]:
    """All unknowns under a load, some of them held at zero: by a band, as they are near in order."""
    from scipy.linalg import solveh_banded

    free = elements.order[np.isin(elements.order, fixed, invert=True)]
    place = np.full(elements.basis.N, -1)
    place[free] = np.arange(len(free))
    entries = _entries(elements, d)
    own = place[elements.basis.element_dofs.T]
    rows = np.broadcast_to(own[:, :, None], entries.shape).ravel()
    columns = np.broadcast_to(own[:, None, :], entries.shape).ravel()
    kept = (columns >= 0) & (rows >= columns)
    rows, columns, values = rows[kept], columns[kept], entries.ravel()[kept]
    # Deflections, slopes and curvatures are of very different size: each is told by its own.
    across = rows == columns
    size = np.sqrt(np.bincount(rows[across], values[across], len(free)))
    values = values / (size[rows] * size[columns])
    wide = int((rows - columns).max()) + 1
    band = np.bincount((rows - columns) * len(free) + columns, values, wide * len(free))
    solved = solveh_banded(
        band.reshape(wide, -1), load[free] / size, overwrite_ab=True, lower=True, check_finite=False
    )
    every = np.zeros(elements.basis.N)
    every[free] = solved / size
    return every


@lru_cache(maxsize=4)
def _even_load(shape: SupportedPlate, around: int) -> NDArray[np.float64]:
    """Load vector of 1 Pa over the whole area."""
    return _sum_of(_elements(shape, around).basis)


@lru_cache(maxsize=4)
def _rim_load(shape: SupportedPlate, around: int) -> NDArray[np.float64]:
    """Load vector of 1 N spread along the opening's edge."""
    from skfem import FacetBasis

    basis = _elements(shape, around).basis
    mesh = basis.mesh
    cx, cy = shape.centre_m
    half_a, half_b = (s / 2 for s in shape.stretch_m)
    near = shape.radius_m * 1.02 + 1e-9
    edge = mesh.facets_satisfying(
        lambda x: (
            np.hypot(
                np.maximum(np.abs(x[0] - cx) - half_a, 0.0),
                np.maximum(np.abs(x[1] - cy) - half_b, 0.0),
            )
            < near
        ),
        boundaries_only=True,
    )
    along = FacetBasis(mesh, basis.elem, facets=edge, intorder=_ORDER)
    return _sum_of(along) / float(np.sum(along.dx))


def _sum_of(basis: Any) -> NDArray[np.float64]:
    """The integral of each shape function over the plate."""
    from skfem import LinearForm

    one = LinearForm(lambda v, _: v)
    return np.asarray(one.assemble(basis))


def bend(
    outline: SupportedPlate,
    stiffness: Stiffness,
    thickness_m: float,
    *,
    rim_load_n: float = 0.0,
    pressure_pa: float = 0.0,
    around: int = 36,
) -> Bent:
    """Bend the plate by a load along its opening's edge, or by an even pressure.

    Kirchhoff plate, quintic triangles with continuous slope (Argyris, Fried and Scharpf 1968).

    Parameters
    ----------
    rim_load_n
        Spread evenly along the opening's edge, downward.
    pressure_pa
        Over the whole area, downward.
    around
        Elements around the outline; twice as many halve the mesh.
    """
    elements = _elements(outline.shape, around)
    basis = elements.basis
    load = np.zeros(basis.N)
    if pressure_pa:
        load += pressure_pa * _even_load(outline.shape, around)
    if rim_load_n:
        load += rim_load_n * _rim_load(outline.shape, around)
    d = stiffness
    solution = _solved(elements, d, load, _fixed(basis.mesh, basis, outline))
    corners = solution[basis.nodal_dofs[0]]
    along_n, across_n = _moments(basis, solution, d, outline)
    section = thickness_m**2 / 6
    return Bent(
        float(np.max(np.abs(corners))),
        float(np.max(np.abs(along_n))) / section,
        float(np.max(np.abs(across_n))) / section,
    )


def _fixed(mesh: Any, basis: Any, outline: SupportedPlate) -> NDArray[np.int64]:
    tiny = 1e-9
    a, b, start = outline.length_m, outline.width_m, outline.held_from_m - tiny
    # Along a held edge the deflection and its derivatives along the edge vanish; a clamped one
    # keeps no slope across it either.
    along_y, along_x = ["u", "u_y", "u_yy"], ["u", "u_x", "u_xx"]
    edges = (
        (outline.left, along_y, "u_x", lambda x: (x[0] < tiny) & (x[1] > start)),
        (outline.right, along_y, "u_x", lambda x: (x[0] > a - tiny) & (x[1] > start)),
        (outline.front, along_x, "u_y", lambda x: x[1] < tiny),
        (outline.rear, along_x, "u_y", lambda x: x[1] > b - tiny),
    )
    names = ["u", "u_x", "u_y", "u_xx", "u_xy", "u_yy"]
    held: list[NDArray[np.int64]] = []
    for how, gone, slope, where in edges:
        if how == "free":
            continue
        clamped = how == "clamped"
        nodes = mesh.nodes_satisfying(where)
        for name in [*gone, slope, "u_xy"] if clamped else gone:
            held.append(basis.nodal_dofs[names.index(name), nodes])
        if clamped:
            facets = mesh.facets_satisfying(where, boundaries_only=True)
            held.append(basis.facet_dofs[0, facets])
    return np.unique(np.concatenate(held)).astype(np.int64)


def _moments(
    basis: Any, solution: NDArray[np.float64], d: Stiffness, outline: SupportedPlate
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Bending moments per width along and across [N], at every corner of an element.

    The curvatures there are unknowns of their own, so nothing is averaged away. Where a
    support begins in the middle of an edge, theory has a peak without bound that wood does not
    know: what lies close to that corner is left out.
    """
    kx, ky = (solution[basis.nodal_dofs[row]] for row in (3, 5))
    if outline.held_from_m > 0:
        start = np.array([[0.0, outline.length_m], [outline.held_from_m] * 2])
        off = np.min(np.hypot(*(basis.mesh.p[:, :, None] - start[:, None, :])), axis=1)
        kx, ky = (k[off > _PEAK * outline.width_m] for k in (kx, ky))
    return d.d11 * kx + d.d12 * ky, d.d12 * kx + d.d22 * ky
