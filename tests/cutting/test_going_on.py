"""A half-done build told in words: what stays, what is still to cut, and what is wrong."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.say import refused, text

from kerfwind.cutting import CutList, Panel, Saw, SheetKind, check_nest, cut_order, nest
from kerfwind.cutting.going_on import Rest, go_on
from kerfwind.faults import Faults, Refusal

LISTED = CutList(
    (
        Panel("side", 0.8, 0.5, 4, grain="along"),
        Panel("shelf", 0.6, 0.45, 5),
        Panel("back", 1.2, 0.7, 2, grain="along"),
    ),
    (SheetKind("full", 2.44, 1.22, price=60.0),),
    Saw(kerf_m=0.003),
)
NAMES = {"A1", "A2", "A3", "A4", "B1", "B2", "B3", "B4", "B5", "C1", "C2"}


def rest(*rounds: str, short: tuple[str, ...] = ()) -> Rest:
    return go_on(LISTED, "list.csv", rounds, short, budget=0, seed=1)


def area(found: Rest) -> float:
    lying = sum(k.length_m * k.width_m for k in found.stays.lying)
    whole = sum(k.length_m * k.width_m * (k.limit or 0) for k in found.stays.whole)
    return lying + whole + sum(p.length_m * p.width_m for p in found.stays.made)


def names(found: Rest) -> list[str]:
    left = [p.pencil for s in found.nest.sheets for p in s.pieces] if found.nest else []
    return sorted([*(p.pencil for p in found.stays.made), *left])


@given(shares=st.lists(st.floats(0, 1), min_size=1, max_size=3))
@settings(max_examples=25, deadline=None)
def test_rounds_lose_no_panel_and_no_wood(shares: list[float]) -> None:
    rounds: list[str] = []
    found = rest()
    # The first round counts in the list's own nest, each later one in the nest before it.
    own = nest(list(LISTED.panels), list(LISTED.sheets), LISTED.saw, budget=0, seed=1)
    steps = tuple(cut_order(own, LISTED.saw))
    bought = 2 * 2.44 * 1.22
    for share in shares:
        if found.nest is None:
            break
        total = sum(len(s.cuts) for s in steps)
        count = round(total * share)
        rounds.append(f"1-{count}" if count else "")
        found = rest(*rounds)
        steps = found.steps
        assert names(found) == sorted(NAMES)
        # Sawdust is all that goes, a kerf's width of each cut.
        assert bought - 0.003 * 2.44 * found.done - 1e-9 <= area(found) <= bought + 1e-9
        keys = [k.key for k in (*found.stays.lying, *found.stays.whole)]
        assert len(set(keys)) == len(keys)
        if found.nest is not None:
            stock = [*found.stays.lying, *found.stays.whole, *LISTED.sheets]
            ordered = cut_order(found.nest, LISTED.saw)
            wrong = check_nest(
                found.nest, LISTED.panels, stock, LISTED.saw, ordered, found.stays.copies
            )
            assert wrong == []
            assert found.nest.sheets_bought == 0


def test_whole_sheets_by_their_number() -> None:
    own = nest(list(LISTED.panels), list(LISTED.sheets), LISTED.saw, budget=0, seed=1)
    found = rest("sheet 2")
    assert {p.pencil for p in found.stays.made} == {p.pencil for p in own.sheets[1].pieces}
    done = rest("sheets 1-2")
    assert done.nest is None
    assert {p.pencil for p in done.stays.made} == NAMES


def test_a_short_panel_is_cut_again_and_serves_as_an_offcut() -> None:
    found = rest("sheets 1-2", short=("a1 = 700 mm x 500 mm",))
    assert [kind.kind for _, answers in found.answers for kind in answers] == ["recut", "follow"]
    assert "A1" not in {p.pencil for p in found.stays.made}
    assert found.nest is not None
    assert [p.pencil for s in found.nest.sheets for p in s.pieces] == ["A1"]
    assert "A1, cut short" in [text(k.name) for k in found.stays.lying]


def test_a_panel_that_a_shim_mends_stays() -> None:
    found = rest("sheets 1-2", short=("A1 = 800 mm by 497 mm",))
    assert found.answers[0][1][0].kind == "shim"
    assert found.nest is None


@pytest.mark.parametrize(
    ("rounds", "short", "option", "says"),
    [
        (("0",), (), "--done", "`0`"),
        (("1-99",), (), "--done", "`1-99`"),
        (("3-1",), (), "--done", "`3-1`"),
        (("sheet 3",), (), "--done", "`sheet 3`"),
        (("most",), (), "--done", "`most`"),
        (("13",), (), "--done", "`13`"),
        ((), ("A1 = 1 m x 1 m",), "--short", "A1"),
        (("sheets 1-2",), ("Z9 = 1 m x 1 m",), "--short", "Z9"),
        (("sheets 1-2",), ("A1",), "--short", "A1"),
        (("sheets 1-2",), ("A1 = 700 x 500 mm",), "--short", "700"),
        (("sheets 1-2",), ("A1 = 0 mm x 500 mm",), "--short", "0 mm"),
    ],
)
def test_what_cannot_be_is_answered(
    rounds: tuple[str, ...], short: tuple[str, ...], option: str, says: str
) -> None:
    with pytest.raises(Faults) as wrong:
        rest(*rounds, short=short)
    (fault,) = wrong.value.faults
    assert isinstance(fault, Refusal)
    assert (fault.file, fault.place) == ("list.csv", option)
    said = refused(fault)
    assert says in said.found
    assert said.allowed
    assert said.mend
