"""Air at the open face of a box."""

from __future__ import annotations

import numpy as np
import pytest

from kerfwind.air import Connection, catch_need, face_air, tool_air
from kerfwind.air.face import reach
from kerfwind.quantity import Draw
from kerfwind.shop import parse_shop
from kerfwind.sources import fact

FPM = 0.3048 / 60
TEXT = """
[[hoses]]
name = "hose"
bore = "57 mm"
length = "2 m"
[[tools]]
name = "lathe"
hood = "hood box"
operation = "{operation}"
made = "hood box"
opening = {{ length = "300 mm", width = "200 mm" }}
port = {{ nominal = "none" }}
"""


def shop(operation: str = "sanding"):  # type: ignore[no-untyped-def]
    return parse_shop(TEXT.format(operation=operation)).shop


def test_capture_speeds_are_those_of_the_table() -> None:
    # ACGIH, Industrial Ventilation, capture velocities, as reprinted in an environment
    # authority's guidance document, annex 2: 100 to 200 fpm for dust released at low speed, 500 to
    # 2000 where it is thrown at high speed.
    for key, low, high in (("hood box", 100, 200), ("hood box.thrown", 500, 2000)):
        assert fact(f"air.need.{key}").span == pytest.approx((low * FPM, high * FPM))


def test_the_need_is_the_faces_own() -> None:
    tool = shop().tools[0]
    need = catch_need(tool, Draw(500))
    low, high = fact("air.need.hood box").span
    assert need.min() >= low * 0.06 - 1e-9
    assert need.max() <= high * 0.06 + 1e-9
    assert catch_need(shop("turning").tools[0], Draw(500)).min() >= need.max() - 1e-3


@pytest.mark.parametrize("speed", [0.3, 0.5, 1.0])
def test_the_reach_gives_the_speed_back(speed: float) -> None:
    """Dalla Valle: Q = V (10 x² + A)."""
    flow, area = np.array([0.03, 0.06, 0.2]), 0.05
    out = reach(flow, area, speed)
    back = flow / (10 * out**2 + area)
    near = flow / area >= speed
    assert back[near] == pytest.approx(speed)
    assert (out[~near] == 0).all()


def test_speed_through_the_face_is_airflow_over_area() -> None:
    given = shop()
    tool = given.tools[0]
    air = tool_air(Connection(given, tool, given.hoses[0]), Draw(1))
    face = face_air(tool, air)
    assert face is not None
    assert face.speed_m_s == pytest.approx(air.airflow_m3_s / 0.06)
    assert face.largest_m2 * face.wanted_m_s[0] == pytest.approx(float(air.airflow_m3_s[0]))
