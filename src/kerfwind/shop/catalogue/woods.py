"""Woods by the words that people call them: how dense, how hard, and whom they make ill.

Which species sensitise is from memory of occupational health lists; the density of each is a
fact of the register.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

Kind = Literal["hardwood", "softwood", "mixed", "unknown"]


@dataclass(frozen=True)
class Wood:
    """One wood or board.

    Attributes
    ----------
    key
        Names its density among the facts.
    words
        All of one of these stand in what a person wrote.
    sensitises
        Known to cause asthma or rash in some who were well before.
    resin
        Its dust holds a resin as well.
    """

    key: str
    words: tuple[str, ...]
    kind: Kind
    sensitises: bool = False
    resin: bool = False


UNKNOWN = Wood("unknown", (), "unknown")

#: Boards before woods: a plywood is a plywood, whatever its face.
WOODS: tuple[Wood, ...] = (
    Wood("mdf", ("mdf", "fibreboard", "fiberboard", "hdf"), "mixed", resin=True),
    Wood("particle board", ("particle", "chipboard", "osb", "melamine"), "mixed", resin=True),
    Wood("plywood", ("plywood", "ply", "multiplex"), "mixed", resin=True),
    Wood("cedar", ("cedar",), "softwood", sensitises=True),
    Wood("mahogany", ("mahogany", "sapele", "iroko"), "hardwood", sensitises=True),
    Wood("teak", ("teak",), "hardwood", sensitises=True),
    Wood("walnut", ("walnut",), "hardwood", sensitises=True),
    Wood("beech", ("beech",), "hardwood", sensitises=True),
    Wood("oak", ("oak",), "hardwood", sensitises=True),
    Wood("ash", ("ash",), "hardwood", sensitises=True),
    Wood("birch", ("birch",), "hardwood"),
    Wood("cherry", ("cherry",), "hardwood"),
    Wood("maple", ("maple",), "hardwood"),
    Wood("poplar", ("poplar", "tulipwood", "basswood", "lime", "linden"), "hardwood"),
    Wood("fir", ("fir", "larch", "douglas"), "softwood"),
    Wood("pine", ("pine",), "softwood"),
    Wood("spruce", ("spruce",), "softwood"),
)


def wood_of(text: str) -> Wood:
    """The wood that a person's own words name; `UNKNOWN` where none is meant."""
    said = set(re.findall(r"\w+", text.lower()))
    return next((w for w in WOODS if said & set(w.words)), UNKNOWN)


def is_named(text: str, wood: Wood) -> bool:
    """Whether these words name this wood, be it only as the face of a board."""
    return bool(set(re.findall(r"\w+", text.lower())) & set(wood.words))


def red_cedar(text: str) -> bool:
    """Whether western red cedar is meant, which has a limit of its own."""
    return is_named(text, next(w for w in WOODS if w.key == "cedar"))
