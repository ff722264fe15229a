"""What is missing from sessions, and from all that only sessions ask for."""

from __future__ import annotations

from typing import Any

from ..facts import Name, Term, state
from .catalogue.hoods import HOODS
from .catalogue.sessions import READY, ReadyTask
from .filler import Filled, Filler, Path, each_row, si_of

#: Operation: kerf, depth, width, feed and part of the time that it cuts; inches, then metric.
_CUTS: dict[str, dict[str, tuple[str, str]]] = {
    "sawing": {
        "kerf": ("0.09..0.14 in", "2.2..3.5 mm"),
        "depth": ("0.7..1.2 in", "18..30 mm"),
        "feed": ("6..20 fpm", "2..6 m/min"),
        "cutting": ("10..40 %", "10..40 %"),
    },
    "planing": {
        "depth": ("0.02..0.06 in", "0.5..1.5 mm"),
        "width": ("4..9 in", "100..230 mm"),
        "feed": ("13..26 fpm", "4..8 m/min"),
        "cutting": ("20..60 %", "20..60 %"),
    },
    "routing": {
        "depth": ("0.1..0.4 in", "3..10 mm"),
        "width": ("0.2..0.7 in", "5..18 mm"),
        "feed": ("3..12 fpm", "1..4 m/min"),
        "cutting": ("15..50 %", "15..50 %"),
    },
    "drilling": {
        "width": ("0.2..0.8 in", "5..20 mm"),
        "feed": ("0.3..2 fpm", "2..10 mm/s"),
        "cutting": ("5..25 %", "5..25 %"),
    },
    "sanding": {"cutting": ("50..95 %", "50..95 %")},
    "turning": {"cutting": ("40..90 %", "40..90 %")},
    "sweeping": {"cutting": ("50..100 %", "50..100 %")},
}


def fill_sessions(f: Filler, data: dict[str, Any], metric: bool) -> None:
    """Complete each session; nothing is assumed of a shop that has none."""
    if not isinstance(data.get("sessions"), list) or not data["sessions"]:
        return
    for i, session in each_row(data, "sessions"):
        here: Path = ("sessions", i)
        _ready(f, data, session, here)
        f.put(session, here, "stay", "0..30 min", state("assumed.stays_to_tidy"))
        f.put(session, here, "emptying", "indoors", state("assumed.emptied_inside"))
        f.put(session, here, "mask", "none", state("assumed.nothing_said"))
        f.put(session, here, "hearing", "none", state("assumed.nothing_said"))
        for j, task in each_row(session, "operations"):
            _task(f, data, task, (*here, "operations", j), metric)
    _around(f, data)


def _ready(f: Filler, data: dict[str, Any], session: dict[str, Any], here: Path) -> None:
    """Operations of a ready-made session, at the tools that this shop has."""
    name = session.get("ready")
    if not isinstance(name, str) or name not in READY or "operations" in session:
        return
    tools = [t for _, t in each_row(data, "tools") if isinstance(t.get("name"), str)]
    rows: list[dict[str, Any]] = []
    for each in READY[name]:
        tool = _tool_for(each, tools)
        if tool is None and not each.by_hand:
            continue
        row: dict[str, Any] = {
            "operation": each.operation,
            "time": each.time,
            "material": each.material,
        }
        row |= each.more
        if tool is not None:
            row["tool"] = tool
        rows.append(row)
        for key in row:
            why = state("assumed.ready_made", session=Name(name))
            f.made[(*here, "operations", len(rows) - 1, key)] = Filled(why)
    session["operations"] = rows


def _tool_for(task: ReadyTask, tools: list[dict[str, Any]]) -> str | None:
    return next((t["name"] for hood in task.hoods for t in tools if t.get("hood") == hood), None)


def _task(f: Filler, data: dict[str, Any], task: dict[str, Any], here: Path, metric: bool) -> None:
    tool = next((t for _, t in each_row(data, "tools") if t.get("name") == task.get("tool")), None)
    hood = HOODS.get(str(tool.get("hood"))) if tool else None
    if "tool" not in task:
        f.put(task, here, "operation", "sanding", state("assumed.by_hand"))
    elif isinstance(tool, dict) and isinstance(tool.get("operation"), str):
        f.put(task, here, "operation", tool["operation"], None)
    f.put(task, here, "operation", hood.operations[0] if hood else "sanding", None)
    f.put(task, here, "material", "wood", state("assumed.wood_unnamed"))
    usual = _CUTS.get(str(task.get("operation")), {})
    if "removed" in task:
        usual = {key: usual[key] for key in ("cutting",) if key in usual}
    why = state("assumed.usual_work", operation=Term("operation", _known(task)))
    for key, (inches, millimetres) in usual.items():
        saw = data.get("saw")
        if key == "kerf" and isinstance(saw, dict) and isinstance(saw.get("kerf"), str):
            made = f.made.get(("saw", "kerf"))
            f.put(task, here, key, saw["kerf"], made.why if made else None)
        f.put(task, here, key, millimetres if metric else inches, why)
    if task.get("operation") == "sanding":
        f.put(task, here, "grit", 120, state("assumed.middling_grit"))


def _known(task: dict[str, Any]) -> str:
    operation = str(task.get("operation"))
    return operation if operation in _CUTS else "sanding"


def _around(f: Filler, data: dict[str, Any]) -> None:
    """The room's air, the vacuum's filter and noise, and whose rules hold."""
    volts = si_of(data.get("circuit"), "volts", "voltage") or 120.0
    about = f.table(data, "about")
    rules = "us" if volts < 150 else "eu"
    f.put(about, ("about",), "rules", rules, state("assumed.rules_by_voltage"))
    room = f.table(data, "room")
    f.put(room, ("room",), "air_changes", "0.2..2", state("assumed.leaky_garage"))
    f.put(room, ("room",), "door", "closed", state("assumed.door_shut"))
    vacuum = f.table(data, "vacuum")
    here: Path = ("vacuum",)
    f.put(vacuum, here, "filter_class", "unknown", state("assumed.no_class"))
    f.put(vacuum, here, "filter_area", "0.15..1.2 m²", state("assumed.cartridge"))
