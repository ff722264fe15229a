"""Rough prices of hardware, so that a shopping list has a total.

Common practice without a source, in whatever money the shop counts: a person who knows
better writes the price over it. Nothing is decided by them.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class HardwarePrice:
    """What is sold together, and about what it costs."""

    key: str
    what: str
    pack: int
    price: float


_PRICES = (
    HardwarePrice("screw", "a box of 100", 100, 9.0),
    HardwarePrice("caster", "one", 1, 9.0),
    HardwarePrice("bolt", "one, with nut and washers", 1, 0.6),
    HardwarePrice("glue", "a bottle", 1, 6.0),
    HardwarePrice("loop", "one", 1, 2.0),
    HardwarePrice("strap", "one", 1, 5.0),
    HardwarePrice("clamp", "one", 1, 2.0),
)


def hardware_price(key: str) -> HardwarePrice | None:
    """The row whose key begins or is part of ``key``; None when there is none."""
    return next((row for row in _PRICES if row.key in key.lower()), None)
