"""How much dust an operation makes, and of which sizes."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from ..fact_samples import spread_fact
from ..quantity import Draw, Quantity
from ..shop import Task, Tool
from ..shop.catalogue.woods import Wood
from .sizes import shares
from .spreads import by_ratio, even

Array = NDArray[np.float64]

#: Grit by which rates of sanding are given.
_MIDDLING_GRIT = 120.0
#: Sanders by their hood: what takes off wood as each does; all else is as by hand.
_SANDS_LIKE = {h: h for h in ("pad holes", "belt shroud", "disc table")}
_SANDS_LIKE["hood box"] = "disc table"
#: Operations whose shavings lie loose.
SHAVINGS = ("planing", "turning")


def wood_density(wood: Wood, draw: Draw) -> Array:
    """Density of a wood [kg/m³] at about 12 % moisture."""
    return even(f"density.{wood.key}", draw)


def made_kg(task: Task, tool: Tool | None, wood: Wood, draw: Draw) -> Array:
    """Dust and chips that an operation makes [kg], from its sizes, its feed and its wood.

    ``kerf × depth × feed`` for a saw, ``depth × width × feed`` for cutters, the bit's circle
    times its feed for drills, a rate by grit for sanders.
    """
    if task.removed is not None:
        return draw.of(task.removed)
    at_work = draw.of(task.time) * draw.of(task.cutting)
    if task.operation in ("sanding", "turning"):
        return at_work * _removal_kg_s(task, tool, draw)
    section = {
        "sawing": lambda: _size(task.kerf, draw) * _size(task.depth, draw),
        "drilling": lambda: math.pi / 4 * _size(task.width, draw) ** 2,
    }.get(task.operation, lambda: _size(task.depth, draw) * _size(task.width, draw))()
    return at_work * section * _size(task.feed, draw) * wood_density(wood, draw)


def _size(quantity: Quantity | None, draw: Draw) -> Array:
    return np.zeros(draw.count) if quantity is None else draw.of(quantity)


def _removal_kg_s(task: Task, tool: Tool | None, draw: Draw) -> Array:
    rate = by_ratio(_removal(task, tool), draw)
    if task.operation == "turning":
        return rate
    return np.asarray(rate * (_MIDDLING_GRIT / _grit(task)) ** even("removal.grit_power", draw))


def _removal(task: Task, tool: Tool | None) -> str:
    if task.operation == "turning":
        return "removal.lathe"
    hood = tool.hood if tool else "hand"
    return f"removal.{_SANDS_LIKE.get(hood, 'hand')}"


def _grit(task: Task) -> float:
    return float(task.grit or _MIDDLING_GRIT)


def fine_share(task: Task, draw: Draw) -> Array:
    """Part of an operation's dust that is fine enough to float, more with finer paper."""
    share = by_ratio(f"fine.{task.operation}", draw)
    if task.operation == "sanding":
        finer = (_grit(task) / _MIDDLING_GRIT) ** even("fine.grit_power", draw)
        share = np.minimum(share * finer, 1.0)
    return share


def sizes_of(task: Task, draw: Draw) -> Array:
    """Part of an operation's dust in each size class, shape (classes, samples)."""
    fine = fine_share(task, draw)
    kind = "sanding" if task.operation == "sanding" else "cutting"
    floating = _shares(f"floating.{kind}", "floating.spread", draw)
    coarse = _shares(f"coarse.{task.operation}", "coarse.spread", draw)
    return np.asarray(fine * floating + (1 - fine) * coarse)


@lru_cache(maxsize=16)
def _shares(median: str, spread: str, draw: Draw) -> Array:
    """`shares` of dust whose median and spread are known by name; not to be written to."""
    return shares(by_ratio(median, draw), even(spread, draw))


def packing(task: Task, draw: Draw) -> Array:
    """Volume of an operation's loose dust over that of the solid wood."""
    if task.operation in SHAVINGS:
        return even("packing.shavings", draw)
    return spread_fact("general.sawdust_packing", draw)
