"""Rough loss of a chain at the reference airflow: good enough to rank chains.

The air room answers how much air a tool gets; here each part's loss is a plain number,
so that it can stand in a linear program.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from ..kept import Kept
from ..shop import Fitting, Hose
from ..sources import fact

Floats = NDArray[np.float64]


def velocity_pressure_pa(bore_m: Floats | float) -> Floats:
    """Velocity pressure ρV²/2 [Pa] in a bore [m] at the reference airflow."""
    area = math.pi / 4 * np.square(bore_m)
    speed = fact("hookup.reference_airflow").value / area
    return np.asarray(fact("hookup.air_density").value * speed**2 / 2)


def change_of_bore_pa(upstream_m: Floats | float, downstream_m: Floats | float) -> Floats:
    """Loss [Pa] where one bore [m] meets another, sudden; shapes broadcast.

    Enlargement (1 - A1/A2)² and contraction 0.5 (1 - A2/A1), both of the small bore's
    velocity pressure (Idelchik, sudden change of area).
    """
    up, down = np.asarray(upstream_m), np.asarray(downstream_m)
    small = np.minimum(up, down)
    ratio = np.square(small / np.maximum(up, down))
    sudden = fact("hookup.contraction").value
    factor = np.where(down > up, (1 - ratio) ** 2, sudden * (1 - ratio))
    return np.asarray(factor * velocity_pressure_pa(small))


@lru_cache(maxsize=4096)
def step_pa(upstream_m: float, downstream_m: float) -> float:
    """`change_of_bore_pa` of two bores [m]; the same few come again and again."""
    return float(change_of_bore_pa(upstream_m, downstream_m))


_inside: Kept[tuple[float, float]] = Kept(512)


def fitting_pa(fitting: Fitting, turned: bool) -> float:
    """Loss [Pa] inside a fitting: its cone or step, its turn and its friction."""

    def both() -> tuple[float, float]:
        one, other = fittings_pa([fitting])[0].tolist()
        return one, other

    return _inside.of((fitting,), None, both)[turned]


def fittings_pa(fittings: Sequence[Fitting]) -> Floats:
    """`fitting_pa` of many fittings at once, not turned and turned: shape ``(fittings, 2)``."""
    if not fittings:
        return np.zeros((0, 2))
    a, b, bore, length, turn = np.array(
        [
            (
                f.end_a.inside.best_si,
                f.end_b.inside.best_si,
                f.bore.best_si,
                f.length.best_si,
                f.turn.best_si,
            )
            for f in fittings
        ]
    ).T
    tapered = fact("hookup.tapered_share").value
    share = np.array([tapered if f.kind == "reducer" else 1.0 for f in fittings])
    turning = fact("hookup.quarter_turn").value * turn / (math.pi / 2)
    friction = fact("hookup.friction.smooth").value * length / bore
    along = (turning + friction) * velocity_pressure_pa(bore)
    ways = (
        change_of_bore_pa(first, bore) + change_of_bore_pa(bore, last)
        for first, last in ((a, b), (b, a))
    )
    return np.stack([steps * share + along for steps in ways], axis=1)


def hose_pa(hose: Hose) -> float:
    """Friction loss [Pa] of a hose."""
    factor = fact(f"hookup.friction.{hose.wall}").value
    bore = hose.bore.best_si
    return factor * hose.length.best_si / bore * float(velocity_pressure_pa(bore))


def carried_m(hose: Hose) -> float:
    """What a hose hangs on the hand that holds its tool, as a length of fittings [m].

    So much of it is off the bench; a thin hose counts as it is, a wider one by its section.
    """
    thin = fact("hookup.thin_bore").value
    return fact("hookup.carried_length").value * (hose.bore.best_si / thin) ** 2
