"""One session of work: dust made, caught and lost, and the air of the room through it.

All of it is a chain of masses that are split and never lost: what an operation makes goes to
the hood or past it, what the hood catches to the bucket or the filter, what passes the filter
back into the room; what floats is blown out, filtered, breathed in, or settles.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, replace
from functools import cache
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from ..facts import Name, Term
from ..kept import Kept
from ..quantity import Draw, Quantity, middle
from ..shop import AssumedText, Room, Session, Shop, Task, Tool
from ..shop.catalogue.woods import Wood, wood_of
from ..sources import fact
from . import dust, separator
from .sizes import (
    EDGES_M,
    FLOAT_M,
    FLOATING,
    SIZES_M,
    inhalable,
    respirable,
    settling_m_s,
    thoracic,
)
from .spreads import by_ratio, even
from .zones import Step, Zones

Array = NDArray[np.float64]
T = TypeVar("T")

#: Steps that an operation, emptying and the stay are seen in.
_SEEN = 8
#: After the work: steps of three minutes, of ten, and of half an hour [s].
_AFTER_S = (*(180.0,) * 15, *(600.0,) * 8, *(1800.0,) * 13)
_HOUR = 3600.0
#: How long after the last cut is looked for clear air [s].
LOOKED_S = 8 * _HOUR
#: Times over which a worker cannot be shorter [s].
_LEAST_S = 1e-3


@dataclass(frozen=True)
class HoodAir:
    """What the air room says of one tool; samples on the last axis.

    Attributes
    ----------
    airflow_m3_s, needed_m3_s
        Through the hood, and what the hood needs to catch its dust.
    cut_m
        Size of which the separator keeps half at this airflow, by the relation alone.
    rests_on
        Quantities of the shop that went into the airflow.
    """

    airflow_m3_s: Array
    needed_m3_s: Array
    cut_m: Array
    rests_on: tuple[Quantity, ...] = ()


@dataclass(frozen=True)
class TaskAir:
    """One operation of a session; samples on the last axis.

    Attributes
    ----------
    made_kg
        Dust and chips made.
    caught
        Part of it that the hood catches.
    mean_kg_m3
        Inhalable dust round the worker, mean over the operation.
    """

    number: int
    tool: str | None
    operation: str
    material: str
    wood: Wood
    seconds: Array
    made_kg: Array
    caught: Array
    mean_kg_m3: Array

    @property
    def makes_dust(self) -> bool:
        """Whether it makes dust, or takes up what others made."""
        return self.operation != "sweeping"

    @property
    def wood_named(self) -> Name | Term:
        """The wood, for a sentence to say: in the person's words, or in the language's own."""
        if isinstance(self.material, AssumedText):
            return Term("wood", self.material)
        return Name(self.material)


@dataclass(frozen=True)
class Air:
    """Airborne dust against time.

    ``seconds`` are the times' medians from the beginning, shape (times,); the others have
    (times, samples): inhalable round the worker and far from them, respirable round the worker.
    """

    seconds: Array
    near_kg_m3: Array
    far_kg_m3: Array
    respirable_kg_m3: Array


@dataclass(frozen=True)
class SessionAir:
    """What a session makes of dust, and where it all goes; samples on the last axis.

    Attributes
    ----------
    went_kg
        Where the dust is when the worker leaves, by place: ``bucket``, ``vacuum``, ``floor``,
        ``swept`` (up with a broom), ``vented``, ``cleaned``, ``breathed`` (at nose or mask),
        ``airborne``. It sums to ``made_kg``.
    past_hood_kg, to_filter_kg, passed_kg
        Flows on the way: past the hoods, to the vacuum's filter, through it.
    sweepings_kg
        What a broom brings to the scales, whether a sweeping is listed or not.
    loose_m3
        Volume of the loose dust in the bucket.
    dose
        Inhalable, thoracic and respirable dust round the worker, over time [kg s/m³].
    seconds
        Of the session with emptying and stay.
    worst_hour_kg_m3
        Inhalable, the highest mean over an hour.
    clear_s
        Time after the last cut until it is under a tenth of the lowest limit, `LOOKED_S` at
        most.
    fine_in
        Part under 80 µm of what is in bucket and vacuum.
    air
        Against time, whether the worker stays or not.
    doses, dosed_at_s
        Inhalable dose [kg s/m³] until the worker leaves, shape (times, samples), and when.
    """

    name: str
    tasks: tuple[TaskAir, ...]
    made_kg: Array
    went_kg: dict[str, Array]
    past_hood_kg: Array
    to_filter_kg: Array
    passed_kg: Array
    sweepings_kg: Array
    loose_m3: Array
    density_kg_m3: Array
    dose: dict[str, Array]
    work_seconds: Array
    seconds: Array
    worst_hour_kg_m3: Array
    clear_s: Array
    fine_in: dict[str, Array]
    air: Air
    doses: Array
    dosed_at_s: Array
    last_cut_s: float

    @property
    def mean_kg_m3(self) -> Array:
        """Inhalable dust round the worker, mean over the session."""
        return np.asarray(self.dose["inhalable"] / np.maximum(self.seconds, _LEAST_S))

    @property
    def task_peak_kg_m3(self) -> Array:
        """The highest mean of any operation."""
        return np.max([t.mean_kg_m3 for t in self.tasks], axis=0)  # type: ignore[no-any-return]

    def day_kg_m3(self, fraction: str, averaging_s: float) -> Array:
        """Mean of a fraction over a day, the rest of it in clean air."""
        return np.asarray(self.dose[fraction] / averaging_s)

    @property
    def caught(self) -> Array:
        """Part of all its dust that the hoods caught."""
        part = 1 - self.past_hood_kg / np.maximum(self.made_kg, 1e-12)
        return np.asarray(np.clip(part, 0.0, 1.0))

    def of(self, chosen: NDArray[np.intp]) -> SessionAir:
        """The same with these samples in their places."""
        return _chosen(self, chosen)  # type: ignore[no-any-return]


def _chosen(value: Any, chosen: NDArray[np.intp]) -> Any:
    if isinstance(value, np.ndarray):
        return value[..., chosen] if value.ndim and value.shape[-1] == len(chosen) else value
    if isinstance(value, dict):
        return {key: _chosen(item, chosen) for key, item in value.items()}
    if isinstance(value, tuple):
        return tuple(_chosen(item, chosen) for item in value)
    if isinstance(value, (SessionAir, TaskAir, Air)):
        return replace(
            value, **{f.name: _chosen(getattr(value, f.name), chosen) for f in fields(value)}
        )
    return value


@dataclass(frozen=True)
class RoomZones:
    """The room as two zones, one for each floating size, with its losses apart [m³/s]."""

    zones: Zones
    near_m3: Array
    far_m3: Array
    settles_near: Array
    settles_far: Array
    vented: Array
    cleaned: Array
    breath: Array


@cache
def _falls() -> Array:
    """How fast floating dust falls, by size [m/s]."""
    return settling_m_s(FLOAT_M)


#: Few, for each is megabytes.
_rooms: Kept[RoomZones] = Kept(4)


def room_zones(shop: Shop, draw: Draw) -> RoomZones:
    """Volumes, exchange and losses of the shop's room.

    The near zone is a half sphere round the worker, never more than a quarter of the room.
    """
    return _rooms.of((shop.room,), draw, lambda: _room_zones(shop.room, draw))


def _room_zones(room: Room, draw: Draw) -> RoomZones:
    floor = draw.of(room.length) * draw.of(room.width)
    volume = floor * draw.of(room.height)
    radius = by_ratio("near.radius", draw)
    near = np.minimum(2 / 3 * np.pi * radius**3, volume / 4)
    near_floor = np.minimum(np.pi * radius**2, floor / 4)
    changes = np.zeros(draw.count) if room.air_changes is None else draw.of(room.air_changes)
    if room.door == "open":
        changes = changes + by_ratio("door.open", draw)
    mixing = even("mixing", draw)
    vented = changes * volume / _HOUR * mixing
    cleaned = np.zeros(draw.count)
    if room.cleaner is not None:
        cleaned = draw.of(room.cleaner) * even("cleaner.label", draw) * mixing
    falls = _falls()[:, None]
    breath = even("breath", draw) * inhalable(FLOAT_M)[:, None]
    settles_near, settles_far = falls * near_floor, falls * (floor - near_floor)
    far = volume - near
    zones = Zones(
        near,
        far,
        by_ratio("near.airflow", draw),
        settles_near + breath,
        settles_far + vented + cleaned,
    )
    return RoomZones(zones, near, far, settles_near, settles_far, vented, cleaned, breath)


def capture(task: Task, tool: Tool | None, hood: HoodAir | None, draw: Draw) -> Array:
    """Part of an operation's dust that its hood catches.

    Of a sander's pad about in proportion to the airflow up to what it needs, and no more beyond
    (Thorpe and Brown 1995); of other hoods by a lower power of it, a judgement.
    """
    if tool is None or hood is None:
        return np.zeros(draw.count)
    most = even(f"capture.{tool.hood}", draw)
    if task.edges and task.operation == "sanding":
        most = most * even("capture.edges", draw)
    needed = np.maximum(hood.needed_m3_s, 1e-9)
    power = even("capture.power.pad" if tool.hood == "pad holes" else "capture.power.other", draw)
    return np.asarray(most * np.clip(hood.airflow_m3_s / needed, 0.0, 1.0) ** power)


def penetration(shop: Shop, draw: Draw) -> Array:
    """What the vacuum's filter lets pass of the dust its class is tested with."""
    known = shop.vacuum.filter_class or "unknown"
    return np.ones(draw.count) if known == "none" else by_ratio(f"filter.{known}", draw)


