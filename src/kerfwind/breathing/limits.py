"""Limits of wood dust: whose, of which fraction, over which time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..quantity import Draw
from ..shop.catalogue.woods import red_cedar
from ..sources import fact
from ..sources.breathing import FRACTIONS
from .session import SessionAir
from .spreads import even

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Limit:
    """One limit.

    ``fraction`` is what it counts: ``inhalable``, ``respirable`` or ``total``, which a sampler
    of its own catches.
    """

    key: str
    fraction: str
    kg_m3: float
    averaging_s: float

    @property
    def rules(self) -> str:
        """Whose it is."""
        return self.key.partition(".")[0]

    @property
    def fact(self) -> str:
        """The fact behind it."""
        return f"breathing.limit.{self.key}"


@dataclass(frozen=True)
class Judged:
    """A session's day against one limit: the mean over its own time, and how likely it is met."""

    limit: Limit
    day_kg_m3: Array
    likelihood: float


def _limit(key: str) -> Limit:
    return Limit(
        key,
        FRACTIONS[key],
        fact(f"breathing.limit.{key}").value,
        fact(f"breathing.averaging.{key}").value,
    )


def limits_for(materials: Sequence[str], kinds: Sequence[str]) -> tuple[Limit, ...]:
    """Every limit that could hold for these woods.

    A mixture counts as hardwood, and so does wood of which nothing is known.
    """
    soft = all(kind == "softwood" for kind in kinds)
    keys = [
        "us.osha_total",
        "us.osha_respirable",
        "us.niosh_total",
        "us.acgih_cedar" if any(map(red_cedar, materials)) else "us.acgih_inhalable",
        "uk.softwood" if soft else "uk.hardwood",
        "uk.respirable",
        "eu.hardwood",
        "germany.inhalable",
    ]
    return tuple(map(_limit, keys))


def strictest(limits: Sequence[Limit], rules: str) -> Limit:
    """The lowest limit of inhalable dust under these rules."""
    own = [x for x in limits if x.rules == rules and x.fraction == "inhalable"]
    return min(own, key=lambda x: x.kg_m3)


def clear_kg_m3(limit: Limit) -> float:
    """Dust under which the mask may come off [kg/m³]."""
    return limit.kg_m3 * fact("breathing.clear").value


def judged(air: SessionAir, limits: Sequence[Limit], draw: Draw) -> tuple[Judged, ...]:
    """The session's day against each."""
    rows = []
    for limit in limits:
        if limit.fraction == "total":
            day = air.day_kg_m3("inhalable", limit.averaging_s) * even("total", draw)
        else:
            day = air.day_kg_m3(limit.fraction, limit.averaging_s)
        rows.append(Judged(limit, day, float(np.mean(day <= limit.kg_m3))))
    return tuple(rows)
