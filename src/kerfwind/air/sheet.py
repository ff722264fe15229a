"""The home test's page, as data: holes, expected readings, steps and cautions."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..facts import Amount, Band, Listing, Ref, Statement, state
from ..quantity import Draw, middle
from ..shop import Hose, Shop
from ..shop.air_faults import THICKEST, WIDEST
from ..sources import fact
from .curve import SuctionCurve
from .hometest import stub_share
from .orifice import airflow_m3_s, recovered_pa
from .path import hose_elements
from .properties import RoomAir, room_air
from .series import Element, Series
from .vacuum import suction_curve, test_hose

Array = NDArray[np.float64]

_INCH = 0.0254
#: Sizes that drills are sold in.
_INCH_HOLES = tuple(
    _INCH * x for x in (3 / 8, 1 / 2, 5 / 8, 3 / 4, 7 / 8, 1, 1.125, 1.25, 1.375, 1.5, 1.75, 2)
)
_METRIC_HOLES = tuple(x / 1000 for x in (8, 10, 12, 15, 18, 20, 25, 28, 30, 35, 40, 45, 50))
_WATER_PA_M = 9806.65
_MOST_ROWS = 7
_SPARE = 1.25
#: Full scales of gauges go by 5 kPa, or by 20 inches of water [Pa].
_METRIC_SCALE_PA, _INCH_SCALE_PA = 5000.0, 20 * 249.089
#: Hole for the gauge's tube [m].
_TUBE_HOLE_M = 0.002


@dataclass(frozen=True)
class SheetRow:
    """One reading to take.

    Attributes
    ----------
    hole
        The size of the drill; 0 for the plate without a hole.
    expected
        What the gauge should show by what is known so far [Pa].
    thickest_plate_m
        Above it the hole is read too high [m].
    """

    hole: Amount
    expected: Band
    thickest_plate_m: float

    @property
    def hole_m(self) -> float:
        """The hole's bore [m], 0 for none."""
        return self.hole.si


@dataclass(frozen=True)
class TestSheet:
    """All that the page prints.

    Attributes
    ----------
    hose
        Name of the hose whose tool end the plates are held on; None for the vacuum's inlet.
    hose_listed
        Whether that hose stands in the shop file.
    gauge_pa
        The gauge's least range.
    water_m
        How high water could climb in an open tube: the tube must be higher.
    rows
        Readings to take, in order.
    held_on
        What the plates are held on.
    steps, cautions
        In order.
    """

    hose: str | None
    hose_listed: bool
    gauge_pa: float
    water_m: float
    rows: tuple[SheetRow, ...]
    held_on: Statement
    steps: tuple[Statement, ...]
    cautions: tuple[Statement, ...]


def test_sheet(shop: Shop, draw: Draw | None = None) -> TestSheet:  # noqa: PT028
    """The home test's page for this shop.

    Raises
    ------
    CurveError, OrificeError
        Measurements already in the file that no curve can hold.
    """
    draw = draw or Draw(256)
    hose = test_hose(shop)
    room = room_air(shop.room.altitude, shop.room.temperature, draw)
    curve = suction_curve(shop, draw, room)
    behind = hose_elements(shop, hose, draw) if hose else ()
    bore = behind[0].bore_m if behind else draw.of(shop.vacuum.inlet.inside)
    sealed = float(np.quantile(curve.sealed_pa, 0.95))
    mixed = 1.0 if behind else stub_share(draw)
    rows = _rows(curve, room, bore, behind, mixed, metric=shop.wishes.measures == "metric")
    water = sealed * _SPARE / _WATER_PA_M
    return TestSheet(
        hose.name if hose else None,
        hose is not None and not hose.bore.assumed,
        home_test_gauge_pa(shop, curve),
        water,
        rows,
        state("air.home_test.held.hose", hose=Ref("hose", hose.name))
        if hose
        else state("air.home_test.held.inlet"),
        _steps(rows, hose),
        _cautions(water),
    )