#: Part of the class from 63 to 100 µm that is under 80 µm, by ratio.
_LAST_FINE = FLOATING - 1
_FINE = np.append(
    np.ones(_LAST_FINE),
    np.log(fact("breathing.fire.fine").value / EDGES_M[_LAST_FINE])
    / np.log(EDGES_M[_LAST_FINE + 1] / EDGES_M[_LAST_FINE]),
)
_FRACTIONS = np.stack([inhalable(FLOAT_M), thoracic(FLOAT_M), respirable(FLOAT_M)])
_NEAR_TOLD = _FRACTIONS[[0, 2]]


#: A mode of which no more than this part is left adds nothing.
_GONE = 1e-20


class _Fading:
    """What is left of one mode's way to where its sources hold it, through equal steps.

    What is told of it are sums over the sizes, weighted; as every weighted row fades alike, the
    rows are kept weighted. They are those of the concentration near and far, and of the
    integral of that near over a step where it is given what a mode of one adds to it.
    """

    def __init__(self, left: Array, near: Array, far: Array, gain: Array | None) -> None:
        self.rows = np.empty((2 if gain is None else 3, *left.shape))
        np.multiply(near, left, out=self.rows[0])
        np.multiply(far, left, out=self.rows[1])
        if gain is not None:
            np.multiply(self.rows[0], gain, out=self.rows[2])
        self._part = 1.0

    @property
    def gone(self) -> bool:
        """Whether there is nothing left of it."""
        return self._part < _GONE

    def go(self, fade: Array, greatest: float) -> None:
        """A step on, in which the mode fades so, at most by ``greatest``."""
        self.rows *= fade
        self._part *= greatest


