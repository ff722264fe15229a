"""Writing the shop file: the person's comments and order are kept, and no half file is left."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

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
    parse_shop(result, "the changed file")
    return result


def write_text(path: str | Path, text: str) -> None:
    """Write a whole file, or leave the old one: through a file beside it, then renamed."""
    target = Path(path)
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
            stream.flush()
            os.fsync(stream.fileno())
        if target.exists():
            os.chmod(name, target.stat().st_mode & 0o777)
        else:
            os.chmod(name, 0o644)
        os.replace(name, target)
    except BaseException:
        if os.path.exists(name):
            os.unlink(name)
        raise


def change_shop(path: str | Path, changes: Mapping[KeyPath, Any]) -> None:
    """Set values in a shop file in place; the file is untouched if they would not do."""
    text = Path(path).read_text(encoding="utf-8")
    write_text(path, changed_text(text, changes))
