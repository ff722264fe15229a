"""What screws hold in plywood, and what racking asks of them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..quantity import Draw
from ..sources import fact
from .loads import spread_fact
from .model import Joint, Samples

_LB_PER_IN = 4.4482216152605 / 0.0254
_IN = 0.0254


def withdrawal_n_per_m(specific_gravity: Samples | float, diameter_m: float) -> Samples:
    """Allowable withdrawal of a wood screw from solid side grain, per length of thread [N/m].

    National Design Specification: W = 2850 G² D in pounds per inch, D in inches, G oven-dry.
    It holds a fifth of the mean strength.

    Examples
    --------
    >>> round(float(withdrawal_n_per_m(0.45, 0.190 * 0.0254)) / (4.4482216152605 / 0.0254))
    110
    """
    allowed: Samples = (
        2850 * np.asarray(specific_gravity, dtype=float) ** 2 * (diameter_m / _IN) * _LB_PER_IN
    )
    return allowed


def thread_m(length_m: float, through_m: float) -> float:
    """Thread that bites beyond the first panel: two thirds of a wood screw are threaded [m]."""
    return max(min(length_m * fact("cart.screw.threaded").value, length_m - through_m), 0.0)


def in_edge_n(length_m: float, diameter_m: float, through_m: float, draw: Draw) -> Samples:
    """Allowable withdrawal of one screw from a plywood edge [N].

    The standard's value for solid side grain, reduced: tests on plywood show that it reads
    high there, and edges hold less than faces.
    """
    base = withdrawal_n_per_m(spread_fact("cart.plywood.gravity", draw), diameter_m)
    return base * thread_m(length_m, through_m) * spread_fact("cart.screw.in_edge", draw)


def in_face_n(length_m: float, diameter_m: float, through_m: float, draw: Draw) -> Samples:
    """Allowable withdrawal of one screw from plywood faces, the thread beyond ``through_m`` [N]."""
    base = withdrawal_n_per_m(spread_fact("cart.plywood.gravity", draw), diameter_m)
    return base * thread_m(length_m, through_m) * spread_fact("cart.screw.in_face", draw)


def couple_nm(places_m: Sequence[float], width_m: float, each_n: Samples) -> Samples:
    """Moment that a row of screws in a rail's end resists [N m].

    The rail's edge bears on the side at one end of its width; every screw pulls by its
    distance from there, the farthest at what it is allowed.
    """
    arms = np.asarray([p for p in places_m if p < width_m], dtype=float)
    if arms.size == 0:
        return np.zeros_like(each_n)
    moment: Samples = each_n * float(np.sum(arms**2) / arms.max())
    return moment


def racking_force_n(moments_nm: Sequence[Samples], height_m: float) -> Samples:
    """Sideways push at the top that the joints' moments resist together [N]."""
    force: Samples = np.sum(moments_nm, axis=0) / height_m
    return force


def rail_moments_nm(
    joints: Sequence[Joint], rails: Sequence[str], rail_width_m: float, each_n: Samples
) -> list[Samples]:
    """The moment of each joint between an upright and one of the ``rails``."""
    found = []
    for joint in joints:
        if joint.second in rails and abs(joint.screws[0].direction[0]) > 0.5:
            heights = np.array([s.head_m[2] for s in joint.screws])
            low = (rail_width_m - float(np.ptp(heights))) / 2
            places = [low + float(h - heights.min()) for h in heights]
            found.append(couple_nm(places, rail_width_m, each_n))
    return found
