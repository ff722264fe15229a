"""A fitting that nobody sells, since it is made for two ends."""

from __future__ import annotations

from typing import Any, Literal

from ..facts import Statement, Term, state
from ..shop import Fitting

How = Literal["print", "cut"]


class MadeFitting(Fitting):
    """A printed reducer, or a stepped rubber cuff that is cut to go over two ends.

    ``first`` and ``last`` are what it joins, to be said.
    """

    how: How
    first: Any
    last: Any

    @property
    def called(self) -> Statement:
        """What it is, and for which ends."""
        if self.how == "print":
            return state("hookup.made.printed", first=self.first, last=self.last)
        return state("hookup.made.cut", first=self.first, last=self.last)

    @property
    def in_short(self) -> Term:
        """What it is, where its ends are shown beside it."""
        return Term("fitting", self.name)
