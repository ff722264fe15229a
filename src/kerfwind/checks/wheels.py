"""What each wheel carries, on a level floor and with one of them lifted."""

from __future__ import annotations

import itertools
import math

import numpy as np

from ..fact_samples import Samples
from ..sources import fact


def _planes(wheels_xy: Samples) -> Samples:
    """Each of three wheels' share as a plane over where the load stands, shape (..., 3, 3).

    It is one at its own wheel and zero at the others. ``wheels_xy`` has the shape (..., 3, 2).
    """
    corners = np.concatenate([wheels_xy, np.ones((*wheels_xy.shape[:-1], 1))], axis=-1)
    planes: Samples = np.linalg.inv(np.swapaxes(corners, -1, -2))
    return planes


def three_wheels(wheels_xy: Samples, centre_xy: Samples) -> Samples:
    """Shares of the load on three wheels, by moments, shape (3, n).

    A share below zero means that the cart would rather tip over that side.

    Parameters
    ----------
    wheels_xy
        Shape (..., 3, 2); the shares of each three then come one after another.
    centre_xy
        Shape (2, n).
    """
    shares: Samples = _planes(wheels_xy).reshape(-1, 3) @ np.vstack(
        [centre_xy, np.ones(centre_xy.shape[1])]
    )
    return shares


def level_shares(axles_xy: Samples, centre_xy: Samples) -> Samples:
    """Shares on four equally springy wheels under a rigid cart on a level floor, (4, n).

    Equal springs take a share that varies evenly with place: the plane through the
    loads that balances force and both moments.
    """
    middle = axles_xy.mean(axis=0)
    d = axles_xy - middle
    spread = d.T @ d
    slope = np.linalg.solve(spread, centre_xy - middle[:, None])
    shares: Samples = 1 / len(axles_xy) + d @ slope
    return shares


def worst_wheel_n(
    mass_kg: Samples, centre_xy: Samples, axles_xy: Samples, trail_m: Samples
) -> Samples:
    """Largest force on one wheel with any wheel lifted and all wheels trailed one way [N].

    On an uneven floor two diagonal wheels can carry all of it.

    Parameters
    ----------
    axles_xy
        Shape (4, 2).
    """
    weight = mass_kg * fact("general.gravity").value
    turns = np.arange(8) * math.pi / 4
    # Wheels that all stand over one way carry as if the load stood over the other way.
    shift = np.stack([np.cos(turns), np.sin(turns)])[:, :, None] * trail_m
    over = (centre_xy[:, None] - shift).reshape(2, -1)
    trios = np.array(list(itertools.combinations(range(len(axles_xy)), 3)))
    shares = three_wheels(axles_xy[trios], over).reshape(len(trios), 3, -1)
    stands = shares.min(axis=1) >= -1e-9
    most: Samples = np.where(stands, shares.max(axis=1), 0.0).max(axis=0)
    worst: Samples = most.reshape(len(turns), -1).max(axis=0) * weight
    return worst
