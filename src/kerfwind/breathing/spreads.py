"""Samples of this room's facts over their ranges."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ..quantity import Draw
from ..sources import fact

Array = NDArray[np.float64]


def even(key: str, draw: Draw) -> Array:
    """Samples of ``breathing.KEY``, any value of its range as likely as another."""
    row = fact(f"breathing.{key}")
    low, high = row.span
    return np.full(draw.count, row.value) if draw.nominal else draw.between(low, high, row.key)


def by_ratio(key: str, draw: Draw) -> Array:
    """Samples of ``breathing.KEY``, known to a factor: any ratio as likely as another."""
    row = fact(f"breathing.{key}")
    low, high = np.log(row.span)
    if draw.nominal:
        return np.full(draw.count, row.value)
    return np.asarray(np.exp(draw.between(float(low), float(high), row.key)))
