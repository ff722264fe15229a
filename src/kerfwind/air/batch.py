"""Many changes tried at once: their paths solved as one array, without budget or findings."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ..quantity import Draw
from ..shop import Hose, Shop, Tool
from . import verdict
from .curve import SuctionCurve
from .path import Piece, Way, way
from .properties import RoomAir, density
from .series import Coefficients, Segment, Segments, segments
from .verdict import RunAir

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Trial:
    """One way the air could take at one tool; the fields are those of `tool_air`.

    ``sealed``: every joint on the way is airtight.
    """

    shop: Shop
    tool: Tool
    hose: Hose
    pieces: tuple[Piece, ...]
    link: Hose | None
    curve: SuctionCurve
    link_length_m: Array | float | None = None
    link_bends: float | None = None
    sealed: bool = False

    def way(self, draw: Draw) -> Way:
        """What the air passes."""
        found = way(
            self.shop,
            self.tool,
            self.hose,
            self.pieces,
            self.link,
            draw,
            link_length_m=self.link_length_m,
            link_bends=self.link_bends,
        )
        if not self.sealed:
            return found
        tight = tuple(replace(e, leak_area_m2=0.0) for e in found.elements)
        return replace(found, elements=tight)


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
        found = []
        for part, leak in self.segments:
            found.append((u, m))
            u = u + part.rise(m)[0]
            if leak is not None:
                m = m + leak * np.sqrt(u)
        return found


def quick_air(trials: Sequence[Trial], room: RoomAir, draw: Draw) -> list[QuickAir]:
    """What `tool_air` would say of each trial, briefly; all in one room, of one draw."""
    if not trials:
        return []
    ways = [t.way(draw) for t in trials]
    runs = [[r for r in w.runs if not r.after_separator] for w in ways]
    paths = [
        segments(w.elements, room, [r.element for r in before])
        for w, before in zip(ways, runs, strict=True)
    ]
    stack = _stacked([path for path, _ in paths], room, draw.count)
    mass = stack.meet(_side_by_side([t.curve for t in trials], draw.count))
    starts = stack.starts(mass)
    found = []
    for row, (trial, before, (_, begun)) in enumerate(zip(trials, runs, paths, strict=True)):
        moving = []
        for r, at in zip(before, begun, strict=True):
            u, flow = (values[row] for values in starts[at])
            here = density(np.sqrt(room.pressure_pa**2 - u), room.temperature_k)
            speed = flow / (here * (np.pi / 4 * r.bore_m**2))
            moving.append(RunAir(r.name, r.bore_m, r.length_m, r.rise_m, speed))
        airflow = mass[row] / room.density_kg_m3
        slow = verdict.slowest_run(trial.tool, moving, draw)
        found.append(
            QuickAir(
                airflow,
                float(np.mean(airflow >= verdict.catch_need(trial.tool, draw))),
                float(np.mean(slow.speed_m_s >= slow.limit_m_s)),
            )
        )
    return found


def _stacked(paths: Sequence[tuple[Segment, ...]], room: RoomAir, count: int) -> _Stack:
    """Segments side by side, paths with fewer of them going on with nothing."""

    def rows(values: Iterable[Array | float]) -> Array:
        return np.stack([np.broadcast_to(v, (count,)) for v in values])

    found: list[Segment] = []
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
        leaking = any(leak is not None for leak in leaks)
        found.append((joined, rows(0.0 if x is None else x for x in leaks) if leaking else None))
    return _Stack(tuple(found), room)


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
