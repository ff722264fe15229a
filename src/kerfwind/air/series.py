"""A path of elements in series, air let in by leaks on the way, solved for all samples.

Air that moves at the room's temperature through an element of loss coefficient K loses
total pressure ``K ṁ²/(2 ρ A²)`` with ρ at the element's mean pressure, ``ρ = p/RT``. That
makes ``p₁² − p₂² = K ṁ² RT/A²``: in ``u = p₀² − p²`` the compressible path is as simple as
an incompressible one (the isothermal relation of gas networks; its acceleration term is
inside the total pressure). At shop vacuum speeds density from total instead of static
pressure is off by less than half the squared Mach number, 1.5 % at 60 m/s.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from ..facts import Ref, Statement, Term, state
from .curve import SuctionCurve
from .friction import churchill_with_slope
from .properties import GAS_CONSTANT_J_KG_K, RoomAir

Array = NDArray[np.float64]

#: Whose a loss is: a thing that a person listed, or a part of the unit.
Part: TypeAlias = Ref | Term | Statement


def loss_name(part: Part, what: str) -> Statement:
    """A loss, for a sentence to say: ``grey hose: friction``."""
    return state("air.loss", part=part, what=Term("loss", what))


@dataclass(frozen=True)
class Valve:
    """A relief valve: shut up to a suction [Pa], then letting in more the further it is lifted.

    ``passes_kg_s_pa`` is room air for each pascal beyond it [kg/s Pa].
    """

    opens_pa: Array | float
    passes_kg_s_pa: Array | float

    def lets_in(self, suction_pa: Array) -> Array:
        """Room air at a suction behind it [kg/s]."""
        return np.asarray(self.passes_kg_s_pa * np.maximum(suction_pa - self.opens_pa, 0.0))


@dataclass(frozen=True)
class Inflow:
    """Room air that joins a path: by a leak's conductance [kg/s per √u], and by a valve."""

    leak: Array | float
    valve: Valve | None = None

    def at(self, u_pa2: Array, room: RoomAir) -> tuple[Array, Array]:
        """Mass flow [kg/s] and its slope over u."""
        root = np.sqrt(np.maximum(u_pa2, 1e-30))
        mass, slope = self.leak * root, self.leak / (2 * root)
        if self.valve is not None:
            p0 = np.asarray(room.pressure_pa)
            # Past nine tenths of the room's pressure no vacuum goes.
            p = np.sqrt(np.maximum(p0**2 - u_pa2, (0.1 * p0) ** 2))
            lifted = p0 - p > self.valve.opens_pa
            mass = mass + self.valve.lets_in(p0 - p)
            slope = slope + np.where(lifted, self.valve.passes_kg_s_pa / (2 * p), 0.0)
        return np.asarray(mass), np.asarray(slope)


@dataclass(frozen=True)
class Element:
    """One thing that costs pressure. Arrays have samples on the last axis.

    Attributes
    ----------
    part, what
        Whose it is and what it is, such as ``friction``.
    bore_m
        The bore whose velocity head ``factor`` counts.
    factor
        Constant loss coefficient.
    friction_length_m
        Length of smooth wall whose friction follows from the Reynolds number; 0 for none.
    roughness_m
        Of that wall.
    linear_pa_s_m3
        Resistance to laminar flow, such as a filter's: pressure over the volume of air as
        it is there.
    length_m
        How far along the path it reaches, for charts.
    leak_area_m2
        Open area (discharge coefficient included) through which room air joins *after* it.
    valve
        A relief valve through which room air joins after it.
    """

    part: Part
    what: str
    bore_m: Array
    factor: Array | float = 0.0
    friction_length_m: Array | float = 0.0
    roughness_m: Array | float = 0.0
    linear_pa_s_m3: Array | float = 0.0
    length_m: Array | float = 0.0
    leak_area_m2: Array | float = 0.0
    valve: Valve | None = None

    @property
    def leaks(self) -> bool:
        """Whether room air joins after it."""
        return self.valve is not None or positive(self.leak_area_m2)


