"""What keeps the separator's bucket from being drawn in: rings and valves tried by its own checks."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from ..air import SuctionCurve, ToolAir, room_air
from ..air.path import relief_valve, valve_lets_in_m3_s
from ..checks.collapse import SURE, Guard, Pull, bucket_findings, ring_sizes_m, wall_stands_pa
from ..finding import Finding
from ..joinery import BoardWanted, MarkingRule
from ..quantity import Draw, Quantity, exact
from ..shop import Shop
from ..sources import fact

Array = NDArray[np.float64]

_MOST_RINGS = 3
#: A bucket that narrows by less holds no ring by its taper [m].
_TAPER_M = 0.008
#: Suctions that valves are tried with [Pa].
_VALVES_PA = np.arange(20_000.0, 1_999.0, -500.0)


def bucket_in_air(
    shop: Shop,
    curve: SuctionCurve,
    airs: Sequence[ToolAir],
    draw: Draw,
    board_m: float | None = None,
) -> list[Finding]:
    """What is said of the bucket under the vacuum's own suction, with what was tried for it.

    ``board_m`` is the thickness of the cart's plywood [m], where there is a cart.
    """
    if not shop.separator.in_use:
        return []
    pull = pull_of(shop, curve, airs, draw)
    if board_m is not None:
        pull = replace(pull, board_m=board_m)
    return bucket_findings(shop, draw, pull, guard_of(shop, curve, pull, draw))


def pull_of(shop: Shop, curve: SuctionCurve, airs: Sequence[ToolAir], draw: Draw) -> Pull:
    """Suction in the bucket: with a port blocked, and at each tool in ordinary running."""
    running = tuple((a.tool, a.bucket_pa) for a in airs if a.bucket_pa is not None)
    return Pull(blocked_pa(shop, curve, draw), running, curve.rests_on)


def blocked_pa(shop: Shop, curve: SuctionCurve, draw: Draw) -> Array:
    """Suction in the bucket with a port blocked [Pa]: the curve's own at no airflow.

    Where there is a relief valve, that at which it lets in what the vacuum moves.
    """
    sealed = np.broadcast_to(np.asarray(curve.sealed_pa), (draw.count,))
    lets_in_more = _lets_in_more(shop, curve, draw)
    if lets_in_more is None:
        return sealed
    low, high = np.zeros(draw.count), np.array(sealed)
    for _ in range(40):
        suction = (low + high) / 2
        more = lets_in_more(suction)
        low, high = np.where(more, low, suction), np.where(more, suction, high)
    return (low + high) / 2


def _lets_in_more(
    shop: Shop, curve: SuctionCurve, draw: Draw
) -> Callable[[Array], NDArray[np.bool_]] | None:
    """Whether the relief valve lets in more than the vacuum moves at a suction [Pa]; None without one."""
    valve = relief_valve(shop, draw)
    if valve is None:
        return None
    density = room_air(shop.room.altitude, shop.room.temperature, draw).density_kg_m3

    def more(suction_pa: Array) -> NDArray[np.bool_]:
        return np.asarray(valve.lets_in(suction_pa) / density > curve.airflow_m3_s(suction_pa))

    return more


def _stays_under(
    shop: Shop, curve: SuctionCurve, draw: Draw, suction_pa: Array
) -> NDArray[np.bool_]:
    """Whether the suction with a port blocked stays under this [Pa].

    It does where the valve, at so much, lets in more than the vacuum moves.
    """
    reached = suction_pa >= np.asarray(curve.sealed_pa)
    lets_in_more = _lets_in_more(shop, curve, draw)
    return reached if lets_in_more is None else reached | lets_in_more(suction_pa)


def guard_of(shop: Shop, curve: SuctionCurve, pull: Pull, draw: Draw) -> Guard:
    """Rings and valve that pass the bucket's own checks; nothing where it stands as it is."""
    if stands(shop, pull, draw):
        return Guard()
    now = shop.separator.rings
    rings = next(
        (n for n in range(now + 1, _MOST_RINGS + 1) if stands(with_rings(shop, n), pull, draw)), 0
    )
    if shop.separator.valve is not None:
        return Guard(rings)
    most_running = pull.most_running_pa if pull.running else np.zeros(draw.count)
    wall = wall_stands_pa(shop, draw)
    if np.mean(wall_stands_pa(shop, draw, running=True) >= most_running) < SURE:
        # A valve that takes no tool's air leaves ordinary running as it is.
        return Guard(rings)
    for opens in _VALVES_PA:
        # One that opens while a tool runs takes that tool's air.
        if np.mean(most_running <= opens) < SURE:
            break
        tried = with_valve(shop, exact(float(opens), "pressure", path="separator.valve"))
        if np.mean(_stays_under(tried, curve, draw, wall)) >= SURE:
            return Guard(rings, float(opens), valve_lets_in_m3_s(shop))
    return Guard(rings)


def with_rings(shop: Shop, rings: int) -> Shop:
    """The shop with so many rings in its bucket."""
    return shop.model_copy(update={"separator": shop.separator.model_copy(update={"rings": rings})})


def with_valve(shop: Shop, opens: Quantity) -> Shop:
    """The shop with a relief valve in its bucket's lid."""
    return shop.model_copy(update={"separator": shop.separator.model_copy(update={"valve": opens})})


def stands(shop: Shop, pull: Pull, draw: Draw) -> bool:
    """Whether the wall stands, likely enough, both a blocked port and every running tool."""
    if np.mean(wall_stands_pa(shop, draw) >= pull.blocked_pa) < SURE:
        return False
    running = wall_stands_pa(shop, draw, running=True)
    return not pull.running or bool(np.mean(running >= pull.most_running_pa) >= SURE)


def bucket_boards(shop: Shop) -> tuple[BoardWanted, ...]:
    """What is made and bought for the bucket, as the shop file chooses it."""
    separator, bucket = shop.separator, shop.separator.bucket
    if not separator.in_use:
        return ()
    rule = MarkingRule.of(shop)
    width = rule.up(fact("cart.bucket.ring_width").value)
    # A drum has no taper to hold a ring; nor has a bucket that is straight.
    wedges = bucket.top[0].best_si - bucket.bottom[0].best_si > _TAPER_M
    wanted = [
        BoardWanted(
            f"ring {number}",
            "",
            "ring",
            width,
            (rule.down(across), rule.down(along)),
            rule.near(height),
            number=number,
            round=bucket.is_round,
            wedges=wedges,
        )
        for number, (height, across, along) in enumerate(
            ring_sizes_m(bucket, separator.rings), start=1
        )
    ]
    if separator.backed_lid:
        across, along = (rule.near(q.best_si) for q in bucket.rim)
        wanted.append(
            BoardWanted("lid backing", "", "lid", 0.0, (across, along), round=bucket.is_round)
        )
    if separator.valve is not None:
        wanted.append(
            BoardWanted(
                "relief valve",
                "",
                "valve",
                0.0,
                (0.0, 0.0),
                opens_pa=separator.valve.best_si,
                passes_m3_s=valve_lets_in_m3_s(shop),
            )
        )
    return tuple(wanted)
