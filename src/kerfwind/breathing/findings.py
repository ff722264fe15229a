"""What is to be said of a session: every answer that the air allows, and none that it does not.

No answer about dust in the air is ever `good`: below a limit is not safe, and a model is no
measurement.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..facts import Amount, Band, Fact, Listing, Ref, Statement, Style, Term, facts, state
from ..finding import Finding, Level, finding, judge
from ..lifting import recommended_lift_kg
from ..quantity import Draw, Quantity, band, middle
from ..shop import AssumedText, Session, Shop
from ..sources import fact
from .changes import CLEANER_M3_S, COARSE
from .mask import needed_factor
from .noise import cooling_air_m3_s
from .session import LOOKED_S, HoodAir, TaskAir
from .spreads import even

if TYPE_CHECKING:
    from .whole import SessionResult

Array = NDArray[np.float64]

_DAY_S = 24 * 3600.0
#: A mask covers what nine samples in ten ask for at most, as the range that is told does.
_COVERED = 0.95
#: A likelihood between these is not settled while nothing was weighed.
_DOUBTFUL = (0.025, 0.995)
#: An effect is worth naming that takes this part off the day.
_WORTH = 0.1


def of_session(
    shop: Shop, session: Session, result: SessionResult, hoods: Mapping[str, HoodAir], draw: Draw
) -> list[Finding]:
    """Everything about one session."""
    rests_on = _rests_on(shop, session, hoods)
    if not np.any(result.air.made_kg > 0):
        return [_nothing_made(session), _noise(shop, session, result, draw)]
    exposures = [_day(result, draw, rests_on), _mean(result, draw, rests_on)]
    exposures.append(_task(result, draw, rests_on))
    found = [
        *(_unsettled(_never_safe(f), shop, session) for f in exposures),
        _dust(shop, session, result),
        *_woods(session, result),
        _mask(shop, session, result),
        _mask_on(session, result),
        _noise(shop, session, result, draw),
        *_unreached(session, hoods),
        *_sweeping(result, hoods),
        *_long(session, result, draw),
        *_helps(session, result),
        *_fire(shop, session, result),
    ]
    if shop.separator.in_use:
        found.append(_bucket(shop, session, result, draw))
    return found


def of_shop(shop: Shop, results: Sequence[SessionResult], draw: Draw) -> list[Finding]:
    """What holds for all sessions, or that there is none."""
    if not results:
        about = Term("breathing", "work")
        return [finding("breathing.sessions", "none", "unknown", about, measure=("sessions",))]
    return [*_stale(shop), *_filter_class(shop), _cooling(shop, draw)]


def of_range(low: float, high: float, dimension: str, style: Style = "plain") -> Fact:
    """A range as a fact; one value where both ends are told alike."""
    ends = [Amount(float(x), dimension, style) for x in (low, high)]
    if high <= 0 or (dimension == "share" and round(100 * low) == round(100 * high)):
        return ends[0]
    return state("number.range", before=ends[0], after=ends[1])


def share(samples: ArrayLike) -> Fact:
    """Nine samples in ten of a part."""
    low, _, high = band(samples)
    return of_range(float(low), float(high), "share")


def dust_mass(samples: ArrayLike) -> Fact:
    """Nine samples in ten of a mass of dust."""
    low, _, high = band(samples)
    # Both ends in one unit: grams to a pound or so, from there as the reader weighs.
    return of_range(float(low), float(high), "mass", "dust" if high < 1.0 else "plain")


def _about(session: Session) -> Ref:
    return Ref("session", session.name)


def _weigh(shop: Shop, session: Session) -> tuple[str, ...]:
    places = []
    if session.bucket is None and shop.separator.in_use:
        places.append(f"sessions[{session.name}].bucket")
    if session.floor is None:
        places.append(f"sessions[{session.name}].floor")
    return tuple(places)


def _rests_on(shop: Shop, session: Session, hoods: Mapping[str, HoodAir]) -> tuple[Quantity, ...]:
    room = shop.room
    found: list[Quantity | None] = [room.length, room.width, room.height, room.air_changes]
    found += [room.cleaner, session.stay]
    for task in session.operations:
        found += [task.time, task.cutting, task.kerf, task.depth, task.width, task.feed]
        if task.removed is not None or task.operation == "sweeping":
            found = [q for q in found if q is not task.cutting]
        if task.tool is not None and task.tool in hoods:
            found += hoods[task.tool].rests_on
    return tuple(dict.fromkeys(q for q in found if q is not None))


def _settled(result: SessionResult, rests_on: tuple[Quantity, ...]) -> tuple[Quantity, ...]:
    # Samples that were chosen by a weighing no longer stand beside those of the inputs.
    return () if result.weighing is not None else rests_on


def _day(result: SessionResult, draw: Draw, rests_on: tuple[Quantity, ...]) -> Finding:
    limit = result.limit
    value = result.air.day_kg_m3(limit.fraction, limit.averaging_s)
    return judge(
        key="breathing.day",
        about=Ref("session", result.air.name),
        value=value,
        limit=limit.kg_m3,
        must="at most",
        dimension="concentration",
        draw=draw,
        rests_on=_settled(result, rests_on),
        sources=(limit.fact,),
        outcome="over",
        facts=facts(
            had=Band.of(value, "concentration"),
            limit=Term("limit", limit.key),
            most=Amount(limit.kg_m3, "concentration", "short"),
        ),
    )


def _mean(result: SessionResult, draw: Draw, rests_on: tuple[Quantity, ...]) -> Finding:
    limit = result.limit
    return judge(
        key="breathing.session",
        about=Ref("session", result.air.name),
        value=result.air.mean_kg_m3,
        limit=limit.kg_m3,
        must="at most",
        dimension="concentration",
        draw=draw,
        rests_on=_settled(result, rests_on),
        sources=(limit.fact,),
        outcome="over",
        facts=facts(
            had=Band.of(result.air.mean_kg_m3, "concentration"),
            limit=Term("limit", limit.key),
            most=Amount(limit.kg_m3, "concentration", "short"),
        ),
        fail="advice",
    )


def _task(result: SessionResult, draw: Draw, rests_on: tuple[Quantity, ...]) -> Finding:
    limit, air = result.limit, result.air
    worst = max(air.tasks, key=lambda t: middle(t.mean_kg_m3))
    return judge(
        key="breathing.task",
        about=Ref("session", air.name),
        value=air.task_peak_kg_m3,
        limit=limit.kg_m3,
        must="at most",
        dimension="concentration",
        draw=draw,
        rests_on=_settled(result, rests_on),
        sources=(limit.fact,),
        outcome="over",
        facts=facts(
            had=Band.of(worst.mean_kg_m3, "concentration"),
            number=worst.number,
            operation=Term("operation", worst.operation),
            limit=Term("limit", limit.key),
            most=Amount(limit.kg_m3, "concentration", "short"),
        ),
        fail="advice",
    )


def _never_safe(found: Finding) -> Finding:
    """Below a limit is no more than below it."""
    return replace(found, level="advice", outcome="under") if found.level == "good" else found


def _unsettled(found: Finding, shop: Shop, session: Session) -> Finding:
    """Not settled while what no one has published could turn it and a scale could tell."""
    likelihood = 1.0 if found.likelihood is None else found.likelihood
    weigh = _weigh(shop, session)
    if not weigh or not _DOUBTFUL[0] < likelihood < _DOUBTFUL[1]:
        return found
    measure = tuple(dict.fromkeys((*weigh, *found.measure)))[:4]
    # What a scale could turn is likely at most; nor is it over.
    outcome = {"under": "good", "over": "open"}.get(found.outcome, found.outcome)
    return replace(found, outcome=outcome, level="unknown", measure=measure)


def _dust(shop: Shop, session: Session, result: SessionResult) -> Finding:
    air, weighed = result.air, result.weighing
    if weighed is not None and not weighed.agrees:
        return finding(
            "breathing.dust",
            "apart",
            "problem",
            _about(session),
            facts=facts(
                made=dust_mass(air.made_kg),
                bucket=dust_mass(air.went_kg["bucket"]),
                floor=dust_mass(air.went_kg["floor"]),
            ),
        )
    past = np.maximum(air.past_hood_kg, 0.0)
    return finding(
        "breathing.dust",
        "estimated" if weighed is None else "weighed",
        "unknown" if _weigh(shop, session) else "good",
        _about(session),
        facts=facts(
            made=dust_mass(air.made_kg),
            caught=share(air.caught),
            past=dust_mass(past),
            separator="yes" if shop.separator.in_use else "no",
            bucket=dust_mass(air.went_kg["bucket"]),
            vacuum=dust_mass(air.went_kg["vacuum"]),
            floor=dust_mass(air.went_kg["floor"]),
            broom="yes" if np.any(air.went_kg["swept"] > 0) else "no",
            swept=dust_mass(air.went_kg["swept"]),
            breathed=dust_mass(air.went_kg["breathed"]),
        ),
        sources=_judged_sources(air.tasks),
        measure=_weigh(shop, session),
    )


def _judged_sources(tasks: Sequence[TaskAir]) -> tuple[str, ...]:
    keys = []
    for task in tasks:
        fine = f"breathing.fine.{task.operation}"
        keys.append(fine if task.makes_dust else "breathing.sweeping.rises")
    return tuple(dict.fromkeys((*keys, "breathing.rises", "breathing.cut.spread")))


def _woods(session: Session, result: SessionResult) -> list[Finding]:
    found = []
    groups: dict[str, list[TaskAir]] = {}
    for task in result.air.tasks:
        if task.makes_dust:
            groups.setdefault(task.material, []).append(task)
    for tasks in groups.values():
        wood = tasks[0].wood
        named = tasks[0].wood_named
        if wood.kind == "unknown":
            measure = tuple(
                f"sessions[{session.name}].operations[{t.number}].material" for t in tasks
            )
            found.append(
                finding(
                    "breathing.wood",
                    "unknown",
                    "unknown",
                    _about(session),
                    facts=facts(wood=named),
                    measure=measure[:3],
                    sources=("breathing.density.unknown",),
                )
            )
            continue
        kind = "board" if wood.resin else wood.kind
        found.append(
            finding(
                "breathing.wood",
                "sensitises" if wood.sensitises else "known",
                "advice",
                _about(session),
                facts=facts(wood=named, kind=kind),
                sources=(f"breathing.density.{wood.key}", "eu-2004-37"),
            )
        )
    return found


def _mask(shop: Shop, session: Session, result: SessionResult) -> Finding:
    air, limit, worn = result.air, result.limit, result.worn
    needed = needed_factor(air.worst_hour_kg_m3, limit.kg_m3)
    low, _, high = band(needed)
    covered = float(np.mean(needed <= worn.factor))
    rules = shop.about.rules or "us"
    least = fact("breathing.mask.uk.least").value
    below_least = rules != "us" and worn.factor < least and _asks_most(session)
    level: Level = "advice"
    measure: tuple[str, ...] = ()
    place = f"sessions[{session.name}]"
    if worn.why in ("untested", "which"):
        level = "unknown"
        measure = (f"{place}.fit_tested" if worn.why == "untested" else f"{place}.mask",)
    elif worn.why == "none" and isinstance(session.mask, AssumedText):
        level, measure = "unknown", (f"{place}.mask",)
    elif covered < _COVERED or below_least or worn.why in ("beard", "other_rules"):
        level = "problem" if covered < 0.5 or below_least or worn.why != "counted" else "advice"
    counts = Amount(worn.factor, "ratio", "short")
    return finding(
        "breathing.mask",
        "none"
        if worn.why == "none"
        else "beard"
        if worn.why == "beard"
        else "untested"
        if worn.why == "untested"
        else "which"
        if worn.why == "which"
        else "other_rules"
        if worn.why == "other_rules"
        else "least"
        if below_least
        else "covers"
        if covered >= _COVERED
        else "short",
        level,
        _about(session),
        sources=(*((worn.source,) if worn.source else ()), limit.fact, "breathing.mask.uk.least"),
        measure=measure,
        facts=facts(
            mask=Term("mask", session.mask),
            low=_factor(low),
            high=_factor(high),
            counts=counts,
            limit=Term("limit", limit.key),
            least=Amount(least, "ratio", "short"),
            rules=Term("rules", rules),
        ),
    )


def _factor(value: float) -> Amount:
    rounded = np.ceil(value) if value < 20 else np.ceil(value / 5) * 5
    return Amount(float(rounded), "ratio", "short")


def _asks_most(session: Session) -> bool:
    """Whether it is work for which the UK asks for a mask of factor 20."""
    return session.emptying == "indoors" or any(
        t.operation in ("sanding", "sawing", "routing") for t in session.operations
    )


def _mask_on(session: Session, result: SessionResult) -> Finding:
    low, _, high = band(result.air.clear_s)
    longer = high >= LOOKED_S * 0.999
    return finding(
        "breathing.mask_on",
        "longer" if longer else "so_long",
        "advice",
        _about(session),
        sources=("breathing.clear", result.limit.fact, "cdc-mmwr"),
        facts=facts(
            low=Amount(_to_minutes(low), "time", "hours"),
            high=Amount(_to_minutes(high), "time", "hours"),
            limit=Term("limit", result.limit.key),
            part=Amount(fact("breathing.clear").value, "share"),
        ),
    )


def _to_minutes(seconds: float) -> float:
    """Rounded up to five minutes [s]."""
    return float(np.ceil(seconds / 300.0) * 300.0)


def _noise(shop: Shop, session: Session, result: SessionResult, draw: Draw) -> Finding:
    noise = result.noise
    rules = shop.about.rules or "us"
    us = rules == "us"
    if us:
        value, limit, dimension = noise.under_niosh, 1.0, "ratio"
        sources: tuple[str, ...] = ("breathing.noise.niosh_level", "breathing.noise.osha_level")
    else:
        value, dimension = noise.under_day_db, "sound"
        limit = fact("breathing.noise.uk_lower").value
        sources = ("breathing.noise.uk_lower", "breathing.noise.uk_upper")
    worn = session.hearing != "none" and session.rating is not None
    found = judge(
        key="breathing.noise",
        about=_about(session),
        value=value,
        limit=limit,
        must="at most",
        dimension=dimension,
        draw=draw,
        rests_on=noise.rests_on,
        sources=sources,
        outcome="over" if us else "over_day",
        facts=facts(
            protected="yes" if worn else "no",
            niosh=share(noise.niosh),
            osha=share(noise.osha),
            day=Band.of(noise.day_db, "sound"),
            under=Band.of(noise.under_day_db, "sound"),
            farther=Band.of(noise.farther_db, "sound"),
            baffle=Band.of(noise.baffle_db, "sound"),
        ),
    )
    likelihood = 1.0 if found.likelihood is None else found.likelihood
    if noise.unread and _DOUBTFUL[0] < likelihood < _DOUBTFUL[1]:
        return replace(found, level="unknown", measure=noise.unread[:3])
    if found.level == "good" and noise.unread:
        # Levels that nobody read are no ground to call ears safe.
        return replace(found, level="advice", outcome="unread", measure=noise.unread[:3])
    return found


def _unreached(session: Session, hoods: Mapping[str, HoodAir]) -> list[Finding]:
    names = dict.fromkeys(t.tool for t in session.operations if t.tool and t.tool not in hoods)
    return [
        finding("breathing.unreached", "nothing_caught", "problem", Ref("tool", name))
        for name in names
    ]


def _sweeping(result: SessionResult, hoods: Mapping[str, HoodAir]) -> list[Finding]:
    sweeps = [t for t in result.air.tasks if not t.makes_dust]
    if not sweeps:
        return []
    worst = max(sweeps, key=lambda t: middle(t.mean_kg_m3))
    return [
        finding(
            "breathing.sweeping",
            "nozzle" if worst.tool in hoods else "broom",
            "advice",
            Ref("session", result.air.name),
            facts=facts(
                part=of_range(*fact("breathing.sweeping.rises").span, "share", "fine"),
                had=Band.of(worst.mean_kg_m3, "concentration"),
            ),
            sources=("breathing.sweeping.rises",),
        )
    ]


def _nothing_made(session: Session) -> Finding:
    """Dust that lies there from before is not known."""
    place = f"sessions[{session.name}].operations"
    return finding("breathing.dust", "none", "unknown", _about(session), measure=(place,))


def _long(session: Session, result: SessionResult, draw: Draw) -> list[Finding]:
    seconds = middle(result.air.seconds)
    found = []
    if seconds > _DAY_S:
        found.append(
            finding(
                "breathing.long",
                "beyond_a_day",
                "problem",
                _about(session),
                facts=facts(time=Amount(seconds, "time", "hours")),
            )
        )
    return found


def _helps(session: Session, result: SessionResult) -> list[Finding]:
    worth = [e for e in result.effects if e.day.best <= 1 - _WORTH]
    if not worth:
        return []
    rows: list[Fact] = [
        state(
            "breathing.effect.on_day",
            what=effect_named(e.kind),
            part=Amount(1 - e.day.best, "share"),
        )
        for e in worth[:4]
    ]
    return [
        finding(
            "breathing.helps",
            "most",
            "advice",
            _about(session),
            facts=facts(changes=Listing(tuple(rows), "semicolons")),
        )
    ]


def effect_named(kind: str) -> Statement:
    """A change, for a sentence to say."""
    cleaner, grit = Amount(CLEANER_M3_S, "airflow"), COARSE
    return {
        "hookup": state("breathing.effect.hookup"),
        "door": state("breathing.effect.door"),
        "cleaner": state("breathing.effect.cleaner", airflow=cleaner),
        "outdoors": state("breathing.effect.outdoors"),
        "vacuumed": state("breathing.effect.vacuumed"),
        "coarser": state("breathing.effect.coarser", grit=grit),
        "filter": state("breathing.effect.filter"),
    }[kind]


def _bucket(shop: Shop, session: Session, result: SessionResult, draw: Draw) -> Finding:
    bucket = shop.separator.bucket
    reach = fact("cart.lift.body").value + draw.of(bucket.top[0]) / 2
    lift = recommended_lift_kg(
        reach,
        even("lift.height", draw),
        even("lift.travel", draw),
        grip=fact("cart.lift.coupling").value,
    )
    low, _, high = band(result.sessions)
    heavy = float(np.mean(result.full_kg > lift))
    return finding(
        "breathing.bucket",
        "heavy" if heavy > 0.5 else "fills",
        "advice",
        _about(session),
        value=Band.of(result.full_kg, "mass"),
        limit=Band.of(lift, "mass"),
        must="at most",
        likelihood=1 - heavy,
        sources=("breathing.bucket.passes", "cart.lift.constant", "general.sawdust_packing"),
        facts=facts(
            fill=share(np.minimum(result.fill, 9.99)),
            low=round(min(float(low), 999.0)),
            high=round(min(float(high), 999.0)),
            full=Band.of(result.full_kg, "mass"),
            lift=Band.of(lift, "mass"),
        ),
        measure=(f"sessions[{session.name}].bucket",) if session.bucket is None else (),
    )


def _fire(shop: Shop, session: Session, result: SessionResult) -> list[Finding]:
    fine = result.air.fine_in
    if not np.any(result.air.to_filter_kg > 0):
        return []
    least = fact("breathing.fire.share").value
    bucket = float(np.mean(fine["bucket"] >= least))
    found = finding(
        "breathing.fire",
        "together" if not shop.separator.in_use else "both" if bucket > 0.05 else "vacuum",
        "advice",
        _about(session),
        sources=("breathing.fire.share", "breathing.fire.fine"),
        facts=facts(
            bucket=share(fine["bucket"]),
            vacuum=share(fine["vacuum"]),
            size=Amount(fact("breathing.fire.fine").value * 1e6, "microns"),
            least=Amount(least, "share"),
        ),
    )
    return [found]


def _stale(shop: Shop) -> list[Finding]:
    changes = shop.room.air_changes
    if changes is None or changes.low_si > 0.05 or shop.room.door == "open":
        return []
    return [
        finding(
            "breathing.stale",
            "none" if changes.high_si == 0 else "little",
            "problem" if changes.high_si == 0 else "advice",
            Term("breathing", "room"),
            sources=("cdc-mmwr",),
            measure=("room.air_changes",) if changes.assumed else (),
        )
    ]


def _filter_class(shop: Shop) -> list[Finding]:
    known = shop.vacuum.filter_class or "unknown"
    about = Ref("vacuum", shop.vacuum.name)
    if known == "none":
        return [finding("breathing.filter_class", "none", "problem", about)]
    if known == "unknown":
        return [
            finding(
                "breathing.filter_class",
                "unknown",
                "unknown",
                about,
                measure=("vacuum.filter_class",),
                sources=("breathing.filter.unknown", "breathing.filter.seal"),
            )
        ]
    return [
        finding(
            "breathing.filter_class",
            "known",
            "advice",
            about,
            facts=facts(
                passes=Amount(fact(f"breathing.filter.{known}").span[1], "share", "finest"),
                seal=share(even("filter.seal", Draw(64))),
            ),
            sources=(f"breathing.filter.{known}", "breathing.filter.seal"),
        )
    ]


def _cooling(shop: Shop, draw: Draw) -> Finding:
    warmer = fact("breathing.motor.warmer").value
    watts = draw.of(shop.vacuum.amps) * draw.of(shop.circuit.volts)
    return finding(
        "breathing.cooling",
        "needs_air",
        "advice",
        Ref("vacuum", shop.vacuum.name),
        sources=("breathing.motor.warmer", "breathing.air.heat"),
        facts=facts(
            watts=Band.of(watts, "power"),
            air=Band.of(cooling_air_m3_s(watts, warmer), "airflow"),
            warmer=round(warmer),
        ),
    )
