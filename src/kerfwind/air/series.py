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
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from ..facts import Ref, Statement, Term, state
from ..kept import Kept
from .curve import SuctionCurve
from .friction import churchill, churchill_with_slope
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
        above = np.maximum(u_pa2, 1e-30)
        mass = self.leak * np.sqrt(above)
        slope = mass / (above + above)
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

    @cached_property
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
        square = self.square * size
        straight = square if _nothing(self.linear) else self.linear + square
        value, slope = straight * m, straight + square
        for base, reynolds, rough in self.smooth:
            f, df = churchill_with_slope(reynolds * size, rough)
            wall = base * f * size
            value = value + wall * m
            slope = slope + wall * (2 + df)
        return np.asarray(value), np.asarray(slope)

    def rise_alone(self, mass_kg_s: Array) -> Array:
        """`rise` without its slope."""
        size = np.abs(mass_kg_s)
        factor = self.square * size
        if not _nothing(self.linear):
            factor = self.linear + factor
        for base, reynolds, rough in self.smooth:
            factor = factor + base * churchill(reynolds * size, rough) * size
        return np.asarray(factor * mass_kg_s)


def plain(x: Any) -> Any:
    """A float where there is a single sample, which is much quicker; otherwise the array."""
    if isinstance(x, np.ndarray) and x.size == 1:
        return x.item()
    return x


def positive(x: Any) -> bool:
    """Whether any sample is above zero."""
    return bool(np.any(x > 0)) if isinstance(x, np.ndarray) else x > 0


def _nothing(x: Any) -> bool:
    """Whether it is a plain zero, which need not be added to arrays."""
    return isinstance(x, float) and x == 0.0


#: What elements take in a room's air: tools share the most of their ways.
_taken: Kept[Coefficients] = Kept(192)


def _of_one(e: Element, room: RoomAir) -> Coefficients:
    rt = GAS_CONSTANT_J_KG_K * plain(room.temperature_k)
    bore = plain(e.bore_m)
    area = math.pi / 4 * bore * bore
    per_factor = rt / (area * area)
    factor = plain(e.factor)
    linear: Array | float = 0.0
    smooth: tuple[tuple[Array | float, Array | float, Array | float], ...] = ()
    if positive(e.linear_pa_s_m3):
        linear = 2 * rt * plain(e.linear_pa_s_m3)
    if positive(e.friction_length_m):
        viscosity = plain(room.viscosity_pa_s)
        smooth = (
            (
                plain(e.friction_length_m) / bore * per_factor,
                4 / (math.pi * bore * viscosity),
                plain(e.roughness_m) / bore,
            ),
        )
    return Coefficients(linear, 0.0 if _nothing(factor) else factor * per_factor, smooth)


def taken_by(e: Element, room: RoomAir) -> Coefficients:
    """What one element takes; floats where there is one sample."""
    if not isinstance(e.bore_m, np.ndarray) or e.bore_m.size == 1:
        return _of_one(e, room)
    sizes = (e.bore_m, e.factor, e.friction_length_m, e.roughness_m, e.linear_pa_s_m3, room)
    return _taken.of(sizes, None, lambda: _of_one(e, room))


#: The same of elements that follow one another.
_summed: Kept[Coefficients] = Kept(192)


def coefficients(elements: Sequence[Element], room: RoomAir) -> Coefficients:
    """Sum of elements that carry the same mass flow; floats where there is one sample."""
    first = elements[0].bore_m if elements else 0.0
    if not isinstance(first, np.ndarray) or first.size == 1:
        return _sum(elements, room)
    return _summed.of((room, *elements), None, lambda: _sum(elements, room))


def _sum(elements: Sequence[Element], room: RoomAir) -> Coefficients:
    linear: Array | float = 0.0
    square: Array | float = 0.0
    smooth: list[tuple[Array | float, Array | float, Array | float]] = []
    for e in elements:
        one = taken_by(e, room)
        if not _nothing(one.linear):
            linear = linear + one.linear
        if not _nothing(one.square):
            square = one.square if _nothing(square) else square + one.square
        smooth += one.smooth
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
                joined.append((coefficients(tuple(run), room), None))
                run = []
            begun.append(len(joined))
        run.append(e)
        if e.leaks:
            joined.append((coefficients(tuple(run), room), inflow(e, room)))
            run = []
    if run:
        joined.append((coefficients(tuple(run), room), None))
    return tuple(joined), tuple(begun)


#: Darcy's factor of smooth walls that a first guess is made with.
_USUAL_FRICTION = 0.02
#: Steps, as a part of the open airflow, after which Newton's method has settled: the next one
#: would be about the square of the last. At a valve's bend it need not be.
_NEAR, _SETTLED = 1e-7, 1e-11
#: Newton's steps without a bracket at most; from a good guess it takes four.
_MOST_STEPS = 12


