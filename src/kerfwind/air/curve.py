"""The suction curve: how much a vacuum pulls at each airflow."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..facts import Amount, Band
from ..faults import refusal
from ..quantity import Draw, Quantity, middle
from ..shop import Knowledge
from ..sources import fact
from .errors import CurveError
from .fitting import fit_falling
from .properties import STANDARD_DENSITY_KG_M3, RoomAir

Array = NDArray[np.float64]
Basis = Literal["label", "maker's curve", "figures", "points", "home test"]


@dataclass(frozen=True)
class CurveBand:
    """Middle, lower and upper suction [Pa] over a grid of airflows [m³/s]."""

    airflow_m3_s: Array
    suction_pa: Array
    low_pa: Array
    high_pa: Array


@dataclass(frozen=True)
class SuctionCurve:
    """Suction against airflow, samples on the last axis; it never rises.

    ``s(q) = a − g0 (q − q²/2m) − g1 q²/2m`` up to the airflow ``m``, beyond it straight
    on with slope ``−g1``. Airflow is volume of the *room's* air; suction is total
    pressure below the room's, just before the vacuum's inlet.

    Attributes
    ----------
    sealed_pa
        Suction with no airflow, ``a`` [Pa].
    slope_start, slope_end
        Fall of suction at no airflow and at ``knee_m3_s``, ``g0`` and ``g1`` [Pa s/m³].
    knee_m3_s
        Largest airflow that the curve rests on, ``m`` [m³/s].
    basis
        What it comes from: figures of a label, a maker's curve, two figures that were measured,
        measured points, or the home test.
    rests_on
        The shop's quantities in it.
    """

    sealed_pa: Array
    slope_start: Array
    slope_end: Array
    knee_m3_s: Array
    basis: Basis = "label"
    rests_on: tuple[Quantity, ...] = ()

    @cached_property
    def _bow(self) -> Array:
        return np.asarray((self.slope_end - self.slope_start) / (2 * self.knee_m3_s))

    def raw(self, airflow_m3_s: ArrayLike) -> tuple[Array, Array]:
        """Suction [Pa], negative past the open airflow, and its slope [Pa s/m³].

        For solving; broadcasts against the sample axis.
        """
        q = np.asarray(airflow_m3_s, dtype=float)
        x = np.minimum(q, self.knee_m3_s)
        bow = self._bow
        suction = self.sealed_pa - (self.slope_start + bow * x) * x - self.slope_end * (q - x)
        return suction, -(self.slope_start + 2 * bow * x)

    def suction_pa(self, airflow_m3_s: ArrayLike) -> Array:
        """Suction at an airflow [Pa], 0 past the open airflow; broadcasts.

        Raises
        ------
        ValueError
            A negative airflow.
        """
        q = np.asarray(airflow_m3_s, dtype=float)
        if np.any(q < 0):
            raise ValueError("airflow: found a negative one, allowed from 0")
        return np.maximum(self.raw(q)[0], 0.0)

    def airflow_m3_s(self, suction_pa: ArrayLike) -> Array:
        """Airflow at a suction [m³/s]; NaN above the sealed suction; broadcasts."""
        s = np.asarray(suction_pa, dtype=float)
        fall = self.sealed_pa - s
        bow = self._bow
        at_knee = (self.slope_start + bow * self.knee_m3_s) * self.knee_m3_s
        inside = np.clip(fall, 0.0, at_knee)
        root = np.sqrt(np.maximum(self.slope_start**2 + 4 * bow * inside, 0.0))
        q = 2 * inside / (self.slope_start + root) + (
            np.maximum(fall - at_knee, 0.0) / self.slope_end
        )
        return np.asarray(np.where(fall >= 0, q, np.nan))

    @cached_property
    def open_m3_s(self) -> Array:
        """Airflow with nothing attached [m³/s]."""
        return self.airflow_m3_s(0.0)

    @cached_property
    def open_band(self) -> Band:
        """The same, nine samples in ten."""
        return Band.of(self.open_m3_s, "airflow")

    @cached_property
    def hardly_more_m3_s(self) -> float:
        """Airflow with nothing attached that one sample in twenty is above [m³/s]."""
        return float(np.quantile(self.open_m3_s, 0.95))

    def air_power_peak(self) -> tuple[Array, Array]:
        """Airflow [m³/s] and greatest air power [W], airflow times suction."""
        a, b, c, m = self.sealed_pa, self.slope_start, self._bow, self.knee_m3_s
        root = np.sqrt(np.maximum(b * b + 3 * a * c, 0.0))
        bowed = np.minimum(a / (b + root), m)
        straight = np.maximum((self.raw(m)[0] + self.slope_end * m) / (2 * self.slope_end), m)
        power = [q * self.raw(q)[0] for q in (bowed, straight)]
        return (
            np.asarray(np.where(power[0] >= power[1], bowed, straight)),
            np.asarray(np.maximum(*power)),
        )

    def band(self, points: int = 25, level: float = 0.9) -> CurveBand:
        """The band that holds the whole curve with the chance ``level``.

        Over the airflows it rests on. It is a band for the curve, not for one airflow at a
        time: as many standard deviations wide everywhere as ``level`` of the samples need
        to lie wholly within.
        """
        grid = np.linspace(0.0, middle(self.knee_m3_s), points)
        sample = self.raw(grid[:, None])[0]
        mean, sd = sample.mean(axis=-1), sample.std(axis=-1) + 1e-12
        reach = np.max(np.abs(sample - mean[:, None]) / sd[:, None], axis=0)
        wide = float(np.quantile(reach, level)) * sd
        return CurveBand(grid, mean, mean - wide, mean + wide)

    def scaled(self, suction: ArrayLike = 1.0, airflow: ArrayLike = 1.0) -> SuctionCurve:
        """The curve of a machine stronger by these factors."""
        s, q = np.asarray(suction, dtype=float), np.asarray(airflow, dtype=float)
        return SuctionCurve(
            self.sealed_pa * s,
            self.slope_start * s / q,
            self.slope_end * s / q,
            self.knee_m3_s * q,
            self.basis,
            self.rests_on,
        )


def _in_use(
    known_from: Knowledge, draw: Draw, room: RoomAir
) -> tuple[Array | float, Array | float]:
    """What is met in use over such figures: of suction, of airflow.

    Labels and makers' curves are of a new machine in standard air: suction goes with the
    density of the room's air, as the fan laws have it.
    """
    if known_from == "measured":
        return 1.0, 1.0
    kind = "label" if known_from == "label" else "maker"
    suction, airflow = (
        draw.between(*fact(f"air.{kind}_{end}").span, f"air.{kind}_{end}")
        for end in ("sealed", "open")
    )
    return suction * room.density_kg_m3 / STANDARD_DENSITY_KG_M3, airflow


def from_figures(
    sealed: Quantity,
    open_airflow: Quantity,
    draw: Draw,
    room: RoomAir,
    known_from: Knowledge = "label",
) -> SuctionCurve:
    """A curve from sealed suction and open airflow.

    Labels give the best of a new machine, so a label's suction is taken down to 85 to 100 %
    and its airflow to 65 to 100 % of itself, a maker's curve by less, whatever spread either is
    given with. A figure read on the machine itself is taken as it is, with the usual error of
    such readings where it has no spread, and so is an assumed one, which is a guess at what is
    met in use.
    """
    gauge, meter = fact("air.orifice.gauge").span, fact("air.point.airflow").span
    factors: list[Array | float] = []
    for quantity, share, error in zip(
        (sealed, open_airflow), _in_use(known_from, draw, room), (gauge, meter), strict=True
    ):
        if quantity.assumed:
            thinner = room.density_kg_m3 / STANDARD_DENSITY_KG_M3
            share = thinner if quantity is sealed else 1.0
        elif known_from == "measured" and quantity.shape == "exact":
            share = 1 + draw.between(*error, f"{quantity.path}.reading", "normal")
        factors.append(share)
    top = draw.of(sealed) * factors[0]
    end = draw.of(open_airflow) * factors[1]
    bow = draw.between(*fact("air.curve_bow").span, "air.curve_bow")
    return SuctionCurve(
        top,
        (1 - bow) * top / end,
        (1 + bow) * top / end,
        end,
        "figures" if known_from == "measured" else known_from,
        (sealed, open_airflow, *room.rests_on),
    )


def velocity_pressure_pa(airflow_m3_s: ArrayLike, bore_m: ArrayLike, density: ArrayLike) -> Array:
    """``ρV²/2`` [Pa], V the mean speed in a round bore; broadcasts.

    A hole in a pipe's wall reads static suction, which is more than the total by this much
    (total pressure is static and velocity pressure together).

    Parameters
    ----------
    airflow_m3_s
        Airflow [m³/s].
    bore_m
        Bore of the pipe [m].
    density
        Of the air [kg/m³].

    Examples
    --------
    >>> round(float(velocity_pressure_pa(0.04, 0.05, 1.2)), 1)
    249.0
    """
    bore = np.asarray(bore_m, dtype=float)
    speed = np.asarray(airflow_m3_s, dtype=float) / (np.pi / 4 * bore**2)
    return np.asarray(np.asarray(density) * speed**2 / 2)


def from_points(
    points: Sequence[tuple[Quantity, Quantity]],
    draw: Draw,
    room: RoomAir | None = None,
    pipe: Quantity | None = None,
    known_from: Knowledge = "measured",
) -> SuctionCurve:
    """A curve by least squares through points (airflow, suction); it never rises.

    Points are taken as measured in the room's own air, at the vacuum's inlet. A reading
    without a range has the usual error of such readings. Points of a label or a maker's curve
    are taken down as `from_figures` does.

    Parameters
    ----------
    room
        The room's air; needed with ``pipe``, and where the points were not measured.
    pipe
        Bore of the pipe in whose wall the suction was read: the velocity pressure in it is
        then taken off. None where it was read in still air, and is total suction already.

    Raises
    ------
    CurveError
        Fewer than two different airflows, or suction that rises from the least airflow
        to the greatest.
    """
    gauge, meter = fact("air.orifice.gauge").span, fact("air.point.airflow").span
    flows: list[Array] = []
    pulls: list[Array] = []
    flow_sd: list[float] = []
    pull_sd: list[float] = []
    for flow, pull in points:
        for quantity, span, values, spread in (
            (flow, meter, flows, flow_sd),
            (pull, gauge, pulls, pull_sd),
        ):
            sample = draw.of(quantity)
            if quantity.shape == "exact":
                sample = sample * (1 + draw.between(*span, f"{quantity.path}.reading", "normal"))
                spread.append(quantity.best_si * span[1] / 2)
            else:
                wide = quantity.high_si - quantity.low_si
                spread.append(wide / (4 if quantity.shape == "normal" else np.sqrt(12)))
            values.append(sample)
    q, s = np.array(flows), np.array(pulls)
    if pipe is not None and room is not None:
        s = s - velocity_pressure_pa(q, draw.of(pipe), room.density_kg_m3)
    check_points([f.best_si for f, _ in points], [p.best_si for _, p in points])
    fit = fit_falling(
        q,
        s,
        np.array(flow_sd),
        np.array(pull_sd),
        draw.between(*fact("air.curve_bow").span, "air.curve_bow"),
    )
    rests = tuple(quantity for point in points for quantity in point)
    if pipe is not None:
        rests = (*rests, pipe)
    curve = SuctionCurve(*fit, "points", rests)
    if known_from == "measured" or room is None:
        return curve
    suction, airflow = _in_use(known_from, draw, room)
    return replace(
        curve.scaled(suction, airflow), basis=known_from, rests_on=(*rests, *room.rests_on)
    )


def check_points(airflow_m3_s: Sequence[float], suction_pa: Sequence[float]) -> None:
    """Refuse points that no falling curve can hold; raises `CurveError`.

    Parameters
    ----------
    airflow_m3_s, suction_pa
        Airflows [m³/s] and suctions [Pa], in the same order.

    Examples
    --------
    >>> check_points([0.0, 0.02], [20_000, 12_000])
    """
    q, s = np.asarray(airflow_m3_s, dtype=float), np.asarray(suction_pa, dtype=float)
    if q.size < 2 or np.ptp(q) <= 1e-6 * max(float(q.max(initial=0.0)), 1e-9):
        raise CurveError(refusal("air.curve.one_airflow", "vacuum.suction"))
    if not (np.all(np.isfinite(q)) and np.all(np.isfinite(s))) or np.any(q < 0) or np.any(s < 0):
        raise CurveError(refusal("air.curve.below_zero", "vacuum.suction"))
    first, last = s[np.argmin(q)], s[np.argmax(q)]
    if last >= first * 0.98:
        raise CurveError(
            refusal(
                "air.curve.never_falls",
                "vacuum.suction",
                first=Amount(float(first), "pressure"),
                last=Amount(float(last), "pressure"),
            )
        )
