"""Plates, screws, buckling and pushes against published and closed-form values."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kerfwind.cart.model import SupportedPlate
from kerfwind.checks import strength
from kerfwind.checks.bottom import midspan_m
from kerfwind.checks.collapse import Guard, Pull, bucket_findings, buckling_pressure_pa
from kerfwind.checks.outriggers import arm_stress_pa
from kerfwind.checks.plate import Stiffness, bend
from kerfwind.checks.pushing import (
    gyration_m,
    rolled_over_m,
    stumble_arm_m,
    stumble_speed_m_s,
    tipping_arm_m,
    tipping_force_n,
)
from kerfwind.joinery.screws import couple_nm, thread_m, withdrawal_n_per_m
from kerfwind.quantity import Draw
from kerfwind.sources import fact

from ..cart.shops import NOMINAL, cart_of, shop

IN = 0.0254
LB_PER_IN = 4.4482216152605 / IN
E, T, NU, Q, A = 8e9, 0.018, 0.3, 1000.0, 0.5
ISO = Stiffness.isotropic(E, NU, T)


@pytest.mark.parametrize(("held", "share"), [("simply", 0.00406), ("clamped", 0.00126)])
def test_square_plate(held: str, share: float) -> None:
    """Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells: w = share q a^4 / D."""
    outline = SupportedPlate(A, A, left=held, right=held, front=held, rear=held)  # type: ignore[arg-type]
    bent = bend(outline, ISO, T, pressure_pa=Q, around=16)
    assert bent.deflection_m == pytest.approx(share * Q * A**4 / ISO.d11, rel=0.005)


def test_bending_stress_at_a_clamped_edge() -> None:
    """Timoshenko and Woinowsky-Krieger, table 35: 0.0513 q a² amid the edge of a clamped square."""
    outline = SupportedPlate(A, A, left="clamped", right="clamped", front="clamped", rear="clamped")
    bent = bend(outline, ISO, T, pressure_pa=Q, around=32)
    most = 0.0513 * Q * A**2 / (T**2 / 6)
    assert bent.stress_along_pa == pytest.approx(most, rel=0.01)
    assert bent.stress_across_pa == pytest.approx(most, rel=0.01)


def test_bending_stress_beside_a_small_hole() -> None:
    """A plate bent one way about a hole (Goodier 1936; Timoshenko and Woinowsky-Krieger, from
    memory): the stress at the hole's edge is (5 + 3 ν) / (3 + ν) of that far from it."""
    hole = SupportedPlate(0.6, 0.5, (0.3, 0.25), 0.02)
    beam = Q * 0.6**2 / 8 / (T**2 / 6)
    found = bend(hole, Stiffness.isotropic(E, 0.0, T), T, pressure_pa=Q, around=72)
    assert found.stress_along_pa == pytest.approx(5 / 3 * beam, rel=0.03)


@pytest.mark.parametrize("around", [36, 48, 60])
def test_a_support_begins_at_a_node_of_the_mesh(around: int) -> None:
    """However many elements there are, sag is that of a fine mesh."""
    ply = Stiffness.plywood(E, 0.283, 0.08, 0.1, T)
    outline = SupportedPlate(0.58, 0.37, held_from_m=0.113)
    # Without that node sag varies by 8 %.
    fine = bend(outline, ply, T, pressure_pa=Q, around=120).deflection_m
    assert bend(outline, ply, T, pressure_pa=Q, around=around).deflection_m == pytest.approx(
        fine, rel=0.03
    )


def test_orthotropic_strip_is_a_beam() -> None:
    """Beam theory: a strip held at two ends bends 5 q L^4 / (384 E I), whatever the cross ply."""
    strip = Stiffness.plywood(E, 0.45, 0.08, 0.0, T)
    outline = SupportedPlate(0.6, 0.05)
    bent = bend(outline, strip, T, pressure_pa=Q, around=24)
    assert bent.deflection_m == pytest.approx(5 * Q * 0.6**4 / (384 * strip.d11), rel=0.005)


def test_strip_across_the_grain_bends_by_the_ratio() -> None:
    strip = Stiffness.plywood(E, 0.45, 0.08, 0.0, T)
    across = SupportedPlate(0.05, 0.6, left="free", right="free", front="simply", rear="simply")
    bent = bend(across, strip, T, pressure_pa=Q, around=24)
    assert bent.deflection_m == pytest.approx(5 * Q * 0.6**4 / (384 * 0.45 * strip.d11), rel=0.005)


@pytest.mark.parametrize(
    "outline",
    [
        SupportedPlate(0.58, 0.37, (0.29, 0.185), 0.148, held_from_m=0.07),
        SupportedPlate(0.58, 0.37, (0.29, 0.185), 0.148, "clamped", "clamped", rear="simply"),
    ],
)
def test_halving_the_mesh_changes_little(outline: SupportedPlate) -> None:
    ply = Stiffness.plywood(E, 0.45, 0.08, 0.1, T)
    coarse = bend(outline, ply, T, rim_load_n=100)
    fine = bend(outline, ply, T, rim_load_n=100, around=72)
    assert fine.deflection_m == pytest.approx(coarse.deflection_m, rel=0.02)


