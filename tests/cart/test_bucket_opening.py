"""The opening of a bucket by plain geometry."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kerfwind.cart.bucket_opening import by_rim, by_taper, taper_depth_m
from kerfwind.joinery.marks import MarkingRule
from kerfwind.quantity import Draw
from kerfwind.shop import parse_shop
from kerfwind.sources import fact

from .shops import cart_of, shop

MM = MarkingRule(0.001, "mm")


def test_depth_by_similar_triangles() -> None:
    """Halfway between bottom and top diameter lies halfway up the side."""
    assert taper_depth_m(0.28, 0.26, 0.30, 0.3) == pytest.approx(0.15)
    assert taper_depth_m(0.25, 0.26, 0.30, 0.3) == 0
    assert taper_depth_m(0.35, 0.26, 0.30, 0.3) == pytest.approx(0.3)


def test_a_millimetre_of_play_is_nine_down_at_a_usual_taper() -> None:
    """Common practice, no source: a usual taper is one in nine on the diameter."""
    bottom, top, side = 0.263, 0.300, 0.333
    moved = taper_depth_m(0.286, bottom, top, side) - taper_depth_m(0.285, bottom, top, side)
    assert moved == pytest.approx(0.009, rel=0.01)


@given(st.floats(0.2, 0.4), st.floats(0.01, 0.05), st.floats(0.1, 0.5), st.floats(0.05, 0.95))
def test_diameter_at_the_depth_is_the_opening(
    bottom: float, grow: float, side: float, part: float
) -> None:
    opening = bottom + part * grow
    depth = float(taper_depth_m(opening, bottom, bottom + grow, side))
    assert bottom + grow * depth / side == pytest.approx(opening)


def test_rim_opening_passes_body_and_carries_rim() -> None:
    bucket = shop().separator.bucket
    held, unmet = by_rim(bucket, MM, Draw(1))
    assert not unmet
    assert bucket.top_diameter.high_si < held.opening_m
    assert held.opening_m <= bucket.rim_diameter.low_si - 2 * fact("cart.rim.bearing").value
    assert held.depth_m[0] == pytest.approx(bucket.height.best_si - bucket.rim_drop.best_si)


def test_uncertain_taper_gives_a_range_that_holds_the_draw() -> None:
    bucket = shop(
        bucket='top_diameter = "286..290 mm"\nbottom_diameter = "262..265 mm"\n'
    ).separator.bucket
    held, unmet = by_taper(bucket, MM, Draw(400))
    assert not unmet
    assert np.all((held.depth_m >= held.least_m - 1e-9) & (held.depth_m <= held.most_m + 1e-9))
    assert held.most_m - held.least_m > 0.02


def test_straight_bucket_cannot_wedge() -> None:
    bucket = shop(bucket='shape = "straight"\nbottom_diameter = "11-5/16 in"\n').separator.bucket
    _, unmet = by_taper(bucket, MM, Draw(1))
    assert [u.place for u in unmet] == ["wishes.hold_bucket"]


def test_a_tight_taper_that_was_assumed_is_not_known_to_be_in_the_way() -> None:
    """Its lowest hang would stop the vacuum, its likeliest would not: which it is was not measured."""
    text = (
        '[vacuum]\nshape = "round"\nlength = "18 in"\nwidth = "18 in"\nheight = "21 in"\n'
        'weight = "17 lb"\n[separator.bucket]\nshape = "tapered"\nvolume = "5 US gal"\n'
        '[[sheets]]\nname = "s"\nthickness = "18 mm"\nlength = "96 in"\nwidth = "48 in"\n'
        '[wishes]\nhold_bucket = "taper"\ngreatest_height = "58 in"\n'
        '[[tools]]\nname = "sander"\nhood = "pad holes"\n'
    )
    s = parse_shop(text).shop
    found = {f.key: f for f in cart_of(s, Draw(400)).findings}
    assert found["cart.fit.lift"].level == "unknown"
    assert "separator.bucket.top_diameter" in found["cart.fit.lift"].measure
