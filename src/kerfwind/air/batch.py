"""Many changes tried at once: their paths solved as one array, without budget or findings."""

from __future__ import annotations

import functools
import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..quantity import Draw
from . import verdict
from .chips import Stuff
from .curve import SuctionCurve
from .path import Connection, Way, way
from .properties import RoomAir, density
from .series import Coefficients, Inflow, Segment, Segments, Valve, segments
from .vacuum import suction_curve
from .verdict import RunAir

Array = NDArray[np.float64]


@dataclass(frozen=True)
class QuickAir:
    """Airflow at the hood [m³/s], samples on the last axis, and how likely each need is met."""

    airflow_m3_s: Array
    caught: float
    chips: float


@dataclass(frozen=True)
class _Stack(Segments):
    """Paths side by side: arrays have the path on the first axis, samples on the last."""

    segments: tuple[Segment, ...]
    room: RoomAir

    def start_of(self, number: int, mass_kg_s: Array) -> tuple[Array, Array]:
        """At the start of a segment: u [Pa²] and mass flow [kg/s]."""
        m, u = mass_kg_s, np.zeros_like(mass_kg_s)
        for part, leak in self.segments[:number]:
            u = u + part.rise_alone(m)
            if leak is not None:
                m = m + leak.at(u, self.room)[0]
        return u, m


@dataclass(frozen=True)
class QuickWay:
    """A way that was solved, and what it was solved with."""

    way: Way
    curve: SuctionCurve
    air: QuickAir


def quick_air(connections: Sequence[Connection], room: RoomAir, draw: Draw) -> list[QuickAir]:
    """What `tool_air` would say of each, briefly; all in one room, of one draw."""
    return [solved.air for solved in quick_ways(connections, room, draw)]


def quick_ways(connections: Sequence[Connection], room: RoomAir, draw: Draw) -> list[QuickWay]:
    """`quick_air` with what each was solved with."""
    if not connections:
        return []
    ways = [way(s, draw) for s in connections]
    # Chips pass the hose to the tool alone: behind the separator there are none.
    runs = [next(r for r in w.runs if not r.after_separator) for w in ways]
    paths = [segments(w.elements, room, (r.element,)) for w, r in zip(ways, runs, strict=True)]
    rows = _Rows(len(ways), draw.count)
    stack = _stacked([path for path, _ in paths], room, rows)
    curves = [s.curve or suction_curve(s.shop, draw, room) for s in connections]
    mass = stack.meet(_side_by_side(curves, rows))
    airflow = mass / room.density_kg_m3
    begun = np.array([at for _, (at,) in paths])
    density_there = np.empty_like(mass)
    flow_there = np.empty_like(mass)
    for at in np.unique(begun).tolist():
        here = begun == at
        u, flow = stack.start_of(at, mass)
        pressure = np.sqrt(np.square(room.pressure_pa) - u)
        density_there[here] = density(pressure, room.temperature_k)[here]
        flow_there[here] = flow[here]
    bore, length, rise = (
        rows(getattr(r, name) for r in runs) for name in ("bore_m", "length_m", "rise_m")
    )
    speed = flow_there / (density_there * (np.pi / 4 * np.square(bore)))
    narrowest = rows(functools.reduce(np.minimum, _bores(w)) for w in ways)
    off = verdict.model_error(draw)
    needed = rows(verdict.catch_need(s.tool, draw) for s in connections)
    caught = (airflow * off >= needed).mean(axis=1)
    carried = np.empty(len(ways))
    stuffs = [Stuff.of(s.tool, draw) for s in connections]
    for stuff in {id(each): each for each in stuffs}.values():
        some = np.array([each is stuff for each in stuffs])
        moving = RunAir("", bore[some], length[some], rise[some], speed[some], density_there[some])
        enough = verdict.had_of_need(stuff, [moving], narrowest[some], draw) >= 1
        carried[some] = enough.mean(axis=1)
    return [
        QuickWay(w, curve, QuickAir(*each))
        for w, curve, *each in zip(
            ways, curves, airflow, caught.tolist(), carried.tolist(), strict=True
        )
    ]


def _bores(w: Way) -> list[Array]:
    """The bores that chips pass, each once."""
    return list({id(bore): bore for _, bore in w.chips_pass}.values())


@dataclass(frozen=True)
class _Rows:
    """Puts values of several paths side by side, shape ``(paths, samples)``."""

    paths: int
    count: int

    def __call__(self, values: Iterable[Array | float]) -> Array:
        found = np.empty((self.paths, self.count))
        for row, value in enumerate(values):
            found[row] = value
        return found


def _stacked(paths: Sequence[tuple[Segment, ...]], room: RoomAir, rows: _Rows) -> _Stack:
    """Segments side by side, paths with fewer of them going on with nothing."""
    stacked: list[Segment] = []
    for at in range(max(map(len, paths))):
        parts = [path[at] if at < len(path) else _NOTHING for path in paths]
        smooth = [
            tuple(rows(column) for column in zip(*each, strict=True))
            for each in itertools.zip_longest(*(c.smooth for c, _ in parts), fillvalue=_NO_WALL)
        ]
        joined = Coefficients(
            _some_rows([c.linear for c, _ in parts], rows),
            rows(c.square for c, _ in parts),
            tuple((base, reynolds, rough) for base, reynolds, rough in smooth),
        )
        leaks = [leak for _, leak in parts]
        stacked.append((joined, _joined(leaks, rows) if any(leaks) else None))
    return _Stack(tuple(stacked), room)


def _some_rows(values: Sequence[Array | float], rows: _Rows) -> Array | float:
    """Values side by side; a plain zero where all of them are."""
    return rows(values) if any(isinstance(v, np.ndarray) or v for v in values) else 0.0


def _joined(leaks: Sequence[Inflow | None], rows: _Rows) -> Inflow:
    """What joins several paths at the same place, side by side."""
    valves = [leak.valve if leak else None for leak in leaks]
    valve = None
    if any(valves):
        valve = Valve(
            rows(v.opens_pa if v else 0.0 for v in valves),
            rows(v.passes_kg_s_pa if v else 0.0 for v in valves),
        )
    return Inflow(rows(leak.leak if leak else 0.0 for leak in leaks), valve)


_NOTHING: Segment = (Coefficients(0.0, 0.0), None)
# Friction of no wall: any Reynolds number will do.
_NO_WALL = (0.0, 1.0, 0.0)


def _side_by_side(curves: Sequence[SuctionCurve], rows: _Rows) -> SuctionCurve:
    first = curves[0]
    if all(c is first for c in curves):
        return first
    sealed, start, end, knee = (
        rows(getattr(c, name) for c in curves)
        for name in ("sealed_pa", "slope_start", "slope_end", "knee_m3_s")
    )
    return SuctionCurve(sealed, start, end, knee)
