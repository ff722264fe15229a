"""A panel that was cut already: one of several stays one of several."""

import pytest

from kerfwind.one_cart import cart_view
from kerfwind.plan import make_plan
from kerfwind.quantity import Draw
from kerfwind.search.cart_sizing import size_cart
from kerfwind.search.cut_already import by_panel
from kerfwind.search.sheet_choice import sheet_groups
from kerfwind.shop import parse_shop
from tests.say import answer, to_do
from tests.shops import shop_path

TEXT = shop_path("one_car").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def planned():
    return make_plan(parse_shop(TEXT), samples=64)


def _with(name, **sides):
    rows = "".join(f'{k} = "{1000 * v:.2f} mm"\n' for k, v in sides.items())
    return make_plan(parse_shop(f'{TEXT}\n[[built]]\nname = "{name}"\n{rows}'), samples=64)


def _pencils(plan):
    return {p.pencil for s in plan.nest.sheets for p in s.pieces}


@pytest.mark.parametrize("name", ["A1", "a 1", "left side"])
def test_one_of_two_is_not_cut_again_and_its_mate_stays_as_planned(planned, name):
    side = planned.cart.panel("A")
    assert (side.name, side.quantity) == ("side", 2)
    plan = _with(name, length=side.length_m - 0.004)
    assert _pencils(plan) == _pencils(planned) - {"A1"}
    assert plan.cart.panel("A").length_m == side.length_m
    [said] = [f for f in plan.findings if f.key == "cart.one_panel"]
    assert said.outcome == "short"
    assert "5/32 in" in answer(said)
    for way in ("Trim its mate", "shim", "cut it again"):
        assert way in to_do(said), way


def test_what_is_said_of_its_mate_comes_true(planned):
    side = planned.cart.panel("A")
    one = _with("A1", length=side.length_m - 0.004)
    [way] = one.build.cut_already
    both = _with("side", length=side.length_m - 0.004)
    assert way.mate == (both.build is not None)
    assert both.cart.panel("A").length_m == pytest.approx(side.length_m - 0.004, abs=1e-5)
    # Both are cut: neither is on the sheets, and they are not bought.
    assert _pencils(both) == _pencils(planned) - {"A1", "A2"}
    assert both.nest.cost <= planned.nest.cost
    fails = [sum(f.level in ("stop", "problem") for f in p.cart.findings) for p in (one, both)]
    assert way.fails == max(fails[1] - fails[0], 0)
    # Cut again, it is what the first plan bought.
    assert way.again_cost == pytest.approx(planned.nest.cost - one.nest.cost)


def test_too_long_is_trimmed_and_far_too_short_is_not_shimmed(planned):
    side = planned.cart.panel("A")
    [long] = [
        f for f in _with("A2", width=side.width_m + 0.003).findings if f.key == "cart.one_panel"
    ]
    assert "Trim it to" in to_do(long)
    [short] = [
        f for f in _with("A2", width=side.width_m - 0.02).findings if f.key == "cart.one_panel"
    ]
    assert "glue a strip" not in to_do(short)


def test_a_name_that_no_panel_has_is_refused(planned):
    plan = _with("A7", length=0.5)
    assert plan.build is None
    assert any("A7" in answer(f) for f in plan.findings if f.level == "stop")


@pytest.mark.parametrize(("name", "rows"), [("A1", ()), ("left side", ()), ("A", ("side",))])
def test_a_search_over_carts_knows_panels_by_their_marks_too(planned, name, rows):
    side = planned.cart.panel("A")
    text = f'{TEXT}\n[[built]]\nname = "{name}"\nlength = "{1000 * side.length_m:.2f} mm"\n'
    shop = cart_view(parse_shop(text).shop)
    known = by_panel(shop, [group[0] for group in sheet_groups(shop)])
    assert tuple(row.name for row in known.built) == rows
    found = size_cart(shop, sheet_groups(shop), shop.saw, Draw(1), budget=3, steps=1)
    assert found.choices
    assert not [u for u in found.unmet if u.kind == "cart.refused.no_such_panel"] or rows
