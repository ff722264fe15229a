"""A TOML text as plain data, or what is wrong with it: bounded before it is taken apart."""

from __future__ import annotations

import re
import tomllib
from typing import Any

from . import limits
from .faults import Fault, Faults, shortened

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
        found, allowed = f"{held:,} keys and values", f"up to {most_values:,}"
        mend = "Keep what the plan is for, or make two files of it."
        raise Faults([Fault(file, 0, "", found, allowed, mend)])
    return data


def _check_shape(text: str, file: str) -> None:
    """Depth and digits, in one pass over the text: a reader of TOML would choke on them."""
    at = depth = dots = 0

    def wrong(found: str, allowed: str, mend: str) -> Faults:
        return Faults([Fault(file, text.count("\n", 0, at) + 1, "", found, allowed, mend)])

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
            raise wrong(
                f"a number of {digits:,} digits, `{shortened(mark, 20)}`",
                f"up to {limits.DIGITS} digits",
                "Write as many as you can measure.",
            )
        if depth + dots > limits.TOML_DEPTH:
            raise wrong(
                f"tables more than {limits.TOML_DEPTH} deep in one another",
                "tables and keys as `kerfwind schema` names them",
                "Take out the brackets or dots that are too many.",
            )


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


def _fault(text: str, file: str, error: tomllib.TOMLDecodeError) -> Fault:
    message = str(error)
    where = re.search(r"\(at line (\d+), column (\d+)\)", message)
    line = int(where.group(1)) if where else text.count("\n") + 1
    reason = message.split(" (at ")[0]
    rows = text.splitlines()
    shown = rows[line - 1].strip() if 0 < line <= len(rows) else "the end of the file"
    mend = 'Texts stand in quotes, such as height = "22 in"; a table starts with [name].'
    if "overwrite" in reason.lower() or "twice" in reason.lower():
        mend = "A key stands twice in this table; keep one."
    return Fault(file, line, "", f"{shortened(shown)}  ({shortened(reason, 120)})", "TOML", mend)
