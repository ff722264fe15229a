"""Friction and losses against `fluids` and published tables."""

import numpy as np
import pytest
from fluids import fittings, friction
from hypothesis import given
from hypothesis import strategies as st

from kerfwind.air import losses
from kerfwind.air.friction import churchill, churchill_float, churchill_with_slope, corrugated_hose
from kerfwind.air.properties import density, viscosity
from kerfwind.sources import fact

BORES = [(0.032, 0.057), (0.050, 0.0565), (0.038, 0.1016), (0.05, 0.05)]


@pytest.mark.parametrize("reynolds", [200, 2000, 5000, 4e4, 1e5, 5e5])
@pytest.mark.parametrize("rough", [0.0, 1e-5, 1e-3])
def test_friction_is_churchills(reynolds, rough):
    assert churchill(reynolds, rough) == pytest.approx(
        friction.Churchill_1977(reynolds, rough), rel=1e-9
    )


@given(st.floats(1e-4, 1e7), st.floats(0, 0.03))
def test_slope_of_friction_and_plain_floats(reynolds, rough):
    f, slope = churchill_with_slope(reynolds, rough)
    step = 1e-5
    other = churchill(reynolds * np.exp(step), rough) / churchill(reynolds * np.exp(-step), rough)
    assert slope == pytest.approx(np.log(other) / (2 * step), abs=2e-3)
    assert slope > -2  # the loss of a run grows with its flow
    assert churchill_float(reynolds, rough) == pytest.approx((float(f), float(slope)), rel=1e-9)


@pytest.mark.parametrize(
    ("cfm", "inches", "inh2o_per_100_ft"), [(3000, 16, 0.36), (2000, 14, 0.32)]
)
def test_duct_friction_chart(cfm, inches, inh2o_per_100_ft):
    """SMACNA, HVAC Systems Duct Design, sizing example; galvanised duct, 0.09 mm."""
    rho, mu = density(101_325, 294.26), viscosity(294.26)
    bore, flow = inches * 0.0254, cfm * 0.3048**3 / 60
    speed = flow / (np.pi / 4 * bore**2)
    f = churchill(rho * speed * bore / mu, 0.00009 / bore)
    lost = f * 30.48 / bore * rho * speed**2 / 2
    assert lost / 249.089 == pytest.approx(inh2o_per_100_ft, rel=0.04)


def test_ribbed_hose():
    """Small pitch: each rib loses (2 · 0.438 s/D)²; so f tends to 0.767 s/D."""
    assert corrugated_hose(1e-4) == pytest.approx(0.7674e-4, rel=1e-3)
    pitch = np.linspace(0.02, 0.2, 20)
    assert np.all(np.diff(corrugated_hose(pitch)) > 0)
    with pytest.raises(ValueError, match="pitch"):
        corrugated_hose(0.0)


@pytest.mark.parametrize(("small", "large"), BORES)
def test_changes_of_bore_are_those_of_fluids(small, large):
    assert losses.contraction_sharp(small, large) == pytest.approx(
        fittings.contraction_sharp(large, small, method="Rennels"), rel=1e-9, abs=1e-12
    )
    assert losses.enlargement_sharp(small, large) == pytest.approx(
        fittings.diffuser_sharp(small, large, method="Rennels"), rel=1e-9, abs=1e-12
    )
    if small == large:
        return
    for degrees in (10.0, 30.0, 60.0, 120.0):
        angle = np.radians(degrees)
        assert losses.contraction_conical(small, large, angle) == pytest.approx(
            fittings.contraction_conical_Crane(large, small, angle=degrees), rel=1e-9
        )
        assert losses.enlargement_conical(small, large, angle) == pytest.approx(
            fittings.diffuser_conical_Crane(small, large, angle=degrees), rel=1e-9
        )


@given(st.floats(0.01, 0.2), st.floats(1.01, 5.0))
def test_enlargement_is_the_lost_energy_of_two_streams(small, ratio):
    """h = (V1 − V2)²/2g (Borda, Carnot), from momentum alone."""
    v1, v2 = 1.0, 1.0 / ratio**2
    momentum = v2 * (v1 - v2)  # static pressure regained over density
    energy = (v1**2 - v2**2) / 2 - momentum
    assert losses.enlargement_sharp(small, small * ratio) == pytest.approx(
        2 * energy / v1**2, rel=1e-9
    )


@pytest.mark.parametrize("degrees", [30, 45, 90, 180])
@pytest.mark.parametrize("ratio", [0.8, 1.5, 3.0])
def test_bends_are_those_of_fluids(degrees, ratio):
    theirs = fittings.bend_rounded(
        Di=0.05, angle=degrees, fd=0.04, rc=0.05 * ratio, method="Rennels"
    )
    assert losses.bend(np.radians(degrees), ratio, 0.04) == pytest.approx(theirs, rel=1e-9)


