"""What is wrong with a shop file as it is written: its texts, and names that stand for nothing."""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any, Literal

from .. import limits
from ..facts import Fact, Listing, Name, Term, state
from ..faults import Refusal, refusal, shortened
from ..plaintext import hidden, is_control
from .catalogue.hoods import HOODS, OPERATIONS
from .catalogue.sessions import READY
from .catalogue.trade_words import hoods_meant, operations_meant
from .filler import Path, each_row
from .filling import metric_file, usual_hoses, usual_sheets
from .positions import KeyLines, path_text, value_at


def text_faults(given: Any, name: str, lines: KeyLines, at: Path = ()) -> list[Refusal]:
    """Texts that no page could show: empty, too long, or with a control character.

    ``at`` is the path of ``given`` in the file; ``lines`` are the lines of its keys.
    """
    if isinstance(given, (dict, list)):
        rows = given.items() if isinstance(given, dict) else enumerate(given)
        return [
            fault for key, value in rows for fault in text_faults(value, name, lines, (*at, key))
        ]
    if not isinstance(given, str) or not at or at[-1] not in limits.TEXTS:
        return []
    found = _text_fault(given, str(at[-1]))
    if found is None:
        return []
    return [replace(found, file=name, line=lines.of(at), place=path_text(at, {}))]


def _text_fault(given: str, key: str) -> Refusal | None:
    most = limits.TEXTS[key]
    line_ends = "\n\r\t" if key == "notes" else ""
    strange = next((given[i] for i in hidden(given) if given[i] not in line_ends), None)
    if strange is not None:
        char = "control" if is_control(strange) else "invisible"
        return refusal("shop.text.hidden", char=char, code=Name(f"U+{ord(strange):04X}"))
    text = Name(shortened(given))
    if len(given) > most and key != "currency":
        return refusal("shop.text.long", given=text, length=len(given), most=most)
    longest = max(map(len, given.split()), default=0)
    if key in ("name", "material") and longest > limits.WORD:
        return refusal("shop.text.long_word", given=text, length=longest, most=limits.WORD)
    if key == "name" and not given.strip():
        return refusal("shop.text.empty_name")
    return None


def _tool_hoses(given: dict[str, Any]) -> list[str]:
    """Names of the hoses that go to the tools."""
    rows = given.get("hoses", usual_hoses())
    return [
        row["name"]
        for row in (rows if isinstance(rows, (list, tuple)) else [])
        if isinstance(row, dict) and isinstance(row.get("name"), str) and row.get("use") != "link"
    ]


def meant_by(text: str, allowed: Sequence[str], meant: Sequence[str]) -> list[str]:
    """What was likely meant: a slip of the pen, else by meaning, else what is spelled most alike."""
    slip = difflib.get_close_matches(text.lower(), allowed, 1, _SLIP)
    return slip or list(meant) or difflib.get_close_matches(text.lower(), allowed, 1, _ALIKE)


def _candidate(key: str, what: Listed) -> Fact:
    return (
        state("shop.candidate", name=Name(key), means=Term("hood", key))
        if what == "hood"
        else Name(key)
    )


def _operations(sessions: object) -> int:
    """How many operations all sessions list together."""
    rows = (
        [s.get("operations") for s in sessions if isinstance(s, dict)]
        if isinstance(sessions, list)
        else []
    )
    return sum(len(each) for each in rows if isinstance(each, list))


def _only_sweeps(rows: object) -> bool:
    return isinstance(rows, list) and all(
        isinstance(row, dict) and row.get("operation") == "sweeping" for row in rows
    )


#: How alike two spellings are, of 1: a slip of the pen, and likely the same word.
_SLIP, _ALIKE = 0.86, 0.6
#: What a name in the file can stand for.
Listed = Literal["hood", "operation", "tool_hose", "hose", "sheet", "branch", "tool", "ready"]


def references(given: dict[str, Any]) -> Iterator[tuple[Path, str, Listed]]:
    """Where a row is meant by its name: the path, the list the row is in, and what it is there."""
    for i, _ in each_row(given, "tools"):
        yield ("tools", i, "hose"), "hoses", "tool_hose"
    for key in ("sheet", "second_sheet"):
        yield ("wishes", key), "sheets", "sheet"
    yield ("vacuum", "suction", "home_test", "hose"), "hoses", "hose"
    for i, _ in each_row(given, "branches"):
        yield ("branches", i, "to"), "branches", "branch"
        yield ("branches", i, "tool"), "tools", "tool"
    for i, session in each_row(given, "sessions"):
        for j, _ in each_row(session, "operations"):
            yield ("sessions", i, "operations", j, "tool"), "tools", "tool"


