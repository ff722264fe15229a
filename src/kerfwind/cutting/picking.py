"""The cheapest whole set of fillings, branch by branch; imported only when a search is asked for.

At the prices of a linear programme every filling loses something, and so does every part that
comes off more often than wanted: together just what the whole set costs above the programme.
A branch ends where it has lost as much as the best nest. The dearest part that is still wanted
is served next, by the filling that loses least.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from .kernels import chance, compiled

#: Fillings that are tried at one place, and sheets of one set.
BREADTH = 24
DEEPEST = 400


@compiled
def pick(
    counts: NDArray[np.int64],
    lost: NDArray[np.float64],
    stock: NDArray[np.int64],
    limit: NDArray[np.int64],
    value: NDArray[np.float64],
    demand: NDArray[np.int64],
    may_lose: float,
    shaken: float,
    nodes: int,
    state: Any,
    best: NDArray[np.int64],
) -> Any:
    """Rows of a set that loses less than it may, into ``best``; how many, and nodes looked at.

    ``shaken`` is by how much the order in which fillings are tried is left to chance; each set
    found must lose less than the one before. None are found where the number is 0.
    """
    m, n = counts.shape
    left = np.zeros((DEEPEST + 1, n), np.int64)
    spare = np.zeros(DEEPEST + 1)
    options = np.zeros((DEEPEST + 1, BREADTH), np.int64)
    losses = np.zeros((DEEPEST + 1, BREADTH))
    number = np.zeros(DEEPEST + 1, np.int64)
    at = np.zeros(DEEPEST + 1, np.int64)
    used = np.zeros(len(limit), np.int64)
    waste = np.zeros(BREADTH)
    left[0] = demand
    spare[0] = may_lose
    found = 0
    looked = 0
    depth = 0
    fresh = True
    while depth >= 0:
        if fresh:
            fresh = False
            looked += 1
            number[depth] = 0
            at[depth] = 0
            part = -1
            for i in range(n):
                if left[depth, i] > 0 and (part < 0 or value[i] > value[part]):
                    part = i
            if part < 0:
                # Every part is there: what comes next must lose less.
                found = depth
                for d in range(depth):
                    best[d] = options[d, at[d] - 1]
                gained = spare[depth] + 1e-9
                for d in range(depth + 1):
                    spare[d] -= gained
            elif depth < DEEPEST and looked < nodes:
                have = 0
                for j in range(m):
                    if counts[j, part] == 0 or used[stock[j]] >= limit[stock[j]]:
                        continue
                    loses = lost[j]
                    if loses >= spare[depth]:
                        continue
                    for i in range(n):
                        over = counts[j, i] - left[depth, i]
                        if over > 0:
                            loses += over * value[i]
                    if loses >= spare[depth]:
                        continue
                    rank = loses + shaken * chance(state)
                    if have == BREADTH and rank >= waste[have - 1]:
                        continue
                    k = have if have < BREADTH else BREADTH - 1
                    have = min(have + 1, BREADTH)
                    while k > 0 and waste[k - 1] > rank:
                        waste[k] = waste[k - 1]
                        options[depth, k] = options[depth, k - 1]
                        losses[depth, k] = losses[depth, k - 1]
                        k -= 1
                    waste[k] = rank
                    options[depth, k] = j
                    losses[depth, k] = loses
                number[depth] = have
        if at[depth] < number[depth] and losses[depth, at[depth]] < spare[depth]:
            row = options[depth, at[depth]]
            for i in range(n):
                left[depth + 1, i] = max(left[depth, i] - counts[row, i], 0)
            spare[depth + 1] = spare[depth] - losses[depth, at[depth]]
            used[stock[row]] += 1
            at[depth] += 1
            depth += 1
            fresh = True
        elif at[depth] < number[depth]:
            at[depth] += 1
        else:
            depth -= 1
            if depth >= 0:
                used[stock[options[depth, at[depth] - 1]]] -= 1
    return found, looked
