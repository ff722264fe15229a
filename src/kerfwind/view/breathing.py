"""A session of work as people see it: a few plain sentences, its tables and its pictures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..breathing import SessionResult
from ..breathing.findings import dust_mass, effect_named, of_range, share
from ..breathing.session import LOOKED_S
from ..drawing import Drawing
from ..drawing.breathing import Course, Flow, Span, air_chart, bucket_chart, dose_chart, flow_chart
from ..facts import Amount, Band, Listing, Name, Ref, Term
from ..filenames import file_stem
from ..plan import Plan
from ..quantity import band, middle
from ..sources import fact
from ..words import Voice
from .air import Tag
from .figure import Figure

Array = NDArray[np.float64]

_MG = 1e6
#: Limits are told as over, doubtful or under by how likely they are met.
_OVER, _UNDER = 0.1, 0.9
#: Sessions that the bucket's picture shows at most.
_MOST_SESSIONS = 24
#: Beyond so many sessions a bucket is as good as never full.
_MANY = 999


@dataclass(frozen=True)
class TaskRow:
    """One operation: what is done, for how long, the dust it makes, the air round the worker."""

    what: str
    time: str
    made: str
    caught: str
    air: str


@dataclass(frozen=True)
class LimitRow:
    """The day against one limit."""

    name: str
    most: str
    day: str
    verdict: Tag


@dataclass(frozen=True)
class EffectRow:
    """What a change leaves of the dustiest operation, of the session's mean and of the day."""

    what: str
    peak: str
    mean: str
    day: str


@dataclass(frozen=True)
class SessionPage:
    """All that the page of a session shows."""

    name: str
    title: str
    says: tuple[str, ...]
    tasks: tuple[TaskRow, ...]
    limits: tuple[LimitRow, ...]
    effects: tuple[EffectRow, ...]


@dataclass(frozen=True)
class SessionRow:
    """A session in one line of a table."""

    name: str
    made: str
    caught: str
    air: str
    limit: str
    mask_on: str
    noise: str
    sessions: str


def session_rows(plan: Plan, voice: Voice) -> list[SessionRow]:
    """A row for each session."""
    return [
        SessionRow(
            r.air.name,
            voice.text(dust_mass(r.air.made_kg)),
            voice.text(share(r.air.caught)),
            voice.text(Band.of(r.air.day_kg_m3("inhalable", r.limit.averaging_s), "concentration")),
            voice.text(Amount(r.limit.kg_m3, "concentration", "short")),
            _mask_on(r, voice),
            voice.text(Band.of(r.noise.day_db, "sound")),
            _sessions(r, voice) if plan.shop.separator.in_use else "",
        )
        for r in plan.breathing.results
    ]


def session_pages(plan: Plan, voice: Voice) -> list[SessionPage]:
    """A page for each session."""
    return [_page(plan, r, voice) for r in plan.breathing.results]


def _page(plan: Plan, result: SessionResult, voice: Voice) -> SessionPage:
    return SessionPage(
        result.air.name,
        voice.word("view.session", session=Ref("session", result.air.name)),
        tuple(_says(plan, result, voice)),
        tuple(_task_rows(result, voice)),
        tuple(_limit_rows(result, voice)),
        tuple(_effect_rows(result, voice)),
    )


def _mask_on(result: SessionResult, voice: Voice) -> str:
    low, _, high = band(result.air.clear_s)
    ends = [Amount(float(np.ceil(x / 300) * 300), "time", "hours") for x in (low, high)]
    if high >= LOOKED_S * 0.999:
        return voice.word("view.session.more_than", time=ends[1])
    return voice.word("number.range", before=ends[0], after=ends[1])


def _sessions(result: SessionResult, voice: Voice) -> str:
    low, _, high = band(result.sessions)
    first, last = round(float(low)), round(min(float(high), _MANY))
    if low > _MANY:
        return voice.word("view.session.more_than", time=Name(voice.count(_MANY)))
    if first == last:
        return voice.count(first)
    return voice.word(
        "number.range", before=Name(voice.count(first)), after=Name(voice.count(last))
    )


