"""What a person may lift: the revised NIOSH equation with its multipliers."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from .sources import fact

Array = NDArray[np.float64]


def recommended_lift_kg(
    reach_m: ArrayLike,
    height_m: ArrayLike,
    travel_m: ArrayLike,
    turn_deg: ArrayLike = 0.0,
    frequency: ArrayLike = 1.0,
    grip: ArrayLike = 1.0,
) -> Array:
    """Weight that nearly all healthy workers may lift [kg]: 23 H V D A F C; broadcasts.

    ``23 (25/H) (1 − 0.003 |V − 75|) (0.82 + 4.5/D) (1 − 0.0032 A) F C``, centimetres and
    degrees (Waters, Putz-Anderson and Garg 1994).

    Parameters
    ----------
    reach_m
        Hands in front of the ankles [m]: no less than 0.25 counts; beyond 0.63 nothing may be.
    height_m
        Hands above the floor at the start [m], to 1.75.
    travel_m
        How far up or down it goes [m]: no less than 0.25 counts, to 1.75.
    turn_deg
        How far the body turns [°], to 135.
    frequency, grip
        Multipliers F and C from the manual's tables; 1 for now and then, with good handles.

    Examples
    --------
    >>> round(float(recommended_lift_kg(0.30, 0.75, 0.25)), 1)
    19.2
    """
    reach, height, travel, turn = (
        np.asarray(x, dtype=float) for x in (reach_m, height_m, travel_m, turn_deg)
    )
    near, highest = fact("cart.lift.near").value, fact("cart.lift.highest").value
    off = np.abs(height - fact("cart.lift.knuckles").value)
    far = np.where(reach > fact("cart.lift.farthest").value, 0.0, near / np.maximum(reach, near))
    high = np.where(height > highest, 0.0, np.maximum(1 - 0.3 * off, 0.0))
    least = fact("cart.lift.travel").value
    way = np.where(travel > highest, 0.0, 0.82 + 0.045 / np.maximum(travel, least))
    about = np.where(turn > 135, 0.0, 1 - 0.0032 * turn)
    constant = fact("cart.lift.constant").value
    others = np.asarray(frequency, dtype=float) * np.asarray(grip, dtype=float)
    return np.asarray(constant * far * high * way * about * others)
