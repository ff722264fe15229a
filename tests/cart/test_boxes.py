"""Boxes and drums: their openings, and what else the opening carries."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kerfwind.cart.bucket_opening import by_rim, by_taper, corner_clear_m, standing
from kerfwind.cart.straps import loop_screw
from kerfwind.checks import strength
from kerfwind.checks.fit_range import BucketSize, fit_range_of, opening_for_most, shop_for_most
from kerfwind.facts import Fix
from kerfwind.joinery.marks import MarkingRule
from kerfwind.quantity import Draw
from kerfwind.shop import Bucket, Shop
from kerfwind.sources import fact
from tests.say import minded, told

from .proofs import prove
from .shops import NOMINAL, cart_of, shop

MM = MarkingRule(0.001, "mm")
WIDE = 'largest_width = "60 in"\nlargest_length = "60 in"\nnarrowest_door = "40 in"\n'
BOX = (
    'shape = "box"\ntop_width = "300 mm"\ntop_length = "400 mm"\nbottom_width = "270 mm"\n'
    'bottom_length = "380 mm"\nrim_width = "325 mm"\nrim_length = "425 mm"\ncorner = "25 mm"\n'
    'height = "330 mm"\nrim_drop = "20 mm"\nwall = "2.5 mm"\nvolume = "32 L"\n'
)
DRUM = (
    'shape = "drum"\ntop_diameter = "390 mm"\nbottom_diameter = "390 mm"\nrim_diameter = "410 mm"\n'
    'height = "620 mm"\nrim_drop = "20 mm"\nwall = "3 mm"\nvolume = "60 L"\nweight = "5 kg"\n'
)


def box(more: str = "", less: str = "") -> Bucket:
    rows = [r for r in BOX.splitlines() if not less or not r.startswith(less)]
    return shop(bucket="\n".join(rows) + "\n" + more).separator.bucket


def in_a_cart(bucket: str, form: str, hold: str) -> Shop:
    big = 'name = "big"\nthickness = "18 mm"\nlength = "2440 mm"\nwidth = "1220 mm"\nprice = 70\n'
    wishes = f'form = "{form}"\nhold_bucket = "{hold}"\ngreatest_height = "90 in"\n{WIDE}'
    return shop(bucket=bucket, wishes=wishes, sheet=big, units="mm")


def test_box_hangs_by_its_rim_in_a_rectangle() -> None:
    held, unmet = by_rim(box(), MM, NOMINAL)
    assert not unmet
    play, bearing = fact("cart.opening.play").value, fact("cart.rim.bearing").value
    for opening, top, rim in (
        (held.opening_m, 0.300, 0.325),
        (held.opening_length_m, 0.400, 0.425),
    ):
        assert top + play <= opening <= rim - 2 * bearing
    assert held.depth_m[0] == pytest.approx(0.310)


@given(st.floats(0.0, 0.08), st.floats(0.0003, 0.004))
def test_a_corner_within_the_limit_passes(corner: float, gap: float) -> None:
    """By coordinates: the middle of the box's corner arc lies inside the opening's arc."""
    limit = corner_clear_m(corner, gap)
    for r, passes in ((limit * 0.999, True), (limit * 1.001, False)):
        # From the opening's sharp corner inward along the diagonal.
        own = math.sqrt(2) * gap + (math.sqrt(2) - 1) * corner
        opening = (math.sqrt(2) - 1) * r
        assert (own >= opening) == passes


def test_box_wedges_where_the_first_of_its_ways_does() -> None:
    """Similar triangles, each way by itself: openings at three quarters of both tapers."""
    held, unmet = by_taper(box(), MM, NOMINAL)
    assert not unmet
    side = 0.310
    deep = [side * (held.opening_m - 0.270) / 0.030, side * (held.opening_length_m - 0.380) / 0.020]
    assert held.depth_m[0] == pytest.approx(min(deep))
    assert held.corner_m < 0.025


def test_a_way_that_does_not_taper_gets_play() -> None:
    held, unmet = by_taper(box('bottom_length = "400 mm"\n', "bottom_length"), MM, NOMINAL)
    assert not unmet
    assert held.opening_length_m >= 0.400 + fact("cart.opening.play").value
    straight = box('bottom_length = "400 mm"\nbottom_width = "300 mm"\n', "bottom_")
    assert [u.place for u in by_taper(straight, MM, NOMINAL)[1]] == ["wishes.hold_bucket"]


def test_box_without_a_rim_stands() -> None:
    rimless = box('rim_width = "300 mm"\nrim_length = "400 mm"\n', "rim_")
    _, unmet = by_rim(rimless, MM, NOMINAL)
    assert unmet[0].fixes == (Fix("wishes.hold_bucket", "standing", False),)
    held, unmet = standing(rimless, MM, NOMINAL)
    assert not unmet
    assert held.opening_m > 0.270
    assert held.opening_length_m > 0.380


@pytest.mark.parametrize("form", ["tower", "backframe", "low"])
@pytest.mark.parametrize(
    ("bucket", "hold"),
    [(BOX, "rim"), (BOX, "taper"), (BOX, "standing"), (DRUM, "rim"), (DRUM, "standing")],
)
def test_box_and_drum_in_every_form(bucket: str, hold: str, form: str) -> None:
    s = in_a_cart(bucket, form, hold)
    cart = cart_of(s, Draw(60))
    prove(cart)
    keys = {f.key for f in strength(s, cart, Draw(60), plate=False)}
    assert "cart.bucket.lift" in keys
    b = s.separator.bucket
    (top, long), (rim, rim_long), (floor, floor_long) = (
        [q.best_si for q in level] for level in (b.top, b.rim, b.bottom)
    )
    side = b.height.best_si - b.rim_drop.best_si
    own = BucketSize("own", top, rim, side, floor_diameter_m=floor)
    if not b.is_round:
        own = replace(own, top_length_m=long, rim_length_m=rim_long, floor_length_m=floor_long)
    ranges = fit_range_of(s, cart)
    assert ranges.bucket(own)
    # A hand's breadth more at floor and rim goes into no opening, nor between the cleats.
    wide = {"top_diameter_m": top + 0.08, "rim_diameter_m": rim + 0.08}
    assert not ranges.bucket(replace(own, floor_diameter_m=floor + 0.08, **wide))


@pytest.mark.parametrize("form", ["tower", "backframe", "low"])
@pytest.mark.parametrize("bucket", ["", BOX, DRUM])
def test_a_standing_bucket_is_strapped_down(bucket: str, form: str) -> None:
    """By moments about the edge of its floor: the empty bucket and cyclone against the hose."""
    s = in_a_cart(bucket, form, "standing")
    cart = cart_of(s)
    b, cyclone = s.separator.bucket, s.separator.cyclone
    found = {f.key: f for f in strength(s, cart, NOMINAL, plate=False)}
    weight = 9.80665 * (b.weight.best_si + cyclone.weight.best_si)
    arm = min(q.best_si for q in b.bottom) / 2
    port = b.height.best_si + cyclone.inlet_height.best_si
    stands = found["cart.bucket.stands"]
    assert stands.level == "advice"
    assert stands.value is not None
    assert stands.value.best == pytest.approx(weight * arm / port, rel=1e-6)
    assert found["cart.bucket.straps"].level == "good"
    rows = {h.key: h for h in cart.hardware}
    assert rows["strap"].quantity == 2
    assert rows["strap-loop"].quantity == 4
    length = rows["strap-screw"].length_m
    assert length is not None
    assert length < 0.018
    assert cart.bucket is not None
    # Clear of the cyclone, and still over the lid.
    assert cyclone.body_diameter.best_si / 2 < cart.bucket.strap_m < b.top[1].best_si / 2
    loops = next(st for st in cart.steps if "bucket" in st.new)
    assert {t.key for t in loops.takes} == {"strap-loop", "strap-screw"}
    step = next(st for st in cart.steps if "front strap" in st.new)
    assert "strap" in told(step)
    assert "strap" in minded(step)


def test_a_bucket_that_hangs_needs_no_strap() -> None:
    s = in_a_cart("", "tower", "rim")
    cart = cart_of(s)
    assert not [h for h in cart.hardware if h.key.startswith("strap")]
    assert not [f for f in strength(s, cart, NOMINAL, plate=False) if f.key == "cart.bucket.stands"]


def test_screws_of_strap_loops_end_in_the_wood() -> None:
    for t in (0.012, 0.015, 0.018, 0.025):
        for metric in (True, False):
            assert loop_screw(t, metric)[1] <= t


def test_one_opening_for_the_most_boxes() -> None:
    """By hand: side to side 301.6 to 319, 303.6 to 322; front to back 401.6 to 419, 409.6 to
    421. The third is wider."""
    table = [
        BucketSize("a", 0.300, 0.325, 0.3, 0.400, 0.425),
        BucketSize("b", 0.302, 0.328, 0.3, 0.408, 0.427),
        BucketSize("wide", 0.350, 0.380, 0.3, 0.400, 0.425),
        BucketSize("round", 0.3, 0.33, 0.3),
    ]
    found = opening_for_most(table)
    half = fact("cart.opening.play").value / 2
    assert found.carried == ("a", "b")
    assert (found.diameter_m, found.length_m) == pytest.approx((0.302 + half, 0.408 + half))
    s, _, hung = shop_for_most(in_a_cart(BOX, "tower", "rim"), [], table)
    assert hung == ("a", "b")
    cart = cart_of(s)
    prove(cart)
    ranges = fit_range_of(s, cart)
    assert [ranges.bucket(b) for b in table] == [True, True, False, False]


def test_a_round_shop_becomes_one_for_boxes() -> None:
    table = [BucketSize("a", 0.300, 0.325, 0.3, 0.400, 0.425)]
    s, _, _ = shop_for_most(in_a_cart("", "low", "rim"), [], table)
    assert s.separator.bucket.shape == "box"
    prove(cart_of(s))
