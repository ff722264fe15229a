"""A shop file that is changed a place at a time: everything else in it stays to the letter.

A change is made in the text itself. So a field that is set changes one line, remarks and order
stay as the person wrote them, and taking the change back restores the text byte for byte.
"""

from __future__ import annotations

import math
import re
from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import date, time
from itertools import accumulate
from typing import Any, Literal
from zlib import crc32

from ..tomlfile import load_toml
from .spans import Block, Entry, Node, blocks_of

#: Where something stands: rows that have a name by their name, all others by their number from 0,
#: as in ``("tools", "planer", "port", "inside")``.
Place = tuple[str | int, ...]
#: The same with every row by its number.
_Path = tuple[str | int, ...]
#: A document at some time.
Mark = tuple[Block, ...]
#: A point in the text: among what it is counted (members of a value, lines of a table, rows of a
#: list, blocks of the text), how many keys lead to that, after how many of them, and how many
#: characters further. Or a ``swap`` of characters: the first, how many, and a sum of the whole
#: text, without which it would be another stretch.
Spot = tuple[Literal["member", "line", "row", "block", "swap"], int, int, int]

#: Lists whose rows stand under headers of their own.
ROWS = ("tools", "hoses", "fittings", "sheets", "branches", "built", "sessions")
#: Tables that have a header of their own though they stand in another.
_SECTIONS = {
    ("separator", "bucket"),
    ("separator", "cyclone"),
    ("vacuum", "suction"),
    ("vacuum", "suction", "home_test"),
}
_BARE = re.compile(r"[A-Za-z0-9_-]+")
_BLANK_LINES = re.compile(r"(?:[ \t]*\r?\n)*")


@dataclass(frozen=True)
class Edit:
    """What stands at a place goes from ``old`` to ``new``; None where nothing does.

    A row whose old and new value are both given, and ``at``, is moved. Its contents are not
    compared.

    Attributes
    ----------
    at
        The number from 0 that a new or moved row gets in its list; the last without it.
    source, spot
        The TOML text of what is taken back, and where it stands, so that it is restored to the
        letter. `Document.apply` fills them in; without them, or where they no longer fit, the
        text is made anew.
    """

    place: Place
    old: Any
    new: Any
    at: int | None = None
    source: str | None = None
    spot: Spot | None = None

    def record(self) -> dict[str, Any]:
        """Plain data for JSON."""
        return {k: v for k, v in asdict(self).items() if v is not None}

    @classmethod
    def of(cls, record: dict[str, Any]) -> Edit:
        """From what `record` gave."""
        spot = record.get("spot")
        return cls(
            place=tuple(record["place"]),
            old=record.get("old"),
            new=record.get("new"),
            at=record.get("at"),
            source=record.get("source"),
            spot=None if spot is None else tuple(spot),
        )

    @property
    def moves(self) -> bool:
        """Whether it moves a row."""
        return self.at is not None and self.old is not None and self.new is not None


class Conflict(ValueError):
    """What stands at a place is not what the edit goes from."""

    def __init__(self, place: Place, expected: Any, found: Any) -> None:
        super().__init__(f"{place}: expected {expected!r}, found {found!r}")
        self.place, self.expected, self.found = place, expected, found


