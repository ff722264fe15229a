"""The integer program of one setup, solved by HiGHS.

minimise   Σ weight·z + Σ price·bought + change·Σ borrowed
where      every tool, and every joint of the unit, takes one candidate z;
           a tool borrows no more of a part than it uses, nor than is shared of it;
           parts in use, less those borrowed, and those shared, are owned or bought.

Borrowing is counted by tool, whatever hose it is on. Without whole numbers, the dual of
the program prices the parts, and the prices bound all answers.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .candidates import Ints, Table
from .cases import Case
from .ends import Floats
from .prices import Prices, Stock, prices_of

#: Candidates this near to the least of their user come in with those below it.
_WELCOME = 0.8
#: Relaxed programs solved for one setup at most.
_MOST_ROUNDS = 12
#: Parts of the weight that an answer may be from the best where a good one is looked for,
#: and where the best is.
GOOD, _EXACT = 5e-3, 1e-7
#: Nodes of its search tree that HiGHS may look into.
_MOST_NODES = 5_000
#: What HiGHS says of a program without an answer.
_NO_ANSWER = 2


@dataclass(frozen=True)
class Relaxed:
    """The program of a setup without whole numbers.

    Attributes
    ----------
    bound
        No answer of the setup weighs less.
    above
        By how much an answer with each candidate must weigh more than ``bound``.
    """

    bound: float
    above: Floats
    prices: Prices


def relax(case: Case, stock: Stock, prices: Prices, unlike: Ints | None) -> Relaxed | None:
    """Solve the relaxed program, with more candidates as long as the prices call for them.

    None where the setup has no answer.

    Parameters
    ----------
    prices
        Any that are known; they say which candidates to begin with.
    unlike
        Candidates that may not all be taken together.
    """
    low = prices.low(case.table, case.row)
    active = low <= case.least(low)[case.user] + _WELCOME
    if unlike is not None:
        active[unlike] = True
    best: Relaxed | None = None
    for _ in range(_MOST_ROUNDS):
        answer = _Program(case, np.flatnonzero(active), stock, unlike).prices()
        if answer is None:
            if active.all():
                return None
            active[:] = True
            continue
        prices, low, constant = answer
        least = case.least(low)
        bound = constant + float(least.sum())
        if best is None or bound > best.bound:
            best = Relaxed(bound, low - least[case.user], prices)
        now = case.least(np.where(active, low, np.inf))[case.user]
        if not (~active & (low < now - 1e-9)).any():
            break
        active |= low < now + _WELCOME
    return best


def find_whole(
    case: Case, some: Ints, stock: Stock, unlike: Ints | None
) -> tuple[list[int] | None, float]:
    """A good answer with some of the candidates, by HiGHS, and a bound on all such.

    It is within `GOOD` of the best; None where there is none.
    """
    return _Program(case, some, stock, unlike).whole(GOOD, np.inf)


def prove_whole(
    case: Case, some: Ints, stock: Stock, unlike: Ints | None, below: float
) -> tuple[list[int] | None, float]:
    """The best answer that weighs less than ``below``, likewise; the bound is no more than it."""
    return _Program(case, some, stock, unlike).whole(_EXACT, below)


class _Program:
    """The rows of the program over some candidates."""

    def __init__(self, case: Case, some: Ints, stock: Stock, unlike: Ints | None) -> None:
        from scipy.sparse import csr_array

        self.case, self.some, self.stock, self.unlike = case, some, stock, unlike
        table, user = case.table[some], case.user[some]
        self.parts, self.many = len(case.on_hoses), len(some)
        candidate, part, number = _uses(table)
        by_tool = user[candidate] < case.tools
        pair_of = user[candidate] * self.parts + part
        pairs = np.unique(pair_of[by_tool])
        users = np.bincount(pairs % self.parts, minlength=self.parts)
        # A part that one tool alone uses is not lent to anyone.
        self.alone = pairs[users[pairs % self.parts] == 1]
        pairs = self.pairs = pairs[users[pairs % self.parts] > 1]
        shared_parts = np.unique(pairs % self.parts)
        self.used_parts = np.unique(np.concatenate([part, np.flatnonzero(case.on_hoses)]))
        sold = np.flatnonzero(np.isfinite(stock.price[self.used_parts]))
        z, lent, s, b = self.many, len(pairs), len(shared_parts), len(sold)
        self.first_shared, self.first_bought = z + lent, z + lent + s
        self.cost = np.concatenate(
            [
                table.weight,
                np.full(lent, stock.change),
                np.zeros(s),
                stock.price[self.used_parts[sold]],
            ]
        )
        at_pair = np.minimum(np.searchsorted(pairs, pair_of), max(lent - 1, 0))
        lendable = (
            np.flatnonzero(by_tool & (pairs[at_pair] == pair_of)) if lent else np.zeros(0, int)
        )
        pair, ones = np.arange(lent), np.ones
        supply = 2 * lent

        def supply_row(parts: Ints) -> Ints:
            return supply + np.searchsorted(self.used_parts, parts)

        blocks: list[tuple[Ints, Ints, Floats]] = [
            # A tool borrows no more than it uses, nor than is shared.
            (pair, z + pair, ones(lent)),
            (at_pair[lendable], candidate[lendable], -number[lendable]),
            (lent + pair, z + pair, ones(lent)),
            (
                lent + pair,
                z + lent + np.searchsorted(shared_parts, pairs % self.parts),
                -ones(lent),
            ),
            # What is needed is owned or bought.
            (supply_row(part), candidate, number),
            (supply_row(pairs % self.parts), z + pair, -ones(lent)),
            (supply_row(shared_parts), z + lent + np.arange(s), ones(s)),
            (supply + sold, z + lent + s + np.arange(b), -ones(b)),
        ]
        rows = supply + len(self.used_parts)
        self.high = np.zeros(rows)
        self.high[supply:] = (stock.owned - case.on_hoses)[self.used_parts]
        if unlike is not None:
            taken = np.flatnonzero(np.isin(some, unlike))
            blocks.append((np.full(len(taken), rows), taken, ones(len(taken))))
            self.high = np.append(self.high, len(unlike) - 1.0)
            rows += 1
        row, col, value = (np.concatenate([x[i] for x in blocks]) for i in range(3))
        self.upper = csr_array((value, (row, col)), shape=(rows, len(self.cost)))
        groups, of = np.unique(user, return_inverse=True)
        self.equal = csr_array((ones(z), (of, np.arange(z))), shape=(len(groups), len(self.cost)))
        self.ones = ones(len(groups))

    def whole(self, gap: float, below: float) -> tuple[list[int] | None, float]:
        """The candidates of a whole answer, and a bound on all that weigh less than ``below``."""
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import csr_array, vstack

        rows, high = [self.upper, self.equal], [self.high, self.ones]
        low = [np.full(len(self.high), -np.inf), self.ones]
        whole = np.zeros(len(self.cost))
        whole[: self.many] = whole[self.first_shared : self.first_bought] = 1
        if below < np.inf:
            # A row for the weight rules out most of what is left before any search; with
            # all numbers whole, which they are in the best answer anyway, it rules out more.
            whole[:] = 1
            rows.append(csr_array(self.cost[None]))
            low.append(np.array([-np.inf]))
            high.append(np.array([below - self.case.constant]))
        result = milp(
            self.cost,
            integrality=whole,
            bounds=Bounds(0.0, np.inf),
            constraints=LinearConstraint(vstack(rows), np.concatenate(low), np.concatenate(high)),
            options={"mip_rel_gap": gap, "node_limit": _MOST_NODES},
        )
        if result.status == _NO_ANSWER:
            return None, below
        dual = result.mip_dual_bound
        bound = -np.inf if dual is None else float(dual) + self.case.constant
        if result.x is None:
            return None, min(bound, below)
        taken = self.some[np.flatnonzero(result.x[: self.many] > 0.5)].tolist()
        return taken, min(bound, float(result.fun) + self.case.constant)

    def prices(self) -> tuple[Prices, Floats, float] | None:
        """Prices by the relaxed program, what each candidate adds, and what all answers have.

        None where the program has no answer.
        """
        from scipy.optimize import linprog

        result = linprog(
            self.cost,
            A_ub=self.upper,
            b_ub=self.high,
            A_eq=self.equal,
            b_eq=self.ones,
            bounds=(0.0, None),
            method="highs",
        )
        if result.x is None:
            return None
        case, part, share = self.case, np.full(self.parts, np.nan), np.zeros_like(self.stock.users)
        dual, lent = -result.ineqlin.marginals, len(self.pairs)
        part[self.used_parts] = dual[2 * lent : 2 * lent + len(self.used_parts)]
        share.ravel()[self.pairs] = dual[lent : 2 * lent]
        # A part that one tool alone can use is worth to it all that it costs.
        share.ravel()[self.alone] = part[self.alone % self.parts]
        prices = prices_of(part, share, self.stock)
        low, constant = prices.low(case.table, case.row), case.fixed(prices)
        if self.unlike is not None:
            avoided = max(float(dual[-1]), 0.0)
            low[self.unlike] += avoided
            constant -= avoided * (len(self.unlike) - 1)
        return prices, low, constant


def _uses(table: Table) -> tuple[Ints, Ints, NDArray[np.float64]]:
    """Candidate, part and number of every use, a part used twice being one of two."""
    first, last = table.first >> 1, table.last >> 1
    every = np.arange(len(table))
    twice = (first >= 0) & (first == last)
    a, b = np.flatnonzero((first >= 0) & ~twice), np.flatnonzero(last >= 0)
    return (
        np.concatenate([every[a], every[b]]),
        np.concatenate([first[a], last[b]]),
        np.concatenate([np.ones(len(a)), np.where(twice[b], 2.0, 1.0)]),
    )
