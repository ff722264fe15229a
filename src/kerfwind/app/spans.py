"""A TOML text in blocks, with where each key and each value stands in it.

A block is what goes with one header line: the remarks right above it, its keys, and all that
follows up to the next block. So the text is its blocks, one after another, and a change within
one of them leaves the others as they are.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Literal

_SPACE = re.compile(r"[ \t]*")
_FILLING = re.compile(r"(?:[ \t\r\n]+|#[^\n]*)*")
_LINE_END = re.compile(r"[ \t]*(?:#[^\n]*|\r)?(?:\n|\Z)")
_BARE = re.compile(r"[A-Za-z0-9_-]+")
_TEXT = re.compile(
    r'"""(?:\\.|[^\\])*?"""(?:"{0,2})'
    r"|'''.*?'''(?:'{0,2})"
    r'|"(?:\\.|[^"\\\n])*"'
    r"|'[^'\n]*'",
    re.S,
)
#: A number, a truth or a date; date and time may be parted by a blank.
_ATOM = re.compile(r"[^\s,\]}#]+(?: \d\d:[^\s,\]}#]+)?")


@dataclass(frozen=True)
class Part:
    """A member of a list or of a table in braces; ``key`` is empty in a list."""

    key: tuple[str, ...]
    start: int
    node: Node


@dataclass(frozen=True)
class Node:
    """Where a value stands in the text of its block, and its members."""

    start: int
    end: int
    kind: Literal["plain", "list", "table"] = "plain"
    parts: tuple[Part, ...] = ()


@dataclass(frozen=True)
class Entry:
    """A line ``key = value``, from ``start`` to the end of the line and of its remark."""

    key: tuple[str, ...]
    start: int
    end: int
    node: Node


@dataclass(frozen=True)
class Block:
    """A header with what goes with it; the first block of a text has none.

    Attributes
    ----------
    path
        The keys in the header; ``row`` where it stands in double brackets.
    body
        Where the line after the header begins.
    core
        Where the last key ends, or the remarks right below it; blank lines and remarks that
        stand by themselves follow.
    """

    text: str
    path: tuple[str, ...]
    row: bool
    body: int
    core: int
    entries: tuple[Entry, ...]

    @cached_property
    def data(self) -> dict[str, Any]:
        """Its keys and values."""
        return tomllib.loads(self.text[self.body :]) if self.entries else {}


def blocks_of(text: str) -> list[Block]:
    """The blocks of a text that a reader of TOML has accepted, each line of it ended."""
    return _Scanner(text).blocks()


class _Scanner:
    def __init__(self, text: str) -> None:
        self.text = text

    def blocks(self) -> list[Block]:
        text, at, found = self.text, 0, []
        begin = body = core = 0
        path: tuple[str, ...] = ()
        row = attached = False
        remarks: int | None = None
        entries: list[Entry] = []

        def closed(end: int) -> Block:
            shifted = tuple(_shifted(entry, -begin) for entry in entries)
            last = min(core, end) - begin
            return Block(text[begin:end], path, row, body - begin, last, shifted)

        while at < len(text):
            mark = self.space(at)
            char = text[mark : mark + 1]
            if char in ("\n", "\r", ""):
                remarks, attached = None, False
                at = self.line_end(mark)
            elif char == "#":
                remarks = at if remarks is None else remarks
                at = self.line_end(mark)
                core = at if attached else core
            elif char == "[":
                begins = at if remarks is None else remarks
                found.append(closed(begins))
                begin, entries, remarks, attached = begins, [], None, True
                row = text.startswith("[[", mark)
                path, mark = self.key(mark + 1 + row)
                at = body = core = self.line_end(mark + 1 + row)
            else:
                key, mark = self.key(mark)
                node = self.value(self.space(mark + 1))
                end = self.line_end(node.end)
                entries.append(Entry(key, at, end, node))
                at = core = end
                remarks, attached = None, True
        found.append(closed(len(text)))
        return found

    def space(self, at: int) -> int:
        match = _SPACE.match(self.text, at)
        return match.end() if match else at

    def filling(self, at: int) -> int:
        match = _FILLING.match(self.text, at)
        return match.end() if match else at

    def line_end(self, at: int) -> int:
        match = _LINE_END.match(self.text, at)
        return match.end() if match else len(self.text)

    def key(self, at: int) -> tuple[tuple[str, ...], int]:
        parts: list[str] = []
        while True:
            at = self.space(at)
            match = _BARE.match(self.text, at)
            if match:
                parts.append(match[0])
            else:
                match = _TEXT.match(self.text, at)
                if match is None:
                    raise ValueError(f"no key at {self.text[at : at + 30]!r}")
                parts.append(tomllib.loads(f"key = {match[0]}")["key"])
            at = self.space(match.end())
            if self.text[at : at + 1] != ".":
                return tuple(parts), at
            at += 1

    def value(self, at: int) -> Node:
        char = self.text[at : at + 1]
        if char in ("[", "{"):
            return self.members(at, char == "{")
        match = (_TEXT if char in ('"', "'") else _ATOM).match(self.text, at)
        if match is None:
            raise ValueError(f"no value at {self.text[at : at + 30]!r}")
        return Node(at, match.end())

    def members(self, start: int, keyed: bool) -> Node:
        parts: list[Part] = []
        at = start + 1
        while True:
            at = self.filling(at)
            if self.text[at] in "]}":
                return Node(start, at + 1, "table" if keyed else "list", tuple(parts))
            begin, key = at, ()
            if keyed:
                key, at = self.key(at)  # type: ignore[assignment]
                at = self.space(at + 1)
            node = self.value(at)
            parts.append(Part(key, begin, node))
            at = self.filling(node.end)
            at += self.text[at] == ","


def _shifted(entry: Entry, by: int) -> Entry:
    return Entry(entry.key, entry.start + by, entry.end + by, _moved(entry.node, by))


def _moved(node: Node, by: int) -> Node:
    parts = tuple(Part(p.key, p.start + by, _moved(p.node, by)) for p in node.parts)
    return Node(node.start + by, node.end + by, node.kind, parts)
