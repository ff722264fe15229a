"""Sizes that a person can mark and cut, and sizes chosen from uncertain measurements."""

from __future__ import annotations

from dataclasses import dataclass

from ..joinery.marks import SLACK_M, MarkingRule
from ..quantity import Quantity
from ..shop import Saw, Sheet


@dataclass(frozen=True)
class NeededSize:
    """A size that must be reached: for the best values, and for the worst of the range."""

    best_m: float
    worst_m: float

    def __add__(self, other: NeededSize | float) -> NeededSize:
        if isinstance(other, NeededSize):
            return NeededSize(self.best_m + other.best_m, self.worst_m + other.worst_m)
        return NeededSize(self.best_m + other, self.worst_m + other)

    def most(self, other: NeededSize | float) -> NeededSize:
        """The larger of two needs."""
        other = other if isinstance(other, NeededSize) else NeededSize(other, other)
        return NeededSize(max(self.best_m, other.best_m), max(self.worst_m, other.worst_m))


def large(quantity: Quantity) -> NeededSize:
    """The room that a thing of this size needs: for its best value, and for its largest."""
    return NeededSize(quantity.best_si, quantity.high_si)


def chosen(need: NeededSize, cap_m: float, rule: MarkingRule) -> float:
    """The size to cut: room for the worst, or as much of it as the cap leaves.

    Returns a size above the cap only when even the best values need it; the caller turns
    that into a wish that cannot be met.
    """
    worst, best = rule.up(need.worst_m), rule.up(need.best_m)
    if worst <= cap_m + SLACK_M:
        return worst
    return max(best, rule.down(cap_m))


def usable(sheet: Sheet, saw: Saw) -> tuple[float, float]:
    """Length and width of a sheet once its factory edges are trimmed, at their least [m]."""
    trim = 2 * saw.trim.high_si
    return sheet.length.low_si - trim, sheet.width.low_si - trim


def share_of_width(
    sheet: Sheet, saw: Saw, least_m: float, most_m: float, rule: MarkingRule
) -> float:
    """A panel width that wastes little of the sheet's width [m].

    The widest that still lets as many panels side by side as panels of ``least_m`` would
    allow, but no wider than ``most_m``.
    """
    _, width = usable(sheet, saw)
    kerf = saw.kerf.high_si
    count = int((width + kerf + SLACK_M) / (least_m + kerf))
    if count < 1:
        return rule.up(least_m)
    # Half a mark to spare: a nest that fits to the last hair does not fit.
    share = rule.down((width - (count - 1) * kerf) / count - rule.step_m / 2)
    return (
        max(rule.up(least_m), min(share, rule.up(most_m))) if share >= least_m else rule.up(least_m)
    )
