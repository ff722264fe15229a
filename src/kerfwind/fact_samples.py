"""Samples of a published number over the range that its source gives."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from .quantity import Draw
from .sources import fact

Samples = NDArray[np.float64]


def spread_fact(key: str, draw: Draw) -> Samples:
    """Samples of a fact over its range; its value in the nominal case."""
    row = fact(key)
    low, high = row.span
    if draw.nominal:
        return np.full(draw.count, row.value)
    return draw.between(low, high, key)
