"""Which hoses are in use and what head each carries, with a bound for each such setup."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import product

import numpy as np

from .columns import Head
from .ends import Floats
from .settling import Task

#: For each hose in use its head, None where it is bare.
Setup = dict[int, Head | None]


def list_setups(
    task: Task,
    heads: dict[tuple[int, Head], float],
    least: Callable[[int, Head | None], float],
    limit: float = np.inf,
) -> list[tuple[float, Setup]]:
    """Every setup that can serve all below ``limit``, lightest bound first.

    Parameters
    ----------
    heads
        By hose and head, the least weight of keeping it there.
    least
        Least that a route adds to any answer, by route and head.
    """
    routes = task.routes
    hoses = sorted({r.hose for r in routes if r.tool})
    links = [routes[r].hose for g in task.demands for r in g if not routes[r].tool]
    states = {h: _states(h, heads) for h in hoses}
    found: list[tuple[float, Setup]] = []
    for used in product((False, True), repeat=len(hoses)):
        chosen = {h: states[h] for h, on in zip(hoses, used, strict=True) if on}
        if hoses and not chosen:
            continue
        for link in links or [-1]:
            bare: Setup = dict.fromkeys([*chosen, *([link] if link >= 0 else [])])
            found += _of(task, bare, chosen, heads, least, limit)
    return sorted(found, key=lambda s: s[0])


def _states(hose: int, heads: dict[tuple[int, Head], float]) -> list[Head | None]:
    return [None, *(g for h, g in heads if h == hose)]


def _of(
    task: Task,
    bare: Setup,
    states: dict[int, list[Head | None]],
    heads: dict[tuple[int, Head], float],
    least: Callable[[int, Head | None], float],
    limit: float,
) -> Iterator[tuple[float, Setup]]:
    """Setups of one set of hoses: one axis a hose, one place on it a head."""
    hoses = list(states)
    shape = [len(s) for s in states.values()]

    def along(hose: int, values: Sequence[float]) -> Floats:
        axis = hoses.index(hose)
        return np.array(values).reshape([-1 if a == axis else 1 for a in range(len(shape))])

    unit = sum(least(r, None) for r, hose in task.follows.items() if hose in bare)
    total = np.full(shape, task.hose_weight * len(bare) + unit)
    for hose, row in states.items():
        total = total + along(hose, [0.0 if g is None else heads[(hose, g)] for g in row])
    for group in task.demands:
        if not task.routes[group[0]].tool:
            continue
        lightest = np.full(shape, np.inf)
        for route in group:
            hose = task.routes[route].hose
            if hose in states:
                lows = [least(route, g) for g in states[hose]]
                lightest = np.minimum(lightest, along(hose, lows))
        total = total + lightest
    for at in np.argwhere(total < limit):
        heads_at = {h: states[h][i] for h, i in zip(hoses, at, strict=True)}
        yield float(total[tuple(at)]), bare | heads_at
