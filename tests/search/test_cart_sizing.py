"""The sizing search against an exhaustive coarse grid, every candidate nested."""

from itertools import permutations
from math import pi
from pathlib import Path

import pytest

from kerfwind.cart import CannotBuild, with_entries
from kerfwind.checks import build, check_cart
from kerfwind.checks.steadiness import FAILED, STEADINESS_KEYS
from kerfwind.checks.strength import shelf_findings
from kerfwind.cutting import CuttingError, nest
from kerfwind.options import FORMS
from kerfwind.quantity import Draw
from kerfwind.search.cart_sizing import Score, bound, size_cart, sizes_of, ways_of
from kerfwind.search.sheet_choice import (
    kinds_of,
    laid_panels,
    saw_of,
    second_group,
    second_groups,
    sheet_groups,
)
from kerfwind.shop import Shop, read_shop

from ..cart.shops import shop

EXAMPLES = Path(__file__).parents[2] / "examples"
WIDE = 'largest_width = "48 in"\nlargest_length = "40 in"\nnarrowest_door = "36 in"\n'


@pytest.fixture(scope="module")
def wide() -> Shop:
    # A straight bucket leaves two ways to hold it, and a smaller grid.
    return shop(wishes=WIDE, bucket='shape = "straight"\nbottom_diameter = "11-5/16 in"\n')


def exhaustive(s: Shop, steps: int) -> list[Score]:
    """Every cart that stands built, nested and checked, without any bound."""
    found = []
    for wishes in ways_of(s):
        for sheets in sheet_groups(s):
            changed, sheet = with_entries(s, sheets[0], dict(wishes))
            try:
                carts = sizes_of(changed.wishes.form, changed, sheet, steps)
            except CannotBuild:
                continue
            for each in carts:
                layout = FORMS[changed.wishes.form](each.shop, sheet, Draw(1))
                cart = check_cart(each.shop, sheet, Draw(1), layout)
                panels = laid_panels(cart.panels, sheet.material)
                try:
                    kinds = kinds_of(sheets, cart.thickness_m)
                    whole = nest(panels, kinds, saw_of(s.saw), budget=600)
                except CuttingError:
                    continue
                if not each.stands or any(f.level == "stop" for f in cart.findings):
                    continue
                tilt = min(float(t.min()) for st in cart.stands for t in st.tilt_rad.values())
                floor = cart.sizes.length_m * cart.sizes.width_m
                found.append(Score(whole.cost, tilt, floor, cart.sizes.height_m))
    return found


def test_no_choice_is_beaten_by_an_exhaustive_grid(wide: Shop) -> None:
    sizing = size_cart(wide, sheet_groups(wide), wide.saw, Draw(1), steps=2)
    every = exhaustive(wide, 2)
    assert len(sizing.choices) >= 3
    best = {aim: c.score for c in sizing.choices for aim in c.aims}
    assert best["cheapest"].cost <= min(s.cost for s in every) + 1e-9
    assert best["steadiest"].degrees >= max(s.degrees for s in every)
    assert best["smallest"].footprint_m2 <= min(s.footprint_m2 for s in every) + 1e-12
    assert best["lowest"].height_m <= min(s.height_m for s in every) + 1e-9
    assert not any(s.beats(c.score) for s in every for c in sizing.choices)
    # Nested fewer than the grid did.
    assert sizing.nested < len(every)


def test_only_carts_that_stand_are_offered_where_any_do(wide: Shop) -> None:
    """Built again from its wishes, each passes its own checks."""
    sizing = size_cart(wide, sheet_groups(wide), wide.saw, Draw(1), steps=1)
    for choice in sizing.choices:
        assert set(choice.failed) <= {"handle"}
        again = build(*with_entries(wide, wide.sheets[0], choice.wishes), Draw(300))
        falls = [f.key for f in again.findings if f.key in STEADINESS_KEYS and f.level in FAILED]
        assert falls == []


def test_where_none_stands_each_says_what_it_does_not_pass() -> None:
    s = shop(
        wishes='ballast = "0 kg"\noutriggers = "0 in"\nlargest_width = "21 in"\n'
        'largest_length = "21 in"\n'
    )
    sizing = size_cart(s, sheet_groups(s), s.saw, Draw(1), steps=1)
    assert sizing.choices
    assert all("stumble" in c.failed for c in sizing.choices)


def test_choices_are_distinct_and_rebuild_from_their_wishes(wide: Shop) -> None:
    sizing = size_cart(wide, sheet_groups(wide), wide.saw, Draw(1), steps=2)
    assert len({tuple(c.wishes.items()) for c in sizing.choices}) == len(sizing.choices)
    for choice in sizing.choices:
        again = build(*with_entries(wide, wide.sheets[0], choice.wishes), Draw(1))
        assert again.sizes == choice.cart.sizes
        assert choice.cart.form in FORMS


