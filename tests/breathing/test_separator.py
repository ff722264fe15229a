"""The separator and the filter against their sources."""

import numpy as np
import pytest

from kerfwind.breathing import separator
from kerfwind.sources import fact


def test_cyclone_cut_size():
    """Lapple: √(9 μ W / (2π N V (ρp − ρ))) with W = D/4, V = 8Q/D² and N = 6 turns."""
    mu, d, q, rho_p, rho = 1.81e-5, 0.15, 0.04, 700.0, 1.2
    general = np.sqrt(9 * mu * (d / 4) / (2 * np.pi * 6 * (8 * q / d**2) * (rho_p - rho)))
    cut = separator.cyclone_cut_m(d, q, rho_p, rho, mu)
    assert cut == pytest.approx(general)
    assert separator.cyclone_kept(cut, cut) == pytest.approx(0.5)


def test_a_cyclone_of_another_size_is_cut_elsewhere():
    # Lapple with D 0.15 m, 0.04 m³/s, grains of 1000 kg/m³ in air of 1.204: by hand
    # sqrt(3 x 1.81e-5 x 0.003375 / (128 π x 0.04 x 998.8)) = 3.38 µm.
    cut = separator.cyclone_cut_m(0.15, 0.04, 1000.0, 1.204, 1.81e-5)
    assert cut * 1e6 == pytest.approx(3.38, abs=0.01)
    kept = separator.cyclone_kept(np.array([1e-6, 10e-6, 100e-6]), cut)
    assert np.all(np.diff(kept) > 0)


@pytest.mark.parametrize(
    ("mass", "area", "low", "high"), [(0.3, 0.5, 7_808, 35_675), (0.5, 0.3, 36_150, 165_161)]
)
def test_a_cake_resists_as_measured(mass, area, low, high):
    """Dembiński and others 2021, abstract: K 6,507 (new) to 29,729 1/s; R = K M / A²."""
    cake = np.array(fact("breathing.filter.cake").span)
    assert separator.cake_resistance(mass, area, cake) == pytest.approx([low, high], abs=1.0)


@pytest.mark.parametrize(("known", "most"), [("L", 0.01), ("M", 0.001), ("H", 0.00005)])
def test_classes_of_filters_let_no_more_pass_than_they_may(known, most):
    """EN 60335-2-69, second hand: 1 %, 0.1 %, 0.005 %."""
    assert fact(f"breathing.filter.{known}").span[1] == pytest.approx(most)


def test_a_seal_leaks_what_no_class_speaks_of():
    assert separator.filter_passes(1e-6, 0.001, 0.01) == pytest.approx(0.01 + 0.99 * 0.001)
    assert separator.filter_passes(80e-6, 0.001, 0.01) == pytest.approx(0.01, rel=0.01)
