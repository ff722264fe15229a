"""Tools held in the hand hang on a light hose, and what that costs in air is said."""

import pytest

from kerfwind import air
from kerfwind.hookup import choose
from kerfwind.quantity import Draw
from kerfwind.search.hand_hose import hand_hoses
from kerfwind.shop import parse_shop
from tests.say import answer, to_do

SHOP = """
[vacuum]
amps = "11 A"
inlet = {{ inside = "57.4 mm", outside = "63.5 mm" }}
suction = {{ sealed = "75 inH2O", open_airflow = "148 cfm" }}
[separator]
in_use = false
[weights]
{weights}
[[hoses]]
name = "wide hose"
bore = "58 mm"
length = "2.4 m"
tool_end = {{ inside = "57.0 mm", outside = "62.6 mm" }}
unit_end = {{ inside = "52 mm", outside = "57.2 mm" }}
[[hoses]]
name = "thin hose"
bore = "35 mm"
length = "3.6 m"
tool_end = {{ inside = "34.8 mm", outside = "40.0 mm", material = "rubber" }}
unit_end = {{ inside = "52 mm", outside = "57.2 mm" }}
[[tools]]
name = "sander"
hood = "pad holes"
port = {{ inside = "30.0 mm", outside = "35.0 mm" }}
{chosen}
[[tools]]
name = "table saw"
hood = "saw cabinet"
port = {{ inside = "62.8 mm", outside = "67 mm" }}
[[fittings]]
name = "stepped cone"
end_a = {{ inside = "35.2 mm", outside = "39 mm" }}
end_b = {{ inside = "62.8 mm", outside = "67 mm" }}
length = "120 mm"
"""


def made(weights="", chosen=""):
    return parse_shop(SHOP.format(weights=weights, chosen=chosen)).shop


def hoses_of(shop):
    return {c.tool: c.hose for c in choose(shop, Draw(64), runner_up=False).tools}


def test_a_sander_hangs_on_the_owned_thin_hose_and_a_saw_on_the_wide_one():
    """Common practice: nobody sands for an hour with a wide hose and a cone on the hand."""
    assert hoses_of(made()) == {"sander": "thin hose", "table saw": "wide hose"}


def test_whom_air_matters_more_says_so():
    assert hoses_of(made("hanging = 0.0"))["sander"] == "wide hose"
    assert hoses_of(made(chosen='hose = "wide hose"'))["sander"] == "wide hose"


def test_the_trade_is_stated_with_both_airflows():
    shop, draw = made(), Draw(64)
    named = {h.name: h for h in shop.hoses}
    sander = shop.tools[0]
    thin = air.Connection(shop, sander, named["thin hose"])
    [found] = hand_hoses(shop, [thin], draw)
    assert found.outcome == "light"
    assert "thin hose" in answer(found)
    assert "wide hose" in to_do(found)
    [fix] = found.fixes
    assert (fix.place, fix.to) == ("tools[sander].hose", "wide hose")
    had = air.tool_air(thin, draw).airflow_m3_s
    more = air.tool_air(air.Connection(shop, sander, named["wide hose"]), draw).airflow_m3_s
    assert more.mean() > had.mean()
    assert fix.value.best == pytest.approx(float(sorted(more)[32]), rel=0.05)
    [heavy] = hand_hoses(shop, [air.Connection(shop, sander, named["wide hose"])], draw)
    assert heavy.outcome == "heavy"
    assert not heavy.fixes


def test_a_hose_that_was_chosen_is_not_argued_with():
    shop = made(chosen='hose = "thin hose"')
    connection = air.Connection(shop, shop.tools[0], shop.hoses[1])
    assert hand_hoses(shop, [connection], Draw(32)) == []
