"""Writing the shop file: the person's comments and order are kept, and no half file is left."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from ..wholefiles import write_whole
from .reading import parse_shop

KeyPath = tuple[str | int, ...]


def changed_text(text: str, changes: Mapping[KeyPath, Any]) -> str:
    """The TOML text with values set, everything else as it was.

    Parameters
    ----------
    changes
        Path of each key and its new value, such as ``{("vacuum", "height"): "22 in"}`` or
        ``{("tools", 0, "bends"): 3}``; None removes the key. Missing tables are made.

    Raises
    ------
    KeyError
        A list on the way has no such item.
    Faults
        The result would not be a shop file.
    """
    import tomlkit
    from tomlkit.items import AoT, Array

    document = tomlkit.parse(text)
    for path, value in changes.items():
        table: Any = document
        for i, part in enumerate(path[:-1]):
            if isinstance(part, int):
                if not isinstance(table, (list, AoT, Array)) or not 0 <= part < len(table):
                    raise KeyError(path[: i + 1])
                table = table[part]
            else:
                if part not in table:
                    table[part] = tomlkit.table()
                elif isinstance(table[part], str):
                    # An end that was written as the name of its size.
                    end = tomlkit.inline_table()
                    end["nominal"] = str(table[part])
                    table[part] = end
                table = table[part]
        key: Any = path[-1]
        if value is None:
            if key in table:
                table.remove(key)
        elif key in table:
            new = tomlkit.item(value)
            trivia = getattr(table[key], "trivia", None)
            if trivia is not None:
                new.trivia.comment_ws = trivia.comment_ws
                new.trivia.comment = trivia.comment
                new.trivia.trail = trivia.trail
            table[key] = new
        else:
            table[key] = value
    result = tomlkit.dumps(document)
    parse_shop(result, "changed")
    return result


def change_shop(path: str | Path, changes: Mapping[KeyPath, Any]) -> None:
    """Set values in a shop file in place; the file is untouched if they would not do."""
    text = Path(path).read_text(encoding="utf-8")
    write_whole(path, changed_text(text, changes))