def test_no_choice_looks_beaten_by_another_as_it_is_told() -> None:
    s = read_shop(EXAMPLES / "labels.toml").shop
    sizing = size_cart(s, sheet_groups(s), s.saw, Draw(1), seconds=second_groups(s))
    compared = [
        (
            c.score.cost,
            -round(c.score.steadiness_rad * 180 / pi),
            c.score.footprint_m2,
            c.score.height_m,
        )
        for c in sizing.choices
    ]
    for a, b in permutations(compared, 2):
        assert any(x < y for x, y in zip(a, b, strict=True)), (a, b)


def test_bound_never_exceeds_the_cost(wide: Shop) -> None:
    for choice in size_cart(wide, sheet_groups(wide), wide.saw, Draw(1), steps=1).choices:
        changed, sheet = with_entries(wide, wide.sheets[0], choice.wishes)
        layout = FORMS[choice.cart.form](changed, sheet, Draw(1))
        assert bound(changed, layout, [sheet]).cost <= choice.score.cost + 1e-9


def test_it_stops_when_told(wide: Shop) -> None:
    sizing = size_cart(wide, sheet_groups(wide), wide.saw, Draw(1), go_on=lambda done, _: done < 1)
    assert sizing.stopped
    assert {c.cart.form for c in sizing.choices} <= {"tower"}


def test_wishes_that_nothing_meets_give_no_choice() -> None:
    s = shop(wishes='greatest_height = "20 in"\n')
    sizing = size_cart(s, sheet_groups(s), s.saw, Draw(1), steps=1)
    assert sizing.choices == ()
    assert {u.place for u in sizing.unmet} == {"wishes.greatest_height"}


@pytest.mark.parametrize(("asked", "low"), [("", True), ('largest_width = "30 in"\n', False)])
def test_a_width_that_nobody_wished_for_keeps_no_form_out(asked: str, low: bool) -> None:
    s = shop(wishes=asked + 'narrowest_door = "30 in"\n')
    sizing = size_cart(s, sheet_groups(s), s.saw, Draw(1), steps=1)
    wide = [c for c in sizing.choices if c.cart.form == "low"]
    assert bool(wide) == low
    for choice in wide:
        assert "wishes.largest_width" in choice.wishes
        again = build(*with_entries(s, s.sheets[0], choice.wishes), Draw(1))
        assert again.sizes == choice.cart.sizes


TWO = (
    'name = "main"\nthickness = "18 mm"\nlength = "1220 mm"\nwidth = "610 mm"\nprice = 30\n'
    '[[sheets]]\nname = "thin"\nthickness = "12 mm"\nlength = "1220 mm"\nwidth = "610 mm"\n'
    "price = 12\n"
)


def test_a_thinner_sheet_is_tried_where_it_is_cheaper() -> None:
    s = shop(wishes=WIDE + 'sheet = "main"\n', sheet=TWO, units="mm")
    groups = sheet_groups(s)
    plain = size_cart(s, groups, s.saw, Draw(1), steps=1)
    both = size_cart(s, groups, s.saw, Draw(1), steps=1, seconds=second_groups(s))
    cheapest = [next(c for c in z.choices if "cheapest" in c.aims) for z in (plain, both)]
    assert cheapest[1].score.cost < cheapest[0].score.cost
    assert cheapest[1].wishes["wishes.second_sheet"] == "thin"
    for choice in both.choices:
        again = build(*with_entries(s, s.sheets[0], choice.wishes), Draw(1))
        assert again.sizes == choice.cart.sizes
        assert [p.thickness_m for p in again.panels] == [p.thickness_m for p in choice.cart.panels]
        # A thin shelf is shown only where it holds.
        if "shelf" in choice.wishes.get("wishes.second_panels", "") and again.shelf is not None:
            levels = {f.level for f in shelf_findings(s, again, Draw(1))}
            assert not levels & {"stop", "problem"}


def test_a_second_sheet_that_is_wished_for_is_kept() -> None:
    s = shop(wishes=WIDE + 'second_sheet = "thin"\n', sheet=TWO, units="mm")
    found = size_cart(s, sheet_groups(s), s.saw, Draw(1), steps=1, seconds=second_groups(s))
    assert found.choices
    for choice in found.choices:
        thick = {round(p.thickness_m, 4) for p in choice.cart.panels}
        assert thick == {0.018, 0.012}
        assert {p.kind.key for p in choice.nest.sheets} == {"main", "thin"}


def test_bound_of_two_sheets_never_exceeds_the_cost() -> None:
    s = shop(wishes=WIDE + 'second_sheet = "thin"\n', sheet=TWO, units="mm")
    for choice in size_cart(
        s, sheet_groups(s), s.saw, Draw(1), steps=1, seconds=second_groups(s)
    ).choices:
        changed, sheet = with_entries(s, s.sheets[0], choice.wishes)
        layout = FORMS[choice.cart.form](changed, sheet, Draw(1))
        assert bound(changed, layout, [sheet], second_group(s)).cost <= choice.score.cost + 1e-9
