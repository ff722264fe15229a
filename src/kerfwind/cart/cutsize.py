"""Sizes that a person can mark and cut, and sizes chosen from uncertain measurements."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..quantity import Quantity, show, show_fraction_in
from ..shop import Saw, Sheet, Shop

_SLACK_M = 1e-7


@dataclass(frozen=True)
class Rule:
    """The step in which sizes are marked: a sixteenth of an inch, or a millimetre."""

    step_m: float
    units: str

    @classmethod
    def of(cls, shop: Shop) -> Rule:
        """The rule of the shop's own units."""
        return cls(0.001, "mm") if shop.shop.units == "mm" else cls(0.0254 / 16, "in")

    def up(self, size_m: float) -> float:
        """The next mark at or above."""
        return math.ceil((size_m - _SLACK_M) / self.step_m) * self.step_m

    def down(self, size_m: float) -> float:
        """The last mark at or below."""
        return math.floor((size_m + _SLACK_M) / self.step_m) * self.step_m

    def near(self, size_m: float) -> float:
        """The nearest mark."""
        return round(size_m / self.step_m) * self.step_m

    def text(self, size_m: float) -> str:
        """As written in messages, whichever way it rounds."""
        return show(size_m, "length", "mm" if self.units == "mm" else "in")

    def entry(self, size_m: float) -> str:
        """As written in a shop file: at least this size."""
        if self.units == "mm":
            return f"{math.ceil(size_m * 1000 - 1e-4)} mm"
        return show_fraction_in(math.ceil(size_m / 0.0254 * 16 - 1e-4) * 0.0254 / 16)


@dataclass(frozen=True)
class Need:
    """A size that must be reached: for the best values, and for the worst of the range."""

    best_m: float
    worst_m: float

    def __add__(self, other: Need | float) -> Need:
        if isinstance(other, Need):
            return Need(self.best_m + other.best_m, self.worst_m + other.worst_m)
        return Need(self.best_m + other, self.worst_m + other)

    def most(self, other: Need | float) -> Need:
        """The larger of two needs."""
        other = other if isinstance(other, Need) else Need(other, other)
        return Need(max(self.best_m, other.best_m), max(self.worst_m, other.worst_m))


def large(quantity: Quantity) -> Need:
    """The need for room for a thing of this size."""
    return Need(quantity.best_si, quantity.high_si)


def chosen(need: Need, cap_m: float, rule: Rule) -> float:
    """The size to cut: room for the worst, or as much of it as the cap leaves.

    Returns a size above the cap only when even the best values need it; the caller turns
    that into a wish that cannot be met.
    """
    worst, best = rule.up(need.worst_m), rule.up(need.best_m)
    if worst <= cap_m + _SLACK_M:
        return worst
    return max(best, rule.down(cap_m))


def usable(sheet: Sheet, saw: Saw) -> tuple[float, float]:
    """Length and width of a sheet once its factory edges are trimmed, at their least [m]."""
    trim = 2 * saw.trim.high_si
    return sheet.length.low_si - trim, sheet.width.low_si - trim


def share_of_width(sheet: Sheet, saw: Saw, least_m: float, most_m: float, rule: Rule) -> float:
    """A panel width that wastes little of the sheet's width [m].

    The widest that still lets as many panels side by side as panels of ``least_m`` would
    allow, but no wider than ``most_m``.
    """
    _, width = usable(sheet, saw)
    kerf = saw.kerf.high_si
    count = int((width + kerf + _SLACK_M) / (least_m + kerf))
    if count < 1:
        return rule.up(least_m)
    # Half a mark to spare: a nest that fits to the last hair does not fit.
    share = rule.down((width - (count - 1) * kerf) / count - rule.step_m / 2)
    return (
        max(rule.up(least_m), min(share, rule.up(most_m))) if share >= least_m else rule.up(least_m)
    )
