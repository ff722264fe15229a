"""What is wrong with a shop file as it is written: its texts, and names that stand for nothing."""

from __future__ import annotations

import difflib
import re
from typing import Any

from .. import limits
from ..faults import Fault, shortened
from ..plaintext import hidden, named
from .catalogue.hoods import HOODS, OPERATIONS, Hood
from .filling import USUAL_HOSES, Path, metric_file, usual_sheets
from .positions import line_of, path_text, value_at


def text_faults(given: Any, name: str, lines: dict[Path, int], at: Path = ()) -> list[Fault]:
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
    most = limits.TEXTS[str(at[-1])]
    line_ends = "\n\r\t" if at[-1] == "notes" else ""
    strange = next((given[i] for i in hidden(given) if given[i] not in line_ends), None)
    if strange is not None:
        found, allowed = named(strange), "what can be printed"
        mend = "Take it out; this text stands on one line."
    elif len(given) > most and at[-1] != "currency":
        found, allowed = f"`{shortened(given)}`, {len(given)} characters", f"up to {most}"
        mend = "Shorten it; `notes` under [shop] have more room."
    elif at[-1] in ("name", "material") and max(map(len, given.split()), default=0) > limits.WORD:
        longest = max(map(len, given.split()))
        found = f"`{shortened(given)}`, with a word of {longest} characters"
        allowed = f"words of up to {limits.WORD} characters"
        mend = "Put a space into it: a table has no room for it on one line."
    elif at[-1] == "name" and not given.strip():
        found, allowed, mend = "an empty name", "a name to know it by", "Write what you call it."
    else:
        return []
    return [Fault(name, line_of(lines, at), path_text(at, {}), found, allowed, mend)]


def _tool_hoses(given: dict[str, Any]) -> list[str]:
    """Names of the hoses that go to the tools."""
    rows = given.get("hoses", USUAL_HOSES)
    return [
        row["name"]
        for row in (rows if isinstance(rows, (list, tuple)) else [])
        if isinstance(row, dict) and isinstance(row.get("name"), str) and row.get("use") != "link"
    ]


def _hoods_like(text: str) -> list[str]:
    """The hood whose name and description share the most words with a text; none with no word."""
    words = set(re.findall(r"[a-z]+", text.lower())) - {"a", "s", "the", "with", "and", "on"}

    def shared(hood: Hood) -> int:
        return len(words & set(re.findall(r"[a-z]+", f"{hood.key} {hood.what}")))

    best = max(HOODS.values(), key=shared)
    return [best.key] if shared(best) else []


def reference_faults(given: dict[str, Any], name: str, lines: dict[Path, int]) -> list[Fault]:
    """Names that stand for nothing in the file, names that stand twice, and lists without a row."""
    faults: list[Fault] = []

    def check(path: tuple[Any, ...], allowed: list[str], what: str) -> None:
        value = value_at(given, path)
        if isinstance(value, str) and value not in allowed:
            begin = value[:80]
            near = difflib.get_close_matches(begin, allowed, 1, 0.75)
            near = near or (_hoods_like(begin) if what == "hood" else [])
            near = near or difflib.get_close_matches(begin, allowed, 1, 0.4)
            mend = f"Did you mean `{near[0]}`?" if near else f"Use the name of one {what}."
            faults.append(
                Fault(
                    name,
                    line_of(lines, path),
                    path_text(path, given),
                    f"`{shortened(value)}`, which is no {what} here",
                    ", ".join(allowed) or "none is listed",
                    mend,
                )
            )

    def names(key: str) -> list[str]:
        usual = {"hoses": list(USUAL_HOSES), "sheets": usual_sheets(metric_file(given))}
        rows = given.get(key, usual.get(key))
        if not isinstance(rows, list):
            return []
        return [r["name"] for r in rows if isinstance(r, dict) and isinstance(r.get("name"), str)]

    if given.get("tools") == []:
        faults.append(
            Fault(
                name,
                line_of(lines, ("tools",)),
                "tools",
                "an empty list",
                "at least one tool",
                "Add one with a [[tools]] heading.",
            )
        )
    hoses = given.get("hoses")
    if isinstance(hoses, list) and all(
        isinstance(h, dict) and h.get("use") == "link" for h in hoses
    ):
        faults.append(
            Fault(
                name,
                line_of(lines, ("hoses",)),
                "hoses",
                "no hose that goes to the tools",
                'at least one with use = "tool"',
                "Add one with a [[hoses]] heading, or leave all hoses out.",
            )
        )
    tools = given.get("tools")
    for i, tool in enumerate(tools if isinstance(tools, list) else []):
        if isinstance(tool, dict):
            check(("tools", i, "hood"), list(HOODS), "hood")
            check(("tools", i, "operation"), list(OPERATIONS), "operation")
            check(("tools", i, "hose"), _tool_hoses(given), "hose for tools")
    check(("wishes", "sheet"), names("sheets"), "sheet")
    check(("wishes", "second_sheet"), names("sheets"), "sheet")
    check(("vacuum", "suction", "home_test", "hose"), names("hoses"), "hose")
    branches = given.get("branches")
    for i, branch in enumerate(branches if isinstance(branches, list) else []):
        if isinstance(branch, dict):
            check(("branches", i, "to"), ["unit", *names("branches")], "branch")
            check(("branches", i, "tool"), names("tools"), "tool")
    for key in ("tools", "hoses", "sheets", "fittings", "branches"):
        seen: set[str] = set()
        rows = given.get(key)
        for i, row in enumerate(rows if isinstance(rows, list) else []):
            label = row.get("name") if isinstance(row, dict) else None
            if isinstance(label, str):
                if label in seen:
                    faults.append(
                        Fault(
                            name,
                            line_of(lines, (key, i, "name")),
                            path_text((key, i), given),
                            f"a second `{shortened(label)}`",
                            "a name of its own for each",
                            "Add a word to one of the names.",
                        )
                    )
                seen.add(label)
    return faults
