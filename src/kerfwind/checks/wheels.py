"""What each wheel carries, on a level floor and with one of them lifted."""

from __future__ import annotations

import itertools
import math

import numpy as np

from ..fact_samples import Samples
from ..sources import fact


def three_wheels(contact_xy: Samples, centre_xy: Samples) -> Samples:
    """Shares of the load on three wheels, by moments, shape (3, ..., n).

    A share below zero means that the cart would rather tip over that side.

    Parameters
    ----------
    contact_xy
        Wheel and coordinate on the first two axes, shape (3, 2, ..., n).
    centre_xy
        Shape (2, ..., n).
    """
    a, b, c = contact_xy

    def cross(p: Samples, q: Samples, r: Samples) -> Samples:
        turned: Samples = (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])
        return turned

    whole = cross(a, b, c)
    shares: Samples = np.stack(
        [
            cross(centre_xy, b, c) / whole,
            cross(a, centre_xy, c) / whole,
            cross(a, b, centre_xy) / whole,
        ]
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
    shift = np.stack([np.cos(turns), np.sin(turns)])[:, :, None] * trail_m
    worst: Samples = np.zeros_like(weight)
    for trio in itertools.combinations(range(4), 3):
        # Shapes: wheel, coordinate, turn, sample.
        contact = axles_xy[list(trio)][:, :, None, None] + shift[None]
        shares = three_wheels(contact, centre_xy[:, None])
        stands = np.all(shares >= -1e-9, axis=0)
        most = np.where(stands, shares.max(axis=0), 0.0).max(axis=0)
        worst = np.maximum(worst, most * weight)
    return worst