class Document:
    """The text of a shop file, changed by edits.

    Parameters
    ----------
    text
        TOML.
    file
        What the file is called where something is wrong with it.

    Raises
    ------
    Faults
        The text is no TOML; the first fault has its line.
    """

    def __init__(self, text: str, file: str = "shop") -> None:
        load_toml(text.removeprefix("\ufeff"), file)
        self._mark = "\ufeff" if text.startswith("\ufeff") else ""
        text = text.removeprefix("\ufeff")
        self._newline = "\r\n" if "\r\n" in text[: text.find("\n") + 1] else "\n"
        self._unended = bool(text) and not text.endswith("\n")
        self._set(blocks_of(text + self._newline * self._unended))

    # What it holds.

    @property
    def text(self) -> str:
        """The whole text as it is saved."""
        text = self._text
        if self._unended:
            text = text.removesuffix(self._newline)
        return self._mark + text

    @property
    def data(self) -> dict[str, Any]:
        """All tables; not to be changed."""
        return self._data

    def value(self, place: Place) -> Any:
        """What stands at a place; None where nothing does."""
        path = self._path(place)
        return None if path is None else _at(self._data, path)

    def apply(self, edit: Edit) -> Edit:
        """Make a change; the edit that takes it back.

        An edit that was made already changes nothing.

        Raises
        ------
        Conflict
            What is there is neither the old nor the new, or there is no such row.
        """
        before = self._blocks
        try:
            return self._apply(edit)
        except BaseException:
            if self._blocks is not before:
                self._set(before)
            raise

    def apply_all(self, edits: Iterable[Edit]) -> list[Edit]:
        """Make all changes or none; the edits that take them back, in the order to make them.

        Raises
        ------
        Conflict
            As `apply` does.
        """
        before = self._blocks
        inverses: list[Edit] = []
        try:
            for edit in edits:
                inverses.insert(0, self._apply(edit))
        except BaseException:
            if self._blocks is not before:
                self._set(before)
            raise
        return inverses

    def mark(self) -> Mark:
        """The document as it is now, to go `back_to`."""
        return tuple(self._blocks)

    def at(self, mark: Mark) -> bool:
        """Whether the text is as it was at a mark."""
        return "".join(block.text for block in mark) == self._text

    def back_to(self, mark: Mark) -> None:
        """Make the document as it was at a mark."""
        self._set(list(mark))

    # One edit.

    def _apply(self, edit: Edit) -> Edit:
        place = edit.place
        if not place or any(isinstance(key, int) and key < 0 for key in place):
            raise Conflict(place, edit.old, self._data)
        if isinstance(edit.new, dict) and is_row(place) and "name" not in edit.new:
            edit = replace(edit, new={"name": place[-1], **edit.new})
        found = self.value(place)
        if is_row(place) and not isinstance(edit.new, dict | None):
            raise Conflict(place, edit.old, found)
        if edit.moves and isinstance(edit.new, dict):
            if found is None:
                raise Conflict(place, edit.old, None)
            return self._move(edit)
        after = self._renamed(place, edit.new)
        if after != place:
            there = self.value(after)
            if found is None and same(there, edit.new):
                return Edit(after, edit.new, edit.new)
            if there is not None and self._path(after) != self._path(place):
                raise Conflict(after[:2], None, self.value(after[:2]))
        # A new member of a list goes between those that are there.
        between = isinstance(place[-1], int) and edit.old is None and edit.new is not None
        if same(found, edit.new) and not between and found is not None:
            return Edit(place, edit.new, edit.new)
        if not same(found, edit.old) and not between:
            if found is None and edit.new is None:
                return Edit(place, None, None)
            raise Conflict(place, edit.old, found)
        if edit.new is None and edit.old is None:
            return Edit(place, None, None)
        before, goal = self._text, self._goal(edit, after)
        path = self._path(place)
        if self._swapped_back(edit, goal):
            row = edit.new is None and is_row(place)
            at = int(path[-1]) if row and path is not None else None
            inverse = Edit(after, edit.new, edit.old, at)
        elif edit.new is None:
            inverse = self._remove(edit, goal)
        elif edit.old is None:
            inverse = self._add(edit, goal)
        else:
            inverse = self._replace(edit, after, goal)
        if not self._reached(goal):
            # Such as a row by a name that it does not have: nothing is half done.
            raise Conflict(place, edit.old, found)
        if inverse.source is None:
            inverse = self._swap(inverse, before)
        return inverse

    def _goal(self, edit: Edit, after: Place) -> tuple[Place, Any]:
        """A place, and what must stand there once the edit is made."""
        number = edit.place[-1]
        if not isinstance(number, int) or (edit.old is not None and edit.new is not None):
            return after, edit.new
        members = list(self.value(edit.place[:-1]) or ())
        if edit.new is None:
            del members[number]
        else:
            members.insert(number, edit.new)
        return edit.place[:-1], members or None

    def _reached(self, goal: tuple[Place, Any]) -> bool:
        found = self.value(goal[0])
        return same(found, goal[1]) or (goal[1] is None and found == [])

    def _swap(self, inverse: Edit, before: str) -> Edit:
        """An inverse that puts back just the stretch of text that was changed."""
        text = self._text
        start = _alike(before, text)
        most = min(len(before), len(text)) - start
        alike = _alike(before[len(before) - most :][::-1], text[len(text) - most :][::-1])
        spot: Spot = ("swap", start, len(text) - alike - start, _sum(text))
        return replace(inverse, source=before[start : len(before) - alike], spot=spot)

    def _swapped_back(self, edit: Edit, goal: tuple[Place, Any]) -> bool:
        if edit.source is None or edit.spot is None or edit.spot[0] != "swap":
            return False
        _, start, size, total = edit.spot
        if _sum(self._text) != total or start + size > len(self._text):
            return False
        return self._tried([(start, start + size, edit.source)], goal)

    def _renamed(self, place: Place, new: Any) -> Place:
        """Where a thing is found once its row has another name, or none."""
        if is_row(place):
            name = new.get("name") if isinstance(new, dict) else None
            return (*place[:-1], name) if isinstance(name, str) else place
        if len(place) == 3 and place[2] == "name" and is_row(place[:2]):
            if isinstance(new, str):
                return (place[0], new, "name")
            return self._path(place) or place
        return place

    # Taking away.

    def _remove(self, edit: Edit, goal: tuple[Place, Any]) -> Edit:
        path = self._path(edit.place)
        assert path is not None
        at = path[-1] if isinstance(path[-1], int) and is_row(edit.place) else None
        back = self._renamed(edit.place, None)
        if edit.source and edit.spot:
            point = self._point(path, edit.spot)
            if (
                point is not None
                and self._text.startswith(edit.source, point)
                and self._tried([(point, point + len(edit.source), "")], goal)
            ):
                return Edit(back, None, edit.old, at, edit.source, edit.spot)
        target = path
        while len(target) > 1 and not isinstance(target[-2], int):
            if len(_at(self._data, target[:-1])) > 1:
                break
            target = target[:-1]
        regions, spot = self._regions(target)
        source = "".join(self._text[start:end] for start, end in regions)
        self._splice([(start, end, "") for start, end in regions])
        if len(regions) > 1:
            return Edit(back, None, edit.old, at)
        return Edit(back, None, edit.old, at, source, spot)

    def _regions(self, path: _Path) -> tuple[list[tuple[int, int]], Spot]:
        """The stretches of text that go with a thing, and where the first one stands."""
        found = self._find(path)
        if isinstance(found, _Member):
            start, end = self._member_region(found)
            offset = self._starts[found.block]
            parts = found.node.parts
            base = offset + (
                parts[found.number - 1].node.end if found.number else found.node.start + 1
            )
            return [(start, end)], ("member", len(path) - 1, found.number, start - base)
        if found.lines:
            regions = []
            for block, number in found.lines:
                entry = self._blocks[block].entries[number]
                regions.append((self._starts[block] + entry.start, self._starts[block] + entry.end))
            block, number = found.lines[0]
            base = self._after_line(block, number)
            spot: Spot = ("line", len(self._paths[block]), number, regions[0][0] - base)
            return self._joined(regions), spot
        regions = [self._run_region(first, last) for first, last in _runs(found.blocks)]
        first = found.blocks[0]
        if isinstance(path[-1], int):
            base = self._after_row(path[:-1], path[-1])
            return regions, ("row", len(path) - 1, path[-1], regions[0][0] - base)
        return regions, ("block", 0, first, regions[0][0] - self._keys_end(first - 1))

    def _joined(self, regions: list[tuple[int, int]]) -> list[tuple[int, int]]:
        joined = regions[:1]
        for start, end in regions[1:]:
            if start == joined[-1][1]:
                joined[-1] = (joined[-1][0], end)
            else:
                joined.append((start, end))
        return joined

    def _run_region(self, first: int, last: int) -> tuple[int, int]:
        """Blocks with the blank lines that part them from what follows, or else precedes."""
        text, start, end = self._text, self._starts[first], self._core_end(last)
        following = _BLANK_LINES.match(text, end)
        if following and following.end() < len(text):
            return start, following.end()
        before = self._core_end(first - 1)
        kept = text[before:start].rstrip(" \t\r\n")
        if kept:
            before = text.index("\n", before + len(kept) - 1) + 1
        return before, len(text) if following else end

    def _member_region(self, found: _Member) -> tuple[int, int]:
        """A member of a value with the comma and the remarks that go with it."""
        parts, number = found.node.parts, found.number
        offset, part = self._starts[found.block], found.node.parts[found.number]
        if len(parts) == 1:
            return offset + found.node.start + 1, offset + found.node.end - 1
        if number + 1 < len(parts):
            return offset + part.start, offset + parts[number + 1].start
        before, end = parts[number - 1].node.end, part.node.end
        text = self._blocks[found.block].text
        if "\n" not in text[before : part.start]:
            return offset + before, offset + end
        # On lines of their own: the remark after the comma before it is another's, the one
        # behind it its own.
        line = re.compile(r"[^\n]*?,[ \t]*(?:#[^\n]*?)?(?=\r?\n)").match(text, before)
        own = re.compile(r"[ \t]*,?[ \t]*(?:#[^\n]*?)?(?=\r?\n)").match(text, end)
        if line is not None and line.end() < part.start:
            return offset + line.end(), offset + (own.end() if own else end)
        return offset + before, offset + end

    # Putting there.

    def _add(self, edit: Edit, goal: tuple[Place, Any]) -> Edit:
        place, depth = edit.place, len(edit.place) - 1
        while depth and self.value(place[:depth]) is None:
            depth -= 1
        parent = self._path(place[:depth])
        container = _at(self._data, parent) if parent is not None else None
        if parent is None or not isinstance(container, (dict, list)):
            raise Conflict(place[:depth], {}, container)
        keys = list(place[depth:])
        if (
            any(is_row(place[: depth + n]) for n in range(1, len(keys)))
            or (isinstance(container, dict) and isinstance(keys[0], int))
            or any(isinstance(k, int) and k > 0 for k in keys[1:])
        ):
            raise Conflict(place[:-1], {}, None)
        path = self._new_path(place, depth, parent, container, edit.at)
        if edit.source and edit.spot:
            point = self._point(path, edit.spot)
            row = path if is_row(place) else None
            if point is not None and self._tried([(point, point, edit.source)], goal, row):
                return Edit(place, edit.new, None, source=edit.source, spot=edit.spot)
        value: Any = edit.new
        for key in reversed(path[depth + 1 :]):
            value = [value] if isinstance(key, int) else {key: value}
        point, source, spot = self._insertion(path[: depth + 1], value)
        self._splice([(point, point, source)])
        return Edit(place, edit.new, None, source=source, spot=spot)

    def _new_path(
        self, place: Place, depth: int, parent: _Path, container: Any, at: int | None
    ) -> _Path:
        keys = place[depth:]
        if isinstance(container, list):
            last = len(container)
            wanted = at if at is not None else keys[0] if isinstance(keys[0], int) else last
            return (*parent, max(0, min(wanted, last)), *keys[1:])
        if is_row(place) and len(keys) == 2:
            return (*parent, keys[0], 0)
        return (*parent, *keys)

    def _insertion(self, path: _Path, value: Any) -> tuple[int, str, Spot]:
        """Where a new thing goes, the text of it, and the same point as a spot."""
        parent, key = path[:-1], path[-1]
        found = self._find(parent) if parent else None
        if isinstance(found, _Member) or (found and found.lines and not found.dotted):
            return self._member_insertion(parent, key, value)
        if isinstance(key, int):
            return self._row_insertion(parent, key, value)
        headed = isinstance(value, dict) and (len(path) == 1 or path in _SECTIONS)
        rows = isinstance(value, list) and bool(value) and all(isinstance(r, dict) for r in value)
        if headed or (rows and len(path) == 1):
            return self._block_insertion(found.blocks[-1] if found else None, path, value)
        if found and found.dotted:
            block, number = found.lines[-1]
            entry = self._blocks[block].entries[number]
            own = (*entry.key[: len(parent) - len(self._paths[block])], str(key))
            source = f"{_keys(own)} = {written(value)}{self._newline}"
            return self._line_insertion(block, number + 1, source)
        source = f"{_keys((str(key),))} = {written(value)}{self._newline}"
        block = next((i for i, p in enumerate(self._paths) if p == parent), -1)
        if block < 0:
            # Only tables within it have headers.
            assert found is not None
            return self._block_insertion(found.blocks[-1], parent, {key: value})
        if block == 0 and not self._blocks[0].entries:
            # A key above all headers, below what the file says first.
            point = self._starts[0] + len(self._blocks[0].text)
            if self._text[point:]:
                source += self._newline
            return point, source, ("line", 0, 0, point - self._after_line(0, 0))
        return self._line_insertion(block, len(self._blocks[block].entries), source)

    def _line_insertion(self, block: int, number: int, source: str) -> tuple[int, str, Spot]:
        point = self._after_line(block, number)
        return point, source, ("line", len(self._paths[block]), number, 0)

    def _member_insertion(self, parent: _Path, key: str | int, value: Any) -> tuple[int, str, Spot]:
        block, node = self._node(parent)
        assert node is not None
        text, offset, parts = self._blocks[block].text, self._starts[block], node.parts
        own = written(value) if isinstance(key, int) else f"{_keys((key,))} = {written(value)}"
        number = key if isinstance(key, int) else len(parts)
        depth = len(parent)
        if not parts:
            inside = text[node.start + 1 : node.end - 1]
            source = own if isinstance(key, int) or inside else f" {own} "
            return offset + node.start + 1, source, ("member", depth, 0, 0)
        if number == 0:
            point = parts[0].start
            return (offset + point, f"{own}, ", ("member", depth, 0, point - node.start - 1))
        before = parts[number - 1].node.end
        indent = re.compile(r"\n([ \t]*)[^\n]*\Z").search(text, node.start, parts[0].start)
        source = f",{self._newline}{indent[1]}{own}" if indent else f", {own}"
        return offset + before, source, ("member", depth, number, 0)

    def _row_insertion(self, parent: _Path, number: int, value: Any) -> tuple[int, str, Spot]:
        """A row among others that have headers."""
        base = self._after_row(parent, number)
        if number == 0:
            point = self._starts[self._find_blocks((*parent, 0))[0]]
            source = self._header(parent, value, row=True) + self._newline
            return point, source, ("row", len(parent), 0, point - base)
        point = self._core_end(self._find_blocks((*parent, number - 1))[-1])
        source = self._newline + self._header(parent, value, row=True)
        following = self._text[point : point + 2]
        if following and following[0] not in "\r\n":
            source += self._newline
        return point, source, ("row", len(parent), number, point - base)

    def _block_insertion(self, last: int | None, path: _Path, value: Any) -> tuple[int, str, Spot]:
        """A table, or rows, under headers of their own: after what belongs there, or last."""
        block = len(self._blocks) - 1 if last is None else last
        base, point = self._keys_end(block), self._core_end(block)
        if last is None:
            point = len(self._text)
        source = self._header(path, value)
        if point and not self._text[:point].endswith(self._newline * 2):
            source = self._newline + source
        if self._text[point:] and self._text[point] not in "\r\n":
            source += self._newline
        return point, source, ("block", 0, block + 1, point - base)

    def _header(self, path: _Path, value: Any, row: bool = False) -> str:
        """Tables and rows as they are written under headers."""
        if isinstance(value, list):
            return self._newline.join(self._header(path, each, row=True) for each in value)
        keys = _keys(tuple(str(k) for k in path if isinstance(k, str)))
        below = {k: v for k, v in value.items() if (*path, k) in _SECTIONS and isinstance(v, dict)}
        own = {k: v for k, v in value.items() if k not in below}
        parts = []
        if own or not below:
            lines = [f"[[{keys}]]" if row else f"[{keys}]"]
            lines += [f"{_keys((k,))} = {written(v)}" for k, v in own.items()]
            parts.append("".join(line + self._newline for line in lines))
        parts += [self._header((*path, k), v) for k, v in below.items()]
        return self._newline.join(parts)

    # Another value in the same place.

    def _replace(self, edit: Edit, after: Place, goal: tuple[Place, Any]) -> Edit:
        path = self._path(edit.place)
        assert path is not None
        block, node = self._node(path)
        if node is not None:
            offset = self._starts[block]
            start, end = offset + node.start, offset + node.end
            old = self._text[start:end]
            if not (edit.source and self._tried([(start, end, edit.source)], goal)):
                self._splice([(start, end, written(edit.new))])
            return Edit(after, edit.new, edit.old, source=old)
        if (whole := self._whole(path)) is not None:
            old = self._text[whole[0] : whole[1]]
            if edit.source and self._tried([(*whole, edit.source)], goal):
                return Edit(after, edit.new, edit.old, source=old)
        if isinstance(edit.old, dict) and isinstance(edit.new, dict) and edit.new:
            self._change_keys(path, edit.new)
        else:
            at = path[-1] if isinstance(path[-1], int) else None
            self._apply(Edit(path, edit.old, None))
            self._apply(Edit(after if at is None else path, None, edit.new, at))
        return Edit(after, edit.new, edit.old)

    def _change_keys(self, path: _Path, new: dict[str, Any]) -> None:
        """Make a table with headers hold just what is given, key by key."""
        for key, value in new.items():
            found = _at(self._data, (*path, key))
            if not same(found, value):
                self._apply(Edit((*path, key), found, value))
        for key, value in list(_at(self._data, path).items()):
            if key not in new:
                self._apply(Edit((*path, key), value, None))

    def _whole(self, path: _Path) -> tuple[int, int] | None:
        """The one stretch of text that holds a table with headers; None where others part it."""
        runs = list(_runs(self._find_blocks(path)))
        if len(runs) != 1:
            return None
        return self._starts[runs[0][0]], self._core_end(runs[0][1])

    def _move(self, edit: Edit) -> Edit:
        path = self._path(edit.place)
        assert path is not None
        assert edit.at is not None
        rows, number = _at(self._data, path[:-1]), path[-1]
        if not isinstance(rows, list) or not isinstance(number, int):
            raise Conflict(edit.place, edit.old, _at(self._data, path))
        to = max(0, min(edit.at, len(rows) - 1))
        row = rows[number]
        back = edit.place if isinstance(edit.place[-1], str) else (*path[:-1], to)
        inverse = Edit(back, {}, {}, number)
        if to == number:
            return inverse
        before, goal = self._text, ((*path[:-1], to), row)
        if self._swapped_back(edit, goal):
            return self._swap(inverse, before)
        spans = self._row_spans(path[:-1], len(rows))
        if spans is None:
            self._apply(Edit(path, row, None))
            self._apply(Edit(goal[0], None, row, to))
            return self._swap(inverse, before)
        texts = [self._text[start:end] for start, end in spans]
        texts.insert(to, texts.pop(number))
        self._splice([(*span, text) for span, text in zip(spans, texts, strict=True)])
        return self._swap(inverse, before)

    def _row_spans(self, parent: _Path, count: int) -> list[tuple[int, int]] | None:
        """Each row's text without what parts it from the next; None where rows are torn apart."""
        block, node = self._node(parent)
        if node is not None:
            offset = self._starts[block]
            return [(offset + p.start, offset + p.node.end) for p in node.parts]
        spans = [self._whole((*parent, n)) for n in range(count)]
        whole = [span for span in spans if span is not None]
        return whole if len(whole) == count else None

    # Finding things in the text.

    def _path(self, place: Place) -> _Path | None:
        """A place with its rows by number; None where a row is not there."""
        path: list[str | int] = []
        here: Any = self._data
        for key in place:
            if isinstance(here, list):
                if isinstance(key, str):
                    numbers = (i for i, r in enumerate(here) if _named(r, key))
                    key = next(numbers, -1)
                if not 0 <= key < len(here):
                    return None
                here = here[key]
            elif isinstance(here, dict) and isinstance(key, str):
                here = here.get(key)
            else:
                return None
            path.append(key)
        return tuple(path)

    def _find(self, path: _Path) -> _Member | _Found:
        """What holds a thing: a member of a value, lines of tables, or blocks."""
        lines: list[tuple[int, int]] = []
        dotted = False
        for number, (own, block) in enumerate(zip(self._paths, self._blocks, strict=True)):
            if len(own) >= len(path) or path[: len(own)] != own:
                continue
            for k, entry in enumerate(block.entries):
                full = (*own, *entry.key)
                if full[: len(path)] == path:
                    lines.append((number, k))
                    dotted = len(full) > len(path)
                elif path[: len(full)] == full:
                    member = _member(entry.node, path[len(full) :])
                    if member is not None:
                        return _Member(number, *member)
        return _Found(tuple(lines), dotted, () if lines else tuple(self._find_blocks(path)))

    def _find_blocks(self, path: _Path) -> list[int]:
        size = len(path)
        return [i for i, own in enumerate(self._paths) if i and own[:size] == path]

    def _node(self, path: _Path) -> tuple[int, Node | None]:
        """The block and the value that stands at a path; no value where there are headers."""
        found = self._find(path)
        if isinstance(found, _Member):
            return found.block, found.node.parts[found.number].node
        if found.lines and not found.dotted:
            block, number = found.lines[0]
            return block, self._blocks[block].entries[number].node
        return -1, None

    def _point(self, path: _Path, spot: Spot) -> int | None:
        """The point in the text that a spot stands for; None where there is none any more."""
        kind, depth, number, further = spot
        base: int | None = None
        if kind == "member":
            block, node = self._node(path[:depth])
            if node is not None and number <= len(node.parts):
                inside = node.parts[number - 1].node.end if number else node.start + 1
                base = self._starts[block] + inside
        elif kind == "line":
            block = next((i for i, p in enumerate(self._paths) if p == path[:depth]), -1)
            if block >= 0 and number <= len(self._blocks[block].entries):
                base = self._after_line(block, number)
        elif kind == "row":
            if number <= len(_at(self._data, path[:depth]) or ()):
                base = self._after_row(path[:depth], number)
        elif 0 < number <= len(self._blocks):
            base = self._keys_end(number - 1)
        if base is None or base + further > len(self._text):
            return None
        return base + further

    def _after_line(self, block: int, number: int) -> int:
        """Where the line before the given one of a table ends."""
        of: Block = self._blocks[block]
        entries: Sequence[Entry] = of.entries
        return self._starts[block] + (entries[number - 1].end if number else of.body)

    def _after_row(self, parent: _Path, number: int) -> int:
        """Where the keys before the given row of a list end."""
        if number:
            return self._keys_end(self._find_blocks((*parent, number - 1))[-1])
        return self._keys_end(self._find_blocks((*parent, 0))[0] - 1)

    def _keys_end(self, block: int) -> int:
        """Where the last key of a block ends: that is so whatever remarks follow it."""
        return self._after_line(block, len(self._blocks[block].entries))

    def _core_end(self, block: int) -> int:
        return self._starts[block] + self._blocks[block].core

    # Changing the text.

    def _set(self, blocks: list[Block]) -> None:
        self._blocks = blocks
        self._starts = [0, *accumulate(len(block.text) for block in blocks)]
        self._text = "".join(block.text for block in blocks)
        self._data, self._paths = _assembled(blocks)

    def _splice(self, changes: list[tuple[int, int, str]]) -> None:
        """Put texts in place of stretches, and take apart the blocks that they touch."""
        lowest, highest = changes[0][0], changes[-1][1]
        starts = self._starts[:-1]
        first = bisect_right(starts, lowest) - 1
        # Before its first key the remarks above a header may become another block's.
        if lowest < starts[first] + self._blocks[first].body:
            first -= 1
        first = max(0, first)
        last = max(first, bisect_right(starts, highest) - 1)
        at = starts[first]
        end = self._starts[last + 1]
        pieces = []
        for start, stop, text in changes:
            pieces += [self._text[at:start], text]
            at = stop
        pieces.append(self._text[at:end])
        anew = blocks_of("".join(pieces))
        if first:
            assert not anew[0].text, "the text before a header belongs to the block before it"
            anew = anew[1:]
        self._set([*self._blocks[:first], *anew, *self._blocks[last + 1 :]])

    def _tried(
        self, changes: list[tuple[int, int, str]], goal: tuple[Place, Any], row: _Path | None = None
    ) -> bool:
        """Change the text as it once was, where that makes what is wanted."""
        before = self._blocks
        try:
            self._splice(changes)
            # A row has to come back to its own number.
            if self._reached(goal) and row in (None, self._path(goal[0])):
                return True
        except (ValueError, AssertionError, IndexError):
            pass
        self._set(before)
        return False


