"""What each hood and operation needs of the air: keys of the facts that say it.

Catching dust is a matter of airflow at the hood, carrying chips one of speed in the
runs; level runs and straight climbs differ. The numbers stand in ``sources/air.py``.
"""

from __future__ import annotations

from dataclasses import dataclass

from ...sources import Fact, fact
from .hoods import BOX, HOODS, OPERATIONS


@dataclass(frozen=True)
class Need:
    """Facts behind one hood and operation: airflow, speed level, speed upwards, entry loss."""

    catch: Fact
    carry: Fact
    lift: Fact
    entry: Fact


#: Operations that do not throw their dust.
_GENTLE = ("sanding", "drilling", "sweeping")

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
    so the speed that carries it. Only of an open box the operation asks too, and its ``catch``
    is a speed through the face [m/s].
    """
    if hood not in HOODS:
        raise KeyError(hood)
    dust = OPERATIONS[operation].dust
    thrown = ".thrown" if hood == BOX and operation not in _GENTLE else ""
    return Need(
        fact(f"air.need.{hood}{thrown}"),
        fact(f"air.carry.{dust}"),
        fact(f"air.lift.{dust}"),
        fact(f"air.entry.{_ENTRY.get(hood, 'box')}"),
    )
