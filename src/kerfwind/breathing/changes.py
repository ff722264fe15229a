"""What a change of the shop or of the habit does to the dust in the air."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..facts import Band
from ..kept import Kept
from ..quantity import Draw, Quantity, exact
from ..shop import Session, Shop, Task
from .session import Dosed, HoodAir, session_dose

Array = NDArray[np.float64]

#: A room air cleaner of middling size [m³/s]: 500 m³/h.
CLEANER_M3_S = 500 / 3600
#: What changes have in common, of so many operations with all that comes of them.
_MOST_KNOWN = 256
#: Coarse paper to rough with.
COARSE = 80
#: Power of the grit by which the same wood comes off sooner, the middle of the register's.
_SOONER = 0.7


@dataclass(frozen=True)
class Effect:
    """One change: peak, session mean and day as parts of what they were, on the same samples.

    ``kind`` is ``hookup``, ``door``, ``cleaner``, ``outdoors``, ``coarser``,
    ``vacuumed`` or ``filter``.
    """

    kind: str
    peak: Band
    mean: Band
    day: Band


def effects(
    shop: Shop, session: Session, hoods: Mapping[str, HoodAir], draw: Draw
) -> tuple[Effect, ...]:
    """Each change alone, that which lowers the day most first."""
    known: Kept[Any] = Kept(_MOST_KNOWN)
    before = session_dose(shop, session, hoods, draw, known)
    rows = [
        _effect(kind, before, session_dose(other, work, air, draw, known))
        for kind, other, work, air in _changes(shop, session, hoods)
    ]
    return tuple(sorted(rows, key=lambda e: e.day.best))


def _effect(kind: str, before: Dosed, after: Dosed) -> Effect:
    def part(new: Array, old: Array) -> Band:
        return Band.of(new / np.maximum(old, 1e-15), "ratio")

    return Effect(
        kind,
        part(after.task_peak_kg_m3, before.task_peak_kg_m3),
        part(after.mean_kg_m3, before.mean_kg_m3),
        part(after.dose, before.dose),
    )


def _changes(
    shop: Shop, session: Session, hoods: Mapping[str, HoodAir]
) -> Iterator[tuple[str, Shop, Session, Mapping[str, HoodAir]]]:
    used = {t.tool for t in session.operations if t.tool in hoods}
    if used:
        enough = {
            name: replace(air, airflow_m3_s=np.maximum(air.airflow_m3_s, 1.25 * air.needed_m3_s))
            for name, air in hoods.items()
        }
        yield "hookup", shop, session, enough
    room = shop.room
    if room.door != "open":
        yield "door", _with_room(shop, door="open"), session, hoods
    if room.cleaner is None:
        cleaner = exact(CLEANER_M3_S, "airflow", path="room.cleaner")
        yield "cleaner", _with_room(shop, cleaner=cleaner), session, hoods
    if session.emptying == "indoors" and shop.separator.in_use:
        outside = session.model_copy(update={"emptying": "outdoors"})
        yield "outdoors", shop, outside, hoods
    fine = [t for t in session.operations if t.operation == "sanding" and (t.grit or 0) > COARSE]
    if any(t.removed is None for t in fine):
        yield "coarser", shop, _coarser(session), hoods
    nozzle = next((t.name for t in shop.tools if t.hood == "floor nozzle" and t.name in hoods), "")
    if nozzle and any(_with_a_broom(t, hoods) for t in session.operations):
        yield "vacuumed", shop, _vacuumed(session, nozzle, hoods), hoods
    if shop.vacuum.filter_class in (None, "unknown", "none") and used:
        better = shop.vacuum.model_copy(update={"filter_class": "M"})
        yield "filter", shop.model_copy(update={"vacuum": better}), session, hoods


def _with_a_broom(task: Task, hoods: Mapping[str, HoodAir]) -> bool:
    return task.operation == "sweeping" and task.tool not in hoods


def _vacuumed(session: Session, nozzle: str, hoods: Mapping[str, HoodAir]) -> Session:
    """The floor taken up with a nozzle in place of a broom."""
    tasks = (
        t.model_copy(update={"tool": nozzle}) if _with_a_broom(t, hoods) else t
        for t in session.operations
    )
    return session.model_copy(update={"operations": tuple(tasks)})


def _with_room(shop: Shop, **changed: object) -> Shop:
    return shop.model_copy(update={"room": shop.room.model_copy(update=changed)})


def _coarser(session: Session) -> Session:
    """Coarse paper at each sanding, for as long as takes the same wood off."""
    tasks = []
    for task in session.operations:
        if task.operation == "sanding" and task.removed is None and (task.grit or 0) > COARSE:
            part = (COARSE / float(task.grit or COARSE)) ** _SOONER
            task = task.model_copy(update={"grit": COARSE, "time": _scaled(task.time, part)})
        tasks.append(task)
    return session.model_copy(update={"operations": tuple(tasks)})


def _scaled(quantity: Quantity, part: float) -> Quantity:
    return replace(
        quantity,
        best_si=quantity.best_si * part,
        low_si=quantity.low_si * part,
        high_si=quantity.high_si * part,
    )
