"""Paint, hours and tools follow from the cart."""

import math

import pytest

from kerfwind.cart.work import Estimate, surfaces, work
from tests.say import VOICE

from .shops import cart_of, shop


def test_open_surface_is_the_solids_surface_less_what_joints_hide() -> None:
    """Against the area of all triangles of the panels' meshes, which knows no formula."""
    import numpy as np

    s = shop()
    cart = cart_of(s)
    whole = 0.0
    for placed in cart.placed:
        body = cart.body(placed.name)
        a, b, c = (body.vertices[body.triangles[:, i]] for i in range(3))
        whole += float(np.linalg.norm(np.cross(b - a, c - a), axis=1).sum() / 2)
    faces, edges = surfaces(cart)
    from kerfwind.solids import contact_area_m2

    at = {p.name: p for p in cart.placed}
    hidden = sum(
        contact_area_m2(
            cart.panel(at[j.first].key).plate,
            at[j.first].at,
            cart.panel(at[j.second].key).plate,
            at[j.second].at,
        )
        for j in cart.joints
    )
    assert faces + edges == pytest.approx(whole - 2 * hidden, rel=2e-3)


def test_more_cart_takes_more_paint_and_time() -> None:
    wide = 'largest_width = "60 in"\nlargest_length = "60 in"\nnarrowest_door = "36 in"\n'
    small, large = (
        work(s, cart_of(s))
        for s in (
            shop(),
            shop(
                wishes=wide + 'extra_width = "6 in"\n',
                sheet=('name = "big"\nthickness = "23/32 in"\nlength = "96 in"\nwidth = "48 in"\n'),
            ),
        )
    )
    assert large.finish.paint_l.likely > small.finish.paint_l.likely
    assert large.hours.likely > small.hours.likely


def test_spans_are_ordered_and_add_up() -> None:
    s = shop()
    found = work(s, cart_of(s))
    for span in (
        found.hours,
        found.waiting_h,
        found.finish.paint_l,
        *(t.hours for t in found.tasks),
    ):
        assert 0 < span.low <= span.likely <= span.high < math.inf
    assert found.hours.likely == pytest.approx(sum(t.hours.likely for t in found.tasks))
    assert Estimate(1, 2, 3) + Estimate(1, 1, 1) == Estimate(2, 3, 4)


def test_whoever_lacks_a_tool_has_another_way() -> None:
    s = shop()
    needs = work(s, cart_of(s)).tools
    ways = [VOICE.say(n.kind, n.facts, "otherwise") for n in needs]
    assert all(ways)
    assert any("trammel" in way for way in ways)
