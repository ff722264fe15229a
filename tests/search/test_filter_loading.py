"""The cake on the filter goes back into the air."""

import numpy as np
import pytest

from kerfwind.air import Connection, tool_air
from kerfwind.quantity import Draw
from kerfwind.search.filter_loading import filter_loading
from kerfwind.shop import parse_shop
from tests.say import answer

DRAW = Draw(64)
TEXT = """
[vacuum]
filter_area = "{area}"
[[tools]]
name = "planer"
hood = "planer hood"
"""


def loading(area="0.3 m²", mass=0.02, caught=1.0):
    shop = parse_shop(TEXT.format(area=area)).shop
    connection = Connection(shop, shop.tools[0], shop.hoses[0])
    masses = np.full(256, mass), np.full(256, caught)
    return connection, filter_loading("day", connection, *masses, DRAW)


def test_air_falls_as_the_filter_loads_and_never_rises():
    connection, found = loading()
    assert found.part[0] == pytest.approx(1.0)
    assert np.all(np.diff(found.part, axis=0) <= 1e-12)
    assert tool_air(connection, DRAW).airflow_m3_s.mean() > 0


def test_a_smaller_filter_and_more_dust_load_it_sooner():
    plain = loading()[1].until.mean()
    assert loading(area="0.1 m²")[1].until.mean() < plain
    assert loading(mass=0.1)[1].until.mean() < plain


def test_a_full_bucket_starves_it_at_once():
    _, found = loading(mass=0.001, caught=2.0)
    assert found.full_bucket.mean() < found.part[1].mean()
    assert found.findings[0].level == "advice"


def test_no_number_of_sessions_is_told_beyond_those_looked_at():
    _, found = loading(area="0.5 m²", mass=0.02)
    assert found.until.max() == found.sessions[-1]
    assert found.until.min() < found.sessions[-1]
    assert found.findings[0].outcome == "open"
    said = answer(found.findings[0])
    assert "at the least" in said
    assert str(found.sessions[-1]) not in said


def test_a_filter_that_hardly_loads_is_told_so():
    _, found = loading(area="15 m²", mass=1e-6, caught=1e-3)
    assert found.findings[0].outcome == "never"
