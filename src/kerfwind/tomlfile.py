"""A TOML text as plain data, or what is wrong with it: bounded before it is taken apart."""

from __future__ import annotations

import re
import tomllib
from dataclasses import replace
from typing import Any

from . import limits
from .facts import Name
from .faults import Faults, Refusal, refusal, shortened

_TOKEN = re.compile(r"\"\"\"|'''|[\"'#\[\]{}=,\n.]|[0-9A-Za-z_+\-]+")
_END = {
    '"""': re.compile(r'\\.|"""', re.S),
    "'''": re.compile("'''"),
    '"': re.compile(r'\\[^\n]|["\n]'),
    "'": re.compile(r"['\n]"),
    "#": re.compile("\n"),
}
_DIGITS = re.compile(r"[+-]?(?:0[xob])?[0-9A-Fa-f_]*(?:e[+-]?[0-9_]*)?")


#: A heading on its own line: whether of a row, its first key, and whether that is all of it.
_HEADING = re.compile(r"^[ \t]*(\[\[?)[ \t]*([A-Za-z0-9_-]+)[ \t]*(\]\]|\]|\.)", re.M)


class Tables:
    """Reads the same file again and again; the tables that an edit leaves are not read anew.

    What it gives is shared from reading to reading, and is not to be changed.
    """

    def __init__(self) -> None:
        self._known: dict[str, dict[str, Any]] = {}

    def load(self, text: str, file: str) -> dict[str, Any]:
        """As `load_toml`, which says what is raised."""
        try:
            found = self._joined(text.replace("\r\n", "\n"), file)
        except (Faults, tomllib.TOMLDecodeError):
            found = None
        if found is None or _held(found) > limits.TOML_VALUES:
            # What is wrong, or written in a rarer way, is told by the text as a whole.
            return load_toml(text, file)
        return found

    def _joined(self, text: str, file: str) -> dict[str, Any] | None:
        """The tables, read by their first key; None where they cannot be told apart.

        Tables of different first keys do not know of each other, nor do the rows of a list. Where
        a heading was taken for one within a text or a list, its piece before is not closed.
        """
        pieces = _pieces(text)
        if pieces is None:
            return None
        known, found = self._known, dict[str, Any]()
        self._known = {}
        for key, row, piece in pieces:
            data = known.get(piece)
            if data is None:
                _check_shape(piece, file)
                data = tomllib.loads(piece)
                if list(data) != [key]:
                    return None
            self._known[piece] = data
            if row:
                found.setdefault(key, []).extend(data[key])
            else:
                found[key] = data[key]
        return found


def _pieces(text: str) -> list[tuple[str, bool, str]] | None:
    """For each table the first key, whether it is one row of a list, and its text; None where
    anything stands before the first heading."""
    headings = list(_HEADING.finditer(text))
    before = text[: headings[0].start()] if headings else text
    if not headings or any(
        line.strip() and not line.lstrip().startswith("#") for line in before.split("\n")
    ):
        return None
    found: dict[str, list[list[str]]] = {}
    listed: dict[str, bool] = {}
    ends = [*(h.start() for h in headings[1:]), len(text)]
    for heading, end in zip(headings, ends, strict=True):
        mark, key, rest = heading.groups()
        own_row = mark == "[[" and rest == "]]"
        row = listed.setdefault(key, own_row)
        parts = found.setdefault(key, [])
        if not parts or (row and own_row):
            parts.append([])
        parts[-1].append(text[heading.start() : end])
    return [(key, listed[key], "".join(part)) for key, parts in found.items() for part in parts]


def load_toml(text: str, file: str, most_values: int = limits.TOML_VALUES) -> dict[str, Any]:
    """The tables of a TOML text.

    Raises
    ------
    Faults
        It is no TOML, or holds more than ``most_values`` keys and values, or nests them
        deeper, or has longer numbers, than `limits` says.
    """
    text = text.replace("\r\n", "\n")
    _check_shape(text, file)
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise Faults([_fault(text, file, error)]) from None
    held = _held(data)
    if held > most_values:
        raise Faults([refusal("toml.too_many", file=file, values=held, most=most_values)])
    return data


def _check_shape(text: str, file: str) -> None:
    """Depth and digits, in one pass over the text: a reader of TOML would choke on them."""
    at = depth = dots = 0

    def wrong(fault: Refusal) -> Faults:
        return Faults([replace(fault, file=file, line=text.count("\n", 0, at) + 1)])

    while (token := _TOKEN.search(text, at)) is not None:
        at, mark = token.end(), token.group()
        if mark in _END:
            end = _end_of(text, at, mark)
            if end is None:
                return  # Not closed: the reader says so.
            at = end
        elif mark in "[{":
            depth, dots = depth + 1, 0
        elif mark in "]}":
            depth, dots = max(0, depth - 1), 0
        elif mark == ".":
            dots += 1
        elif mark in "=,\n":
            dots = 0
        elif len(mark) > limits.DIGITS and mark[:1] in "+-0123456789" and _DIGITS.fullmatch(mark):
            digits = sum(c.isalnum() for c in mark)
            number, most = Name(shortened(mark, 20)), limits.DIGITS
            raise wrong(refusal("toml.digits", number=number, digits=digits, most=most))
        if depth + dots > limits.TOML_DEPTH:
            raise wrong(refusal("toml.deep", most=limits.TOML_DEPTH))


def _end_of(text: str, at: int, mark: str) -> int | None:
    """Where the string or comment ends that begins before ``at``; None where it is not closed."""
    while (found := _END[mark].search(text, at)) is not None:
        at, end = found.end(), found.group()
        if mark == "#":
            return at - 1
        if end == "\n":
            return None
        if end == mark:
            return at
    return len(text) if mark == "#" else None


def _held(part: Any) -> int:
    """Keys and values in all."""
    if isinstance(part, dict):
        return len(part) + sum(_held(value) for value in part.values())
    if isinstance(part, list):
        return sum(1 + _held(value) for value in part)
    return 0


def _fault(text: str, file: str, error: tomllib.TOMLDecodeError) -> Refusal:
    message = str(error)
    where = re.search(r"line\s+(\d+),\s+column\s+(\d+)", message)
    line = int(where.group(1)) if where else text.count("\n") + 1
    reason = message.split(" (at ")[0]
    rows = text.splitlines()
    found = rows[line - 1].strip() if 0 < line <= len(rows) else ""
    # The reader of TOML knows no other language, nor any kinds.
    twice = "overwrite" in reason.lower() or "twice" in reason.lower()
    return refusal(
        "toml.unread",
        file=file,
        line=line,
        at="row" if found else "end",
        found=Name(shortened(found)),
        why=Name(shortened(reason, 120)),
        cause="twice" if twice else "other",
    )
