"""Fittings usually on sale: kinds of part, with the range each kind is found to measure.

Sizes and prices are common practice without a published source, except that rubber pipe
couplings are made for pipe of the outside diameters in ASME B36.10M. A name says what is
printed on the shelf; the range says what may be in the bag.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from ...facts import Term
from ...quantity import Quantity
from ...sources import fact
from ..model import End, Fitting


class SoldFitting(Fitting):
    """A fitting of the catalogue."""

    @property
    def called(self) -> Term:
        """The term of the trade that its name is the key of."""
        return Term("fitting", self.name)


@dataclass(frozen=True)
class Offer:
    """A fitting on sale, and its rough price in whole units of money."""

    fitting: Fitting
    price: float
    price_low: float
    price_high: float


#: What the name of a fitting says that is sold with its clamps.
_CLAMPED = "with clamps"
#: An end that locks to another of its kind.
_LOCKED = "quick coupling"

Range = tuple[float, float]
Kind = Literal["reducer", "coupling", "cuff"]

# size name: outside and inside of an end that goes in; inside of one that goes over [mm]
_SIZES: dict[str, tuple[Range, Range, Range]] = {
    "1-1/4 in": ((31.0, 33.0), (26.5, 28.5), (31.5, 33.5)),
    "1-1/2 in": ((37.5, 39.5), (33.0, 35.5), (38.0, 40.0)),
    "1-7/8 in": ((46.5, 49.0), (42.0, 44.5), (47.0, 49.5)),
    "2-1/4 in": ((55.5, 57.5), (51.0, 53.5), (56.5, 58.5)),
    "2-1/2 in": ((56.5, 59.0), (52.0, 54.5), (57.0, 59.5)),
    "3 in": ((74.5, 77.0), (70.5, 73.0), (75.5, 78.0)),
    "4 in": ((98.5, 101.5), (94.5, 98.0), (100.0, 102.5)),
    "100 mm": ((98.0, 100.0), (94.5, 96.5), (100.0, 101.5)),
    "35 mm": ((34.5, 36.0), (30.0, 32.0), (35.0, 36.5)),
    "50 mm": ((49.0, 50.5), (44.5, 46.5), (50.0, 51.5)),
    "58 mm": ((57.0, 58.5), (52.5, 54.5), (58.0, 59.5)),
}

# size name: the fact that holds the outside of the pipe
_PIPES = {
    size: f"hookup.pipe_outside.{size.removesuffix(' in')}"
    for size in ("1-1/4 in", "1-1/2 in", "2 in", "3 in", "4 in")
}

# large end, small end, price low..high; the large end goes over, the small end in.
_REDUCERS = (
    ("4 in", "3 in", 6, 12),
    ("4 in", "2-1/2 in", 6, 12),
    ("4 in", "2-1/4 in", 6, 12),
    ("3 in", "2-1/2 in", 6, 12),
    ("2-1/2 in", "2-1/4 in", 5, 10),
    ("2-1/2 in", "1-7/8 in", 5, 10),
    ("2-1/2 in", "1-1/2 in", 5, 10),
    ("2-1/2 in", "1-1/4 in", 5, 9),
    ("2-1/4 in", "1-7/8 in", 5, 10),
    ("2-1/4 in", "1-1/4 in", 5, 10),
    ("1-7/8 in", "1-1/4 in", 5, 9),
    ("1-1/2 in", "1-1/4 in", 4, 8),
    ("100 mm", "58 mm", 6, 12),
    ("100 mm", "50 mm", 6, 12),
    ("58 mm", "50 mm", 5, 9),
    ("58 mm", "35 mm", 5, 9),
    ("50 mm", "35 mm", 5, 9),
)
_COUPLINGS = ("1-1/4 in", "1-7/8 in", "2-1/4 in", "2-1/2 in", "4 in", "58 mm", "100 mm")
_CUFFS = (
    ("2 in", "2 in", 6, 11),
    ("2 in", "1-1/2 in", 6, 11),
    ("2 in", "1-1/4 in", 6, 12),
    ("1-1/2 in", "1-1/2 in", 5, 9),
    ("1-1/2 in", "1-1/4 in", 5, 9),
    ("3 in", "2 in", 8, 14),
    ("4 in", "3 in", 10, 16),
    ("4 in", "2 in", 10, 16),
)
_QUICK = (("2-1/2 in", 8, 15), ("2-1/4 in", 8, 15), ("58 mm", 8, 15), ("1-1/4 in", 7, 13))


def _quantity(low: float, high: float, path: str, dimension: str = "length") -> Quantity:
    unit, factor = ("mm", 1e-3) if dimension == "length" else ("°", math.pi / 180)
    text = f"{low:.1f} {unit}" if low == high else f"{low:.1f}..{high:.1f} {unit}"
    return Quantity(
        (low + high) / 2 * factor,
        low * factor,
        high * factor,
        dimension,
        "exact" if low == high else "flat",
        0.0,
        text,
        path,
        "assumed",
    )


# Built without pydantic's checks, which cost a plan a quarter of a second here; a test
# holds every row to them.
def _end(
    path: str, inside: Range, outside: Range, length: Range, taper: Range = (0.0, 0.0), **rest: Any
) -> End:
    sizes = {
        "inside": _quantity(*inside, f"{path}.inside"),
        "outside": _quantity(*outside, f"{path}.outside"),
        "length": _quantity(*length, f"{path}.length"),
        "taper": _quantity(*taper, f"{path}.taper", "angle"),
    }
    return End.model_construct(**{"material": "rigid", "joint": "plain", **sizes, **rest})


_Make = Callable[[str], End]


def _rigid(size: str, *, over: bool) -> _Make:
    outside, inside, over_inside = _SIZES[size]
    if over:
        around = (over_inside[0] + 4, over_inside[1] + 5)
        return lambda path: _end(
            path, over_inside, around, (30, 45), taper=(0.0, 1.5), nominal=size, goes="over"
        )
    return lambda path: _end(
        path, inside, outside, (30, 45), taper=(0.0, 1.5), nominal=size, goes="in"
    )


def _rubber(size: str) -> _Make:
    pipe = fact(_PIPES[size]).value * 1e3
    return lambda path: _end(
        path,
        (pipe, pipe + 1),
        (pipe + 7, pipe + 10),
        (35, 50),
        nominal=size,
        material="rubber",
        goes="over",
    )


def _lock(path: str) -> End:
    return _end(path, (48, 52), (62, 70), (15, 25), nominal=_LOCKED, joint="twist", goes="either")


def _offer(
    name: str, kind: Kind, a: _Make, b: _Make, length: Range, low: float, high: float
) -> Offer:
    path = f"catalogue[{name}]"
    end_a, end_b = a(f"{path}.end_a"), b(f"{path}.end_b")
    bore = min(end_a.inside.best_si, end_b.inside.best_si) * 1e3
    fitting = SoldFitting.model_construct(
        name=name,
        kind=kind,
        end_a=end_a,
        end_b=end_b,
        count=1,
        bore=_quantity(bore, bore, f"{path}.bore"),
        length=_quantity(*length, f"{path}.length"),
        turn=_quantity(0, 0, f"{path}.turn", "angle"),
    )
    return Offer(fitting, (low + high) / 2, low, high)


@cache
def offers() -> tuple[Offer, ...]:
    """Every fitting on sale. One of each is one purchase."""
    made: list[Offer] = []
    for large, small, low, high in _REDUCERS:
        for how_large, how_small in (("over", "into"), ("into", "into"), ("into", "over")):
            made.append(
                _offer(
                    f"reducer {how_large} {large}, {how_small} {small}",
                    "reducer",
                    _rigid(large, over=how_large == "over"),
                    _rigid(small, over=how_small == "over"),
                    (80, 110),
                    low,
                    high,
                )
            )
    for size in _COUPLINGS:
        made.append(
            _offer(
                f"coupling {size}, over both",
                "coupling",
                _rigid(size, over=True),
                _rigid(size, over=True),
                (65, 95),
                4,
                8,
            )
        )
        made.append(
            _offer(
                f"coupling {size}, into both",
                "coupling",
                _rigid(size, over=False),
                _rigid(size, over=False),
                (65, 95),
                3,
                7,
            )
        )
    for a, b, low, high in _CUFFS:
        made.append(
            _offer(
                f"rubber coupling {a} by {b} pipe, {_CLAMPED}",
                "cuff",
                _rubber(a),
                _rubber(b),
                (90, 110),
                low,
                high,
            )
        )
    for size, low, high in _QUICK:
        for how in ("over", "into"):
            made.append(
                _offer(
                    f"{_LOCKED} half, {how} {size}",
                    "coupling",
                    _rigid(size, over=how == "over"),
                    _lock,
                    (60, 90),
                    low,
                    high,
                )
            )
    return tuple(made)
