"""The cart: one tower laid out and judged, and the sizing search on the example."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Any

from kerfwind.cart import strength, tower
from kerfwind.quantity import Draw
from kerfwind.search.cart_sizing import size_cart
from kerfwind.search.sheet_choice import sheet_groups
from kerfwind.shop import read_shop

EXAMPLE = Path(__file__).parents[1] / "examples" / "garage.toml"


def rows(full: bool, cal_seconds: float) -> list[dict[str, Any]]:
    """`cart.search`: the whole search; `cart.tower`: one cart; `cart.strength`: with elements."""
    shop = read_shop(EXAMPLE).shop
    draw = Draw(2048)
    sheet = shop.sheets[0]
    tower(shop, sheet, draw)
    start = time.perf_counter()
    for _ in range(5):
        cart = tower(shop, sheet, draw)
    one = (time.perf_counter() - start) / 5
    strength(shop, cart, draw)
    start = time.perf_counter()
    strength(shop, cart, draw)
    strong = time.perf_counter() - start
    start = time.perf_counter()
    sizing = size_cart(shop, sheet_groups(shop), shop.saw, Draw(256))
    search = time.perf_counter() - start
    return [
        {"name": "cart.search", "value": round(search / cal_seconds, 3), "unit": "cal",
         "reference": "at most 3"},
        {"name": "cart.search.choices", "value": len(sizing.choices), "unit": "carts",
         "reference": "at least 3"},
        {"name": "cart.tower", "value": round(one / cal_seconds, 4), "unit": "cal"},
        {"name": "cart.strength", "value": round(strong / cal_seconds, 3), "unit": "cal"},
    ]  # fmt: skip
