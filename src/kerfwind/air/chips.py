"""What keeps chips moving: speeds at which they settle, and passages in which they jam.

Two ends are known. Tables give the speeds of long ducts, whatever is in them; relations of
pneumatic conveying give the speed at which grains begin to settle, by their load, size and bore,
but none was fitted to wood. A short hose, cleared by lifting it, needs somewhat more than these;
the longer the run, the more a duct's speed.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..facts import Band
from ..quantity import Draw
from ..shop import Tool
from ..shop.catalogue.needs import need
from ..sources import Fact, fact
from .properties import STANDARD_DENSITY_KG_M3

Array = NDArray[np.float64]

_GRAVITY = fact("general.gravity").value
#: Kinematic viscosity of the room's air [m²/s], which grains larger than dust do not feel.
_VISCOSITY = 1.5e-5


def fall_speed(size_m: ArrayLike, density_kg_m3: ArrayLike, air_kg_m3: ArrayLike) -> Array:
    """Speed [m/s] at which a sphere falls in still air (Ferguson and Church 2004).

    ``R g D² / (18 ν + √(0.75 · 0.4 R g D³))``, R the density over the air's, less one.

    Parameters
    ----------
    size_m
        Diameter [m].
    density_kg_m3, air_kg_m3
        Of the sphere and of the air [kg/m³].

    Examples
    --------
    >>> round(float(fall_speed(0.003, 500.0, 1.2)), 1)
    6.1
    """
    size = np.asarray(size_m, dtype=float)
    over = np.asarray(density_kg_m3, dtype=float) / np.asarray(air_kg_m3, dtype=float) - 1
    pull = over * _GRAVITY * size**2
    return np.asarray(pull / (18 * _VISCOSITY + np.sqrt(0.3 * pull * size)))


def rizk(mass_kg_s: ArrayLike, size_m: ArrayLike, air_kg_m3: ArrayLike, bore_m: ArrayLike) -> Array:
    """Air speed [m/s] at which grains settle in a level pipe (Rizk 1976).

    ``μ = 10^−δ Fr^χ`` with δ = 1440 d + 1.96, χ = 1100 d + 2.5, Fr = V/√(g D), μ the mass of
    grains over that of air.

    Parameters
    ----------
    mass_kg_s
        Grains [kg/s].
    size_m
        Of the grains [m].
    air_kg_m3
        Density of the air [kg/m³].
    bore_m
        Of the pipe [m].

    Examples
    --------
    >>> round(float(rizk(0.25, 100e-6, 1.2, 0.078)), 3)
    9.883
    """
    size, bore = np.asarray(size_m, dtype=float), np.asarray(bore_m, dtype=float)
    power = 1100 * size + 2.5
    load = np.asarray(mass_kg_s) / (np.asarray(air_kg_m3) * np.pi / 4 * bore**2)
    settles = load * 10 ** (1440 * size + 1.96) * (_GRAVITY * bore) ** (power / 2)
    return np.asarray(settles ** (1 / (power + 1)))


def weber(
    mass_kg_s: ArrayLike,
    size_m: ArrayLike,
    air_kg_m3: ArrayLike,
    bore_m: ArrayLike,
    fall_m_s: ArrayLike,
) -> Array:
    """Air speed [m/s] at which grains settle in a level pipe (Weber 1981).

    ``Fr = c μ^0.25 (d/D)^0.1``, c = 7 + 8/3 w up to a fall speed w of 3 m/s, 15 above.

    Parameters
    ----------
    mass_kg_s
        Grains [kg/s].
    size_m
        Of the grains [m].
    air_kg_m3
        Density of the air [kg/m³].
    bore_m
        Of the pipe [m].
    fall_m_s
        Speed at which the grains fall [m/s].

    Examples
    --------
    >>> round(float(weber(1.0, 1e-3, 1.2, 0.1, 4.0)), 3)
    15.227
    """
    bore, fall = np.asarray(bore_m, dtype=float), np.asarray(fall_m_s, dtype=float)
    lead = np.where(fall <= 3, 7 + 8 / 3 * fall, 15.0)
    load = np.asarray(mass_kg_s) / (np.asarray(air_kg_m3) * np.pi / 4 * bore**2)
    size = (np.asarray(size_m, dtype=float) / bore) ** 0.1
    return np.asarray((lead * np.sqrt(_GRAVITY * bore) * size * load**0.25) ** 0.8)


def schade(
    mass_kg_s: ArrayLike,
    size_m: ArrayLike,
    density_kg_m3: ArrayLike,
    air_kg_m3: ArrayLike,
    bore_m: ArrayLike,
) -> Array:
    """Air speed [m/s] at which grains settle in a level pipe (Schade 1987).

    ``Fr = μ^0.11 (D/d)^0.025 (ρ_grain/ρ_air)^0.34``.

    Parameters
    ----------
    mass_kg_s
        Grains [kg/s].
    size_m
        Of the grains [m].
    density_kg_m3, air_kg_m3
        Of the grains and of the air [kg/m³].
    bore_m
        Of the pipe [m].

    Examples
    --------
    >>> round(float(schade(1.0, 1e-3, 1000.0, 1.2, 0.1)), 3)
    13.697
    """
    bore = np.asarray(bore_m, dtype=float)
    load = np.asarray(mass_kg_s) / (np.asarray(air_kg_m3) * np.pi / 4 * bore**2)
    shape = (bore / np.asarray(size_m, dtype=float)) ** 0.025
    heavy = (np.asarray(density_kg_m3, dtype=float) / np.asarray(air_kg_m3)) ** 0.34
    return np.asarray((np.sqrt(_GRAVITY * bore) * load**0.11 * shape * heavy) ** (1 / 1.11))


@dataclass(frozen=True)
class Stuff:
    """What a tool sends into its hose, by samples.

    Attributes
    ----------
    mass_kg_s
        How much [kg/s].
    grain_m, density_kg_m3
        The sphere that falls like its usual grains [m, kg/m³].
    longest_m
        Its longest chips [m].
    duct_m_s
        Speed that keeps it moving along a long duct of standard air [m/s].
    between_relations
        Where among the relations' answers the speed lies at which it settles, 0 to 1.
    over_saltation, over_fall
        Speed that is needed over that at which it settles, and over that at which it falls.
    """

    mass_kg_s: Array
    grain_m: Array
    density_kg_m3: Array
    longest_m: Array
    duct_m_s: Array
    between_relations: Array
    over_saltation: Array
    over_fall: Array

    @classmethod
    def of(cls, tool: Tool, draw: Draw) -> Stuff:
        """What the tool makes at its operation."""
        return _stuff(tool.hood, str(tool.operation), draw)

    @cached_property
    def passage_m(self) -> Array:
        """Narrowest passage in which its longest chips do not jam [m]."""
        return np.asarray(fact("air.passage").value * self.longest_m)

    @cached_property
    def passage(self) -> Band:
        """The same, nine samples in ten."""
        return Band.of(self.passage_m, "length")

    @cached_property
    def longest(self) -> Band:
        """Its longest chips, nine samples in ten."""
        return Band.of(self.longest_m, "length")

    def settles_m_s(self, bore_m: Array, air_kg_m3: Array) -> Array:
        """Speed at which it begins to settle in a level run [m/s], somewhere among the relations."""
        fall = fall_speed(self.grain_m, self.density_kg_m3, air_kg_m3)
        answers = (
            rizk(self.mass_kg_s, self.grain_m, air_kg_m3, bore_m),
            weber(self.mass_kg_s, self.grain_m, air_kg_m3, bore_m, fall),
            schade(self.mass_kg_s, self.grain_m, self.density_kg_m3, air_kg_m3, bore_m),
        )
        low, high = np.minimum.reduce(answers), np.maximum.reduce(answers)
        return np.asarray(low + (high - low) * self.between_relations)

    def long_duct_m_s(self, air_kg_m3: Array) -> Array:
        """Speed that a long duct must have in this air [m/s]; the air's push goes with ρ V²."""
        return np.asarray(self.duct_m_s * np.sqrt(STANDARD_DENSITY_KG_M3 / air_kg_m3))

    def level_need_m_s(self, settles_m_s: Array, length_m: Array, air_kg_m3: Array) -> Array:
        """Speed that a level run must have, in which it settles at a speed [m/s]."""
        duct = self.long_duct_m_s(air_kg_m3)
        short = np.minimum(settles_m_s * self.over_saltation, duct)
        ends = fact("air.short_run").value, fact("air.long_run").value
        share = np.clip((length_m - ends[0]) / (ends[1] - ends[0]), 0.0, 1.0)
        return np.asarray(short + (duct - short) * share)

    def climb_need_m_s(self, air_kg_m3: Array) -> Array:
        """Speed that a straight climb must have [m/s]."""
        return np.asarray(fall_speed(self.grain_m, self.density_kg_m3, air_kg_m3) * self.over_fall)


@lru_cache(maxsize=128)
def _stuff(hood: str, operation: str, draw: Draw) -> Stuff:
    wanted = need(hood, operation)

    def spread(row: Fact) -> Array:
        return draw.between(*row.span, row.key)

    return Stuff(
        spread(wanted.mass),
        spread(wanted.grain),
        spread(wanted.density),
        spread(wanted.longest),
        spread(wanted.carry),
        draw.between(0.0, 1.0, "air.saltation"),
        spread(fact("air.over_saltation")),
        spread(fact("air.over_fall")),
    )
