"""The usual cautions in words."""

from __future__ import annotations

from dataclasses import dataclass

from ..cautions import Work, cautions_for
from ..words import Voice


@dataclass(frozen=True)
class Caution:
    """What to mind, under a title."""

    title: str
    text: str


def caution_rows(work: Work, voice: Voice) -> list[Caution]:
    """Title and text of each caution of a kind of work."""
    return [
        Caution(voice.say(c.said.kind, attribute="title"), voice.text(c.said))
        for c in cautions_for(work)
    ]
