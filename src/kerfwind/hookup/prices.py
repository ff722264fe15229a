"""Prices of parts, and the bound that they put on every answer.

An answer weighs at least the sum over its candidates of their weights and of what their
uses of parts add at these prices, with what the heads cost, less what is owned. That is
the dual of the integer program without its whole numbers, and holds for every setup.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .candidates import Ints, Table
from .ends import Floats


@dataclass(frozen=True)
class Stock:
    """Of every part: how many are owned, and the price of one more (infinite: not sold).

    ``change`` is the weight of borrowing one, and ``users`` tells which tools could use
    each part, shape ``(tools, parts)``.
    """

    owned: Floats
    price: Floats
    change: float
    users: Floats


@dataclass(frozen=True)
class Prices:
    """What parts are worth.

    Attributes
    ----------
    part
        Of one more of each part, shape ``(parts,)``.
    use
        What a use adds at least, shape ``(tools + 1, parts + 1)``: a row for each tool, a
        last one for the unit's own joints; a last column of zeros for no part.
    constant
        What is owned is free: less ``part`` times that.
    """

    part: Floats
    use: Floats
    constant: float

    def low(self, table: Table, user: Ints) -> Floats:
        """What each candidate adds at least; ``user`` is its row of ``use``."""
        low: Floats = (
            table.weight + self.use[user, table.first >> 1] + self.use[user, table.last >> 1]
        )
        return low


def first_prices(stock: Stock) -> Prices:
    """Prices before any program was solved: new parts at their price, owned ones free."""
    return prices_of(np.full(len(stock.owned), np.nan), np.zeros_like(stock.users), stock)


def prices_of(part: Floats, share: Floats, stock: Stock) -> Prices:
    """Prices that hold, whatever the precision of the dual they come from.

    Parameters
    ----------
    part
        Worth of one more of each part; NaN where the program does not know it.
    share
        Each tool's share in a piece that is lent out, shape ``(tools, parts)``.
    """
    # Of a part that is not owned every piece costs its price, whatever the dual says.
    part = np.where(stock.owned > 0, np.nan_to_num(part), stock.price)
    part, share = np.clip(part, 0.0, stock.price), np.maximum(share, 0.0)
    # All shares in a lent piece together are no more than the piece; what is left of it
    # is shared by tools that do not use it yet.
    total = share.sum(axis=0)
    share = share * np.where(total > part, part / np.where(total > 0, total, 1.0), 1.0)
    idle = stock.users * (share <= 0)
    spare = np.maximum(part - share.sum(axis=0), 0.0)
    share = share + idle * (spare / np.maximum(idle.sum(axis=0), 1.0))
    use = np.zeros((len(share) + 1, len(part) + 1))
    use[:-1, :-1] = np.minimum(part, stock.change + share)
    use[-1, :-1] = part
    return Prices(part, use, -float(part[stock.owned > 0] @ stock.owned[stock.owned > 0]))
