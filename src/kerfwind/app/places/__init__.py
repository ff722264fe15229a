"""The places of the page, in the order in which they stand."""

from __future__ import annotations

from collections.abc import Callable

from ..asking import Parts
from ..looking import Looking
from . import air, bench, breathing, cart, compare, cutting, hookups, paper, shop, start

PLACES: dict[str, Callable[[Looking], Parts]] = {
    "start": start.parts,
    "shop": shop.parts,
    "air": air.parts,
    "hookups": hookups.parts,
    "cart": cart.parts,
    "cutting": cutting.parts,
    "breathing": breathing.parts,
    "bench": bench.parts,
    "compare": compare.parts,
    "paper": paper.parts,
}