def test_plate_element_is_the_librarys_own() -> None:
    # scikit-fem's Argyris element, function by function.
    from skfem import Basis, ElementTriArgyris, FacetBasis, MeshTri

    from kerfwind.checks.quintic import Quintic

    mesh = MeshTri.init_tensor(np.linspace(0, 0.5, 4), np.array([0.0, 0.1, 0.3, 0.4]))
    ours, theirs = (Basis(mesh, e, intorder=6) for e in (Quintic(), ElementTriArgyris()))
    edges = [FacetBasis(mesh, b.elem, intorder=6) for b in (ours, theirs)]
    for one, two in ((ours, theirs), edges):
        x, y = (np.array([field for (field,) in each.basis]) for each in (one, two))
        np.testing.assert_allclose(x, y, rtol=0, atol=1e-9 * np.max(np.abs(y)))
    bent = np.array([field.hess for (field,) in theirs.basis])
    wanted = bent[:, [0, 1, 0], [0, 1, 1]].transpose(1, 2, 0, 3)
    found = ours.elem.curvatures(ours.mapping, ours.X)
    np.testing.assert_allclose(found, wanted, rtol=0, atol=1e-9 * np.max(np.abs(wanted)))


def test_withdrawal_by_the_standards_examples() -> None:
    """National Design Specification: No. 10 in wood of gravity 0.45 holds 110 lb an inch."""
    assert withdrawal_n_per_m(0.45, 0.190 * IN) / LB_PER_IN == pytest.approx(110, rel=0.005)


def test_only_thread_beyond_the_first_panel_counts() -> None:
    assert thread_m(0.060, 0.018) == pytest.approx(0.040)
    assert thread_m(0.060, 0.030) == pytest.approx(0.030)
    assert thread_m(0.015, 0.018) == 0


def test_couple_of_two_screws() -> None:
    """Statics: pulls in proportion to their arms; the farthest at its limit."""
    moment = couple_nm([0.025, 0.075], 0.1, np.array([300.0]))
    assert moment[0] == pytest.approx(300 * 0.075 + 100 * 0.025)


def test_short_cylinder_under_outside_pressure() -> None:
    """Windenburg and Trilling 1934, worked by hand: steel, t/D 0.01, L/D 1."""
    thin = 0.01
    hand = 2.42 * 207e9 * thin**2.5 / ((1 - 0.09) ** 0.75 * (1 - 0.45 * 0.1))
    assert buckling_pressure_pa(207e9, 0.01, 1.0, 1.0, 0.3) == pytest.approx(hand, rel=1e-12)
    # The limit of a shell so short that the formula has no answer.
    assert np.isnan(buckling_pressure_pa(207e9, 0.01, 1.0, 0.04, 0.3))


def test_short_cylinder_against_the_general_buckling_of_a_tube() -> None:
    """Von Mises' exact elastic pressure (Timoshenko and Gere, Theory of Elastic Stability,
    chapter 11; from memory), least over the number of lobes: within a tenth."""
    d, t, length, e, nu = 0.28, 0.002, 0.30, 0.8e9, 0.42
    r = d / 2
    least = math.inf
    for n in range(2, 20):
        z = math.pi * r / length
        lobes = n * n - 1 + z * z / 2
        membrane = e * t / r / lobes / (1 + (n / z) ** 2) ** 2
        plate = e * t**3 / (12 * (1 - nu**2) * r**3) / lobes * (n * n + z * z) ** 2
        least = min(least, membrane + plate)
    assert buckling_pressure_pa(e, t, d, length, nu) == pytest.approx(least, rel=0.1)


def test_theory_alone_never_clears_a_bucket() -> None:
    for wall in ("1.5 mm", "2.1 mm", "12 mm"):
        s = shop(bucket=f'wall = "{wall}"\n')
        pull = Pull(np.full(300, 15e3), (("saw", np.full(300, 4e3)),))
        levels = [f.level for f in bucket_findings(s, Draw(300), pull, Guard())]
        assert "good" not in levels


def test_push_and_tug_by_moments() -> None:
    assert tipping_force_n(np.array(300.0), np.array(0.2), 1.2) == pytest.approx(50)
    assert tipping_force_n(np.array(300.0), np.array(-0.1), 1.2) == 0


def test_stumble_of_a_point_mass_is_a_pendulum() -> None:
    """A point on a stick: all of v h / R turns with it, so v = (R / h) √(2 g (R − h))."""
    a, h = 0.2, 0.6
    over = math.hypot(a, h)
    g = fact("general.gravity").value
    by_hand = over / h * math.sqrt(2 * g * (over - h))
    assert stumble_speed_m_s(np.array(a), np.array(h), np.array(0.0)) == pytest.approx(by_hand)


