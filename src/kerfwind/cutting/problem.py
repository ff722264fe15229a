"""The nesting problem in whole numbers: one material and thickness, kerf folded in.

A kerf at every cut is the same as no kerf with parts and sheets one kerf larger each way,
so that everything inside works with plain rectangles. Lengths are counted in ticks of
25 nm, in which a 64th of an inch and a tenth of a millimetre are both whole.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

TICK_M = 25e-9


def part_ticks(length_m: float) -> int:
    """A part's side: anything over a whole tick by less than a rounding error is dropped."""
    return math.floor(length_m / TICK_M + 0.02)


def sheet_ticks(length_m: float) -> int:
    """A sheet's side, rounded the other way."""
    return math.ceil(length_m / TICK_M - 0.02)


@dataclass(frozen=True)
class Part:
    """Equal rectangles: ``w`` along the sheet's x, ``h`` along y, a kerf included."""

    w: int
    h: int
    may_turn: bool
    demand: int

    @property
    def area(self) -> int:
        """Area in square ticks."""
        return self.w * self.h

    def fits(self, w: int, h: int) -> bool:
        """Whether one fits in a rectangle, turned if it may be."""
        return (self.w <= w and self.h <= h) or (self.may_turn and self.h <= w and self.w <= h)


@dataclass(frozen=True)
class Stock:
    """Equal sheets: usable sides, a kerf included; ``limit`` is at most `limits.PIECES`.

    ``edge`` is what lies beyond the usable sides, to be sawn off, at most a kerf of it.
    """

    w: int
    h: int
    price: float
    limit: int
    offcut: bool = False
    edge: int = 0

    @property
    def area(self) -> int:
        """Area in square ticks."""
        return self.w * self.h


class Spot(NamedTuple):
    """One part on a sheet, at its low corner."""

    part: int
    x: int
    y: int
    turned: bool


class Layout(NamedTuple):
    """One sheet of a stock with its parts."""

    stock: int
    spots: tuple[Spot, ...]

    def counts(self, size: int) -> list[int]:
        """How many of each part."""
        found = [0] * size
        for spot in self.spots:
            found[spot.part] += 1
        return found


@dataclass(frozen=True)
class Problem:
    """Parts to be had from stocks.

    ``carry`` is the biggest piece that can be carried, a kerf included and the trim taken
    off; larger sheets on sale are divided in the store. ``kerf`` is what a cut takes, and
    ``spare`` what is left for it beside the last of several parts: the kerf where its size is
    to be sawn too, nothing where it may be what is left over.
    """

    parts: tuple[Part, ...]
    stocks: tuple[Stock, ...]
    carry: tuple[int, int] | None = None
    kerf: int = 0
    spare: int = 0

    def box(self, stock: int) -> tuple[int, int] | None:
        """What limits the pieces of a stock on their way home; offcuts are there."""
        return None if self.stocks[stock].offcut else self.carry

    @property
    def demand(self) -> list[int]:
        """How many of each part are wanted."""
        return [p.demand for p in self.parts]

    def cost(self, layouts: list[Layout]) -> float:
        """Money for the sheets used."""
        return math.fsum(self.stocks[each.stock].price for each in layouts)

    def bought(self, layouts: list[Layout]) -> int:
        """Sheets used that are not offcuts on hand."""
        return sum(not self.stocks[each.stock].offcut for each in layouts)

    def size(self, spot: Spot) -> tuple[int, int]:
        """Extents along x and y of a placed part."""
        part = self.parts[spot.part]
        return (part.h, part.w) if spot.turned else (part.w, part.h)
