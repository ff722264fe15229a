"""Whether the separator's bucket stands the vacuum's sealed suction when a port blocks."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from ..fact_samples import Samples, spread_fact
from ..facts import Amount, Band, Term, facts
from ..finding import Finding, finding, judge
from ..quantity import Draw
from ..shop import Bucket, Shop
from ..sources import fact
from .checker import distinct
from .flatwall import clamped, dished_m, edge_stress_pa, flat_until_pa, simply_held

_MADE_OF = {"plastic": "", "fibre": "_fibre", "steel": "_steel"}


def buckling_pressure_pa(
    modulus_pa: Samples | float,
    wall_m: Samples | float,
    diameter_m: Samples | float,
    length_m: Samples | float,
    poisson: float,
) -> Samples:
    """Outside pressure at which a perfect short cylinder's wall buckles [Pa].

    Windenburg and Trilling (1934): p = 2.42 E (t/D)^2.5 / ((1 − ν²)^0.75 (L/D − 0.45 √(t/D))),
    elastic, with rigid ends a distance L apart. Not for tubes so long that L/D no longer
    matters, nor so short that the denominator is not positive (then NaN).
    """
    thin = np.asarray(wall_m, dtype=float) / diameter_m
    ends = np.asarray(length_m, dtype=float) / diameter_m - 0.45 * np.sqrt(thin)
    ends = np.where(ends > 0, ends, np.nan)
    pressure: Samples = 2.42 * modulus_pa * thin**2.5 / ((1 - poisson**2) ** 0.75 * ends)
    return pressure


def lid_force_n(suction_pa: Samples | float, area_m2: Samples | float) -> Samples:
    """Force of the suction on a flat lid [N]."""
    force: Samples = np.asarray(suction_pa) * np.asarray(area_m2, dtype=float)
    return force


def lid_area_m2(bucket: Bucket, draw: Draw) -> Samples:
    """Area of the lid inside the rim: a circle, or a box's rectangle less its corners [m²]."""
    wide, long = (draw.of(q) for q in bucket.top)
    if bucket.corner is None:
        circle: Samples = math.pi / 4 * wide**2
        return circle
    box: Samples = wide * long - (4 - math.pi) * draw.of(bucket.corner) ** 2
    return box


def valve_flow_m3_s(
    open_airflow_m3_s: Samples, sealed_pa: Samples, opening_pa: Samples | float
) -> Samples:
    """Air a relief valve must let in so that suction stays at its opening pressure [m³/s].

    The vacuum's own airflow at that suction, on a straight suction curve.
    """
    share = np.clip(1 - np.asarray(opening_pa, dtype=float) / sealed_pa, 0.0, 1.0)
    flow: Samples = open_airflow_m3_s * share
    return flow


def bucket_findings(shop: Shop, draw: Draw) -> list[Finding]:
    """The wall and the lid against sealed suction; theory alone never answers ``good``."""
    if not shop.separator.in_use:
        return []
    bucket, suction = shop.separator.bucket, shop.vacuum.suction
    sealed = draw.of(suction.sealed)
    if suction.points:
        sealed = np.maximum.reduce([draw.of(p.suction) for p in suction.points])
    elif suction.home_test is not None:
        read = [draw.of(r.suction) for r in suction.home_test.readings]
        sealed = np.maximum.reduce([sealed, *read])
    stands = wall_stands_pa(bucket, draw)
    opens = float(np.nanquantile(stands, 0.05))
    flow = float(np.quantile(valve_flow_m3_s(draw.of(suction.open_airflow), sealed, opens), 0.95))
    valve = Amount(opens, "pressure"), Amount(flow, "airflow")
    if bucket.is_round:
        wall = judge(
            key="cart.collapse.wall",
            about=Term("part", "bucket"),
            value=stands,
            limit=sealed,
            must="at least",
            dimension="pressure",
            draw=draw,
            rests_on=[bucket.wall, bucket.height, suction.sealed],
            sources=["cart.bucket.buckling", _modulus_key(bucket), "cart.bucket.knock_down"],
            outcome="buckles",
            facts=facts(shape="round", opens=valve[0], passes=valve[1]),
        )
    else:
        wall = _flat_finding(shop, stands, sealed, draw, valve)
    if wall.level in ("good", "advice"):
        # A formula for a perfect wall clears no real bucket.
        wall = replace(wall, level="advice", outcome="theory", otherwise="")
    elif wall.level == "unknown":
        wall = replace(wall, outcome="unsettled", otherwise="")
    return [wall, _lid(shop, sealed, draw)]


