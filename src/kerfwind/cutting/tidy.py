"""Of nests that cost the same, the one with the most useful offcuts and fewest settings."""

from __future__ import annotations

from .first import RULES, Ranked, fill, first_cuts
from .model import Axis
from .problem import Layout, Problem, sheet_ticks
from .tree import Block, Cut, build, leaves, settings, store_cuts

#: A leftover is an offcut worth keeping when its sides are at least these.
OFFCUT_LENGTH_M = 0.30
OFFCUT_WIDTH_M = 0.10

#: Sheets beyond which a nest is left as found.
MOST_SHEETS = 40

Quality = tuple[float, float, int, float, int]

#: Of a sheet as it is laid out: offcuts, cuts in the store, fence settings.
Seen = dict[Layout, tuple[float, int, set[tuple[Axis, int]]]]


def quality(problem: Problem, layouts: list[Layout], seen: Seen) -> Quality:
    """What makes one nest better than another, smaller first.

    Money; sheets; cuts in the store; then the offcuts left, where one large one beats many
    small ones (the sum of squared areas, negated); then the number of fence settings.
    ``seen`` keeps what was found of each sheet: a search comes upon the same ones again.
    """
    big = 0.0
    store = 0
    fences: set[tuple[Axis, int]] = set()
    for layout in layouts:
        found = seen.get(layout)
        if found is None:
            found = seen[layout] = _sheet_quality(problem, layout)
        big += found[0]
        store += found[1]
        fences |= found[2]
    return problem.cost(layouts), problem.bought(layouts), store, -round(big, 6), len(fences)


def _sheet_quality(problem: Problem, layout: Layout) -> tuple[float, int, set[tuple[Axis, int]]]:
    short, long = sheet_ticks(OFFCUT_WIDTH_M), sheet_ticks(OFFCUT_LENGTH_M)
    tree = sheet_tree(problem, layout)
    stock = problem.stocks[layout.stock]
    big = 0.0
    for leaf in leaves(tree) if not stock.offcut else ():
        if leaf.label < 0 and min(leaf.w, leaf.h) >= short and max(leaf.w, leaf.h) >= long:
            big += (leaf.w * leaf.h / stock.area) ** 2
    return big, store_cuts(tree, problem.box(layout.stock)), settings(tree)


def sheet_tree(problem: Problem, layout: Layout) -> Cut:
    """The tree of cuts of one layout; labels are indices of its spots."""
    stock = problem.stocks[layout.stock]
    blocks = [Block(s.x, s.y, *problem.size(s), label=at) for at, s in enumerate(layout.spots)]
    return build(stock.w, stock.h, blocks, problem.box(layout.stock))


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
        for other in _again(problem, layout, layout.counts(len(problem.parts))):
            trial = [*best[:at], other, *best[at + 1 :]]
            fresh = quality(problem, trial, seen)
            if fresh < mark:
                best, mark = trial, fresh
    return best


def _again(problem: Problem, layout: Layout, counts: list[int]) -> list[Layout]:
    """Other layouts of exactly these parts on the same sheet."""
    stock = problem.stocks[layout.stock]
    found: list[Layout] = []
    for rule in RULES:
        for first in first_cuts(problem, layout.stock):
            left = counts.copy()
            ranked = Ranked(problem.parts, [rule.weight(p) for p in problem.parts])
            spots = fill(stock.w, stock.h, left, ranked, rule, first)
            if not any(left):
                found.append(Layout(layout.stock, tuple(spots)))
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
        stock = problem.stocks[layout.stock]
        best: tuple[int, Layout, list[int]] | None = None
        for rule in RULES:
            left = [a + b for a, b in zip(own, spare, strict=True)]
            weights = [
                rule.weight(p) * (1.0 if own[i] else 0.1) for i, p in enumerate(problem.parts)
            ]
            spots = fill(stock.w, stock.h, left, Ranked(problem.parts, weights), rule)
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