@dataclass(frozen=True)
class _Member:
    """A member of a list or of a table in braces."""

    block: int
    node: Node
    number: int


@dataclass(frozen=True)
class _Found:
    """Lines by block and number, ``dotted`` where they hold parts of the thing; or blocks."""

    lines: tuple[tuple[int, int], ...]
    dotted: bool
    blocks: tuple[int, ...]


def same(one: Any, other: Any) -> bool:
    """Whether two values mean the same: 31 and 31.0 do, 1 and true do not."""
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(same(one[k], other[k]) for k in one)
    if isinstance(one, (list, tuple)) and isinstance(other, (list, tuple)):
        return len(one) == len(other) and all(map(same, one, other))
    if isinstance(one, bool) or isinstance(other, bool):
        return one is other
    if isinstance(one, (date, time)) or isinstance(other, (date, time)):
        # Elsewhere, as in a journal, they are texts.
        return str(one) == str(other)
    if isinstance(one, float) and isinstance(other, float) and math.isnan(one):
        return math.isnan(other)
    return bool(one == other)


def _alike(one: str, other: str) -> int:
    """How many characters both begin with."""
    least, most = 0, min(len(one), len(other))
    while least < most:
        middle = (least + most + 1) // 2
        if one[:middle] == other[:middle]:
            least = middle
        else:
            most = middle - 1
    return least


