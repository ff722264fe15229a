"""What would help most, and what to measure next."""

import numpy as np
import pytest

from kerfwind import air
from kerfwind.facts import Term, state
from kerfwind.quantity import Draw
from kerfwind.search.air_help import gates_that_help, what_would_help
from kerfwind.search.air_measure import which_measurement
from tests.air.shops import BRANCHES, MEASURED, PLAIN, hose, shop, tool
from tests.say import text

plain, measured = shop(PLAIN), shop(MEASURED)
DRAW = Draw(256)


def helped(of, name, hose_name="", pieces=()):
    link = next(h for h in of.hoses if h.use == "link")
    own = hose(of, hose_name) if hose_name else of.hoses[0]
    return what_would_help(air.Connection(of, tool(of, name), own, pieces, air.Link(link)), DRAW)


def test_ranked_by_what_is_gained():
    changes = helped(plain, "Sander")
    shares = [round(c.share, 2) for c in changes]
    assert shares == sorted(shares, reverse=True)
    assert all(c.cost_low <= c.cost_high for c in changes)
    keys = {c.key for c in changes}
    assert {
        "wider.tool",
        "wider.link",
        "shorter.tool",
        "smooth.tool",
        "filter",
        "leaks",
        "bypass",
        "vacuum",
        "straighter",
    } <= keys


def test_what_takes_a_resistance_away_never_costs_air():
    for change in helped(plain, "Planer"):
        if change.key in ("shorter.tool", "smooth.tool", "filter", "bypass", "vacuum", "leaks"):
            assert change.gain_m3_s.low > 0, change.key


def test_the_gain_is_that_of_solving_the_changed_shop():
    change = next(c for c in helped(plain, "Sander") if c.key == "filter")
    clean = plain.model_copy(update={"vacuum": plain.vacuum.model_copy(update={"filter": "clean"})})
    link = next(h for h in plain.hoses if h.use == "link")
    dirty, clean = (
        air.Connection(of, tool(plain, "Sander"), plain.hoses[0], link=air.Link(link))
        for of in (plain, clean)
    )
    gain = air.tool_air(clean, DRAW).airflow_m3_s - air.tool_air(dirty, DRAW).airflow_m3_s
    assert change.gain_m3_s.best == pytest.approx(float(np.median(gain)))


def test_connections_solved_together_are_those_solved_alone():
    link = air.Link(next(h for h in plain.hoses if h.use == "link"), 2.0, 3.0)
    room = air.room_air(plain.room.altitude, plain.room.temperature, DRAW)
    curve = air.suction_curve(plain, DRAW, room)
    bare = plain.model_copy(
        update={"separator": plain.separator.model_copy(update={"in_use": False})}
    )
    stronger = curve.scaled(1.2, 1.1)
    connections = [
        air.Connection(of, tool(plain, name), plain.hoses[0], (), link, pull, sealed)
        for name in ("Sander", "Planer")
        for of in (plain, bare)
        for pull, sealed in ((curve, False), (stronger, False), (None, True))
    ]
    for connection, quick in zip(connections, air.quick_air(connections, room, DRAW), strict=True):
        whole = air.tool_air(connection, DRAW)
        np.testing.assert_allclose(quick.airflow_m3_s, whole.airflow_m3_s, rtol=1e-10)
        assert quick.caught == pytest.approx(whole.caught.likelihood, abs=1e-12)
        assert quick.chips == pytest.approx(whole.chips.likelihood, abs=1e-12)


def test_each_loose_fitting_can_go():
    piece = air.Piece(measured.fittings[1], False)
    changes = helped(measured, "Router", "thin", (piece,))
    without = next(c for c in changes if c.key == "without.elbow")
    assert without.gain_m3_s.best > 0
    assert not [c for c in changes if c.key == "filter"]  # a measured curve holds its filter


def test_bypassing_says_what_it_costs():
    bypass = next(c for c in helped(plain, "Sander") if c.key == "bypass")
    assert bypass.catch is not None
    assert "loads the filter" in text(bypass.catch)
    assert bypass.fix is not None
    assert (bypass.fix.place, bypass.fix.to) == ("separator.in_use", False)


