"""Friction of runs: smooth walls and ribbed hose. All factors are Darcy's."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

_LEAST = 1e-6
_LEAST_LOG = 1e-3


def churchill(reynolds: ArrayLike, relative_roughness: ArrayLike) -> Array:
    """Darcy friction factor over laminar, transitional and turbulent flow; broadcasts.

    Churchill, Chemical Engineering, 7 November 1977. Reynolds numbers below 1e-6 are
    taken as 1e-6.

    Parameters
    ----------
    reynolds
        Reynolds number of the flow, on the bore.
    relative_roughness
        Roughness over bore.

    Examples
    --------
    >>> round(float(churchill(1e5, 1e-4)), 4)
    0.0185
    >>> round(float(churchill(1000, 0.0)), 4)
    0.064
    """
    return np.asarray(_factor(_Terms.of(reynolds, relative_roughness)))


def churchill_with_slope(reynolds: ArrayLike, relative_roughness: ArrayLike) -> tuple[Array, Array]:
    """Churchill's factor and its slope ``d ln f / d ln Re``; both broadcast.

    Parameters
    ----------
    reynolds, relative_roughness
        As for `churchill`.

    Examples
    --------
    >>> factor, slope = churchill_with_slope(1000, 0.0)
    >>> round(float(slope), 3)
    -1.0
    """
    t = _Terms.of(reynolds, relative_roughness)
    da = 16.0 * 0.9 * t.a * t.turbulent / (t.inside * t.safe)
    if np.min(t.log, initial=np.inf) <= _LEAST_LOG:
        da = np.where(t.log > _LEAST_LOG, da, 0.0)
    dy = -1.5 * t.y * (da - 16.0 * t.b) / t.both
    slope = (dy / 12.0 - t.x) / (t.x + t.y)
    given = np.asarray(reynolds, dtype=float)
    if np.min(given, initial=np.inf) < _LEAST:
        slope = np.where(given < _LEAST, 0.0, slope)
    return np.asarray(_factor(t)), np.asarray(slope)


class _Terms(NamedTuple):
    """The terms of Churchill's relation."""

    turbulent: Array
    inside: Array
    log: Array
    safe: Array
    a: Array
    b: Array
    both: Array
    x: Array
    y: Array

    @classmethod
    def of(cls, reynolds: ArrayLike, relative_roughness: ArrayLike) -> _Terms:
        re = np.maximum(np.asarray(reynolds, dtype=float), _LEAST)
        turbulent = (7.0 / re) ** 0.9
        inside = turbulent + 0.27 * np.asarray(relative_roughness, dtype=float)
        log = -np.log(inside)
        # Above Re of about 8 the logarithm is positive; below, the laminar term rules alone.
        safe = np.maximum(log, _LEAST_LOG)
        a, b = _sixteenth(2.457 * safe), _sixteenth(37530.0 / re)
        fourth = np.square(np.square(8.0 / re))
        both = a + b
        x, y = fourth * fourth * fourth, 1.0 / (both * np.sqrt(both))
        return cls(turbulent, inside, log, safe, a, b, both, x, y)


def _factor(terms: _Terms) -> Array:
    return np.asarray(8.0 * (terms.x + terms.y) ** (1 / 12))


def _sixteenth(x: Array) -> Array:
    # Squared four times, since a general power of an array takes ten times as long.
    return np.square(np.square(np.square(np.square(x))))


def churchill_float(reynolds: float, rough: float) -> tuple[float, float]:
    """`churchill_with_slope` for one value, in plain floats.

    Parameters
    ----------
    reynolds
        Reynolds number.
    rough
        Roughness over bore.

    Examples
    --------
    >>> round(churchill_float(1e5, 1e-4)[0], 4)
    0.0185
    """
    re = max(reynolds, _LEAST)
    turbulent = (7.0 / re) ** 0.9
    inside = turbulent + 0.27 * rough
    log = -math.log(inside)
    safe = max(log, 1e-3)
    a = (2.457 * safe) ** 16
    b = (37530.0 / re) ** 16
    x = (8.0 / re) ** 12
    y = (a + b) ** -1.5
    da = 16.0 * a * 0.9 * turbulent / inside / safe if log > 1e-3 else 0.0
    dy = -1.5 * y * (da - 16.0 * b) / (a + b)
    slope = (-12.0 * x + dy) / (12.0 * (x + y)) if reynolds >= _LEAST else 0.0
    return float(8.0 * (x + y) ** (1 / 12)), float(slope)


def corrugated_hose(pitch_over_bore: ArrayLike) -> Array:
    """Darcy friction factor of a deeply corrugated hose; broadcasts.

    Each corrugation is an enlargement from the bore to the jet that has spread over one
    pitch s, then lost: ``f = (D/s) [1 − (D/(D + 0.438 s))²]²`` (Hawthorne and von Helms,
    Product Engineering, 1963; from memory). Independent of Reynolds number.

    Parameters
    ----------
    pitch_over_bore
        From one rib to the next, over the bore.

    Raises
    ------
    ValueError
        Pitch not above zero.

    Examples
    --------
    >>> round(float(corrugated_hose(0.1)), 4)
    0.0675
    """
    s = np.asarray(pitch_over_bore, dtype=float)
    if not np.all(s > 0):
        raise ValueError("pitch of the ribs: allowed above zero")
    return np.asarray((1 - (1 / (1 + 0.438 * s)) ** 2) ** 2 / s)
