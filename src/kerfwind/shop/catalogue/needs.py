"""What each hood and operation needs of the air: keys of the facts that say it.

Catching dust is a matter of airflow at the hood; carrying chips one of what is sucked in: how
much, how large, and how long its longest pieces are. The numbers stand in ``sources/air.py``.
"""

from __future__ import annotations

from dataclasses import dataclass

from ...sources import Fact, fact
from .hoods import BOX, HOODS, OPERATIONS


@dataclass(frozen=True)
class Need:
    """Facts behind one hood and operation.

    ``catch`` is airflow, ``carry`` the speed in a long duct, ``entry`` the loss at the hood;
    ``mass`` what is sucked in a second, ``grain`` and ``density`` the sphere that falls like
    it, ``longest`` its longest chips.
    """

    catch: Fact
    carry: Fact
    entry: Fact
    mass: Fact
    grain: Fact
    density: Fact
    longest: Fact


#: Hoods that stand at any work: what they are fed is that of the operation.
_ANY_WORK = (BOX, "bench nozzle", "lathe hood")

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
    what is to be carried. Only of an open box the operation asks too, and its ``catch``
    is a speed through the face [m/s].
    """
    if hood not in HOODS:
        raise KeyError(hood)
    dust = OPERATIONS[operation].dust
    usual = hood not in _ANY_WORK and operation in HOODS[hood].operations
    made_by = hood if usual else operation
    thrown = ".thrown" if hood == BOX and operation not in _GENTLE else ""
    return Need(
        fact(f"air.need.{hood}{thrown}"),
        fact(f"air.carry.{dust}"),
        fact(f"air.entry.{_ENTRY.get(hood, 'box')}"),
        fact(f"air.mass.{made_by}"),
        fact(f"air.grain.{dust}"),
        fact(f"air.grain_density.{dust}"),
        fact(f"air.longest.{made_by}"),
    )
