"""Two verdicts a tool: are chips carried, is dust caught.

Both count what the model itself may be off, beside all that it is given.
"""

from __future__ import annotations

import functools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ..facts import Amount, Band, Ref, Statement, Term, facts, state
from ..finding import Finding, Level, judge
from ..quantity import Draw, Quantity
from ..shop import AssumedText, Shop, Tool
from ..shop.catalogue.hoods import BOX, HOODS
from ..shop.catalogue.needs import need
from ..sources import fact
from .chips import Stuff
from .curve import SuctionCurve
from .path import curve_is_measured
from .series import Part

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
    """Air in one run: the least velocity in it, where the air is densest, and its density there.

    ``kind`` tells a hose, which can be lifted, from a branch, which is fixed.
    """

    name: str
    bore_m: Array
    length_m: Array
    rise_m: Array
    velocity_m_s: Array
    density_kg_m3: Array
    after_separator: bool = False
    kind: RunKind = "hose"


@dataclass(frozen=True)
class Slowest:
    """Per sample, the run that carries chips worst: its speed and what it must have [m/s].

    ``settles_m_s`` is the speed at which they begin to settle in it, ``duct_m_s`` that of a long
    duct. ``name`` and ``kind`` are those of the run that is it most often, ``climbing`` whether
    it is where that run climbs.
    """

    speed_m_s: Array
    limit_m_s: Array
    settles_m_s: Array
    duct_m_s: Array
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

    @property
    def spare(self) -> Array:
        """The speed over what it must be, by samples."""
        return self.speed_m_s / self.limit_m_s


@dataclass(frozen=True)
class Narrowest:
    """The narrowest place that chips pass: whose it is, and its bore [m] by samples."""

    part: Part
    bore_m: Array

    @classmethod
    def of(cls, parts: Iterable[tuple[Part, Array]]) -> Narrowest:
        """The narrowest of several, the first of those that are alike."""
        named = list(parts)
        shape = np.shape(named[0][1])
        # Many elements of a way have the same bore.
        known: dict[int, tuple[Part, Array]] = {}
        for part, bore in named:
            known.setdefault(id(bore), (part, bore))
        bores = np.array([np.broadcast_to(bore, shape) for _, bore in known.values()])
        lows, highs = bores.min(axis=-1), bores.max(axis=-1)
        # One that is everywhere wider than another is not the narrowest.
        few = np.flatnonzero(lows <= highs.min())
        least = int(few[0])
        if len(few) > 1:
            least = int(few[np.argmin(np.median(bores[few], axis=-1))])
        return cls([*known.values()][least][0], bores.min(axis=0))


def told_airflow(airflow_m3_s: Array, draw: Draw) -> Band:
    """An airflow as it is told, with what the reckoning itself may be off."""
    return Band.of(airflow_m3_s * model_error(draw), "airflow")


def model_error(draw: Draw) -> Array:
    """What the model itself may be off beside all its inputs, as a factor on airflow and speed."""
    wide = 2 * fact("air.model_error").value
    return draw.between(1 - wide, 1 + wide, "air.model_error", "normal")


def carried(tool: Tool, runs: Sequence[RunAir], narrowest: Narrowest, draw: Draw) -> Array:
    """What is had over what is needed for chips to be carried, by samples: speed and passage."""
    return had_of_need(Stuff.of(tool, draw), runs, narrowest.bore_m, draw)


def had_of_need(stuff: Stuff, runs: Sequence[RunAir], narrowest_m: Array, draw: Draw) -> Array:
    """The same from what is carried; arrays may have several ways on a first axis."""
    had = (
        run.velocity_m_s / limit
        for run in runs
        if not run.after_separator
        for _, limit, _ in _needs(stuff, run)
    )
    spare = functools.reduce(np.minimum, had)
    return np.asarray(np.minimum(spare * model_error(draw), narrowest_m / stuff.passage_m))


