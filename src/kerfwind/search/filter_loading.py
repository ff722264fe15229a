"""How the cake on the vacuum's filter takes the air away, session by session."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ..air import Connection
from ..air.path import way
from ..air.properties import room_air
from ..air.series import Element, Series
from ..air.vacuum import suction_curve
from ..breathing.findings import of_range
from ..breathing.separator import cake_resistance
from ..breathing.spreads import by_ratio
from ..facts import Ref, facts
from ..finding import Finding, finding
from ..quantity import Draw, band

Array = NDArray[np.float64]

#: Sessions at which the air is solved anew, and the part of it that may be lost.
_AT = (0, 1, 2, 4, 8, 16, 32, 64)
_LOST = 0.1


@dataclass(frozen=True)
class Loading:
    """Airflow at a session's busiest tool as its filter loads; samples on the last axis.

    Attributes
    ----------
    sessions, part
        After how many sessions, and what is left of the airflow with a clean filter then,
        shape (sessions, samples).
    until
        Sessions until a tenth is lost; the greatest looked at where it takes longer.
    full_bucket
        Part that is left when one session's whole catch goes past a full bucket.
    """

    session: str
    tool: str
    sessions: tuple[int, ...]
    part: Array
    until: Array
    full_bucket: Array
    findings: tuple[Finding, ...]


def filter_loading(
    session: str, connection: Connection, to_filter_kg: Array, caught_kg: Array, draw: Draw
) -> Loading:
    """Solve the air at a tool with the filter loaded by one session after another.

    Parameters
    ----------
    to_filter_kg, caught_kg
        What one session sends to the filter, and all that its hoods catch: samples of any draw,
        of which quantiles are taken.
    """
    shop = connection.shop
    area = shop.vacuum.filter_area
    stays = by_ratio("filter.stays", draw)
    cake = by_ratio("filter.cake", draw)
    square = np.full(draw.count, 0.42) if area is None else draw.of(area)

    def resistance(mass_kg: Array) -> Array:
        return cake_resistance(_spread(mass_kg, draw) * stays, square, cake)

    room = room_air(shop.room.altitude, shop.room.temperature, draw)
    curve = connection.curve or suction_curve(shop, draw, room)
    elements = way(connection, draw).elements

    # All loads at once, the first of them none.
    each = resistance(to_filter_kg)
    loads = np.array([*(n * each for n in _AT), resistance(caught_kg)])
    airflow = Series(_loaded(elements, loads), room).meet(curve)
    *part, full = airflow / airflow[0]
    part = np.array(part)
    until = _crossing(part)
    return Loading(
        session,
        connection.tool.name,
        _AT,
        part,
        until,
        full,
        (_finding(session, connection, until, full, area is not None and area.assumed),),
    )


def _loaded(elements: tuple[Element, ...], more: Array) -> tuple[Element, ...]:
    *before, last = elements
    return (*before, replace(last, linear_pa_s_m3=last.linear_pa_s_m3 + more))


def _spread(samples: Array, draw: Draw) -> Array:
    """As many samples of the same spread, in an order of their own."""
    if draw.nominal:
        return np.array([np.median(samples)])
    middles = (np.arange(draw.count) + 0.5) / draw.count
    order = np.random.default_rng(draw.seed).permutation(draw.count)
    return np.asarray(np.quantile(samples, middles)[order])


def _crossing(part: Array) -> Array:
    """Sessions after which a tenth is lost, along the curve."""
    left = 1 - _LOST
    counts = np.array(_AT, dtype=float)
    below = part <= left
    first = np.clip(np.argmax(below, axis=0), 1, len(counts) - 1)
    pick = np.arange(part.shape[1])
    before, after = part[first - 1, pick], part[first, pick]
    share = np.clip((before - left) / np.maximum(before - after, 1e-12), 0, 1)
    when = counts[first - 1] + share * (counts[first] - counts[first - 1])
    return np.asarray(np.where(below.any(axis=0), when, counts[-1]))


def _finding(
    session: str, connection: Connection, until: Array, full: Array, assumed_area: bool
) -> Finding:
    low, _, high = band(until)
    least, _, most = band(full)
    return finding(
        "breathing.loading",
        ("never" if low >= _AT[-1] else "open" if high >= _AT[-1] else "slow")
        if connection.shop.separator.in_use
        else ("bare_never" if low >= _AT[-1] else "bare_open" if high >= _AT[-1] else "bare_slow"),
        "advice",
        Ref("session", session),
        sources=("breathing.filter.cake", "breathing.filter.stays"),
        measure=("vacuum.filter_area",) if assumed_area else (),
        facts=facts(
            low=max(int(low), 1),
            high=max(int(high), 1),
            most=_AT[-1],
            tool=Ref("tool", connection.tool.name),
            full=of_range(float(least), float(most), "share"),
        ),
    )
