"""Whether the separator's bucket stands the vacuum's sealed suction when a port blocks."""

from __future__ import annotations

import math

import numpy as np

from ..finding import Finding, judge
from ..quantity import Draw, show
from ..shop import Shop
from ..sources import fact
from .loads import spread_fact
from .model import Samples


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


def lid_force_n(suction_pa: Samples | float, diameter_m: Samples | float) -> Samples:
    """Force of the suction on a flat lid [N]."""
    force: Samples = np.asarray(suction_pa) * math.pi / 4 * np.asarray(diameter_m, dtype=float) ** 2
    return force


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
    side = draw.of(bucket.height) - draw.of(bucket.rim_drop)
    diameter = (draw.of(bucket.top_diameter) + draw.of(bucket.bottom_diameter)) / 2
    perfect = buckling_pressure_pa(
        spread_fact("cart.bucket.modulus", draw), draw.of(bucket.wall), diameter, side,
        fact("cart.bucket.poisson").value,
    )  # fmt: skip
    stands = perfect * spread_fact("cart.bucket.knock_down", draw)
    sealed = draw.of(suction.sealed)
    if suction.points:
        sealed = np.maximum.reduce([draw.of(p.suction) for p in suction.points])
    opens = float(np.nanquantile(stands, 0.05))
    flow = float(np.quantile(valve_flow_m3_s(draw.of(suction.open_airflow), sealed, opens), 0.95))
    units = shop.shop.units
    valve = (
        f"Fit a relief valve that opens at {show(opens, 'pressure', units)} and passes "
        f"{show(flow, 'airflow', units)} at that suction; a plain hole is a leak that costs airflow "
        "all the time. Or fit a stiffening ring half way down, or a drum with a thicker wall."
    )
    found = judge(
        key="cart.collapse.wall", room="cart", about="bucket",
        check="its wall stands the sealed suction when a port blocks",
        value=stands, limit=sealed, must="at least", dimension="pressure", draw=draw,
        rests_on=[bucket.wall, bucket.height, suction.sealed],
        sources=["cart.bucket.buckling", "cart.bucket.modulus", "cart.bucket.knock_down"],
        good="", bad="The wall may be sucked in as soon as a hose or port blocks.", do=valve,
    )  # fmt: skip
    if found.level in ("good", "advice"):
        # A formula for a perfect tube clears no real bucket.
        found = _only_theory(found, valve)
    elif found.level == "unknown":
        found = _reworded(found, "Whether the wall stands a blocked port is not settled.", valve)
    pull = lid_force_n(sealed, draw.of(bucket.top_diameter))
    lid = Finding(
        key="cart.collapse.lid", room="cart", about="bucket", check="flat lid under sealed suction",
        level="advice",
        answer=f"A blocked port presses the lid down with "
        f"{show(float(np.quantile(pull, 0.95)), 'force', units)}: a flat lid dishes in before the "
        "wall does.",
        do="Back the lid with a plywood disc under the cyclone's flange, and watch it at the first "
        "blocked port.",
    )  # fmt: skip
    return [found, lid]


def _reworded(found: Finding, answer: str, do: str, level: str | None = None) -> Finding:
    from dataclasses import replace

    return replace(found, answer=answer, do=do, level=level or found.level)  # type: ignore[arg-type]


def _only_theory(found: Finding, valve: str) -> Finding:
    return _reworded(
        found,
        "By the formula for a perfect tube, well knocked down, the wall stands it; only a trial "
        "tells.",
        "Try it: hold the hose shut for some seconds and watch the wall. If it moves: " + valve,
        "advice",
    )
