"""What a cyclone keeps by size, and what a vacuum's filter lets pass."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..sources import fact

Array = NDArray[np.float64]


def cyclone_cut_m(
    body_m: ArrayLike,
    airflow_m3_s: ArrayLike,
    particle_density_kg_m3: ArrayLike,
    air_density_kg_m3: ArrayLike,
    viscosity_pa_s: ArrayLike,
) -> Array:
    """Size [m] of which a cyclone of standard proportions keeps half (Lapple 1951).

    ``√(3 μ D³ / (128 π Q (ρp − ρ)))``.

    Parameters
    ----------
    body_m
        Diameter of the body [m].
    airflow_m3_s
        Through the cyclone [m³/s].
    particle_density_kg_m3, air_density_kg_m3
        Densities [kg/m³].
    viscosity_pa_s
        Dynamic viscosity of the air [Pa s].

    Examples
    --------
    >>> cut = cyclone_cut_m(0.2, 0.04, 1200, 1.2, 1.81e-5)
    >>> round(float(cut) * 1e6, 2)
    4.75
    """
    body = np.asarray(body_m, dtype=float)
    lift = np.asarray(particle_density_kg_m3, dtype=float) - np.asarray(
        air_density_kg_m3, dtype=float
    )
    return np.asarray(
        np.sqrt(
            3
            * np.asarray(viscosity_pa_s)
            * body**3
            / (128 * np.pi * np.asarray(airflow_m3_s) * lift)
        )
    )


def cyclone_kept(size_m: ArrayLike, cut_m: ArrayLike) -> Array:
    """Part kept of dust of one size: ``1 / (1 + (d_cut/d)²)`` (Lapple 1951).

    Parameters
    ----------
    size_m
        Diameter of the grains [m].
    cut_m
        Size of which half is kept [m].

    Examples
    --------
    >>> float(cyclone_kept(10e-6, 5e-6))
    0.8
    """
    return np.asarray(
        1 / (1 + (np.asarray(cut_m, dtype=float) / np.asarray(size_m, dtype=float)) ** 2)
    )


def filter_passes(size_m: ArrayLike, penetration: ArrayLike, seal: ArrayLike) -> Array:
    """Part of floating dust of a size that a vacuum's filter and its seal let back into the room.

    The class's penetration holds to `breathing.filter.size` and falls with the square of the
    size above it, a judgement; what leaks past the seal is of any size.

    Parameters
    ----------
    size_m
        Aerodynamic diameter [m].
    penetration, seal
        Parts, 0 to 1.

    Examples
    --------
    >>> round(float(filter_passes(10e-6, 0.01, 0.0)), 4)
    0.0025
    """
    size = np.asarray(size_m, dtype=float)
    coarse = np.minimum(1.0, (fact("breathing.filter.size").value / size) ** 2)
    leak = np.asarray(seal, dtype=float)
    return np.asarray(leak + (1 - leak) * np.asarray(penetration, dtype=float) * coarse)


def cake_resistance(mass_kg: ArrayLike, area_m2: ArrayLike, cake_per_s: ArrayLike) -> Array:
    """Resistance of a cake of dust [Pa/(m³/s)]: K M / A² (Dembiński and others 2021).

    Parameters
    ----------
    mass_kg, area_m2
        Of the cake, and of the filter it lies on.
    cake_per_s
        K [1/s], pressure on speed through the filter and mass on its area.

    Examples
    --------
    >>> round(float(cake_resistance(0.3, 0.5, 6507.0)))
    7808
    """
    area = np.asarray(area_m2, dtype=float)
    return np.asarray(np.asarray(cake_per_s) * np.asarray(mass_kg, dtype=float) / area**2)
