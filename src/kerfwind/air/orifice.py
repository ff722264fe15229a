"""A hole in a plate, room air going in: how much, from the suction behind it.

The room upstream is wide (bore ratio nothing) and the gauge sits close behind the plate.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..facts import Amount, Name
from ..faults import refusal
from ..sources import fact
from .errors import OrificeError
from .properties import RATIO_OF_SPECIFIC_HEATS, RoomAir

Array = NDArray[np.float64]

#: Thickest plate, in bores of the hole, that has a correction at all.
THICKEST = 0.5


def discharge_coefficient(reynolds: ArrayLike) -> Array:
    """Thin sharp-edged plate before a wide space; Reynolds number of the hole; broadcasts.

    ISO 5167-2:2003, 5.3.2.1 (Reader-Harris and Gallagher), corner taps, in the limit of a
    small bore ratio: ``0.5961 + 0.000521 (10⁶/Re)^0.7``.

    Parameters
    ----------
    reynolds
        Reynolds number of the hole, on its bore; below 1000 taken as 1000.

    Examples
    --------
    >>> round(float(discharge_coefficient(1e5)), 4)
    0.5987
    """
    re = np.maximum(np.asarray(reynolds, dtype=float), 1e3)
    return np.asarray(0.5961 + 0.000521 * (1e6 / re) ** 0.7)


def expansibility(suction_pa: ArrayLike, pressure_pa: ArrayLike) -> Array:
    """Expansibility of air, bore ratio nothing: ``1 − 0.351 (1 − (p₂/p₁)^(1/κ))``; broadcasts.

    ISO 5167-2:2003, 5.3.2.2.

    Parameters
    ----------
    suction_pa, pressure_pa
        Suction behind the plate and the room's pressure [Pa].

    Examples
    --------
    >>> round(float(expansibility(5_000, 101_325)), 4)
    0.9875
    """
    ratio = 1 - np.asarray(suction_pa, dtype=float) / np.asarray(pressure_pa, dtype=float)
    return np.asarray(1 - 0.351 * (1 - ratio ** (1 / RATIO_OF_SPECIFIC_HEATS)))


def thickness_factor(thickness_over_hole: ArrayLike) -> Array:
    """Discharge of a thick plate over a thin one's; broadcasts.

    From the loss of a hole in a thick wall between wide spaces (Idelchik, diagram 4-18, from
    memory): ``ζ = 1.5 + (2.4 − l) 10^(−φ)``, ``φ = 0.25 + 0.535 l⁸/(0.05 + l⁷)``.

    Parameters
    ----------
    thickness_over_hole
        Thickness of the plate over the bore of the hole, up to a half.

    Raises
    ------
    OrificeError
        Thicker than half the hole: the jet may or may not cling, and no relation tells.

    Examples
    --------
    >>> round(float(thickness_factor(0.25)), 3)
    1.026
    """
    length = np.asarray(thickness_over_hole, dtype=float)
    if np.any(length < 0) or np.any(~np.isfinite(length)):
        raise OrificeError(
            refusal("air.orifice.plate_below_zero", "vacuum.suction.home_test.plate")
        )
    if np.any(length > THICKEST):
        raise OrificeError(
            refusal(
                "air.orifice.plate_too_thick",
                "vacuum.suction.home_test.plate",
                found=Amount(float(np.max(length)), "share"),
                most=Amount(THICKEST, "share"),
            )
        )

    def loss(x: Array | float) -> Array:
        phi = 0.25 + 0.535 * x**8 / (0.05 + x**7)
        return np.asarray(1.5 + (2.4 - x) * 10**-phi)

    return np.asarray(np.sqrt(loss(0.0) / loss(length)))


def airflow_m3_s(
    hole_m: ArrayLike,
    suction_pa: ArrayLike,
    room: RoomAir,
    *,
    plate_m: ArrayLike = 0.0,
    coefficient: ArrayLike = 1.0,
    thick: ArrayLike = 1.0,
) -> Array:
    """Volume of room air through a hole [m³/s]; broadcasts.

    ``ṁ = C ε A √(2 ρ₁ Δp)``, C found with its own Reynolds number.

    Parameters
    ----------
    hole_m, suction_pa
        Bore of the hole and suction close behind the plate.
    plate_m
        Thickness of the plate; thinner than a tenth of the hole it counts as thin.
    coefficient
        Factor on C, such as samples of its spread.
    thick
        Factor on the correction for a thick plate.

    Raises
    ------
    OrificeError
        A negative hole, a suction below zero or past half an atmosphere, a plate too thick.

    Examples
    --------
    >>> from kerfwind.air import RoomAir
    >>> room = RoomAir(np.array(101_325.0), np.array(293.15))
    >>> round(float(airflow_m3_s(0.0254, 10_000, room)), 4)
    0.0381
    """
    d, s = np.asarray(hole_m, dtype=float), np.asarray(suction_pa, dtype=float)
    if np.any(d < 0) or not np.all(np.isfinite(d)):
        raise OrificeError(
            refusal(
                "air.orifice.hole_below_zero",
                "vacuum.suction.home_test.readings",
                found=Name(f"{float(np.min(d)):g}"),
            )
        )
    if (
        np.any(s < 0)
        or np.any(s > 0.5 * np.asarray(room.pressure_pa))
        or not np.all(np.isfinite(s))
    ):
        raise OrificeError(refusal("air.orifice.suction", "vacuum.suction.home_test.readings"))
    ratio = np.asarray(plate_m, dtype=float) / np.maximum(d, 1e-9)
    thin = (ratio <= fact("air.orifice.thin").value) | (d == 0)
    factor = 1 + np.asarray(thick) * (thickness_factor(np.where(thin, 0.0, ratio)) - 1)
    rho = np.asarray(room.density_kg_m3)
    ideal = np.pi / 4 * d**2 * np.sqrt(2 * s / rho) * expansibility(s, room.pressure_pa)
    c: Array = np.asarray(0.6)
    for _ in range(3):
        reynolds = 4 * rho * c * ideal / (np.pi * np.maximum(d, 1e-9) * room.viscosity_pa_s)
        c = discharge_coefficient(reynolds)
    return np.asarray(c * ideal * factor * np.asarray(coefficient))


def recovered_pa(
    airflow_m3_s: ArrayLike,
    hole_m: ArrayLike,
    bore_m: ArrayLike,
    density: ArrayLike,
    mixed: ArrayLike = 1.0,
) -> Array:
    """Total suction once the jet has filled the bore, less the gauge's reading [Pa].

    The gauge reads static pressure in the corner behind the plate. The jet of area 0.61 of
    the hole mixes at constant area; momentum gives back ``ρ V₂ (V_j − V₂)`` of static
    pressure, and the stream has ``ρ V₂²/2`` on top.

    ``mixed`` is the part of that momentum that comes back before the bore ends: all in a
    hose, little in a stub.

    Parameters
    ----------
    airflow_m3_s
        Through the hole [m³/s].
    hole_m, bore_m
        Bores of the hole and of what lies behind it [m].
    density
        Of the air [kg/m³].
    mixed
        Part of the momentum that comes back, 0 to 1.

    Examples
    --------
    >>> round(float(recovered_pa(0.038, 0.0254, 0.05, 1.2)))
    -2630
    """
    q = np.asarray(airflow_m3_s, dtype=float)
    jet = q / (0.61 * np.pi / 4 * np.maximum(np.asarray(hole_m, dtype=float), 1e-9) ** 2)
    pipe = q / (np.pi / 4 * np.asarray(bore_m, dtype=float) ** 2)
    return np.asarray(
        -np.asarray(density) * (np.asarray(mixed) * pipe * (jet - pipe) + pipe**2 / 2)
    )
