"""What is wrong with a file, said so that it can be mended."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from . import limits
from .facts import Amount, Fact, Facts, Fix, Listing, Name, Statement, Term
from .quantity import QuantityError, UnitChoice

#: Exit status where a file, an option or a place to write to is at fault.
BAD_INPUT = 2


@dataclass(frozen=True)
class Refusal:
    """Something that cannot be as it was written or wished: its kind and facts, no words.

    Its message has three attributes: ``found``, ``allowed`` and ``mend``.

    Attributes
    ----------
    place
        The field of the shop file, such as ``wishes.largest_height``; empty for none.
    fixes
        Changes that would let it be, all of them made together.
    file, line
        Where it stands, as far as a file and a line are known.
    """

    kind: str
    place: str = ""
    facts: Facts = ()
    fixes: tuple[Fix, ...] = ()
    file: str = ""
    line: int = 0

    def stated(self, part: Literal["found", "allowed", "mend"]) -> Statement:
        """One part of it as a statement, for what tells the refusal among other things."""
        return Statement(self.kind, self.facts, part)

    def __str__(self) -> str:
        """For a programmer: where, and of what kind."""
        line = f"line {self.line}" if self.line else ""
        where = ", ".join(part for part in (self.file, line, shortened(self.place, 200)) if part)
        return f"{where}: {self.kind}" if where else self.kind


def refusal(
    kind: str,
    place: str = "",
    *,
    fixes: tuple[Fix, ...] = (),
    file: str = "",
    line: int = 0,
    **named: Fact,
) -> Refusal:
    """A refusal with its facts by name."""
    return Refusal(kind, place, tuple(named.items()), fixes, file, line)


def unread(error: QuantityError, place: str = "", *, file: str = "", line: int = 0) -> Refusal:
    """The refusal of a text that is no quantity of the kind wanted."""
    wanted = error.dimension.name
    named = {
        "given": Name(shortened(error.found)),
        "wanted": Term("wanted", wanted),
        "examples": Term("examples", wanted),
        **{name: _fact(told) for name, told in error.told.items()},
    }
    return Refusal(error.kind, place, tuple(named.items()), file=file, line=line)


def _fact(told: str | float | tuple[str, ...]) -> Fact:
    if isinstance(told, tuple):
        return Listing(tuple(Term("dimension", name) for name in told), "or")
    return Name(told) if isinstance(told, str) else Amount(told, "current")


def shortened(text: str, most: int = 70) -> str:
    """A text cut to so many characters, for an answer that quotes it."""
    return text if len(text) <= most else text[: most - 3] + "…"


class Faults(ValueError):
    """What is wrong with a file, all at once: the first faults, and how many ``more``.

    ``units`` are those that the file asks for, as far as it could be read.
    """

    def __init__(
        self, faults: Sequence[Refusal], more: int = 0, units: UnitChoice | None = None
    ) -> None:
        self.faults = tuple(faults[: limits.FAULTS])
        self.more = more + len(faults) - len(self.faults)
        self.units = units
        super().__init__("\n".join(map(str, self.faults)))
