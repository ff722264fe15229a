"""What a source and a fact are."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

SourceStanding = Literal["read", "second-hand", "memory", "practice"]

STANDINGS: dict[str, str] = {
    "read": "read in a copy of the source, or recomputed from it",
    "second-hand": "confirmed at second hand",
    "memory": "from memory, not yet checked against the source",
    "practice": "common practice, no published source",
}


@dataclass(frozen=True)
class Source:
    """A document, or the common practice of the trade."""

    key: str
    citation: str
    standing: SourceStanding = "read"


@dataclass(frozen=True)
class Fact:
    """One number, or a range of them, taken from a source.

    Attributes
    ----------
    key
        Topic and name, such as ``air.entry_loss.plain``.
    what
        In words a workshop person reads.
    value
        In the SI unit named by ``unit``.
    unit
        Such as ``Pa``, ``m/s``, or an empty text for a pure number.
    low, high
        Ends of the range where the source gives one or the value is known to vary.
    where
        Clause, table or page.
    standing
        Overrides the source's own standing, where this number was met otherwise.
    """

    key: str
    what: str
    value: float
    unit: str
    source: str
    where: str = ""
    low: float | None = None
    high: float | None = None
    standing: SourceStanding | None = None
    note: str = ""

    @property
    def span(self) -> tuple[float, float]:
        """The range, or the value twice."""
        low = self.value if self.low is None else self.low
        high = self.value if self.high is None else self.high
        return low, high
