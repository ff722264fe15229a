"""The separator and the filter against their sources."""

import numpy as np
import pytest

from kerfwind.breathing import separator


def test_cyclone_cut_size():
    """Lapple: √(9 μ W / (2π N V (ρp − ρ))) with W = D/4, V = 8Q/D² and N = 6 turns."""
    mu, d, q, rho_p, rho = 1.81e-5, 0.15, 0.04, 700.0, 1.2
    general = np.sqrt(9 * mu * (d / 4) / (2 * np.pi * 6 * (8 * q / d**2) * (rho_p - rho)))
    cut = separator.cyclone_cut_m(d, q, rho_p, rho, mu)
    assert cut == pytest.approx(general)
    assert separator.cyclone_kept(cut, cut) == pytest.approx(0.5)
