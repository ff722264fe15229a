"""All sessions of a shop: their air, limits, noise, masks, bucket, and what helps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ..finding import Finding
from ..quantity import Draw
from ..shop import Session, Shop, Task
from . import findings
from .changes import Effect, effects
from .limits import Judged, Limit, clear_kg_m3, judged, limits_for, strictest
from .mask import Worn, worn
from .noise import Noise, session_noise
from .session import HoodAir, SessionAir, session_air
from .spreads import even
from .weighing import Weighing, weighing

Array = NDArray[np.float64]

#: Samples on which changes are compared: each is set against the same samples.
CHANGE_SAMPLES = 128


@dataclass(frozen=True)
class SessionResult:
    """One session in full; samples on the last axis.

    Attributes
    ----------
    limit
        The strictest limit of inhalable dust under the shop's rules.
    judged
        Its day against every limit that could hold.
    fill
        Loose dust it leaves in the bucket, as a part of the bucket.
    sessions
        How many such sessions fill the bucket to where its separator passes chips.
    full_kg
        What the bucket then weighs.
    """

    air: SessionAir
    limit: Limit
    judged: tuple[Judged, ...]
    noise: Noise
    worn: Worn
    weighing: Weighing | None
    effects: tuple[Effect, ...]
    fill: Array
    sessions: Array
    full_kg: Array


@dataclass(frozen=True)
class Breathing:
    """What the work means for lungs, ears and bucket: one result a session, and the findings."""

    results: tuple[SessionResult, ...]
    findings: tuple[Finding, ...]


def breathing(shop: Shop, hoods: Mapping[str, HoodAir], draw: Draw) -> Breathing:
    """Follow every session of the shop file.

    Parameters
    ----------
    hoods
        The air at each tool that a hose reaches, by its name.
    """
    few = Draw(min(CHANGE_SAMPLES, draw.count), draw.seed)
    some = {name: _thinned(air, draw, few) for name, air in hoods.items()}
    results = tuple(_result(shop, s, hoods, some, draw, few) for s in shop.sessions)
    told = [
        finding
        for session, result in zip(shop.sessions, results, strict=True)
        for finding in findings.of_session(shop, session, result, hoods, draw)
    ]
    return Breathing(results, (*told, *findings.of_shop(shop, results, draw)))


def _thinned(air: HoodAir, draw: Draw, few: Draw) -> HoodAir:
    """The same air on fewer samples, evenly taken."""
    every = max(draw.count // few.count, 1)
    return replace(
        air,
        airflow_m3_s=air.airflow_m3_s[::every][: few.count],
        needed_m3_s=air.needed_m3_s[::every][: few.count],
        cut_m=air.cut_m[::every][: few.count],
    )


def _result(
    shop: Shop,
    session: Session,
    hoods: Mapping[str, HoodAir],
    some: Mapping[str, HoodAir],
    draw: Draw,
    few: Draw,
) -> SessionResult:
    rules = shop.about.rules or "us"
    woods = _woods(session)
    limits = limits_for([t.material for t in making(session)], woods)
    limit = strictest(limits, rules)
    clear = clear_kg_m3(limit)
    air = session_air(shop, session, hoods, clear, draw)
    weighed = weighing(session, air, draw)
    if weighed is not None:
        air = air.of(weighed.chosen)
    volume = draw.of(shop.separator.bucket.volume)
    full = volume * even("bucket.passes", draw)
    loose = np.maximum(air.loose_m3, 1e-9)
    density = np.where(np.isfinite(air.density_kg_m3), air.density_kg_m3, 0.0)
    return SessionResult(
        air,
        limit,
        judged(air, limits, draw),
        session_noise(shop, session, draw),
        worn(session, rules),
        weighed,
        effects(shop, session, some, few),
        air.loose_m3 / volume,
        np.maximum(np.floor(full / loose), 1.0),
        draw.of(shop.separator.bucket.weight) + density * full,
    )


def making(session: Session) -> tuple[Task, ...]:
    """The operations that make dust; all of them where none does."""
    made = tuple(t for t in session.operations if t.operation != "sweeping")
    return made or session.operations


def _woods(session: Session) -> list[str]:
    from ..shop.catalogue.woods import wood_of

    return [wood_of(t.material).kind for t in making(session)]
