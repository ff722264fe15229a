"""Two verdicts a tool: are chips carried, is dust caught."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ..facts import Amount, Band, Ref, Statement, Term, facts, state
from ..finding import Finding, judge
from ..quantity import Draw, Quantity
from ..shop import AssumedText, Shop, Tool
from ..shop.catalogue.hoods import BOX, HOODS
from ..shop.catalogue.needs import need
from .curve import SuctionCurve
from .path import curve_is_measured

Array = NDArray[np.float64]
Word = Literal["strong", "enough", "weak", "starved", "unknown"]
RunKind = Literal["hose", "branch"]

_SPARE = 1.25
_NEAR = 0.7
_SURE = 0.9
# A vacuum whose open airflow meets the need less often than this cannot be helped by a hose.
_NO_REACH = 0.05


@dataclass(frozen=True)
class Verdict:
    """One word, how likely the need is met, and the finding behind it."""

    word: Word
    likelihood: float
    finding: Finding

    @property
    def named(self) -> Term:
        """The word, for a sentence to say."""
        return Term("verdict", self.word)


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


@dataclass(frozen=True)
class RunAir:
    """Air in one run: the least velocity in it, where the air is densest.

    ``kind`` tells a hose, which can be lifted, from a branch, which is fixed.
    """

    name: str
    bore_m: Array
    length_m: Array
    rise_m: Array
    velocity_m_s: Array
    after_separator: bool = False
    kind: RunKind = "hose"


@dataclass(frozen=True)
class Slowest:
    """Per sample, the run that carries chips worst: its speed and what it must have [m/s].

    ``name`` and ``kind`` are those of the run that is it most often, ``climbing`` whether it
    is where that run climbs.
    """

    speed_m_s: Array
    limit_m_s: Array
    name: str
    kind: RunKind
    climbing: bool

    @property
    def where(self) -> Statement:
        """The run that is it most often, for a sentence to say."""
        return state(
            "air.run.branch" if self.kind == "branch" else "air.run.hose",
            run=Ref(self.kind, self.name),
            climbing="yes" if self.climbing else "no",
        )


def catch_need(tool: Tool, draw: Draw) -> Array:
    """Airflow [m³/s] that the hood needs to catch dust, or the person's own measured need."""
    if tool.needs_airflow is not None:
        return draw.of(tool.needs_airflow)
    wanted = need(tool.hood, tool.operation).catch
    each = draw.between(*wanted.span, wanted.key)
    if tool.hood == BOX and tool.opening is not None:
        # The fact is a speed through the face, which is the box's own.
        each = each * draw.of(tool.opening.length) * draw.of(tool.opening.width)
    return each


def slowest_run(tool: Tool, runs: Sequence[RunAir], draw: Draw) -> Slowest:
    """The run in which chips settle first; level and rising runs must have their own speed.

    Runs past the separator do not count: its bucket has the chips by then.
    """
    wanted = need(tool.hood, tool.operation)
    carry = draw.between(*wanted.carry.span, wanted.carry.key)
    rows: list[tuple[RunAir, bool, Array]] = []
    for run in runs:
        if run.after_separator:
            continue
        rows.append((run, False, carry))
        if np.any(run.rise_m > 0):
            lift = draw.between(*wanted.lift.span, wanted.lift.key)
            climbing = np.where(run.rise_m > 0, lift, 1e-3)
            rows.append((run, True, climbing))
    speeds = np.array([run.velocity_m_s for run, _, _ in rows])
    limits = np.array([x for _, _, x in rows])
    worst = np.argmin(speeds / limits, axis=0)
    pick = (worst, np.arange(draw.count))
    most, climbs, _ = rows[int(np.argmax(np.bincount(worst, minlength=len(rows))))]
    return Slowest(speeds[pick], limits[pick], most.name, most.kind, climbs)


def other_operations(tool: Tool) -> list[Tool]:
    """The same tool at what else its hood is for, where the program chose the operation."""
    if not isinstance(tool.operation, AssumedText):
        return []
    return [
        tool.model_copy(update={"operation": each})
        for each in HOODS[tool.hood].operations
        if each != tool.operation
    ]


def guesses_filter(shop: Shop) -> bool:
    """Whether the program chose the filter's state, and the curve does not hold it."""
    return isinstance(shop.vacuum.filter, AssumedText) and not curve_is_measured(shop)


