"""Whether the separator's bucket stands the vacuum's suction: in ordinary running and blocked."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..fact_samples import Samples, spread_fact
from ..facts import Amount, Band, Fix, Listing, Ref, Term, facts
from ..finding import Finding, finding, judge
from ..quantity import Draw, Quantity
from ..shop import Bucket, Shop
from ..shop.catalogue.prices import hardware_price
from ..sources import fact
from .checker import distinct
from .flatwall import clamped, dished_m, edge_stress_pa, flat_until_pa, simply_held

_MADE_OF = {"plastic": "", "fibre": "_fibre", "steel": "_steel"}
_FREEZING_K = 273.15
#: Temperatures [°C] at which polyethylene's stiffness is known over that at the first.
_WARM_C = (23, 30, 40, 50)
#: Widths between which a strip of plywood comes to bear all that is allowed [m].
_NARROW_M = (8 * 0.0254, 24 * 0.0254)
#: A wall that stands this likely is said to.
SURE = 0.9


@dataclass(frozen=True)
class Pull:
    """Suction in the bucket [Pa], by samples, and the shop's quantities behind it.

    ``blocked_pa`` is that of a blocked port, ``running`` that of each tool in ordinary running.
    ``board_m`` is the thickness of the plywood that a lid would be backed with [m].
    """

    blocked_pa: Samples
    running: tuple[tuple[str, Samples], ...] = ()
    rests_on: tuple[Quantity, ...] = ()
    board_m: float = 0.018

    @property
    def most_running_pa(self) -> Samples:
        """At the tool whose way takes most."""
        most: Samples = np.maximum.reduce([pull for _, pull in self.running])
        return most


@dataclass(frozen=True)
class Guard:
    """What was tried against a bucket's being drawn in, and passes both of its checks.

    ``rings`` is the fewest that do, 0 where none does or they stand already; ``valve_pa`` the
    suction at which a valve would open that stays shut at every tool, 0 where there is none, and
    ``passes_m3_s`` what it must let in [m³/s].
    """

    rings: int = 0
    valve_pa: float = 0.0
    passes_m3_s: float = 0.0

    @property
    def kind(self) -> str:
        """Which of them there is to offer, for a sentence to choose by."""
        return (
            "both"
            if self.rings and self.valve_pa
            else "rings"
            if self.rings
            else "valve"
            if self.valve_pa
            else "none"
        )

    @property
    def fixes(self) -> tuple[Fix, ...]:
        """Changes of the shop file, the cheaper first: rings are screws and some edging, no priced part."""
        fixes = []
        if self.rings:
            fixes.append(Fix("separator.rings", self.rings, True))
        if self.valve_pa:
            opens, bought = Amount(self.valve_pa, "pressure"), hardware_price("valve")
            price = None if bought is None else bought.price
            fixes.append(Fix("separator.valve", opens, True, costs=price))
        return tuple(fixes)


def buckling_pressure_pa(
    modulus_pa: Samples | float,
    wall_m: Samples | float,
    diameter_m: Samples | float,
    length_m: Samples | float,
    poisson: float,
) -> Samples:
    """Outside pressure at which a perfect short cylinder's wall buckles [Pa].

    Windenburg and Trilling (1934): p = 2.42 E (t/D)^2.5 / ((1 − ν²)^0.75 (L/D − 0.45 √(t/D))),
    elastic, its ends kept round and free to turn, a distance L apart. Not for tubes so long that
    L/D no longer matters, nor so short that the denominator is not positive (then NaN).
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


def bucket_findings(shop: Shop, draw: Draw, pull: Pull, guard: Guard) -> list[Finding]:
    """The wall in ordinary running and blocked, and the lid; theory alone never answers ``good``."""
    if not shop.separator.in_use:
        return []
    found = [_blocked(shop, draw, pull, guard)]
    if pull.running:
        found.append(_running(shop, draw, pull, guard))
    return [*found, _lid(shop, pull, draw)]


def _blocked(shop: Shop, draw: Draw, pull: Pull, guard: Guard) -> Finding:
    bucket = shop.separator.bucket
    stands = wall_stands_pa(shop, draw)
    gives = np.zeros(draw.count) if bucket.is_round else _dishes_m(shop, draw, pull.blocked_pa)
    wall = judge(
        key="cart.collapse.wall",
        about=Term("part", "bucket"),
        value=stands,
        limit=pull.blocked_pa,
        must="at least",
        dimension="pressure",
        draw=draw,
        rests_on=[*_sizes(bucket), *pull.rests_on],
        sources=_sources(bucket),
        outcome="buckles" if bucket.is_round else "dishes",
        facts=facts(
            shape="round" if bucket.is_round else "box",
            pull=Band.of(pull.blocked_pa, "pressure"),
            stands=Band.of(stands, "pressure"),
            gives=Band.of(gives, "length"),
            guard=guard.kind,
            rings=guard.rings,
            opens=Amount(guard.valve_pa, "pressure"),
            passes=Amount(guard.passes_m3_s, "airflow"),
        ),
    )
    return replace(_only_theory(wall), fixes=guard.fixes)


