"""Three sizes of sheet with prices: cost over what is proven, limits, and growing effort."""

from __future__ import annotations

import random
import statistics
import time
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from typing import Any

from kerfwind.cutting import Nest, Panel, Saw, SheetKind, check_nest, cut_order, nest

SAW = Saw(kerf_m=0.0032, trim_m=0.006)
#: What `kerfwind cut` spends where nothing is said.
DEFAULT = 4_000

Listed = tuple[list[Panel], list[SheetKind]]


def lists(number: int, seed: int) -> Iterator[Listed]:
    """Lists as a maker of cabinets has them: some sizes, a few to a dozen of each."""
    chance = random.Random(seed)
    for _ in range(number):
        panels = [
            Panel(
                f"p{i}",
                chance.randint(150, 1200) / 1000,
                chance.randint(80, 600) / 1000,
                chance.randint(2, 12),
                grain=chance.choice(["along", "free", "free"]),
            )
            for i in range(chance.randint(5, 16))
        ]
        yield panels, kinds(chance)


def kinds(chance: random.Random) -> list[SheetKind]:
    """A full sheet, half of one, and a longer one, a little dearer or cheaper by area."""
    full = round(chance.uniform(40, 70), 2)
    long, wide = chance.choice([3.05, 2.8, 2.5]), chance.choice([1.22, 1.525])
    share = long * wide / (2.44 * 1.22)
    return [
        SheetKind("full", 2.44, 1.22, price=full),
        SheetKind("half", 1.22, 1.22, price=round(full * chance.uniform(0.5, 0.62), 2)),
        SheetKind("long", long, wide, price=round(full * share * chance.uniform(0.9, 1.12), 2)),
    ]


def mixed(number: int, seed: int) -> Iterator[Listed]:
    """Short lists of all sorts, with one size of sheet or three."""
    chance = random.Random(seed)
    for _ in range(number):
        panels = [
            Panel(
                f"p{i}",
                chance.randint(100, 1400) / 1000,
                chance.randint(60, 700) / 1000,
                chance.choice([1, 1, 2, 2, 3, 4, 6]),
                grain=chance.choice(["along", "free", "free"]),
            )
            for i in range(chance.randint(4, 14))
        ]
        yield panels, kinds(chance)[: chance.choice([1, 3, 3])]


def laid(listed: Listed, budget: int) -> Nest:
    """A nest, replayed; one that is wrong is an error."""
    panels, sheets = listed
    made = nest(panels, sheets, SAW, budget=budget, seed=1)
    wrong = check_nest(made, panels, sheets, SAW, cut_order(made, SAW))
    if wrong:
        raise AssertionError(wrong[:3])
    return made


def limited_again(listed: Listed, budget: int) -> bool:
    """Whether a list limited to the very sheets that it used is laid out again."""
    panels, sheets = listed
    made = laid(listed, budget)
    used = Counter(s.kind.key for s in made.sheets)
    few = [replace(k, limit=used[k.key]) for k in sheets]
    again = nest(panels, few, SAW, budget=budget, seed=1)
    return not check_nest(again, panels, few, SAW, cut_order(again, SAW))


def _gap(listed: Listed) -> tuple[float, float, bool, float]:
    start = time.perf_counter()
    made = laid(listed, DEFAULT)
    return made.cost, made.bound_cost, made.proven, time.perf_counter() - start


def _grown(listed: Listed) -> float:
    costs = [laid(listed, budget).cost for budget in (30, 300, 3_000)]
    return max(b / a for a, b in zip(costs, costs[1:], strict=False))


def _again(listed: Listed) -> bool:
    return limited_again(listed, 400)


def rows(full: bool, cal_seconds: float) -> list[dict[str, Any]]:
    """A sample, or all."""
    with ProcessPoolExecutor(2) as pool:
        gaps = list(pool.map(_gap, lists(40 if full else 8, 2014)))
        grown = list(pool.map(_grown, mixed(200 if full else 20, 77)))
        again = list(pool.map(_again, mixed(40 if full else 10, 31)))
    cost, bound = sum(g[0] for g in gaps), sum(g[1] for g in gaps)
    worst = max(g[0] / g[1] for g in gaps)
    return [
        {
            "name": "cutting.several_sizes_gap",
            "value": cost / bound,
            "unit": "",
            "reference": f"at most 1.03: cost over the proven bound, {len(gaps)} lists of three "
            f"sizes, effort {DEFAULT:,}; worst {worst:.3f}, {sum(g[2] for g in gaps)} proven, "
            f"{statistics.mean(g[3] for g in gaps):.1f} s a list",
        },
        {
            "name": "cutting.limits_found",
            "value": sum(again) / len(again),
            "unit": "",
            "reference": f"1.0: {len(again)} lists limited to the sheets they had just used",
        },
        {
            "name": "cutting.monotone",
            "value": max(grown),
            "unit": "",
            "reference": f"at most 1: worst cost ratio as effort grows tenfold, {len(grown)} lists",
        },
    ]
