"""Sound at the ear: levels added, the dose of a session, what protectors leave."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..kept import Kept
from ..quantity import Draw, Quantity
from ..shop import Session, Shop, Task, Tool
from ..sources import fact
from .spreads import even

Array = NDArray[np.float64]
_DAY_S = 8 * 3600.0


def added_db(*levels: ArrayLike) -> Array:
    """Level of several sounds together [dB]: ``10 log10 Σ 10^(L/10)``.

    Examples
    --------
    >>> round(float(added_db(90.0, 90.0)), 2)
    93.01
    """
    powers = [10 ** (np.asarray(level, dtype=float) / 10) for level in levels]
    return np.asarray(10 * np.log10(sum(powers)))


def noise_dose(
    levels_db: Sequence[ArrayLike],
    seconds: Sequence[ArrayLike],
    level_db: float,
    rate_db: float,
    threshold_db: float = 0.0,
) -> Array:
    """Dose of sounds one after another, 1 for a full day: ``Σ t / T``, T = 8 h / 2^((L − level)/rate).

    Parameters
    ----------
    levels_db, seconds
        Each sound's level [dB(A)] and how long it lasts [s].
    level_db, rate_db
        The level that may last 8 h, and the exchange rate [dB].
    threshold_db
        Below it nothing is counted.

    Examples
    --------
    NIOSH, 20 min at 100 dB(A), 30 at 90, 60 at 85:

    >>> round(float(noise_dose([100, 90, 85], [1200, 1800, 3600], 85, 3)), 4)
    1.6568
    """
    total = np.zeros(())
    for level, time in zip(levels_db, seconds, strict=True):
        sound = np.asarray(level, dtype=float)
        allowed = _DAY_S / 2 ** ((sound - level_db) / rate_db)
        total = total + np.where(
            sound >= threshold_db, np.asarray(time, dtype=float) / allowed, 0.0
        )
    return np.asarray(total)


def niosh_average_db(dose: ArrayLike) -> Array:
    """Level over 8 h of a NIOSH dose [dB(A)]: ``10 log10 D + 85``."""
    return np.asarray(10 * np.log10(np.asarray(dose, dtype=float)) + 85)


def osha_average_db(dose: ArrayLike) -> Array:
    """Level over 8 h of an OSHA dose [dB(A)]: ``16.61 log10 D + 90``."""
    return np.asarray(16.61 * np.log10(np.asarray(dose, dtype=float)) + 90)


def day_level_db(levels_db: Sequence[ArrayLike], seconds: Sequence[ArrayLike]) -> Array:
    """Level of equal energy over 8 h [dB(A)], as UK and EU rules have it."""
    energy = sum(
        np.asarray(t, dtype=float) * 10 ** (np.asarray(level, dtype=float) / 10)
        for level, t in zip(levels_db, seconds, strict=True)
    )
    # Silence is told as a very low level, not as none.
    return np.asarray(10 * np.log10(np.maximum(energy / _DAY_S, 1e-3)))


def niosh_protection_db(protector: str, rating_db: ArrayLike) -> Array:
    """What a protector takes off an A-weighted level by NIOSH's derating [dB], at least nothing."""
    if protector == "none":
        return np.zeros(np.shape(rating_db))
    kept = fact(f"breathing.noise.{protector}").value * np.asarray(rating_db, dtype=float)
    return np.asarray(np.maximum(kept - fact("breathing.noise.weighting").value, 0.0))


def osha_protection_db(rating_db: ArrayLike) -> Array:
    """The same as OSHA counts it in the field [dB]: half of the rating less 7."""
    less = np.asarray(rating_db, dtype=float) - fact("breathing.noise.weighting").value
    return np.asarray(np.maximum(less, 0.0) * fact("breathing.noise.field").value)


