"""A row gets another name: what means it by its name follows."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ..shop.filler import each_row
from ..shop.given_faults import references
from ..shop.positions import value_at
from .document import Edit
from .merge import is_rename
from .paths import address


def with_references(edits: Sequence[Edit], data: dict[str, Any]) -> list[Edit]:
    """The edits, and before each that renames a row those of what means it by its name."""
    found = []
    for edit in edits:
        if is_rename(edit) and isinstance(edit.new, str):
            key, name, _ = edit.place
            taken = {row.get("name") for _, row in each_row(data, str(key))}
            found += [
                Edit(address(path, data), name, edit.new)
                for path, meant, _ in references(data)
                if meant == key and value_at(data, path) == name and edit.new not in taken
            ]
        found.append(edit)
    return found