def _running(shop: Shop, draw: Draw, pull: Pull, guard: Guard) -> Finding:
    bucket = shop.separator.bucket
    stands = wall_stands_pa(shop, draw, running=True)
    worst, most = max(pull.running, key=lambda each: float(np.median(each[1])))
    risky = tuple(
        Ref("tool", tool) for tool, pulls in pull.running if np.mean(stands >= pulls) < SURE
    )
    wall = judge(
        key="cart.collapse.running",
        about=Term("part", "bucket"),
        value=stands,
        limit=pull.most_running_pa,
        must="at least",
        dimension="pressure",
        draw=draw,
        rests_on=[*_sizes(bucket), *pull.rests_on],
        sources=[*_sources(bucket), "cart.bucket.creep"],
        outcome="drawn_in",
        facts=facts(
            tool=Ref("tool", worst),
            pull=Band.of(most, "pressure"),
            stands=Band.of(stands, "pressure"),
            tools=Listing(risky or (Ref("tool", worst),), "and"),
            guard=guard.kind,
            rings=guard.rings,
            opens=Amount(guard.valve_pa, "pressure"),
        ),
    )
    return replace(_only_theory(wall), fixes=guard.fixes)


def _only_theory(wall: Finding) -> Finding:
    """A formula for a perfect wall clears no real bucket."""
    if wall.level in ("good", "advice"):
        return replace(wall, level="advice", outcome="theory", otherwise="")
    if wall.level == "unknown":
        return replace(wall, outcome="unsettled", otherwise="")
    return wall


def _sizes(bucket: Bucket) -> list[Quantity]:
    corner = [] if bucket.corner is None else [bucket.corner]
    return distinct([bucket.wall, bucket.height, *bucket.top, *bucket.bottom, *corner])


def _sources(bucket: Bucket) -> list[str]:
    if not bucket.is_round:
        return ["cart.plate.clamped_deflection_1", _modulus_key(bucket)]
    ends = ["cart.bucket.knock_down", "cart.bucket.ends"]
    return ["cart.bucket.buckling", _modulus_key(bucket), *ends]


def backing_stress_pa(
    suction_pa: Samples | float, across_m: float, thickness_m: float, *, is_round: bool
) -> Samples:
    """Bending stress amid a board that lies on its edges under an even suction [Pa].

    Round: 3 (3 + ν) / 8 p (R / t)²; square and longer, at most 0.61 p b² / t², that of one twice
    as long as wide (Timoshenko and Woinowsky-Krieger, articles 16 and 30; from memory).
    """
    if is_round:
        poisson = fact("cart.plywood.poisson").value
        factor = 3 * (3 + poisson) / 8 / 4
    else:
        factor = 0.61
    stress: Samples = factor * np.asarray(suction_pa) * (across_m / thickness_m) ** 2
    return stress


def _backing_holds(shop: Shop, pull: Pull) -> bool:
    """Whether plywood as thick as the cart's carries the lid when a port blocks, for minutes."""
    bucket = shop.separator.bucket
    across = min(q.best_si for q in bucket.rim)
    most = float(np.quantile(pull.blocked_pa, 0.95))
    stress = backing_stress_pa(most, across, pull.board_m, is_round=bucket.is_round)
    narrow = np.interp(across, _NARROW_M, (fact("cart.plywood.narrow").value, 1.0))
    allowed = fact("cart.plywood.bending_across").value * narrow
    return bool(stress <= allowed * fact("cart.plywood.minutes").value)


def _lid(shop: Shop, pull: Pull, draw: Draw) -> Finding:
    force = lid_force_n(pull.blocked_pa, lid_area_m2(shop.separator.bucket, draw))
    backed, holds = shop.separator.backed_lid, _backing_holds(shop, pull)
    return finding(
        "cart.collapse.lid",
        "backed" if backed and holds else "bends" if backed else "dishes",
        "good" if backed and holds else "problem" if backed else "advice",
        Term("part", "bucket"),
        facts=facts(
            force=Amount(float(np.quantile(force, 0.95)), "force"),
            shape="round" if shop.separator.bucket.is_round else "box",
            holds="yes" if holds else "no",
        ),
        sources=("cart.plywood.bending_across", "cart.plywood.minutes"),
        fixes=(Fix("separator.backed_lid", True, True),) if holds and not backed else (),
    )