@dataclass(frozen=True)
class Coefficients:
    """``u₂ − u₁ = linear ṁ + square ṁ² + friction(ṁ)``, u being ``p₀² − p²``."""

    linear: Array | float
    square: Array | float
    smooth: tuple[tuple[Array | float, Array | float, Array | float], ...] = ()

    def rise(self, mass_kg_s: Array) -> tuple[Array, Array]:
        """Rise of u [Pa²] and its slope, at a mass flow [kg/s]; odd in it."""
        m = mass_kg_s
        size = np.abs(m)
        value = (self.linear + self.square * size) * m
        slope = self.linear + 2 * self.square * size
        for base, reynolds, rough in self.smooth:
            f, df = churchill_with_slope(reynolds * size, rough)
            value = value + base * f * size * m
            slope = slope + base * f * size * (2 + df)
        return np.asarray(value), np.asarray(slope)


def plain(x: Any) -> Any:
    """A float where there is a single sample, which is much quicker; otherwise the array."""
    if isinstance(x, np.ndarray) and x.size == 1:
        return x.item()
    return x


def positive(x: Any) -> bool:
    """Whether any sample is above zero."""
    return bool(np.any(x > 0)) if isinstance(x, np.ndarray) else x > 0


def coefficients(elements: Sequence[Element], room: RoomAir) -> Coefficients:
    """Sum of elements that carry the same mass flow; floats where there is one sample."""
    rt = GAS_CONSTANT_J_KG_K * plain(room.temperature_k)
    linear: Array | float = 0.0
    square: Array | float = 0.0
    smooth = []
    for e in elements:
        bore = plain(e.bore_m)
        area = math.pi / 4 * bore * bore
        per_factor = rt / (area * area)
        square = square + plain(e.factor) * per_factor
        if positive(e.linear_pa_s_m3):
            linear = linear + 2 * rt * plain(e.linear_pa_s_m3)
        if positive(e.friction_length_m):
            smooth.append(
                (
                    plain(e.friction_length_m) / bore * per_factor,
                    4 / (math.pi * bore * plain(room.viscosity_pa_s)),
                    plain(e.roughness_m) / bore,
                )
            )
    return Coefficients(linear, square, tuple(smooth))


def leak_conductance(area_m2: Array | float, room: RoomAir) -> Array:
    """``ṁ = c √u`` of an opening to the room: square law at the mean density.

    ``ṁ = A √(2 ρ Δp)`` becomes ``A √(u/RT)``.
    """
    return np.asarray(area_m2 / np.sqrt(GAS_CONSTANT_J_KG_K * room.temperature_k))


def inflow(element: Element, room: RoomAir) -> Inflow:
    """Room air that joins after an element."""
    return Inflow(leak_conductance(element.leak_area_m2, room), element.valve)


Segment = tuple[Coefficients, Inflow | None]


def segments(
    elements: Sequence[Element], room: RoomAir, starts: Sequence[int] = ()
) -> tuple[tuple[Segment, ...], tuple[int, ...]]:
    """Elements between leaks put together, each with the leak after it.

    Each element in ``starts`` begins a segment of its own; the second answer says which.
    """
    joined: list[Segment] = []
    begun: list[int] = []
    run: list[Element] = []
    for i, e in enumerate(elements):
        if i in starts:
            if run:
                joined.append((coefficients(run, room), None))
                run = []
            begun.append(len(joined))
        run.append(e)
        if e.leaks:
            joined.append((coefficients(run, room), inflow(e, room)))
            run = []
    if run:
        joined.append((coefficients(run, room), None))
    return tuple(joined), tuple(begun)


