"""Standing on a slope: tipping about the real contact points of swivelling wheels."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..cart.loads import CartState
from ..cart.model import Load
from ..fact_samples import Samples


@dataclass(frozen=True)
class Stand:
    """How the cart stands in one state: its load and where the floor holds it up.

    ``tilt_rad`` gives, for each side it could fall to, the slope that overturns it.
    """

    state: CartState
    load: Load
    tilt_rad: dict[str, Samples]


#: Outward directions of the four sides.
SIDES: dict[str, tuple[float, float]] = {
    "front": (0.0, -1.0),
    "rear": (0.0, 1.0),
    "left": (-1.0, 0.0),
    "right": (1.0, 0.0),
}


def tilt_angle_rad(arm_m: Samples | float, height_m: Samples | float) -> Samples:
    """Slope at which a rigid body overturns about an edge [rad]: arctan(arm / height).

    ``arm_m`` is the level distance from the edge inward to the centre of mass, negative
    when the centre already hangs outside; ``height_m`` the centre's height.

    Examples
    --------
    >>> round(float(np.degrees(tilt_angle_rad(0.2, 0.2))), 6)
    45.0
    """
    angle: Samples = np.arctan2(np.asarray(arm_m, dtype=float), height_m)
    return angle


def arm_m(
    centre_xy: Samples, axles_xy: Samples, outward: tuple[float, float], trail_m: Samples
) -> Samples:
    """Distance from the tipping edge on one side inward to the centre of mass [m].

    Every swivel lets its wheel touch the floor anywhere on a circle of radius ``trail_m``
    about the axle's pivot; the edge is nearest when both wheels of the side trail inward.

    Parameters
    ----------
    centre_xy
        Shape (2, ..., n).
    axles_xy
        Pivots of the casters, shape (k, 2).
    outward
        Unit vector.
    trail_m
        Shape (n,).
    """
    u = np.asarray(outward)
    edge = float(np.max(axles_xy @ u))
    along = u[0] * centre_xy[0] + u[1] * centre_xy[1]
    distance: Samples = edge - trail_m - along
    return distance


def stand(state: CartState, load: Load, axles_xy: Samples, trail_m: Samples) -> Stand:
    """How one load stands, on each side, wheels trailed to their worst."""
    return Stand(
        state,
        load,
        {
            side: tilt_angle_rad(arm_m(load.centre_m[:2], axles_xy, out, trail_m), load.centre_m[2])
            for side, out in SIDES.items()
        },
    )
