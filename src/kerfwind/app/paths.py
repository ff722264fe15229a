"""A field of the shop file as it is addressed: by the names of rows, not by their numbers."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

Path = tuple[str | int, ...]
#: Lists of the file whose rows are addressed by name.
LISTS = {"tools", "hoses", "fittings", "sheets", "branches", "built", "sessions"}


def address(path: Path, data: Any) -> Path:
    """A path by indices as an address: rows that have a name of their own by it."""
    found: list[str | int] = []
    here = data
    for part in path:
        try:
            here = here[part]
        except (KeyError, IndexError, TypeError):
            here = None
        name = here.get("name") if isinstance(part, int) and isinstance(here, dict) else None
        found.append(name if isinstance(name, str) else part)
    return tuple(found)


def address_of(text: str, data: Any) -> Path:
    """The address of a field as findings name it: ``tools[planer].port.inside``.

    Names may hold any letters, brackets and dots too, so they are looked for in the data.

    >>> address_of("tools[a.b].port", {"tools": [{"name": "a"}, {"name": "a.b"}]})
    ('tools', 'a.b', 'port')
    >>> address_of("room.outlets[2].x", {})
    ('room', 'outlets', 1, 'x')
    """
    parts: list[str | int] = []
    here, rest = data, text
    while rest:
        ends = [n for n in (rest.find("."), rest.find("[")) if n >= 0]
        end = min(ends, default=len(rest))
        key, rest = rest[:end], rest[end:]
        if key:
            parts.append(key)
            here = here.get(key) if isinstance(here, dict) else None
        if rest.startswith("["):
            row, rest = _row(rest[1:], here if isinstance(here, list) else [])
            parts.append(row)
            here = _named(here, row)
        rest = rest.removeprefix(".")
    return tuple(parts)


def _row(text: str, rows: Sequence[Any]) -> tuple[str | int, str]:
    named = [r["name"] for r in rows if isinstance(r, dict) and isinstance(r.get("name"), str)]
    for name in sorted(named, key=len, reverse=True):
        after = text[len(name) :]
        if text.startswith(name) and (after == "]" or after.startswith(("].", "]["))):
            return name, after[1:]
    inside, _, after = text.partition("]")
    return (int(inside) - 1 if inside.isdecimal() else inside), after


def _named(rows: Any, row: str | int) -> Any:
    if not isinstance(rows, list):
        return None
    if isinstance(row, int):
        return rows[row] if row < len(rows) else None
    return next((r for r in rows if isinstance(r, dict) and r.get("name") == row), None)


def coded(path: Path) -> str:
    """An address as it stands in the page."""
    return json.dumps(path, ensure_ascii=False, separators=(",", ":"))


def place_text(path: Path) -> str:
    """An address as findings name a field; the other way round than `address_of`.

    >>> place_text(("tools", "planer", "port")), place_text(("room", "outlets", 0, "x"))
    ('tools[planer].port', 'room.outlets[1].x')
    """
    text = ""
    for number, part in enumerate(path):
        row = isinstance(part, int) or (number == 1 and path[0] in LISTS)
        label = part + 1 if isinstance(part, int) else part
        text += f"[{label}]" if row else f".{label}" if text else str(label)
    return text


def free_name(name: str, data: Any, rows_of: str = "tools") -> str:
    """The name of a tool, or of a row of another list, with a number where another has it.

    >>> free_name("saw", {"tools": [{"name": "saw"}, {"name": "saw 2"}]})
    'saw 3'
    """
    rows = data.get(rows_of) if isinstance(data, dict) else None
    taken = {r.get("name") for r in rows or () if isinstance(r, dict)}
    number, free = 1, name
    while free in taken:
        number += 1
        free = f"{name} {number}"
    return free
