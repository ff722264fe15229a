"""After building: what was measured beside what was predicted, and what it teaches."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ..facts import Amount, Band, Listing, Ref, Statement, Term, facts, state
from ..finding import Finding, finding
from ..quantity import Draw, Quantity, middle
from ..shop import Shop, Tool
from ..sources import fact
from .curve import SuctionCurve
from .properties import GAS_CONSTANT_J_KG_K
from .series import Element, Series
from .tool import ToolAir

Array = NDArray[np.float64]

_AGREES = 2.0
#: A reading tells something from this many errors of its gauge on.
_TELLING = 3.0
#: Gauges as they are sold: 1, 2, 5, 10, 30 and 100 inches of water, and one for all else [Pa].
_FULL_SCALES_PA = (250.0, 500.0, 1250.0, 2500.0, 7500.0, 25_000.0, 100_000.0)
#: Airflow at which a filter's resistance is told [m³/s].
_TOLD_AT_M3_S = 0.04

#: Where the gauge is read: at the port of the running tool, or with the port held shut.
Where = Literal["port", "held shut"]


@dataclass(frozen=True)
class Compared:
    """One measurement beside its prediction.

    Attributes
    ----------
    tool, what
        Whose, and where the gauge was read.
    measured_pa, measured_sd_pa
        As read, and its standard deviation.
    predicted
        Before this measurement was used.
    recalibrated
        After all of them were.
    deviations
        How many standard deviations (of reading and prediction together) they are apart.
    """

    tool: str
    what: Where
    measured_pa: float
    measured_sd_pa: float
    predicted: Band
    recalibrated: Band
    deviations: float


@dataclass(frozen=True)
class Explanation:
    """One cause that could stand behind what disagrees.

    ``misfit`` is the sum of squared deviations that is left once the cause is put in at the
    size that suits best; ``size`` tells that size.
    """

    cause: str
    size: Statement
    misfit: float

    @property
    def named(self) -> Term:
        """The cause, for a sentence to say."""
        return Term("cause", self.cause)

    @property
    def remedy(self) -> Term:
        """What to do about it, for a sentence to say."""
        return Term("remedy", self.cause)


@dataclass(frozen=True)
class Afterwards:
    """Predicted against measured, and the model recalibrated.

    Attributes
    ----------
    compared
        One row for each measurement.
    weights
        Weight of each sample of the draw; they sum to one. All alike where the
        measurements contradict the prediction, which is then not bent to fit them.
    chosen
        Samples drawn by those weights: index any array of the same draw with it to
        recalibrate it.
    airflow
        Recalibrated airflow of each tool [m³/s].
    explanations
        Causes for what disagrees, the best first; empty when all agrees.
    findings
        One for each tool that was measured.
    """

    compared: tuple[Compared, ...]
    weights: Array
    chosen: NDArray[np.intp]
    airflow: dict[str, Band]
    explanations: tuple[Explanation, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class _Measured:
    air: ToolAir
    what: Where
    quantity: Quantity
    sd_pa: float


def after_building(shop: Shop, airs: Sequence[ToolAir], draw: Draw) -> Afterwards | None:
    """Compare measured suctions with predicted ones; None when none was measured.

    The samples of the draw are weighted by how well each predicts what was measured (the
    same samples hold for every tool), which recalibrates all rooms' results at once.
    """
    tools = {t.name: t for t in shop.tools}
    rows = [m for air in airs for m in _measured(air, tools[air.tool])]
    if not rows:
        return None
    predicted = np.array([_predict(m.air.series, m.air.curve, m.what) for m in rows])
    measured = np.array([m.quantity.best_si for m in rows])
    sd = np.array([m.sd_pa for m in rows])
    sd = np.hypot(sd, fact("air.model_error").value * measured)
    apart = (measured - predicted.mean(axis=1)) / np.hypot(sd, predicted.std(axis=1))
    agrees = float(np.max(np.abs(apart))) <= _AGREES
    # A model that the measurements contradict is not bent to fit them: something else is wrong.
    weights = _weights(predicted, measured, sd if agrees else sd * 1e6)
    chosen = np.random.default_rng(draw.seed).choice(draw.count, draw.count, p=weights)
    compared = tuple(
        Compared(
            m.air.tool,
            m.what,
            float(measured[i]),
            float(sd[i]),
            Band.of(predicted[i], "pressure"),
            Band.of(predicted[i][chosen], "pressure"),
            float(apart[i]),
        )
        for i, m in enumerate(rows)
    )
    spread = np.hypot(sd, predicted.std(axis=1))
    explanations = () if agrees else explain(rows, measured, spread)
    airflow = {a.tool: Band.of(a.airflow_m3_s[chosen], "airflow") for a in airs}
    return Afterwards(
        compared,
        weights,
        chosen,
        airflow,
        explanations,
        tuple(
            _finding(air.tool, rows, compared, measured, spread, explanations, airflow)
            for air in airs
            if any(m.air is air for m in rows)
        ),
    )


def _measured(air: ToolAir, tool: Tool) -> list[_Measured]:
    rows = []
    read: tuple[tuple[Where, Quantity | None], ...] = (
        ("port", tool.measured_suction),
        ("held shut", tool.measured_sealed),
    )
    for what, quantity in read:
        if quantity is None:
            continue
        if quantity.shape == "exact":
            span = fact("air.orifice.gauge").span
            sd = max(quantity.best_si * (span[1] - span[0]) / 4, quantity.resolution_si / 2)
        else:
            wide = quantity.high_si - quantity.low_si
            sd = wide / (4 if quantity.shape == "normal" else float(np.sqrt(12)))
        rows.append(_Measured(air, what, quantity, max(sd, 1.0)))
    return rows


def port_suction(series: Series, mass_kg_s: Array) -> Array:
    """Static suction just inside the tool's port [Pa]: the hood's loss and the velocity head."""
    lost, pressure, mass = series.march(mass_kg_s)[0]
    rho = pressure / (GAS_CONSTANT_J_KG_K * series.room.temperature_k)
    area = np.pi / 4 * series.elements[0].bore_m ** 2
    return np.asarray(lost + (mass / area) ** 2 / (2 * rho))


def _predict(series: Series, curve: SuctionCurve, what: Where) -> Array:
    if what == "held shut":
        return series.held_shut(curve)
    return port_suction(series, series.meet(curve))


def _weights(predicted: Array, measured: Array, sd: Array) -> Array:
    gap = (predicted - measured[:, None]) / sd[:, None]
    log = -0.5 * np.sum(gap**2, axis=0)
    w = np.exp(log - log.max())
    return np.asarray(w / w.sum())


def explain(rows: Sequence[_Measured], measured: Array, spread: Array) -> tuple[Explanation, ...]:
    """Causes that could stand behind a disagreement, the one that leaves least first."""
    explanations = []
    for cause, sizes, change, size_of in _CAUSES:
        best, best_size = np.inf, sizes[0]
        for size in sizes:
            gaps = []
            for m, value, sd in zip(rows, measured, spread, strict=True):
                series, curve = change(m.air.series, m.air.curve, size)
                gaps.append((middle(_predict(series, curve, m.what)) - value) / sd)
            misfit = float(np.sum(np.square(gaps)))
            if misfit < best:
                best, best_size = misfit, size
        explanations.append(Explanation(cause, size_of(best_size), best))
    return tuple(sorted(explanations, key=lambda e: e.misfit))


def _at(series: Series, index: int, **changes: Array | float) -> Series:
    elements = list(series.elements)
    e = elements[index]
    new = {k: getattr(e, k) + v for k, v in changes.items()}
    elements[index] = replace(e, **new)
    return Series(tuple(elements), series.room)


def _leak(series: Series, curve: SuctionCurve, area_m2: float) -> tuple[Series, SuctionCurve]:
    ends = [i for i, e in enumerate(series.elements) if np.any(np.asarray(e.leak_area_m2) > 0)]
    return _at(series, ends[0], leak_area_m2=area_m2), curve


def _clog(series: Series, curve: SuctionCurve, heads: float) -> tuple[Series, SuctionCurve]:
    walls = [i for i, e in enumerate(series.elements) if e.what == "friction"]
    return _at(series, walls[0], factor=heads), curve


def _hood(series: Series, curve: SuctionCurve, heads: float) -> tuple[Series, SuctionCurve]:
    return _at(series, 0, factor=heads), curve


def _weak(series: Series, curve: SuctionCurve, part: float) -> tuple[Series, SuctionCurve]:
    return series, curve.scaled(part, part)


def _filter(series: Series, curve: SuctionCurve, resistance: float) -> tuple[Series, SuctionCurve]:
    return _at(series, len(series.elements) - 1, linear_pa_s_m3=resistance), curve


def _bore(series: Series, curve: SuctionCurve, part: float) -> tuple[Series, SuctionCurve]:
    first: Element = series.elements[0]
    narrowed = replace(first, bore_m=first.bore_m * part)
    return Series((narrowed, *series.elements[1:]), series.room), curve


_Change = Callable[[Series, SuctionCurve, float], tuple[Series, SuctionCurve]]
_CAUSES: tuple[tuple[str, tuple[float, ...], _Change, Callable[[float], Statement]], ...] = (
    (
        "leak",
        tuple(1e-6 * x for x in (10, 20, 40, 80, 150, 300, 600)),
        _leak,
        lambda a: state("air.cause.opening", area=Amount(a, "area", "fine")),
    ),
    (
        "clog",
        (2.0, 5.0, 10.0, 20.0, 40.0, 80.0, 160.0),
        _clog,
        lambda k: state("air.cause.heads", heads=round(k)),
    ),
    (
        "blocked",
        (2.0, 5.0, 10.0, 20.0, 50.0),
        _hood,
        lambda k: state("air.cause.heads", heads=round(k)),
    ),
    (
        "filter",
        (3e4, 6e4, 1.2e5, 2.5e5, 5e5),
        _filter,
        lambda r: state(
            "air.cause.resistance",
            pressure=Amount(r * _TOLD_AT_M3_S, "pressure"),
            airflow=Amount(_TOLD_AT_M3_S, "airflow"),
        ),
    ),
    (
        "vacuum",
        (0.6, 0.7, 0.8, 0.9, 1.1, 1.25),
        _weak,
        lambda x: state("air.cause.of_curve", share=Amount(x, "share")),
    ),
    (
        "bore",
        (0.7, 0.8, 0.9, 1.1, 1.25),
        _bore,
        lambda x: state("air.cause.of_bore", share=Amount(x, "share")),
    ),
)


def _finding(
    tool: str,
    rows: Sequence[_Measured],
    compared: Sequence[Compared],
    measured: Array,
    spread: Array,
    shared: Sequence[Explanation],
    airflow: dict[str, Band],
) -> Finding:
    """What is said of one tool's readings.

    A cause that all tools share stands behind its own where it leaves them all in agreement;
    otherwise the tool's own readings are explained by themselves.
    """
    mine = [i for i, c in enumerate(compared) if c.tool == tool]
    about = Ref("tool", tool)
    readings = Listing(
        tuple(
            state(
                "air.measured.reading",
                what=Term("suction", compared[i].what),
                measured=Amount(compared[i].measured_pa, "pressure"),
                predicted=compared[i].predicted,
            )
            for i in mine
        ),
        "semicolons",
    )
    if all(abs(compared[i].deviations) <= _AGREES for i in mine):
        if shared:
            return finding("air.measured", "alone", "good", about, facts=facts(readings=readings))
        return finding(
            "air.measured",
            "good",
            "good",
            about,
            facts=facts(readings=readings, airflow=airflow[tool]),
        )
    best = shared[0]
    if best.misfit > _AGREES**2 * len(rows):
        best = explain([rows[i] for i in mine], measured[mine], spread[mine])[0]
    return finding(
        "air.measured",
        "apart",
        "problem",
        about,
        facts=facts(readings=readings, cause=best.named, size=best.size, remedy=best.remedy),
    )


def gauge_finding(shop: Shop, airs: Sequence[ToolAir], full_scale_pa: float) -> Finding | None:
    """Ports whose suction the home test's gauge cannot tell; None where it can.

    A dial gauge is off by a part of its full scale [Pa], which is much of a small reading.
    """
    error = fact("air.orifice.gauge").span[1] * full_scale_pa
    small = []
    for air in airs:
        suction = air.port_suction
        if suction.best < _TELLING * error:
            small.append((air.tool, suction))
    if not small:
        return None
    most = max(suction.high for _, suction in small)
    return finding(
        "air.gauge",
        "coarse",
        "advice",
        Ref("vacuum", shop.vacuum.name),
        facts=facts(
            tools=Listing(
                tuple(
                    state("air.gauge.port", tool=Ref("tool", tool), suction=suction)
                    for tool, suction in small
                ),
                "semicolons",
            ),
            gauge=Amount(full_scale_pa, "pressure", "short"),
            error=Amount(error, "pressure"),
            fine=Amount(next(x for x in _FULL_SCALES_PA if x >= most), "pressure"),
        ),
        sources=("air.orifice.gauge",),
    )