def _bracketed(gap: Callable[[Array], tuple[Array, Array]], most: Array) -> Array:
    """The root of a rising function between nothing and ``most``, by Newton's method in a bracket.

    ``gap`` gives the function and its slope.
    """
    low, high, m = np.zeros_like(most), most, most
    for turn in range(160):
        value, slope = gap(m)
        high = np.where(value > 0, m, high)
        low = np.where(value > 0, low, m)
        new = m - value / slope
        outside = ~((new >= low) & (new <= high))
        if turn > 15 and turn % 2:
            # A valve that lifts bends the path's curve at once; Newton's steps may go to and
            # fro over the bend.
            outside = outside | (np.abs(new - m) > 1e-9 * high)
        if np.any(outside):
            new = np.where(outside, (low + high) / 2, new)
        moved = np.max(np.abs(new - m) / (high + 1e-30), initial=0.0)
        m = new
        if moved < _SETTLED:
            break
    return m


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
        u, du, dm = start, None, None
        for part, leak in self.segments:
            rise, slope = part.rise(m)
            u = rise if u is None else u + rise
            if dm is not None:
                slope = slope * dm
            du = slope if du is None else du + slope
            if leak is not None:
                more, slope = leak.at(u, self.room)
                m = m + more
                dm = slope * du + (1.0 if dm is None else dm)
        return (
            np.zeros_like(m) if u is None else u,
            m,
            np.zeros_like(m) if du is None else du,
            np.ones_like(m) if dm is None else dm,
        )

    def _first_guess(self, curve: SuctionCurve, most: Array) -> Array:
        """Where the path without leaks meets a straight line in u from sealed to open airflow."""
        linear: Array | float = 0.0
        square: Array | float = 0.0
        for part, _ in self.segments:
            linear, square = linear + part.linear, square + part.square
            for base, *_ in part.smooth:
                square = square + _USUAL_FRICTION * base
        sealed = (2 * self.room.pressure_pa - curve.sealed_pa) * curve.sealed_pa
        slope = linear + sealed / np.maximum(most, 1e-12)
        return np.asarray(2 * sealed / (slope + np.sqrt(slope * slope + 4 * square * sealed)))

    def meet(self, curve: SuctionCurve) -> Array:
        """Mass flow at the tool [kg/s] where path and suction curve meet.

        The path's u grows with the mass flow and the vacuum's falls, so there is one root, and
        wherever Newton's method comes to rest it is that. Where it does not, it is kept inside
        a bracket.
        """
        room = self.room
        rho = np.asarray(room.density_kg_m3)
        p0 = room.pressure_pa
        sizes = (size for part, _ in self.segments for size in (part.linear, part.square))
        shape = np.broadcast_shapes(*map(np.shape, (rho, p0, curve.sealed_pa, *sizes)))
        most = np.broadcast_to(rho * curve.open_m3_s, shape).astype(float)

        def gap(m: Array) -> tuple[Array, Array]:
            u, total, du, dtotal = self.end(m)
            s, ds = curve.raw(total / rho)
            deep = p0 - s
            return u - (p0 + deep) * s, du - 2 * deep * ds * dtotal / rho

        settled = _SETTLED if any(leak and leak.valve for _, leak in self.segments) else _NEAR
        scale = most + 1e-30
        m = np.broadcast_to(self._first_guess(curve, most), shape)
        for _ in range(_MOST_STEPS):
            value, slope = gap(m)
            step = value / slope
            m = m - step
            if np.abs(step / scale).max(initial=0.0) < settled:
                return m
        return _bracketed(gap, most)

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
        return list(zip(*self.along(mass_kg_s), strict=True))

    def along(self, mass_kg_s: Array) -> tuple[Array, Array, Array]:
        """The same as arrays, elements by samples."""
        m = mass_kg_s
        p0 = np.asarray(self.room.pressure_pa)
        flows = np.empty((len(self.elements), *np.shape(m)))
        u = np.zeros((len(self.elements) + 1, *np.shape(m)))
        for i, e in enumerate(self.elements):
            flows[i] = m
            np.add(u[i], taken_by(e, self.room).rise_alone(m), out=u[i + 1])
            if e.leaks:
                m = m + inflow(e, self.room).at(u[i + 1], self.room)[0]
        pressure = np.subtract(np.square(p0), u, out=u)
        np.maximum(pressure, 0.0, out=pressure)
        np.sqrt(pressure, out=pressure)
        return pressure[:-1] - pressure[1:], pressure[1:], flows