def test_step_takes_the_way_the_air_goes():
    down, up = losses.step(0.057, 0.038), losses.step(0.038, 0.057)
    assert down == losses.contraction_sharp(0.038, 0.057)
    assert up == losses.enlargement_sharp(0.038, 0.057)
    assert losses.step(np.array([0.05, 0.06]), np.array([0.06, 0.05])).shape == (2,)


def test_cyclone_of_standard_proportions_loses_eight_heads():
    """Shepherd and Lapple: 8 for height D/2, width D/4, outlet D/2 (from memory)."""
    d = 0.15
    assert losses.cyclone_shepherd_lapple(d / 2 * d / 4, d / 2) == pytest.approx(8.0)
    round_inlet = losses.cyclone_casal(np.pi / 4 * 0.05**2, 0.05)
    ours = losses.cyclone_shepherd_lapple(np.pi / 4 * 0.05**2, 0.05)
    assert round_inlet == pytest.approx(10.30, abs=0.005)
    assert ours == pytest.approx(12.57, abs=0.005)
    # Of the first the standard deviation is 1.61, of the second 2.58: the way's spread holds both.
    low, high = fact("air.cyclone_factor").span
    assert low * ours == pytest.approx(10.30 - 1.61, rel=0.01)
    assert high * ours == pytest.approx(12.57 + 2.58, rel=0.01)


def test_cyclone_relations_as_printed():
    """Wang, Pereira and Hung, Air Pollution Control Engineering (2004), equations 32 and 33."""
    d = 0.15
    assert losses.cyclone_casal(d / 2 * d / 4, d / 2) == pytest.approx(6.16, abs=0.005)
    # Stairmand's and Swift's high-efficiency proportions, second hand.
    for high, wide, out, heads in ((0.5, 0.2, 0.5, 6.4), (0.44, 0.21, 0.4, 9.24)):
        loss = losses.cyclone_shepherd_lapple(high * d * wide * d, out * d)
        assert loss == pytest.approx(heads, rel=0.005)


@pytest.mark.parametrize(
    ("ratio", "factor"),
    # SMACNA, HVAC Systems Duct Design, 4th edition, table A-7: smooth round elbows of 90°.
    [(0.5, 0.71), (0.75, 0.33), (1, 0.22), (1.5, 0.15), (2, 0.13), (2.5, 0.12)],
)
def test_published_elbows_lie_in_the_spread_of_bends(ratio, factor):
    low, high = fact("air.bend_spread").span
    ours = float(losses.bend(np.pi / 2, ratio, 0.019))
    assert low * ours <= factor <= high * ours


def test_stamped_elbows_lie_in_the_spread_of_bends():
    """ASHRAE Fundamentals 2009, 21.26: stamped, r/D 1.5, 75 mm: 0.30 (90°), 0.18 (45°)."""
    low, high = fact("air.bend_spread").span
    for degrees, factor in ((90, 0.30), (45, 0.18)):
        ours = float(losses.bend(np.radians(degrees), 1.5, 0.019))
        assert low * ours <= factor <= high * ours


@pytest.mark.parametrize("degrees", [30, 45, 60, 90])
@pytest.mark.parametrize(("branch", "share"), [(0.05, 0.2), (0.05, 0.6), (0.03, 0.3)])
def test_wyes_are_those_of_fluids(degrees, branch, share):
    """Crane TP 410, example 7-35 is in `fluids`' own documentation: −0.0404 and 0.3258."""
    main, q = 0.05, 0.02
    args = (main, branch, q * (1 - share), q * share, degrees)
    assert losses.wye_branch(main, branch, share, np.radians(degrees)) == pytest.approx(
        fittings.K_branch_converging_Crane(*args), rel=1e-6
    )
    if degrees < 65 or degrees == 90:
        assert losses.wye_run(main, branch, share, np.radians(degrees)) == pytest.approx(
            fittings.K_run_converging_Crane(*args), rel=1e-6
        )


def test_crane_example_7_35():
    share = 0.00633 / (0.018917 + 0.00633)
    assert losses.wye_branch(0.1023, 0.1023, share, np.pi / 2) == pytest.approx(-0.04044, abs=1e-4)
    assert losses.wye_run(0.1023, 0.1023, share, np.pi / 2) == pytest.approx(0.32576, abs=1e-4)


def test_branch_entry_table():
    assert losses.branch_entry(np.radians([0, 15, 30, 45, 90])) == pytest.approx(
        [0, 0.09, 0.18, 0.28, 1.0]
    )
    with pytest.raises(ValueError, match="angle"):
        losses.branch_entry(np.radians(120))
