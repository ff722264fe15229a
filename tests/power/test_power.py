"""Circuits and cords against the tables, and the right answer to what people plug in."""

import pytest

from kerfwind.power import circuit_findings, cord_drop, wire_ohm_m
from kerfwind.quantity import Draw
from kerfwind.shop import parse_shop
from tests.say import answer, to_do

SANDER = '[[tools]]\nname = "sander"\nhood = "pad holes"\namps = "3 A"\n'
PLANER = '[[tools]]\nname = "planer"\nhood = "planer hood"\namps = "15 A"\n'


def found(circuit, *tools, amps="11 A", more=""):
    text = f'[vacuum]\namps = "{amps}"\n[circuit]\n{circuit}\n' + "".join(tools) + more
    return {f.key: f for f in circuit_findings(parse_shop(text).shop, Draw(64))}


@pytest.mark.parametrize(
    ("wire", "loss"), [("14 AWG", 3.09), ("12 AWG", 1.95), ("16 AWG", 5.00), ("18 AWG", 7.95)]
)
def test_the_loss_along_a_cord_is_that_of_the_wire_table(wire, loss):
    # National Electrical Code, chapter 9, table 8, stranded, 75 °C (from memory): 15 m, 12 A, 120 V.
    assert 100 * cord_drop(12, 15, wire_ohm_m(wire), 120) == pytest.approx(loss, abs=0.006)


def test_stranded_wire_is_two_percent_over_the_solid():
    # Chapter 9, table 8, solid uncoated copper at 75 °C (second hand): ohm for 1000 ft.
    for wire, solid in (("14 AWG", 3.07), ("12 AWG", 1.93), ("10 AWG", 1.21)):
        assert wire_ohm_m(wire) * 304.8 == pytest.approx(1.02 * solid, rel=0.008)


def test_metric_wire_is_that_of_the_standard_and_warms():
    # IEC 60228 class 5 (second hand): 25 m of 1.5 mm², 10 A, 230 V at 20 °C: 2.89 %.
    cold = wire_ohm_m("1.5 mm²", 20.0)
    assert 100 * cord_drop(10, 25, cold, 230) == pytest.approx(2.89, abs=0.005)
    for wire, ohm in (("0.75 mm²", 26.0), ("1.0 mm²", 19.5), ("2.5 mm²", 7.98), ("4 mm²", 4.95)):
        assert wire_ohm_m(wire, 20.0) * 1000 == pytest.approx(ohm)
    assert wire_ohm_m("1.5 mm²") / cold == pytest.approx(1 + 0.00393 * 40)


def test_thirty_metres_of_lamp_cord_are_stopped():
    # Table 400.5(A)(1), from memory: 18 AWG carries 10 A.
    cord = 'volts = "120 V"\nbreaker = "20 A"\ncord = "30 m"\ncord_wire = "18 AWG"'
    owned = found(cord, SANDER, amps="11.5 A")["power.cord_owned"]
    assert owned.level == "stop"
    assert "burn" in answer(owned)
    assert "Do not run" in to_do(owned)
    weak = found(cord, SANDER, amps="8 A")["power.cord_owned"]
    assert (weak.level, weak.outcome) == ("problem", "loses")
    thick = found(cord.replace("18 AWG", "10 AWG"), SANDER, amps="8 A")["power.cord_owned"]
    assert thick.level == "good"


def test_a_cord_of_unknown_length_is_not_called_good():
    wire = 'volts = "120 V"\nbreaker = "20 A"\ncord_wire = "12 AWG"'
    owned = found(wire, SANDER)["power.cord_owned"]
    assert (owned.level, owned.measure) == ("unknown", ("circuit.cord",))


def test_a_current_nobody_read_stops_no_cord():
    text = '[circuit]\nvolts = "120 V"\ncord_wire = "18 AWG"\ncord = "10 m"\n' + SANDER
    owned = {f.key: f for f in circuit_findings(parse_shop(text).shop, Draw(64))}
    assert owned["power.cord_owned"].level == "unknown"
    assert owned["power.cord_owned"].measure == ("vacuum.amps",)


def test_two_circuits_say_which_tool_on_which():
    # By hand: 11 + 3 = 14 A on 20 A passes, 11 + 15 = 26 A does not.
    two = found('volts = "120 V"\nbreaker = "20 A"', SANDER, PLANER)["power.two_circuits"]
    said = answer(two)
    assert said.index("sander") < said.index("one;") < said.index("planer")
    assert "electrician" in to_do(two)
    assert "power.two_circuits" not in found('volts = "120 V"\nbreaker = "20 A"', SANDER)


def test_each_practice_has_its_own_words():
    us = found('volts = "120 V"\nbreaker = "20 A"', SANDER, PLANER)
    eu = found('volts = "230 V"\nbreaker = "16 A"', SANDER, PLANER, amps="6 A")
    assert "outlets" in to_do(us["power.two_circuits"])
    assert "sockets" in to_do(eu["power.two_circuits"])
    assert "power.vacuum_alone" in us
    assert "power.vacuum_alone" not in eu
    assert "type C" in to_do(eu["power.start"])
    assert "type C" not in to_do(us["power.start"])


def test_a_british_plugs_fuse_is_the_smaller_limit():
    # BS 1363: 13 A, from memory.
    assert (
        found('volts = "230 V"\nbreaker = "32 A"', SANDER, amps="14 A")[
            "power.vacuum_fused"
        ].outcome
        == "british"
    )
    assert (
        found('volts = "230 V"\nbreaker = "32 A"', SANDER, amps="9 A")["power.vacuum_fused"].level
        == "good"
    )


def test_both_motors_at_once_start_with_several_times_the_current():
    # 11 + 15 = 26 A running; two to six times that in the first moment: 52 to 156 A.
    said = answer(found('volts = "120 V"\nbreaker = "20 A"', SANDER, PLANER)["power.start"])
    assert "26 A" in said
    assert "52 to 156 A" in said


@pytest.mark.parametrize(
    ("hours", "amps", "outcome"), [(2, "11 A", None), (4, "11 A", "good"), (4, "14 A", "over")]
)
def test_hours_of_running_are_a_continuous_load(hours, amps, outcome):
    # Three hours and more: 125 %. 1.25 x 11 = 13.75 A, 1.25 x 14 = 17.5 A on 15 A.
    session = (
        '[[sessions]]\nname = "day"\n[[sessions.operations]]\ntool = "sander"\n'
        f'time = "{hours} h"\n'
    )
    rows = found('volts = "120 V"\nbreaker = "15 A"', SANDER, amps=amps, more=session)
    assert (
        rows["power.continuous"].outcome if outcome else rows.get("power.continuous")
    ) == outcome


def test_a_tool_that_no_plug_may_feed_is_told():
    # 210.23: four fifths of 15 A are 12 A.
    rows = found('volts = "120 V"\nbreaker = "15 A"', PLANER)
    assert rows["power.tool_alone"].level == "problem"
    assert "power.tool_alone" not in found('volts = "120 V"\nbreaker = "15 A"', SANDER)
