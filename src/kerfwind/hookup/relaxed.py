"""The relaxed program of one setup, and the prices of parts that its dual gives.

minimise   Σ weight·z + Σ price·bought + change·Σ lent
where      every tool, and every joint of the unit, takes one chain z;
           a tool borrows no more of a part than it uses, nor than is shared of it;
           parts in use, less those lent, and those shared, are owned or bought.

Lending is counted by tool, whatever hose it is on. Prices bound every setup, not only
the one they come from: an answer weighs at least the sum over its chains of weight and
uses, with what the heads cost, less what is owned.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .ends import Floats
from .slate import Chains, Ints

#: Chains this near to the least of their user come in with those below it.
_WELCOME = 0.8


@dataclass(frozen=True)
class Stock:
    """Of every part: how many are owned, and the price of one more (infinite: not sold)."""

    owned: Floats
    price: Floats
    change: float


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

    def low(self, chains: Chains, user: Ints) -> Floats:
        """What each chain adds at least; ``user`` is its row of ``use``."""
        first, last = chains.first >> 1, chains.last >> 1
        low: Floats = chains.weight + self.use[user, first] + self.use[user, last]
        return low


def prices_of(
    part: Floats, share: Floats, users: Floats, stock: Stock, limits: Limits | None = None
) -> Prices:
    """Prices that hold, whatever the dual's precision.

    Parameters
    ----------
    part
        Worth of one more of each part; NaN where it is in no use.
    share
        Each tool's share in a lent part, shape ``(tools, parts)``.
    users
        Which tools could use each part, likewise.
    limits
        How many of each part are lent out at least and at most.
    """
    part = np.where(np.isnan(part), np.where(stock.owned > 0, 0.0, stock.price), part)
    part, share = np.clip(part, 0.0, stock.price), np.maximum(share, 0.0)
    low, high = np.zeros(len(part)), np.full(len(part), np.inf)
    if limits is not None:
        low, high = limits.low, limits.high
    unlimited = np.isinf(high)
    free = unlimited & (low <= 0)
    # All shares in a lent part together are no more than the part; what is left of it
    # is shared by tools that do not use it yet.
    total = share.sum(axis=0)
    share = share * np.where(
        unlimited & (total > part), part / np.where(total > 0, total, 1.0), 1.0
    )
    idle = users * (share <= 0)
    spare = np.where(free, np.maximum(part - share.sum(axis=0), 0.0), 0.0)
    share = share + idle * (spare / np.maximum(idle.sum(axis=0), 1.0))
    use = np.zeros((len(share) + 1, len(part) + 1))
    use[:-1, :-1] = np.minimum(part, stock.change + share)
    use[-1, :-1] = part
    # What is lent out at least or at most is worth what the shares leave over.
    left = part - share.sum(axis=0)
    settled = np.where(left >= 0, left * low, left * np.where(unlimited, 0.0, high)).sum()
    constant = float(settled) - float(part @ stock.owned)
    return Prices(part, use, constant)


@dataclass(frozen=True)
class Limits:
    """What a branch settles: how many of each part are lent out, and chains not taken."""

    low: Floats
    high: Floats
    out: NDArray[np.bool_]

    @classmethod
    def none(cls, parts: int, chains: int) -> Limits:
        """Nothing is settled."""
        return cls(np.zeros(parts), np.full(parts, np.inf), np.zeros(chains, dtype=bool))


@dataclass(frozen=True)
class Relaxed:
    """An answer of the relaxed program.

    No whole answer weighs less than ``bound``, without what the setup itself costs;
    ``chains`` is the share of each chain, ``shared`` how many of each part are lent out,
    ``low`` what each chain adds at least at ``prices``.
    """

    bound: float
    chains: Floats
    shared: Floats
    low: Floats
    prices: Prices


class Relaxation:
    """The relaxed program of one setup, solved over few chains and priced over all.

    Parameters
    ----------
    chains
        To choose from.
    user
        Of each chain, the tool, or from the number of tools on the unit's joint it makes.
    worn
        How many of each part the hoses carry.
    users
        Which tools could use each part in any setup, shape ``(tools, parts)``.
    active
        The chains to start with; more come in where the prices call for them.
    unlike
        Chains that may not all be taken together.
    """

    def __init__(
        self,
        chains: Chains,
        user: Ints,
        worn: Floats,
        users: Floats,
        stock: Stock,
        active: NDArray[np.bool_],
        unlike: Ints | None = None,
    ) -> None:
        self.chains, self.user, self.worn, self.users, self.stock = chains, user, worn, users, stock
        self.tools, self.unlike = len(users), unlike
        self.row = np.minimum(user, self.tools)
        self.active = active.copy()
        self.many = int(user.max()) + 1
        self.solved = 0
        if unlike is not None:
            self.active[unlike] = True

    def least(self, low: Floats) -> Floats:
        """The least of ``low`` over the chains of each user."""
        least = np.full(self.many, np.inf)
        np.minimum.at(least, self.user, low)
        return least

    def solve(self, limits: Limits, cutoff: float = np.inf) -> Relaxed | None:
        """The least answer within limits, None where there is none.

        It need not be the least where its bound reaches ``cutoff``.
        """
        while True:
            missing = self.least(np.where(self.active & ~limits.out, 0.0, np.inf)) == np.inf
            self.active |= missing[self.user] & ~limits.out
            some = np.flatnonzero(self.active & ~limits.out)
            if self.least(np.where(limits.out, np.inf, 0.0)).max() == np.inf:
                return None
            answer = self._solve(some, limits)
            self.solved += 1
            rest = np.flatnonzero(~self.active & ~limits.out)
            if answer is None:
                if not len(rest):
                    return None
                self.active[rest] = True
                continue
            now = self.least(np.where(self.active, answer.low, np.inf))
            more = rest[answer.low[rest] < now[self.user[rest]] - 1e-9]
            if answer.bound >= cutoff or not len(more):
                return answer
            self.active[rest[answer.low[rest] < now[self.user[rest]] + _WELCOME]] = True

    def whole(
        self, some: Ints, time_s: float, near: float, nodes: int
    ) -> tuple[Floats | None, float]:
        """The best whole answer with some of the chains, by HiGHS, and a bound on all such."""
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import vstack

        program = _Program(self, some)
        whole = np.zeros(len(program.cost))
        whole[: program.many] = whole[program.first_shared : program.first_bought] = 1
        low = np.concatenate([np.full(len(program.high), -np.inf), program.ones])
        result = milp(
            program.cost,
            integrality=whole,
            bounds=Bounds(0.0, np.inf),
            constraints=LinearConstraint(
                vstack([program.upper, program.equal]),
                low,
                np.concatenate([program.high, program.ones]),
            ),
            options={"mip_rel_gap": near, "node_limit": nodes, "time_limit": time_s},
        )
        bound = -np.inf if result.mip_dual_bound is None else float(result.mip_dual_bound)
        if result.x is None:
            return None, np.inf if result.status == 2 else bound
        x = np.zeros(len(self.chains))
        x[some] = result.x[: len(some)]
        return x, bound

    def _solve(self, some: Ints, limits: Limits) -> Relaxed | None:
        from scipy.optimize import linprog

        program = _Program(self, some)
        result = linprog(
            program.cost,
            A_ub=program.upper,
            b_ub=program.high,
            A_eq=program.equal,
            b_eq=program.ones,
            bounds=program.bounds(limits),
            method="highs",
        )
        if result.x is None:
            return None
        part, share, avoided = program.duals(-result.ineqlin.marginals)
        prices = prices_of(part, share, self.users, self.stock, limits)
        low = prices.low(self.chains, self.row)
        constant = prices.constant + float(prices.part @ self.worn)
        if self.unlike is not None:
            low[self.unlike] += avoided
            constant -= avoided * (len(self.unlike) - 1)
        low[limits.out] = np.inf
        x = np.zeros(len(self.chains))
        x[some] = result.x[: len(some)]
        shared = np.zeros(len(self.worn))
        shared[program.shared_parts] = result.x[program.first_shared : program.first_bought]
        return Relaxed(constant + float(self.least(low).sum()), x, shared, low, prices)


class _Program:
    """The rows of a relaxed program over some chains."""

    def __init__(self, whole: Relaxation, some: Ints) -> None:
        from scipy.sparse import csr_array

        chains, user, stock = whole.chains[some], whole.user[some], whole.stock
        self.tools, self.parts, self.many = whole.tools, len(whole.worn), len(some)
        chain, part, number = _uses(chains)
        by_tool = user[chain] < self.tools
        pair_of = user[chain] * self.parts + part
        pairs = np.unique(pair_of[by_tool])
        users = np.bincount(pairs % self.parts, minlength=self.parts)
        self.alone = pairs[users[pairs % self.parts] == 1]
        pairs = self.pairs = pairs[users[pairs % self.parts] > 1]
        self.shared_parts = np.unique(pairs % self.parts)
        self.used_parts = np.unique(np.concatenate([part, np.flatnonzero(whole.worn)]))
        sold = np.flatnonzero(np.isfinite(stock.price[self.used_parts]))
        z, lent, s, b = self.many, len(pairs), len(self.shared_parts), len(sold)
        self.first_shared, self.first_bought = z + lent, z + lent + s
        self.cost = np.concatenate(
            [
                chains.weight,
                np.full(lent, stock.change),
                np.zeros(s),
                stock.price[self.used_parts[sold]],
            ]
        )
        at_pair = np.minimum(np.searchsorted(pairs, pair_of), max(lent - 1, 0))
        mine = np.flatnonzero(by_tool & (pairs[at_pair] == pair_of)) if lent else np.zeros(0, int)
        pair, ones = np.arange(lent), np.ones
        blocks: list[tuple[Ints, Ints, Floats]] = [
            # A tool borrows no more than it uses, nor than is shared.
            (pair, z + pair, ones(lent)),
            (at_pair[mine], chain[mine], -number[mine]),
            (lent + pair, z + pair, ones(lent)),
            (
                lent + pair,
                z + lent + np.searchsorted(self.shared_parts, pairs % self.parts),
                -ones(lent),
            ),
            # What is needed is owned or bought.
            (2 * lent + np.searchsorted(self.used_parts, part), chain, number),
            (
                2 * lent + np.searchsorted(self.used_parts, pairs % self.parts),
                z + pair,
                -ones(lent),
            ),
            (
                2 * lent + np.searchsorted(self.used_parts, self.shared_parts),
                z + lent + np.arange(s),
                ones(s),
            ),
            (2 * lent + sold, z + lent + s + np.arange(b), -ones(b)),
        ]
        rows = 2 * lent + len(self.used_parts)
        self.high = np.zeros(rows)
        self.high[2 * lent :] = (stock.owned - whole.worn)[self.used_parts]
        self.avoids = whole.unlike is not None
        if whole.unlike is not None:
            taken = np.flatnonzero(np.isin(some, whole.unlike))
            blocks.append((np.full(len(taken), rows), taken, ones(len(taken))))
            self.high = np.append(self.high, len(whole.unlike) - 1.0)
            rows += 1
        row, col, value = (np.concatenate([x[i] for x in blocks]) for i in range(3))
        self.upper = csr_array((value, (row, col)), shape=(rows, z + lent + s + b))
        groups, of = np.unique(user, return_inverse=True)
        self.equal = csr_array((ones(z), (of, np.arange(z))), shape=(len(groups), z + lent + s + b))
        self.ones = ones(len(groups))

    def bounds(self, limits: Limits) -> Floats:
        """Least and most of every variable."""
        bounds = np.zeros((len(self.cost), 2))
        bounds[:, 1] = np.inf
        bounds[self.first_shared : self.first_bought, 0] = limits.low[self.shared_parts]
        bounds[self.first_shared : self.first_bought, 1] = limits.high[self.shared_parts]
        return bounds

    def duals(self, dual: Floats) -> tuple[Floats, Floats, float]:
        """Worth of each part (NaN: not in use), each tool's share, and the last row's."""
        lent = len(self.pairs)
        part = np.full(self.parts, np.nan)
        part[self.used_parts] = dual[2 * lent : 2 * lent + len(self.used_parts)]
        share = np.zeros((self.tools, self.parts))
        share.ravel()[self.pairs] = dual[lent : 2 * lent]
        # A part that one tool alone can use is worth to it all that it costs.
        share.ravel()[self.alone] = part[self.alone % self.parts]
        return part, share, max(float(dual[-1]), 0.0) if self.avoids else 0.0


def _uses(chains: Chains) -> tuple[Ints, Ints, Floats]:
    """Chain, part and number of every use, a part used twice being one of two."""
    first, last = chains.first >> 1, chains.last >> 1
    every = np.arange(len(chains))
    twice = (first >= 0) & (first == last)
    a, b = np.flatnonzero((first >= 0) & ~twice), np.flatnonzero(last >= 0)
    return (
        np.concatenate([every[a], every[b]]),
        np.concatenate([first[a], last[b]]),
        np.concatenate([np.ones(len(a)), np.where(twice[b], 2.0, 1.0)]),
    )
