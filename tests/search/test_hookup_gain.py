"""The next purchase by the airflow it gains."""

from __future__ import annotations

import pytest

from kerfwind.air import Connection, Link, Piece, tool_air
from kerfwind.facts import Ref
from kerfwind.hookup import choose
from kerfwind.quantity import Draw
from kerfwind.search.hookup_gain import next_fittings
from kerfwind.shop import Shop
from kerfwind.shop.catalogue.fittings import Offer
from tests.hookup.shops import base, end, fitting, hose, with_parts


def _shop() -> tuple[Shop, Offer, Offer]:
    """A wide port held to a wide hose by an owned fitting with a narrow bore."""
    tool_hose = hose("big hose", end(57.0, 62.6, length=50))
    a, b = end(63.8, 70, goes="over"), end(50.5, 56.6, goes="in")
    only_sections = fitting("narrow", a, b)
    only_sections = only_sections.model_copy(update={"bore": end(30, 35).inside})
    wide = fitting("wide", a, b)
    stranger = fitting("stranger", end(20, 25), end(80, 86))
    shop = with_parts({"saw": end(58, 63.5)}, (base().hoses[2], tool_hose), (only_sections,))
    return shop, Offer(wide, 40.0, 30.0, 50.0), Offer(stranger, 1.0, 1.0, 1.0)


def test_a_wider_fitting_gains_what_the_air_room_says() -> None:
    shop, wide, stranger = _shop()
    draw = Draw(1)
    hookups = choose(shop, draw, on_sale=())
    [chain] = hookups.tools
    if [p.fitting.name for p in chain.pieces] != ["narrow"]:
        pytest.fail("the shop no longer makes its point: the narrow fitting is not in use")
    [gain] = next_fittings(shop, hookups, draw, on_sale=(wide, stranger))
    assert gain.fitting == Ref("fitting", "wide")
    [tool] = gain.tools
    link = Link(base().hoses[2])
    before, after = (
        float(
            tool_air(
                Connection(shop, shop.tools[0], shop.hoses[1], (Piece(f),), link), draw
            ).airflow_m3_s[0]
        )
        for f in (shop.fittings[0], wide.fitting)
    )
    assert tool.before_m3_s == pytest.approx(before, rel=1e-6)
    assert tool.after_m3_s == pytest.approx(after, rel=1e-6)
    assert after > 1.02 * before
    assert gain.airflow_m3_s == pytest.approx(after - before, rel=1e-6)


def test_nothing_is_proposed_where_nothing_gains() -> None:
    shop, _, stranger = _shop()
    draw = Draw(1)
    hookups = choose(shop, draw, on_sale=())
    assert next_fittings(shop, hookups, draw, on_sale=(stranger,)) == ()