def reference_faults(given: dict[str, Any], name: str, lines: KeyLines) -> list[Refusal]:
    """Names that stand for nothing in the file, names that stand twice, and lists without a row."""
    faults: list[Refusal] = []

    def refuse(path: tuple[Any, ...], named: str, found: Refusal) -> None:
        faults.append(replace(found, file=name, line=lines.of(path), place=named))

    def check(path: tuple[Any, ...], allowed: list[str], what: Listed) -> None:
        value = value_at(given, path)
        if not isinstance(value, str) or value in allowed:
            return
        meant = {"hood": hoods_meant, "operation": operations_meant}.get(what)
        near = meant_by(value[:80], allowed, meant(value[:80]) if meant else ())
        text = Name(shortened(value))
        known = Listing(tuple(map(Name, allowed)), "commas") if allowed else state("shop.none")
        if len(near) > 1:
            which = Listing(tuple(_candidate(each, what) for each in near), "semicolons")
            found = refusal("shop.no_such.several", what=what, given=text, known=known, which=which)
        elif near:
            found = refusal(
                "shop.no_such.near", what=what, given=text, known=known, near=Name(near[0])
            )
        else:
            found = refusal("shop.no_such", what=what, given=text, known=known)
        refuse(path, path_text(path, given), found)

    def names(key: str) -> list[str]:
        rows = given.get(key)
        if rows is None and key == "hoses":
            rows = usual_hoses()
        elif rows is None and key == "sheets":
            rows = usual_sheets(metric_file(given))
        if not isinstance(rows, list):
            return []
        return [r["name"] for r in rows if isinstance(r, dict) and isinstance(r.get("name"), str)]

    if given.get("tools") == []:
        refuse(("tools",), "tools", refusal("shop.tools.empty"))
    hoses = given.get("hoses")
    if isinstance(hoses, list) and all(
        isinstance(h, dict) and h.get("use") == "link" for h in hoses
    ):
        refuse(("hoses",), "hoses", refusal("shop.hoses.none_for_tools"))
    for i, _ in each_row(given, "tools"):
        check(("tools", i, "hood"), list(HOODS), "hood")
        check(("tools", i, "operation"), list(OPERATIONS), "operation")
    listed = {key: names(key) for key in ("hoses", "sheets", "branches", "tools")}
    for path, key, what in references(given):
        allowed = _tool_hoses(given) if what == "tool_hose" else listed[key]
        check(path, ["unit", *allowed] if what == "branch" else allowed, what)
    operations = _operations(given.get("sessions"))
    if operations > limits.ALL_OPERATIONS:
        many = refusal("shop.many_operations", rows=operations, most=limits.ALL_OPERATIONS)
        refuse(("sessions",), "sessions", many)
    for i, session in each_row(given, "sessions"):
        check(("sessions", i, "ready"), list(READY), "ready")
        rows = session.get("operations")
        at: tuple[Any, ...]
        if isinstance(rows, list) and len(rows) > limits.OPERATIONS:
            long = refusal("shop.long_list", rows=len(rows), most=limits.OPERATIONS)
            at = ("sessions", i, "operations", limits.OPERATIONS)
            refuse(at, path_text(at[:3], given), long)
        for j, task in each_row(session, "operations"):
            check(("sessions", i, "operations", j, "operation"), list(OPERATIONS), "operation")
            if task.get("operation") == "sweeping" and "removed" in task:
                at = ("sessions", i, "operations", j, "removed")
                refuse(at, path_text(at, given), refusal("shop.session.swept"))
        row: tuple[Any, ...] = ("sessions", i)
        if not rows and session.get("ready") is None:
            refuse(row, path_text(row, given), refusal("shop.session.empty"))
        if rows and _only_sweeps(rows):
            refuse(row, path_text(row, given), refusal("shop.session.only_swept"))
    for key in ("tools", "hoses", "sheets", "fittings", "branches", "sessions"):
        seen: set[str] = set()
        rows = given.get(key)
        for i, row in enumerate(rows if isinstance(rows, list) else []):
            label = row.get("name") if isinstance(row, dict) else None
            if isinstance(label, str):
                if label in seen:
                    second = refusal("shop.name_twice", given=Name(shortened(label)))
                    refuse((key, i, "name"), path_text((key, i), given), second)
                seen.add(label)
    return faults
