"""Shops with sessions, put together for the tests."""

from __future__ import annotations

import numpy as np

from kerfwind.breathing import HoodAir
from kerfwind.quantity import Draw
from kerfwind.shop import Shop, parse_shop

TOOLS = """
[[tools]]
name = "sander"
hood = "pad holes"
[[tools]]
name = "saw"
hood = "saw cabinet"
[[tools]]
name = "planer"
hood = "planer hood"
[[tools]]
name = "router"
hood = "router fence"
[[tools]]
name = "drill"
hood = "drill fence"
[[tools]]
name = "lathe"
hood = "lathe hood"
operation = "turning"
[[tools]]
name = "floor"
hood = "floor nozzle"
"""

DAY = """
[[sessions.operations]]
tool = "saw"
time = "20 min"
material = "walnut plywood"
[[sessions.operations]]
tool = "sander"
time = "45 min"
material = "walnut"
grit = 120
"""


def shop_of(operations: str = DAY, session: str = "", **tables: str) -> Shop:
    """A shop with one session called ``day``.

    ``tables`` are the lines of a table by its name, a dot in it written ``__``.
    """
    text = "".join(f"[{k.replace('__', '.')}]\n{v}\n" for k, v in tables.items())
    text += TOOLS + f'[[sessions]]\nname = "day"\n{session}\n{operations}'
    return parse_shop(text).shop


def hoods_of(shop: Shop, draw: Draw, part: float = 1.0) -> dict[str, HoodAir]:
    """Air at each tool: ``part`` of what its hood needs, with a little spread."""
    needed = draw.between(0.02, 0.03, "test.needed")
    spread = draw.between(0.9, 1.1, "test.airflow")
    cut = np.full(draw.count, 5e-6)
    return {t.name: HoodAir(part * spread * 0.025, needed, cut) for t in shop.tools}
