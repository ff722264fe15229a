"""Bands against numpy's own quantiles."""

from __future__ import annotations

import numpy as np
import pytest

from kerfwind.quantity import band, middle


@pytest.mark.parametrize("shape", [(1,), (2,), (20,), (21,), (2048,), (3, 7), (2, 3, 128)])
def test_a_band_is_numpys_quantiles(shape: tuple[int, ...]) -> None:
    samples = np.random.default_rng(len(shape)).normal(size=shape)
    wanted = np.quantile(samples, (0.05, 0.5, 0.95), axis=-1)
    for found, level in zip(band(samples), wanted, strict=True):
        np.testing.assert_allclose(found, level, rtol=1e-14, atol=1e-14)


@pytest.mark.parametrize("count", [1, 2, 5, 128])
def test_a_middle_is_numpys_median(count: int) -> None:
    samples = np.random.default_rng(count).normal(size=count)
    assert middle(samples) == pytest.approx(float(np.median(samples)), rel=1e-15)
