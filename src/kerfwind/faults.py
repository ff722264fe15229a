"""What is wrong with a file, said so that it can be mended."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

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
        field = f", {self.field}" if self.field else ""
        return (
            f"{plain(place + field)}\n    found:   {plain(self.found)}\n"
            f"    allowed: {plain(self.allowed)}\n    mend:    {plain(self.mend)}"
        )


def shortened(text: str, most: int = 70) -> str:
    """A text cut to so many characters, for an answer that quotes it."""
    return text if len(text) <= most else text[: most - 3] + "…"


def plain(text: str) -> str:
    """What a file holds may steer a terminal; such characters are shown as escapes."""
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() else repr(c)[1:-1] for c in text)


class Faults(ValueError):
    """Everything wrong with a file, all at once."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        super().__init__("\n".join(f.text() for f in faults))
        self.faults = tuple(faults)
