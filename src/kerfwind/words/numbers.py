"""Numbers as they stand on drawings and in narrow columns: without the unit, which stands once."""

from __future__ import annotations

from ..quantity import UnitChoice, show, show_fraction_in


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


def bare(value_si: float, dimension: str, units: UnitChoice) -> str:
    """A number in one system of units, inches by default; its unit stands above."""
    return show(value_si, dimension, "mm" if units == "mm" else "in").split(" ")[0]