def _sum(text: str) -> int:
    return crc32(text.encode("utf-8", "surrogatepass"))


def is_row(place: Place) -> bool:
    """Whether a row of a list stands at a place, by its name."""
    return len(place) == 2 and place[0] in ROWS and isinstance(place[1], str)


def _named(row: Any, name: str) -> bool:
    return isinstance(row, dict) and row.get("name") == name


def _at(data: Any, path: _Path) -> Any:
    for key in path:
        if isinstance(data, dict):
            data = data.get(key)
        elif isinstance(data, list) and isinstance(key, int) and 0 <= key < len(data):
            data = data[key]
        else:
            return None
    return data


def _member(node: Node, rest: _Path) -> tuple[Node, int] | None:
    """The value that holds a thing as its member, and which member that is."""
    for number, part in enumerate(node.parts):
        key: _Path = part.key if node.kind == "table" else (number,)
        if rest[: len(key)] == key:
            if len(rest) == len(key):
                return node, number
            return _member(part.node, rest[len(key) :])
    return None


def _runs(numbers: Sequence[int]) -> Iterable[tuple[int, int]]:
    """First and last of each stretch of numbers that follow one another."""
    first = last = None
    for number in numbers:
        if first is None or last is None:
            first = number
        elif number != last + 1:
            yield first, last
            first = number
        last = number
    if first is not None and last is not None:
        yield first, last


