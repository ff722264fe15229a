"""Of nests that cost the same, the one with the most useful offcuts and fewest settings."""

from __future__ import annotations

import math
from collections import OrderedDict
from typing import Any

from .first import RULES, Ranked, fill_stock, filled_before, first_cuts, refill
from .model import Axis
from .problem import Layout, Problem, sheet_ticks
from .tree import Block, Box, Cut, Marks, NotReachedError, Sawing, build, carried, settings

#: A leftover is an offcut worth keeping when its sides are at least these.
OFFCUT_LENGTH_M = 0.30
OFFCUT_WIDTH_M = 0.10

#: Sheets beyond which a nest is left as found.
MOST_SHEETS = 40

#: A leftover thinner than this is too thin to fall safely [m].
SLIVER_M = 0.01

#: Money, sheets, panels left over, cuts in the store, offcuts, slivers, fence settings.
Quality = tuple[float, int, int, int, float, int, int]

#: Of a sheet as it is laid out: what is amiss, and its fence settings.
Seen = dict[Layout, tuple[Marks, frozenset[tuple[Axis, int]]]]

#: What rounding makes of offcuts that count alike.
_ROUNDED = 2e-6


def quality(problem: Problem, layouts: list[Layout], seen: Seen) -> Quality:
    """What makes one nest better than another, smaller first.

    Money; sheets; panels whose size is merely what a cut leaves over; cuts in the store;
    then the offcuts left, where one large one beats many small ones (the sum of squared
    areas, negated); then slivers, and the number of fence settings. ``seen`` keeps what was
    found of each sheet: a search comes upon the same ones again.
    """
    for layout in layouts:
        if layout not in seen:
            seen[layout] = _found(problem, layout)[1:]
    return _summed(problem, layouts, seen)


def better(
    problem: Problem, layouts: list[Layout], seen: Seen, than: Quality | None
) -> Quality | None:
    """The quality of a nest where it is better than another, else None; often found sooner."""
    if than is None:
        return quality(problem, layouts, seen)
    spent = problem.cost(layouts), problem.bought(layouts)
    if spent > than[:2]:
        return None
    fresh = [layout for layout in layouts if layout not in seen]
    for layout in fresh[:-1]:
        seen[layout] = _found(problem, layout)[1:]
    if fresh:
        last = fresh[-1]
        others = list(layouts)
        others.remove(last)
        known = _summed(problem, [each for each in others if each in seen], seen)
        stock = problem.stocks[last.stock]
        in_store = int(not carried(stock.w, stock.h, problem.box(last.stock)))
        reach = math.inf
        alike = spent == than[:2] and than[2:4] == (known[2], known[3] + in_store)
        if alike and last not in others:
            # All that another sheet could be better in are its offcuts.
            reach = math.inf if stock.offcut else than[4] - known[4] + _ROUNDED
        try:
            seen[last] = _found(problem, last, reach)[1:]
        except NotReachedError:
            return None
    found = _summed(problem, layouts, seen)
    return found if found < than else None


def _summed(problem: Problem, layouts: list[Layout], seen: Seen) -> Quality:
    left_over, store, slivers = 0, 0, 0
    big = 0.0
    fences: set[tuple[Axis, int]] = set()
    for layout in layouts:
        marks, sides = seen[layout]
        left_over += marks[0] + marks[1]
        store += marks[2]
        big += 0.0 if problem.stocks[layout.stock].offcut else marks[3]
        slivers += marks[4]
        fences |= sides
    return (
        problem.cost(layouts),
        problem.bought(layouts),
        left_over,
        store,
        round(big, 6),
        slivers,
        len(fences),
    )


def sheet_tree(problem: Problem, layout: Layout) -> tuple[Cut, Marks]:
    """The tree of cuts of one layout, and what is amiss; labels are indices of its spots."""
    return _found(problem, layout)[:2]


_Found = tuple[Cut, Marks, frozenset[tuple[Axis, int]]]
#: Of sheets as they lie what was found, or what their offcuts do not come to.
_trees: OrderedDict[tuple[Any, ...], _Found | float] = OrderedDict()
_MOST_TREES = 512