def _needs(stuff: Stuff, run: RunAir) -> Iterator[tuple[bool, Array, Array]]:
    """Whether it is for a climb, the speed [m/s] that a run must have, and that at which chips settle."""
    air = run.density_kg_m3
    settles = stuff.settles_m_s(run.bore_m, air)
    yield False, stuff.level_need_m_s(settles, run.length_m, air), settles
    climbs = run.rise_m > 0
    if np.any(climbs):
        need_m_s = stuff.climb_need_m_s(air)
        yield True, need_m_s if np.all(climbs) else np.where(climbs, need_m_s, 1e-3), settles


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
    stuff = Stuff.of(tool, draw)
    rows = [(run, *each) for run in runs if not run.after_separator for each in _needs(stuff, run)]
    if len(rows) == 1:
        run, climbing, limit, settles = rows[0]
        duct = stuff.long_duct_m_s(run.density_kg_m3)
        return Slowest(run.velocity_m_s, limit, settles, duct, run.name, run.kind, climbing)
    speeds = np.array([run.velocity_m_s for run, *_ in rows])
    limits = np.array([limit for _, _, limit, _ in rows])
    floors = np.array([settles for *_, settles in rows])
    ducts = np.array([stuff.long_duct_m_s(run.density_kg_m3) for run, *_ in rows])
    worst = np.argmin(speeds / limits, axis=0)
    pick = (worst, np.arange(draw.count))
    most, climbing, *_ = rows[int(np.argmax(np.bincount(worst, minlength=len(rows))))]
    return Slowest(
        speeds[pick], limits[pick], floors[pick], ducts[pick], most.name, most.kind, climbing
    )


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
    off = model_error(draw)
    had = told_airflow(airflow_m3_s, draw)
    airflow_m3_s = airflow_m3_s * off
    limit = catch_need(tool, draw)
    reached = float(np.mean(curve.open_m3_s >= limit)) >= _NO_REACH
    needed = Band.of(limit, "airflow")
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
            None if clogged_m3_s is None else clogged_m3_s * off / limit,
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
            had=had,
            needed=needed,
            most=curve.open_band,
            duct=Amount(hood.duct_m, "length", "trade"),
            still=_still(carried),
        ),
        bands=(had, needed),
    )
    if finding.level == "good":
        finding = replace(finding, outcome="enough")
    had_of_need, likelihood = word(airflow_m3_s / limit, finding.level == "unknown")
    return Verdict(had_of_need, likelihood, finding)


def chips(
    shop: Shop,
    tool: Tool,
    runs: Sequence[RunAir],
    narrowest: Narrowest,
    draw: Draw,
    rests_on: Sequence[Quantity],
    *,
    clogged: Sequence[RunAir] = (),
) -> Verdict:
    """Chips carried: speed where it is lowest, and room for the longest where it is narrowest.

    ``clogged`` are the runs behind a clogged filter, where its state is not known.
    """
    wanted = need(tool.hood, tool.operation)
    stuff = Stuff.of(tool, draw)
    slow = slowest_run(tool, runs, draw)
    had = slow.speed_m_s * model_error(draw)
    fast, free = had / slow.limit_m_s, narrowest.bore_m / stuff.passage_m
    ratio = np.minimum(fast, free)
    near = word(ratio, False)[0] != "starved"
    turning = _turning_choices(
        shop,
        tool,
        ratio,
        [carried(t, runs, narrowest, draw) for t in other_operations(tool)],
        carried(tool, clogged, narrowest, draw) if clogged else None,
    )
    # Short of it by a little, a hose that can be lifted and shaken is still of use.
    fail: Level = "advice" if near else "problem"
    jams = np.mean(free >= 1) < np.mean(fast >= 1)
    speeds = Band.of(had, "speed"), Band.of(slow.limit_m_s, "speed")
    passages = Band.of(narrowest.bore_m, "length"), stuff.passage
    finding = judge(
        key="air.chips_carried",
        about=Ref("tool", tool.name),
        value=narrowest.bore_m if jams else had,
        limit=stuff.passage_m if jams else slow.limit_m_s,
        must="at least",
        dimension="length" if jams else "speed",
        draw=draw,
        rests_on=(*rests_on, tool.rise),
        unresolved=turning,
        sources=("air.passage", wanted.longest.key)
        if jams
        else ("rizk", "weber", "schade", wanted.carry.key, wanted.mass.key),
        outcome="may_clog" if jams else "may_settle",
        facts=facts(
            operation=Term("operation", tool.operation),
            where=slow.where,
            run=slow.kind,
            had=speeds[0],
            needed=speeds[1],
            settles=Band.of(slow.settles_m_s, "speed"),
            duct=Band.of(slow.duct_m_s, "speed"),
            part=narrowest.part,
            passage=passages[0],
            free=passages[1],
            longest=stuff.longest,
        ),
        fail=fail,
        bands=passages if jams else speeds,
    )
    kind, likelihood = word(ratio, finding.level == "unknown")
    if finding.level == "good" and likelihood < _SURE:
        # Either alone is likely enough, but not both.
        finding = replace(finding, level="advice")
    return Verdict(kind, likelihood, finding)


def _still(carried: Verdict) -> Statement:
    """What a vacuum can still do at a hood that is out of its reach."""
    return state(
        "air.still.carried"
        if carried.word in ("strong", "enough")
        else "air.still.likely"
        if carried.likelihood >= 0.5
        else "air.still.by_hand"
    )
