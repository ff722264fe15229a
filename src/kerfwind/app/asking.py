"""What the server asks of the engine's process, and what comes back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from .ticks import Work

#: A place on the page, and its parts in order: each with its name and its HTML.
Parts = list[tuple[str, str]]


@dataclass(frozen=True)
class Ask:
    """What the server wants to be shown.

    Attributes
    ----------
    number
        Counts the server's questions; the answers bear it.
    revision
        Of the text.
    places
        Names of the places that somebody looks at.
    text
        The shop file's text; None where it is the one that was sent before.
    work
        What is ticked in the shop.
    aside
        The text of the plan that was put aside; empty for none.
    anew
        Whether to check the rest that was stopped.
    """

    number: int
    revision: int
    places: tuple[str, ...]
    text: str | None
    name: str
    work: Work = field(default_factory=Work)
    aside: str = ""
    anew: bool = False


@dataclass(frozen=True)
class Stop:
    """The rest of a question need not be worked out: what there is by now will do."""

    number: int


@dataclass(frozen=True)
class Doing:
    """What is being worked out for a question, and how far along that is, of how many."""

    number: int
    what: str
    at: int
    of: int


@dataclass(frozen=True)
class Shown:
    """What the page shows.

    Attributes
    ----------
    checking
        Whether more is still to come for this revision.
    places
        The parts of each place that was asked for.
    """

    number: int
    revision: int
    checking: bool
    places: dict[str, Parts] = field(default_factory=dict)


@dataclass(frozen=True)
class Fetch:
    """A file that the page or the person wants."""

    number: int
    what: str
    text: str
    name: str


@dataclass(frozen=True)
class Fetched:
    """Its bytes and kind; without bytes it could not be made, and ``why`` says so in words."""

    number: int
    content: bytes | None
    kind: str = "application/octet-stream"
    name: str = ""
    why: str = ""


class Superseded(Exception):
    """A newer question is waiting."""


class Stopped(Exception):
    """The person has seen enough."""


#: Called now and then while a question is worked out.
#:
#: Raises `Superseded` where a newer one waits, and `Stopped` where the rest is not wanted.
Newer = Callable[[], None]
