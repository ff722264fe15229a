"""The home test's page and the file it leads to."""

import numpy as np
import pytest

from kerfwind import air
from kerfwind.air.hometest import points_of
from kerfwind.air.properties import RoomAir, room_air
from kerfwind.facts import Amount
from kerfwind.quantity import Draw, parse
from kerfwind.shop import Faults, parse_shop
from kerfwind.view.home_test import entry as entry_of
from kerfwind.view.home_test import home_test_page
from kerfwind.words import Voice
from tests.say import VOICE, all_refused, answer, text, to_do

from .shops import MEASURED, PLAIN, shop

TEST = """
[vacuum]
inlet = { inside = "58 mm", outside = "62 mm" }
[vacuum.suction.home_test]
at = "inlet"
plate = "1 mm"
readings = [
  { hole = "0 mm", suction = "18 kPa" },
  { hole = "12 mm", suction = "15.5 kPa" },
  { hole = "20 mm", suction = "11 kPa" },
  { hole = "28 mm", suction = "6.8 kPa" },
]
[[tools]]
name = "Sander"
hood = "pad holes"
"""


@pytest.mark.parametrize("units", ["in", "mm"])
def test_page(units):
    of = shop(f'[about]\nunits = "{units}"\n' + PLAIN)
    page = air.test_sheet(of)
    readings = [row.expected.best for row in page.rows]
    assert readings == sorted(readings, reverse=True)
    assert page.rows[0].hole_m == 0
    assert 5 <= len(page.rows) <= 8
    assert page.gauge_pa > 1.1 * page.rows[0].expected.best
    assert page.water_m > page.rows[0].expected.high / 9806.65
    voice = Voice(units=units)
    cautions = " ".join(map(voice.text, page.cautions)).lower()
    assert "dry gauge" in cautions
    assert "catch bottle" in cautions
    assert "seconds only" in cautions
    assert any("close behind the plate" in voice.text(step) for step in page.steps)
    told = home_test_page(of)
    assert told["rows"][0]["hole"] == "no hole"
    assert (" ft." in told["cautions"][0]) == (units == "in")
    assert "inH2O" in told["gauge"]["text"] or units == "mm"


@pytest.mark.parametrize("units", ["in", "mm", "both"])
@pytest.mark.parametrize("measures", ["inch", "metric"])
def test_holes_are_drills_that_are_sold_where_the_person_buys(units, measures):
    """By what hardware is bought in, whatever units the page is read in."""
    more = f'[about]\nunits = "{units}"\n[wishes]\nmeasures = "{measures}"\n'
    told = home_test_page(shop(more + PLAIN))
    holes = [row["hole"] for row in told["rows"][1:]]
    assert all(hole.endswith(" in" if measures == "inch" else " mm") for hole in holes)
    assert holes[0] == ("3/8 in" if measures == "inch" else "8 mm")
    assert all(f'hole = "{hole}"' in told["entry"] for hole in holes)
    assert ("inH2O" in told["entry"]) == (units != "mm")


def test_what_the_page_asks_to_write_is_read():
    """The page's own expected readings, written in, give about the curve they came from."""
    of = shop(MEASURED)
    page = air.test_sheet(of, Draw(1))
    entry = entry_of(page, VOICE).replace("____ mm", "0.8 mm")
    for row in page.rows:
        entry = entry.replace("____ inH2O", f"{row.expected.best:.1f} Pa", 1)
    before, _, rest = MEASURED.partition("[vacuum.suction]")
    again = shop(before + entry + rest[rest.index("[separator") :])
    first, second = air.suction_curve(of, Draw(1)), air.suction_curve(again, Draw(1))
    assert second.basis == "home test"
    for q in (0.0, 0.015, 0.03):
        # The relation's middle is set half a per cent under the standard's coefficient.
        assert second.suction_pa(q)[0] == pytest.approx(first.suction_pa(q)[0], rel=0.015)


