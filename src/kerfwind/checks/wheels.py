"""What each wheel carries, on a level floor and with one of them lifted."""

from __future__ import annotations

import itertools
import math

import numpy as np

from ..fact_samples import Samples
from ..sources import fact


def three_wheels(wheels_xy: Samples, centre_xy: Samples) -> Samples:
    """Shares of the load on three wheels, by moments, shape (3, ..., n).

    A share below zero means that the cart would rather tip over that side.

    Parameters
    ----------
    wheels_xy
        Shape (3, 2).
    centre_xy
        Shape (2, ..., n).
    """
    # Each share is a plane over where the load stands: one at its own wheel, zero at the others.
    planes = np.linalg.inv(np.vstack([wheels_xy.T, np.ones(3)]))
    x, y = centre_xy
    shares: Samples = np.stack([a * x + b * y + c for a, b, c in planes])
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
    over = centre_xy[:, None] - shift
    worst: Samples = np.zeros(over.shape[1:])
    for trio in itertools.combinations(range(4), 3):
        shares = three_wheels(axles_xy[list(trio)], over)
        stands = shares.min(axis=0) >= -1e-9
        np.maximum(worst, shares.max(axis=0), out=worst, where=stands)
    most: Samples = worst.max(axis=0) * weight
    return most