class Segments:
    """A path as segments between leaks: where it meets a suction curve."""

    segments: tuple[Segment, ...]
    room: RoomAir

    def end(
        self, mass_kg_s: Array, start: Array | None = None
    ) -> tuple[Array, Array, Array, Array]:
        """At the vacuum, for a mass flow at the tool: u, mass flow, and their slopes.

        ``start`` is u at the tool; the room's own, nothing, where it is open.
        """
        m = mass_kg_s
        u = np.zeros_like(m) if start is None else start
        du, dm = np.zeros_like(m), np.ones_like(m)
        for part, leak in self.segments:
            rise, slope = part.rise(m)
            u, du = u + rise, du + slope * dm
            if leak is not None:
                more, slope = leak.at(u, self.room)
                m, dm = m + more, dm + slope * du
        return u, m, du, dm

    def meet(self, curve: SuctionCurve) -> Array:
        """Mass flow at the tool [kg/s] where path and suction curve meet.

        The path's u grows with the mass flow and the vacuum's falls, so there is one
        root; Newton's method from the open airflow, kept inside a bracket.
        """
        room = self.room
        rho = np.asarray(room.density_kg_m3)
        p0 = room.pressure_pa
        shape = np.broadcast(rho, p0, curve.sealed_pa, self.segments[0][0].square).shape
        high = np.broadcast_to(rho * curve.open_m3_s, shape).astype(float)
        low = np.zeros(shape)
        m = high.copy()
        for turn in range(160):
            u, total, du, dtotal = self.end(m)
            s, ds = curve.raw(total / rho)
            gap = u - (2 * p0 - s) * s
            slope = du - 2 * (p0 - s) * ds * dtotal / rho
            high = np.where(gap > 0, m, high)
            low = np.where(gap > 0, low, m)
            new = m - gap / slope
            outside = ~((new >= low) & (new <= high))
            if turn > 15 and turn % 2:
                # A valve that lifts bends the path's curve at once; Newton's steps may go to and
                # fro over the bend.
                outside = outside | (np.abs(new - m) > 1e-9 * high)
            if np.any(outside):
                new = np.where(outside, (low + high) / 2, new)
            moved = np.max(np.abs(new - m) / (high + 1e-30), initial=0.0)
            m = new
            if moved < 1e-11:
                break
        return m

    def held_shut(self, curve: SuctionCurve) -> Array:
        """Suction at the tool's end of the path, held shut [Pa]: only the leaks flow.

        The suction there is the unknown; what the vacuum must then pull grows with it, so
        bisection finds it.
        """
        room = self.room
        rho, p0 = np.asarray(room.density_kg_m3), np.asarray(room.pressure_pa)
        high = (2 * p0 - curve.sealed_pa) * curve.sealed_pa + 0 * rho
        low = np.zeros_like(high)
        for _ in range(60):
            start = (low + high) / 2
            u, total, _, _ = self.end(np.zeros_like(start), start)
            s = curve.raw(total / rho)[0]
            over = u > (2 * p0 - s) * s
            low, high = np.where(over, low, start), np.where(over, start, high)
        return np.asarray(p0 - np.sqrt(p0**2 - (low + high) / 2))


@dataclass(frozen=True)
class Series(Segments):
    """A path from a tool to the vacuum, ready to be solved."""

    elements: tuple[Element, ...]
    room: RoomAir
    segments: tuple[Segment, ...] = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "segments", segments(self.elements, self.room)[0])

    def march(self, mass_kg_s: Array) -> list[tuple[Array, Array, Array]]:
        """After each element: total pressure lost in it [Pa], total pressure [Pa], mass flow in it."""
        m = mass_kg_s
        p0 = self.room.pressure_pa
        u = np.zeros_like(m)
        before = np.broadcast_to(p0, u.shape)
        steps: list[tuple[Array, Array, Array]] = []
        for e in self.elements:
            u = u + coefficients((e,), self.room).rise(m)[0]
            p = np.sqrt(np.maximum(p0**2 - u, 0.0))
            steps.append((np.asarray(before - p), p, m))
            before = p
            if e.leaks:
                m = m + inflow(e, self.room).at(u, self.room)[0]
        return steps
