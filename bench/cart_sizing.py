"""The cart: one tower laid out and judged, and the sizing search on the example."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Any

from kerfwind.cart import CannotBuild, with_entries
from kerfwind.checks import check_cart, strength, tower
from kerfwind.cutting import CuttingError, nest
from kerfwind.options import FORMS
from kerfwind.quantity import Draw
from kerfwind.search.cart_sizing import Score, Sizing, size_cart, sizes_of, ways_of
from kerfwind.search.sheet_choice import kinds_of, laid_panels, saw_of, sheet_groups
from kerfwind.shop import Shop, read_shop

SHOP = Path(__file__).parents[1] / "tests" / "shops" / "one_car.toml"


def rows(full: bool, cal_seconds: float) -> list[dict[str, Any]]:
    """`cart.search`: the whole search; `cart.tower`: one cart; `cart.strength`: with elements."""
    shop = read_shop(SHOP).shop
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
    beaten = (
        [
            {
                "name": "cart.search.beaten",
                "value": _beaten(shop, sizing),
                "unit": "carts",
                "reference": "0, by any of a grid built, nested and checked",
            }
        ]
        if full
        else []
    )
    return [
        *beaten,
        {
            "name": "cart.search",
            "value": round(search / cal_seconds, 3),
            "unit": "cal",
            "reference": "at most 3",
        },
        {
            "name": "cart.search.choices",
            "value": len(sizing.choices),
            "unit": "carts",
            "reference": "at least 3",
        },
        {"name": "cart.tower", "value": round(one / cal_seconds, 4), "unit": "cal"},
        {"name": "cart.strength", "value": round(strong / cal_seconds, 3), "unit": "cal"},
    ]


def _beaten(shop: Shop, sizing: Sizing) -> int:
    """Choices that some cart of the whole grid beats on cost, steadiness and size (footprint and height)."""
    grid: list[Score] = []
    for wishes in ways_of(shop):
        for sheets in sheet_groups(shop):
            changed, sheet = with_entries(shop, sheets[0], dict(wishes))
            try:
                carts = sizes_of(changed.wishes.form, changed, sheet)
            except CannotBuild:
                continue
            for each in (t for t in carts if t.stands):
                layout = FORMS[changed.wishes.form](each.shop, sheet, Draw(1))
                cart = check_cart(each.shop, sheet, Draw(1), layout)
                panels = laid_panels(cart.panels, sheet.material)
                kinds = kinds_of(sheets, cart.thickness_m)
                try:
                    found = nest(panels, kinds, saw_of(shop.saw), budget=600)
                except CuttingError:
                    continue
                if all(f.level != "stop" for f in cart.findings):
                    tilt = min(float(t.min()) for s in cart.stands for t in s.tilt_rad.values())
                    floor = cart.sizes.length_m * cart.sizes.width_m
                    grid.append(Score(found.cost, tilt, floor, cart.sizes.height_m))
    return sum(any(g.beats(c.score) for g in grid) for c in sizing.choices)
