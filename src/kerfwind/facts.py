"""What the computing rooms state: a kind and its facts, never words.

A computing room answers with a `Statement`: the kind of what there is to say, and the facts
that belong to it. Facts are numbers with their dimension, names that a person wrote, terms of
the trade, places in the shop file, and statements again. The room `words` alone makes
sentences of them, in a language and in the units that the reader chose.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal, TypeAlias

import numpy as np
from numpy.typing import ArrayLike

from .quantity import Quantity, band

#: How a number is set: ``plain`` as precise as it is known, ``cut`` to set a fence by,
#: ``trade`` the round size by which a thing is sold, ``fine`` one step finer, ``short`` without
#: the zeros behind the point, ``inch`` and ``metric`` the size that a thing of that measure is
#: called by whatever the reader's units, ``most`` a thin thing's greatest thickness, rounded
#: down, ``tall`` in feet or metres, ``caliper`` as a caliper reads it, ``dust`` a mass from
#: milligrams up, ``hours`` a time in minutes or hours, ``finest`` a share down to a hundredth
#: of a percent.
Style = Literal[
    "plain",
    "cut",
    "trade",
    "fine",
    "short",
    "inch",
    "metric",
    "most",
    "tall",
    "caliper",
    "dust",
    "hours",
    "finest",
]
#: How the items of a list hang together.
Joined = Literal["and", "or", "then", "commas", "semicolons", "plus", "sentences", "arrows"]


@dataclass(frozen=True)
class Amount:
    """A number in SI with its dimension."""

    si: float
    dimension: str
    style: Style = "plain"


@dataclass(frozen=True)
class Band:
    """A computed value in SI: best, and the band that holds nine samples in ten."""

    best: float
    low: float
    high: float
    dimension: str

    @classmethod
    def of(cls, samples: ArrayLike, dimension: str, best: float | None = None) -> Band:
        """From samples on the last axis; ``best`` defaults to their median."""
        array = np.atleast_1d(np.asarray(samples, dtype=float))
        low, middle, high = band(array)
        return cls(float(middle if best is None else best), float(low), float(high), dimension)


@dataclass(frozen=True)
class Name:
    """What a person wrote: it stays as it is in every language."""

    text: str


@dataclass(frozen=True)
class Term:
    """A word of the trade or a part of the unit: ``Term("hood", "planer hood")``."""

    kind: str
    key: str


@dataclass(frozen=True)
class Ref:
    """A thing that a person listed and named: ``Ref("tool", "planer")``."""

    kind: Literal[
        "tool", "hose", "fitting", "sheet", "branch", "vacuum", "bucket", "panel", "session"
    ]
    name: str


@dataclass(frozen=True)
class Place:
    """A field of the shop file: ``Place("tools[planer].port.outside")``."""

    path: str


@dataclass(frozen=True)
class Listing:
    """Several facts, one after another."""

    items: tuple[Fact, ...]
    joined: Joined = "and"


@dataclass(frozen=True)
class Statement:
    """A kind, such as ``air.run.climbing``, and its facts by name.

    ``part`` is the attribute of its message that is meant, where it is not the message itself.
    """

    kind: str
    facts: Facts = ()
    part: str = ""


#: A ``str`` is a choice between variants of a message, and never shown.
Fact: TypeAlias = (
    Amount | Band | Quantity | Name | Term | Ref | Place | Listing | Statement | int | str
)
Facts: TypeAlias = tuple[tuple[str, Fact], ...]


@dataclass(frozen=True)
class Fix:
    """A change of the shop file that mends something, and what the engine saw when it tried it.

    Attributes
    ----------
    place, to
        The field, and what to set it to.
    passes
        Whether the check passed with it.
    value
        What the value became.
    costs
        What it adds to the price of the sheets and parts, in the shop's money; of all that is
        changed together. None where something of it has no known price.
    also
        Further changes that it needs beside it: alone it mends nothing.
    """

    place: str
    to: Fact
    passes: bool
    value: Band | None = None
    costs: float | None = None
    also: tuple[Fix, ...] = ()

    @property
    def every(self) -> tuple[Fix, ...]:
        """This change and all that it needs beside it."""
        return (self, *self.also)

    @classmethod
    def together(cls, fixes: tuple[Fix, ...]) -> Fix:
        """Changes that mend only all at once, as one."""
        return replace(fixes[0], also=fixes[1:])


def facts(**named: Fact) -> Facts:
    """Facts by name, as statements and findings keep them."""
    return tuple(named.items())


def state(kind: str, **named: Fact) -> Statement:
    """A statement: ``state("air.run.climbing", run=Ref("hose", "grey hose"))``."""
    return Statement(kind, tuple(named.items()))


@lru_cache(maxsize=8192)
def slug(key: str) -> str:
    """A kind or key as part of a message's name: letters, digits, ``-`` and ``_`` alone.

    >>> slug("air.dust_caught"), slug("rim, turned")
    ('air-dust_caught', 'rim-turned')
    """
    return re.sub(r"[^A-Za-z0-9_]+", "-", key).strip("-")