@given(st.floats(0.05, 3.0), st.floats(0.1, 1.5), st.floats(0.0, 0.8))
def test_with_the_arm_that_is_asked_for_it_goes_over_at_just_that_speed(
    speed: float, height: float, gyration: float
) -> None:
    arm = stumble_arm_m(*(np.array([v]) for v in (speed, height, gyration)))
    assert stumble_speed_m_s(arm, np.array(height), np.array(gyration)) == pytest.approx(speed)


def test_no_arm_is_asked_for_where_nothing_pushes() -> None:
    still, one = np.zeros(1), np.ones(1)
    assert tipping_arm_m(still, one, 1.0) == -np.inf
    assert stumble_arm_m(still, one, one) == -np.inf
    assert tipping_arm_m(np.array(50.0), np.array(300.0), 1.2) == pytest.approx(0.2)


def test_gyration_of_two_points() -> None:
    one = np.ones(1)
    parts = [(one, np.array([[-1.0], [0.0]]), 0.0), (one, np.array([[1.0], [0.0]]), 0.0)]
    assert gyration_m(parts, np.zeros((2, 1)))[0] == pytest.approx(1)


@given(st.floats(0.02, 0.1), st.floats(0.3, 2.0))
def test_a_step_takes_what_the_edge_leaves_of_the_speed(radius: float, speed: float) -> None:
    """Energy after the knock: ½ (v (r − s) / r)² = g s, below v² / 2g and below the axle."""
    g = fact("general.gravity").value
    step = float(rolled_over_m(radius, np.array(speed)))
    assert (speed * (radius - step) / radius) ** 2 / 2 == pytest.approx(g * step, rel=1e-6)
    assert 0 < step < min(radius, speed**2 / (2 * g))


def test_a_walk_carries_a_large_wheel_as_far_as_a_throw_upwards() -> None:
    """v² / 2g: 51 mm at 1 m/s, where the wheel is so large that its edge takes nothing."""
    assert float(rolled_over_m(1e4, np.array(1.0))) == pytest.approx(0.051, rel=0.01)


def test_three_inch_wheels_roll_over_a_threshold_and_small_ones_balk() -> None:
    levels = {}
    for wheel, height in (("3 in", "4-1/8 in"), ("1 in", "2 in")):
        s = shop(wishes=f'caster_diameter = "{wheel}"\ncaster_height = "{height}"\n')
        rows = {f.key: f for f in cart_of(s, form="tower").findings}
        levels[wheel] = rows["cart.push.threshold"].level
    assert levels == {"3 in": "good", "1 in": "advice"}


@given(st.floats(0.05, 0.95))
def test_a_beam_amid_its_span(share: float) -> None:
    """Beam tables, from memory: P b (3 L² − 4 b²) / (48 E I) under a force b from the nearer end."""
    span, force, modulus, inertia = 0.9, 200.0, 5e9, 2e-7
    near = min(share, 1 - share) * span
    table = force * near * (3 * span**2 - 4 * near**2) / (48 * modulus * inertia)
    found = midspan_m(
        [(np.array([force]), np.array([share * span]))],
        span,
        np.array([modulus]),
        np.full(400, inertia),
    )
    assert found[0] == pytest.approx(table, rel=1e-3)


def test_a_beam_stiff_over_half_its_span() -> None:
    """By hand, twice as stiff over one half: the mean of both deflections."""
    inertia = np.repeat([1e-7, 2e-7], 200)
    rows = [(np.array([100.0]), np.array([0.5]))]
    found = midspan_m(rows, 1.0, np.array([5e9]), inertia)
    whole = 100.0 / (48 * 5e9 * 1e-7)
    assert found[0] == pytest.approx(0.75 * whole, rel=1e-4)


def test_a_thin_wide_bottom_sags_and_a_thick_one_does_not() -> None:
    wide = 'largest_width = "60 in"\nlargest_length = "60 in"\nnarrowest_door = "36 in"\n'
    levels = []
    for t in ("12 mm", "24 mm"):
        sheet = f'name = "s"\nthickness = "{t}"\nlength = "2440 mm"\nwidth = "1220 mm"\n'
        s = shop(vacuum='weight = "60 kg"\n', sheet=sheet, wishes='form = "tower"\n' + wide)
        rows = strength(s, cart_of(s, form="tower"), NOMINAL, plate=False)
        levels.append(next(f.level for f in rows if f.key == "cart.bottom.sag"))
    assert levels == ["advice", "good"]


def test_arms_bend_like_a_cantilever() -> None:
    """Beam theory: a force at the end of a bar of width b and height t bends it by 6 F l / (b t²)."""
    hand = 6 * 150 * 0.06 / (0.098 * 0.018**2)
    assert arm_stress_pa(np.array(150.0), np.array(0.06), 0.098, 0.018) == pytest.approx(hand)
    assert arm_stress_pa(np.array(150.0), np.array(-0.01), 0.098, 0.018) == 0


def test_every_strength_check_answers() -> None:
    s = shop()
    cart = cart_of(s, form="tower")
    keys = [f.key for f in strength(s, cart, NOMINAL)]
    assert len(set(keys)) == len(keys)
    assert {"cart.racking", "cart.shelf.sag", "cart.shelf.stress"} <= set(keys)
