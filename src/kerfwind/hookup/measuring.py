"""A page of measuring aids, as plain numbers: strips, step cards, a ruler.

A paper strip wrapped round a pipe reads its diameter where its end meets its scale, if
the marks stand π times the diameter from that end. The paper lies outside the pipe, so
its middle runs round a circle wider by one thickness of paper: every mark is moved by π
times that.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from ..facts import Statement, state
from ..sources import fact

Unit = Literal["mm", "in"]
#: Which ends an aid is for.
Ends = Literal["small", "large", "all"]

_INCH = 0.0254
#: Longest piece that lies along either paper with its margins.
LONGEST_PIECE_M = 0.240
_OVERLAP_M = 0.012


@dataclass(frozen=True)
class Mark:
    """One mark of a scale: where, for what size, how long of three lengths.

    ``numbered``: the size is written beside it.
    """

    at_m: float
    size_m: float
    rank: Literal[1, 2, 3]
    numbered: bool = False


@dataclass(frozen=True)
class StripPiece:
    """Part of a strip, from ``start_m`` to ``stop_m``; pieces are taped at their overlap."""

    start_m: float
    stop_m: float


@dataclass(frozen=True)
class Strip:
    """A strip to wrap round a port or hose for its outside; its plain end is at zero."""

    ends: Ends
    unit: Unit
    step_m: float
    marks: tuple[Mark, ...]
    length_m: float
    pieces: tuple[StripPiece, ...]


@dataclass(frozen=True)
class StepCard:
    """A stepped card to push into a mouth for its inside: it stops at the step that is too wide.

    ``steps`` are (width, depth) from the tip [m]; ``outline`` are its corners, tip down,
    about its own middle.
    """

    ends: Ends
    unit: Unit
    steps: tuple[tuple[float, float], ...]
    outline: tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Ruler:
    """A ruler that proves that the printer did not scale the page."""

    unit: Unit
    length_m: float
    marks: tuple[Mark, ...]


@dataclass(frozen=True)
class MeasureSheet:
    """All aids of one page and how to use them."""

    strips: tuple[Strip, ...]
    cards: tuple[StepCard, ...]
    rulers: tuple[Ruler, ...]
    how: tuple[Statement, ...]


HOW = (
    state("hookup.measure.print"),
    state("hookup.measure.outside"),
    state("hookup.measure.inside"),
    state("hookup.measure.taper"),
    state("hookup.measure.soft"),
)


def strip(ends: Ends, unit: Unit, low: int, high: int) -> Strip:
    """A strip for diameters from ``low`` to ``high``, in whole units.

    Marks stand at π (d + paper), every half millimetre or 1/64 in of diameter.
    """
    per_unit = 2 if unit == "mm" else 64
    size = 0.001 if unit == "mm" else _INCH
    step = size / per_unit
    paper = fact("hookup.paper_thickness").value
    marks = []
    for n in range(low * per_unit, high * per_unit + 1):
        rank = _rank(n, 2 if unit == "mm" else 4, 10 if unit == "mm" else 8)
        marks.append(Mark(math.pi * (n * step + paper), n * step, rank, rank == 1))
    length = marks[-1].at_m + 0.010
    return Strip(ends, unit, step, tuple(marks), length, _pieces(length))


def _rank(n: int, middle: int, long: int) -> Literal[1, 2, 3]:
    """1 for the longest marks, each ``long`` steps, 2 for the next, each ``middle`` steps."""
    return 1 if n % long == 0 else 2 if n % middle == 0 else 3


def _pieces(length: float) -> tuple[StripPiece, ...]:
    count = math.ceil((length - _OVERLAP_M) / (LONGEST_PIECE_M - _OVERLAP_M))
    run = (length - _OVERLAP_M) / count
    return tuple(StripPiece(i * run, (i + 1) * run + _OVERLAP_M) for i in range(count))


def step_card(
    ends: Ends, unit: Unit, low: int, high: int, per_unit: int, depth_m: float
) -> StepCard:
    """A card with one step for each ``1 / per_unit`` of a unit from ``low`` to ``high``."""
    size = 0.001 if unit == "mm" else _INCH
    numbers = range(low * per_unit, high * per_unit + 1)
    widths = [n / per_unit * size for n in numbers]
    right: list[tuple[float, float]] = []
    for i, width in enumerate(widths):
        right += [(width / 2, i * depth_m), (width / 2, (i + 1) * depth_m)]
    left = [(-x, y) for x, y in reversed(right)]
    steps = tuple((w, depth_m) for w in widths)
    return StepCard(ends, unit, steps, (*right, *left))


def ruler(unit: Unit, length: int) -> Ruler:
    """A ruler in millimetres or sixteenths of an inch; ``length`` in whole units."""
    per_unit, size = (1, 0.001) if unit == "mm" else (16, _INCH)
    marks = []
    for n in range(length * per_unit + 1):
        rank = _rank(n, 5 if unit == "mm" else 4, 10 if unit == "mm" else 16)
        marks.append(Mark(n / per_unit * size, n / per_unit * size, rank, rank == 1))
    return Ruler(unit, length * size, tuple(marks))


def measure_sheet() -> MeasureSheet:
    """The whole page: both units, for ends from 20 to 110 mm."""
    return MeasureSheet(
        strips=(
            strip("small", "mm", 20, 65),
            strip("large", "mm", 65, 110),
            strip("small", "in", 1, 2),
            strip("large", "in", 2, 4),
        ),
        cards=(
            step_card("small", "mm", 24, 64, 1, 0.004),
            step_card("large", "mm", 90, 106, 1, 0.004),
            step_card("all", "in", 1, 3, 16, 0.004),
        ),
        rulers=(ruler("mm", 150), ruler("in", 6)),
        how=HOW,
    )


def read_wrapped(strip_: Strip, circumference_m: float) -> float:
    """The size read where a strip wrapped round this circumference [m] meets its end."""
    paper = fact("hookup.paper_thickness").value
    at = circumference_m + math.pi * paper
    return min(strip_.marks, key=lambda mark: abs(mark.at_m - at)).size_m
