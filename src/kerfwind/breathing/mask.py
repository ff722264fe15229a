"""Masks: the protection that the worst hour asks for, and what the rules count."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ..shop import Session
from ..sources import fact

Array = NDArray[np.float64]
Why = Literal["counted", "none", "beard", "untested", "which", "other_rules"]

_TIGHT = ("disposable", "FFP2", "FFP3", "half mask", "full face")
_US = ("disposable", "half mask", "full face", "powered hood")
_UK = ("FFP2", "FFP3", "half mask", "full face", "powered hood")


@dataclass(frozen=True)
class Worn:
    """What a mask counts for under one country's rules.

    ``factor`` is 1 where nothing can be counted; ``why`` says why.
    """

    factor: float
    why: Why
    source: str = ""


def worn(session: Session, rules: str) -> Worn:
    """The factor of the session's mask; US and UK factors are never mixed."""
    mask = session.mask
    if mask == "none":
        return Worn(1.0, "none")
    if session.beard and mask in _TIGHT:
        return Worn(1.0, "beard")
    if rules == "us":
        if mask not in _US:
            return Worn(1.0, "other_rules")
        tested = session.fit_tested or mask not in _TIGHT
        key = f"breathing.mask.us.{mask if tested else 'untested'}"
        return Worn(fact(key).value, "counted" if tested else "untested", key)
    if mask not in _UK:
        return Worn(1.0, "which")
    key = f"breathing.mask.uk.{mask}"
    if mask in _TIGHT and not session.fit_tested:
        return Worn(1.0, "untested", key)
    return Worn(fact(key).value, "counted", key)


def needed_factor(worst_hour_kg_m3: Array, limit_kg_m3: float) -> Array:
    """By how much the worst hour's dust must be cut to come under a limit, at least 1."""
    return np.asarray(np.maximum(worst_hour_kg_m3 / limit_kg_m3, 1.0))
