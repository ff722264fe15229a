"""Where the motor's exhaust blows: at the floor's dust, or at whoever stands there.

::

     head    \\
    [vents]===>------------  jet, axis level     ^
    | tank |     \\  its lower edge               | height
    |______|        \\                            v
    =========----------\\----------------------- floor
                         fastest here

Vents of any shape blow like one round jet of the same air and area, a few widths away.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from ..cart.model import FREE_M, Sizes
from ..fact_samples import Samples, spread_fact
from ..facts import Amount, Listing, Term, facts
from ..finding import Finding, Level, finding, judge
from ..quantity import Draw, Quantity, middle
from ..shop import AssumedText, Shop
from ..sources import fact


def jet_speed_m_s(airflow_m3_s: ArrayLike, vents_m2: ArrayLike, distance_m: ArrayLike) -> Samples:
    """Speed on a free round jet's axis [m/s]: U = B U0 d / x, no more than U0.

    Parameters
    ----------
    airflow_m3_s, vents_m2
        Air through the vents and their free area together.
    distance_m
        x, from the vents.

    Notes
    -----
    Turbulent round jet, fact ``cart.exhaust.decay`` for B; d is the round vent's diameter
    of the same area. A real jet that meets wood spreads and slows more.
    """
    exit_speed = np.asarray(airflow_m3_s, dtype=float) / np.asarray(vents_m2, dtype=float)
    diameter = np.sqrt(4 * np.asarray(vents_m2, dtype=float) / np.pi)
    along = fact("cart.exhaust.decay").value * diameter / np.asarray(distance_m, dtype=float)
    speed: Samples = exit_speed * np.minimum(along, 1.0)
    return speed


def floor_speed_m_s(airflow_m3_s: ArrayLike, vents_m2: ArrayLike, height_m: ArrayLike) -> Samples:
    """Fastest air that a level jet leaves along a floor below it [m/s].

    The jet's profile is U exp(-ln 2 (r / S x)²); at r = height h it is fastest where
    h = S x / √(2 ln 2), and the floor mirrors the jet, which adds as momentum does: √2.
    Facts ``cart.exhaust.decay`` and ``cart.exhaust.spread`` for B and S.
    """
    spread = fact("cart.exhaust.spread").value
    height = np.asarray(height_m, dtype=float)
    reach = height * np.sqrt(2 * np.log(2)) / spread
    on_axis = jet_speed_m_s(airflow_m3_s, vents_m2, reach)
    speed: Samples = np.sqrt(2) * on_axis * np.exp(-0.5)
    return speed


def exhaust_findings(
    shop: Shop, draw: Draw, sizes: Sizes, gaps: dict[str, float], hands_on: tuple[str, ...]
) -> list[Finding]:
    """What the exhaust is aimed at.

    Parameters
    ----------
    gaps
        Free distance on each side of the vacuum, as the form says [m].
    hands_on
        Sides at which whoever pushes the cart stands.
    """
    return [_floor(shop, draw, sizes, gaps), _person(shop, sizes, gaps, hands_on)]


def _airflow(shop: Shop) -> tuple[Quantity, list[Quantity]]:
    """The most air that leaves it, and what of that could still be measured."""
    suction = shop.vacuum.suction
    if suction.points:
        most = max((p.airflow for p in suction.points), key=lambda q: q.best_si)
        return most, [most]
    # With a home test the label's range is only what is usual; there is nothing more to read.
    return suction.open_airflow, [] if suction.home_test else [suction.open_airflow]


def _height_m(shop: Shop, draw: Draw, sizes: Sizes) -> Samples:
    """Height of the middle of the vents above the floor, over the draw [m]."""
    vacuum = shop.vacuum
    if vacuum.exhaust_height is not None:
        return sizes.bottom_top_m + draw.of(vacuum.exhaust_height)
    return sizes.bottom_top_m + spread_fact("cart.exhaust.head", draw) * draw.of(vacuum.height)


def _floor(shop: Shop, draw: Draw, sizes: Sizes, gaps: dict[str, float]) -> Finding:
    vacuum = shop.vacuum
    side, measured = vacuum.air_out_on, vacuum.exhaust_height
    height = _height_m(shop, draw, sizes)
    flow, rests_on = _airflow(shop)
    airflow = draw.of(flow)
    vents = spread_fact("cart.exhaust.vents", draw)

    def speed(way: str) -> Samples:
        if way == "top" or gaps[way] >= FREE_M:
            return floor_speed_m_s(airflow, vents, height)
        return jet_speed_m_s(airflow, vents, gaps[way] + height)

    limit = spread_fact("cart.exhaust.lifts", draw)
    shut_in = side != "top" and gaps[side] < FREE_M
    others = [float(np.mean(speed(w) <= limit)) > 0.9 for w in gaps]
    unresolved = [
        *(["vacuum.air_out_on"] if isinstance(side, AssumedText) and len(set(others)) > 1 else []),
        *(["vacuum.exhaust_height"] if measured is not None and measured.assumed else []),
    ]
    return judge(
        key="cart.exhaust.floor",
        about=Term("part", "vacuum"),
        draw=draw,
        value=speed(side),
        limit=limit,
        must="at most",
        dimension="speed",
        rests_on=rests_on,
        unresolved=unresolved,
        sources=["cart.exhaust.lifts", "cart.exhaust.decay", "cart.exhaust.vents"],
        outcome="turned_down" if shut_in else "lifts_dust",
        facts=facts(
            blows=Term("blows", side),
            to="top" if side == "top" else "side",
            height=Amount(middle(height), "length"),
            wood=Amount(gaps[side], "length"),
            clear=Amount(fact("cart.air.gap").value, "length"),
        ),
        fail="advice" if shut_in else "problem",
    )


def _person(shop: Shop, sizes: Sizes, gaps: dict[str, float], hands_on: tuple[str, ...]) -> Finding:
    vacuum = shop.vacuum
    side = vacuum.air_out_on
    nominal = Draw(1)
    airflow = nominal.of(_airflow(shop)[0])
    at_a_metre = jet_speed_m_s(airflow, fact("cart.exhaust.vents").value, 1.0)
    levels = {w: _aimed(w, gaps, hands_on) for w in gaps}
    level = levels[side]
    guessed = isinstance(side, AssumedText) and len(set(levels.values())) > 1
    gap = fact("cart.air.gap").value
    free = [w for w in gaps if levels[w] == "good" and gaps[w] >= gap and w not in ("top", side)]
    spread = side != "top" and gaps[side] < FREE_M
    return finding(
        "cart.exhaust.person",
        "at_worker"
        if level == "problem"
        else "at_pusher"
        if level == "advice"
        else "spread"
        if spread
        else "clear",
        "unknown" if guessed else level,
        Term("part", "vacuum"),
        facts=facts(
            blows=Term("blows", side),
            hands=Listing(tuple(Term("at", w) for w in hands_on), "or"),
            speed=Amount(float(at_a_metre[0]), "speed"),
            height=Amount(float(_height_m(shop, nominal, sizes)[0]), "length"),
            known="assumed" if guessed else "known",
            turn="yes" if free and vacuum.inlet_on == "top" else "no",
            free=Listing(tuple(Term("blows", w) for w in free), "or"),
            clear=Amount(gap, "length"),
        ),
        sources=("cart.exhaust.decay", "cart.exhaust.vents"),
        measure=("vacuum.air_out_on",) if guessed else (),
    )


def _aimed(way: str, gaps: dict[str, float], hands_on: tuple[str, ...]) -> Level:
    """What to say of an exhaust on one side: wood close by spreads it before anyone feels it."""
    if way == "top" or gaps[way] < FREE_M:
        return "good"
    if way == "front":
        return "problem"
    return "advice" if way in hands_on else "good"
