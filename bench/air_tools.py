"""The air of a whole shop, and the home test acted out many times."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
from tests.air.homesim import DENSITY, PRESSURE_PA, Vacuum, act_out

from bench.air_network import best_of
from kerfwind.air import Connection, Link, RoomAir, from_home_test, tool_air
from kerfwind.quantity import Draw
from kerfwind.shop import read_shop

SHOP = Path(__file__).parents[1] / "tests" / "shops" / "one_car.toml"
_TESTS = 1000


def rows(full: bool, cal_seconds: float) -> list[dict[str, Any]]:
    """Benchmark rows; ``full`` adds the thousand home tests."""
    shop = read_shop(SHOP).shop
    link = Link(next(h for h in shop.hoses if h.use == "link"))
    hose = next(h for h in shop.hoses if h.use == "tool")
    draw = Draw(2048)

    def whole_shop() -> None:
        for tool in shop.tools:
            tool_air(Connection(shop, tool, hose, link=link), draw)

    result: list[dict[str, Any]] = [
        {
            "name": "air.whole_shop",
            "value": best_of(5, whole_shop) / cal_seconds,
            "unit": "cal",
            "reference": f"{len(shop.tools)} tools, 2048 samples; at most 0.3",
        }
    ]
    if full:
        result.append(
            {
                "name": "air.home_test_covered",
                "value": _covered(),
                "unit": "",
                "reference": "1,000 home tests, 90 % band, independent orifice relation; 0.87 to 0.93",
            }
        )
    return result


def _covered() -> float:
    draw = Draw(1000)
    room = RoomAir(
        np.full(draw.count, PRESSURE_PA), np.full(draw.count, PRESSURE_PA / (287.05287 * DENSITY))
    )
    bore = np.full(draw.count, Vacuum.bore_m)
    rng = np.random.default_rng(7)
    held = 0
    for _ in range(_TESTS):
        vacuum, test = act_out(rng)
        band = from_home_test(test, room, draw, bore).band()
        true = vacuum.suction_pa(band.airflow_m3_s)
        held += bool(np.all((band.low_pa <= true) & (true <= band.high_pa)))
    return held / _TESTS