def _modulus_key(bucket: Bucket) -> str:
    """The fact that holds the modulus of the bucket's wall."""
    return f"cart.bucket.modulus{_MADE_OF[bucket.made_of]}"


def _modulus_pa(shop: Shop, draw: Draw, running: bool) -> Samples:
    """Of the bucket's wall, in this room; polyethylene gives with warmth, and with time."""
    bucket = shop.separator.bucket
    modulus = spread_fact(_modulus_key(bucket), draw)
    if bucket.made_of != "plastic":
        return modulus
    celsius = draw.of(shop.room.temperature) - _FREEZING_K
    shares = [1.0, *(fact(f"cart.bucket.warm.{c}").value for c in _WARM_C[1:])]
    warm: Samples = modulus * np.interp(celsius, _WARM_C, shares)
    return warm * spread_fact("cart.bucket.creep", draw) if running else warm


def wall_stands_pa(shop: Shop, draw: Draw, *, running: bool = False) -> Samples:
    """Suction that the wall stands, by theory [Pa]: for seconds, or while a tool runs.

    A round wall buckles between floor, rings and rim, knocked down for being uneven, its ends
    anywhere between free to turn and clamped. A flat one is taken as standing while it gives by
    less than half its thickness, its edges anywhere between simply held and clamped.
    """
    bucket = shop.separator.bucket
    modulus = _modulus_pa(shop, draw, running)
    poisson = fact(f"cart.bucket.poisson{_MADE_OF[bucket.made_of]}").value
    wall = draw.of(bucket.wall)
    if bucket.is_round:
        across = (draw.of(bucket.top[0]) + draw.of(bucket.bottom[0])) / 2
        perfect = buckling_pressure_pa(modulus, wall, across, _free_height_m(shop, draw), poisson)
        knocked: Samples = (
            perfect
            * spread_fact("cart.bucket.knock_down", draw)
            * spread_fact("cart.bucket.ends", draw)
        )
        return knocked
    short, aspect = _widest_wall(shop, draw)
    flat: Samples = np.minimum(
        flat_until_pa(modulus, wall, short, poisson, _coefficient(aspect, draw)),
        fact("cart.bucket.yield").value / edge_stress_pa(1.0, wall, short, aspect)
        if bucket.made_of == "plastic"
        else np.inf,
    )
    return flat


def _free_height_m(shop: Shop, draw: Draw) -> Samples:
    """Height of wall between floor, rings and rim [m]."""
    bucket = shop.separator.bucket
    side: Samples = draw.of(bucket.height) - draw.of(bucket.rim_drop)
    return side / (shop.separator.rings + 1)


def _widest_wall(shop: Shop, draw: Draw) -> tuple[Samples, Samples]:
    """Short side of a box's widest wall between corners and frames [m], and its long side over that."""
    bucket = shop.separator.bucket
    side = _free_height_m(shop, draw)
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


def _dishes_m(shop: Shop, draw: Draw, blocked_pa: Samples) -> Samples:
    """How far a blocked port draws a box's widest wall in [m]."""
    bucket = shop.separator.bucket
    short, aspect = _widest_wall(shop, draw)
    return dished_m(
        blocked_pa,
        _modulus_pa(shop, draw, running=False),
        draw.of(bucket.wall),
        short,
        fact(f"cart.bucket.poisson{_MADE_OF[bucket.made_of]}").value,
        _coefficient(aspect, draw),
    )


def ring_sizes_m(bucket: Bucket, rings: int) -> Sequence[tuple[float, float, float]]:
    """Of each ring, from the lowest: height over the floor, and its outer sides, across and along [m].

    Evenly spaced between floor and rim, each as large as the bucket is inside there, less a
    little play; a round bucket gives its diameter twice.
    """
    side = bucket.height.best_si - bucket.rim_drop.best_si
    less = 2 * (bucket.wall.best_si + fact("cart.bucket.ring_play").value)
    sizes = []
    for number in range(1, rings + 1):
        share = number / (rings + 1)
        across, along = (
            low.best_si + (high.best_si - low.best_si) * share - less
            for low, high in zip(bucket.bottom, bucket.top, strict=True)
        )
        sizes.append((side * share, across, along))
    return sizes