def _assembled(blocks: Sequence[Block]) -> tuple[dict[str, Any], list[_Path]]:
    """The data of all blocks together, and the path of each."""
    data: dict[str, Any] = {}
    paths: list[_Path] = []
    for number, block in enumerate(blocks):
        here: Any = data
        path: list[str | int] = []
        for i, key in enumerate(block.path if number else ()):
            path.append(key)
            if block.row and i == len(block.path) - 1:
                rows = here.setdefault(key, [])
                here = {}
                rows.append(here)
                path.append(len(rows) - 1)
                continue
            here = here.setdefault(key, {})
            if isinstance(here, list):
                path.append(len(here) - 1)
                here = here[-1]
        _merge(here, block.data)
        paths.append(tuple(path))
    return data, paths


def _merge(into: dict[str, Any], data: dict[str, Any]) -> None:
    for key, value in data.items():
        if isinstance(value, dict):
            _merge(into.setdefault(key, {}), value)
        else:
            into[key] = value


def _keys(keys: Sequence[str]) -> str:
    return ".".join(k if _BARE.fullmatch(k) else written(k) for k in keys)


def written(value: Any) -> str:
    """A value as TOML, on one line."""
    if isinstance(value, dict):
        inside = ", ".join(f"{_keys((k,))} = {written(v)}" for k, v in value.items())
        return f"{{ {inside} }}" if inside else "{}"
    if isinstance(value, (list, tuple)):
        return f"[{', '.join(map(written, value))}]"
    import tomlkit

    return str(tomlkit.item(value).as_string())
