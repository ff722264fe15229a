"""Two people's changes of one file are made one, a place at a time."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from .document import ROWS, Conflict, Document, Edit, Place, same


@dataclass(frozen=True)
class Clash:
    """A place that both have changed: what we made of it, and what stands there now, theirs."""

    place: Place
    ours: Any
    theirs: Any


@dataclass(frozen=True)
class Merged:
    """Their text with our changes in it, those changes, and where they could not be made."""

    text: str
    made: tuple[Edit, ...]
    clashes: tuple[Clash, ...]


def merge(base: str, ours: str, theirs: str, file: str = "shop") -> Merged:
    """Make our changes since ``base`` in their text, so that their remarks and order stay.

    Raises
    ------
    Faults
        Their text is no TOML; the first fault has its line.
    """
    document = Document(theirs, file)
    before = Document(base).data
    our_data = Document(ours).data
    their_changes = changes(before, document.data)
    renames = {(*e.place[:-1],): e.new for e in their_changes if is_rename(e)}
    sorted_lists = {e.place[:-1] for e in their_changes if e.moves}
    made: list[Edit] = []
    clashes: dict[Place, Clash] = {}
    for edit in changes(before, our_data):
        place = _now_at(edit.place, renames)
        if edit.moves:
            if place[:-1] not in sorted_lists and document.value(place) is not None:
                made.append(replace(edit, place=place))
                document.apply(made[-1])
            continue
        found = document.value(place)
        if same(found, edit.new):
            continue
        clash = Clash(place, edit.new, found)
        rivals = [e.place for e in their_changes if not e.moves and _overlap(e.place, edit.place)]
        if gone := [p for p in rivals if len(p) < len(edit.place) and document.value(p) is None]:
            clash = Clash(gone[0], _value(our_data, gone[0]), None)
        if not rivals:
            try:
                document.apply(replace(edit, place=place, old=found))
            except Conflict as conflict:
                clash = Clash(conflict.place, edit.new, conflict.found)
            else:
                made.append(replace(edit, place=place, old=found))
                continue
        clashes.setdefault(clash.place, clash)
    return Merged(document.text, tuple(made), tuple(clashes.values()))


def changes(before: dict[str, Any], after: dict[str, Any]) -> list[Edit]:
    """The edits, to be made in this order, that lead from one shop's data to another's."""
    return list(_changes((), before, after))


def _changes(place: Place, before: Any, after: Any) -> Iterator[Edit]:
    if same(before, after):
        return
    one, other = _beside(place, before, after), _beside(place, after, before)
    if (before is None or after is None) and not one and not other:
        yield Edit(place, before, after)
    elif isinstance(one, dict) and isinstance(other, dict):
        for key in [*one, *(k for k in other if k not in one)]:
            yield from _changes((*place, key), one.get(key), other.get(key))
    elif isinstance(one, list) and isinstance(other, list):
        if (one or other) and _by_name(one) and _by_name(other):
            yield from _row_changes(place, one, other)
        elif len(one) == len(other) and all(isinstance(row, dict) for row in (*one, *other)):
            for number, (row, new) in enumerate(zip(one, other, strict=True)):
                yield from _changes((*place, number), row, new)
        else:
            yield Edit(place, before, after)
    else:
        yield Edit(place, before, after)


def _beside(place: Place, value: Any, other: Any) -> Any:
    """A value, or where there is none an empty one to be compared with the other."""
    if value is None and isinstance(other, dict):
        return {}
    if value is None and isinstance(other, list) and len(place) == 1 and place[0] in ROWS:
        return []
    return value


def _row_changes(place: Place, before: list[Any], after: list[Any]) -> Iterator[Edit]:
    """Fields first, under the old names; then what went, new names, what came, and the order."""
    old = {row["name"]: row for row in before}
    new = {row["name"]: row for row in after}
    renamed = _renamed(before, after, old, new)
    for name, row in old.items():
        if (now := renamed.get(name, name)) in new:
            yield from _changes((*place, name), row, {**new[now], "name": name})
    gone = [name for name in old if name not in new and name not in renamed]
    for name in gone:
        yield Edit((*place, name), old[name], None)
    for name, now in renamed.items():
        yield Edit((*place, name, "name"), name, now)
    order = [renamed.get(name, name) for name in old if name not in gone]
    wanted = list(new)
    for number, name in enumerate(wanted):
        if name not in order:
            order.insert(number, name)
            yield Edit((*place, name), None, new[name], number)
    for name in _out_of_order(order, wanted):
        order.remove(name)
        at = wanted.index(name)
        at = order.index(wanted[at - 1]) + 1 if at else 0
        order.insert(at, name)
        yield Edit((*place, name), {}, {}, at)


def _renamed(
    before: Sequence[Any], after: Sequence[Any], old: dict[str, Any], new: dict[str, Any]
) -> dict[str, str]:
    """Rows that are the same but for their name, or stand where they stood and are much alike."""
    renamed: dict[str, str] = {}
    for number, row in enumerate(before):
        if row["name"] in new:
            continue
        for other, candidate in enumerate(after):
            name = candidate["name"]
            if name in old or name in renamed.values():
                continue
            keys = (row.keys() | candidate.keys()) - {"name"}
            alike = sum(same(row.get(k), candidate.get(k)) for k in keys)
            if keys and (alike == len(keys) or (number == other and 2 * alike >= len(keys))):
                renamed[row["name"]] = name
                break
    return renamed


def _out_of_order(order: Sequence[str], wanted: Sequence[str]) -> list[str]:
    """The fewest names that must be moved, in the order wanted."""
    numbers = {name: number for number, name in enumerate(wanted)}
    ends: list[int] = []
    chains: list[tuple[int, ...]] = []
    for name in order:
        number = numbers[name]
        at = bisect_left(ends, number)
        chain = (*(chains[at - 1] if at else ()), number)
        ends[at : at + 1], chains[at : at + 1] = [number], [chain]
    kept = set(chains[-1]) if chains else set()
    return [name for name in wanted if numbers[name] not in kept]


def _by_name(rows: Sequence[Any]) -> bool:
    return len({name for name in map(_name, rows) if isinstance(name, str)}) == len(rows)


def _name(row: Any) -> Any:
    return row.get("name") if isinstance(row, dict) else None


def is_rename(edit: Edit) -> bool:
    """Whether it gives a row another name."""
    return len(edit.place) == 3 and edit.place[-1] == "name" and isinstance(edit.place[1], str)


def _now_at(place: Place, renames: dict[Place, str]) -> Place:
    """A place under the name that the others have given its row."""
    name = renames.get(place[:2])
    return place if name is None else (place[0], name, *place[2:])


def _overlap(one: Place, other: Place) -> bool:
    shorter = min(len(one), len(other))
    return one[:shorter] == other[:shorter]


def _value(data: Any, place: Place) -> Any:
    for key in place:
        if isinstance(data, list) and isinstance(key, str):
            data = next((r for r in data if _name(r) == key), None)
        elif isinstance(data, list) and isinstance(key, int):
            data = data[key] if key < len(data) else None
        else:
            data = data.get(key) if isinstance(data, dict) else None
    return data