class _Course:
    """The air of a room through equal steps: both modes, and what is told of them."""

    def __init__(
        self, zones: Zones, modes: tuple[Array, Array], sources: tuple[Array, Array] | None
    ) -> None:
        self.zones, self.modes = zones, modes
        #: Where the sources would hold the modes.
        self.still: tuple[Array, Array] | None = None
        self.near: Array | float = 0.0
        self.far: Array | float = 0.0
        self.left = modes
        if sources is not None:
            first, second = (s / rate for s, rate in zip(sources, zones.rates, strict=True))
            self.still = first, second
            self.left = modes[0] - first, modes[1] - second
            self.near = _NEAR_TOLD @ zones.near(self.still)
            self.far = _FRACTIONS[0] @ zones.far(self.still)
        self._fading: list[tuple[int, _Fading]] = []

    def begin(self, gains: tuple[Array, Array] | None = None) -> None:
        """Begin to go; with what modes of one add to the integral over a step, doses are told."""
        weights = zip(self.zones.near_weights, self.zones.far_weights, strict=True)
        self._fading = [
            (i, _Fading(self.left[i], near, far, None if gains is None else gains[i]))
            for i, (near, far) in enumerate(weights)
        ]

    def go(self, step: Step) -> None:
        """A step on."""
        for i, each in self._fading:
            each.go(step.fades[i], step.greatest_fades[i])
        self._fading = [(i, each) for i, each in self._fading if not each.gone]

    def told(self) -> tuple[Array, Array, Array]:
        """Inhalable dust near and far, and respirable near."""
        near, far = self.near, self.far
        for _, each in self._fading:
            near = near + _NEAR_TOLD @ each.rows[0]
            far = far + _FRACTIONS[0] @ each.rows[1]
        if isinstance(near, float):
            nothing = np.zeros(self.modes[0].shape[-1])
            return nothing, nothing, nothing
        return near[0], np.asarray(far), near[1]

    def dose(self, seconds: Array) -> Array:
        """Inhalable dose of the step that is to come, so long."""
        dose = np.zeros(np.shape(seconds))
        if not isinstance(self.near, float):
            dose = self.near[0] * seconds
        for _, each in self._fading:
            dose = dose + _FRACTIONS[0] @ each.rows[2]
        return dose

    def held(self, whole: Step) -> tuple[Array, Array]:
        """The modes' integrals over the whole time."""
        first, second = (
            left * gain for left, gain in zip(self.left, whole.even_gains, strict=True)
        )
        if self.still is None:
            return first, second
        return first + self.still[0] * whole.seconds, second + self.still[1] * whole.seconds

    def after(self, whole: Step) -> tuple[Array, Array]:
        """The modes after the whole time."""
        first, second = (left * f for left, f in zip(self.left, whole.fades, strict=True))
        return (
            (first, second)
            if self.still is None
            else (first + self.still[0], second + self.still[1])
        )


