"""What tips a standing or rolling cart: a push, a tug on the hose, a threshold at a walk."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..fact_samples import Samples
from ..sources import fact

#: Newton's steps at most, and the share of the root at which one is the last.
_NEWTON, _CLOSE = 20, 1e-13


def tipping_force_n(weight_n: Samples, arm_m: Samples, height_m: Samples | float) -> Samples:
    """Level force at a height that lifts the far wheels off the floor [N].

    Moments about the tipping edge: F h = W a. It needs the near wheels held, by a brake, a
    cord or a threshold; free casters roll away instead.

    Parameters
    ----------
    arm_m
        Level distance from the edge inward to the centre of mass; zero or less tips alone.
    height_m
        Height at which the force pulls.

    Examples
    --------
    >>> float(tipping_force_n(np.array(300.0), np.array(0.2), 1.2))
    50.0
    """
    force: Samples = np.maximum(weight_n * arm_m / height_m, 0.0)
    return force


def tipping_arm_m(force_n: Samples, weight_n: Samples, height_m: Samples | float) -> Samples:
    """The arm with which it takes such a force to tip: `tipping_force_n` the other way round [m].

    No force is withstood with any arm: then it is minus infinity.
    """
    arm: Samples = np.where(force_n > 0, force_n * height_m / weight_n, -np.inf)
    return arm


def stumble_speed_m_s(arm_m: Samples, height_m: Samples, gyration_m: Samples) -> Samples:
    """Speed at which wheels that stop dead throw the cart over them [m/s].

    The blow keeps the angular momentum about the stopped wheels, m v h = I ω; it goes over
    when ½ I ω² lifts the centre of mass from h to √(a² + h²), with I = m (k² + a² + h²).

    Parameters
    ----------
    arm_m, height_m
        Of the centre of mass, from the stopped wheels' contact.
    gyration_m
        Radius of gyration k about the centre of mass and the axis of the tip.
    """
    arm = np.maximum(arm_m, 0.0)
    over = np.hypot(arm, height_m)
    inertia = gyration_m**2 + over**2
    gravity = fact("general.gravity").value
    speed: Samples = np.sqrt(2 * inertia * gravity * (over - height_m)) / height_m
    return speed


def stumble_arm_m(speed_m_s: Samples, height_m: Samples, gyration_m: Samples) -> Samples:
    """The arm with which such a speed throws it over: `stumble_speed_m_s` the other way round [m].

    With o = √(a² + h²) that is (k² + o²) (o − h) = v² h² / 2g. Its left side rises ever more
    steeply from o = h on, so that Newton's steps from above come down to the root.
    """
    h2, k2 = height_m**2, gyration_m**2
    asked = (speed_m_s * height_m) ** 2 / (2 * fact("general.gravity").value)
    over = height_m + asked / (k2 + h2)
    for _ in range(_NEWTON):
        o2, above = over**2, over - height_m
        step = ((k2 + o2) * above - asked) / (k2 + o2 + 2 * over * above)
        over = over - step
        if np.max(step) <= _CLOSE * np.min(over):
            break
    arm: Samples = np.where(speed_m_s > 0, np.sqrt(np.maximum(over**2 - h2, 0.0)), -np.inf)
    return arm


def rolled_over_m(wheel_radius_m: float, speed_m_s: Samples) -> Samples:
    """Highest step that a wheel rolls over by its own speed, without a push [m].

    The edge takes the part of the speed that runs at it; what is left of it,
    v (r − s) / r, lifts the load by s: v² (1 − s/r)² = 2 g s, solved for s. Without that loss
    it would be v² / 2g.
    """
    r, head = (
        wheel_radius_m,
        np.asarray(speed_m_s, dtype=float) ** 2 / (2 * fact("general.gravity").value),
    )
    # head (r - s)² = s r²: the smaller root, which lies below the axle.
    b = 2 * r + r * r / head
    step: Samples = (b - np.sqrt(b * b - 4 * r * r)) / 2
    return step


def gyration_m(
    parts: Sequence[tuple[Samples, Samples, Samples | float]], centre: Samples
) -> Samples:
    """Radius of gyration about one level axis through the centre of mass [m].

    Parameters
    ----------
    parts
        For each part its mass (..., n), its centre across and up (2, ..., n), and its own radius
        of gyration [m].
    centre
        Of the whole, across and up, shape (2, ..., n).
    """
    mass: Samples = sum((m for m, _, _ in parts), np.zeros(1))
    inertia: Samples = sum(
        (m * (np.sum((c - centre) ** 2, axis=0) + own**2) for m, c, own in parts), np.zeros(1)
    )
    radius: Samples = np.sqrt(inertia / mass)
    return radius
