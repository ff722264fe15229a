"""Solids of what hangs and stands on a cart: rings of hose, and fittings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from ..cart.carried_bodies import hose_body
from ..cart.model import HosePath
from ..shop import Fitting
from ..solids import Body, equal_area, joined, revolved


def ring(
    name: str,
    centre: Sequence[float],
    axis: Sequence[float],
    radius_m: float,
    tube_m: float,
    around: int = 24,
    segments: int = 8,
) -> Body:
    """One turn of hose: a ring of ``radius_m`` to its middle line, ``tube_m`` its own radius."""
    n = np.asarray(axis, dtype=float)
    up = np.array([0.0, 0.0, 1.0])
    side = np.cross(up, n)
    a = 2 * np.pi * np.arange(around) / around
    # Flats inward, so that no corner reaches what it hangs on.
    b = 2 * np.pi * (np.arange(segments) + 0.5) / segments
    tube_m *= equal_area(segments)
    spoke = np.cos(a)[:, None] * side + np.sin(a)[:, None] * up
    points = (
        np.asarray(centre, dtype=float)
        + (radius_m + tube_m * np.cos(b))[None, :, None] * spoke[:, None, :]
        + (tube_m * np.sin(b))[None, :, None] * n
    )
    i, j = np.meshgrid(np.arange(around), np.arange(segments), indexing="ij")
    i2, j2 = (i + 1) % around, (j + 1) % segments

    def at(p: NDArray[np.int64], q: NDArray[np.int64]) -> NDArray[np.int64]:
        flat: NDArray[np.int64] = (p * segments + q).ravel()
        return flat

    faces = np.concatenate(
        [
            np.stack([at(i, j), at(i2, j), at(i2, j2)], 1),
            np.stack([at(i, j), at(i2, j2), at(i, j2)], 1),
        ]
    )
    body = Body(name, "hose", points.reshape(-1, 3), faces, 0.55)
    if body.volume_m3 < 0:
        body = Body(name, "hose", body.vertices, faces[:, ::-1], 0.55)
    return body


def coil(
    name: str,
    centre: Sequence[float],
    axis: Sequence[float],
    radius_m: float,
    tube_m: float,
    turns: int,
    pitch_m: float,
) -> Body:
    """Turns of hose side by side along ``axis``, the first with its middle at ``centre``."""
    step = pitch_m * np.asarray(axis, dtype=float)
    start = np.asarray(centre, dtype=float)
    rings = [ring(name, list(start + k * step), axis, radius_m, tube_m) for k in range(turns)]
    return replace(joined(name, rings), coiled=True)


def sleeve(name: str, foot: Sequence[float], outer_m: float, inner_m: float, high_m: float) -> Body:
    """An upright tube, open at both ends; radii outside and inside."""
    n = 16
    turn = 2 * np.pi * np.arange(n) / n
    flat = np.stack([np.cos(turn), np.sin(turn), np.zeros(n)], 1) * equal_area(n)
    base = np.asarray(foot, dtype=float)
    up = np.array([0.0, 0.0, high_m])
    rings = [
        base + outer_m * flat,
        base + outer_m * flat + up,
        base + inner_m * flat + up,
        base + inner_m * flat,
    ]
    i = np.arange(n)
    j = np.roll(i, -1)
    faces = []
    for k in range(4):
        a, b = k * n, ((k + 1) % 4) * n
        faces += [np.stack([a + i, a + j, b + j], 1), np.stack([a + i, b + j, b + i], 1)]
    return Body(name, "round", np.concatenate(rings), np.concatenate(faces), 0.7)


def hanging(
    name: str, fitting: Fitting, foot: Sequence[float], down: str, towards: Sequence[float]
) -> Body:
    """A fitting that stands with its end ``down`` (a or b) in a hole, lowest at ``foot``.

    One that turns the air bends ``towards`` that level direction.
    """
    low, high = (fitting.end_a, fitting.end_b) if down == "a" else (fitting.end_b, fitting.end_a)
    r, top = low.outside.best_si / 2, high.outside.best_si / 2
    length = fitting.length.best_si
    if fitting.turn.best_si > 0.3:
        straight = min(low.length.best_si, 0.45 * length)
        angles = np.linspace(0.0, fitting.turn.best_si, 6)
        bend = max(length - straight - r, 1.1 * r)
        level, up = np.asarray(towards, dtype=float), np.array([0.0, 0.0, 1.0])
        turn = (1 - np.cos(angles))[:, None] * level + np.sin(angles)[:, None] * up
        start = np.asarray(foot, dtype=float)
        points = np.vstack([start, start + straight * up + bend * turn])
        path = HosePath(points, length, length, 2 * r - 0.006, ())
        made = hose_body(path, 12)
        return Body(name, "round", made.vertices, made.triangles, 0.7)
    down_m = min(low.length.best_si, 0.45 * length)
    up_m = min(high.length.best_si, 0.45 * length)
    profile = [(0.0, r), (down_m, r), (length - up_m, max(top, r)), (length, max(top, r))]
    return revolved(name, foot, profile, tone=0.7, segments=16)


def fitting_volume_m3(fitting: Fitting) -> float:
    """Volume of its walls, the two ends taken as halves of it [m³]."""
    return sum(
        np.pi
        / 4
        * max(e.outside.best_si**2 - e.inside.best_si**2, 0.0)
        * fitting.length.best_si
        / 2
        for e in (fitting.end_a, fitting.end_b)
    )
