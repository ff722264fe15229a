"""The link hose's way: its length in closed form, its bends, and what it keeps clear of."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kerfwind.cart.hosepath import bend_m, outside_m, over_the_front
from kerfwind.shop import Hose

from .shops import cart_of, shop

WIDE = 'largest_width = "48 in"\nlargest_length = "40 in"\nnarrowest_door = "36 in"\n'
FAR_BEHIND = [(9.0, 0.0, 3.0)]


def link() -> Hose:
    hose = shop().link
    assert hose is not None
    return hose


def ways(outlet_z: float, level: float, inlet_z: float, side: bool) -> tuple[float, float]:
    """Length with the fall leaning and with it upright."""
    a, b = (0.0, level, outlet_z), (0.0, 0.0, inlet_z)
    lean = over_the_front(a, b, 0.0, side, link(), 0.0, edges=FAR_BEHIND)
    upright = over_the_front(a, b, 0.0, side, link(), 0.0)
    return lean.length_m, upright.length_m


def test_two_arcs_and_their_common_tangent() -> None:
    """Plane geometry: equal circles turned the same way, so 270° of arc and a straight as long
    as their middles are apart."""
    hose = link()
    r, s = bend_m(hose), hose.bore.best_si / 2
    lean, _ = ways(1.4, 0.3, 0.45, side=True)
    apart = math.hypot(0.3 + s - r, 1.4 + s - 0.45 - r)
    assert lean == pytest.approx(1.5 * math.pi * r + apart + 2 * s, abs=1e-9)


@given(
    outlet_z=st.floats(1.1, 1.8),
    level=st.floats(0.05, 0.6),
    inlet_z=st.floats(0.15, 0.7),
    side=st.booleans(),
)
@settings(max_examples=60, deadline=None)
def test_it_is_no_longer_than_an_upright_fall_and_never_bends_tighter(
    outlet_z: float, level: float, inlet_z: float, side: bool
) -> None:
    a, b = np.array([0.0, level, outlet_z]), np.array([0.0, 0.0, inlet_z])
    path = over_the_front(a, b, 0.0, side, link(), 0.0, edges=FAR_BEHIND)
    lean, upright = ways(outlet_z, level, inlet_z, side)
    assert lean <= upright + 1e-9
    assert path.points_m[0] == pytest.approx(a)
    assert path.points_m[-1] == pytest.approx(b, abs=1e-9)
    steps = np.diff(path.points_m, axis=0)
    assert float(np.linalg.norm(steps, axis=1).sum()) == pytest.approx(lean, rel=0.01)
    into = steps[-1] / np.linalg.norm(steps[-1])
    assert into == pytest.approx([0, 1, 0] if side else [0, 0, -1], abs=1e-6)
    assert min(bend.radius_m for bend in path.bends) >= bend_m(link()) - 1e-9 or lean == upright


def test_a_shelf_in_the_way_moves_the_fall_forward() -> None:
    hose = link()
    a, b = (0.0, 0.3, 1.4), (0.0, 0.0, 0.45)
    shelf = (-0.12, 0.9, 0.92)
    path = over_the_front(a, b, -0.12, True, hose, 0.0, edges=[shelf])
    points = path.points_m
    fine = np.concatenate(
        [points[:-1] + t * np.diff(points, axis=0) for t in np.linspace(0, 1, 400)]
    )
    # The shelf is what lies behind its edge, between its faces.
    behind = np.maximum(shelf[0] - fine[:, 1], 0.0)
    beyond = np.maximum(np.maximum(shelf[1] - fine[:, 2], fine[:, 2] - shelf[2]), 0.0)
    apart = float(np.hypot(behind, beyond).min())
    assert outside_m(hose) - 1e-6 <= apart < outside_m(hose) + 0.02
    free = over_the_front(a, b, 0.0, True, hose, 0.0, edges=FAR_BEHIND)
    assert path.length_m > free.length_m


@pytest.mark.parametrize("form", ["tower", "backframe"])
@pytest.mark.parametrize("inlet", ["side", "top"])
def test_the_bucket_lifts_out_past_it(form: str, inlet: str) -> None:
    s = shop(
        vacuum=f'inlet_on = "{inlet}"\n',
        wishes=f'form = "{form}"\n{WIDE}greatest_height = "90 in"\n',
    )
    cart = cart_of(s)
    assert cart.hose is not None
    bucket, points = cart.body("bucket"), cart.hose.points_m
    middle = (bucket.low + bucket.high)[:2] / 2
    radius = float(bucket.high[0] - bucket.low[0]) / 2
    # What falls beside the bucket keeps clear of its way up; what is above its lid comes off
    # with it, and nothing below it is lifted.
    fine = np.concatenate(
        [points[:-1] + t * np.diff(points, axis=0) for t in np.linspace(0, 1, 50)]
    )
    lower = fine[(fine[:, 2] < bucket.high[2]) & (fine[:, 2] > bucket.low[2])]
    apart = np.linalg.norm(lower[:, :2] - middle, axis=1)
    assert apart.min() >= radius + s.link.bore.best_si / 2  # type: ignore[union-attr]
