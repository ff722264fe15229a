"""Loss coefficients of what stands between runs.

Each says which bore's velocity head it refers to. `fluids` has the same relations one
value at a time; these broadcast over the sample axis and are tested against it.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..sources import fact

Array = NDArray[np.float64]


def contraction_sharp(small_m: ArrayLike, large_m: ArrayLike) -> Array:
    """Sudden contraction, on the *small* bore's velocity (Rennels and Hudson 2012).

    ``K = 0.0696 (1 − β⁵) λ² + (λ − 1)²`` with ``λ = 1 + 0.622 (1 − 0.215 β² − 0.785 β⁵)``,
    β the ratio of bores.

    Parameters
    ----------
    small_m, large_m
        Bores [m].

    Examples
    --------
    >>> round(float(contraction_sharp(0.05, 0.1)), 3)
    0.496
    """
    beta = np.asarray(small_m, dtype=float) / np.asarray(large_m, dtype=float)
    square = beta * beta
    fifth = square * square * beta
    jet = 1 + 0.622 * (1 - 0.215 * square - 0.785 * fifth)
    return np.asarray(0.0696 * (1 - fifth) * jet**2 + (jet - 1) ** 2)


def enlargement_sharp(small_m: ArrayLike, large_m: ArrayLike) -> Array:
    """Sudden enlargement, on the *small* bore's velocity: ``(1 − A1/A2)²`` (Borda, Carnot).

    Parameters
    ----------
    small_m, large_m
        Bores [m].

    Examples
    --------
    >>> float(enlargement_sharp(0.05, 0.1))
    0.5625
    """
    beta = np.asarray(small_m, dtype=float) / np.asarray(large_m, dtype=float)
    return np.asarray((1 - beta**2) ** 2)


def contraction_conical(small_m: ArrayLike, large_m: ArrayLike, angle_rad: ArrayLike) -> Array:
    """Conical contraction of full angle, on the *small* bore's velocity (Crane TP 410).

    ``0.8 sin(α/2) (1 − β²)`` up to 45°, ``0.5 √sin(α/2) (1 − β²)`` above.

    Parameters
    ----------
    small_m, large_m
        Bores [m].
    angle_rad
        Full angle of the cone [rad].

    Examples
    --------
    >>> round(float(contraction_conical(0.05, 0.1, np.radians(30))), 3)
    0.155
    """
    beta2 = (np.asarray(small_m, dtype=float) / np.asarray(large_m, dtype=float)) ** 2
    half = np.sin(np.asarray(angle_rad, dtype=float) / 2)
    flat = np.asarray(angle_rad) <= np.pi / 4
    return np.asarray(np.where(flat, 0.8 * half, 0.5 * np.sqrt(half)) * (1 - beta2))


def enlargement_conical(small_m: ArrayLike, large_m: ArrayLike, angle_rad: ArrayLike) -> Array:
    """Conical enlargement of full angle, on the *small* bore's velocity (Crane TP 410).

    ``2.6 sin(α/2) (1 − β²)²`` up to 45°, ``(1 − β²)²`` above.

    Parameters
    ----------
    small_m, large_m
        Bores [m].
    angle_rad
        Full angle of the cone [rad].

    Examples
    --------
    >>> round(float(enlargement_conical(0.05, 0.1, np.radians(20))), 3)
    0.254
    """
    sharp = enlargement_sharp(small_m, large_m)
    angle = np.asarray(angle_rad, dtype=float)
    return np.asarray(np.where(angle <= np.pi / 4, 2.6 * np.sin(angle / 2), 1.0) * sharp)


def step(before_m: ArrayLike, after_m: ArrayLike, angle_rad: ArrayLike | None = None) -> Array:
    """A change of bore in the direction of flow, on the *smaller* bore's velocity.

    Sudden, or conical where ``angle_rad``, the cone's full angle, is given.

    Parameters
    ----------
    before_m, after_m
        Bores before and after [m].
    angle_rad
        Full angle of the cone [rad].

    Examples
    --------
    >>> round(float(step(0.1, 0.05)), 3), round(float(step(0.05, 0.1)), 4)
    (0.496, 0.5625)
    """
    before, after = np.asarray(before_m, dtype=float), np.asarray(after_m, dtype=float)
    small, large = np.minimum(before, after), np.maximum(before, after)
    if angle_rad is None:
        narrower, wider = contraction_sharp(small, large), enlargement_sharp(small, large)
    else:
        narrower = contraction_conical(small, large, angle_rad)
        wider = enlargement_conical(small, large, angle_rad)
    return np.asarray(np.where(after < before, narrower, wider))


def bend(angle_rad: ArrayLike, radius_over_bore: ArrayLike, friction: ArrayLike) -> Array:
    """A round bend, on its own bore's velocity, its wall friction included.

    Rennels and Hudson (2012): ``K = f α r/D + (0.10 + 2.4 f) sin(α/2) +
    6.6 f (√sin(α/2) + sin(α/2)) / (r/D)^(4α/π)``, f Darcy's factor of the wall.

    Parameters
    ----------
    angle_rad
        By how much the air turns [rad].
    radius_over_bore
        Radius of the bend's middle line over the bore.
    friction
        Darcy's factor of the wall.

    Examples
    --------
    >>> round(float(bend(np.pi / 2, 1.5, 0.02)), 3)
    0.243
    """
    angle = np.asarray(angle_rad, dtype=float)
    ratio = np.asarray(radius_over_bore, dtype=float)
    f = np.asarray(friction, dtype=float)
    half = np.sin(angle / 2)
    return np.asarray(
        f * angle * ratio
        + (0.10 + 2.4 * f) * half
        + 6.6 * f * (np.sqrt(half) + half) / ratio ** (4 * angle / np.pi)
    )


def cyclone_shepherd_lapple(inlet_area_m2: ArrayLike, outlet_m: ArrayLike) -> Array:
    """Cyclone from inlet to outlet, on the *inlet's* velocity.

    ``16 A / De²``, A the inlet's area, De the outlet's bore (Shepherd and Lapple 1939,
    1940); 8 for the standard proportions.

    Parameters
    ----------
    inlet_area_m2
        Area of the inlet [m²].
    outlet_m
        Bore of the outlet [m].

    Examples
    --------
    >>> round(float(cyclone_shepherd_lapple(0.5 * 0.25, 0.5)), 6)
    8.0
    """
    return np.asarray(
        16 * np.asarray(inlet_area_m2, dtype=float) / np.asarray(outlet_m, dtype=float) ** 2
    )


def cyclone_casal(inlet_area_m2: ArrayLike, outlet_m: ArrayLike) -> Array:
    """Cyclone, on the *inlet's* velocity: ``11.3 (A/De²)² + 3.33`` (Casal and Martinez-Benet 1983).

    Parameters
    ----------
    inlet_area_m2
        Area of the inlet [m²].
    outlet_m
        Bore of the outlet [m].

    Examples
    --------
    >>> round(float(cyclone_casal(0.5 * 0.25, 0.5)), 3)
    6.155
    """
    x = np.asarray(inlet_area_m2, dtype=float) / np.asarray(outlet_m, dtype=float) ** 2
    return np.asarray(11.3 * x**2 + 3.33)


def branch_entry(angle_rad: ArrayLike) -> Array:
    """A branch entering a main, on the *branch's* velocity; broadcasts.

    ACGIH's table, straight lines between its angles and down to none straight on.

    Parameters
    ----------
    angle_rad
        Between branch and main [rad]; 0 is straight on.

    Raises
    ------
    ValueError
        An angle outside 0° to 90°.

    Examples
    --------
    >>> round(float(branch_entry(np.radians(45))), 2)
    0.28
    """
    degrees = np.degrees(np.asarray(angle_rad, dtype=float))
    if np.any(~((degrees >= 0) & (degrees <= 90.0001))):
        raise ValueError("angle of a branch: allowed from 0° straight on to 90°")
    angles = (30, 45, 60, 90)
    table = [0.0, *(fact(f"air.branch_entry.{a}").value for a in angles)]
    return np.asarray(np.interp(degrees, (0, *angles), table))


def wye_branch(
    main_m: ArrayLike, branch_m: ArrayLike, share: ArrayLike, angle_rad: ArrayLike
) -> Array:
    """Branch of a converging wye, on the *joined* flow's velocity; broadcasts.

    Crane TP 410 (2009), 2-14: ``C [1 + (s/β²)² − 2 (1 − s)² − F s²/β²]``, s the branch's share
    of the joined flow, β branch over main bore. Below zero the branch is drawn along.

    Parameters
    ----------
    main_m, branch_m
        Bores of main and branch [m].
    share
        The branch's part of the joined flow, 0 to 1.
    angle_rad
        Between branch and main [rad].

    Examples
    --------
    >>> round(float(wye_branch(0.1, 0.1, 0.5, np.radians(45))), 3)
    0.219
    """
    beta2 = (np.asarray(branch_m, dtype=float) / np.asarray(main_m, dtype=float)) ** 2
    s = np.asarray(share, dtype=float)
    f = np.interp(
        np.degrees(np.asarray(angle_rad, dtype=float)), (30, 45, 60, 90), (1.74, 1.41, 1, 0)
    )
    c = np.where(beta2 <= 0.35, 1.0, np.where(s <= 0.4, 0.9 * (1 - s), 0.55))
    return np.asarray(c * (1 + (s / beta2) ** 2 - 2 * (1 - s) ** 2 - f / beta2 * s**2))


def wye_run(
    main_m: ArrayLike, branch_m: ArrayLike, share: ArrayLike, angle_rad: ArrayLike
) -> Array:
    """Straight way through a converging wye, on the *joined* flow's velocity; broadcasts.

    Crane TP 410 (2009), 2-14: ``1 − (1 − s)² − F s²/β²``; ``1.55 s − s²`` from 75° up.

    Parameters
    ----------
    main_m, branch_m
        Bores of main and branch [m].
    share
        The branch's part of the joined flow, 0 to 1.
    angle_rad
        Between branch and main [rad].

    Examples
    --------
    >>> round(float(wye_run(0.1, 0.1, 0.5, np.radians(45))), 3)
    0.398
    """
    beta2 = (np.asarray(branch_m, dtype=float) / np.asarray(main_m, dtype=float)) ** 2
    s = np.asarray(share, dtype=float)
    degrees = np.degrees(np.asarray(angle_rad, dtype=float))
    f = np.interp(degrees, (30, 45, 60), (1.74, 1.41, 1.0))
    wye = 1 - (1 - s) ** 2 - f / beta2 * s**2
    return np.asarray(np.where(degrees < 75, wye, 1.55 * s - s * s))