def test_a_home_test_is_the_curve_and_names_itself():
    curve = air.suction_curve(shop(TEST), Draw(400))
    assert curve.basis == "home test"
    assert curve.sealed_pa.mean() == pytest.approx(18_000, rel=0.03)
    assert all("home_test" in q.path for q in curve.rests_on)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('plate = "1 mm"', 'plate = "10 mm"', "half as thick"),
        ('hole = "28 mm"', 'hole = "50 mm"', "Leave this hole out"),
        ('hole = "28 mm"', 'hole = "-28 mm"', "not below zero"),
        ('suction = "6.8 kPa"', 'suction = "16.9 kPa"', "falls as the hole grows"),
        ('suction = "6.8 kPa"', 'suction = "6.8 L"', "pressure"),
        ('suction = "18 kPa"', 'suction = "48 kPa"', "more than any shop vacuum"),
        ('at = "inlet"', 'at = "hose"\nhose = "red"', "no hose here"),
        ('plate = "1 mm"', 'plate = "1 mm"\ngauge = 3', "unknown key"),
    ],
)
def test_home_tests_that_cannot_be_are_refused_with_their_line(old, new, says):
    assert old in TEST
    with pytest.raises(Faults) as caught:
        parse_shop(TEST.replace(old, new, 1))
    assert says in all_refused(caught.value)
    assert all(f.line > 0 for f in caught.value.faults)


def test_one_hole_size_is_too_few():
    text = TEST.split("readings = [", 1)[0] + (
        'readings = [{ hole = "12 mm", suction = "15 kPa" }]\n'
        '[[tools]]\nname = "Sander"\nhood = "pad holes"\n'
    )
    with pytest.raises(Faults) as told:
        parse_shop(text)
    assert "two or more" in all_refused(told.value)


@pytest.mark.parametrize(
    ("points", "says"),
    [
        ([(0, 18), (40, 17.9)], "falls as airflow grows"),
        ([(0, 18), (20, 19), (40, 9)], "falls as airflow grows"),
        ([(20, 18), (20, 12)], "two points or more"),
    ],
)
def test_measured_points_that_cannot_be_are_refused(points, says):
    rows = ", ".join(f'{{ airflow = "{q} L/s", suction = "{s} kPa" }}' for q, s in points)
    text = TEST.split("[vacuum.suction.home_test]")[0] + (
        f'[vacuum.suction]\npoints = [{rows}]\n[[tools]]\nname = "Sander"\nhood = "pad holes"\n'
    )
    with pytest.raises(Faults) as caught:
        parse_shop(text)
    assert says in all_refused(caught.value)


def test_flat_home_test_is_refused():
    text = TEST.replace("15.5 kPa", "17.9 kPa").replace("11 kPa", "17.9 kPa")
    with pytest.raises(Faults) as told:
        parse_shop(text.replace("6.8 kPa", "17.9 kPa"))
    assert "Read a larger hole too" in all_refused(told.value)


def test_one_label_figure_and_the_amps_give_the_other():
    base = '[circuit]\nvolts = "120 V"\n[vacuum]\namps = "10 A"\nsuction = {{ {} }}\n[[tools]]\nname = "S"\nhood = "pad holes"\n'
    by_open = shop(base.format('open_airflow = "50 L/s"')).vacuum.suction
    by_sealed = shop(base.format('sealed = "18 kPa"')).vacuum.suction
    # 120 V × 10 A at 14 to 25 %: a quarter of sealed suction times open airflow.
    assert by_open.sealed.low_si == pytest.approx(4 * 0.14 * 1200 / 0.05, rel=0.01)
    assert by_sealed.open_airflow.high_si == pytest.approx(4 * 0.25 * 1200 / 18_000, rel=0.02)
    assert by_open.sealed.assumed
    assert by_sealed.open_airflow.assumed


