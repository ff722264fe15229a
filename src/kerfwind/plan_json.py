"""Any part of a plan as plain data in SI, for `plan.json`."""

from __future__ import annotations

import math
from dataclasses import fields, is_dataclass
from typing import Any

import numpy as np

from .quantity import Quantity, band
from .solids import Body

_DIGITS = 9


def _number(value: float) -> float | int | None:
    if not math.isfinite(value):
        return None
    rounded = float(f"{value:.{_DIGITS}g}")
    return int(rounded) if rounded.is_integer() and abs(rounded) < 1e15 else rounded


def as_plain(value: Any, samples: int) -> Any:
    """Plain data.

    Parameters
    ----------
    samples
        Length of the sample axis: an array that ends in it is given as the median and the
        band of nine samples in ten, along its other axes.
    """
    if value is None or isinstance(value, (bool, str)):
        return value
    if isinstance(value, (int, float, np.generic)):
        return _number(float(value)) if not isinstance(value, np.bool_) else bool(value)
    if isinstance(value, Quantity):
        low, high = _number(value.low_si), _number(value.high_si)
        return {
            "best": _number(value.best_si),
            "low": low,
            "high": high,
            "unit": value.dimension.si,
            "written": value.text,
            "standing": value.standing,
        }
    if isinstance(value, np.ndarray):
        return _array(value, samples)
    if isinstance(value, Body):
        return {"name": value.name, "kind": value.kind}
    if isinstance(value, dict):
        return {str(key): as_plain(item, samples) for key, item in value.items()}
    if isinstance(value, (tuple, list)):
        return [as_plain(item, samples) for item in value]
    return {name: as_plain(getattr(value, name), samples) for name in _names(type(value))}


#: The fields of each kind met so far, a dataclass or a part of a shop.
_NAMES: dict[type, tuple[str, ...]] = {}


def _names(kind: type) -> tuple[str, ...]:
    if kind not in _NAMES:
        if is_dataclass(kind):
            _NAMES[kind] = tuple(f.name for f in fields(kind))
        elif hasattr(kind, "model_fields"):
            _NAMES[kind] = tuple(kind.model_fields)
        else:
            raise TypeError(f"no plain data of a {kind.__qualname__}")
    return _NAMES[kind]


def _array(value: np.ndarray[Any, Any], samples: int) -> Any:
    if samples > 1 and value.ndim and value.shape[-1] == samples:
        if value.dtype == bool:
            return as_plain(np.mean(value, axis=-1), samples)
        if not np.issubdtype(value.dtype, np.number):
            return None
        if np.isfinite(value).all():
            low, median, high = band(value)
        else:
            finite = np.where(np.isfinite(value), value, np.nan)
            if np.isnan(finite).all():
                return None
            low, median, high = np.nanquantile(finite, (0.05, 0.5, 0.95), axis=-1)
        return {
            "median": as_plain(median, samples),
            "low": as_plain(low, samples),
            "high": as_plain(high, samples),
        }
    return (
        [as_plain(item, samples) for item in value.tolist()]
        if value.ndim
        else as_plain(value.item(), samples)
    )
