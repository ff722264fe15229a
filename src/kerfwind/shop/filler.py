"""What is put in place of a field that was left out, and why it was."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from ..facts import Fact, Statement
from ..quantity import QuantityError, parse

Path = tuple[str | int, ...]


@dataclass(frozen=True)
class Filled:
    """What was put at a place; without a reason it follows from what is given."""

    why: Statement | None
    source: str = "practice"


@dataclass(frozen=True)
class Assumption:
    """One value the program supplied: where, what, why, and on whose word."""

    path: str
    value: Fact
    why: Statement
    source: str = "practice"


class Filler:
    """Collects assumptions while putting them into the data."""

    def __init__(self) -> None:
        self.made: dict[Path, Filled] = {}

    def put(
        self,
        table: Any,
        path: Path,
        key: str,
        value: Any,
        why: Statement | None,
        source: str = "practice",
    ) -> None:
        """Set ``table[key]`` unless it is there already.

        Without a reason it follows from what is given, and is no assumption.
        """
        if isinstance(table, dict) and key not in table:
            table[key] = value
            if not isinstance(value, (dict, list)):
                self.made[(*path, key)] = Filled(why, source)

    def table(self, parent: Any, key: str) -> Any:
        """The table at ``key``, made when missing; whatever else stands there, unchanged."""
        if not isinstance(parent, dict):
            return None
        return parent.setdefault(key, {})

    def rows(
        self,
        table: Any,
        path: Path,
        rows: dict[str, str],
        why: Statement | None,
        source: str = "practice",
    ) -> None:
        """Put several keys with one reason."""
        for key, text in rows.items():
            self.put(table, path, key, text, why, source)


def si_of(table: Any, key: str, dimension: str) -> float | None:
    """What is written at a key, in SI; None where that is no quantity."""
    if not isinstance(table, dict) or not isinstance(table.get(key), str):
        return None
    try:
        return parse(table[key], dimension).best_si
    except QuantityError:
        return None


def each_row(data: Mapping[str, Any], name: str) -> list[tuple[int, dict[str, Any]]]:
    """Number and table of each row of a list."""
    rows = data.get(name)
    if not isinstance(rows, list):
        return []
    return [(i, row) for i, row in enumerate(rows) if isinstance(row, dict)]
