"""Whether the arms hold that carry the wheels beyond the bottom.

Seen from the front::

    =============   bottom
    ================   outrigger
                 o     wheel, trailed outward: its lever is from the bottom's edge
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..cart.model import Cart
from ..fact_samples import Samples
from ..facts import Term, facts
from ..finding import Finding, judge
from ..joinery.plywood import allowed_bending_pa
from ..quantity import Draw, Quantity


def arm_stress_pa(
    force_n: Samples, lever_m: Samples, width_m: float, thickness_m: float
) -> Samples:
    """Bending stress of an arm at the edge that it sticks out from: 6 F l / (b t²) [Pa].

    Examples
    --------
    >>> round(float(arm_stress_pa(np.array(200.0), np.array(0.05), 0.1, 0.018)) / 1e6, 2)
    1.85
    """
    stress: Samples = 6 * force_n * np.maximum(lever_m, 0.0) / (width_m * thickness_m**2)
    return stress


def outrigger_findings(
    cart: Cart,
    draw: Draw,
    trail_m: Samples,
    level_n: Samples,
    uneven_n: Samples,
    rests_on: Sequence[Quantity],
) -> list[Finding]:
    """Bending of the outriggers, for years on a level floor and for minutes on an uneven one.

    Parameters
    ----------
    trail_m
        How far a swivelling wheel touches the floor from its pivot.
    level_n, uneven_n
        The most that one wheel carries, on a level floor and with another lifted.
    """
    if not any(p.name == "front outrigger" for p in cart.placed):
        return []
    arm, bottom = cart.body("front outrigger"), cart.body("bottom")
    wide, thick = float((arm.high - arm.low)[1]), float((arm.high - arm.low)[2])
    pivot = max(x for x, _ in cart.casters_xy)
    lever = pivot + trail_m - float(bottom.high[0])
    for_years = allowed_bending_pa(wide, "lasting")
    for_minutes = allowed_bending_pa(wide, "passing")
    level = arm_stress_pa(level_n, lever, wide, thick) * (for_minutes / for_years)
    stress = np.maximum(level, arm_stress_pa(uneven_n, lever, wide, thick))
    return [
        judge(
            key="cart.outriggers.stress",
            about=Term("panel", "outrigger"),
            draw=draw,
            value=stress,
            limit=for_minutes,
            must="at most",
            dimension="stress",
            rests_on=rests_on,
            sources=["cart.plywood.bending_along", "cart.plywood.narrow", "cart.load.passing"],
            outcome="overloaded",
            facts=facts(),
            fail="stop",
        )
    ]