def home_test_gauge_pa(shop: Shop, curve: SuctionCurve) -> float:
    """Full scale of a gauge that the vacuum's sealed suction does not overrun [Pa].

    Gauges are sold by round scales, of kilopascals or of inches of water.
    """
    step = _METRIC_SCALE_PA if shop.wishes.measures == "metric" else _INCH_SCALE_PA
    return _round_up(curve.hardly_deeper_pa * _SPARE, step)


def expected_reading_pa(
    curve: SuctionCurve,
    room: RoomAir,
    hole_m: float,
    bore_m: Array,
    hose: tuple[Element, ...],
    mixed: Array | float = 1.0,
) -> Array:
    """Gauge reading behind a hole [Pa], samples on the last axis, by bisection.

    Parameters as for `points_of`.
    """
    rho = np.asarray(room.density_kg_m3)
    low = np.zeros_like(curve.sealed_pa + rho)
    high = np.minimum(curve.sealed_pa * 1.6, 0.49 * room.pressure_pa) + low
    series = Series(hose, room) if hose else None
    for _ in range(35):
        gauge = (low + high) / 2
        q = airflow_m3_s(hole_m, gauge, room)
        at_inlet = gauge + recovered_pa(q, hole_m, bore_m, rho, mixed)
        if series is not None:
            u = series.end(q * rho)[0]
            p0 = np.asarray(room.pressure_pa)
            at_inlet = at_inlet + p0 - np.sqrt(np.maximum(p0**2 - u, (p0 / 2) ** 2))
        over = at_inlet > curve.raw(q)[0]
        low, high = np.where(over, low, gauge), np.where(over, gauge, high)
    return (low + high) / 2


def _rows(
    curve: SuctionCurve,
    room: RoomAir,
    bore: Array,
    hose: tuple[Element, ...],
    mixed: Array | float,
    *,
    metric: bool,
) -> tuple[SheetRow, ...]:
    widest = WIDEST * middle(bore)
    fitting = [d for d in (_METRIC_HOLES if metric else _INCH_HOLES) if d <= widest]
    if len(fitting) > _MOST_ROWS - 1:
        keep = np.unique(np.round(np.linspace(0, len(fitting) - 1, _MOST_ROWS - 1)).astype(int))
        fitting = [fitting[i] for i in keep]
    readings = [expected_reading_pa(curve, room, d, bore, hose, mixed) for d in fitting]
    return tuple(
        SheetRow(
            Amount(d, "length", "metric" if metric else "inch"),
            Band.of(reading, "pressure"),
            fact("air.orifice.thin").value * d,
        )
        for d, reading in zip((0.0, *fitting), (curve.sealed_pa, *readings), strict=True)
    )


def _round_up(value: float, step: float) -> float:
    return float(np.ceil(value / step) * step)


def _steps(rows: tuple[SheetRow, ...], hose: Hose | None) -> tuple[Statement, ...]:
    thin = min(r.thickest_plate_m for r in rows if r.hole_m)
    tube = Amount(_TUBE_HOLE_M, "length", "metric")
    return (
        state(
            "air.home_test.step.plates",
            thickness=Amount(thin, "length", "most"),
            holes=Listing(tuple(r.hole for r in rows if r.hole_m), "commas"),
            thickest=Amount(THICKEST, "share"),
        ),
        state("air.home_test.step.drill"),
        state("air.home_test.step.hold_inlet", tube=tube)
        if hose is None
        else state("air.home_test.step.hold_hose", hose=Ref("hose", hose.name), tube=tube),
        state("air.home_test.step.run"),
        state("air.home_test.step.read"),
        state("air.home_test.step.twice"),
        state("air.home_test.step.write"),
    )


def _cautions(water_m: float) -> tuple[Statement, ...]:
    return (
        state("air.home_test.caution.water", height=Amount(water_m, "length", "tall")),
        state("air.home_test.caution.seal"),
        state("air.home_test.caution.grip"),
        state("air.home_test.caution.dust"),
        state("air.home_test.caution.clamp"),
    )
