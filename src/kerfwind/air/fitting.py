"""Least squares of a falling curve, for all samples at once."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

#: The curve falls at least by this part of its top over the measured airflows.
_LEAST_FALL = 0.02


def fit_falling(
    airflow_m3_s: Array, suction_pa: Array, airflow_sd: Array, suction_sd: Array, bow: Array
) -> tuple[Array, Array, Array, Array]:
    """Fit ``a − g0 (q − q²/2m) − g1 q²/2m`` with both slopes at least a little above zero.

    Parameters
    ----------
    airflow_m3_s, suction_pa
        Points on the first axis, samples on the last.
    airflow_sd, suction_sd
        Standard deviation of each point's readings.
    bow
        Samples of the curve's bow, used where there are fewer than three different
        airflows, which cannot tell it.

    Returns
    -------
    tuple
        ``a``, ``g0``, ``g1`` and ``m``, samples on the last axis.
    """
    q, s = airflow_m3_s, suction_pa
    knee = np.max(q, axis=0)
    top, slope = _line(q, s)
    # Both readings' errors, as suction: an error in airflow moves the point along the curve.
    sd = np.sqrt(suction_sd[:, None] ** 2 + (slope * airflow_sd[:, None]) ** 2)
    sd = np.maximum(sd, 1e-3 * np.max(s, axis=0) + 1e-9)
    least = _LEAST_FALL * top / knee
    start, end = q - q**2 / (2 * knee), q**2 / (2 * knee)
    distinct = len(np.unique(np.round(np.median(q, axis=1) / np.median(knee), 6)))
    if distinct < 3:
        # g1/g0 = (1 + k)/(1 − k): a straight line bent by the usual bow.
        ratio = (1 + bow) / (1 - bow)
        a, g = _two(start + ratio * end, s, sd, least)
        return a, g, ratio * g, knee
    return (*_three(start, end, s, sd, least), knee)


def _line(q: Array, s: Array) -> tuple[Array, Array]:
    qm, sm = q.mean(axis=0), s.mean(axis=0)
    spread = np.sum((q - qm) ** 2, axis=0)
    slope = np.minimum(np.sum((q - qm) * (s - sm), axis=0) / np.maximum(spread, 1e-30), -1e-9)
    return np.maximum(sm - slope * qm, np.max(s, axis=0)), slope


def _two(basis: Array, s: Array, sd: Array, least: Array) -> tuple[Array, Array]:
    w = 1 / sd**2
    total = w.sum(axis=0)
    bm, sm = (w * basis).sum(axis=0) / total, (w * s).sum(axis=0) / total
    spread = (w * (basis - bm) ** 2).sum(axis=0)
    g = np.maximum(-(w * (basis - bm) * (s - sm)).sum(axis=0) / spread, least)
    return sm + g * bm, g


def _three(
    start: Array, end: Array, s: Array, sd: Array, least: Array
) -> tuple[Array, Array, Array]:
    """Two slopes, each at least ``least``: the best of the four sets of held slopes."""
    w = 1 / sd**2
    total = w.sum(axis=0)

    def mean(x: Array) -> Array:
        return np.asarray((w * x).sum(axis=0) / total)

    x, y, z = start - mean(start), end - mean(end), s - mean(s)
    xx, yy, xy = (w * x * x).sum(axis=0), (w * y * y).sum(axis=0), (w * x * y).sum(axis=0)
    xz, yz = -(w * x * z).sum(axis=0), -(w * y * z).sum(axis=0)
    det = np.maximum(xx * yy - xy * xy, 1e-12 * xx * yy)
    free = ((yy * xz - xy * yz) / det, (xx * yz - xy * xz) / det)
    held_start = (least, (yz - xy * least) / yy)
    held_end = ((xz - xy * least) / xx, least)
    best = (least, np.broadcast_to(least, xx.shape))
    best_cost = _cost(best, xx, yy, xy, xz, yz)
    for g0, g1 in (held_start, held_end, free):
        cost = _cost((g0, g1), xx, yy, xy, xz, yz)
        better = (g0 >= least) & (g1 >= least) & (cost < best_cost)
        best = (np.where(better, g0, best[0]), np.where(better, g1, best[1]))
        best_cost = np.where(better, cost, best_cost)
    g0, g1 = best
    return mean(s) + g0 * mean(start) + g1 * mean(end), np.asarray(g0), np.asarray(g1)


def _cost(
    slopes: tuple[Array, Array], xx: Array, yy: Array, xy: Array, xz: Array, yz: Array
) -> Array:
    g0, g1 = slopes
    return np.asarray(g0 * g0 * xx + g1 * g1 * yy + 2 * g0 * g1 * xy - 2 * g0 * xz - 2 * g1 * yz)
