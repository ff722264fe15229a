"""Setups: which hoses are in use and what each carries, with a bound for every one of them.

The bound of a setup is what its hoses and heads cost, and for every tool and joint the
least that any of its candidates adds. A setup is *closed* once no better answer is in it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from .chains import Head
from .ends import Floats
from .part_costs import Task

#: Tools whose least is looked up together: a table of theirs for all setups of a set of hoses.
_AT_ONCE = 16
#: For each hose in use its head, None where it is bare.
Setup = dict[int, Head | None]


@dataclass
class _Family:
    """The setups of one set of hoses in use: an axis for each tool hose, a step a head.

    No answer weighs less than ``bound``. The highest bound by prices alone is ``low``, and
    ``by`` numbers the prices that say so.
    """

    hoses: tuple[int, ...]
    links: tuple[int, ...]
    bound: Floats
    low: Floats
    by: NDArray[np.int64]
    closed: NDArray[np.bool_]


@dataclass(frozen=True)
class Lowest:
    """A setup, no answer of which weighs less than ``bound`` by the prices of number ``by``."""

    setup: Setup
    bound: float
    by: int
    family: int
    at: tuple[int, ...]


class Setups:
    """All setups of a task, ``heads`` being what each hose may carry."""

    def __init__(self, task: Task, heads: dict[int, list[Head | None]]) -> None:
        self.task, self.heads = task, heads
        routes = task.routes
        hoses = sorted({r.hose for r in routes if r.tool})
        links = [routes[r].hose for g in task.demands for r in g if not routes[r].tool]
        self.families: list[_Family] = []
        for used in product((False, True), repeat=len(hoses)):
            chosen = tuple(h for h, on in zip(hoses, used, strict=True) if on)
            if hoses and not chosen:
                continue
            shape = [len(heads[h]) for h in chosen]
            ends: list[tuple[int, ...]] = [(hose,) for hose in links]
            for link in ends or [()]:
                self.families.append(
                    _Family(
                        chosen,
                        link,
                        np.full(shape, -np.inf),
                        np.full(shape, -np.inf),
                        np.zeros(shape, dtype=np.int64),
                        np.zeros(shape, dtype=bool),
                    )
                )

    def reckon(
        self,
        number: int,
        constant: float,
        head_cost: Callable[[int, Head], float],
        least: Callable[[int, Head | None], float],
    ) -> dict[tuple[int, Head | None], float]:
        """Raise the bounds to what prices of this number say.

        What comes back is the least that all prices so far say of the setups with each hose
        in use, by what it carries.

        Parameters
        ----------
        constant
            What is in every answer.
        head_cost
            What keeping a head on a hose adds.
        least
            Least that a route adds to any answer, by route and head.
        """
        task = self.task
        states: dict[int, Floats] = {}
        for hose, heads in self.heads.items():
            states[hose] = np.array([0.0 if g is None else head_cost(hose, g) for g in heads])
        groups = [group for group in task.demands if task.routes[group[0]].tool]
        # Of each tool on each hose, by what the hose carries: shape (tools, heads).
        by_hose = {h: np.full((len(groups), len(gs)), np.inf) for h, gs in self.heads.items()}
        for tool, group in enumerate(groups):
            for r in group:
                hose = task.routes[r].hose
                by_hose[hose][tool] = [least(r, g) for g in self.heads[hose]]
        unit: dict[int, float] = dict.fromkeys(self.heads, 0.0)
        for r, hose in task.follows.items():
            unit[hose] += least(r, None)
        lowest = {(hose, g): np.inf for hose, heads in self.heads.items() for g in heads}
        for family in self.families:
            kept = (*family.hoses, *family.links)
            axes = {
                hose: [-1 if a == axis else 1 for a in range(len(family.hoses))]
                for axis, hose in enumerate(family.hoses)
            }
            fixed = constant + task.hose_weight * len(kept) + sum(unit[h] for h in kept)
            total = np.full(family.bound.shape, fixed)
            for hose, shape in axes.items():
                total = total + states[hose].reshape(shape)
            for start in range(0, len(groups), _AT_ONCE):
                some = slice(start, start + _AT_ONCE)
                lightest = np.full((len(groups[some]), *(1,) * len(axes)), np.inf)
                for hose, shape in axes.items():
                    of_tools = by_hose[hose][some]
                    wide = [of_tools.shape[1] if n < 0 else 1 for n in shape]
                    lightest = np.minimum(lightest, of_tools.reshape(-1, *wide))
                total = total + lightest.sum(axis=0)
            higher = total > family.low
            family.low[higher], family.by[higher] = total[higher], number
            family.bound = np.maximum(family.bound, total)
            for hose in family.links:
                lowest[(hose, None)] = min(
                    lowest[(hose, None)], float(family.low.min(initial=np.inf))
                )
            for axis, hose in enumerate(family.hoses):
                others = tuple(a for a in range(len(axes)) if a != axis)
                for g, value in zip(self.heads[hose], family.low.min(axis=others), strict=True):
                    lowest[(hose, g)] = min(lowest[(hose, g)], float(value))
        return lowest

    def reopen(self) -> None:
        """Forget which setups are closed."""
        for family in self.families:
            family.closed[...] = False

    def close(self, lowest: Lowest, bound: float) -> None:
        """Close a setup; no answer in it weighs less than ``bound``."""
        family = self.families[lowest.family]
        family.closed[lowest.at] = True
        family.bound[lowest.at] = max(bound, lowest.bound)

    def first(self, most: int) -> list[Lowest]:
        """The open setups with the lowest bounds, lowest first."""
        found: list[tuple[float, int, int]] = []
        for number, family in enumerate(self.families):
            bound = np.where(family.closed, np.inf, family.bound).ravel()
            order = np.argsort(bound, kind="stable")[:most] if most > 1 else [np.argmin(bound)]
            found += [(float(bound[i]), number, int(i)) for i in order if bound[i] < np.inf]
        return [self._setup(*each) for each in sorted(found, key=lambda f: f[0])[:most]]

    def _setup(self, bound: float, number: int, flat: int) -> Lowest:
        family = self.families[number]
        at = tuple(int(i) for i in np.unravel_index(flat, family.bound.shape))
        setup: Setup = {
            h: self.heads[h][i] for h, i in zip(family.hoses, at, strict=True)
        } | dict.fromkeys(family.links)
        return Lowest(setup, bound, int(family.by.flat[flat]), number, at)

    def lowest(self) -> float:
        """The lowest bound of all setups, closed ones too."""
        return min((float(f.bound.min(initial=np.inf)) for f in self.families), default=np.inf)