def _lid(shop: Shop, sealed: Samples, draw: Draw) -> Finding:
    pull = lid_force_n(sealed, lid_area_m2(shop.separator.bucket, draw))
    return finding(
        "cart.collapse.lid",
        "dishes",
        "advice",
        Term("part", "bucket"),
        facts=facts(
            force=Amount(float(np.quantile(pull, 0.95)), "force"),
            shape="round" if shop.separator.bucket.is_round else "box",
        ),
    )


def _modulus_key(bucket: Bucket) -> str:
    """The fact that holds the modulus of the bucket's wall."""
    return f"cart.bucket.modulus{_MADE_OF[bucket.made_of]}"


def wall_stands_pa(bucket: Bucket, draw: Draw) -> Samples:
    """Suction that the wall stands, by theory [Pa].

    A round wall buckles, knocked down for dents. A flat one is taken as standing while it gives
    by less than half its thickness, its edges anywhere between simply held and clamped.
    """
    modulus = spread_fact(_modulus_key(bucket), draw)
    poisson = fact(f"cart.bucket.poisson{_MADE_OF[bucket.made_of]}").value
    side, wall = draw.of(bucket.height) - draw.of(bucket.rim_drop), draw.of(bucket.wall)
    if bucket.is_round:
        across = (draw.of(bucket.top[0]) + draw.of(bucket.bottom[0])) / 2
        perfect = buckling_pressure_pa(modulus, wall, across, side, poisson)
        knocked: Samples = perfect * spread_fact("cart.bucket.knock_down", draw)
        return knocked
    short, aspect = _widest_wall(bucket, draw)
    flat: Samples = np.minimum(
        flat_until_pa(modulus, wall, short, poisson, _coefficient(aspect, draw)),
        fact("cart.bucket.yield").value / edge_stress_pa(1.0, wall, short, aspect)
        if bucket.made_of == "plastic"
        else np.inf,
    )
    return flat


def _widest_wall(bucket: Bucket, draw: Draw) -> tuple[Samples, Samples]:
    """Short side of a box's widest wall between its corners [m], and its long side over that."""
    side = draw.of(bucket.height) - draw.of(bucket.rim_drop)
    corner = draw.of(bucket.corner) if bucket.corner is not None else 0.0
    wide = np.maximum.reduce(
        [
            (draw.of(top) + draw.of(bottom)) / 2 - 2 * corner
            for top, bottom in zip(bucket.top, bucket.bottom, strict=True)
        ]
    )
    wide = np.maximum(wide, 1e-3)
    short: Samples = np.minimum(wide, side)
    return short, np.maximum(wide, side) / short


def _coefficient(aspect: Samples, draw: Draw) -> Samples:
    """Deflection over q a⁴ / D for edges somewhere between simply held and clamped."""
    loose, firm = simply_held(aspect), clamped(aspect)
    share = np.full(draw.count, 0.5) if draw.nominal else draw.between(0.0, 1.0, "cart.box.edges")
    between: Samples = firm + (loose - firm) * share
    return between


def _flat_finding(
    shop: Shop, stands: Samples, sealed: Samples, draw: Draw, valve: tuple[Amount, Amount]
) -> Finding:
    bucket = shop.separator.bucket
    short, aspect = _widest_wall(bucket, draw)
    gives = dished_m(
        sealed,
        spread_fact(_modulus_key(bucket), draw),
        draw.of(bucket.wall),
        short,
        fact(f"cart.bucket.poisson{_MADE_OF[bucket.made_of]}").value,
        _coefficient(aspect, draw),
    )
    return judge(
        key="cart.collapse.wall",
        about=Term("part", "bucket"),
        value=stands,
        limit=sealed,
        must="at least",
        dimension="pressure",
        draw=draw,
        rests_on=distinct([bucket.wall, bucket.height, *bucket.top, shop.vacuum.suction.sealed]),
        sources=["cart.plate.clamped_deflection_1", _modulus_key(bucket)],
        outcome="dishes",
        facts=facts(shape="box", opens=valve[0], passes=valve[1], gives=Band.of(gives, "length")),
    )
