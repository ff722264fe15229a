"""The air at one tool: the chain from shop and hookup to airflow and verdicts."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ..facts import Band, Statement
from ..finding import Finding
from ..quantity import Draw, band, middle
from ..shop import Shop, Tool
from . import verdict
from .capture import Capture, capture_finding, sander_capture
from .curve import SuctionCurve
from .path import Connection, Way, behind_clogged_filter, way
from .properties import GAS_CONSTANT_J_KG_K, STANDARD_DENSITY_KG_M3, RoomAir, density, room_air
from .series import Part, Series, loss_name
from .vacuum import suction_curve
from .verdict import Narrowest, RunAir

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Loss:
    """One line of the pressure budget; arrays have samples on the last axis.

    ``factor`` is the loss over the velocity head in ``bore_m``.
    """

    part: Part
    what: str
    pressure_pa: Array
    bore_m: Array
    velocity_m_s: Array
    factor: Array

    @property
    def name(self) -> Statement:
        """Whose loss it is and which, for a sentence to say."""
        return loss_name(self.part, self.what)


@dataclass(frozen=True)
class PathPoint:
    """After one element: how far along, suction there (total pressure) and velocity."""

    part: Part
    what: str
    position_m: Array
    suction_pa: Array
    velocity_m_s: Array


@dataclass(frozen=True)
class SystemCurve:
    """Suction that the path takes at each airflow at the tool, with its nine-in-ten band.

    ``vacuum_*`` is the vacuum's own curve over the same airflows.
    """

    airflow_m3_s: Array
    suction_pa: Array
    suction_low_pa: Array
    suction_high_pa: Array
    vacuum_pa: Array
    vacuum_low_pa: Array
    vacuum_high_pa: Array


@dataclass(frozen=True)
class ToolAir:
    """What the unit does at one tool; arrays have samples on the last axis.

    Attributes
    ----------
    airflow_m3_s
        Volume of the room's air that enters the hood.
    standard_airflow_m3_s
        The same air at 20 °C and 101.325 kPa.
    runs
        Hoses with the least velocity in each.
    budget
        Total pressure lost in each element, tool to filter; it sums to ``suction_pa``.
    path
        Pressure along the way, for a chart.
    suction_pa
        Suction at the vacuum.
    leak_m3_s
        Room air let in on the way, not through the hood.
    chips, caught
        The two verdicts, each with its finding.
    capture
        What part of its dust an orbital sander catches; None for any other tool.
    """

    tool: str
    airflow_m3_s: Array
    standard_airflow_m3_s: Array
    runs: tuple[RunAir, ...]
    budget: tuple[Loss, ...]
    path: tuple[PathPoint, ...]
    suction_pa: Array
    leak_m3_s: Array
    chips: verdict.Verdict
    caught: verdict.Verdict
    capture: Capture | None
    said_of_capture: Finding | None
    curve: SuctionCurve
    series: Series
    way: Way

    @property
    def told_airflow(self) -> Band:
        """Its airflow as its finding has it, with what the reckoning itself may be off."""
        told = self.caught.finding.value
        assert told is not None
        return told

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Both verdicts' findings, dust first; and what a sander catches at edges."""
        more = (self.said_of_capture,) if self.said_of_capture is not None else ()
        return (self.caught.finding, self.chips.finding, *more)

    @property
    def bucket_pa(self) -> Array | None:
        """Suction in the separator's bucket in ordinary running [Pa]; None without a separator.

        That of the cyclone's outlet: what stands in the bucket lies between this and less.
        """
        behind = [p.suction_pa for p in self.path if p.what == "cyclone"]
        return behind[0] if behind else None

    @cached_property
    def port_suction(self) -> Band:
        """Static suction just inside the port: the hood's loss and the velocity head [Pa]."""
        hood = self.budget[0]
        return Band.of(hood.pressure_pa * (1 + 1 / hood.factor), "pressure")

    @cached_property
    def usual_m3_s(self) -> float:
        """The middle of the airflow [m³/s]."""
        return middle(self.airflow_m3_s)

    @cached_property
    def system_curve(self) -> SystemCurve:
        """For a chart: the path's curve and the vacuum's over 21 airflows."""
        return system_curve(self.series, self.curve)


