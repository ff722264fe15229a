"""Every value that was corrected: what stood there, what stands there now, and who published it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from kerfwind.air import losses
from kerfwind.air.verdict import model_error
from kerfwind.checks.collapse import wall_stands_pa
from kerfwind.joinery.plywood import allowed_bending_pa
from kerfwind.joinery.screws import bending_yield_pa
from kerfwind.lifting import recommended_lift_kg
from kerfwind.plan import make_plan
from kerfwind.power import cord_drop, wire_ohm_m
from kerfwind.quantity import Draw
from kerfwind.relations import velocity_pressure
from kerfwind.shop import parse_shop, read_shop
from kerfwind.sources import fact, source

IN, PSI = 0.0254, 6894.757
EXAMPLES = Path(__file__).parents[1] / "examples"


@dataclass(frozen=True)
class Row:
    """A value in its unit: before, as published, as the program has it, and how near they must be."""

    what: str
    old: float
    new: float
    published: str
    found: Callable[[], float]
    within: float = 0.005


def _of(key: str) -> Callable[[], float]:
    return lambda: fact(key).value


def _warm(celsius: float) -> float:
    pails = [
        parse_shop(
            f'[vacuum]\namps = "9 A"\n[room]\ntemperature = "{c} °C"\n[[tools]]\nname = "sander"\nhood = "pad holes"\n'
        ).shop
        for c in (celsius, 23)
    ]
    hot, cool = (float(wall_stands_pa(s, Draw(1))[0]) for s in pails)
    return hot / cool


APA = "APA Panel Design Specification D510C (2012), table 9, Group 1, sanded A-C, 23/32 in"
NDS = "National Design Specification for Wood Construction (2018)"
NIOSH = "NIOSH lifting equation, as reprinted by CCOHS and in Occupational Ergonomics, chapter 46"
NEC = "National Electrical Code, chapter 9, table 8, 75 °C"
PIPE = "Plastics Pipe Institute, Handbook of Polyethylene Pipe, 2nd edition"
FOOT, T = 12.0, 23 / 32

TABLE = [
    Row(
        "bending along, MPa",
        9.0,
        775 / FOOT / T**2 * 6 * PSI / 1e6,
        APA,
        lambda: fact("cart.plywood.bending_along").value / 1e6,
    ),
    Row(
        "bending across, MPa",
        2.7,
        455 / FOOT / T**2 * 6 * PSI / 1e6,
        APA,
        lambda: fact("cart.plywood.bending_across").value / 1e6,
    ),
    Row(
        "bending along under a load that stays, MPa",
        9.0,
        0.9 * 5.17,
        f"{APA}; {NDS}, table 2.3.2",
        lambda: float(allowed_bending_pa(0.7, "lasting")) / 1e6,
    ),
    Row(
        "the same in a strip under 8 in, MPa",
        9.0,
        0.9 * 5.17 / 2,
        APA,
        lambda: float(allowed_bending_pa(0.1, "lasting")) / 1e6,
    ),
    Row(
        "modulus along, GPa",
        7.5,
        320_000 / FOOT / T**3 * 12 * PSI / 1e9,
        APA,
        lambda: fact("cart.plywood.modulus").value / 1e9,
    ),
    Row(
        "modulus across over along", 0.45, 90_500 / 320_000, APA, _of("cart.plywood.modulus_ratio")
    ),
    Row(
        "lift at 38, 90 and 80 cm, grip fair, kg",
        23.0,
        12.0,
        NIOSH,
        lambda: float(recommended_lift_kg(0.38, 0.90, 0.80, grip=0.95)),
    ),
    Row(
        "lift at 40, 30 and 60 cm, grip fair, kg",
        23.0,
        10.6,
        NIOSH,
        lambda: float(recommended_lift_kg(0.40, 0.30, 0.60, grip=0.95)),
    ),
    Row(
        "25 m of 1.5 mm², 10 A, 230 V, 20 °C, %",
        2.50,
        2.89,
        "IEC 60228, class 5, 13.3 Ω/km",
        lambda: 100 * cord_drop(10, 25, wire_ohm_m("1.5 mm²", 20.0), 230),
    ),
    Row(
        "15 m of 14 AWG, 12 A, 120 V, %",
        # By the resistivity of cold copper.
        100 * 1.7241e-8 / 2.081e-6 * 2 * 15 * 12 / 120,
        3.09,
        NEC,
        lambda: 100 * cord_drop(12, 15, wire_ohm_m("14 AWG"), 120),
    ),
    Row(
        "bending yield of a No. 6 screw, psi",
        90_000,
        100_000,
        f"{NDS}, table I1",
        lambda: bending_yield_pa(0.138 * IN) / PSI,
    ),
    Row(
        "bending yield of a No. 10 screw, psi",
        90_000,
        80_000,
        f"{NDS}, table I1",
        lambda: bending_yield_pa(0.190 * IN) / PSI,
    ),
    Row(
        "heads lost in a cyclone of inlet d/2 by d/4, outlet d/2",
        2.825 + 2.33,
        6.16,
        "Wang, Pereira and Hung (2004), equation 32: 11.3 (A/De²)² + 3.33",
        lambda: float(losses.cyclone_casal(0.125, 0.5)),
    ),
    Row(
        "modulus of high-density polyethylene, MPa",
        800,
        130_000 * PSI / 1e6,
        PIPE,
        lambda: fact("cart.bucket.modulus").value / 1e6,
    ),
    Row("wall at 40 °C over 23 °C", 1.0, 0.78, PIPE, lambda: _warm(40)),
    Row("wall at 50 °C over 23 °C", 1.0, 0.63, PIPE, lambda: _warm(50)),
    Row(
        "air at a hood box into which dust is thrown, least, fpm",
        200,
        500,
        "ACGIH, Industrial Ventilation, 24th edition, capture velocities",
        lambda: fact("air.need.hood box.thrown").span[0] / 0.00508,
    ),
    Row(
        "the same, most, fpm",
        500,
        2000,
        "ACGIH, Industrial Ventilation, 24th edition, capture velocities",
        lambda: fact("air.need.hood box.thrown").span[1] / 0.00508,
    ),
    Row(
        "what the model of the air may be off, one standard deviation, %",
        0,
        3,
        "common practice: the plan against an independent network solver",
        lambda: 100 * float(np.std(model_error(Draw(4096)))),
        0.03,
    ),
]


@pytest.mark.parametrize("row", TABLE, ids=lambda row: row.what)
def test_what_stands_there_now_is_what_was_published(row: Row) -> None:
    assert row.published
    assert row.found() == pytest.approx(row.new, rel=row.within)
    assert row.found() != pytest.approx(row.old, rel=row.within)


def test_velocity_pressure_by_a_published_sizing_example() -> None:
    """SMACNA, HVAC Systems Duct Design, sizing example: 2150 fpm in standard air is 0.29 inH2O."""
    bore_m = 0.1
    airflow_m3_s = 2150 * 0.00508 * np.pi / 4 * bore_m**2
    found_inh2o = velocity_pressure(airflow_m3_s, bore_m) / 249.089
    assert found_inh2o == pytest.approx(0.29, abs=0.005)


def test_how_many_of_the_numbers_that_decide_rest_on_memory_or_practice() -> None:
    """Of those cited where something is held against a limit, in the examples: it may only fall."""
    deciding = {
        key
        for path in EXAMPLES.glob("*.toml")
        for finding in make_plan(read_shop(path)).findings
        if finding.limit is not None
        for key in finding.sources
    }
    standings = [_standing(key) for key in deciding]
    weak = sum(standing in ("memory", "practice") for standing in standings)
    assert weak / len(standings) < 0.65


def _standing(key: str) -> str:
    try:
        found = fact(key)
    except KeyError:
        return source(key).standing
    return found.standing or source(found.source).standing