@dataclass(frozen=True)
class _Stuff:
    """What an operation makes [kg], the same by size, and its loose volume [m³/kg]."""

    made_kg: Array
    by_size_kg: Array
    bulk_m3_kg: Array

    @classmethod
    def of(cls, task: Task, tool: Tool | None, draw: Draw) -> _Stuff:
        wood, made = wood_of(task.material), dust.made_kg(task, tool, wood_of(task.material), draw)
        bulk = dust.packing(task, draw) / dust.wood_density(wood, draw)
        return cls(made, made * dust.sizes_of(task, draw), bulk)


@dataclass(frozen=True)
class _Parted:
    """What of an operation's dust a hood takes, as a part and by size, and what goes past it [kg]."""

    caught: Array
    taken_kg: Array
    past_kg: Array
    all_past_kg: Array
    rises_kg: Array

    @classmethod
    def of(cls, stuff: _Stuff, caught: Array, rises: Array) -> _Parted:
        taken = stuff.by_size_kg * caught
        past = stuff.by_size_kg - taken
        return cls(caught, taken, past, past.sum(axis=0), past[:FLOATING] * rises)


@dataclass(frozen=True)
class _Sucked:
    """What a hood takes, by size [kg], while the bucket has room for it.

    Attributes
    ----------
    kept_kg, volume_m3
        In the bucket, and its loose volume; None without a separator.
    beyond_kg, passed_kg
        On to the vacuum, and of the floating sizes what passes its filter.
    """

    kept_kg: Array | None
    volume_m3: Array
    beyond_kg: Array
    passed_kg: Array


#: What operations make, whatever the air: few, for each is a third of a megabyte.
_stuffs: Kept[_Stuff] = Kept(8)