def tool_air(connection: Connection, draw: Draw) -> ToolAir:
    """Solve the air at one tool, the other tools' ports being shut off.

    Raises
    ------
    CurveError
        Measured points that no suction curve can hold.
    """
    shop = connection.shop
    room = room_air(shop.room.altitude, shop.room.temperature, draw)
    curve = connection.curve or suction_curve(shop, draw, room)
    path = way(connection, draw)
    series = Series(path.elements, room)
    mass = series.meet(curve)
    return _report(shop, connection.tool, draw, room, curve, path, series, mass)


def _runs(path: Way, room: RoomAir, pressure_pa: Array, flow_kg_s: Array) -> tuple[RunAir, ...]:
    """The runs, from the pressure after each element and the mass flow in it."""
    runs = []
    for r in path.runs:
        before = pressure_pa[r.element - 1] if r.element else np.asarray(room.pressure_pa)
        area = np.pi / 4 * r.bore_m**2
        rho = density(before, room.temperature_k)
        speed = flow_kg_s[r.element] / (rho * area)
        runs.append(RunAir(r.name, r.bore_m, r.length_m, r.rise_m, speed, rho, r.after_separator))
    return tuple(runs)


def _report(
    shop: Shop,
    tool: Tool,
    draw: Draw,
    room: RoomAir,
    curve: SuctionCurve,
    path: Way,
    series: Series,
    mass: Array,
) -> ToolAir:
    lost, pressure, flow = series.along(mass)
    area = np.array([e.bore_m for e in path.elements])
    np.square(area, out=area)
    area *= np.pi / 4
    # Of the air at the mean pressure in each element; its velocity head is ṁ V/(2 A).
    velocity = lost / 2
    velocity += pressure
    velocity *= area
    np.divide(flow, velocity, out=velocity)
    velocity *= GAS_CONSTANT_J_KG_K * room.temperature_k
    factor = flow * velocity
    factor /= area
    np.divide(lost, factor, out=factor)
    factor *= 2
    suction = np.asarray(room.pressure_pa) - pressure
    budget, points = [], []
    position = draw.even(0.0)
    for i, e in enumerate(path.elements):
        budget.append(Loss(e.part, e.what, lost[i], e.bore_m, velocity[i], factor[i]))
        if not (isinstance(e.length_m, float) and e.length_m == 0.0):
            position = position + e.length_m
        points.append(PathPoint(e.part, e.what, position, suction[i], velocity[i]))
    runs = _runs(path, room, pressure, flow)
    airflow = mass / room.density_kg_m3
    rests_on = (*path.rests_on, *curve.rests_on, *room.rests_on)
    clogged_runs: tuple[RunAir, ...] = ()
    clogged = None
    if verdict.guesses_filter(shop):
        worse = Series(behind_clogged_filter(path.elements, draw), room)
        least = worse.meet(curve)
        clogged_runs = _runs(path, room, *worse.along(least)[1:])
        clogged = least / room.density_kg_m3
    capture = sander_capture(tool, airflow * verdict.model_error(draw), draw)
    narrowest = Narrowest.of(path.chips_pass)
    chips = verdict.chips(shop, tool, runs, narrowest, draw, rests_on, clogged=clogged_runs)
    return ToolAir(
        tool.name,
        airflow,
        mass / STANDARD_DENSITY_KG_M3,
        runs,
        tuple(budget),
        tuple(points),
        suction[-1],
        (flow[-1] - mass) / room.density_kg_m3,
        chips,
        verdict.caught(shop, tool, airflow, curve, draw, rests_on, chips, clogged_m3_s=clogged),
        capture,
        capture_finding(tool, capture),
        curve,
        series,
        path,
    )


def system_curve(series: Series, curve: SuctionCurve, points: int = 21) -> SystemCurve:
    """The path's suction and the vacuum's over airflows from nothing to open."""
    room = series.room
    top = curve.hardly_more_m3_s * 1.05
    grid = np.linspace(0.0, top, points)[:, None]
    u = series.end(grid * room.density_kg_m3)[0]
    # Past a vacuum of half an atmosphere no shop vacuum goes, and the chart need not.
    p0 = np.asarray(room.pressure_pa)
    path = p0 - np.sqrt(np.maximum(p0**2 - u, (p0 / 2) ** 2))
    vacuum = curve.suction_pa(grid + np.zeros_like(u))
    low, middle, high = band(path)
    vlow, vmiddle, vhigh = band(vacuum)
    return SystemCurve(grid[:, 0], middle, low, high, vmiddle, vlow, vhigh)
