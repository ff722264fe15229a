"""Dust by size: classes of aerodynamic diameter, what is breathed of each, how fast it falls."""

from __future__ import annotations

from functools import cache
from statistics import NormalDist

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..sources import fact

Array = NDArray[np.float64]

#: Ends of the size classes, aerodynamic diameter [m]: the R5 series of preferred numbers.
_R5 = (1.0, 1.6, 2.5, 4.0, 6.3)
EDGES_M: Array = 1e-6 * np.array([0.5, *(x * 10**e for e in range(4) for x in _R5), 1e4])
#: Middle of each class by ratio [m].
SIZES_M: Array = np.sqrt(EDGES_M[:-1] * EDGES_M[1:])
#: How many classes float in the air: up to 100 µm; what is coarser falls where it is made.
FLOATING = int(np.sum(EDGES_M[1:] <= 100.5e-6))
FLOAT_M: Array = SIZES_M[:FLOATING]


@cache
def _normal_table() -> tuple[Array, Array]:
    # A table, since importing scipy.special takes longer than a plan can spare.
    scores = np.linspace(-8.0, 8.0, 6401)
    below = NormalDist().cdf
    return scores, np.array([below(float(z)) for z in scores])


def _below(score: ArrayLike) -> Array:
    """Part of a normal distribution below a score, to about 1e-6."""
    return np.asarray(np.interp(np.asarray(score, dtype=float), *_normal_table()))


def shares(median_m: ArrayLike, spread: ArrayLike) -> Array:
    """Mass in each size class of a lognormal distribution, shape (classes, ...); sums to one.

    Parameters
    ----------
    median_m
        Median diameter by mass [m].
    spread
        Geometric standard deviation, above 1.
    """
    median, wide = np.asarray(median_m, dtype=float), np.log(np.asarray(spread, dtype=float))
    edges = EDGES_M[1:-1].reshape(-1, *(1,) * median.ndim)
    under = _below(np.log(edges / median) / wide)
    ends = np.zeros((1, *under.shape[1:]))
    return np.diff(np.concatenate([ends, under, ends + 1.0]), axis=0)


def inhalable(diameter_m: ArrayLike) -> Array:
    """Part of airborne dust of a size that is breathed in: ``0.5 (1 + e^(−0.06 d))``, d in µm.

    EN 481 and ISO 7708, for sizes up to 100 µm.

    Parameters
    ----------
    diameter_m
        Aerodynamic diameter [m].

    Examples
    --------
    >>> round(float(inhalable(10e-6)), 3)
    0.774
    """
    d = np.asarray(diameter_m, dtype=float) * 1e6
    return np.asarray(0.5 * (1 + np.exp(-fact("breathing.en481.inhalable").value * d)))


def thoracic(diameter_m: ArrayLike) -> Array:
    """Part of airborne dust of a size [m] that passes the larynx, EN 481.

    Examples
    --------
    >>> round(float(thoracic(10e-6)), 2)
    0.5
    """
    return _beyond(diameter_m, fact("breathing.en481.thoracic").value)


def respirable(diameter_m: ArrayLike) -> Array:
    """Part of airborne dust of a size [m] that reaches the small airways, EN 481.

    Examples
    --------
    >>> round(float(respirable(4e-6)), 2)
    0.5
    """
    return _beyond(diameter_m, fact("breathing.en481.respirable").value)


def _beyond(diameter_m: ArrayLike, median_um: float) -> Array:
    """Inhalable dust less a lognormal of this median: the two inner conventions."""
    d = np.asarray(diameter_m, dtype=float) * 1e6
    wide = np.log(fact("breathing.en481.spread").value)
    return np.asarray(inhalable(diameter_m) * (1 - _below(np.log(d / median_um) / wide)))


def settling_m_s(
    diameter_m: ArrayLike,
    viscosity_pa_s: float = 1.81e-5,
    air_density_kg_m3: float = 1.204,
    density_kg_m3: float = 1000.0,
) -> Array:
    """Speed at which spheres fall in still air [m/s]: Stokes with slip, drag after Schiller-Naumann.

    Parameters
    ----------
    diameter_m
        Diameter [m]; with the density of water, the aerodynamic one.
    viscosity_pa_s, air_density_kg_m3
        Of the air.

    Examples
    --------
    >>> round(float(settling_m_s(10e-6)), 4)
    0.0031
    """
    d = np.asarray(diameter_m, dtype=float)
    knudsen = 2 * fact("breathing.slip").value / d
    slip = 1 + knudsen * (1.257 + 0.4 * np.exp(-1.1 / knudsen))
    gravity = fact("general.gravity").value
    still = density_kg_m3 * d**2 * gravity * slip / (18 * viscosity_pa_s)
    speed = still
    for _ in range(60):
        reynolds = air_density_kg_m3 * speed * d / viscosity_pa_s
        speed = still / (1 + 0.15 * reynolds**0.687)
    return np.asarray(speed)