class _Walk:
    """The session as it goes on: what is where, and what is in the air."""

    def __init__(
        self, shop: Shop, draw: Draw, *, watched: bool, known: Kept[Any] | None = None
    ) -> None:
        """``watched`` says whether the air is noted as it goes; a dose is exact without.

        ``known`` keeps what several walks of the same draw have in common.
        """
        self.shop, self.draw, self.known = shop, draw, known
        self.steps, self.watched = _SEEN if watched else 1, watched
        self.room = room_zones(shop, draw)
        n = draw.count
        self.bucket = np.zeros((len(SIZES_M), n))
        self.vacuum = np.zeros((len(SIZES_M), n))
        # What fell at once, what a broom or a nozzle took off the floor, and what lies swept up.
        self.fell, self.lifted, self.swept = (np.zeros((len(SIZES_M), n)) for _ in range(3))
        self.loose, self.past_loose = np.zeros(n), np.zeros(n)
        self.made, self.past, self.to_filter, self.passed = (np.zeros(n) for _ in range(4))
        # Memory of both modes, and of their integrals over time.
        self.modes = (np.zeros((FLOATING, n)), np.zeros((FLOATING, n)))
        self.held = (np.zeros((FLOATING, n)), np.zeros((FLOATING, n)))
        self.time = np.zeros(n)
        self.seen: list[tuple[float, Array, Array, Array]] = []
        self.doses: list[Array] = [np.zeros(n)]
        self.dosed_at: list[float] = [0.0]
        self.passes = self._once((shop.vacuum,), "passes", self._filter_passes)
        self.rises = by_ratio("rises", draw)
        self.cut_spread = by_ratio("cut.spread", draw)
        self.whole = draw.of(shop.separator.bucket.volume)
        self.holds = self.whole * even("bucket.passes", draw)
        self.full_keeps = even("bucket.full_keeps", draw)

    def work(self, task: Task, number: int, tool: Tool | None, hood: HoodAir | None) -> TaskAir:
        """One operation."""
        if task.operation == "sweeping":
            return self.sweep(task, number, tool, hood)
        draw = self.draw
        seconds = np.maximum(draw.of(task.time), _LEAST_S)
        known = self.known or _stuffs
        stuff = known.of((task, tool), draw, lambda: _Stuff.of(task, tool, draw))
        parted: _Parted = self._once(
            (stuff, hood),
            "parted",
            lambda: _Parted.of(stuff, capture(task, tool, hood, draw), self.rises),
        )
        self.made += stuff.made_kg
        self.past += parted.all_past_kg
        self.fell += parted.past_kg
        self.fell[:FLOATING] -= parted.rises_kg
        self.past_loose += parted.all_past_kg * stuff.bulk_m3_kg
        sucked: _Sucked = self._once(
            (parted, hood, self.passes),
            "sucked",
            lambda: self._sucked(parted.taken_kg, hood, stuff.bulk_m3_kg),
        )
        passed = self._take(sucked)
        inhaled = self.go_on(
            seconds, parted.rises_kg / seconds, passed / seconds, step=self._step(task, seconds)
        )
        return TaskAir(
            number,
            task.tool,
            task.operation,
            task.material,
            wood_of(task.material),
            seconds,
            stuff.made_kg,
            parted.caught,
            inhaled / seconds,
        )

    def _once(self, objects: tuple[Any, ...], also: str, make: Callable[[], T]) -> T:
        """What other walks may have worked out already."""
        return make() if self.known is None else self.known.of(objects, also, make)

    def _filter_passes(self) -> Array:
        through, seal = penetration(self.shop, self.draw), by_ratio("filter.seal", self.draw)
        return separator.filter_passes(FLOAT_M[:, None], through, seal)

    def _step(self, of: Task | Session, seconds: Array) -> Step:
        """One of the equal steps of an operation or a stay."""
        return self._once(
            (self.room, of), "step", lambda: self.room.zones.step(seconds / self.steps)
        )

    def sweep(self, task: Task, number: int, tool: Tool | None, hood: HoodAir | None) -> TaskAir:
        """The session's dust taken off the floor, with a broom or a nozzle that has suction."""
        draw = self.draw
        seconds = np.maximum(draw.of(task.time), _LEAST_S)
        caught = capture(task, tool, hood, draw)
        reached = self.lies() * even("swept", draw)
        taken = reached * caught
        rises = (reached - taken)[:FLOATING] * by_ratio("sweeping.rises", draw)
        self.lifted += taken
        self.lifted[:FLOATING] += rises
        if hood is None:
            heap = reached - taken
            heap[:FLOATING] -= rises
            self.lifted += heap
            self.swept += heap
        bulk = self.past_loose / np.maximum(self.past, 1e-15)
        passed = self._take(self._sucked(taken, hood, bulk))
        inhaled = self.go_on(
            seconds, rises / seconds, passed / seconds, step=self._step(task, seconds)
        )
        return TaskAir(
            number,
            task.tool,
            task.operation,
            task.material,
            wood_of(task.material),
            seconds,
            np.zeros(draw.count),
            caught,
            inhaled / seconds,
        )

    def lies(self) -> Array:
        """What lies on floor and bench, by size."""
        room = self.room
        lying = self.fell - self.lifted
        near, far = room.zones.near(self.held), room.zones.far(self.held)
        lying[:FLOATING] += room.settles_near * near + room.settles_far * far
        # What was lifted lay there before: below zero is no more than the last digit.
        return np.maximum(lying, 0.0)

    def _sucked(self, taken: Array, hood: HoodAir | None, bulk_m3_kg: Array) -> _Sucked:
        """What becomes of what a hood takes."""
        if not self.shop.separator.in_use or hood is None:
            return _Sucked(None, self.draw.even(0.0), taken, taken[:FLOATING] * self.passes)
        keeps = separator.cyclone_kept(SIZES_M[:, None], hood.cut_m * self.cut_spread)
        kept = taken * keeps
        beyond = taken - kept
        volume = kept.sum(axis=0) * bulk_m3_kg
        return _Sucked(kept, volume, beyond, beyond[:FLOATING] * self.passes)

    def _take(self, sucked: _Sucked) -> Array:
        """What is sucked in goes to bucket and vacuum; returns what passes the filter."""
        beyond, passed = sucked.beyond_kg, sucked.passed_kg
        if sucked.kept_kg is not None:
            kept, volume = sucked.kept_kg, sucked.volume_m3
            before = np.minimum(volume, np.maximum(self.holds - self.loose, 0.0))
            room = np.maximum(self.whole - np.maximum(self.loose, self.holds), 0.0)
            stays = before + np.minimum((volume - before) * self.full_keeps, room)
            part = np.where(volume > 0, stays / np.maximum(volume, 1e-15), 1.0)
            if np.any(part < 1.0):
                kept = kept * part
                beyond = beyond + (sucked.kept_kg - kept)
                passed = beyond[:FLOATING] * self.passes
            self.loose += volume * part
            self.bucket += kept
        if self.watched:
            self.to_filter += beyond.sum(axis=0)
            self.passed += passed.sum(axis=0)
            self.vacuum += beyond
            self.vacuum[:FLOATING] -= passed
        return passed

    def go_on(
        self,
        seconds: Array,
        near: Array | None,
        far: Array | None,
        *,
        step: Step | None = None,
        seen: bool = True,
    ) -> Array:
        """The air for a while with these sources [kg/s] by size; the inhalable dose meanwhile."""
        zones = self.room.zones
        step = step or zones.step(seconds / self.steps)
        sources = None if near is None else zones.modes(near, 0.0 if far is None else far)
        before = self.doses[-1]
        if not self.watched:
            brought = zones.brought(sources, step)
            held = zones.held(self.modes, brought, step)
            self.modes = zones.after(self.modes, brought, step)
            self.time = self.time + seconds
            self.doses.append(before + _FRACTIONS[0] @ zones.near(held))
        else:
            course = _Course(zones, self.modes, sources)
            course.begin(step.even_gains)
            for _ in range(self.steps):
                self.doses.append(self.doses[-1] + course.dose(step.seconds))
                course.go(step)
                self.time = self.time + step.seconds
                self.dosed_at.append(middle(self.time))
                if seen:
                    self.seen.append((self.dosed_at[-1], *course.told()))
            whole = zones.step(seconds)
            self.modes, held = course.after(whole), course.held(whole)
        for total, more in zip(self.held, held, strict=True):
            total += more
        return np.asarray(self.doses[-1] - before)

    def empty(self) -> None:
        """The bucket emptied in the room: some of its fine dust rises round the worker."""
        rises = self.bucket[:FLOATING] * by_ratio("emptying.released", self.draw)
        self.bucket[:FLOATING] -= rises
        seconds = np.full(self.draw.count, fact("breathing.emptying.time").value)
        self.go_on(seconds, rises / seconds, None)

    def went(self) -> dict[str, Array]:
        """Where all of the dust is."""
        room, zones = self.room, self.room.zones
        airborne = zones.near(self.modes) * room.near_m3 + zones.far(self.modes) * room.far_m3
        near, far = zones.near(self.held), zones.far(self.held)
        return {
            "bucket": self.bucket.sum(axis=0),
            "vacuum": self.vacuum.sum(axis=0),
            "floor": self.lies().sum(axis=0),
            "swept": self.swept.sum(axis=0),
            "vented": room.vented * far.sum(axis=0),
            "cleaned": room.cleaned * far.sum(axis=0),
            "breathed": (room.breath * near).sum(axis=0),
            "airborne": airborne.sum(axis=0),
        }

    def afterwards(self, modes: tuple[Array, Array], at: float) -> None:
        """The air clears from a time [s] on; nobody's dose."""
        zones = self.room.zones
        steps = {seconds: zones.step(seconds) for seconds in set(_AFTER_S)}
        course = _Course(zones, modes, None)
        course.begin()
        for seconds in _AFTER_S:
            course.go(steps[seconds])
            at += seconds
            self.seen.append((at, *course.told()))


