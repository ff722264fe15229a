"""How two ends go together.

The limits are common practice without a source; what is tested is that the geometry
that leads to them is right: play, taper, depth, stretch, and which part goes inside.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kerfwind.facts import Ref, Term
from kerfwind.hookup import diameters, fit
from kerfwind.hookup.fits import holds_each
from kerfwind.quantity import Draw
from kerfwind.shop.catalogue.fittings import offers
from kerfwind.shop.model import Fitting
from kerfwind.sources import fact
from tests.say import text

from .shops import end

NOMINAL = Draw(1)
MANY = Draw(400)


@pytest.mark.parametrize(
    ("play_mm", "kind"),
    [
        (-1.0, "won't go"),
        (-0.3, "press"),
        (0.0, "press"),
        (0.2, "press"),
        (0.8, "slip"),
        (2.0, "needs tape"),
        (5.5, "needs tape"),
        (6.5, "loose"),
    ],
)
def test_straight_rigid_ends_by_their_play(play_mm: float, kind: str) -> None:
    inner = end(54, 60, goes="in")
    outer = end(60 + play_mm, 66 + play_mm, goes="over")
    found = fit(inner, outer, NOMINAL)
    assert found.kind == kind
    assert found.inner == "a"
    assert float(found.play_m[0]) * 1e3 == pytest.approx(play_mm, abs=1e-9)


def test_press_limit_of_rigid_ends_is_six_thousandths_of_the_diameter() -> None:
    limit = fact("hookup.rigid_interference").value * 60
    for more, kind in ((-0.01, "press"), (0.01, "won't go")):
        inside = 60 - limit - more
        assert fit(end(54, 60, goes="in"), end(inside, 70, goes="over"), NOMINAL).kind == kind


@pytest.mark.parametrize(
    ("play_mm", "kind"),
    [
        (-6, "won't go"),
        (-4, "press"),
        (-0.1, "press"),
        (1.5, "needs clamp"),
        (2.9, "needs clamp"),
        (4.0, "needs tape"),
        (7.0, "loose"),
    ],
)
def test_a_rubber_cuff_stretches_over_and_is_clamped(play_mm: float, kind: str) -> None:
    cuff = end(60 + play_mm, 70, goes="over", material="rubber")
    assert fit(end(54, 60), cuff, NOMINAL).kind == kind


def test_stretch_limits_are_those_of_the_fact() -> None:
    stretch = fact("hookup.cuff_stretch")
    tight = fact("hookup.rigid_interference").value

    def likelihood(inside: float) -> float:
        return fit(end(54, 60), end(inside, 70, goes="over", material="rubber"), MANY).likelihood

    low, high = (60 * (1 - tight) / (1 + s) for s in (stretch.span[1], stretch.span[0]))
    assert likelihood(low - 0.05) == 0.0
    assert likelihood(high + 0.05) == 1.0
    assert 0.4 < likelihood((low + high) / 2) < 0.6


@given(
    play=st.floats(0.0, 1.5),
    taper_in=st.floats(0.2, 3.0),
    taper_out=st.floats(0.0, 3.0),
    length=st.floats(20.0, 60.0),
)
def test_a_taper_takes_up_play_with_depth(
    play: float, taper_in: float, taper_out: float, length: float
) -> None:
    inner = end(50, 60, goes="in", taper=f"{taper_in:.6f} °", length=length)
    outer = end(60 + play, 70, goes="over", taper=f"{taper_out:.6f} °", length=length)
    found = fit(inner, outer, NOMINAL)
    taper_in, taper_out = round(taper_in, 6), round(taper_out, 6)
    slope = 2 * (math.tan(math.radians(taper_in / 2)) + math.tan(math.radians(taper_out / 2)))
    tight = fact("hookup.rigid_interference").value * 60
    depth = min((play + tight) / slope, length)
    assert float(found.depth_m[0]) * 1e3 == pytest.approx(depth, rel=1e-6)
    if depth < 10:
        assert found.kind == "won't go"
        # Shaved by the miss, it would go just deep enough.
        wider = end(
            60 + play - float(found.miss_m[0]) * 1e3 + 1e-6,
            70,
            goes="over",
            taper=f"{taper_out:.6f} °",
            length=length,
        )
        assert fit(inner, wider, NOMINAL).likelihood == 1.0
    else:
        assert found.likelihood == 1.0


def test_a_loose_joint_says_by_how_much() -> None:
    found = fit(end(40, 45, goes="in"), end(54, 60, goes="over"), NOMINAL)
    assert found.kind == "loose"
    assert float(found.miss_m[0]) == pytest.approx(0.009 - fact("hookup.bushing_play").value)


def test_either_end_may_be_the_inner_one() -> None:
    small, large = end(52, 57), end(57.4, 63)
    assert fit(small, large, NOMINAL).inner == "a"
    assert fit(large, small, NOMINAL).inner == "b"


def test_two_that_both_go_in_never_meet() -> None:
    found = fit(end(52, 57, goes="in"), end(57.4, 63, goes="in"), NOMINAL)
    assert (found.kind, found.inner, found.likelihood) == ("won't go", "", 0.0)
    assert np.isnan(found.miss_m).all()


def test_locks_meet_only_their_mates() -> None:
    lock = end(50, 62, joint="twist", nominal="quick")
    other = end(50, 62, joint="twist", nominal="other")
    unnamed = end(50, 62, joint="twist")
    assert fit(lock, lock, NOMINAL).kind == "locks"
    for stranger in (other, unnamed, end(62.1, 68)):
        assert fit(lock, stranger, NOMINAL).kind == "won't go"
    assert fit(unnamed, unnamed.model_copy(), NOMINAL).kind == "won't go"
    cuff = end(61, 70, material="rubber", goes="over")
    assert fit(end(50, 62, joint="thread"), cuff, NOMINAL).kind == "needs clamp"


def test_pairs_looked_at_together_hold_as_each_alone() -> None:
    sold = [e for o in offers() for e in (o.fitting.end_a, o.fitting.end_b)]
    ports = [end(54, 60), end(36, 40.2, goes="in"), end(60, 66, material="rubber")]
    pairs = [(port, other) for port in ports for other in sold]
    pairs += [(other, port) for port, other in pairs]
    together = holds_each(pairs, MANY)
    assert together.any()
    assert not together.all()
    for (a, b), held in zip(pairs, together, strict=True):
        np.testing.assert_array_equal(held, fit(a, b, MANY).holds)


def test_an_unmeasured_end_leaves_the_joint_open() -> None:
    port = end("52..64 mm", "56..70 mm", "tools[Saw].port", assumed=True)
    found = fit(port, end(60, 66, goes="over"), MANY)
    assert 0.1 < found.likelihood < 0.9
    assert {"won't go", "loose"} & set(found.likelihoods)
    assert sum(found.likelihoods.values()) == pytest.approx(1.0)
    assert found.rests_on[0].path == "tools[Saw].port.outside"


@given(
    low=st.floats(30, 90), wide=st.floats(0, 14), wall=st.floats(1.0, 4.0), spread=st.floats(0, 3)
)
def test_inside_stays_inside_outside(low: float, wide: float, wall: float, spread: float) -> None:
    inside = f"{low - 2 * wall:.3f}..{low - 2 * wall + wide + spread:.3f} mm"
    outside = f"{low:.3f}..{low + wide:.3f} mm"
    i, o = diameters(end(inside, outside, "x", assumed=True), MANY)
    assert i.shape == o.shape == (400,)
    assert np.all(o - i >= 2 * fact("hookup.least_wall").value - 1e-12)
    if wide > 0.5:
        assert np.corrcoef(i, o)[0, 1] > 0.9


def test_an_assumed_wall_follows_a_measured_outside() -> None:
    half = end("50..54 mm", "57.2 mm ± 0.6", "y")
    half = half.model_copy(update={"inside": half.inside.standing_as("assumed")})
    i, o = diameters(half, MANY)
    assert np.corrcoef(i - (o - 0.0572), o)[0, 1] == pytest.approx(0.0, abs=0.15)
    assert float(np.std(i)) > float(np.std(o)) > 0


def test_every_fitting_on_sale_passes_the_checks_of_the_shop_file() -> None:
    names = set()
    for offer in offers():
        plain = offer.fitting.model_dump()
        assert Fitting.model_validate(plain).name == offer.fitting.name
        assert 0 < offer.price_low <= offer.price <= offer.price_high
        for each in (offer.fitting.end_a, offer.fitting.end_b):
            assert each.inside.best_si < each.outside.best_si
            assert each.inside.assumed
            assert each.outside.assumed
        names.add(offer.fitting.name)
        assert offer.fitting.called == Term("fitting", offer.fitting.name)
        assert text(offer.fitting.called) == offer.fitting.name
        assert Fitting.model_validate(plain).called == Ref("fitting", offer.fitting.name)
    assert len(names) == len(offers())
