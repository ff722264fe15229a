"""A unit is held against the room it is to stand in, where the room's height was measured."""

import pytest

from kerfwind.finding import Finding
from tests.say import answer

from ..cart.shops import cart_of, shop

WIDE = 'largest_width = "40 in"'


def said(form: str, ceiling_m: float) -> dict[str, Finding]:
    """What is found of a cart in a room of that height."""
    room = f'[room]\nheight = "{1000 * ceiling_m:.0f} mm"\n'
    return {f.key: f for f in cart_of(shop(wishes=WIDE, more=room), form=form).findings}


@pytest.mark.parametrize("form", ["tower", "backframe", "low"])
def test_a_unit_higher_than_its_room_is_a_stop_and_its_bucket_does_not_come_out(form: str) -> None:
    found = said(form, cart_of(shop(wishes=WIDE), form=form).sizes.height_m - 0.02)
    assert (found["cart.room"].level, found["cart.room"].outcome) == ("stop", "low")
    assert "cannot stand in this room" in answer(found["cart.room"])
    assert found["cart.bucket.out"].outcome == "low_ceiling"
    assert found["cart.bucket.out"].level != "good"


def test_a_link_hose_that_meets_the_ceiling_is_a_problem() -> None:
    sizes = cart_of(shop(wishes=WIDE), form="tower").sizes
    assert sizes.hose_top_m > sizes.height_m + 0.01
    found = said("tower", (sizes.hose_top_m + sizes.height_m) / 2)["cart.room"]
    assert (found.level, found.outcome) == ("problem", "hose")
    assert "cannot work in this room" in answer(found)


def test_a_room_that_holds_it_is_good_and_one_that_nobody_measured_says_nothing() -> None:
    assert said("tower", 2.4)["cart.room"].level == "good"
    assert "cart.room" not in {f.key for f in cart_of(shop(wishes=WIDE), form="tower").findings}


def test_the_vacuum_counts_where_it_is_the_highest_part() -> None:
    tall = shop(vacuum='height = "38 in"', wishes=WIDE, more='[room]\nheight = "42 in"\n')
    found = {f.key: f for f in cart_of(tall, form="low").findings}
    assert found["cart.room"].outcome == "low"
