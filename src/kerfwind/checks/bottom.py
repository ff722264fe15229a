"""The bottom as a beam from caster to caster, either way.

Seen from the front::

        vacuum      bucket on its uprights
          |P1        |P2/2   |P2/2
    ======v==========v=======v====   bottom, and lippings along it on edge
     ^                          ^
     casters
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from ..cart.loads import SEPARATOR
from ..fact_samples import Samples, spread_fact
from ..facts import Amount, Term, facts
from ..finding import Finding, judge
from ..quantity import Draw, Quantity, middle
from ..sources import fact
from .checked import CheckedCart

_PIECES = 200


def midspan_m(
    forces: Sequence[tuple[Samples, Samples]],
    span_m: float,
    modulus_pa: Samples,
    inertia_m4: NDArray[np.float64],
) -> Samples:
    """Deflection at the middle of a simply supported beam of varying stiffness [m], shape (n,).

    By the unit load method: ∫ M m / (E I) dx, m the moment of a unit force at midspan. The
    most along the beam is little larger: a fortieth where it is of one stiffness (beam tables,
    from memory).

    Parameters
    ----------
    forces
        Each force [N] and its distance from one end [m], shapes (n,); beyond an end it bends
        nothing.
    modulus_pa
        Modulus of elasticity, shape (n,).
    inertia_m4
        Second moment of area along the beam, in as many equal pieces as there are values.
    """
    pieces = len(inertia_m4)
    x = (np.arange(pieces) + 0.5) * span_m / pieces
    unit = np.minimum(x, span_m - x) / 2 / inertia_m4
    # Of a force at ``a`` the moment at x is x (span − a) / span before it, (span − x) a / span
    # behind it: sums over the pieces before each place serve all samples.
    before = np.concatenate([[0.0], np.cumsum(unit * x)])
    behind = np.concatenate([[0.0], np.cumsum((unit * (span_m - x))[::-1])])[::-1]
    bent: Samples = np.zeros_like(modulus_pa)
    for force, at in forces:
        a = np.clip(at, 0.0, span_m)
        piece = np.searchsorted(x, a)
        bent = bent + force * ((span_m - a) * before[piece] + a * behind[piece])
    return bent / pieces / modulus_pa


def bottom_findings(cart: CheckedCart, draw: Draw, rests_on: Sequence[Quantity]) -> list[Finding]:
    """Sag of the bottom after years under all that the cart carries, the worse of its two ways.

    The nest chooses which way its face grain lies, so the modulus across the grain counts.
    Panels on edge along it add their own stiffness, as if not glued to one beam with it.
    """
    sag, span = max((_sag(cart, draw, axis) for axis in (0, 1)), key=lambda s: middle(s[0]) / s[1])
    return [
        judge(
            key="cart.bottom.sag",
            about=Term("panel", "bottom"),
            draw=draw,
            value=sag,
            limit=span * fact("cart.shelf.sag").value,
            must="at most",
            dimension="length",
            rests_on=rests_on,
            fail="advice",
            sources=[
                "cart.plywood.modulus",
                "cart.plywood.modulus_ratio",
                "cart.plywood.creep",
                "cart.shelf.sag",
            ],
            outcome="sags",
            facts=facts(sag=Amount(middle(sag), "length")),
        )
    ]


def _sag(cart: CheckedCart, draw: Draw, axis: int) -> tuple[Samples, float]:
    """Sag along one way after years, and the span between its casters [m]."""
    middles = np.array(cart.casters_xy)[:, axis]
    start, span = float(middles.min()), float(np.ptp(middles))
    bottom = cart.body("bottom")
    thick = float(bottom.high[2] - bottom.low[2])
    x = start + (np.arange(_PIECES) + 0.5) * span / _PIECES
    across = float((bottom.high - bottom.low)[1 - axis])
    inertia = np.full(_PIECES, across * thick**3 / 12)
    joined = {
        n for j in cart.joints if "bottom" in (j.first, j.second) for n in (j.first, j.second)
    }
    for name in sorted(joined - {"bottom"}):
        body = cart.body(name)
        size = body.high - body.low
        if size[2] > thick and size[axis] > size[1 - axis]:
            there = (x > body.low[axis]) & (x < body.high[axis])
            inertia = inertia + there * float(size[1 - axis]) * float(size[2]) ** 3 / 12
    own = spread_fact("cart.plywood.density", draw) * bottom.volume_m3
    vacuum = cart.parts["vacuum"]
    # An even load deflects midspan five eighths as far as the same load there (beam tables,
    # from memory).
    loads = [
        (vacuum.mass_kg, vacuum.centre_m[axis]),
        (own * 5 / 8, np.full(draw.count, start + span / 2)),
    ]
    above = cart.parts["plywood"].mass_kg - own
    names = [n for n in SEPARATOR if n in cart.parts]
    carried = [cart.parts[n].mass_kg for n in names]
    on = sorted({j.second for j in cart.joints if j.first == "shelf"} & joined)
    if on:
        each: Samples = np.sum([above, *carried], axis=0) / len(on)
        loads += [(each, np.full(draw.count, _middle(cart, n)[axis])) for n in on]
    elif names:
        loads.append((np.sum(carried, axis=0), cart.parts["bucket"].centre_m[axis]))
    modulus = spread_fact("cart.plywood.modulus", draw)
    modulus = modulus * spread_fact("cart.plywood.modulus_ratio", draw)
    gravity = fact("general.gravity").value
    forces = [(mass * gravity, at - start) for mass, at in loads]
    return fact("cart.plywood.creep").value * midspan_m(forces, span, modulus, inertia), span


def _middle(cart: CheckedCart, name: str) -> np.ndarray:
    body = cart.body(name)
    middle: np.ndarray = (body.low + body.high) / 2
    return middle
