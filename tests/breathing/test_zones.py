"""Two zones of air against the closed form, a solver of another kind, and the room's decay."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from kerfwind.breathing.zones import Zones

MINUTE = 60.0


def go(zones, seconds, near=0.0, far=0.0, modes=None):
    """Concentrations after a time, and both integrals."""
    start = modes or zones.modes(0.0, 0.0)
    step = zones.step(seconds)
    brought = zones.brought(zones.modes(near, far), step)
    end, held = zones.after(start, brought, step), zones.held(start, brought, step)
    return end, float(zones.near(end)), float(zones.far(end)), zones.near(held), zones.far(held)


def test_the_published_pair_to_all_its_digits():
    # V_far 52, V_near 8 m³, Q 1, β 10 m³/min, G 50 mg/min (recomputed from the pair's solution):
    # rates 1.44490 and 0.01663675 a minute, near 23.878 and far 19.293 mg/m³ at 30 min.
    zones = Zones(8.0, 52.0, 10 / MINUTE, 0.0, 1 / MINUTE)
    fast, slow = (float(r) * MINUTE for r in zones.rates)
    assert fast == pytest.approx(1.44490, abs=5e-6)
    assert slow == pytest.approx(0.01663675, abs=5e-9)
    _, near, far, _, _ = go(zones, 30 * MINUTE, near=50 / MINUTE)
    assert near == pytest.approx(23.878, abs=5e-4)
    assert far == pytest.approx(19.293, abs=5e-4)


def test_steady_both_are_what_goes_out_divides():
    # G 100 mg/min, Q 5, β 10 m³/min: far 20, near 30 mg/m³.
    zones = Zones(8.0, 52.0, 10 / MINUTE, 0.0, 5 / MINUTE)
    _, near, far, _, _ = go(zones, 1e7, near=100 / MINUTE)
    assert (near, far) == (pytest.approx(30.0), pytest.approx(20.0))


def test_a_well_mixed_room_is_the_limit():
    # 60 m³, Q 1 m³/min, G 50 mg/min: 19.673 mg/m³ at 30 min, 7.237 after another hour, half-life
    # 41.589 min (recomputed).
    zones = Zones(8.0, 52.0, 1e5, 0.0, 1 / MINUTE)
    modes, near, far, _, _ = go(zones, 30 * MINUTE, near=50 / MINUTE)
    assert near == pytest.approx(19.673, abs=1e-3)
    assert far == pytest.approx(19.673, abs=1e-3)
    _, near, _, _, _ = go(zones, 60 * MINUTE, modes=modes)
    assert near == pytest.approx(7.237, abs=1e-3)
    assert np.log(2) / float(zones.rates[1]) / MINUTE == pytest.approx(41.589, abs=1e-3)


@pytest.mark.parametrize(
    ("changes", "minutes"),
    [(1, (138, 276, 414)), (2, (69, 138, 207)), (6, (23, 46, 69)), (12, (12, 23, 35))],
)
def test_a_room_clears_as_in_the_table(changes, minutes):
    """CDC, MMWR 43 RR-13, table S3-1: minutes to remove 90, 99 and 99.9 %."""
    volume = 60.0
    zones = Zones(8.0, volume - 8.0, 1e5, 0.0, changes * volume / 3600)
    full = zones.modes(8.0, volume - 8.0)
    for left, told in zip((0.1, 0.01, 0.001), minutes, strict=True):
        _, _, far, _, _ = go(zones, told * MINUTE, modes=full)
        _, _, sooner, _, _ = go(zones, (told - 1) * MINUTE, modes=full)
        # The table rounds to whole minutes.
        assert far < left * 1.06
        assert sooner > left * 0.94


sizes = st.floats(0.5, 200.0)
rates = st.floats(1e-4, 2.0)


@given(sizes, sizes, rates, st.floats(0.0, 1.0), st.floats(0.0, 1.0), rates, st.floats(1.0, 4e4))
def test_what_is_made_is_somewhere(near_m3, far_m3, between, near_loss, far_loss, source, seconds):
    zones = Zones(near_m3, far_m3, between, near_loss, far_loss)
    _, near, far, near_held, far_held = go(zones, seconds, near=source, far=source / 3)
    gone = near_loss * near_held + far_loss * far_held
    made = source * 4 / 3 * seconds
    assert near * near_m3 + far * far_m3 + gone == pytest.approx(made, rel=1e-9)


@pytest.mark.parametrize("seed", range(12))
def test_a_solver_of_another_kind_agrees(seed):
    rng = np.random.default_rng(seed)
    vn, vf = rng.uniform(1, 10), rng.uniform(10, 120)
    b, ln, lf = rng.uniform(0.05, 0.5), rng.uniform(0, 0.05), rng.uniform(0, 0.3)
    gn, gf, time = rng.uniform(0, 2), rng.uniform(0, 1), rng.uniform(60, 7200)

    def change(_, c):
        across = b * (c[1] - c[0])
        return [(gn + across - ln * c[0]) / vn, (gf - across - lf * c[1]) / vf]

    told = solve_ivp(change, (0, time), [0.0, 0.0], rtol=1e-10, atol=1e-12, method="LSODA").y[:, -1]
    _, near, far, _, _ = go(Zones(vn, vf, b, ln, lf), time, near=gn, far=gf)
    assert (near, far) == (pytest.approx(told[0], rel=1e-6), pytest.approx(told[1], rel=1e-6))


def test_a_room_without_any_loss_keeps_all():
    zones = Zones(2.0, 50.0, 0.2, 0.0, 0.0)
    _, near, far, _, _ = go(zones, 3600.0, near=1e-6)
    assert near * 2 + far * 50 == pytest.approx(3.6e-3, rel=1e-10)
