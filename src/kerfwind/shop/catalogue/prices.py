"""Rough prices of hardware, so that a shopping list has a total.

Common practice without a source, in US dollars and told in no other money: a person who knows
better writes the price over it. Nothing is decided by them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

#: What kinds of hardware a unit can want.
HardwareKind = Literal[
    "screw",
    "caster",
    "glue",
    "loop",
    "strap",
    "tie",
    "ballast",
    "iron",
    "hose",
    "foam",
    "dowel",
    "fastener",
    "outlet strip",
    "bolt",
    "valve",
]


@dataclass(frozen=True)
class HardwarePrice:
    """How many are sold together, and about what they cost."""

    pack: int
    price: float


_PRICES: dict[HardwareKind, HardwarePrice] = {
    "screw": HardwarePrice(100, 9.0),
    "caster": HardwarePrice(1, 9.0),
    "bolt": HardwarePrice(10, 4.0),
    "glue": HardwarePrice(1, 6.0),
    "loop": HardwarePrice(1, 2.0),
    "strap": HardwarePrice(1, 5.0),
    "foam": HardwarePrice(1, 5.0),
    "dowel": HardwarePrice(1, 3.0),
    "fastener": HardwarePrice(1, 0.5),
    "outlet strip": HardwarePrice(1, 20.0),
    "tie": HardwarePrice(1, 2.0),
    "ballast": HardwarePrice(1, 3.0),
    "iron": HardwarePrice(1, 8.0),
    "valve": HardwarePrice(1, 20.0),
}


#: A litre of paint, and a metre of edging that is ironed on.
PAINT_LITRE, EDGING_METRE = 18.0, 0.8


def hardware_price(kind: HardwareKind) -> HardwarePrice | None:
    """What a kind of hardware costs; None where that is not known."""
    return _PRICES.get(kind)
