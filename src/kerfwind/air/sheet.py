"""The home test's page, as data: holes, expected readings, steps and cautions."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..plaintext import quoted
from ..quantity import Draw, band, middle, show, show_fraction_in
from ..quantity.printing import UnitChoice
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
_INCH_HOLES = tuple(
    _INCH * x for x in (3 / 8, 1 / 2, 5 / 8, 3 / 4, 7 / 8, 1, 1.125, 1.25, 1.375, 1.5, 1.75, 2)
)
_METRIC_HOLES = tuple(x / 1000 for x in (8, 10, 12, 15, 18, 20, 25, 28, 30, 35, 40, 45, 50))
_WATER_PA_M = 9806.65
_MOST_ROWS = 7
_SPARE = 1.25


@dataclass(frozen=True)
class SheetRow:
    """One reading to take.

    ``hole_m`` is 0 for the plate without a hole; ``expected_*`` is what the gauge should show
    by what is known so far; ``thickest_plate_m`` above which the hole is read too high.
    """

    hole: str
    hole_m: float
    expected_pa: float
    expected_low_pa: float
    expected_high_pa: float
    expected: str
    thickest_plate_m: float


@dataclass(frozen=True)
class TestSheet:
    """All that the page prints.

    Attributes
    ----------
    held_on
        What the plates are held on, in words.
    gauge, gauge_pa
        The gauge's least range, in words and in Pa.
    water_m
        How high water could climb in an open tube: the tube must be higher.
    rows
        Readings to take, in order.
    steps, cautions
        In order.
    columns
        Headings of the table to fill in by hand.
    entry
        What to write into the shop file, with blanks.
    """

    held_on: str
    gauge: str
    gauge_pa: float
    water_m: float
    rows: tuple[SheetRow, ...]
    steps: tuple[str, ...]
    cautions: tuple[str, ...]
    columns: tuple[str, ...]
    entry: str


def test_sheet(shop: Shop, draw: Draw | None = None) -> TestSheet:  # noqa: PT028
    """The home test's page for this shop.

    Raises
    ------
    CurveError, OrificeError
        Measurements already in the file that no curve can hold.
    """
    draw = draw or Draw(256)
    units: UnitChoice = shop.shop.units
    hose = test_hose(shop)
    room = room_air(shop.room.altitude, shop.room.temperature, draw)
    curve = suction_curve(shop, draw, room)
    behind = hose_elements(shop, hose, draw) if hose else ()
    bore = behind[0].bore_m if behind else draw.of(shop.vacuum.inlet.inside)
    sealed = float(np.quantile(curve.sealed_pa, 0.95))
    gauge_pa = _round_up(sealed * _SPARE, 5000.0)
    rows = _rows(curve, room, bore, behind, units, 1.0 if behind else stub_share(draw))
    held = f"the tool end of the {hose.name}, lying straight" if hose else "the vacuum's inlet"
    water = sealed * _SPARE / _WATER_PA_M
    return TestSheet(
        held,
        f"0 to {show(gauge_pa, 'pressure', units)} of vacuum, dry",
        gauge_pa,
        water,
        rows,
        _steps(held, rows, units, hose),
        _cautions(water, units),
        ("Hole as drilled, measured", "Expected", "Gauge, first time", "Gauge, second time"),
        _entry(hose, rows, units),
    )


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
    units: UnitChoice,
    mixed: Array | float,
) -> tuple[SheetRow, ...]:
    sizes = _METRIC_HOLES if units == "mm" else _INCH_HOLES
    widest = WIDEST * middle(bore)
    fitting = [d for d in sizes if d <= widest]
    if len(fitting) > _MOST_ROWS - 1:
        keep = np.unique(np.round(np.linspace(0, len(fitting) - 1, _MOST_ROWS - 1)).astype(int))
        fitting = [fitting[i] for i in keep]
    rows = [_row("no hole", 0.0, curve.sealed_pa, units)]
    for d in fitting:
        text = f"{d * 1000:.0f} mm" if units == "mm" else show_fraction_in(d)
        rows.append(_row(text, d, expected_reading_pa(curve, room, d, bore, hose, mixed), units))
    return tuple(rows)


def _row(text: str, hole_m: float, expected: Array, units: UnitChoice) -> SheetRow:
    low, middle, high = (float(x) for x in band(expected))
    expected_text = f"{show(low, 'pressure', units)} to {show(high, 'pressure', units)}"
    return SheetRow(
        text, hole_m, middle, low, high, expected_text, fact("air.orifice.thin").value * hole_m
    )


def plate_text(thickness_m: float, units: UnitChoice) -> str:
    """The thickest plate, rounded down; a sixty-fourth of an inch would be too coarse."""
    millimetres = f"{np.floor(thickness_m * 1e4) / 10:.1f} mm"
    if units == "mm":
        return millimetres
    return f"{np.floor(thickness_m / _INCH * 1000) / 1000:.3f} in, {millimetres}"


def _round_up(value: float, step: float) -> float:
    return float(np.ceil(value / step) * step)


def _steps(
    held: str, rows: tuple[SheetRow, ...], units: UnitChoice, hose: Hose | None
) -> tuple[str, ...]:
    thin = min(r.thickest_plate_m for r in rows if r.hole_m)
    holes = ", ".join(r.hole for r in rows if r.hole_m)
    thickness = plate_text(thin, units)
    place = f"on {held}" if hose is None else "on its tool end, the hose lying straight"
    straight = (
        ""
        if hose is None
        else (
            f"Push the {hose.name} straight into the vacuum, without separator or branches: the curve "
            "is the vacuum's own. "
        )
    )
    return (
        f"Cut plates of sheet metal or stiff plastic no thicker than {thickness}, one for each "
        f"hole ({holes}) and one without. A thicker board, up to {THICKEST:.0%} of the hole's "
        "width, is corrected for, less surely: write down its thickness.",
        "Drill each hole clean and square, without a chamfer; take the burr off, but keep the "
        "edge towards the room sharp. Measure each hole across two ways and write down the mean.",
        f"{straight}Hold the plates {place}. Make a 2 mm hole for the gauge's tube through its side, "
        "as close behind the plate as it will go, and seal around it.",
        "Clean or fit the filter as you use it, close the tank, and run the vacuum for a minute "
        "with the hose open. Keep the plate clear of walls, people and draughts.",
        "Hold a plate on so that it seals all round, wait until the needle rests, read it, take "
        "the plate off. The plate without a hole: three seconds at most.",
        "Go from the largest hole to the smallest and back again, so that each is read twice. "
        "Readings that differ by more than a twentieth: seal better and read again.",
        "Write holes and readings into the shop file as shown below.",
    )


def _cautions(water_m: float, units: UnitChoice) -> tuple[str, ...]:
    high = f"{water_m:.1f} m" if units == "mm" else f"{water_m / 0.3048:.0f} ft"
    return (
        f"A shop vacuum lifts water about {high}. Use a dry gauge, or a water tube that is higher "
        "than that with a catch bottle in its line: water drawn into the motor can kill you.",
        "Seal the hose for seconds only: most motors are cooled by the air they move.",
        "Never hold a hand, face or clothing over the hose or a hole: it grips and bruises.",
        "Empty the tank first, wear a mask for its dust, and ear muffs while it runs.",
        "Clamp the plates to drill them, wear eye protection, and file off sharp corners.",
    )


def _entry(hose: Hose | None, rows: tuple[SheetRow, ...], units: UnitChoice) -> str:
    unit = "kPa" if units == "mm" else "inH2O"
    where = 'at = "hose"' if hose else 'at = "inlet"'
    if hose and not hose.bore.assumed:
        # Without its name it is the first tool hose, also where the file lists none yet.
        where += f"\nhose = {quoted(hose.name)}"
    holes = "\n".join(
        f'  {{ hole = "{r.hole if r.hole_m else "0 mm"}", suction = "____ {unit}" }},' for r in rows
    )
    return f'[vacuum.suction.home_test]\n{where}\nplate = "____ mm"\nreadings = [\n{holes}\n]\n'
