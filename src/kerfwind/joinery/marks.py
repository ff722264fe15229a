"""Sizes that a person can mark with a rule and cut."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..facts import Amount
from ..shop import Shop

#: A size this far beyond a mark is on it, for what rounding leaves [m].
SLACK_M = 1e-7


@dataclass(frozen=True)
class MarkingRule:
    """The step in which sizes are marked: a sixteenth of an inch, or a millimetre."""

    step_m: float
    units: str

    @classmethod
    def of(cls, shop: Shop) -> MarkingRule:
        """The rule by which the shop marks sizes."""
        metric = shop.wishes.measures == "metric"
        return cls(0.001, "mm") if metric else cls(0.0254 / 16, "in")

    def up(self, size_m: float) -> float:
        """The next mark at this size or above it."""
        return math.ceil((size_m - SLACK_M) / self.step_m) * self.step_m

    def down(self, size_m: float) -> float:
        """The last mark at this size or below it."""
        return math.floor((size_m + SLACK_M) / self.step_m) * self.step_m

    def near(self, size_m: float) -> float:
        """The nearest mark."""
        return round(size_m / self.step_m) * self.step_m

    @property
    def metric(self) -> bool:
        """Whether sizes are marked, and hardware is bought, in millimetres."""
        return self.units == "mm"

    def amount(self, size_m: float) -> Amount:
        """A size to be told in this rule's units to everybody.

        Screws, drills and wheels are sold by them, and the shop file is written in them.
        """
        return Amount(size_m, "length", "metric" if self.metric else "inch")
