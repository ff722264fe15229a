"""Short names to pencil on panels and pieces."""

from __future__ import annotations

from collections.abc import Sequence

from .model import Panel

#: No I or O: on wood they read as 1 and 0.
_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


def letters(number: int) -> str:
    """0 → A, 23 → Z, 24 → AA and so on."""
    text = ""
    number += 1
    while number > 0:
        number, rest = divmod(number - 1, len(_LETTERS))
        text = _LETTERS[rest] + text
    return text


def pencil_letters(panels: Sequence[Panel]) -> dict[str, str]:
    """The letters of each row of the panel list, by the row's name."""
    return {panel.name: letters(at) for at, panel in enumerate(panels)}


def piece_letters(number: int) -> str:
    """0 → a, 25 → z, 26 → aa and so on, for pieces with cuts to come."""
    text = ""
    number += 1
    while number > 0:
        number, rest = divmod(number - 1, 26)
        text = chr(ord("a") + rest) + text
    return text
