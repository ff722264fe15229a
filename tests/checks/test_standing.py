"""Tipping and wheel loads in closed form."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kerfwind.cart.loads import plywood
from kerfwind.checks.tipping import arm_m, tilt_angle_rad
from kerfwind.checks.wheels import level_shares, three_wheels, worst_wheel_n
from kerfwind.quantity import Draw
from kerfwind.solids import Body
from kerfwind.sources import fact

from ..cart.proofs import prove
from ..cart.shops import NOMINAL, cart_of, shop

SQUARE = np.array([[-0.2, -0.2], [0.2, -0.2], [-0.2, 0.2], [0.2, 0.2]])
STILL = np.zeros(1)


def test_slope_of_the_appliance_test() -> None:
    """IEC 60335-1, clause 20.1: 10°."""
    assert math.degrees(fact("cart.tilt.angle").value) == pytest.approx(10)


def test_a_block_overturns_when_its_centre_passes_its_edge() -> None:
    """Rigid-body statics: a cube tips at 45°, one twice as high as wide at arctan(1/2)."""
    assert np.degrees(tilt_angle_rad(0.5, 0.5)) == pytest.approx(45)
    assert tilt_angle_rad(0.5, 1.0) == pytest.approx(math.atan(0.5))
    assert tilt_angle_rad(-0.1, 1.0) < 0


def test_trailing_wheels_bring_the_edge_nearer() -> None:
    centre = np.zeros((2, 1))
    assert arm_m(centre, SQUARE, (0, 1), STILL) == pytest.approx(0.2)
    assert arm_m(centre, SQUARE, (0, 1), np.array([0.03])) == pytest.approx(0.17)


def test_two_diagonal_wheels_carry_all_when_one_is_lifted() -> None:
    """From memory, trade: a centred load rests on two diagonal wheels alone."""
    centre = np.zeros((2, 1))
    trio = SQUARE[[0, 1, 2]]
    assert three_wheels(trio, centre)[:, 0] == pytest.approx([0, 0.5, 0.5])
    assert worst_wheel_n(np.array([10.0]), centre, SQUARE, STILL) == pytest.approx(
        0.5 * 10 * fact("general.gravity").value
    )
    assert level_shares(SQUARE, centre)[:, 0] == pytest.approx([0.25] * 4)


@given(st.floats(-0.19, 0.19), st.floats(-0.19, 0.19))
def test_shares_balance_force_and_moments(x: float, y: float) -> None:
    centre = np.array([[x], [y]])
    for shares, at in (
        (level_shares(SQUARE, centre), SQUARE),
        (three_wheels(SQUARE[:3], centre), SQUARE[:3]),
    ):
        assert shares.sum() == pytest.approx(1)
        assert (shares[:, 0] @ at) == pytest.approx([x, y], abs=1e-9)


def test_mass_and_centre_against_the_mesh_integral() -> None:
    """Closed forms of panels against the volume integral over the solids, within 0.1 %."""
    s = shop()
    cart = cart_of(s, form="tower")
    places = {p.name: p for p in cart.placed}
    load = plywood([(n, cart.panel(p.key).plate, p.at) for n, p in places.items()], NOMINAL)
    density = fact("cart.plywood.density").value
    bodies = [cart.body(n) for n in places]
    mass = sum(b.mass_kg(density) for b in bodies)
    centre = sum(b.mass_kg(density) * b.centroid_m for b in bodies) / mass
    assert load.mass_kg[0] == pytest.approx(mass, rel=1e-3)
    assert load.centre_m[:, 0] == pytest.approx(centre, abs=1e-3 * cart.sizes.height_m)


def test_a_full_bucket_raises_the_centre_and_narrows_the_slope() -> None:
    s = shop(wishes='ballast = "0 kg"\noutriggers = "0 in"\n')
    cart = cart_of(s, Draw(300), "tower")
    empty, full, out = cart.stands
    assert full.load.centre_m[2].mean() > empty.load.centre_m[2].mean()
    for side in ("left", "right"):
        assert full.tilt_rad[side].mean() < empty.tilt_rad[side].mean()
        assert out.tilt_rad[side].mean() < full.tilt_rad[side].mean()


@pytest.mark.parametrize("form", ["tower", "backframe", "low"])
@pytest.mark.parametrize(
    "bucket",
    [
        "",
        'shape = "box"\ntop_width = "280 mm"\ntop_length = "360 mm"\nbottom_width = "260 mm"\n'
        'bottom_length = "330 mm"\nrim_width = "300 mm"\nrim_length = "380 mm"\nvolume = "30 L"\n',
    ],
)
def test_straps_run_over_the_lid_to_loops_on_the_floor(form: str, bucket: str) -> None:
    wide = 'largest_width = "60 in"\nlargest_length = "60 in"\nnarrowest_door = "40 in"\n'
    s = shop(bucket=bucket, wishes=f'form = "{form}"\nhold_bucket = "standing"\n{wide}')
    cart = cart_of(s)
    prove(cart)
    pot, cyclone = (cart.body(n) for n in ("bucket", "cyclone"))
    floor = cart.body("bottom" if form == "low" else "shelf")
    for loop in (b for b in cart.bodies if b.name.endswith(" loop")):
        assert loop.low[2] == pytest.approx(floor.high[2])
        assert np.all(loop.low[:2] >= floor.low[:2] - 1e-9)
        assert np.all(loop.high[:2] <= floor.high[:2] + 1e-9)
    for name in ("front strap", "rear strap"):
        strap = cart.body(name)
        assert strap.volume_m3 == pytest.approx(0.025 * 0.0025 * _length(strap), rel=0.02)
        assert strap.high[2] == pytest.approx(pot.high[2] + 0.0025, abs=1e-4)
        assert strap.low[0] < pot.low[0] + 0.1
        assert strap.high[1] < cyclone.low[1] or strap.low[1] > cyclone.high[1]
    assert "rear strap" in cart.steps[-3].new


def _length(strap: Body) -> float:
    """Along a strap, over the middles of its cross-sections."""
    middles = strap.vertices.reshape(-1, 4, 3).mean(axis=1)
    return float(np.linalg.norm(np.diff(middles, axis=0), axis=1).sum())


def test_straps_are_off_when_it_parks_without_its_separator() -> None:
    """Its cleats, 2 in over a shelf at 32 in, are then what stands highest of a tower."""
    wide = 'largest_width = "60 in"\nlargest_length = "60 in"\nnarrowest_door = "40 in"\n'
    s = shop(wishes=f'form = "tower"\nhold_bucket = "standing"\nunder_bench = "36 in"\n{wide}')
    level = {f.key: f.level for f in cart_of(s, Draw(50)).findings}
    assert level["cart.under_bench.lifted_out"] == "good"
