"""Air: pressure by altitude, density, viscosity."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..kept import Kept
from ..quantity import Draw, Quantity
from ..sources import fact

Array = NDArray[np.float64]

GAS_CONSTANT_J_KG_K = fact("air.gas_constant").value
STANDARD_DENSITY_KG_M3 = fact("air.standard_density").value
RATIO_OF_SPECIFIC_HEATS = 1.4


def pressure_at_altitude(altitude_m: ArrayLike) -> Array:
    """Pressure of the standard atmosphere [Pa] up to 11 km, ICAO Doc 7488.

    ``p = 101325 (1 − 2.25577e-5 h)^5.25588``, h the altitude [m]; broadcasts.

    Parameters
    ----------
    altitude_m
        Above the sea [m], −1000 to 11,000.

    Raises
    ------
    ValueError
        Below −1000 m or above 11,000 m.

    Examples
    --------
    >>> round(float(pressure_at_altitude(1500)))
    84556
    """
    h = np.asarray(altitude_m, dtype=float)
    if np.any(~np.isfinite(h)) or np.any(h < -1000) or np.any(h > 11_000):
        raise ValueError("altitude: allowed from -1000 m to 11000 m")
    sea = fact("air.sea_level_pressure").value
    return np.asarray(sea * (1 - 2.25577e-5 * h) ** 5.25588)


def density(pressure_pa: ArrayLike, temperature_k: ArrayLike) -> Array:
    """Density of dry air as an ideal gas [kg/m³]; broadcasts.

    Parameters
    ----------
    pressure_pa
        Absolute pressure [Pa].
    temperature_k
        Absolute temperature [K].

    Raises
    ------
    ValueError
        Pressure or temperature not above zero.

    Examples
    --------
    >>> round(float(density(101_325, 293.15)), 3)
    1.204
    """
    p, t = np.asarray(pressure_pa, dtype=float), np.asarray(temperature_k, dtype=float)
    if not (np.all(p > 0) and np.all(t > 0)):
        raise ValueError("pressure and temperature: allowed above zero, absolute")
    return np.asarray(p / (GAS_CONSTANT_J_KG_K * t))


def viscosity(temperature_k: ArrayLike) -> Array:
    """Dynamic viscosity of air [Pa s], Sutherland's relation; broadcasts.

    Parameters
    ----------
    temperature_k
        Absolute temperature [K].

    Examples
    --------
    >>> round(float(viscosity(293.15)) * 1e6, 2)
    18.13
    """
    t = np.asarray(temperature_k, dtype=float)
    return np.asarray(1.458e-6 * t**1.5 / (t + 110.4))


@dataclass(frozen=True)
class RoomAir:
    """The air of the room, samples on the last axis, and what it rests on."""

    pressure_pa: Array
    temperature_k: Array
    rests_on: tuple[Quantity, ...] = ()

    @cached_property
    def density_kg_m3(self) -> Array:
        """Density in the room [kg/m³]."""
        return density(self.pressure_pa, self.temperature_k)

    @cached_property
    def viscosity_pa_s(self) -> Array:
        """Dynamic viscosity [Pa s]."""
        return viscosity(self.temperature_k)


#: Tools stand in the same air, and what is worked out of it is the same.
_rooms: Kept[RoomAir] = Kept(8)


def room_air(altitude: Quantity, temperature: Quantity, draw: Draw) -> RoomAir:
    """The room's air, with the weather's hand in the barometer."""
    return _rooms.of((altitude, temperature), draw, lambda: _room_air(altitude, temperature, draw))


def _room_air(altitude: Quantity, temperature: Quantity, draw: Draw) -> RoomAir:
    weather = draw.between(*fact("air.weather").span, "air.weather")
    return RoomAir(
        pressure_at_altitude(draw.of(altitude)) * weather,
        draw.of(temperature),
        (altitude, temperature),
    )