def _fine_in(masses: Array) -> Array:
    whole = masses.sum(axis=0)
    fine = (_FINE[:, None] * masses[:FLOATING]).sum(axis=0)
    return np.asarray(np.where(whole > 0, fine / np.maximum(whole, 1e-30), 0.0))


@dataclass(frozen=True)
class Dosed:
    """What a session's worker is round, in short: inhalable; samples on the last axis.

    The highest mean of an operation and the mean of the session [kg/m³], and the dose [kg s/m³].
    """

    task_peak_kg_m3: Array
    mean_kg_m3: Array
    dose: Array


def session_dose(
    shop: Shop,
    session: Session,
    hoods: Mapping[str, HoodAir],
    draw: Draw,
    known: Kept[Any] | None = None,
) -> Dosed:
    """What `session_air` says of the worker's air, and nothing of how it comes about.

    ``known`` keeps what several such sessions of the same draw have in common.
    """
    walk = _Walk(shop, draw, watched=False, known=known)
    tasks = _worked(walk, session, hoods)
    _emptied(walk, session)
    walk.go_on(draw.of(session.stay), None, None)
    dose = _FRACTIONS[0] @ walk.room.zones.near(walk.held)
    return Dosed(
        np.max([t.mean_kg_m3 for t in tasks], axis=0), dose / np.maximum(walk.time, _LEAST_S), dose
    )


