"""What each hood and operation needs of the air: keys of the facts that say it.

Catching dust is a matter of airflow at the hood, carrying chips one of speed in the
runs; level runs and straight climbs differ. The numbers stand in ``sources/air.py``.
"""

from __future__ import annotations

from dataclasses import dataclass

from ...sources import Fact, fact
from .hoods import HOODS, OPERATIONS


@dataclass(frozen=True)
class Need:
    """Facts behind one hood and operation: airflow, speed level, speed upwards, entry loss."""

    catch: Fact
    carry: Fact
    lift: Fact
    entry: Fact


_ENTRY = {
    "pad holes": "pad",
    "belt shroud": "shroud",
    "saw shroud": "shroud",
    "blade guard": "shroud",
    "router base": "shroud",
    "floor nozzle": "nozzle",
    "bench nozzle": "nozzle",
    "drill fence": "nozzle",
}


def need(hood: str, operation: str) -> Need:
    """The need of ``hood`` at ``operation``; KeyError when either is unknown.

    A hood sets the airflow, whatever is done under it; the operation sets the dust and
    so the speed that carries it.
    """
    if hood not in HOODS:
        raise KeyError(hood)
    dust = OPERATIONS[operation].dust
    return Need(
        fact(f"air.need.{hood}"),
        fact(f"air.carry.{dust}"),
        fact(f"air.lift.{dust}"),
        fact(f"air.entry.{_ENTRY.get(hood, 'box')}"),
    )
