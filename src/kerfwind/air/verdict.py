"""Two verdicts a tool: are chips carried, is dust caught."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ..finding import Finding, judge
from ..quantity import Draw, Quantity, show
from ..quantity.printing import UnitChoice
from ..shop import Shop, Tool
from ..shop.catalogue.hoods import HOODS, OPERATIONS
from ..shop.catalogue.needs import need
from .curve import SuctionCurve

Array = NDArray[np.float64]
Word = Literal["strong", "enough", "weak", "starved", "unknown"]

_SPARE = 1.25
_NEAR = 0.7
_SURE = 0.9


@dataclass(frozen=True)
class Verdict:
    """One word, how likely the need is met, and the finding behind it."""

    word: Word
    likelihood: float
    finding: Finding


def word(ratio: Array, unknown: bool) -> tuple[Word, float]:
    """Samples of what is had over what is needed, as a word and the chance of enough.

    ``strong``: a quarter to spare, nine times in ten; ``enough``: met nine times in ten;
    ``weak``: within 70 % of the need more often than not; ``starved``: below that.
    """
    likelihood = float(np.mean(ratio >= 1))
    if unknown:
        return "unknown", likelihood
    if np.mean(ratio >= _SPARE) >= _SURE:
        return "strong", likelihood
    if likelihood >= _SURE:
        return "enough", likelihood
    return ("weak" if np.mean(ratio >= _NEAR) >= 0.5 else "starved"), likelihood


def caught(
    shop: Shop, tool: Tool, airflow_m3_s: Array, curve: SuctionCurve, draw: Draw,
    rests_on: Sequence[Quantity], carried: Verdict,
) -> Verdict:  # fmt: skip
    """Dust caught: airflow at the hood against what the hood needs.

    ``carried`` is the verdict on chips: what a vacuum can still do at a hood that is out
    of its reach.
    """
    hood = HOODS[tool.hood]
    wanted = need(tool.hood, tool.operation).catch
    sources: tuple[str, ...] = (wanted.key,)
    if tool.needs_airflow is not None:
        limit = draw.of(tool.needs_airflow)
        rests_on = (*rests_on, tool.needs_airflow)
        sources = ()
    else:
        limit = draw.between(*wanted.span, wanted.key)
    out_of_reach = hood.made_for == "duct" and bool(np.mean(curve.open_m3_s >= limit) < 0.05)
    units = shop.shop.units
    had, asked = _say(airflow_m3_s, "airflow", units), _say(limit, "airflow", units)
    most = _say(curve.open_m3_s, "airflow", units)
    if out_of_reach:
        bad = (
            f"The wrong machine for this hood: {hood.what} is made for a duct of "
            f"{show(hood.duct_m, 'length', units)} and wants {asked}. With nothing attached the "
            f"vacuum moves {most} at most, so no hose and no fitting mends it."
        )
        do = (
            "Use a dust collector on this port to catch the dust. What the vacuum can still do: "
            f"{_still(carried)} The fine dust stays out: wear a mask and clean the room's air."
        )
    else:
        bad = f"Too little air to catch the dust: {had} at the hood, {asked} needed."
        do = "See what would help most; until then wear a mask, for fine dust escapes."
    finding = judge(
        key="air.dust_caught", room="air", about=tool.name,
        check=f"airflow at {hood.what} while {OPERATIONS[tool.operation].what}",
        value=airflow_m3_s, limit=limit, must="at least", dimension="airflow", draw=draw,
        rests_on=rests_on, sources=sources,
        good=f"{had} at the hood, {asked} needed. Dust caught is never certain: wear a mask.",
        bad=bad, do=do,
    )  # fmt: skip
    had_of_need, likelihood = word(airflow_m3_s / limit, finding.level == "unknown")
    return Verdict(had_of_need, likelihood, finding)


@dataclass(frozen=True)
class RunAir:
    """Air in one run: the least velocity in it, where the air is densest."""

    name: str
    bore_m: Array
    length_m: Array
    rise_m: Array
    velocity_m_s: Array
    after_separator: bool = False


def chips(
    shop: Shop, tool: Tool, runs: Sequence[RunAir], draw: Draw, rests_on: Sequence[Quantity]
) -> Verdict:
    """Chips carried: the speed in every run against what level and rising air must have.

    Runs past the separator do not count: its bucket has the chips by then.
    """
    wanted = need(tool.hood, tool.operation)
    carry = draw.between(*wanted.carry.span, wanted.carry.key)
    rows: list[tuple[str, Array, Array]] = []
    for run in runs:
        if run.after_separator:
            continue
        rows.append((run.name, run.velocity_m_s, carry))
        if np.any(run.rise_m > 0):
            lift = draw.between(*wanted.lift.span, wanted.lift.key)
            rows.append((
                f"{run.name}, climbing", run.velocity_m_s, np.where(run.rise_m > 0, lift, 1e-3),
            ))  # fmt: skip
    speeds = np.array([v for _, v, _ in rows])
    limits = np.array([x for _, _, x in rows])
    ratios = speeds / limits
    slowest = np.argmin(ratios, axis=0)
    pick = (slowest, np.arange(draw.count))
    speed, limit = speeds[pick], limits[pick]
    where = rows[int(np.argmax(np.bincount(slowest, minlength=len(rows))))][0]
    had, asked = _say(speed, "speed", shop.shop.units), _say(limit, "speed", shop.shop.units)
    finding = judge(
        key="air.chips_carried", room="air", about=tool.name,
        check=f"air speed to carry what comes of {OPERATIONS[tool.operation].what}, "
        f"where it is slowest ({where})",
        value=speed, limit=limit, must="at least", dimension="speed", draw=draw,
        rests_on=rests_on, sources=(wanted.carry.key, wanted.lift.key),
        good=f"{had} in the {where}, {asked} needed to keep it moving.",
        bad=f"What falls in may settle in the {where}: {had}, {asked} needed.",
        do="A narrower or shorter run, or more airflow, keeps it moving; empty the run by lifting it.",
    )  # fmt: skip
    kind, likelihood = word(ratios[pick], finding.level == "unknown")
    return Verdict(kind, likelihood, finding)


def _still(carried: Verdict) -> str:
    if carried.word in ("strong", "enough"):
        return "chips that reach the port are carried off through its narrower hose."
    if carried.likelihood >= 0.5:
        return "chips that reach the port are likely carried off; lift the hose empty now and then."
    return "suck up chips by hand with a nozzle; through this port they may settle in the hose."


def _say(samples: Array, dimension: str, units: str) -> str:
    choice: UnitChoice = "mm" if units == "mm" else "in"
    low, high = np.quantile(samples, (0.05, 0.95))
    ends = [show(float(x), dimension, choice) for x in (low, high)]
    return ends[0] if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}"
