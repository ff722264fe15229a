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
