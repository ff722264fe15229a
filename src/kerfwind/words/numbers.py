"""SI values in the units a person reads: with their units, and without where it stands once."""

from __future__ import annotations

import re
from fractions import Fraction

from ..quantity import Quantity, UnitChoice, dimension

_FAR_M = 50.0  # a longer length is told in feet or metres


def show_fraction_in(length_m: float, denominator: int = 16) -> str:
    """Inches to the nearest fraction, such as ``23-5/8 in``.

    Parameters
    ----------
    length_m
        Length [m].
    denominator
        The finest fraction wanted, a power of two.
    """
    sign = "-" if length_m < 0 else ""
    steps = round(abs(length_m) / 0.0254 * denominator)
    whole, rest = divmod(steps, denominator)
    if not rest:
        return f"{sign if whole else ''}{whole} in"
    part = Fraction(rest, denominator)
    text = f"{part.numerator}/{part.denominator}"
    return f"{sign}{whole}-{text} in" if whole else f"{sign}{text} in"


def show(
    value_si: float,
    dimension_name: str,
    units: UnitChoice = "in",
    *,
    denominator: int = 16,
    decimals: int | None = None,
) -> str:
    """A value with its unit, in the units the person asked for.

    Lengths in inches come as fractions unless ``decimals`` is given; ``both`` puts the
    metric value in brackets.
    """
    dim = dimension(dimension_name)
    if units == "both":
        first = show(value_si, dimension_name, "in", denominator=denominator, decimals=decimals)
        if dim.imperial == dim.metric:
            return first
        return f"{first} ({show(value_si, dimension_name, 'mm')})"
    name = dim.imperial if units == "in" else dim.metric
    if name == "in" and decimals is None:
        inches = value_si / 0.0254
        if 0.0005 <= abs(inches) < 0.5 / denominator:
            # A small length must not be told as none.
            fine = abs(inches) >= 0.5 / 64
            return show_fraction_in(value_si, 64) if fine else f"{inches:.3f} in"
        return show_fraction_in(value_si, denominator)
    unit = next(u for u in dim.units if u.name == name)
    places = unit.decimals if decimals is None else decimals
    if dimension_name == "concentration" and decimals is None:
        # Known to two digits at the very best.
        places = 0 if value_si >= 9.95e-6 else 1 if value_si >= 0.995e-6 else 2
    if name == "mm" and decimals is None:
        places = 0 if abs(value_si) >= 0.02 else 1
    if name == "m/s" and decimals is None and abs(value_si) < 0.995:
        # A board is fed by hand at some centimetres a second.
        places = 2
    number = (value_si - unit.offset) / unit.factor
    text = f"{number:,.{places}f}"
    if name == "mm" and decimals is None:
        text = text.removesuffix(".0")
    if text.startswith("-") and float(text.replace(",", "")) == 0:
        text = text[1:]
    joiner = "" if name in ("", "°") else " "
    return f"{text}{joiner}{name}"


def show_cut(length_m: float, units: UnitChoice = "in") -> str:
    """A size to set a fence or mark a line by, finer than `show` where it needs to be.

    To a 32nd of an inch, or a 64th where that misses it by more than a tenth of a millimetre;
    to a tenth of a millimetre where it is not whole.
    """
    if units == "both":
        return f"{show_cut(length_m, 'in')} ({show_cut(length_m, 'mm')})"
    tenths = units == "mm" and abs(length_m * 1000 - round(length_m * 1000)) >= 0.05
    parts = _parts_to_cut(length_m)
    return show(length_m, "length", units, denominator=parts, decimals=1 if tenths else None)


def _parts_to_cut(length_m: float) -> int:
    """Parts of an inch in which a length is told that something is cut by."""
    step = 0.0254 / 32
    return 32 if abs(length_m - round(length_m / step) * step) < 1e-4 else 64


