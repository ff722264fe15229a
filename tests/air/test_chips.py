"""Chips: the relations against another's code, and the verdict against what a person knows."""

import numpy as np
import pytest
from fluids import saltation
from hypothesis import given
from hypothesis import strategies as st

from kerfwind import air
from kerfwind.air import chips
from kerfwind.quantity import Draw
from kerfwind.shop.catalogue.hoods import OPERATIONS
from kerfwind.sources import fact
from tests.say import answer, to_do

from .shops import MEASURED, PLAIN, shop

FPM = 0.3048 / 60

loads, sizes, bores = st.floats(1e-5, 0.1), st.floats(1e-5, 8e-3), st.floats(0.02, 0.15)


@given(loads, sizes, bores, st.floats(0.9, 1.3), st.floats(0.05, 12.0))
def test_relations_are_those_of_fluids(mass, size, bore, rho, fall):
    assert chips.rizk(mass, size, rho, bore) == pytest.approx(
        saltation.Rizk(mp=mass, dp=size, rhog=rho, D=bore), rel=1e-9
    )
    assert chips.weber(mass, size, rho, bore, fall) == pytest.approx(
        saltation.Weber_saltation(mp=mass, rhop=500, dp=size, rhog=rho, D=bore, Vterminal=fall),
        rel=1e-9,
    )
    assert chips.schade(mass, size, 500.0, rho, bore) == pytest.approx(
        saltation.Schade(mp=mass, rhop=500, dp=size, rhog=rho, D=bore), rel=1e-9
    )


@pytest.mark.parametrize(
    # Spheres by the drag law of the library fluids.
    ("size", "density", "fall"),
    [(1e-3, 500, 2.56), (3e-3, 500, 6.0), (5e-3, 700, 9.8), (10e-3, 600, 12.7)],
)
def test_spheres_fall_as_by_the_drag_law(size, density, fall):
    assert chips.fall_speed(size, density, 1.2) == pytest.approx(fall, rel=0.16)


@pytest.mark.parametrize(
    # Spheres of 500 to 600 kg/m³ in 57 mm at 5 g/s, recomputed with the library fluids.
    ("size", "by_rizk", "by_weber"),
    [(1e-4, 3.55, 2.61), (1e-3, 4.86, 5.52), (3e-3, 7.03, 6.03), (1e-2, 10.60, 6.64)],
)
def test_wood_in_a_vacuum_hose_by_two_relations(size, by_rizk, by_weber):
    fall = chips.fall_speed(size, 550.0, 1.2)
    assert chips.rizk(5e-3, size, 1.2, 0.057) == pytest.approx(by_rizk, abs=0.01)
    assert chips.weber(5e-3, size, 1.2, 0.057, fall) == pytest.approx(by_weber, abs=0.01)


def test_a_level_need_goes_over_from_a_hose_to_a_duct():
    tool = shop(PLAIN).tools[0]
    stuff = chips.Stuff.of(tool, Draw(500))
    rho = np.full(500, air.properties.STANDARD_DENSITY_KG_M3)
    settles = stuff.settles_m_s(np.full(500, 0.057), rho)
    short, long = (stuff.level_need_m_s(settles, np.full(500, x), rho) for x in (2.0, 12.0))
    assert np.all(short >= settles)
    assert np.all(short <= 2 * settles + 1e-9)
    # A long duct must have the table's speeds: 2500 to 3000 fpm for very fine light dust.
    assert long.min() >= 2500 * FPM - 1e-9
    assert long.max() <= 3000 * FPM + 1e-9


def test_thin_air_must_move_faster():
    """At 2000 m air has 0.785 of its pressure at the sea: 13 % more speed for the same push."""
    stuff = chips.Stuff.of(shop(PLAIN).tools[0], Draw(1))
    rho = air.properties.STANDARD_DENSITY_KG_M3
    high = stuff.long_duct_m_s(np.array([rho * 0.7846]))
    assert high / stuff.long_duct_m_s(np.array([rho])) == pytest.approx(1.129, rel=1e-3)


BENCH = """
[vacuum]
inlet = {{ inside = "58 mm", outside = "62 mm" }}
filter = "clean"
[vacuum.suction]
points = [
  {{ airflow = "0 L/s", suction = "18 kPa" }},
  {{ airflow = "25 L/s", suction = "12.5 kPa" }},
  {{ airflow = "55 L/s", suction = "5 kPa" }},
]
[separator.cyclone]
inlet = {{ inside = "50 mm", outside = "54 mm" }}
outlet = {{ inside = "50 mm", outside = "54 mm" }}
height = "280 mm"
[room]
altitude = "100 m"
temperature = "20 °C"
[[hoses]]
name = "hose"
bore = "{bore} mm"
length = "2.5 m"
tool_end = {{ inside = "{bore} mm", outside = "{outside} mm" }}
unit_end = {{ inside = "50 mm", outside = "54 mm" }}
[[hoses]]
name = "link"
use = "link"
bore = "57 mm"
length = "1 m"
tool_end = {{ inside = "50 mm", outside = "54 mm" }}
unit_end = {{ inside = "54 mm", outside = "58 mm" }}
[[tools]]
name = "Tool"
hood = "{hood}"
rise = "0..0.3 m"
port = {{ inside = "{port} mm", outside = "{wide} mm" }}
"""