def _says(plan: Plan, result: SessionResult, voice: Voice) -> list[str]:
    air, limit = result.air, result.limit
    tools = Listing(
        tuple(Ref("tool", t) for t in dict.fromkeys(t.tool for t in air.tasks if t.tool)), "commas"
    )
    times = float(middle(air.mean_kg_m3)) / limit.kg_m3
    separator = plan.shop.separator.in_use
    said = [
        voice.word(
            "view.session.dust",
            made=dust_mass(air.made_kg),
            caught=share(air.caught),
            past=dust_mass(air.past_hood_kg),
        ),
        voice.word(
            "view.session.air",
            had=Band.of(air.mean_kg_m3, "concentration"),
            limit=Term("limit", limit.key),
            most=Amount(limit.kg_m3, "concentration", "short"),
            way="over" if times > 1 else "under",
        ),
        voice.word("view.session.mask_on", time=Name(_mask_on(result, voice))),
        voice.word("view.session.noise", day=Band.of(result.noise.day_db, "sound")),
    ]
    if separator:
        said.append(voice.word("view.session.bucket", sessions=Name(_sessions(result, voice))))
    if not tools.items:
        said.append(voice.word("view.session.by_hand"))
    part = of_range(*fact("breathing.total").span, "share")
    said.append(voice.word("view.session.total", part=part))
    return said


def _task_rows(result: SessionResult, voice: Voice) -> list[TaskRow]:
    rows = []
    for task in result.air.tasks:
        tool = Ref("tool", task.tool) if task.tool else Term("view.session", "hand")
        rows.append(
            TaskRow(
                voice.word(
                    "view.session.task",
                    tool=tool,
                    operation=Term("operation", task.operation),
                    wood=task.wood_named,
                )
                if task.makes_dust
                else voice.word(
                    "view.session.sweeping", tool=tool, operation=Term("operation", task.operation)
                ),
                voice.text(Amount(middle(task.seconds), "time", "hours")),
                voice.text(dust_mass(task.made_kg)) if task.makes_dust else "",
                voice.text(share(task.caught)) if task.makes_dust else "",
                voice.text(Band.of(task.mean_kg_m3, "concentration")),
            )
        )
    return rows


def _limit_rows(result: SessionResult, voice: Voice) -> list[LimitRow]:
    rows = []
    for each in result.judged:
        key = "over" if each.likelihood < _OVER else "under" if each.likelihood > _UNDER else "open"
        level = {"over": "problem", "under": "advice", "open": "unknown"}[key]
        word = Term("view.limit", key)
        rows.append(
            LimitRow(
                voice.text(Term("limit", each.limit.key)),
                voice.text(Amount(each.limit.kg_m3, "concentration", "short")),
                voice.text(Band.of(each.day_kg_m3, "concentration")),
                Tag(level, voice.text(word)),
            )
        )
    return rows


def _effect_rows(result: SessionResult, voice: Voice) -> list[EffectRow]:
    def part(of: Band) -> str:
        return voice.text(of_range(of.low, of.high, "share"))

    return [
        EffectRow(voice.text(effect_named(e.kind)), part(e.peak), part(e.mean), part(e.day))
        for e in result.effects
    ]


def _course(at: Array, values: Array, factor: float = 1.0) -> Course:
    low, best, high = band(values * factor)
    return Course(at, low, best, high)


def session_figures(plan: Plan, number: int, voice: Voice, width_mm: float) -> dict[str, Figure]:
    """The pictures of one session by what they show: air, flow, bucket, dose."""
    result = plan.breathing.results[number]
    half = width_mm / 2 - 42
    drawn = {
        "air": _air(result, voice, width_mm - 46),
        "flow": _flow(result, voice, width_mm - 92),
        "dose": _dose(result, voice, half),
    }
    if plan.shop.separator.in_use:
        drawn["bucket"] = _bucket(result, voice, half)
    figures = {}
    for key, drawing in drawn.items():
        stem = file_stem(key, before=f"session-{number + 1}-")
        figures[key] = Figure(f"{stem}.svg", drawing)
    return figures


