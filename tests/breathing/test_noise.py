"""Sound at the ear against the rules' own tables."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kerfwind.breathing.noise import (
    added_db,
    cooling_air_m3_s,
    day_level_db,
    niosh_average_db,
    niosh_protection_db,
    noise_dose,
    osha_average_db,
    osha_protection_db,
)

SESSION = ([100.0, 90.0, 85.0], [20 * 60.0, 30 * 60.0, 60 * 60.0])


@pytest.mark.parametrize(
    ("one", "other", "both"), [(85, 95, 95.41), (90, 90, 93.01), (94, 100, 100.97)]
)
def test_levels_add_by_their_powers(one, other, both):
    assert added_db(one, other) == pytest.approx(both, abs=0.005)


@pytest.mark.parametrize(
    ("level", "hours"),
    [
        (80, 32),
        (85, 16),
        (90, 8),
        (92, 6.1),
        (95, 4),
        (97, 3.0),
        (100, 2),
        (105, 1),
        (110, 0.5),
        (115, 0.25),
    ],
)
def test_osha_allows_so_many_hours(level, hours):
    """29 CFR 1910.95, table G-16a: a full dose."""
    assert noise_dose([level], [hours * 3600], 90, 5) == pytest.approx(1.0, abs=0.011)


@pytest.mark.parametrize(
    ("level", "minutes"),
    [(85, 480), (88, 240), (91, 120), (94, 60), (97, 30), (100, 15), (103, 7.5)],
)
def test_niosh_allows_so_many_minutes(level, minutes):
    """NIOSH 98-126."""
    assert noise_dose([level], [minutes * 60], 85, 3) == pytest.approx(1.0, rel=1e-9)


def test_a_session_by_both_rules():
    # 20 min at 100, 30 at 90, 60 at 85: NIOSH 165.68 %, 87.19 dB; OSHA with threshold 80
    # 29.17 %, 81.11 dB (recomputed from the rules' formulas).
    niosh, osha = noise_dose(*SESSION, 85, 3, 80), noise_dose(*SESSION, 90, 5, 80)
    assert 100 * niosh == pytest.approx(165.68, abs=0.01)
    assert niosh_average_db(niosh) == pytest.approx(87.19, abs=0.005)
    assert 100 * osha == pytest.approx(29.17, abs=0.01)
    assert osha_average_db(osha) == pytest.approx(81.11, abs=0.005)


def test_oshas_own_example():
    # Appendix A: 92 dB for 8 h is 131 %.
    assert 100 * noise_dose([92], [8 * 3600], 90, 5) == pytest.approx(131, abs=1.1)


def test_equal_energy_is_nioshs_dose_in_other_words():
    # 3 dB an exchange is 3.01 by energy: alike within two tenths here.
    level = day_level_db(*SESSION)
    assert level == pytest.approx(niosh_average_db(noise_dose(*SESSION, 85, 3)), abs=0.2)


@pytest.mark.parametrize(
    ("protector", "keeps"), [("muffs", 0.75), ("foam plugs", 0.5), ("other plugs", 0.3)]
)
def test_ratings_are_derated(protector, keeps):
    """NIOSH 98-126: 25, 50 and 70 % off; 7 dB more for A-weighted levels."""
    assert niosh_protection_db(protector, 30.0) == pytest.approx(max(30 * keeps - 7, 0))
    assert niosh_protection_db("none", 30.0) == 0


@pytest.mark.parametrize(("rating", "takes"), [(27, 10), (33, 13), (5, 0)])
def test_osha_halves_what_is_left_of_a_rating(rating, takes):
    assert osha_protection_db(rating) == pytest.approx(takes)


def test_a_motors_heat_is_carried_off_by_air():
    # By hand: 1200 W / (1.2 kg/m³ x 1005 J/(kg K) x 20 K) = 0.0498 m³/s.
    assert cooling_air_m3_s(1200.0, 20.0) == pytest.approx(0.0498, abs=1e-4)


@given(
    st.lists(st.tuples(st.floats(60, 115), st.floats(0, 3e4)), min_size=1, max_size=6),
    st.floats(0, 3600),
)
def test_more_time_never_lowers_a_dose(parts, more):
    levels, times = zip(*parts, strict=True)
    longer = [times[0] + more, *times[1:]]
    for level, rate in ((85, 3), (90, 5)):
        assert noise_dose(levels, longer, level, rate, 80) >= noise_dose(
            levels, times, level, rate, 80
        ) * (1 - 1e-12)
    assert np.isfinite(noise_dose(levels, times, 85, 3))
