"""Many changes tried at once: their paths solved as one array, without budget or findings."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..quantity import Draw
from . import verdict
from .curve import SuctionCurve
from .path import Connection, way
from .properties import RoomAir, density
from .series import Coefficients, Inflow, Segment, Segments, Valve, segments
from .vacuum import suction_curve
from .verdict import Narrowest, RunAir

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

    def starts(self, mass_kg_s: Array) -> list[tuple[Array, Array]]:
        """At the start of each segment: u [Pa²] and mass flow [kg/s]."""
        m, u = mass_kg_s, np.zeros_like(mass_kg_s)
        starts = []
        for part, leak in self.segments:
            starts.append((u, m))
            u = u + part.rise(m)[0]
            if leak is not None:
                m = m + leak.at(u, self.room)[0]
        return starts


def quick_air(connections: Sequence[Connection], room: RoomAir, draw: Draw) -> list[QuickAir]:
    """What `tool_air` would say of each, briefly; all in one room, of one draw."""
    if not connections:
        return []
    ways = [way(s, draw) for s in connections]
    runs = [[r for r in w.runs if not r.after_separator] for w in ways]
    paths = [
        segments(w.elements, room, [r.element for r in before])
        for w, before in zip(ways, runs, strict=True)
    ]
    stack = _stacked([path for path, _ in paths], room, draw.count)
    curves = [s.curve or suction_curve(s.shop, draw, room) for s in connections]
    mass = stack.meet(_side_by_side(curves, draw.count))
    starts = stack.starts(mass)
    answers = []
    off = verdict.model_error(draw)
    for row, (connection, before, (_, begun)) in enumerate(
        zip(connections, runs, paths, strict=True)
    ):
        moving = []
        for r, at in zip(before, begun, strict=True):
            u, flow = (values[row] for values in starts[at])
            here = density(np.sqrt(room.pressure_pa**2 - u), room.temperature_k)
            speed = flow / (here * (np.pi / 4 * r.bore_m**2))
            moving.append(RunAir(r.name, r.bore_m, r.length_m, r.rise_m, speed, here))
        airflow = mass[row] / room.density_kg_m3
        narrowest = Narrowest.of(ways[row].chips_pass)
        caught = airflow * off >= verdict.catch_need(connection.tool, draw)
        carried = verdict.carried(connection.tool, moving, narrowest, draw) >= 1
        answers.append(QuickAir(airflow, float(np.mean(caught)), float(np.mean(carried))))
    return answers


def _stacked(paths: Sequence[tuple[Segment, ...]], room: RoomAir, count: int) -> _Stack:
    """Segments side by side, paths with fewer of them going on with nothing."""

    def rows(values: Iterable[Array | float]) -> Array:
        return np.stack([np.broadcast_to(v, (count,)) for v in values])

    stacked: list[Segment] = []
    for at in range(max(map(len, paths))):
        parts = [path[at] if at < len(path) else _NOTHING for path in paths]
        smooth = [
            tuple(rows(column) for column in zip(*each, strict=True))
            for each in itertools.zip_longest(*(c.smooth for c, _ in parts), fillvalue=_NO_WALL)
        ]
        joined = Coefficients(
            rows(c.linear for c, _ in parts),
            rows(c.square for c, _ in parts),
            tuple((base, reynolds, rough) for base, reynolds, rough in smooth),
        )
        leaks = [leak for _, leak in parts]
        stacked.append((joined, _joined(leaks, rows) if any(leaks) else None))
    return _Stack(tuple(stacked), room)


def _joined(
    leaks: Sequence[Inflow | None], rows: Callable[[Iterable[Array | float]], Array]
) -> Inflow:
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


def _side_by_side(curves: Sequence[SuctionCurve], count: int) -> SuctionCurve:
    first = curves[0]
    if all(c is first for c in curves):
        return first

    def rows(name: str) -> Array:
        return np.stack([np.broadcast_to(getattr(c, name), (count,)) for c in curves])

    return SuctionCurve(
        rows("sealed_pa"), rows("slope_start"), rows("slope_end"), rows("knee_m3_s")
    )
