"""Several sizes of sheet with prices and limits, against an exhaustive search of small lists."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace
from functools import cache

import pytest
from bench.cutting_sizes import kinds, limited_again, mixed
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.say import refused, text

from kerfwind.cutting import (
    CuttingError,
    Panel,
    Saw,
    SheetKind,
    SheetsRunOutError,
    check_nest,
    cut_order,
    nest,
)

NO_KERF = Saw(kerf_m=0.0)
Parts = tuple[tuple[int, int], ...]


@cache
def holds(w: int, h: int, parts: Parts) -> bool:
    """Whether cuts from edge to edge take all these parts from one rectangle: every cut is tried."""
    if not parts:
        return True
    if sum(a * b for a, b in parts) > w * h:
        return False
    if len(parts) == 1:
        (a, b) = parts[0]
        return (a <= w and b <= h) or (b <= w and a <= h)
    for mask in range(2 ** (len(parts) - 1)):
        one = tuple(p for i, p in enumerate(parts) if mask >> i & 1)
        two = tuple(p for i, p in enumerate(parts) if not mask >> i & 1)
        if not one:
            continue
        if any(holds(x, h, one) and holds(w - x, h, two) for x in range(1, w)):
            return True
        if any(holds(w, y, one) and holds(w, h - y, two) for y in range(1, h)):
            return True
    return False


def least(parts: Parts, sheets: list[tuple[int, int, float]]) -> float:
    """The least money by trying every way to part the parts among sheets."""
    n = len(parts)
    best = [0.0] + [float("inf")] * (2**n - 1)
    for mask in range(1, 2**n):
        low = mask & -mask
        some = mask
        while some:
            if some & low:
                chosen = tuple(p for i, p in enumerate(parts) if some >> i & 1)
                for w, h, price in sheets:
                    if price + best[mask ^ some] < best[mask] and holds(w, h, chosen):
                        best[mask] = price + best[mask ^ some]
            some = (some - 1) & mask
    return best[-1]


@given(
    parts=st.lists(st.tuples(st.integers(1, 5), st.integers(1, 4)), min_size=1, max_size=5),
    prices=st.tuples(st.integers(4, 9), st.integers(2, 7)),
)
@settings(max_examples=25, deadline=None)
def test_no_bound_is_above_and_no_nest_below_what_trying_everything_finds(
    parts: list[tuple[int, int]], prices: tuple[int, int]
) -> None:
    sheets = [(6, 4, float(prices[0])), (4, 4, float(prices[1]))]
    parts = [(a, b) for a, b in parts if any(holds(w, h, ((a, b),)) for w, h, _ in sheets)]
    if not parts:
        return
    true = least(tuple(sorted(parts)), sheets)
    panels = [Panel(f"p{i}", a / 10, b / 10) for i, (a, b) in enumerate(parts)]
    kinds_ = [SheetKind(f"s{w}", w / 10, h / 10, price=p) for w, h, p in sheets]
    made = nest(panels, kinds_, NO_KERF, budget=250)
    assert made.bound_cost <= true + 1e-9
    assert true <= made.cost + 1e-9
    if made.proven:
        assert made.cost == pytest.approx(true)


@pytest.mark.parametrize("listed", list(mixed(4, 77)), ids=str)
def test_more_effort_never_costs_more(listed: tuple[list[Panel], list[SheetKind]]) -> None:
    saw = Saw(kerf_m=0.0032, trim_m=0.006)
    costs = [nest(*listed, saw, budget=budget, seed=1).cost for budget in (0, 40, 160, 500)]
    assert costs == sorted(costs, reverse=True)


@pytest.mark.parametrize("listed", list(mixed(4, 31)), ids=str)
def test_a_list_limited_to_the_sheets_it_used_is_laid_out_again(
    listed: tuple[list[Panel], list[SheetKind]],
) -> None:
    assert limited_again(listed, 200)


def test_sheets_that_cannot_hold_all_are_refused_with_the_reason() -> None:
    few = SheetKind("one", 2.44, 1.22, limit=1)
    with pytest.raises(CuttingError) as raised:
        nest([Panel("wide", 1.3, 0.7, 3)], [few], NO_KERF)
    assert not isinstance(raised.value, SheetsRunOutError)
    [why] = raised.value.problems
    assert why.kind == "cutting.stock.too_few_sheets"
    assert dict(why.facts)["least"] == 3


def test_what_is_not_found_is_told_with_the_best_there_is() -> None:
    # Four of these fill a square as a pinwheel, which no cut from edge to edge takes apart.
    square = SheetKind("square", 0.5, 0.5, limit=1)
    with pytest.raises(SheetsRunOutError) as raised:
        nest([Panel("vane", 0.3, 0.2, 4)], [square], NO_KERF, budget=150)
    partial = raised.value.partial
    assert raised.value.left == (("vane", 4 - sum(len(s.pieces) for s in partial.sheets)),)
    assert partial.sheets
    assert not partial.proven
    [why] = raised.value.problems
    assert refused(why).found.startswith("no place within this effort for ")


def test_money_is_what_is_proven_where_sizes_differ_in_price() -> None:
    full = SheetKind("full", 2.44, 1.22, price=60.0)
    half = SheetKind("half", 1.22, 1.22, price=29.0)
    made = nest([Panel("a", 1.2, 1.2, 2)], [full, half], NO_KERF)
    assert [s.kind.key for s in made.sheets] == ["half", "half"]
    assert text(made.nearness) == "2 sheets, priced 58 together: cheapest possible, proven."


def test_an_offcut_that_serves_comes_first() -> None:
    sheets = kinds(random.Random(4))
    offcut = SheetKind("left over", 1.0, 0.6, price=0.0, limit=2, offcut=True, trim=False)
    panels = [Panel("side", 0.95, 0.55, 5), Panel("shelf", 0.4, 0.3, 6)]
    saw = Saw(kerf_m=0.003)
    made = nest(panels, [*sheets, offcut], saw, budget=150)
    used = Counter(s.kind.key for s in made.sheets)
    assert used["left over"] == 2
    without = nest(panels, sheets, saw, budget=150)
    assert made.cost <= without.cost
    kinds_ = [*sheets, replace(offcut)]
    assert check_nest(made, panels, kinds_, saw, cut_order(made, saw)) == []
