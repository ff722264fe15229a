"""The usual cautions, each kept with the work it belongs to.

Common practice of the trade; none of it replaces the maker's instructions, local codes
or a licensed electrician.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from .facts import Statement, state

Work = Literal["cutting", "building", "moving", "using", "emptying", "power"]


@dataclass(frozen=True)
class Caution:
    """One caution and the work where it is needed; its message has a ``title``."""

    work: Work
    said: Statement


CAUTIONS: tuple[Caution, ...] = (
    Caution("cutting", state("cautions.kickback")),
    Caution("cutting", state("cautions.small_pieces")),
    Caution("cutting", state("cautions.eyes_ears_lungs")),
    Caution("building", state("cautions.screws_into_edges")),
    Caution("building", state("cautions.lifting")),
    Caution("moving", state("cautions.tipping")),
    Caution("using", state("cautions.dust_in_the_lungs")),
    Caution("using", state("cautions.sparks")),
    Caution("using", state("cautions.static")),
    Caution("using", state("cautions.blocked_hose")),
    Caution("emptying", state("cautions.dustiest_minute")),
    Caution("emptying", state("cautions.oily_rags")),
    Caution("emptying", state("cautions.stored_dust")),
    Caution("power", state("cautions.circuits")),
    Caution("power", state("cautions.reaching_in")),
)


def cautions_for(work: Work) -> list[Caution]:
    """The cautions of a kind of work, in order."""
    return [c for c in CAUTIONS if c.work == work]
