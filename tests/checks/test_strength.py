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
from kerfwind.checks.plate import Stiffness, bend
from kerfwind.checks.pushing import (
    climbed_step_m,
    climbing_force_n,
    gyration_m,
    stumble_speed_m_s,
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
        for kind in (lambda f: f, lambda f: f.grad, lambda f: f.hess):
            x, y = (np.array([kind(field) for (field,) in each.basis]) for each in (one, two))
            np.testing.assert_allclose(x, y, rtol=0, atol=1e-9 * np.max(np.abs(y)))


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


def test_gyration_of_two_points() -> None:
    one = np.ones(1)
    parts = [(one, np.array([[-1.0], [0.0]]), 0.0), (one, np.array([[1.0], [0.0]]), 0.0)]
    assert gyration_m(parts, np.zeros((2, 1)))[0] == pytest.approx(1)


def test_wheel_on_a_step() -> None:
    """Statics about the step's edge: W √(2 r s − s²) = F (r − s)."""
    assert climbing_force_n(np.array(100.0), 0.05, 0.01) == pytest.approx(100 * 0.03 / 0.04)
    assert climbing_force_n(np.array(100.0), 0.05, 0.05) == math.inf
    # And back: the step that a force climbs.
    assert climbed_step_m(np.array(100.0), 0.05, np.array(75.0)) == pytest.approx(0.01)


def test_a_push_at_the_handle_puts_all_weight_on_the_wheels_at_the_step() -> None:
    """Statics of the whole cart: at the push that lifts the far wheels, the reaction of the near
    ones has all of the weight upright and the push level, and points from the step's edge to
    the axle."""
    s = shop(
        wishes='form = "low"\nlargest_width = "60 in"\nlargest_length = "60 in"\n'
        'narrowest_door = "36 in"\n'
    )
    cart = cart_of(s, form="low")
    found = {f.key: f for f in strength(s, cart, NOMINAL, plate=False)}["cart.push.threshold"]
    r = s.wishes.caster_diameter.best_si / 2
    steps = []
    for stand in cart.stands:
        for tilt in () if not stand.state.vacuum_in else stand.tilt_rad.values():
            weight = 9.80665 * stand.load.mass_kg[0]
            arm = math.tan(tilt[0]) * stand.load.centre_m[2, 0]
            push = min(weight * arm / cart.sizes.handle_m, 200.0)
            up = math.atan2(weight, push)
            steps.append(r - r * math.sin(up))
    assert found.value is not None
    assert found.value.best == pytest.approx(min(steps), rel=1e-6)
    assert found.level == "advice"


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


def test_every_strength_check_answers() -> None:
    s = shop()
    cart = cart_of(s, form="tower")
    keys = [f.key for f in strength(s, cart, NOMINAL)]
    assert len(set(keys)) == len(keys)
    assert {"cart.racking", "cart.shelf.sag", "cart.shelf.stress", "cart.push.stumble"} <= set(keys)
