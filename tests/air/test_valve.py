"""A relief valve in the separator's lid, at every tool and on fixed branches."""

import numpy as np
import pytest

from kerfwind import air
from kerfwind.quantity import Draw

from .shops import BRANCHES, MEASURED, shop, tool

VALVE = '[separator]\nvalve = "{}"\n[separator.cyclone]'


def with_valve(opens, text=MEASURED):
    return shop(text.replace("[separator.cyclone]", VALVE.format(opens), 1))


def at(of, name="Sander", draw=None, **more):
    connection = air.Connection(of, tool(of, name), of.hoses[0], link=air.Link(of.link), **more)
    return air.tool_air(connection, draw or Draw(64))


def test_a_valve_that_never_lifts_changes_nothing():
    plain, shut = at(shop(MEASURED)), at(with_valve("30 kPa"))
    assert shut.airflow_m3_s == pytest.approx(plain.airflow_m3_s, rel=1e-9)


def test_a_valve_that_lifts_takes_air_from_the_tool_and_holds_the_suction():
    plain, held = at(shop(MEASURED)), at(with_valve("5 kPa"))
    assert np.all(plain.bucket_pa > 5000)
    assert np.all(held.airflow_m3_s < plain.airflow_m3_s)
    assert np.all(held.leak_m3_s > plain.leak_m3_s)
    # Wide open by a tenth to three tenths beyond; a curve's open airflow is more than it must pass.
    assert np.all(held.bucket_pa < 5000 * 1.3)
    # What the budget loses is what the vacuum pulls with the valve's air; its own joint leaks a little.
    total = held.airflow_m3_s + held.leak_m3_s
    assert held.curve.suction_pa(total) == pytest.approx(held.suction_pa, rel=0.04)


def test_many_connections_together_have_their_own_valves():
    room_of = shop(MEASURED).room
    draw = Draw(32)
    room = air.room_air(room_of.altitude, room_of.temperature, draw)
    shops = [shop(MEASURED), with_valve("5 kPa"), with_valve("9 kPa")]
    connections = [
        air.Connection(of, tool(of, "Sander"), of.hoses[0], link=air.Link(of.link)) for of in shops
    ]
    quick = air.quick_air(connections, room, draw)
    for of, one in zip(shops, quick, strict=True):
        assert one.airflow_m3_s == pytest.approx(at(of, draw=draw).airflow_m3_s, rel=1e-7)


def test_held_shut_the_valve_bounds_the_suction():
    held, plain = at(with_valve("5 kPa")), at(shop(MEASURED))
    assert np.all(held.series.held_shut(held.curve) < 5000 * 1.3)
    assert np.all(plain.series.held_shut(plain.curve) > 12_000)


def test_a_tree_of_branches_has_the_valve_too():
    whole = shop(MEASURED + BRANCHES)
    guarded = with_valve("5 kPa", MEASURED + BRANCHES)
    link = air.Link(whole.link)
    plain = air.branch_air(whole, Draw(16), link=link)
    held = air.branch_air(guarded, Draw(16), link=link)
    assert held.settled
    assert np.all(held.tools[0].airflow_m3_s < plain.tools[0].airflow_m3_s)
    assert np.all(held.vacuum_airflow_m3_s > plain.vacuum_airflow_m3_s)
    # Alone on one branch the tool's air is that of the path with the same valve.
    never = with_valve("40 kPa", MEASURED + BRANCHES)
    shut = air.branch_air(never, Draw(16), link=link)
    assert shut.tools[0].airflow_m3_s == pytest.approx(plain.tools[0].airflow_m3_s, rel=1e-9)
