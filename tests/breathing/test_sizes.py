"""Sizes of dust against the conventions and the textbook."""

import numpy as np
import pytest

from kerfwind.breathing.sizes import (
    EDGES_M,
    SIZES_M,
    inhalable,
    respirable,
    settling_m_s,
    shares,
    thoracic,
)

#: EN 481 and ISO 7708 (values recomputed from the conventions; 11.64 from memory), percent.
CONVENTIONS = [
    (1, 97.1, 97.1, 97.1),
    (2, 94.3, 94.3, 91.4),
    (3, 91.8, 91.7, 73.9),
    (4, 89.3, 89.0, 50.0),
    (5, 87.0, 85.4, 30.0),
    (7, 82.9, 74.2, 9.0),
    (10, 77.4, 50.0, 1.3),
    (15, 70.3, 18.7, 0.1),
    (25, 61.2, 1.8, 0.0),
]


@pytest.mark.parametrize(("micron", "i", "t", "r"), CONVENTIONS)
def test_what_is_breathed_is_that_of_the_conventions(micron, i, t, r):
    size = micron * 1e-6
    assert 100 * inhalable(size) == pytest.approx(i, abs=0.06)
    assert 100 * thoracic(size) == pytest.approx(t, abs=0.06)
    assert 100 * respirable(size) == pytest.approx(r, abs=0.06)


@pytest.mark.parametrize(("micron", "i"), [(50, 52.5), (100, 50.1)])
def test_half_of_the_coarsest_floating_dust_is_breathed(micron, i):
    assert 100 * inhalable(micron * 1e-6) == pytest.approx(i, abs=0.06)


@pytest.mark.parametrize(
    ("micron", "speed", "within"),
    [
        # Stokes with slip, unit density, 20 °C (second hand).
        (1, 3.51e-5, 0.01),
        (2, 1.30e-4, 0.01),
        (5, 7.77e-4, 0.01),
        (10, 3.06e-3, 0.015),
        (20, 1.21e-2, 0.04),
        # With a drag law; ours is another one.
        (50, 0.073, 0.05),
        (100, 0.255, 0.05),
    ],
)
def test_dust_falls_as_fast_as_in_the_textbook(micron, speed, within):
    assert settling_m_s(micron * 1e-6) == pytest.approx(speed, rel=within)


def test_a_distribution_is_whole_and_has_its_median_and_spread():
    whole = shares(np.array([20e-6, 500e-6]), 2.0)
    assert whole.sum(axis=0) == pytest.approx(1.0, abs=1e-12)
    under = np.cumsum(whole, axis=0)
    for column, median in enumerate((20e-6, 500e-6)):
        at = np.interp(0.5, under[:, column], np.log(EDGES_M[1:]))
        assert np.exp(at) == pytest.approx(median, rel=0.03)
        # One geometric deviation over the median: 84.13 %.
        over = np.interp(np.log(2 * median), np.log(EDGES_M[1:]), under[:, column])
        assert over == pytest.approx(0.8413, abs=0.015)


def test_size_classes_lie_end_to_end():
    assert np.all(EDGES_M[:-1] < SIZES_M)
    assert np.all(EDGES_M[1:] > SIZES_M)
