"""A whole session of work, its dust followed with all samples."""

from __future__ import annotations

from typing import Any

from tests.breathing.shops import DAY, hoods_of, shop_of

from bench.air_network import best_of
from kerfwind.breathing import session_air
from kerfwind.quantity import Draw


def rows(full: bool, cal_seconds: float) -> list[dict[str, Any]]:
    """Benchmark rows."""
    del full
    shop, draw = shop_of(DAY), Draw(2048)
    hoods = hoods_of(shop, draw)

    def session() -> None:
        session_air(shop, shop.sessions[0], hoods, 1e-7, draw)

    return [
        {
            "name": "breathing.session",
            "value": best_of(5, session) / cal_seconds,
            "unit": "cal",
            "reference": "2 operations, emptying and stay, 2048 samples; at most 0.1",
        }
    ]
