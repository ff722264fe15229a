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

from ..quantity import show_fraction_in
from ..sources import fact

Unit = Literal["mm", "in"]

_INCH = 0.0254
#: Longest piece that lies along either paper with its margins.
LONGEST_PIECE_M = 0.240
_OVERLAP_M = 0.012


@dataclass(frozen=True)
class Mark:
    """One mark of a scale: where, for what size, how long of three lengths, what is written."""

    at_m: float
    size_m: float
    rank: Literal[1, 2, 3]
    label: str = ""


@dataclass(frozen=True)
class StripPiece:
    """Part of a strip, from ``start_m`` to ``stop_m``; pieces are taped at their overlap."""

    start_m: float
    stop_m: float


@dataclass(frozen=True)
class Strip:
    """A strip to wrap round a port or hose; its plain end is at zero."""

    name: str
    unit: Unit
    step_m: float
    marks: tuple[Mark, ...]
    length_m: float
    pieces: tuple[StripPiece, ...]


@dataclass(frozen=True)
class StepCard:
    """A stepped card to push into a mouth: it stops at the step that is too wide.

    ``steps`` are (width, depth) from the tip [m]; ``outline`` are its corners, tip down,
    about its own middle.
    """

    name: str
    unit: Unit
    steps: tuple[tuple[float, float], ...]
    labels: tuple[str, ...]
    outline: tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Ruler:
    """A ruler that proves that the printer did not scale the page."""

    name: str
    unit: Unit
    length_m: float
    marks: tuple[Mark, ...]


@dataclass(frozen=True)
class MeasureSheet:
    """All aids of one page and how to use them."""

    strips: tuple[Strip, ...]
    cards: tuple[StepCard, ...]
    rulers: tuple[Ruler, ...]
    how: tuple[str, ...]


HOW = (
    "Print at 100 %, not fitted to the page, and lay a steel rule on the printed ruler first: "
    "if they differ, measure nothing with this page.",
    "Outside: wrap the strip square round the end at its very mouth, pull it snug, and read "
    "where the plain end meets the scale.",
    "Inside: cut out the step card and push it square into the mouth; the size of the last "
    "step that goes in is the inside diameter, to that step.",
    "A tapered end is measured at its mouth. Measure it again 20 mm (3/4 in) in: if the two "
    "differ, that is its taper.",
    "Soft or oval ends: measure twice, a quarter turn apart, and write both as a range.",
)


def strip(name: str, unit: Unit, low: int, high: int) -> Strip:
    """A strip for diameters from ``low`` to ``high``, in whole units.

    Marks stand at π (d + paper), every half millimetre or 1/64 in of diameter.
    """
    per_unit = 2 if unit == "mm" else 64
    size = 0.001 if unit == "mm" else _INCH
    step = size / per_unit
    paper = fact("hookup.paper_thickness").value
    marks = []
    for n in range(low * per_unit, high * per_unit + 1):
        rank, label = _rank(n, unit)
        marks.append(Mark(math.pi * (n * step + paper), n * step, rank, label))
    length = marks[-1].at_m + 0.010
    return Strip(name, unit, step, tuple(marks), length, _pieces(length))


def _rank(n: int, unit: Unit) -> tuple[Literal[1, 2, 3], str]:
    if unit == "mm":
        if n % 10 == 0:
            return 1, str(n // 2)
        return (2, "") if n % 2 == 0 else (3, "")
    if n % 8 == 0:
        return 1, show_fraction_in(n / 64 * _INCH, 64)
    return (2, "") if n % 4 == 0 else (3, "")


def _pieces(length: float) -> tuple[StripPiece, ...]:
    count = math.ceil((length - _OVERLAP_M) / (LONGEST_PIECE_M - _OVERLAP_M))
    run = (length - _OVERLAP_M) / count
    return tuple(StripPiece(i * run, (i + 1) * run + _OVERLAP_M) for i in range(count))


def step_card(
    name: str, unit: Unit, low: int, high: int, per_unit: int, depth_m: float
) -> StepCard:
    """A card with one step for each ``1 / per_unit`` of a unit from ``low`` to ``high``."""
    size = 0.001 if unit == "mm" else _INCH
    numbers = range(low * per_unit, high * per_unit + 1)
    widths = [n / per_unit * size for n in numbers]
    labels = [
        f"{n / per_unit:g}" if unit == "mm" else show_fraction_in(n / per_unit * _INCH, 64)
        for n in numbers
    ]
    right: list[tuple[float, float]] = []
    for i, width in enumerate(widths):
        right += [(width / 2, i * depth_m), (width / 2, (i + 1) * depth_m)]
    left = [(-x, y) for x, y in reversed(right)]
    steps = tuple((w, depth_m) for w in widths)
    return StepCard(name, unit, steps, tuple(labels), (*right, *left))


def ruler(name: str, unit: Unit, length: int) -> Ruler:
    """A ruler in millimetres or sixteenths of an inch; ``length`` in whole units."""
    per_unit, size = (1, 0.001) if unit == "mm" else (16, _INCH)
    marks = []
    for n in range(length * per_unit + 1):
        if unit == "mm":
            rank, label = (1, str(n)) if n % 10 == 0 else ((2, "") if n % 5 == 0 else (3, ""))
        else:
            rank, label = (1, str(n // 16)) if n % 16 == 0 else ((2, "") if n % 4 == 0 else (3, ""))
        marks.append(Mark(n / per_unit * size, n / per_unit * size, rank, label))  # type: ignore[arg-type]
    return Ruler(name, unit, length * size, tuple(marks))


def measure_sheet() -> MeasureSheet:
    """The whole page: both units, for ends from 20 to 110 mm."""
    return MeasureSheet(
        strips=(
            strip("outside diameter, small ends", "mm", 20, 65),
            strip("outside diameter, large ends", "mm", 65, 110),
            strip("outside diameter, small ends", "in", 1, 2),
            strip("outside diameter, large ends", "in", 2, 4),
        ),
        cards=(
            step_card("inside diameter, small ends", "mm", 24, 64, 1, 0.004),
            step_card("inside diameter, large ends", "mm", 90, 106, 1, 0.004),
            step_card("inside diameter", "in", 1, 3, 16, 0.004),
        ),
        rulers=(ruler("ruler", "mm", 150), ruler("ruler", "in", 6)),
        how=HOW,
    )


def read_wrapped(strip_: Strip, circumference_m: float) -> float:
    """The size read where a strip wrapped round this circumference [m] meets its end."""
    paper = fact("hookup.paper_thickness").value
    at = circumference_m + math.pi * paper
    return min(strip_.marks, key=lambda mark: abs(mark.at_m - at)).size_m
