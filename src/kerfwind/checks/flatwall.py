"""A box's flat wall under suction: how far it gives, by the theory of plates.

A flat wall bends where a cylinder's wall is only pressed: by small deflections it answers in
proportion to the pressure, and once it has moved by about half its thickness it stretches as
well. The four edges lie between simply held and clamped, and between free to be drawn in and
not: a bucket's corners and rim are neither.
"""

from __future__ import annotations

import math

import numpy as np

from ..fact_samples import Samples
from ..sources import fact

_TERMS = 24
_ASPECTS = (1.0, 1.2, 1.5, 2.0)


def stiffness_nm(
    modulus_pa: Samples | float, wall_m: Samples | float, poisson: Samples | float
) -> Samples:
    """Bending stiffness per width of a wall [N m]: E t³ / (12 (1 − ν²)).

    Parameters
    ----------
    modulus_pa
        Young's modulus [Pa].
    wall_m
        Thickness [m].
    poisson
        Poisson's ratio.

    Examples
    --------
    >>> round(float(stiffness_nm(7e9, 0.018, 0.3)))
    3738
    """
    stiffness: Samples = np.asarray(modulus_pa) * np.asarray(wall_m) ** 3 / (12 * (1 - poisson**2))
    return stiffness


def simply_held(aspect: Samples | float) -> Samples:
    """Middle's deflection over q a⁴ / D, four edges simply held, a the short side.

    Navier's series: 16 / π⁶ ΣΣ ± 1 / (m n (m² + n² / r²)²) over odd m and n, r the long side
    over the short one (Timoshenko and Woinowsky-Krieger, article 30).

    Examples
    --------
    >>> round(float(simply_held(1.0)), 5)
    0.00406
    """
    r = np.asarray(aspect, dtype=float)[..., None, None]
    odd = np.arange(1, 2 * _TERMS, 2)
    m, n = odd[:, None], odd[None, :]
    sign = np.where((m + n) // 2 % 2 == 1, 1.0, -1.0)
    terms = sign / (m * n * (m**2 + n**2 / r**2) ** 2)
    coefficient: Samples = 16 / math.pi**6 * terms.sum(axis=(-2, -1))
    return coefficient


def clamped(aspect: Samples | float, what: str = "deflection") -> Samples:
    """Middle's deflection over q a⁴ / D, or the ``moment`` amid a long edge over q a².

    Four edges clamped: Timoshenko and Woinowsky-Krieger, table 35, between its rows; from
    twice as long as wide on, that of an endless strip is within 3 %.
    """
    rows = [fact(f"cart.plate.clamped_{what}_{a:g}").value for a in _ASPECTS]
    coefficient: Samples = np.interp(np.asarray(aspect, dtype=float), _ASPECTS, rows)
    return coefficient


def flat_until_pa(
    modulus_pa: Samples | float,
    wall_m: Samples | float,
    short_m: Samples | float,
    poisson: float,
    coefficient: Samples | float,
) -> Samples:
    """Pressure at which a wall has given by half its thickness [Pa].

    Beyond that the theory of small deflections ends (Timoshenko and Woinowsky-Krieger, chapter
    2: deflections small against the thickness; half of it is the usual reading). ``coefficient``
    is the deflection over q a⁴ / D.
    """
    rigid = stiffness_nm(modulus_pa, wall_m, poisson)
    pressure: Samples = (
        0.5 * np.asarray(wall_m) * rigid / (np.asarray(coefficient) * np.asarray(short_m) ** 4)
    )
    return pressure


def dished_m(
    pressure_pa: Samples | float,
    modulus_pa: Samples | float,
    wall_m: Samples | float,
    short_m: Samples | float,
    poisson: float,
    coefficient: Samples | float,
) -> Samples:
    """How far a wall whose edges are not drawn in gives in its middle [m].

    The pressure is shared between bending and stretching (Timoshenko and Woinowsky-Krieger,
    article 101): q = D w / (k a⁴) + 64/3 E t w³ / ((1 − ν²) a⁴), the second part that of a
    strip stretched to a parabola between edges that keep their distance. Walls whose edges are
    drawn in give more.
    """
    a4 = np.asarray(short_m, dtype=float) ** 4
    linear = stiffness_nm(modulus_pa, wall_m, poisson) / (np.asarray(coefficient) * a4)
    cubic = 64 / 3 * np.asarray(modulus_pa) * np.asarray(wall_m) / ((1 - poisson**2) * a4)
    # The one real root of c w³ + l w = q, by Cardano's formula with hyperbolic functions.
    p, q = linear / cubic, np.asarray(pressure_pa) / cubic
    root = 2 * np.sqrt(p / 3)
    dished: Samples = root * np.sinh(np.arcsinh(1.5 * q / p * np.sqrt(3 / p)) / 3)
    return dished


def edge_stress_pa(
    pressure_pa: Samples | float,
    wall_m: Samples | float,
    short_m: Samples | float,
    aspect: Samples | float,
) -> Samples:
    """Bending stress amid a clamped long edge by small deflections [Pa]: 6 β q a² / t²."""
    moment = clamped(aspect, "moment") * np.asarray(pressure_pa) * np.asarray(short_m) ** 2
    stress: Samples = 6 * moment / np.asarray(wall_m) ** 2
    return stress
