"""The tower on real solids: it fits, touches, clears, and comes out of half a sheet."""

import numpy as np
import pytest

from kerfwind.cart import CannotBuild, with_fixes
from kerfwind.checks import tower
from kerfwind.cutting import Panel, Saw, SheetKind, nest
from kerfwind.quantity import Draw
from kerfwind.shop import AssumedText
from tests.say import text

from .proofs import prove
from .shops import NOMINAL, as_laid_out, cart_of, shop

IN = 0.0254
#: The cart alone, with nothing that steadies it.
PLAIN = 'ballast = "0 lb"\noutriggers = "0 in"\n'


def test_measured_nine_gallon_tower_holds_together() -> None:
    s = shop(wishes='narrowest_door = "30 in"\n')
    cart = cart_of(s, Draw(200), "tower")
    prove(cart)
    assert not [f for f in cart.findings if f.level in ("stop", "problem", "unknown")]
    assert cart.measure_first == ()


def test_half_a_sheet_is_enough() -> None:
    """Common practice, no source: nine gallons and a five-gallon bucket out of two 2 x 4 ft.

    The cart that carries them: a bottom that is deepened against tipping takes more.
    """
    for s in (
        shop(),
        shop(vacuum='width = "17..21 in"\nlength = "17..21 in"\nheight = "20..26 in"\n'),
    ):
        cart = as_laid_out(s, form="tower")
        panels = [
            Panel(p.key, p.length_m, p.width_m, p.quantity, "plywood", 0.018, p.grain)
            for p in cart.panels
        ]
        kind = SheetKind("2 x 4", 48 * IN, 24 * IN, "plywood", 0.018)
        found = nest(panels, [kind], Saw(kerf_m=IN / 8, trim_m=IN / 8))
        assert found.sheets_bought == 2


def test_screws_are_the_usual_ones() -> None:
    """Common practice, no source: 2-1/2 in where it carries, 1-1/2 in for lipping."""
    s = shop(wishes=PLAIN)
    cart = cart_of(s, form="tower")
    rows = {text(h.uses[0]): h.length_m for h in cart.hardware if h.key.startswith("screw-")}
    assert rows["what carries"] == pytest.approx(2.5 * IN)
    assert rows["lipping"] == pytest.approx(1.5 * IN)
    blocks = next(p for p in cart.panels if p.name == "caster block")
    assert (blocks.quantity, blocks.thickness_m) == (4, cart.thickness_m)


def test_sizes_are_marks_on_a_rule() -> None:
    for units, step in (("in", IN / 16), ("mm", 0.001)):
        s = shop(units=units)
        for panel in cart_of(s, form="tower").panels:
            for size in (panel.length_m, panel.width_m):
                assert size / step == pytest.approx(round(size / step), abs=1e-6)


def test_assumed_vacuum_asks_for_its_measures_before_cutting() -> None:
    s = shop(vacuum='tank = "9 US gal"\nwidth = "18 in"\n')
    whole = cart_of(s, Draw(500), "tower")
    assert "vacuum.width" not in whole.measure_first
    text = '[vacuum]\ntank = "9 US gal"\n[[tools]]\nname = "a"\nhood = "pad holes"\n'
    from kerfwind.shop import parse_shop

    s = parse_shop(text).shop
    cart = cart_of(s, Draw(500), "tower")
    assert {"vacuum.width", "vacuum.length", "vacuum.height"} <= set(cart.measure_first)
    assert {
        f.level for f in cart.findings if f.key.startswith("cart.fit") and "lid" not in f.key
    } == {"unknown"}
    # Room for the largest of its kind, since nothing is measured.
    assert cart.sizes.bay_width_m >= s.vacuum.width.high_si + 2 * s.wishes.clearance.best_si - 1e-9


def test_no_separator_makes_a_plain_shelf() -> None:
    s = shop(more="[separator]\nin_use = false\n")
    cart = cart_of(s, form="tower")
    prove(cart)
    assert cart.bucket is None
    assert cart.hose is None
    assert all(not p.openings or p.name == "side" for p in cart.panels)


@pytest.mark.parametrize(
    ("wishes", "vacuum", "wish"),
    [
        ('largest_width = "16 in"', "", "wishes.largest_width"),
        ('largest_length = "16 in"', "", "wishes.largest_length"),
        ('greatest_height = "40 in"', "", "wishes.greatest_height"),
        ('narrowest_door = "18 in"', "", "wishes.narrowest_door"),
        (
            'largest_width = "40 in"\nlargest_length = "40 in"\nnarrowest_door = "40 in"',
            'length = "26 in"\nwidth = "26 in"',
            "wishes.sheet",
        ),
    ],
)
def test_unmet_wish_is_named_and_its_remedy_builds(wishes: str, vacuum: str, wish: str) -> None:
    s = shop(vacuum=vacuum, wishes=wishes)
    with pytest.raises(CannotBuild) as raised:
        cart_of(s, form="tower")
    assert [u.place for u in raised.value.unmet] == [wish]
    prove(tower(*with_fixes(s, s.sheets[0], raised.value.fixes), NOMINAL))


def test_a_cap_takes_slack_before_it_refuses() -> None:
    """Where the best value fits under the wish, the cart is cut to the wish."""
    s = shop(vacuum='width = "17..21 in"\n', wishes='largest_width = "22 in"')
    cart = cart_of(s, Draw(500), "tower")
    assert cart.sizes.width_m <= 22 * IN + 1e-9
    width = next(f for f in cart.findings if f.key == "cart.fit.width")
    assert width.level != "good"


def test_ranges_keep_the_bay_clear_of_the_bucket() -> None:
    s = shop(
        bucket='top_diameter = "290 mm ± 2"\nbottom_diameter = "262 mm ± 2"\n',
        wishes='hold_bucket = "taper"',
    )
    cart = cart_of(s, Draw(500), "tower")
    assert cart.bucket is not None
    inside = (cart.bucket.depth_m <= cart.bucket.most_m) & (
        cart.bucket.depth_m >= cart.bucket.least_m
    )
    # ± is two standard deviations, so a few of the draw lie beyond it.
    assert np.mean(inside) > 0.98
    lowest = cart.sizes.shelf_top_m - cart.bucket.most_m
    assert lowest - cart.sizes.bottom_top_m == pytest.approx(cart.sizes.clear_height_m, abs=1e-6)


def test_a_motor_side_that_nobody_named_is_not_called_good() -> None:
    known = shop()
    text = {f.key: f.level for f in cart_of(known, form="tower").findings}
    assert text["cart.air_out"] == "good"
    guessed = known.model_copy(
        update={"vacuum": known.vacuum.model_copy(update={"air_out_on": AssumedText("rear")})}
    )
    found = {f.key: f for f in cart_of(guessed, form="tower").findings}
    assert found["cart.air_out"].level == "unknown"
    assert found["cart.air_out"].measure == ("vacuum.air_out_on",)


def test_a_vacuum_that_may_be_higher_may_not_breathe() -> None:
    """What its height may be counts against the gap over it, where a wish for height is tight."""
    s = shop(vacuum='height = "19..23 in"\n', wishes='greatest_height = "55 in"\n')
    levels = {f.key: f.level for f in cart_of(s, Draw(300), "tower").findings}
    assert levels["cart.air_in"] != "good"
    roomy = shop(vacuum='height = "19..23 in"\n', wishes='greatest_height = "70 in"\n')
    levels = {f.key: f.level for f in cart_of(roomy, Draw(300), "tower").findings}
    assert levels["cart.air_in"] == "good"
