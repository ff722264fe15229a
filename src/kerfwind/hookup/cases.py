"""One setup with the candidates to choose from."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from .candidates import Ints, Table
from .chains import Head
from .ends import Floats
from .prices import Prices
from .setups import Setup

Key = tuple[int, int, int]


@dataclass(frozen=True)
class Case:
    """One setup with the candidates to choose from.

    Attributes
    ----------
    constant
        What its hoses and their heads cost, without the heads as parts.
    on_hoses
        How many of each part the hoses carry.
    user
        Of each candidate, the tool, or from the number of tools on the unit's joint it makes.
    users, tools
        How many users and tools there are.
    """

    setup: Setup
    constant: float
    on_hoses: Floats
    table: Table
    user: Ints
    users: int
    tools: int

    @property
    def heads(self) -> dict[int, Head]:
        """The head of each hose that carries one."""
        return {hose: head for hose, head in self.setup.items() if head is not None}

    @property
    def whole(self) -> bool:
        """Whether every tool and joint has a candidate."""
        return bool(np.bincount(self.user, minlength=self.users).all())

    @property
    def row(self) -> Ints:
        """Of each candidate, its row of `Prices.use`."""
        return np.minimum(self.user, self.tools)

    @cached_property
    def needs(self) -> list[tuple[tuple[int, int], ...]]:
        """The parts of each candidate, and how many of each."""
        first, last = (self.table.first >> 1).tolist(), (self.table.last >> 1).tolist()
        return [
            ((b, 2),) if a == b >= 0 else tuple((p, 1) for p in (a, b) if p >= 0)
            for a, b in zip(first, last, strict=True)
        ]

    def least(self, low: Floats) -> Floats:
        """The least of ``low`` over the candidates of each user."""
        least = np.full(self.users, np.inf)
        np.minimum.at(least, self.user, low)
        return least

    def fixed(self, prices: Prices) -> float:
        """What every answer has at these prices beside its candidates."""
        some = self.on_hoses > 0
        return self.constant + prices.constant + float(prices.part[some] @ self.on_hoses[some])

    def within(self, prices: Prices, limit: float) -> Case:
        """Without the candidates that no answer below ``limit`` can use."""
        low = prices.low(self.table, self.row)
        least = self.least(low)
        if not np.isfinite(least).all():
            return self
        return self.only(low - least[self.user] <= limit - self.fixed(prices) - least.sum() + 1e-9)

    def only(self, keep: NDArray[np.bool_] | Ints) -> Case:
        """With some of the candidates."""
        return replace(self, table=self.table[keep], user=self.user[keep])

    def rows_of(self, keys: set[Key]) -> list[int] | None:
        """The candidates of another answer, None where some are not here."""
        rows = [k for k, key in enumerate(self.table.keys()) if key in keys]
        return rows if len(rows) == len(keys) else None
