"""Nests are right: replayed cut by cut and compared with the panel list."""

from __future__ import annotations

import pytest
from bench.cutting_shop import FULL, SAW, thousand
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.say import refused

from kerfwind.cutting import (
    CuttingError,
    Panel,
    Progress,
    Saw,
    SheetKind,
    check_nest,
    cut_order,
    least_cost,
    nest,
)
from kerfwind.words import Voice

SHEET = SheetKind("full", 2.44, 1.22, price=60.0)

sizes = st.integers(40, 1200).map(lambda mm: mm / 1000)
grains = st.sampled_from(["along", "across", "free"])


@st.composite
def lists(draw: st.DrawFn) -> list[Panel]:
    count = draw(st.integers(1, 8))
    return [
        Panel(f"p{i}", draw(sizes), draw(sizes), draw(st.integers(1, 4)), grain=draw(grains))
        for i in range(count)
    ]


@given(
    panels=lists(),
    kerf=st.sampled_from([0.0, 0.0022, 0.0032]),
    trim=st.sampled_from([0.0, 0.01]),
    kind=st.sampled_from(["table", "track"]),
)
@settings(max_examples=60, deadline=None)
def test_every_nest_replays(panels: list[Panel], kerf: float, trim: float, kind: str) -> None:
    saw = Saw(kerf_m=kerf, trim_m=trim, kind=kind)  # type: ignore[arg-type]
    try:
        made = nest(panels, [SHEET], saw, budget=0)
    except CuttingError:
        usable = (SHEET.length_m - 2 * trim, SHEET.width_m - 2 * trim)
        assert any(
            (p.width_m if p.grain == "along" else p.length_m) > usable[1] - 1e-9 for p in panels
        )
        return
    assert check_nest(made, panels, [SHEET], saw, cut_order(made, saw)) == []
    assert made.sheets_bought >= made.bound_sheets


def test_panel_equal_to_the_sheet() -> None:
    panels = [Panel("whole", 2.44, 1.22, 3)]
    saw = Saw()
    made = nest(panels, [SHEET], saw)
    assert made.sheets_bought == 3
    assert made.proven
    assert cut_order(made, saw) == []


def test_one_kerf_too_large() -> None:
    half = (2.44 - 0.003) / 2
    fits = nest([Panel("half", half, 1.22, 2)], [SHEET], Saw(kerf_m=0.003))
    assert fits.sheets_bought == 1
    over = nest([Panel("half", half + 0.0001, 1.22, 2)], [SHEET], Saw(kerf_m=0.003))
    assert over.sheets_bought == 2
    assert over.proven


@pytest.mark.parametrize(
    ("length", "width"), [(0.0, 0.5), (-1.0, 0.5), (float("nan"), 0.5), (2.5, 0.5)]
)
def test_impossible_sizes_are_refused(length: float, width: float) -> None:
    with pytest.raises(CuttingError) as raised:
        nest([Panel("bad", length, width)], [SHEET], Saw())
    [why] = raised.value.problems
    assert why.kind in ("cutting.panel.size", "cutting.panel.too_large")
    assert why.place == "bad"
    for units in ("in", "mm", "both"):
        said = Voice(units=units).refusal(why)  # type: ignore[arg-type]
        assert said.found
        assert said.allowed
        assert said.mend


def test_a_million_parts_are_refused() -> None:
    with pytest.raises(CuttingError) as raised:
        nest([Panel("p", 0.1, 0.1, 1_000_000)], [SHEET], Saw())
    assert refused(raised.value.problems[0]).found == "1,000,000 panels"


def test_a_search_ends_when_less_than_a_millisecond_of_its_effort_is_left() -> None:
    """The last fraction of the effort is not waited for: what is told goes on or ends."""
    told: list[int] = []

    def watch(now: Progress) -> bool:
        told.append(now.evaluations)
        assert told[-1_000:].count(now.evaluations) < 1_000, "the same effort, over and over"
        return True

    made = nest(thousand(), [FULL], SAW, budget=1_100, watch=watch)
    assert made.evaluations >= 1_100


@given(panels=lists(), kerf=st.sampled_from([0.0, 0.0032]), carried=st.booleans())
@settings(max_examples=40, deadline=None)
def test_no_nest_costs_less_than_was_told_before(
    panels: list[Panel], kerf: float, carried: bool
) -> None:
    saw = Saw(kerf_m=kerf, carry_m=(1.6, 1.25) if carried else None)
    half = SheetKind("half", 1.22, 1.22, price=34.0)
    try:
        made = nest(panels, [SHEET, half], saw, budget=0)
    except CuttingError:
        return
    assert least_cost(panels, [SHEET, half], saw) <= made.cost + 1e-9
