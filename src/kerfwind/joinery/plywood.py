"""What plywood is allowed in bending: by its grain, its width, and how long the load stays."""

from __future__ import annotations

from typing import Literal

import numpy as np

from ..sources import fact

#: How long a load stays: for good, or for minutes.
Lasts = Literal["lasting", "passing"]

_NARROW_M, _WIDE_M = 8 * 0.0254, 24 * 0.0254


def allowed_bending_pa(width_m: float, lasts: Lasts, *, across: bool = False) -> float:
    """Bending stress that a panel of this width is allowed along its face grain, or across it [Pa].

    APA, Panel Design Specification: the published value, half of it for strips under 8 in wide
    and all of it from 24 in on; times the standard's factor for how long the load stays.

    Examples
    --------
    >>> round(allowed_bending_pa(0.61, "lasting") / 1e6, 2)
    4.65
    >>> round(allowed_bending_pa(0.61, "lasting", across=True) / 1e6, 2)
    2.74
    """
    whole = fact("cart.plywood.bending_across" if across else "cart.plywood.bending_along").value
    strip = np.interp(width_m, (_NARROW_M, _WIDE_M), (fact("cart.plywood.narrow").value, 1.0))
    stays = fact("cart.load.lasting" if lasts == "lasting" else "cart.load.passing").value
    return float(whole * strip * stays)