def _worked(walk: _Walk, session: Session, hoods: Mapping[str, HoodAir]) -> tuple[TaskAir, ...]:
    """All operations of a session, one after another."""
    tools = {t.name: t for t in walk.shop.tools}
    return tuple(
        walk.work(task, number, tools.get(task.tool or ""), hoods.get(task.tool or ""))
        for number, task in enumerate(session.operations, start=1)
    )


def _emptied(walk: _Walk, session: Session) -> None:
    if session.emptying == "indoors" and walk.shop.separator.in_use:
        walk.empty()


def session_air(
    shop: Shop, session: Session, hoods: Mapping[str, HoodAir], clear_kg_m3: float, draw: Draw
) -> SessionAir:
    """Follow a session's dust from the tools to where it ends, and the air until it has cleared.

    Parameters
    ----------
    hoods
        The air at each tool that is reached, by its name.
    clear_kg_m3
        Inhalable dust under which the mask may come off [kg/m³].
    """
    walk = _Walk(shop, draw, watched=True)
    nothing = np.zeros(draw.count)
    walk.seen.append((0.0, nothing, nothing, nothing))
    tasks = _worked(walk, session, hoods)
    work_s = walk.time
    last_cut, seen_then = middle(work_s), len(walk.seen) - 1
    _emptied(walk, session)
    # The room clears whether the worker stays, for a time known to a range, or not.
    emptied, then = walk.modes, middle(walk.time)
    walk.go_on(draw.of(session.stay), None, None, seen=False)
    went = walk.went()
    sweepings = went["swept"]
    if session.operations[-1].operation != "sweeping":
        sweepings = sweepings + went["floor"] * even("swept", draw)
    names = ("inhalable", "thoracic", "respirable")
    dose = dict(zip(names, _FRACTIONS @ walk.room.zones.near(walk.held), strict=True))
    seconds, doses = walk.time, np.array(walk.doses)
    dosed_at = np.array(walk.dosed_at)
    worst = _worst_hour(dosed_at, doses)
    # No hour's mean is above the peak, though the time of a stay is known to a range only.
    worst = np.minimum(worst, np.max([near for _, near, _, _ in walk.seen], axis=0))
    walk.afterwards(emptied, then)
    air = Air(
        np.array([at for at, *_ in walk.seen]),
        np.array([near for _, near, _, _ in walk.seen]),
        np.array([far for _, _, far, _ in walk.seen]),
        np.array([fine for *_, fine in walk.seen]),
    )
    return SessionAir(
        session.name,
        tasks,
        walk.made,
        went,
        walk.past,
        walk.to_filter,
        walk.passed,
        sweepings,
        walk.loose,
        np.where(walk.loose > 0, walk.bucket.sum(axis=0) / np.maximum(walk.loose, 1e-12), np.nan),
        dose,
        work_s,
        seconds,
        worst,
        _clear_after(air.seconds[seen_then:] - last_cut, air.near_kg_m3[seen_then:], clear_kg_m3),
        {"bucket": _fine_in(walk.bucket), "vacuum": _fine_in(walk.vacuum)},
        air,
        doses,
        dosed_at,
        last_cut,
    )


