"""The lifting equation and plywood's allowed stress against published values, old and new."""

import pytest

from kerfwind.joinery.plywood import allowed_bending_pa
from kerfwind.joinery.screws import bending_yield_pa, lateral_n
from kerfwind.lifting import recommended_lift_kg
from kerfwind.sources import fact

IN, PSI, LB = 0.0254, 6894.757, 4.4482216152605


@pytest.mark.parametrize(
    ("reach", "hands", "travel", "coupling", "mass"),
    [(0.30, 0.75, 0.25, 1.0, 19.2), (0.38, 0.90, 0.80, 0.95, 12.0), (0.40, 0.30, 0.60, 0.95, 10.6)],
)
def test_recommended_mass(
    reach: float, hands: float, travel: float, coupling: float, mass: float
) -> None:
    """CCOHS; Occupational Ergonomics, chapter 46: RWL = 23 kg and its multipliers, recomputed."""
    assert float(recommended_lift_kg(reach, hands, travel, grip=coupling)) == pytest.approx(
        mass, abs=0.05
    )


@pytest.mark.parametrize(
    ("reach", "hands", "travel", "share"),
    [
        (0.40, 0.75, 0.25, 0.63),
        (0.25, 0.0, 0.25, 0.78),
        (0.25, 1.50, 0.25, 0.78),
        (0.25, 0.75, 0.40, 0.93),
        (0.25, 0.75, 1.00, 0.87),
    ],
)
def test_each_multiplier_alone(reach: float, hands: float, travel: float, share: float) -> None:
    """The same, its printed tables to two places."""
    assert float(recommended_lift_kg(reach, hands, travel)) / 23 == pytest.approx(share, abs=0.0055)


def test_nothing_is_lifted_out_of_reach() -> None:
    assert float(recommended_lift_kg(0.64, 0.75, 0.25)) == 0
    assert float(recommended_lift_kg(0.25, 1.80, 0.25)) == 0


def test_allowed_bending_by_duration_and_width() -> None:
    """APA D510C: × 0.9 lasting: 4.65 and 2.73 MPa; half of it under 8 in wide, all from 24 in."""
    assert allowed_bending_pa(0.7, "lasting") == pytest.approx(4.65e6, rel=0.005)
    assert allowed_bending_pa(0.7, "lasting", across=True) == pytest.approx(2.73e6, rel=0.005)
    assert allowed_bending_pa(0.1, "lasting") == pytest.approx(4.65e6 / 2, rel=0.005)
    assert allowed_bending_pa(16 * IN, "lasting") == pytest.approx(0.75 * 4.65e6, rel=0.005)
    # NDS 2018, load duration: ten minutes 1.6.
    assert allowed_bending_pa(0.7, "passing") == pytest.approx(1.6 * 5.17e6, rel=0.005)


@pytest.mark.parametrize(
    ("inches", "psi"),
    [(0.138, 1e5), (0.142, 1e5), (0.164, 9e4), (0.190, 8e4), (0.216, 8e4), (0.25, 7e4)],
)
def test_bending_yield_by_diameter(inches: float, psi: float) -> None:
    """NDS 2018, table I1; 90,000 psi stood there for all."""
    assert bending_yield_pa(inches * IN) / PSI == pytest.approx(psi, rel=1e-6)


def test_lateral_load_of_a_number_ten_screw() -> None:
    """NDS 2018, table 12L: G 0.50, side member 1/2 in, No. 10: 90 lb."""
    found = float(lateral_n(0.50, 0.190 * IN, 0.5 * IN, 10 * 0.190 * IN)) / LB
    assert found == pytest.approx(90, rel=0.01)


def test_a_walk() -> None:
    """Common practice: a slow walk to a brisk one, 1.4 m/s the ordinary."""
    walk = fact("cart.push.walk")
    assert (walk.low, walk.value, walk.high) == (1.0, 1.4, 1.6)