def _air(result: SessionResult, voice: Voice, width_mm: float) -> Drawing:
    air, limit = result.air, result.limit
    _, best, late = band(air.clear_s)
    ends = (air.last_cut_s + best) / 60, (air.last_cut_s + late) / 60
    longest = min(max(ends[1] * 1.08, air.last_cut_s / 60 * 1.3), float(air.air.seconds[-1]) / 60)
    minutes = air.air.seconds / 60
    seen = minutes <= longest
    starts, spans = 0.0, []
    for task in air.tasks:
        end = starts + middle(task.seconds) / 60
        spans.append(Span(starts, end, voice.text(Term("operation", task.operation))))
        starts = end
    return air_chart(
        _course(minutes[seen], air.air.near_kg_m3[seen], _MG),
        spans,
        limit=limit.kg_m3 * _MG,
        clear=limit.kg_m3 * _MG * fact("breathing.clear").value,
        limit_name=voice.text(Amount(limit.kg_m3, "concentration", "short")),
        mask_min=(float(ends[0]), float(ends[1])),
        voice=voice,
        width_mm=width_mm,
    )


def _flow(result: SessionResult, voice: Voice, width_mm: float) -> Drawing:
    air = result.air
    made = max(float(np.mean(air.made_kg)), 1e-12)
    gone = air.went_kg["vented"] + air.went_kg["cleaned"]
    places: list[tuple[str, Array, bool]] = [
        ("bucket", air.went_kg["bucket"], True),
        ("vacuum", air.went_kg["vacuum"], True),
        ("floor", air.went_kg["floor"], False),
        ("swept", air.went_kg["swept"], False),
        ("out", gone, False),
        ("airborne", air.went_kg["airborne"], False),
        ("breathed", air.went_kg["breathed"], False),
    ]
    shown = [(k, m, c) for k, m, c in places if float(np.mean(m)) > 0]
    flows = [
        Flow(
            voice.text(Term("went", key)),
            voice.text(dust_mass(mass)),
            float(np.mean(mass)) / made if by_hood else 0.0,
            0.0 if by_hood else float(np.mean(mass)) / made,
        )
        for key, mass, by_hood in shown
    ]
    return flow_chart(voice.text(dust_mass(air.made_kg)), flows, voice=voice, width_mm=width_mm)


def _bucket(result: SessionResult, voice: Voice, width_mm: float) -> Drawing:
    _, _, most = band(result.sessions)
    last = int(min(max(float(most) + 1, 4), _MOST_SESSIONS))
    at = np.arange(last + 1, dtype=float)
    level = np.minimum(at[:, None] * result.fill, 1.0)
    passes = fact("breathing.bucket.passes").span
    return bucket_chart(_course(at, level), passes, voice=voice, width_mm=width_mm)


def _dose(result: SessionResult, voice: Voice, width_mm: float) -> Drawing:
    air, limit, noise = result.air, result.limit, result.noise
    whole = limit.kg_m3 * limit.averaging_s
    minutes = air.dosed_at_s / 60
    seconds = np.cumsum([0.0, *(middle(s) for s in noise.seconds)])
    parts: Sequence[Array] = [np.zeros_like(noise.niosh)]
    level, rate = (fact(f"breathing.noise.niosh_{k}").value for k in ("level", "rate"))
    for sound, time in zip(noise.levels_db, noise.seconds, strict=True):
        allowed = 8 * 3600.0 / 2 ** ((sound - level) / rate)
        parts = [*parts, parts[-1] + time / allowed]
    return dose_chart(
        _course(minutes, air.doses / whole),
        _course(seconds / 60, np.array(parts)),
        voice=voice,
        width_mm=width_mm,
    )
