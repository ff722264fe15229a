"""Half a build: what is cut stays, the rest is nested from what is left."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.say import text

from kerfwind.cutting import (
    CutTooEarlyError,
    Panel,
    Saw,
    SheetKind,
    check_nest,
    cut_order,
    freeze,
    nest,
    nest_rest,
    short_panel,
)
from kerfwind.words import Voice

SAW = Saw(kerf_m=0.003)
SHEETS = [SheetKind("full", 2.44, 1.22, price=60.0)]
PANELS = [
    Panel("side", 0.8, 0.5, 4, grain="along"),
    Panel("shelf", 0.6, 0.45, 5),
    Panel("back", 1.2, 0.7, 2, grain="along"),
]


@given(share=st.floats(0, 1))
@settings(max_examples=15, deadline=None)
def test_any_moment(share: float) -> None:
    whole = nest(PANELS, SHEETS, SAW, budget=0)
    steps = cut_order(whole, SAW)
    total = sum(len(s.cuts) for s in steps)
    done = set(range(1, round(total * share) + 1))
    frozen = freeze(whole, steps, SAW, done)
    rest = nest_rest(PANELS, SHEETS, SAW, frozen, budget=0)
    assert rest.sheets_bought == 0
    stock = [*frozen.lying, *frozen.whole, *SHEETS]
    wrong = check_nest(rest, PANELS, stock, SAW, cut_order(rest, SAW), frozen.copies)
    assert wrong == []
    names = [p.pencil for p in frozen.made] + [p.pencil for s in rest.sheets for p in s.pieces]
    assert len(set(names)) == len(names) == 11


def test_a_cut_ticked_too_early() -> None:
    whole = nest(PANELS, SHEETS, SAW, budget=0)
    steps = cut_order(whole, SAW)
    last = max(c.number for s in steps for c in s.cuts)
    with pytest.raises(CutTooEarlyError) as raised:
        freeze(whole, steps, SAW, {last})
    assert raised.value.cut == last


def test_a_short_panel_is_answered() -> None:
    whole = nest(PANELS, SHEETS, SAW, budget=0)
    steps = cut_order(whole, SAW)
    every = {c.number for s in steps for c in s.cuts}
    frozen = freeze(whole, steps, SAW, every)
    piece = next(p for p in frozen.made if p.panel == "side")
    fine = short_panel(piece, 0.7999, 0.5, PANELS, SHEETS, SAW, frozen)
    assert [a.kind for a in fine] == ["use"]
    little = short_panel(piece, 0.8, 0.497, PANELS, SHEETS, SAW, frozen)
    assert [a.kind for a in little] == ["shim", "recut", "follow"]
    assert "short by 3 mm in width: glue on a strip" in Voice(units="mm").text(little[0].said)
    assert "short by 1/8 in in width" in Voice(units="in").text(little[0].said)
    assert text(little[1].said).endswith("again: it takes 1 more sheet.")
    much = short_panel(piece, 0.7, 0.5, PANELS, SHEETS, SAW, frozen)
    assert [a.kind for a in much] == ["recut", "follow"]
    again = much[0].nest
    assert again is not None
    assert [p.pencil for s in again.sheets for p in s.pieces] == [piece.pencil]
    with pytest.raises(ValueError, match="more than zero"):
        short_panel(piece, 0.0, 0.5, PANELS, SHEETS, SAW, frozen)
