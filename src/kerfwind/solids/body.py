"""A body: a closed triangle mesh with a name, and what follows from its surface."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Kind = Literal["panel", "round", "hardware", "hose"]
Vector = tuple[float, float, float]

#: The three ways in space, x to the right, y to the rear, z up; and two turned about.
X: Vector = (1.0, 0.0, 0.0)
Y: Vector = (0.0, 1.0, 0.0)
Z: Vector = (0.0, 0.0, 1.0)
BACK_X: Vector = (-1.0, 0.0, 0.0)
DOWN: Vector = (0.0, 0.0, -1.0)


@dataclass(frozen=True, eq=False)
class Body:
    """One closed surface (or several) in space, in metres.

    Attributes
    ----------
    name
        What it is called in lists and pictures; unique within a cart.
    kind
        ``panel`` (plywood), ``round`` (vacuum, bucket, cyclone), ``hardware`` (casters) or
        ``hose``.
    vertices
        Shape (n, 3) [m]; z is up.
    triangles
        Shape (m, 3), indices into ``vertices``, counter-clockwise seen from outside.
    tone
        Grey for pictures, 0 black to 1 white.
    part_of
        Name of the body that it is fixed to from the first and moves with, as an inlet does;
        empty for a body that goes about by itself.
    coiled
        Whether it is a hose that hangs in a coil.
    """

    name: str
    kind: Kind
    vertices: NDArray[np.float64]
    triangles: NDArray[np.int64]
    tone: float = 0.9
    part_of: str = ""
    coiled: bool = False

    @cached_property
    def low(self) -> NDArray[np.float64]:
        """Lowest x, y, z [m]."""
        lowest: NDArray[np.float64] = self.vertices.min(axis=0)
        return lowest

    @cached_property
    def high(self) -> NDArray[np.float64]:
        """Highest x, y, z [m]."""
        highest: NDArray[np.float64] = self.vertices.max(axis=0)
        return highest

    @cached_property
    def _moments(self) -> tuple[float, NDArray[np.float64]]:
        a, b, c = (self.vertices[self.triangles[:, i]] for i in range(3))
        six = np.einsum("ij,ij->i", a, np.cross(b, c))
        volume = float(six.sum()) / 6
        first: NDArray[np.float64] = (six[:, None] * (a + b + c)).sum(axis=0) / 24
        return volume, first

    @property
    def volume_m3(self) -> float:
        """Enclosed volume by the divergence theorem over the surface [m³]."""
        return self._moments[0]

    @property
    def centroid_m(self) -> NDArray[np.float64]:
        """Centre of the enclosed volume, shape (3,) [m]."""
        volume, first = self._moments
        return first / volume

    def mass_kg(self, density_kg_m3: float) -> float:
        """Mass when filled evenly with a density [kg/m³]."""
        return self.volume_m3 * density_kg_m3

    def moved(self, by: Sequence[float], name: str | None = None) -> Body:
        """A copy of the body, moved, under its own name or another."""
        return replace(
            self, vertices=self.vertices + np.asarray(by, dtype=float), name=name or self.name
        )

    def feature_edges(self, crease_rad: float = 0.5) -> NDArray[np.int64]:
        """Edges between faces that meet at more than ``crease_rad``, shape (k, 2)."""
        a, b, c = (self.vertices[self.triangles[:, i]] for i in range(3))
        normal = np.cross(b - a, c - a)
        length = np.linalg.norm(normal, axis=1, keepdims=True)
        normal = normal / np.where(length > 0, length, 1)
        pairs = np.concatenate([self.triangles[:, [i, (i + 1) % 3]] for i in range(3)])
        face = np.tile(np.arange(len(self.triangles)), 3)
        ends = np.sort(pairs, axis=1)
        order = np.lexsort((ends[:, 1], ends[:, 0]))
        ends, face = ends[order], face[order]
        same = np.all(ends[1:] == ends[:-1], axis=1)
        first = np.flatnonzero(same)
        cosine = np.einsum("ij,ij->i", normal[face[first]], normal[face[first + 1]])
        sharp: NDArray[np.int64] = ends[first[cosine < np.cos(crease_rad)]]
        return sharp


def joined(name: str, parts: Sequence[Body], kind: Kind | None = None) -> Body:
    """One body of several separate surfaces, such as a caster's plate, fork and wheel."""
    starts = np.cumsum([0, *(len(p.vertices) for p in parts[:-1])])
    return Body(
        name,
        kind or parts[0].kind,
        np.concatenate([p.vertices for p in parts]),
        np.concatenate([p.triangles + s for p, s in zip(parts, starts, strict=True)]),
        parts[0].tone,
    )