def _turning_choices(
    shop: Shop, tool: Tool, ratio: Array, operations: Sequence[Array], clogged: Array | None
) -> tuple[str, ...]:
    """Places of choices the program made, of which another would fail what now passes.

    Each array is what is had over what is needed, by that choice. A link hose that nobody
    owns yet takes air too, and no one knows how much.
    """
    if np.mean(ratio >= 1) < _SURE:
        return ()
    places = []
    if shop.separator.in_use and shop.link is None:
        places.append("hoses.link")
    if any(np.mean(other >= 1) < _SURE for other in operations):
        places.append(f"tools[{tool.name}].operation")
    if clogged is not None and np.mean(clogged >= 1) < _SURE:
        places.append("vacuum.filter")
    return tuple(places)


def caught(
    shop: Shop,
    tool: Tool,
    airflow_m3_s: Array,
    curve: SuctionCurve,
    draw: Draw,
    rests_on: Sequence[Quantity],
    carried: Verdict,
    *,
    clogged_m3_s: Array | None = None,
) -> Verdict:
    """Dust caught: airflow at the hood against what the hood needs.

    ``carried`` is the verdict on chips: what a vacuum can still do at a hood that is out
    of its reach. ``clogged_m3_s`` is the airflow behind a clogged filter, where its state is
    not known.
    """
    hood = HOODS[tool.hood]
    own = tool.needs_airflow
    limit = catch_need(tool, draw)
    reached = float(np.mean(curve.open_m3_s >= limit)) >= _NO_REACH
    finding = judge(
        key="air.dust_caught",
        about=Ref("tool", tool.name),
        value=airflow_m3_s,
        limit=limit,
        must="at least",
        dimension="airflow",
        draw=draw,
        rests_on=rests_on if own is None else (*rests_on, own),
        unresolved=_turning_choices(
            shop,
            tool,
            airflow_m3_s / limit,
            [airflow_m3_s / catch_need(t, draw) for t in other_operations(tool)],
            None if clogged_m3_s is None else clogged_m3_s / limit,
        ),
        sources=() if own is not None else (need(tool.hood, tool.operation).catch.key,),
        outcome="short"
        if reached
        else "wrong_machine"
        if hood.made_for == "duct"
        else "out_of_reach",
        facts=facts(
            hood=Term("hood", tool.hood),
            operation=Term("operation", tool.operation),
            had=Band.of(airflow_m3_s, "airflow"),
            needed=Band.of(limit, "airflow"),
            most=Band.of(curve.open_m3_s, "airflow"),
            duct=Amount(hood.duct_m, "length", "trade"),
            still=_still(carried),
        ),
    )
    if finding.level == "good":
        finding = replace(finding, outcome="enough")
    had_of_need, likelihood = word(airflow_m3_s / limit, finding.level == "unknown")
    return Verdict(had_of_need, likelihood, finding)


def chips(
    shop: Shop,
    tool: Tool,
    runs: Sequence[RunAir],
    draw: Draw,
    rests_on: Sequence[Quantity],
    *,
    clogged: Sequence[RunAir] = (),
) -> Verdict:
    """Chips carried: the speed where it is lowest against what keeps chips moving there.

    ``clogged`` are the runs behind a clogged filter, where its state is not known.
    """
    wanted = need(tool.hood, tool.operation)
    slow = slowest_run(tool, runs, draw)
    ratio = _spare(slow)
    near = word(ratio, False)[0] != "starved"
    finding = judge(
        key="air.chips_carried",
        about=Ref("tool", tool.name),
        value=slow.speed_m_s,
        limit=slow.limit_m_s,
        must="at least",
        dimension="speed",
        draw=draw,
        rests_on=(*rests_on, tool.rise),
        unresolved=_turning_choices(
            shop,
            tool,
            ratio,
            [_spare(slowest_run(t, runs, draw)) for t in other_operations(tool)],
            _spare(slowest_run(tool, clogged, draw)) if clogged else None,
        ),
        sources=(wanted.carry.key, wanted.lift.key),
        outcome="may_settle",
        facts=facts(
            operation=Term("operation", tool.operation),
            where=slow.where,
            run=slow.kind,
            had=Band.of(slow.speed_m_s, "speed"),
            needed=Band.of(slow.limit_m_s, "speed"),
        ),
        # Short of a duct's speed by a little, a hose that can be lifted is still of use.
        fail="advice" if near else "problem",
    )
    kind, likelihood = word(ratio, finding.level == "unknown")
    return Verdict(kind, likelihood, finding)


def _spare(slow: Slowest) -> Array:
    """The slowest run's speed over what it must have, by samples."""
    return slow.speed_m_s / slow.limit_m_s


def _still(carried: Verdict) -> Statement:
    """What a vacuum can still do at a hood that is out of its reach."""
    return state(
        "air.still.carried"
        if carried.word in ("strong", "enough")
        else "air.still.likely"
        if carried.likelihood >= 0.5
        else "air.still.by_hand"
    )