@dataclass(frozen=True)
class Noise:
    """A session's sound at the ear; samples on the last axis.

    Attributes
    ----------
    levels_db, seconds
        Of each operation, vacuum and tool together.
    niosh, osha, day_db
        Doses (1 a full day's) and the level of equal energy over 8 h, without protectors.
    under_niosh, under_day_db
        The same under the protectors that are worn; as without where none are.
    farther_db, baffle_db
        What the day's level loses with the vacuum twice as far away, and behind a baffle.
    rests_on
        Quantities that were read.
    """

    levels_db: tuple[Array, ...]
    seconds: tuple[Array, ...]
    niosh: Array
    osha: Array
    day_db: Array
    under_niosh: Array
    under_day_db: Array
    farther_db: Array
    baffle_db: Array
    rests_on: tuple[Quantity, ...]
    unread: tuple[str, ...]


def _vacuum_db(shop: Shop, draw: Draw) -> Array:
    said = shop.vacuum.noise
    return even("noise.vacuum", draw) if said is None else draw.of(said)


def _tool_db(task: Task, tool: Tool | None, draw: Draw) -> Array:
    if tool is None:
        return even("noise.hand", draw)
    return even(f"noise.{task.operation}", draw) if tool.noise is None else draw.of(tool.noise)


#: No air changes what is heard.
_heard: Kept[Noise] = Kept(8)


def session_noise(shop: Shop, session: Session, draw: Draw) -> Noise:
    """What a session does to ears: tool and vacuum run through each operation at a tool."""
    tools = {t.name: t for t in shop.tools}
    at = [(task, tools.get(task.tool or "")) for task in session.operations]
    told = (session, shop.vacuum, *(tool for _, tool in at))
    return _heard.of(told, draw, lambda: _noise(shop, session, at, draw))


def _noise(
    shop: Shop, session: Session, at: Sequence[tuple[Task, Tool | None]], draw: Draw
) -> Noise:
    own = [_tool_db(task, tool, draw) for task, tool in at]
    vacuum = _vacuum_db(shop, draw)
    seconds = tuple(draw.of(task.time) for task in session.operations)

    def with_vacuum(level: Array) -> list[Array]:
        return [
            added_db(sound, level) if tool is not None else sound
            for sound, (_, tool) in zip(own, at, strict=True)
        ]

    levels = with_vacuum(vacuum)
    threshold = fact("breathing.noise.threshold").value
    day = day_level_db(levels, seconds)
    rating = np.zeros(draw.count) if session.rating is None else draw.of(session.rating)
    less = niosh_protection_db(session.hearing, rating)
    niosh = (fact("breathing.noise.niosh_level").value, fact("breathing.noise.niosh_rate").value)
    osha = (fact("breathing.noise.osha_level").value, fact("breathing.noise.osha_rate").value)
    read = [tool.noise for _, tool in at if tool is not None] + [shop.vacuum.noise]
    unread = [f"tools[{t.name}].noise" for _, t in at if t is not None and t.noise is None]
    if shop.vacuum.noise is None:
        unread.append("vacuum.noise")
    return Noise(
        tuple(levels),
        seconds,
        noise_dose(levels, seconds, *niosh, threshold),
        noise_dose(levels, seconds, *osha, threshold),
        day,
        noise_dose([x - less for x in levels], seconds, *niosh, threshold),
        day - less,
        day - day_level_db(with_vacuum(vacuum - even("noise.farther", draw)), seconds),
        day - day_level_db(with_vacuum(vacuum - even("noise.baffle", draw)), seconds),
        tuple(q for q in read if q is not None),
        tuple(dict.fromkeys(unread)),
    )


def cooling_air_m3_s(watts: ArrayLike, warmer_k: float, density_kg_m3: float = 1.2) -> Array:
    """Air that carries off a motor's heat when it may grow this much warmer [m³/s]: P / (ρ c ΔT).

    Examples
    --------
    >>> round(float(cooling_air_m3_s(1380.0, 15.0)), 3)
    0.076
    """
    heat = density_kg_m3 * fact("breathing.air.heat").value * warmer_k
    return np.asarray(np.asarray(watts, dtype=float) / heat)