def _found(problem: Problem, layout: Layout, reach: float = math.inf) -> _Found:
    """The tree of one layout, what is amiss, and the fence settings, the last ones kept.

    Raises
    ------
    NotReachedError
        Something is amiss, or its offcuts do not come to ``reach``.
    """
    stock = problem.stocks[layout.stock]
    lies = tuple([(s.x, s.y, *problem.size(s)) for s in layout.spots])
    key = stock.w, stock.h, stock.edge, problem.kerf, problem.box(layout.stock), lies
    known = _trees.get(key)
    if isinstance(known, tuple):
        _trees.move_to_end(key)
        return known
    if known is not None and reach <= known:
        raise NotReachedError
    try:
        cut, marks = _tree(*key, reach)
    except NotReachedError:
        _trees[key] = reach
        raise
    found = _trees[key] = cut, marks, frozenset(settings(cut))
    if len(_trees) > _MOST_TREES:
        _trees.popitem(last=False)
    return found


def _tree(
    w: int,
    h: int,
    edge: int,
    kerf: int,
    box: Box | None,
    lies: tuple[tuple[int, int, int, int], ...],
    reach: float,
) -> tuple[Cut, Marks]:
    """The tree of a sheet of which a side ``edge`` is trimmed; panels lie at x, y with w, h."""
    blocks = [Block(*each, label=at) for at, each in enumerate(lies)]
    offcut = sheet_ticks(OFFCUT_LENGTH_M), sheet_ticks(OFFCUT_WIDTH_M)
    sawing = Sawing(kerf, box, offcut, sheet_ticks(SLIVER_M), edge)
    firm = not edge
    return build(w + edge, h + edge, blocks, sawing, set_x=firm, set_y=firm, reach=reach)


def tidy(problem: Problem, layouts: list[Layout], seen: Seen) -> list[Layout]:
    """Parts of the emptiest sheet moved to the others, and every sheet laid out anew.

    Sheets stay the same, so the money does too; what comes back is never worse than what
    went in. ``seen`` is as for `quality`.
    """
    if not 0 < len(layouts) <= MOST_SHEETS:
        return layouts
    moved = _gathered(problem, layouts)
    best = min((layouts, moved), key=lambda each: quality(problem, each, seen))
    for at, layout in enumerate(best):
        mark = quality(problem, best, seen)
        # Many rules lay a sheet out alike.
        for other in dict.fromkeys(_again(problem, layout, layout.counts(len(problem.parts)))):
            trial = [*best[:at], other, *best[at + 1 :]]
            fresh = better(problem, trial, seen, mark)
            if fresh is not None:
                best, mark = trial, fresh
    return best


def _again(problem: Problem, layout: Layout, counts: list[int]) -> list[Layout]:
    """Other layouts of exactly these parts on the same sheet."""
    found: list[Layout] = []
    before = filled_before(problem)
    for rule in RULES:
        ranked = Ranked(problem.parts, [rule.weight(p) for p in problem.parts])
        known = before(rule)
        for first in first_cuts(problem, layout.stock):
            filled = refill(problem, layout.stock, counts, ranked, rule, first, known)
            if not any(filled.left):
                found.append(Layout(layout.stock, filled.spots))
    return found


def _gathered(problem: Problem, layouts: list[Layout]) -> list[Layout]:
    """Parts taken from the emptiest bought sheet into leftovers of the others."""
    n = len(problem.parts)
    bought = [at for at, each in enumerate(layouts) if not problem.stocks[each.stock].offcut]
    if not bought:
        return layouts
    area = [sum(problem.parts[s.part].area for s in each.spots) for each in layouts]
    last = min(bought, key=lambda at: area[at])
    spare = layouts[last].counts(n)
    made = list(layouts)
    for at, layout in enumerate(layouts):
        if at == last:
            continue
        own = layout.counts(n)
        best: tuple[int, Layout, list[int]] | None = None
        for rule in RULES:
            left = [a + b for a, b in zip(own, spare, strict=True)]
            weights = [
                rule.weight(p) * (1.0 if own[i] else 0.1) for i, p in enumerate(problem.parts)
            ]
            spots = fill_stock(problem, layout.stock, left, Ranked(problem.parts, weights), rule)
            if any(a > b for a, b in zip(left, spare, strict=True)):
                continue
            packed = sum(problem.parts[s.part].area for s in spots)
            if packed > area[at] and (best is None or packed > best[0]):
                best = (packed, Layout(layout.stock, tuple(spots)), left)
        if best is not None:
            made[at] = best[1]
            spare = best[2]
    if spare == layouts[last].counts(n):
        return layouts
    rest = _again(problem, layouts[last], spare)
    if any(spare) and not rest:
        return layouts
    made[last] = rest[0] if rest else Layout(layouts[last].stock, ())
    return [each for each in made if each.spots]