def verdict(hood, bore, port=None, more=""):
    port = port or bore
    of = shop(BENCH.format(hood=hood, bore=bore, outside=bore + 4, port=port, wide=port + 4) + more)
    connection = air.Connection(of, of.tools[0], of.hoses[0], link=air.Link(of.link))
    return air.tool_air(connection, Draw(1024)).chips


@pytest.mark.parametrize(
    ("hood", "bore", "words"),
    [
        # Common practice, no source: what a person who has worked so would say.
        ("pad holes", 57, {"strong"}),
        ("pad holes", 27, {"strong"}),
        ("saw shroud", 35, {"strong"}),
        ("mitre boot", 57, {"strong", "enough"}),
        ("saw cabinet", 57, {"strong", "enough"}),
        ("router fence", 57, {"strong", "enough"}),
        ("router base", 27, {"weak"}),
        ("planer hood", 57, {"weak"}),
        ("jointer chute", 57, {"weak"}),
        ("planer hood", 35, {"starved"}),
        ("lathe hood", 35, {"starved"}),
        ("floor nozzle", 57, {"weak"}),
        ("floor nozzle", 35, {"starved"}),
    ],
)
def test_the_verdict_is_that_of_a_person_who_has_worked_so(hood, bore, words):
    more = 'operation = "turning"\n' if hood == "lathe hood" else ""
    assert verdict(hood, bore, more=more).word in words


def test_a_planers_port_brought_down_to_a_thin_hose_is_never_strong():
    through = """
[[fittings]]
name = "first"
end_a = { inside = "102 mm", outside = "106 mm" }
end_b = { inside = "50 mm", outside = "54 mm" }
length = "110 mm"
[[fittings]]
name = "second"
end_a = { inside = "54.5 mm", outside = "58 mm" }
end_b = { inside = "35 mm", outside = "38 mm" }
length = "80 mm"
"""
    of = shop(BENCH.format(hood="planer hood", bore=38, outside=42, port=98, wide=102) + through)
    pieces = tuple(air.Piece(f) for f in of.fittings)
    connection = air.Connection(of, of.tools[0], of.hoses[0], pieces, air.Link(of.link))
    found = air.tool_air(connection, Draw(512)).chips
    # Fast enough it is; but shavings of 10 to 30 mm jam where the way is 35 mm wide.
    assert found.word == "starved"
    assert found.finding.outcome == "may_clog"
    assert "second, 1-3/8 in" in answer(found.finding)
    assert "shorter chips" in to_do(found.finding)
    assert "air.passage" in found.finding.sources


def test_what_is_fed_counts():
    """A planer's heap settles where a saw's dust flies."""
    needs = {}
    for hood in ("pad holes", "saw shroud", "router base", "planer hood"):
        tool = (
            shop(MEASURED)
            .tools[0]
            .model_copy(
                update={
                    "hood": hood,
                    "operation": {
                        "pad holes": "sanding",
                        "saw shroud": "sawing",
                        "router base": "routing",
                    }.get(hood, "planing"),
                }
            )
        )
        stuff = chips.Stuff.of(tool, Draw(200))
        needs[hood] = float(np.median(stuff.settles_m_s(np.full(200, 0.057), np.full(200, 1.2))))
    assert list(needs.values()) == sorted(needs.values())
    assert needs["planer hood"] > 3 * needs["pad holes"]


def test_longest_chips_are_three_to_a_passage():
    tool = shop(PLAIN).tools[0]
    stuff = chips.Stuff.of(tool, Draw(100))
    assert stuff.passage_m == pytest.approx(3 * stuff.longest_m)
    assert fact("air.passage").source == "practice"


@pytest.mark.parametrize("operation", list(OPERATIONS))
def test_each_operation_has_grains_that_fall_slower_than_solid_wood(operation):
    dust = OPERATIONS[operation].dust
    low, high = fact(f"air.grain_density.{dust}").span
    # Solid wood is 350 to 750 kg/m³ (Wood Handbook, from memory); flat pieces fall slower.
    assert 90 < low < high <= 600