def show_range(
    low_si: float, high_si: float, dimension_name: str, units: UnitChoice, between: str
) -> str:
    """A range with its unit once: ``72 to 85 cfm``, ``72 to 85 cfm (122 to 144 m³/h)``.

    ``between`` is what a language puts between its ends.
    """
    dim = dimension(dimension_name)
    if units == "both":
        first = show_range(low_si, high_si, dimension_name, "in", between)
        if dim.imperial == dim.metric:
            return first
        return f"{first} ({show_range(low_si, high_si, dimension_name, 'mm', between)})"
    return _from_to(*(show(v, dimension_name, units) for v in (low_si, high_si)), between=between)


def _from_to(low: str, high: str, *, between: str) -> str:
    """Two values with their units as a range, its unit once where it is the same."""
    if low == high:
        return low
    number, _, unit = low.partition(" ")
    first = number if unit and high.endswith(f" {unit}") else low
    return f"{first}{between}{high}"


def show_written(quantity: Quantity, units: UnitChoice, between: str) -> str:
    """A quantity with its range or tolerance as a person would write it, in these units.

    What is written alike in all units stays as it is written. Ends of a range are
    rounded, as what nobody measured should be: to a 16th, to a centimetre from a metre up.
    """
    dim = quantity.dimension
    if dim.imperial == dim.metric and quantity.text:
        return quantity.text.replace("..", between).replace(" °", "°")
    if units == "both":
        return f"{show_written(quantity, 'in', between)} ({show_written(quantity, 'mm', between)})"
    if dim.name == "length" and quantity.high_si > _FAR_M:
        unit = next(u for u in dim.units if u.name == ("ft" if units == "in" else "m"))
        ends = (quantity.low_si, quantity.high_si)
        return _from_to(*(f"{v / unit.factor:,.0f} {unit.name}" for v in ends), between=between)

    def told(value_si: float) -> str:
        fine = quantity.shape != "flat" or abs(value_si) < 0.0127
        text = show(value_si, dim.name, units, denominator=64 if fine else 16)
        return re.sub(r"\.0+(?=\D|$)|(\.\d*?)0+(?=\D|$)", r"\1", text)

    if quantity.shape == "normal":
        half = (quantity.high_si - quantity.low_si) / 2
        if dim.name == "temperature":
            # A difference of temperatures has no zero to be told from.
            return quantity.text
        return f"{told(quantity.best_si)} ± {told(half)}"
    if quantity.shape == "exact":
        return told(quantity.best_si)
    return _from_to(
        *(
            told(v if abs(v) < 1 or dim.name != "length" or units == "in" else round(v, 2))
            for v in (quantity.low_si, quantity.high_si)
        ),
        between=between,
    )


def bare_length(length_m: float, units: UnitChoice, denominator: int = 16) -> str:
    """A length [m] on a dimension line; the unit is stated once below the drawing."""
    if units == "both":
        inches, millimetres = (bare_length(length_m, u, denominator) for u in ("in", "mm"))
        return f"{inches} ({millimetres})"
    if units == "in":
        return show_fraction_in(length_m, denominator).removesuffix(" in")
    value = length_m * 1000
    text = f"{value:.0f}" if abs(value) >= 20 else f"{value:.1f}"
    return text.removesuffix(".0")


def bare_cut(length_m: float, units: UnitChoice) -> str:
    """A length [m] to cut by on a dimension line, in the same parts as `show_cut` tells it."""
    if units == "both":
        return f"{bare_cut(length_m, 'in')} ({bare_cut(length_m, 'mm')})"
    if units == "in":
        return bare_length(length_m, "in", _parts_to_cut(length_m))
    return f"{length_m * 1000:.1f}".removesuffix(".0")


def bare(value_si: float, dimension: str, units: UnitChoice) -> str:
    """A number in one system of units, inches by default; its unit stands above."""
    return show(value_si, dimension, "mm" if units == "mm" else "in").split(" ")[0]
