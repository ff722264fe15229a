"""Branched systems from a shop file: gates, two tools at once, a floor sweep."""

import numpy as np
import pytest

from kerfwind import air
from kerfwind.quantity import Draw
from kerfwind.shop import Faults, parse_shop
from tests.say import VOICE, all_refused, answer, refused, to_do

from .shops import BRANCHES, MEASURED, PLAIN, hose, shop

whole = shop(MEASURED + BRANCHES)
link = air.Link(hose(whole, "link"))


def solved(draw=None, **more):
    return air.branch_air(whole, draw or Draw(1), link=link, **more)


def flow(result, name):
    return next(r.airflow_m3_s for r in result.runs if r.name == name)


def test_one_gate_open_as_the_file_has_it():
    result = solved()
    assert [t.tool for t in result.tools] == ["Sander"]
    assert result.settled
    assert result.mass_balance < 1e-9
    assert flow(result, "to the planer") < 0.1 * flow(result, "to the sander")


def test_two_tools_at_once_share_the_air():
    both = solved(open_branches=["to the sander", "to the planer"])
    one = solved()
    assert {t.tool for t in both.tools} == {"Sander", "Planer"}
    assert flow(both, "to the sander") < flow(one, "to the sander")
    assert both.vacuum_airflow_m3_s > one.vacuum_airflow_m3_s
    assert both.vacuum_suction_pa < one.vacuum_suction_pa


def test_a_floor_sweep_takes_air_and_has_no_verdict():
    result = solved(open_branches=["to the sander", "sweep"])
    assert flow(result, "sweep") > flow(solved(), "sweep")
    assert [t.tool for t in result.tools] == ["Sander"]


def test_samples_are_each_solved_and_the_vacuum_gets_all_the_air():
    result = solved(Draw(128), open_branches=["to the sander", "to the planer", "sweep"])
    into_unit = flow(result, "main") + flow(result, "sweep")
    assert np.all(result.vacuum_airflow_m3_s >= into_unit)  # the rest leaks in
    assert np.all(result.vacuum_airflow_m3_s < 1.1 * into_unit)
    assert {VOICE.about(f) for f in result.findings} == {
        "Sander on branch to the sander",
        "Planer on branch to the planer",
    }


def test_nobody_is_told_to_lift_a_fixed_run():
    long = shop((MEASURED + BRANCHES).replace('length = "3 m"', 'length = "12 m"'))
    found = air.branch_air(long, Draw(64), link=link).findings
    chips = [f for f in found if f.key == "air.chips_carried" and to_do(f)]
    assert chips
    assert all("Close the gates" in to_do(f) and "in the branch" in answer(f) for f in chips)
    assert all("Lift this hose" not in to_do(f) for f in chips)


def test_a_hose_that_begins_like_a_fixed_run_is_still_a_hose():
    """What can be lifted follows from what it is, not from what somebody called it."""
    odd = shop(MEASURED.replace('"thin"', '"branch hose"'))
    connection = air.Connection(odd, odd.tools[1], hose(odd, "branch hose"), link=link)
    runs = air.tool_air(connection, Draw(64)).runs
    slow = air.slowest_run(odd.tools[1], runs, Draw(64))
    assert (slow.kind, slow.name) == ("hose", "branch hose")


def test_no_gate_open_is_an_error_not_a_number():
    with pytest.raises(air.NetworkError) as shut:
        solved(open_branches=[])
    assert shut.value.refusal.kind == "air.branches.all_shut"
    with pytest.raises(air.NetworkError) as unknown:
        solved(open_branches=["nowhere"])
    said = refused(unknown.value.refusal)
    assert said.found == "gate nowhere, which is on no branch"
    assert "to the planer" in said.allowed
    with pytest.raises(air.NetworkError) as none:
        air.branch_air(shop(PLAIN), Draw(1))
    assert "[[branches]]" in refused(none.value.refusal).mend


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('name = "main"\n', 'name = "main"\nto = "to the sander"\n', "comes back to"),
        ('tool = "Planer"', 'tool = "Sander"', "which is on"),
        ('tool = "Planer"', 'tool = "Plainer"', "Did you mean `Planer`?"),
        ('to = "main"', 'to = "mian"', "Did you mean `main`?"),
        ('bore = "63 mm"\nlength = "3 m"', 'bore = "-63 mm"\nlength = "3 m"', "not below zero"),
        ("bends = 2", 'bends = 2\ntool = "Router"', "open end on a run that others join"),
        ('gate = "open"\n', 'gate = "closed"\n', "one open way or more"),
        ('angle = "0 °"', 'angle = "120 °"', "angle from 0 ° to 90 °"),
    ],
)
def test_branches_that_cannot_be_are_refused_with_their_line(old, new, says):
    text = MEASURED + BRANCHES
    assert old in text
    with pytest.raises(Faults) as caught:
        parse_shop(text.replace(old, new, 1))
    assert says in all_refused(caught.value)
    assert all(f.line > 0 for f in caught.value.faults)
