"""Widths of text in the font the drawings are set in, Source Sans Pro.

The advances were read once from the font files beside this module::

    from fontTools.ttLib import TTFont
    font = TTFont("SourceSansPro-Regular.ttf")
    names, advances = font.getBestCmap(), font["hmtx"]
    widths = [advances[names[ord(c)]][0] if ord(c) in names else 0 for c in chars]

Units are thousandths of the text size. Kerning is left out: it only narrows text.
"""

from __future__ import annotations

import json
from functools import cache
from importlib.resources import files
from unicodedata import east_asian_width

from .model import Weight

#: Height of capitals and depth of descenders over the text size (the font's own tables).
CAP_HEIGHT = 0.66
DESCENT = 0.22
LINE_SPACING = 1.2


@cache
def _advances() -> dict[str, dict[str, int]]:
    table = json.loads((files(__package__) / "fonts" / "advances.json").read_text("utf-8"))
    chars = table.pop("chars")
    return {w: dict(zip(chars, widths, strict=True)) for w, widths in table.items()}


@cache
def text_width(text: str, size: float, weight: Weight = "Regular") -> float:
    """Width of one line of text, in the units of ``size``.

    A character outside the table counts as wide as ``M``, one that fills a square as its side.
    """
    table = _advances()[weight]
    return sum(table.get(c) or _other(c, table["M"]) for c in text) * size / 1000


def _other(char: str, usual: int) -> int:
    return 1000 if east_asian_width(char) in "WF" else usual


@cache
def measured(text: str, weight: Weight = "Regular") -> bool:
    """Whether the width of every character is known."""
    table = _advances()[weight]
    return all(table.get(c) for c in text)