def _worst_hour(times_s: Array, doses: Array) -> Array:
    """The highest mean over an hour, from the dose at each time, shape (times, samples)."""
    if times_s[-1] <= _HOUR:
        return np.asarray(doses[-1] / _HOUR)
    # Windows that begin or end where the dose was looked at, the dose straight in between.
    starts = np.concatenate([times_s, times_s - _HOUR])
    starts = starts[(starts >= 0) & (starts <= times_s[-1] - _HOUR + 1e-6)]
    inside = _at(times_s, doses, starts + _HOUR) - _at(times_s, doses, starts)
    return np.asarray(inside.max(axis=0) / _HOUR)


def _at(times_s: Array, values: Array, when: Array) -> Array:
    after = np.clip(np.searchsorted(times_s, when, side="right"), 1, len(times_s) - 1)
    gap = np.maximum(times_s[after] - times_s[after - 1], _LEAST_S)
    part = np.clip((when - times_s[after - 1]) / gap, 0.0, 1.0)[:, None]
    return np.asarray(values[after - 1] * (1 - part) + values[after] * part)


def _clear_after(times_s: Array, near: Array, limit: float) -> Array:
    """When it stays under a limit: the last crossing, along the fall by ratio."""
    over = near > limit
    last = len(times_s) - 1 - np.argmax(over[::-1], axis=0)
    never = ~over.any(axis=0)
    still = over[-1]
    last = np.where(never | still, 0, last)
    pick = np.arange(near.shape[1])
    before, after = (
        near[last, pick],
        np.maximum(near[np.minimum(last + 1, len(near) - 1), pick], 1e-30),
    )
    fall = np.log(np.maximum(before, 1e-30) / after)
    part = np.clip(np.log(np.maximum(before, 1e-30) / limit) / np.where(fall > 0, fall, 1.0), 0, 1)
    when = times_s[last] + part * (times_s[np.minimum(last + 1, len(near) - 1)] - times_s[last])
    return np.asarray(np.where(never, 0.0, np.where(still, LOOKED_S, np.minimum(when, LOOKED_S))))
