"""The published relations that plans rest on, for use by themselves.

Plain SI in and out, units in the names. Numbers give a number; arrays are taken wherever
numbers are, broadcast against each other, and give an array.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from . import lifting
from .air import curve, face, friction, losses, orifice, properties
from .breathing import noise, separator, sizes
from .checks import flatwall, pushing, tipping
from .joinery import screws
from .power import cord

__all__ = [
    "air_density",
    "air_pressure",
    "air_viscosity",
    "bend_loss",
    "branch_entry_loss",
    "capture_distance",
    "cord_drop",
    "cyclone_cut",
    "cyclone_kept",
    "cyclone_loss",
    "friction_factor",
    "hood_entry_loss",
    "inhalable_part",
    "lifting_limit",
    "noise_dose",
    "orifice_flow",
    "plate_deflection",
    "plate_stiffness",
    "ribbed_friction_factor",
    "screw_withdrawal",
    "settling_speed",
    "sudden_contraction",
    "sudden_enlargement",
    "tipping_angle",
    "tipping_force",
    "velocity_pressure",
]

Value = float | NDArray[np.float64]


def _plain(value: ArrayLike) -> Value:
    array = np.asarray(value, dtype=float)
    return float(array) if array.ndim == 0 else array


def _samples(value: ArrayLike) -> NDArray[np.float64]:
    return np.asarray(value, dtype=float)


def air_pressure(altitude_m: ArrayLike) -> Value:
    """Pressure of the standard atmosphere [Pa] at an altitude [m], −1000 to 11,000.

    ICAO Doc 7488, Manual of the ICAO Standard Atmosphere; from memory.

    Examples
    --------
    >>> round(air_pressure(0.0))
    101325
    """
    return _plain(properties.pressure_at_altitude(altitude_m))


def air_density(pressure_pa: ArrayLike = 101_325.0, temperature_k: ArrayLike = 293.15) -> Value:
    """Density of dry air [kg/m³], an ideal gas, at a pressure [Pa] and a temperature [K].

    Examples
    --------
    >>> round(air_density(), 3)
    1.204
    """
    return _plain(properties.density(pressure_pa, temperature_k))


def air_viscosity(temperature_k: ArrayLike = 293.15) -> Value:
    """Dynamic viscosity of air [Pa s] at a temperature [K]: Sutherland's relation; from memory.

    Examples
    --------
    >>> round(air_viscosity() * 1e6, 1)
    18.1
    """
    return _plain(properties.viscosity(temperature_k))


def velocity_pressure(
    airflow_m3_s: ArrayLike, bore_m: ArrayLike, density_kg_m3: ArrayLike = 1.204
) -> Value:
    """Velocity pressure ρV²/2 [Pa] of an airflow [m³/s] in a round bore [m].

    In air of 1.204 kg/m³ unless said. In standard air it is (V/4005)² inches of water, V in
    feet a minute (ACGIH, Industrial Ventilation; from memory).

    Examples
    --------
    One inch of water, 249.1 Pa, at 4005 feet a minute, 20.35 m/s:

    >>> import math
    >>> round(velocity_pressure(20.35 * math.pi / 4 * 0.1**2, 0.1), 1)
    249.3
    """
    return _plain(curve.velocity_pressure_pa(airflow_m3_s, bore_m, _samples(density_kg_m3)))


def hood_entry_loss(
    airflow_m3_s: ArrayLike,
    bore_m: ArrayLike,
    coefficient: ArrayLike,
    density_kg_m3: ArrayLike = 1.204,
) -> Value:
    """Pressure lost at a hood's entry [Pa]: a coefficient times the velocity pressure after it.

    The coefficient has no unit. ACGIH, Industrial Ventilation (24th edition), tells it by the
    hood's shape: 0.93 for a plain pipe end, 0.49 with a flange, 0.04 for a bell mouth; `kerfwind
    sources entry_loss` lists what plans use. Suction in the pipe is one velocity pressure more.

    Parameters
    ----------
    airflow_m3_s, bore_m
        Airflow [m³/s] in the round bore [m] behind the hood.
    density_kg_m3
        Of the air [kg/m³].

    Examples
    --------
    >>> round(hood_entry_loss(0.04, 0.05, 0.93))
    232
    """
    pressure = curve.velocity_pressure_pa(airflow_m3_s, bore_m, _samples(density_kg_m3))
    return _plain(_samples(coefficient) * pressure)


def friction_factor(reynolds: ArrayLike, relative_roughness: ArrayLike = 0.0) -> Value:
    """Darcy's friction factor, without unit, of a pipe in laminar to turbulent flow.

    Churchill, Friction-factor equation spans all fluid-flow regimes, Chemical Engineering, 7
    November 1977. Pressure lost is f L/D times the velocity pressure.

    Parameters
    ----------
    reynolds
        Reynolds number on the bore, without unit.
    relative_roughness
        Roughness over bore, both in one unit.

    Examples
    --------
    In laminar flow it is 64 over the Reynolds number:

    >>> round(friction_factor(1000.0), 4)
    0.064
    """
    return _plain(friction.churchill(reynolds, relative_roughness))


def ribbed_friction_factor(pitch_over_bore: ArrayLike) -> Value:
    """Darcy's friction factor, without unit, of a hose ribbed inside; pitch and bore in one unit.

    Hawthorne and von Helms, Flow in corrugated hose, Product Engineering, 1963; from memory.

    Examples
    --------
    >>> round(ribbed_friction_factor(0.1), 3)
    0.068
    """
    return _plain(friction.corrugated_hose(pitch_over_bore))


def sudden_enlargement(small_m: ArrayLike, large_m: ArrayLike) -> Value:
    """Loss of a sudden enlargement between two bores [m], in velocity pressures of the small one.

    (1 − A₁/A₂)²: Borda and Carnot.

    Examples
    --------
    >>> sudden_enlargement(0.05, 0.1)
    0.5625
    """
    return _plain(losses.enlargement_sharp(small_m, large_m))


def sudden_contraction(small_m: ArrayLike, large_m: ArrayLike) -> Value:
    """Loss of a sudden contraction between two bores [m], in velocity pressures of the small one.

    Rennels and Hudson, Pipe Flow: A Practical and Comprehensive Guide (2012).

    Examples
    --------
    >>> round(sudden_contraction(0.05, 0.1), 2)
    0.5
    """
    return _plain(losses.contraction_sharp(small_m, large_m))


def bend_loss(
    angle_rad: ArrayLike, radius_over_bore: ArrayLike, friction_factor: ArrayLike
) -> Value:
    """Loss of a round bend in velocity pressures of its bore, its wall's friction included.

    Rennels and Hudson, Pipe Flow: A Practical and Comprehensive Guide (2012).

    Parameters
    ----------
    angle_rad
        By how much the air turns [rad].
    radius_over_bore
        Radius of the bend's middle line over its bore, both in one unit.
    friction_factor
        Darcy's, of its wall; without unit.

    Examples
    --------
    >>> import math
    >>> round(bend_loss(math.pi / 2, 1.5, 0.02), 2)
    0.24
    """
    return _plain(losses.bend(angle_rad, radius_over_bore, friction_factor))


def branch_entry_loss(angle_rad: ArrayLike) -> Value:
    """Loss of a branch that enters a main at an angle [rad], in the branch's velocity pressures.

    ACGIH, Industrial Ventilation (24th edition), straight lines between the rows of its table.

    Examples
    --------
    >>> import math
    >>> round(branch_entry_loss(math.radians(30)), 2)
    0.18
    """
    return _plain(losses.branch_entry(angle_rad))


def orifice_flow(
    hole_m: ArrayLike,
    suction_pa: ArrayLike,
    plate_m: ArrayLike = 0.0,
    *,
    pressure_pa: ArrayLike = 101_325.0,
    temperature_k: ArrayLike = 293.15,
) -> Value:
    """Room air drawn through a hole in a plate [m³/s], from the suction close behind it.

    ISO 5167-2:2003, 5.3.2.1 and 5.3.2.2, corner taps, for a hole small against the room; a plate
    up to half as thick as its hole is corrected for by Idelchik, diagram 4-18, from memory.

    Parameters
    ----------
    hole_m, plate_m
        Bore of the hole and thickness of the plate [m].
    suction_pa
        Below the room's pressure [Pa].
    pressure_pa, temperature_k
        Of the room, absolute [Pa, K].

    Examples
    --------
    >>> round(orifice_flow(0.0254, 10_000.0), 3)
    0.038
    """
    room = properties.RoomAir(_samples(pressure_pa), _samples(temperature_k))
    return _plain(orifice.airflow_m3_s(hole_m, suction_pa, room, plate_m=plate_m))


def capture_distance(airflow_m3_s: ArrayLike, face_m2: ArrayLike, speed_m_s: ArrayLike) -> Value:
    """How far in front of an open face [m] air still moves at a speed [m/s]; 0 where nowhere.

    Dalla Valle, Exhaust Hoods (1952), V = Q/(10 x² + A) without a flange; from memory.

    Parameters
    ----------
    airflow_m3_s, face_m2
        Air drawn in [m³/s] through the face's area [m²].

    Examples
    --------
    >>> round(capture_distance(0.05, 0.02, 0.5), 3)
    0.089
    """
    return _plain(face.reach(_samples(airflow_m3_s), _samples(face_m2), _samples(speed_m_s)))


def cyclone_loss(inlet_area_m2: ArrayLike, outlet_m: ArrayLike) -> Value:
    """Loss of a cyclone in velocity pressures of its inlet, of an area [m²]; outlet's bore [m].

    16 A/D²: Shepherd and Lapple, Industrial and Engineering Chemistry 31 (1939) and 32 (1940);
    from memory.

    Examples
    --------
    Standard proportions, for a body of 1 m:

    >>> cyclone_loss(0.5 * 0.25, 0.5)
    8.0
    """
    return _plain(losses.cyclone_shepherd_lapple(inlet_area_m2, outlet_m))


def cyclone_cut(
    body_m: ArrayLike,
    airflow_m3_s: ArrayLike,
    particle_density_kg_m3: ArrayLike,
    *,
    air_density_kg_m3: ArrayLike = 1.204,
    viscosity_pa_s: ArrayLike = 1.81e-5,
) -> Value:
    """Diameter of grains [m] of which a cyclone of standard proportions keeps half.

    Lapple, Processes use many collector types, Chemical Engineering, May 1951.

    Parameters
    ----------
    body_m
        Diameter of its body [m].
    airflow_m3_s
        Airflow [m³/s].
    particle_density_kg_m3, air_density_kg_m3
        Densities [kg/m³].
    viscosity_pa_s
        Dynamic viscosity of the air [Pa s].

    Examples
    --------
    >>> round(cyclone_cut(0.2, 0.04, 1200.0) * 1e6, 1)
    4.7
    """
    return _plain(
        separator.cyclone_cut_m(
            body_m, airflow_m3_s, particle_density_kg_m3, air_density_kg_m3, viscosity_pa_s
        )
    )


def cyclone_kept(size_m: ArrayLike, cut_m: ArrayLike) -> Value:
    """Part of the dust of one size [m] that a cyclone keeps, 0 to 1; ``cut_m`` as `cyclone_cut`.

    Lapple, Processes use many collector types, Chemical Engineering, May 1951.

    Examples
    --------
    >>> cyclone_kept([5e-6, 10e-6], 5e-6).tolist()
    [0.5, 0.8]
    """
    return _plain(separator.cyclone_kept(size_m, cut_m))


def screw_withdrawal(
    specific_gravity: ArrayLike, diameter_m: ArrayLike, thread_m: ArrayLike = 1.0
) -> Value:
    """Allowable pull along one wood screw in side grain [N]; 1 m of thread unless said.

    National Design Specification: 2850 G² D pounds an inch of thread, a fifth of the mean strength.

    Parameters
    ----------
    specific_gravity
        Of the wood, oven-dry, over water's; without unit.
    diameter_m, thread_m
        The shank's diameter and the thread in the wood [m].

    Examples
    --------
    A tabulated 110 pounds an inch, for 0.190 in and a specific gravity of 0.45:

    >>> round(screw_withdrawal(0.45, 0.190 * 0.0254, 0.0254) / 4.4482216)
    110
    """
    per_m = screws.withdrawal_n_per_m(_samples(specific_gravity), _samples(diameter_m))
    return _plain(per_m * _samples(thread_m))


def plate_stiffness(modulus_pa: ArrayLike, thickness_m: ArrayLike, poisson: ArrayLike) -> Value:
    """Bending stiffness per width of a plate [N m]: E t³/(12 (1 − ν²)).

    Parameters
    ----------
    modulus_pa, thickness_m
        Young's modulus [Pa] and thickness [m].
    poisson
        Poisson's ratio, without unit.

    Examples
    --------
    >>> round(plate_stiffness(7e9, 0.018, 0.3))
    3738
    """
    return _plain(
        flatwall.stiffness_nm(_samples(modulus_pa), _samples(thickness_m), _samples(poisson))
    )


def plate_deflection(
    load_pa: ArrayLike, short_m: ArrayLike, long_m: ArrayLike, stiffness_nm: ArrayLike
) -> Value:
    """Middle's deflection [m] of a rectangle simply held on four edges under an even load.

    Navier's series: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, article 30.

    Parameters
    ----------
    load_pa
        Load over its area [Pa].
    short_m, long_m
        Its sides [m].
    stiffness_nm
        Bending stiffness per width [N m], as `plate_stiffness`.

    Examples
    --------
    Table 8 there has 0.00406 for a square:

    >>> round(plate_deflection(1.0, 1.0, 1.0, 1.0), 5)
    0.00406
    """
    short = _samples(short_m)
    factor = flatwall.simply_held(_samples(long_m) / short)
    return _plain(factor * _samples(load_pa) * short**4 / _samples(stiffness_nm))


def tipping_angle(arm_m: ArrayLike, height_m: ArrayLike) -> Value:
    """Slope at which a rigid body overturns [rad]: arctan(arm/height).

    Parameters
    ----------
    arm_m, height_m
        Of its centre of mass: level distance from the tipping edge inward, and height [m].

    Examples
    --------
    >>> import math
    >>> round(math.degrees(tipping_angle(0.2, 0.2)), 6)
    45.0
    """
    return _plain(tipping.tilt_angle_rad(_samples(arm_m), _samples(height_m)))


def tipping_force(weight_n: ArrayLike, arm_m: ArrayLike, height_m: ArrayLike) -> Value:
    """Level force that tips a body about a held edge [N]: weight times arm over height.

    Parameters
    ----------
    weight_n
        Its weight [N].
    arm_m
        Level distance from the edge inward to its centre of mass [m].
    height_m
        Height at which the force pulls [m].

    Examples
    --------
    >>> tipping_force(300.0, 0.2, 1.2)
    50.0
    """
    return _plain(pushing.tipping_force_n(_samples(weight_n), _samples(arm_m), _samples(height_m)))


def settling_speed(diameter_m: ArrayLike) -> Value:
    """Speed at which dust of an aerodynamic diameter [m] falls in still air [m/s].

    Stokes with slip, drag after Schiller and Naumann; of spheres as dense as water.

    Examples
    --------
    >>> round(settling_speed(10e-6) * 1000, 1)
    3.1
    """
    return _plain(sizes.settling_m_s(diameter_m))


def inhalable_part(diameter_m: ArrayLike) -> Value:
    """Part of airborne dust of an aerodynamic diameter [m] that is breathed in, 0 to 1 (EN 481).

    Examples
    --------
    >>> round(inhalable_part(10e-6), 3)
    0.774
    """
    return _plain(sizes.inhalable(diameter_m))


def noise_dose(
    levels_db: list[ArrayLike], seconds: list[ArrayLike], level_db: float, rate_db: float
) -> Value:
    """Dose of sounds one after another, without unit, 1 for a full day's.

    ``levels_db`` [dB(A)] and ``seconds`` [s] are those of each sound; ``level_db`` may last eight
    hours, and ``rate_db`` more halves that: 85 and 3 by NIOSH, 90 and 5 by OSHA.

    Examples
    --------
    >>> round(noise_dose([92], [8 * 3600], 90, 5), 2)
    1.32
    """
    return _plain(noise.noise_dose(levels_db, seconds, level_db, rate_db))


def lifting_limit(
    reach_m: ArrayLike, height_m: ArrayLike, travel_m: ArrayLike, grip: ArrayLike = 1.0
) -> Value:
    """Weight that nearly all healthy workers may lift [kg], by the revised NIOSH equation.

    Hands ``reach_m`` in front of the ankles and ``height_m`` above the floor, lifted or let down
    by ``travel_m`` [m]; ``grip`` is the multiplier of the manual, 1 for good handles.

    Examples
    --------
    >>> round(lifting_limit(0.38, 0.90, 0.80, 0.95), 1)
    12.0
    """
    return _plain(lifting.recommended_lift_kg(reach_m, height_m, travel_m, grip=grip))


def cord_drop(amps: ArrayLike, length_m: ArrayLike, ohm_m: float, volts: ArrayLike) -> Value:
    """Share of the voltage that a cord of two conductors loses, 0 to 1.

    At a current [A] along a length [m] of conductors of so much resistance [Ω/m], from an outlet
    of so many volts [V].

    Examples
    --------
    15 m of 14 AWG, 0.0103 Ω/m when warm, at 12 A and 120 V:

    >>> round(cord_drop(12, 15, 0.0103, 120), 3)
    0.031
    """
    return _plain(cord.cord_drop(amps, length_m, ohm_m, volts))