def test_the_curve_says_what_it_rests_on():
    label = shop(PLAIN)
    told = air.curve_finding(label, air.suction_curve(label, Draw(200)))
    assert told.level == "advice"
    assert told.outcome == "label"
    assert "label" in answer(told)
    assert "density" in answer(told)
    assert "test-sheet" in to_do(told)
    known = shop(MEASURED)
    told = air.curve_finding(known, air.suction_curve(known, Draw(200)))
    assert (told.level, told.outcome) == ("good", "points")
    assert "measured points" in answer(told)
    assert told.value.dimension == "power"


def test_the_page_keeps_the_separator_out_of_the_test():
    """The curve is the vacuum's; a separator in the way would be counted twice."""
    steps = " ".join(map(text, air.test_sheet(shop(PLAIN)).steps))
    assert "straight into the vacuum, without separator" in steps


@pytest.mark.parametrize("units", ["in", "mm"])
def test_no_plate_on_the_page_is_thicker_than_counts_as_thin(units):
    for row in air.test_sheet(shop(f'[about]\nunits = "{units}"\n' + PLAIN)).rows[1:]:
        said = Voice(units=units).text(Amount(row.thickest_plate_m, "length", "most"))
        read = parse(said.split(",")[0], "length").best_si
        assert 0.9 * row.thickest_plate_m < read <= 0.1001 * row.hole_m


def test_what_a_blocked_port_and_the_exhaust_ask_for_comes_from_the_readings():
    """Not from what is usual: a strong vacuum's bucket would be held to a weak one's suction."""
    strong = TEST
    for usual, read in (("18 kPa", "27 kPa"), ("15.5", "23"), ("11 kPa", "17 kPa"), ("6.8", "11")):
        strong = strong.replace(usual, read)
    of = shop(strong)
    suction = of.vacuum.suction
    assert suction.sealed.best_si == pytest.approx(27_000)
    curve = air.suction_curve(of, Draw(200))
    assert suction.open_airflow.low_si < np.median(curve.open_m3_s) < suction.open_airflow.high_si
    points = shop(MEASURED).vacuum.suction
    assert points.sealed.best_si == pytest.approx(18_000)
    # From 20 to 40 L/s 7 kPa are lost, and 5 are left: about 54 L/s; a straight line from the
    # first reading to the last ends at 55.4.
    assert (points.open_airflow.low_si, points.open_airflow.high_si) == pytest.approx(
        (0.04, 0.0554), rel=0.01
    )


def test_what_the_page_asks_to_write_is_read_also_where_no_hose_is_listed():
    of = shop(PLAIN)
    entry = entry_of(air.test_sheet(of, Draw(1)), VOICE).replace("____ mm", "0.8 mm")
    for pull in (60, 55, 48, 40, 30, 20, 10, 5):
        entry = entry.replace("____ inH2O", f"{pull} inH2O", 1)
    again = shop(PLAIN.replace('suction = { sealed = "65 inH2O" }\n', entry))
    named = shop(
        PLAIN.replace(
            'suction = { sealed = "65 inH2O" }\n',
            entry.replace('"hose"\n', '"hose"\nhose = "vacuum\'s own hose"\n'),
        )
    )
    assert air.suction_curve(again, Draw(1)).basis == "home test"
    assert air.test_sheet(named, Draw(1)).held_on == air.test_sheet(of, Draw(1)).held_on


def test_in_the_inlet_alone_the_jet_hardly_fills_the_bore():
    """No more comes back there than in a hose of that bore, and no less than the air's speed takes."""
    of = shop(TEST)
    test, room = of.vacuum.suction.home_test, RoomAir(np.array([101_325.0]), np.array([293.15]))
    draw, bore = Draw(1), np.array([0.058])
    none, half, every = (
        points_of(test, room, draw, bore, mixed=m).suction_pa[-1, 0] for m in (0.0, 0.5, 1.0)
    )
    assert every < half < none < 6800
    inlet = air.suction_curve(of, Draw(200))
    hose = air.from_home_test(
        test,
        room_air(of.room.altitude, of.room.temperature, Draw(200)),
        Draw(200),
        np.full(200, 0.058),
    )
    q = 0.03
    assert np.median(inlet.suction_pa(q)) > np.median(hose.suction_pa(q))