def test_closing_another_gate_helps():
    text = (MEASURED + BRANCHES).replace('gate = "closed"', 'gate = "open"')
    of = shop(text)
    helps = gates_that_help(of, Draw(32), link=air.Link(hose(of, "link")))
    changes = helps["Sander"]
    assert {c.key for c in changes} == {"gate.to the planer", "gate.sweep"}
    assert all(c.gain_m3_s.low > 0 for c in changes)
    assert "Router" not in helps


def test_a_gate_is_weighed_with_the_link_as_it_lies_on_the_cart():
    text = (MEASURED + BRANCHES).replace('gate = "closed"', 'gate = "open"')
    of, few = shop(text), Draw(32)
    lies = air.Link(hose(of, "link"), length_m=6.0, bends=9.0)
    found = {c.key: c for c in gates_that_help(of, few, link=lies)["Sander"]}
    opened = [b.name for b in of.branches if b.gate == "open"]

    def flow(gates):
        solved = air.branch_air(of, few, open_branches=gates, link=lies).tools
        return next(t for t in solved if t.tool == "Sander").airflow_m3_s

    gain = np.median(flow([g for g in opened if g != "sweep"]) - flow(opened))
    assert found["gate.sweep"].gain_m3_s.best == pytest.approx(gain, rel=1e-9)
    short = gates_that_help(of, few, link=air.Link(hose(of, "link")))["Sander"]
    assert abs(next(c for c in short if c.key == "gate.sweep").gain_m3_s.best / gain - 1) > 0.01


def measurements(of, name, verdict, hose_name="", draw=None):
    draw = draw or Draw(2048)
    link = next(h for h in of.hoses if h.use == "link")
    own = hose(of, hose_name) if hose_name else of.hoses[0]
    result = air.tool_air(air.Connection(of, tool(of, name), own, link=air.Link(link)), draw)
    return which_measurement(tool(of, name), result, draw, verdict)


def test_label_figures_alone_call_for_the_home_test():
    first = measurements(plain, "Sander", "caught")[0]
    assert (first.what, first.how) == (state("search.measure.suction"), Term("gauge", "home test"))
    assert text(first.how) == "the home test: `kerfwind test-sheet`"
    assert first.share > 0.2


def test_measurements_are_ranked_by_what_they_settle():
    wide = MEASURED.replace('bore = "36 mm"', 'bore = "28..44 mm"')
    of = shop(wide.replace('rise = "0 m"', 'needs_airflow = "31 L/s"', 1))
    rows = measurements(of, "Router", "caught", "thin")
    assert rows[0].settles > 0.05
    worth = [round(r.settles, 3) for r in rows]
    assert worth == sorted(worth, reverse=True)


def test_one_wide_input_among_known_ones_is_found():
    text = MEASURED.replace('bore = "36 mm"', 'bore = "28..44 mm"')
    of = shop(text)
    first = measurements(of, "Router", "chips", "thin")[0]
    assert first.places == ("hoses[thin].bore",)
    assert first.share > 0.3


def test_a_single_input_tells_what_a_parabola_through_it_does():
    text = MEASURED.replace('bore = "36 mm"', 'bore = "28..44 mm"')
    of, draw = shop(text), Draw(512)
    link = next(h for h in of.hoses if h.use == "link")
    result = air.tool_air(
        air.Connection(of, tool(of, "Router"), hose(of, "thin"), link=air.Link(link)), draw
    )
    rows = which_measurement(tool(of, "Router"), result, draw)
    told = next(r for r in rows if r.places == ("hoses[thin].bore",))
    bore, flow = draw.of(hose(of, "thin").bore) * 1e3, result.airflow_m3_s
    fitted = np.polyval(np.polyfit(bore, flow, 2), bore)
    assert told.share == pytest.approx(np.var(fitted) / np.var(flow), rel=1e-9)


def test_a_single_case_has_nothing_to_tell():
    assert measurements(plain, "Sander", "caught", draw=Draw(1)) == ()
