"""The usual cautions in words."""

from __future__ import annotations

from ..cautions import Work, cautions_for
from ..words import Voice


def caution_rows(work: Work, voice: Voice) -> list[dict[str, str]]:
    """Title and text of each caution of a kind of work."""
    return [
        {"title": voice.say(c.said.kind, attribute="title"), "text": voice.text(c.said)}
        for c in cautions_for(work)
    ]
