"""Large shops: prices of parts bound every setup from below, and the best few are proven.

A setup says which hoses are in use and what head each carries. Setups are taken one by
one, the one with the lowest bound first, since a relaxed program that may mix them says
little. The dual of a setup's own relaxed program prices the parts; the prices bound all
its answers, and those of every other setup, over every chain of one or two pieces and
every head. What no good answer can use is left out, and branch and bound proves the best
of the rest. It ends when no setup's bound is below the best answer.

The proof is over the same answers as for small shops: at each end one or two pieces owned
or sold, or one made to measure, with any head on any hose and any way of lending. It is
within a ten-thousandth of the best, where that of small shops is exact.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import product

import numpy as np
from numpy.typing import NDArray

from .chains import UNREACHED, Column
from .columns import Columns, Head, Lister
from .ends import Floats
from .proving import Swaps, prove
from .relaxed import Limits, Prices, Relaxation, Stock, prices_of
from .settling import Choice, Settler, Task
from .setups import Setup
from .slate import Chains, Ints, Slate

_TINY = 1e-9
#: An answer of a large shop counts as proven within this part of the best.
PROVEN_GAP = 1e-4
#: Relaxed programs solved for one answer at most, whatever the clock.
MOST_PROGRAMS = 1_500
#: Time is called this long before it is up, so that one relaxed program more fits in.
_LAST_PROGRAM_S = 0.1
#: Chains this far above the least of their tool come into the first relaxed program.
_FIRST_ABOVE = 2.5


def solve(
    lister: Lister, task: Task, *, runner_up: bool, time_s: float | None, every_route: bool = False
) -> tuple[Task, Choice, Choice | None]:
    """The best answer and the second-best, and the task with the chains that they take.

    ``time_s`` is for all of it; where it ends too soon, ``bound`` tells the gap. With
    ``every_route`` the task also has the lightest chain of every route, to the hoses and
    heads of the best answer.
    """
    end = np.inf if time_s is None else time.monotonic() + time_s
    pricing = Pricing(lister, task, lambda: end - _LAST_PROGRAM_S - time.monotonic())
    best, bound = pricing.best()
    answers = [(best, bound)]
    if runner_up:
        second, bound = pricing.best(unlike=best)
        if second.setup is not None:
            answers.append((second, bound))
    columns = [a.columns(pricing.slate) for a, _ in answers]
    rest = pricing.lightest(best) if every_route else []
    worn = {(h, g) for a, _ in answers for h, g in a.heads.items()}
    task = replace(
        task,
        columns=Columns(
            tuple(c for some in (*columns, rest) for c in some),
            {key: pricing.heads[key] for key in sorted(worn)},
            {},
        ),
    )
    choices, start = [], 0
    for (found, bound), some in zip(answers, columns, strict=True):
        taken = range(start, start + len(some))
        choices.append(Settler(task).settle(taken, found.heads, bound))
        start += len(some)
    return task, choices[0], choices[1] if len(choices) > 1 else None


@dataclass
class _Family:
    """The setups of one set of hoses in use: an axis for each tool hose, a place a head.

    No answer weighs less than ``bound``; ``by`` is the number of the prices that say so.
    ``proved`` is the same for setups that were searched.
    """

    hoses: tuple[int, ...]
    links: tuple[int, ...]
    bound: Floats
    by: Ints
    proved: Floats


@dataclass
class _Found:
    """The best answer so far; nothing yet where ``setup`` is None."""

    weight: float = np.inf
    chains: Chains | None = None
    taken: Sequence[int] = ()
    setup: Setup | None = None

    @property
    def heads(self) -> dict[int, Head]:
        """The head of each hose that carries one."""
        return {h: g for h, g in (self.setup or {}).items() if g is not None}

    @property
    def keys(self) -> Ints:
        """What tells its chains from others, one row a chain."""
        assert self.chains is not None
        return _keys(self.chains)[list(self.taken)]

    def near(self) -> float:
        """What is within this of it is as good."""
        return PROVEN_GAP / 2 * self.weight if self.setup else 0.0

    def take(self, weight: float, chains: Chains, taken: Sequence[int], setup: Setup) -> None:
        """Put a better one in its place."""
        self.weight, self.chains, self.taken, self.setup = weight, chains, taken, setup

    def columns(self, slate: Slate) -> list[Column]:
        """Its chains as columns."""
        assert self.chains is not None
        return [slate.column(self.chains, k) for k in self.taken]


@dataclass(frozen=True)
class _Case:
    """One setup: what it costs itself, what it wears, and the chains to choose from."""

    setup: Setup
    constant: float
    worn: Floats
    chains: Chains
    user: Ints
    users: int
    pricing: Pricing

    @property
    def whole(self) -> bool:
        """Whether every tool and joint has a chain."""
        return len(np.unique(self.user)) == self.users

    def above(self, prices: Prices) -> tuple[Floats, float]:
        """How far each chain is above the least of its user, and a bound on all answers."""
        low = prices.low(self.chains, np.minimum(self.user, self.pricing.tools))
        least = np.full(self.users, np.inf)
        np.minimum.at(least, self.user, low)
        bound = self.constant + prices.constant + float(prices.part @ self.worn + least.sum())
        return low - least[self.user], bound

    def only(self, keep: NDArray[np.bool_]) -> _Case:
        """With some of the chains."""
        return replace(self, chains=self.chains[keep], user=self.user[keep])

    def relaxation(self, active: NDArray[np.bool_], unlike: _Found | None) -> Relaxation:
        """Its relaxed program, to start with the chains ``active``."""
        pricing = self.pricing
        return Relaxation(
            self.chains,
            self.user,
            self.worn,
            pricing.users,
            pricing.stock,
            active,
            self._taken(unlike),
        )

    def swaps(self, unlike: _Found | None) -> Swaps:
        """Its answers, to be made better by small changes."""
        return Swaps(
            self.chains,
            self.user,
            self.pricing.tools,
            self.worn,
            self.pricing.settler,
            self._taken(unlike),
        )

    def _taken(self, unlike: _Found | None) -> Ints | None:
        """Its chains that another answer takes, where it has them all."""
        if unlike is None:
            return None
        mine = np.flatnonzero(_among(_keys(self.chains), unlike.keys))
        return mine if len(mine) == len(unlike.taken) else None


class Pricing:
    """The search of one task; `best` answers, and may be asked again for the runner-up."""

    def __init__(
        self, lister: Lister, task: Task, left_s: Callable[[], float] = lambda: np.inf
    ) -> None:
        self.lister, self.task, self.settler, self.left_s = lister, task, Settler(task), left_s
        self.slate = Slate.of(lister)
        parts = task.parts
        self.stock = Stock(
            np.array([float(p.owned) for p in parts]),
            np.array([np.inf if p.price is None else p.price for p in parts]),
            task.change,
        )
        self.heads = lister.heads()
        groups = [g for g in task.demands if task.routes[g[0]].tool]
        self.tools = len(groups)
        # The row of each route: its tool, or one for all joints of the unit.
        self.row = np.full(len(task.routes), self.tools)
        for tool, group in enumerate(groups):
            self.row[list(group)] = tool
        routes = np.array([r for r, _ in self.slate.places])
        self.user = self.row[routes][self.slate.chains.place]
        self.apart = np.array(
            [
                np.inf if head is not None else UNREACHED + task.routes[r].air
                for r, head in self.slate.places
            ]
        )
        self.users = self._users()
        self.prices: list[Prices] = []
        self.families = self._families()
        nothing = np.full(len(parts), np.nan)
        self._reckon(prices_of(nothing, np.zeros_like(self.users), self.users, self.stock))

    def _users(self) -> Floats:
        """Which tools could use each part, shape ``(tools, parts)``."""
        users = np.zeros((self.tools + 1, len(self.task.parts) + 1))
        chains = self.slate.chains
        for faces in (chains.first, chains.last):
            users[self.user, faces >> 1] = 1.0
        return users[:-1, :-1]

    def _families(self) -> list[_Family]:
        task, routes = self.task, self.task.routes
        hoses = sorted({r.hose for r in routes if r.tool})
        links = [routes[r].hose for g in task.demands for r in g if not routes[r].tool]
        found = []
        for used in product((False, True), repeat=len(hoses)):
            mine = tuple(h for h, on in zip(hoses, used, strict=True) if on)
            if hoses and not mine:
                continue
            shape = [len(self.slate.heads[h]) for h in mine]
            for link in links or [-1]:
                found.append(
                    _Family(
                        mine,
                        (link,) if link >= 0 else (),
                        np.full(shape, -np.inf),
                        np.zeros(shape, dtype=np.int64),
                        np.full(shape, -np.inf),
                    )
                )
        return found

    def _reckon(self, prices: Prices) -> None:
        """Raise the bounds of all setups to what these prices say."""
        slate, task = self.slate, self.task
        number = len(self.prices)
        self.prices.append(prices)
        low = prices.low(slate.chains, self.user)
        least = np.minimum(slate.made_low, self.apart)
        some = np.flatnonzero(np.diff(slate.start) > 0)
        least[some] = np.minimum(least[some], np.minimum.reduceat(low, slate.start[some]))
        by_hose: dict[int, Floats] = {}
        unit: dict[int, float] = {}
        for hose, states in slate.heads.items():
            by_hose[hose] = np.full((self.tools, len(states)), np.inf)
            unit[hose] = sum(
                float(least[slate.number[(r, None)]]) for r, h in task.follows.items() if h == hose
            )
        for r, route in enumerate(task.routes):
            if route.tool:
                at = slate.number[(r, None)]
                states = slate.heads[route.hose]
                by_hose[route.hose][self.row[r]] = least[at : at + len(states)]
        for family in self.families:
            self._raise(family, number, prices, by_hose, unit)

    def _raise(
        self,
        family: _Family,
        number: int,
        prices: Prices,
        by_hose: dict[int, Floats],
        unit: dict[int, float],
    ) -> None:
        kept = (*family.hoses, *family.links)
        total = np.full(
            family.bound.shape,
            prices.constant + self.task.hose_weight * len(kept) + sum(unit[h] for h in kept),
        )
        axes = len(family.hoses)

        def along(values: Floats, axis: int) -> Floats:
            return values.reshape([-1 if a == axis else 1 for a in range(axes)])

        for axis, hose in enumerate(family.hoses):
            worn = [
                0.0 if g is None else self.heads[(hose, g)] + float(prices.part[g[0]])
                for g in self.slate.heads[hose]
            ]
            total = total + along(np.array(worn), axis)
        for tool in range(self.tools):
            lightest = np.full((1,) * axes, np.inf)
            for axis, hose in enumerate(family.hoses):
                lightest = np.minimum(lightest, along(by_hose[hose][tool], axis))
            total = total + lightest
        higher = total > family.bound
        family.bound[higher], family.by[higher] = total[higher], number

    def best(self, *, unlike: _Found | None = None) -> tuple[_Found, float]:
        """The best answer, or the best that takes other chains, and a bound on all such."""
        found, left = _Found(), MOST_PROGRAMS
        if unlike is not None:
            self._neighbour(unlike, found)
        proved = [np.where(f.proved >= f.bound, f.proved, -np.inf) for f in self.families]
        closed = [np.zeros(f.bound.shape, dtype=bool) for f in self.families]
        while True:
            lows = [np.maximum(f.bound, p) for f, p in zip(self.families, proved, strict=True)]
            open_ = [np.where(c, np.inf, low) for c, low in zip(closed, lows, strict=True)]
            f = int(np.argmin([o.min() for o in open_]))
            low = float(open_[f].min())
            stop = found.setup is not None and (left <= 0 or self.left_s() <= 0)
            if low >= found.weight - found.near() or stop:
                shut = [
                    float(p[c].min(initial=np.inf)) for c, p in zip(closed, proved, strict=True)
                ]
                return found, min(low, *shut, found.weight)
            at = np.unravel_index(int(np.argmin(open_[f])), open_[f].shape)
            bound, spent = self._setup(self.families[f], at, found, unlike)
            left -= spent
            proved[f][at], closed[f][at] = max(bound, low), True
            if unlike is None:
                self.families[f].proved[at] = proved[f][at]

    def _setup(
        self, family: _Family, at: tuple[np.intp, ...], found: _Found, unlike: _Found | None
    ) -> tuple[float, int]:
        """Find what is better in one setup.

        Returns its bound, no more than the best found, and how many relaxed programs
        were solved.
        """
        case = self._case(family, at)
        if not case.whole:
            return found.weight, 0
        above, bound = case.above(self.prices[int(family.by[at])])
        near = above <= found.weight - bound + _TINY
        case, above = case.only(near), above[near]
        if not case.whole:
            return found.weight, 0
        relaxation = case.relaxation(above <= _FIRST_ABOVE, unlike)
        nothing = Limits.none(len(case.worn), len(case.chains))
        root = relaxation.solve(nothing, found.weight - found.near() - case.constant)
        if root is None:
            return found.weight, relaxation.solved
        self._reckon(root.prices)
        bound = root.bound + case.constant
        if found.setup is not None and (bound >= found.weight - found.near() or self.left_s() <= 0):
            return min(bound, found.weight), relaxation.solved
        proof = prove(
            relaxation,
            case.swaps(unlike),
            root,
            found.weight - case.constant,
            lambda w: (1 - PROVEN_GAP / 2) * w - PROVEN_GAP / 2 * case.constant,
            self.left_s,
        )
        if proof.taken is not None:
            found.take(proof.weight + case.constant, case.chains, proof.taken, case.setup)
        return min(proof.bound + case.constant, found.weight), relaxation.solved

    def _neighbour(self, best: _Found, found: _Found) -> None:
        """The best answer that differs from another in one chain, to start from."""
        assert best.setup is not None
        assert best.chains is not None
        case = self._of_setup(best.setup)
        taken = np.flatnonzero(_among(_keys(case.chains), best.keys))
        weight, near = case.swaps(None).neighbour(taken.tolist())
        if near is not None:
            found.take(weight + case.constant, case.chains, near, best.setup)

    def lightest(self, best: _Found) -> list[Column]:
        """The chain of each route that adds least, to the hoses as an answer has them."""
        found = []
        for r, route in enumerate(self.task.routes):
            head = best.heads.get(route.hose) if route.tool else None
            chains = self.slate.whole(self.slate.number[(r, head)])
            low = self.prices[-1].low(chains, np.full(len(chains), self.row[r]))
            if len(low):
                found.append(self.slate.column(chains, int(np.argmin(low))))
        return found

    def _case(self, family: _Family, at: tuple[np.intp, ...]) -> _Case:
        heads = self.slate.heads
        setup: Setup = {h: heads[h][int(i)] for h, i in zip(family.hoses, at, strict=True)}
        return self._of_setup(setup | dict.fromkeys(family.links))

    def _of_setup(self, setup: Setup) -> _Case:
        constant = self.task.hose_weight * len(setup)
        worn = np.zeros(len(self.task.parts))
        for hose, head in setup.items():
            if head is not None:
                constant += self.heads[(hose, head)]
                worn[head[0]] += 1
        chains, user = self._chains(setup)
        users = self.tools + sum(h in setup for h in self.task.follows.values())
        return _Case(setup, constant, worn, chains, user, users, self)

    def _chains(self, setup: Setup) -> tuple[Chains, Ints]:
        slate, task = self.slate, self.task
        blocks, users = [], []
        units = 0
        for r, route in enumerate(task.routes):
            if route.hose not in setup:
                continue
            if route.tool:
                user = int(self.row[r])
            else:
                user, units = self.tools + units, units + 1
            block = slate.whole(slate.number[(r, setup[route.hose] if route.tool else None)])
            blocks.append(block)
            users.append(np.full(len(block), user))
        return _together(blocks), np.concatenate(users)


def _together(blocks: Sequence[Chains]) -> Chains:
    return Chains(
        np.concatenate([b.place for b in blocks]),
        np.concatenate([b.first for b in blocks]),
        np.concatenate([b.last for b in blocks]),
        np.concatenate([b.weight for b in blocks]),
        np.concatenate([b.other for b in blocks]),
    )


def _keys(chains: Chains) -> Ints:
    """What tells one chain from another, one row a chain."""
    return np.stack([chains.place, chains.first, chains.last, chains.other], axis=1)


def _among(keys: Ints, some: Ints) -> NDArray[np.bool_]:
    """Which rows of ``keys`` are among ``some``."""
    known = {tuple(row) for row in some.tolist()}
    return np.array([tuple(row) in known for row in keys.tolist()], dtype=bool)
