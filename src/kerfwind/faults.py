"""What is wrong with a file, said so that it can be mended."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from . import limits
from .facts import Fact, Facts, Fix, Statement
from .plaintext import visible

#: Exit status where a file, an option or a place to write to is at fault.
BAD_INPUT = 2

#: Characters of one line of an answer: a file may hold a text of any length.
_MOST_SAID = 1000


@dataclass(frozen=True)
class Fault:
    """One thing wrong: where, what was found, what is allowed, how to mend it."""

    file: str
    line: int
    field: str
    found: str
    allowed: str
    mend: str

    def lines(self) -> tuple[str, ...]:
        """Lines for a terminal: what a file holds may steer it, and is shown as escapes."""
        place = f"{self.file}, line {self.line}" if self.line else self.file
        field = f", {shortened(self.field, 200)}" if self.field else ""
        rows = (
            f"{place}{field}",
            f"    found:   {shortened(self.found, _MOST_SAID)}",
            f"    allowed: {shortened(self.allowed, _MOST_SAID)}",
            f"    mend:    {shortened(self.mend, _MOST_SAID)}",
        )
        return tuple(visible(row) for row in rows)

    def text(self) -> str:
        """The same as one text."""
        return "\n".join(self.lines())


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


def shortened(text: str, most: int = 70) -> str:
    """A text cut to so many characters, for an answer that quotes it."""
    return text if len(text) <= most else text[: most - 3] + "…"


class Faults(ValueError):
    """What is wrong with a file, all at once: the first faults, and how many ``more``."""

    def __init__(self, faults: Sequence[Fault | Refusal], more: int = 0) -> None:
        self.faults = tuple(faults[: limits.FAULTS])
        self.more = more + len(faults) - len(self.faults)
        super().__init__(
            "\n".join(f.text() if isinstance(f, Fault) else f.kind for f in self.faults)
        )
