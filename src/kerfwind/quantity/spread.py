"""What is said of samples: their middle, and the band that holds nine in ten."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

_LEVELS = (0.05, 0.5, 0.95)


def band(samples: ArrayLike) -> tuple[Any, Any, Any]:
    """The 5th, 50th and 95th of a hundred samples, along the last axis.

    Between samples as `numpy.quantile` has it (Hyndman and Fan 1996, type 7), by a single
    sort: some thousands of bands are wanted for one plan.
    """
    ranked: NDArray[np.float64] = np.sort(np.asarray(samples, dtype=float), axis=-1)
    last = ranked.shape[-1] - 1
    low, middle, high = (_between(ranked, level * last) for level in _LEVELS)
    return low, middle, high


def middle(samples: ArrayLike) -> float:
    """The median of all samples."""
    ranked: NDArray[np.float64] = np.sort(np.asarray(samples, dtype=float), axis=None)
    return float(_between(ranked, 0.5 * (len(ranked) - 1)))


def _between(ranked: NDArray[np.float64], at: float) -> Any:
    below = math.floor(at)
    part = at - below
    first = ranked[..., below]
    return first + part * (ranked[..., below + 1] - first) if part else first
