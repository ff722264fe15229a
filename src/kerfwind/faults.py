"""What is wrong with a file, said so that it can be mended."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from . import limits

#: Exit status where a file, an option or a place to write to is at fault.
BAD_INPUT = 2


@dataclass(frozen=True)
class Fault:
    """One thing wrong: where, what was found, what is allowed, how to mend it."""

    file: str
    line: int
    field: str
    found: str
    allowed: str
    mend: str

    def text(self) -> str:
        """Several lines for a terminal."""
        place = f"{self.file}, line {self.line}" if self.line else self.file
        field = f", {shortened(self.field, 200)}" if self.field else ""
        found, allowed, mend = (shortened(t, 1000) for t in (self.found, self.allowed, self.mend))
        return (
            f"{_plain(place + field)}\n    found:   {_plain(found)}\n"
            f"    allowed: {_plain(allowed)}\n    mend:    {_plain(mend)}"
        )


def shortened(text: str, most: int = 70) -> str:
    """A text cut to so many characters, for an answer that quotes it."""
    return text if len(text) <= most else text[: most - 3] + "…"


def _plain(text: str) -> str:
    """What a file holds may steer a terminal; such characters are shown as escapes."""
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() else repr(c)[1:-1] for c in text)


def told(texts: Sequence[str], more: int = 0) -> str:
    """The first of what is wrong, one below the other, and how many ``more`` there are."""
    first = texts[: limits.FAULTS]
    more += len(texts) - len(first)
    return "\n".join([*first, *([f"and {more:,} more."] if more else [])])


class Faults(ValueError):
    """What is wrong with a file, all at once: the first faults, and how many ``more``."""

    def __init__(self, faults: Sequence[Fault], more: int = 0) -> None:
        self.faults = tuple(faults[: limits.FAULTS])
        self.more = more + len(faults) - len(self.faults)
        super().__init__(self.text())

    def text(self) -> str:
        """Every fault told, several lines each, then how many more there are."""
        return told([f.text() for f in self.faults], self.more)
