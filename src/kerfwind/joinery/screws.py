"""What screws hold in plywood, and what racking asks of them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..fact_samples import Samples, spread_fact
from ..quantity import Draw
from ..sources import fact
from .model import PanelJoint

_LB_PER_IN = 4.4482216152605 / 0.0254
_IN = 0.0254
_PSI = 4.4482216152605 / 0.0254**2


def withdrawal_n_per_m(specific_gravity: Samples | float, diameter_m: Samples | float) -> Samples:
    """Allowable withdrawal of a wood screw from solid side grain, per length of thread [N/m].

    National Design Specification: W = 2850 G² D in pounds per inch, D in inches, G oven-dry.
    It holds a fifth of the mean strength.

    Parameters
    ----------
    specific_gravity
        Of the wood, oven-dry, over water's.
    diameter_m
        Of the screw's shank [m].

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


def bending_yield_pa(diameter_m: float) -> float:
    """Bending yield strength of a wood screw by its nominal diameter [Pa].

    National Design Specification, table I1: the thicker, the softer.

    Examples
    --------
    >>> round(bending_yield_pa(0.164 * 0.0254) / 6894.757)
    90000
    """
    rows = ("142", "177", "236", "273")
    found = next((most for most in rows if diameter_m / _IN <= float(f"0.{most}") + 1e-9), rows[-1])
    return fact(f"cart.screw.bending_{found}").value * _PSI


def lateral_n(
    specific_gravity: Samples | float, diameter_m: float, side_m: float, main_m: float
) -> Samples:
    """Allowable lateral load of one wood screw between two wooden members [N].

    The yield limit equations of the National Design Specification for single shear, side and
    main member of the same wood, on the root diameter, with its reduction for penetration below
    ten diameters.

    Parameters
    ----------
    side_m, main_m
        Length in the member at the head, and in the other one.

    Examples
    --------
    >>> round(float(lateral_n(0.5, 0.164 * 0.0254, 0.018, 0.03)))
    274
    """
    root = fact("cart.screw.root").value * diameter_m
    inches = root / _IN
    bearing = fact("cart.screw.bearing").value * np.asarray(specific_gravity, dtype=float) ** 1.84
    fe = bearing * _PSI
    fyb = bending_yield_pa(diameter_m)
    reduce = 2.2 if inches <= 0.17 else 10 * inches + 0.5
    turn = side_m / main_m
    k1 = (np.sqrt(1 + 2 * (1 + 1 / turn + 1 / turn**2) + 1 / turn**2) - (1 + 1 / turn)) / 2
    yields = fyb * root**2 / fe
    k2 = -1 + np.sqrt(4 + 2 * yields / main_m**2)
    k3 = -1 + np.sqrt(4 + 2 * yields / side_m**2)
    modes = [
        root * main_m * fe,
        root * side_m * fe,
        k1 * root * side_m * fe,
        k2 * root * main_m * fe / 3,
        k3 * root * side_m * fe / 3,
        root**2 * np.sqrt(fe * fyb / 3),
    ]
    deep = min(main_m / (fact("cart.screw.full_penetration").value * diameter_m), 1.0)
    allowed: Samples = np.minimum.reduce(np.broadcast_arrays(*modes)) / reduce * deep
    return allowed


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


def rail_moment_nm(joint: PanelJoint, low_m: float, high_m: float, each_n: Samples) -> Samples:
    """The moment of a joint between an upright and a rail that meet from ``low_m`` to ``high_m``."""
    heights = sorted(s.head_m[2] for s in joint.screws)
    # About whichever end of the rail its screws resist least.
    below = couple_nm([h - low_m for h in heights], high_m - low_m, each_n)
    above = couple_nm([high_m - h for h in heights], high_m - low_m, each_n)
    moment: Samples = np.minimum(below, above)
    return moment
