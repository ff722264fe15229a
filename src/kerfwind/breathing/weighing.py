"""What was weighed after a session, set beside what was predicted, and what it teaches."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..quantity import Draw, Quantity
from ..shop import Session
from .session import SessionAir

Array = NDArray[np.float64]

#: A scale, and what clings where it is not weighed: one deviation, as a part.
_BUCKET, _FLOOR = 0.05, 0.12
#: Deviations from which a weighing contradicts the prediction.
_AGREES = 2.5
#: As many samples at least must speak for the whole.
_ENOUGH = 60.0
_LEAST_KG = 1e-5


@dataclass(frozen=True)
class Weighing:
    """What weighing says.

    Attributes
    ----------
    chosen
        Samples drawn by how well each predicts what was weighed: index any array of the same
        draw with it.
    agrees
        Whether the weighings lie within what was predicted; else nothing is bent to fit them.
    before_kg, after_kg
        Dust made, before it was known and since.
    """

    chosen: NDArray[np.intp]
    agrees: bool
    before_kg: Array
    after_kg: Array


def weighing(session: Session, air: SessionAir, draw: Draw) -> Weighing | None:
    """Weigh the samples by bucket and sweepings; None where nothing was weighed."""
    rows: list[tuple[Array, Array, float]] = []
    if session.bucket is not None:
        rows.append(_row(air.went_kg["bucket"], session.bucket, _BUCKET))
    if session.floor is not None:
        rows.append(_row(air.sweepings_kg, session.floor, _FLOOR))
    if not rows or draw.nominal:
        return None
    apart = max(
        abs(float(gap.mean())) / float(np.hypot(gap.std(), deviation)) for gap, _, deviation in rows
    )
    agrees = apart <= _AGREES
    every = np.arange(draw.count)
    chosen = _chosen(rows, draw) if agrees else every
    return Weighing(chosen, agrees, air.made_kg, air.made_kg[chosen])


def _row(predicted: Array, weighed: Quantity, least: float) -> tuple[Array, Array, float]:
    best = max(weighed.best_si, _LEAST_KG)
    half = max((weighed.high_si - weighed.low_si) / 2, weighed.resolution_si)
    gap = np.log(np.maximum(predicted, _LEAST_KG) / best)
    return gap, predicted, float(np.hypot(least, half / best / 2))


def _chosen(rows: list[tuple[Array, Array, float]], draw: Draw) -> NDArray[np.intp]:
    wider = 1.0
    while True:
        fit = -0.5 * sum((gap / (deviation * wider)) ** 2 for gap, _, deviation in rows)
        weights = np.exp(fit - np.max(fit))
        weights = weights / weights.sum()
        if 1 / np.sum(weights**2) >= min(_ENOUGH, draw.count / 4):
            break
        # Too few samples lie so near: what they say is taken with more room about it.
        wider *= 1.3
    marks = (np.arange(draw.count) + 0.5) / draw.count
    return np.asarray(np.minimum(np.searchsorted(np.cumsum(weights), marks), draw.count - 1))
