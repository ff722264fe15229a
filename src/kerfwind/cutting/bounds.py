"""The fewest sheets, and the least money, that any nest can take.

Area, pairs of parts that cannot share a sheet, and dual-feasible functions. A function u
on [0, 1] is dual feasible if numbers that add up to at most 1 keep doing so under u; the
parts' areas measured with two such functions, one for each side, then bound the sheets
like plain area does (Fekete and Schepers 2004; families as in Clautiaux, Alves and
Valério de Carvalho 2010). A part that may be turned counts with the smaller of its two
measures.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from .problem import Part, Problem, Stock

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_SLACK = 1e-7
_MOST_STEPS = 40


def _ceil(value: float) -> int:
    return math.ceil(value - _SLACK)


def _functions(size: int, sides: Ints) -> Iterator[Floats]:
    """Dual-feasible measures of ``sides`` (n) against ``size``, as floats in [0, 1]."""
    plain = sides / size
    yield plain
    small = np.unique(np.concatenate([sides, size - sides]))
    small = small[(small > 0) & (small * 2 <= size)]
    if len(small) > _MOST_STEPS:
        small = small[np.linspace(0, len(small) - 1, _MOST_STEPS).astype(int)]
    for step in small:
        yield np.where(sides > size - step, 1.0, np.where(sides < step, 0.0, plain))
        most = size // step
        low = (sides // step) / most
        high = 1 - ((size - sides) // step) / most
        yield np.where(sides * 2 > size, high, np.where(sides * 2 == size, 0.5, low))
    for k in range(1, 8):
        scaled = sides * (k + 1)
        yield np.where(scaled % size == 0, plain, (scaled // size) / k)


def dual_feasible_bound(parts: tuple[Part, ...], stock: Stock) -> float:
    """Sheets of ``stock`` needed, before rounding up; parts must all fit it."""
    w = np.array([p.w for p in parts], dtype=np.int64)
    h = np.array([p.h for p in parts], dtype=np.int64)
    demand = np.array([p.demand for p in parts], dtype=float)
    turn = np.array([p.may_turn for p in parts])
    upright = np.stack(list(_functions(stock.w, np.concatenate([w, np.minimum(h, stock.w)]))))
    aside = np.stack(list(_functions(stock.h, np.concatenate([h, np.minimum(w, stock.h)]))))
    n = len(parts)
    straight_only = ~turn | (h > stock.w) | (w > stock.h)
    turned_only = (w > stock.w) | (h > stock.h)
    best = 0.0
    for u in upright:
        straight = u[:n] * aside[:, :n]
        turned = u[n:] * aside[:, n:]
        least = np.where(
            straight_only, straight, np.where(turned_only, turned, np.minimum(straight, turned))
        )
        best = max(best, float((least @ demand).max()))
    return best


def _share(a: Part, b: Part, stock: Stock) -> bool:
    for aw, ah in ((a.w, a.h), (a.h, a.w)) if a.may_turn else ((a.w, a.h),):
        if aw > stock.w or ah > stock.h:
            continue
        for bw, bh in ((b.w, b.h), (b.h, b.w)) if b.may_turn else ((b.w, b.h),):
            if bw > stock.w or bh > stock.h:
                continue
            if aw + bw <= stock.w or ah + bh <= stock.h:
                return True
    return False


def conflict_bound(parts: tuple[Part, ...], stock: Stock) -> int:
    """Parts of which no two share a sheet (a clique found greedily, largest first)."""
    order = sorted(range(len(parts)), key=lambda i: -min(parts[i].w, parts[i].h))
    best = 0
    for start in order[:20]:
        chosen: list[Part] = []
        count = 0
        for i in [start, *order]:
            part = parts[i]
            if part in chosen or any(_share(part, other, stock) for other in chosen):
                continue
            chosen.append(part)
            count += 1 if _share(part, part, stock) else part.demand
        best = max(best, count)
    return best


def sheets_bound(problem: Problem) -> int:
    """Fewest sheets to be bought, offcuts on hand taken off, whatever they cost."""
    onsale = [s for s in problem.stocks if not s.offcut]
    onhand = [s for s in problem.stocks if s.offcut]
    if not problem.parts:
        return 0
    if not onsale:
        return 0
    largest = Stock(max(s.w for s in onsale), max(s.h for s in onsale), 1.0, 1)
    total = sum(p.area * p.demand for p in problem.parts)
    spare = sum(s.area * s.limit for s in onhand)
    by_area = -(-(total - spare) // max(s.area for s in onsale))
    pieces = sum(s.limit for s in onhand)
    inside = all(s.w <= largest.w and s.h <= largest.h for s in onhand)
    if pieces and not inside:
        return max(0, by_area)
    if not all(p.fits(largest.w, largest.h) for p in problem.parts):
        return max(0, by_area)
    by_measure = _ceil(dual_feasible_bound(problem.parts, largest)) - pieces
    by_pairs = conflict_bound(problem.parts, largest) - pieces
    return max(0, by_area, by_measure, by_pairs)


def cost_bound(problem: Problem, sheets: int) -> float:
    """Least money for any nest, given the fewest sheets it can take.

    The cheapest set of sheets with enough area and at least ``sheets`` of them.
    """
    onsale = sorted((s for s in problem.stocks if not s.offcut), key=lambda s: s.price / s.area)
    if not onsale:
        return 0.0
    spare = sum(s.area * s.limit for s in problem.stocks if s.offcut)
    need = max(0, sum(p.area * p.demand for p in problem.parts) - spare)
    if len(onsale) == 1:
        return onsale[0].price * max(sheets, -(-need // onsale[0].area))
    cheapest = min(s.price for s in onsale)
    best = math.inf
    steps = 0

    def least(at: int, area: int, count: int) -> float:
        density = onsale[at].price / onsale[at].area
        return max(area * density, count * cheapest, 0.0)

    def walk(at: int, area: int, count: int, money: float) -> None:
        nonlocal best, steps
        steps += 1
        if area <= 0 and count <= 0:
            best = min(best, money)
            return
        if at == len(onsale) or steps > 20_000:
            return
        if money + least(at, area, count) >= best - 1e-9:
            return
        stock = onsale[at]
        most = min(stock.limit, max(-(-area // stock.area), count, 0))
        for k in range(most, -1, -1):
            walk(at + 1, area - k * stock.area, count - k, money + k * stock.price)

    walk(0, need, sheets, 0.0)
    if steps > 20_000 or math.isinf(best):
        return least(0, need, sheets)
    return best
