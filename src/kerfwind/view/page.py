"""Headings, labels and column titles of the pages."""

from __future__ import annotations

from typing import Any

from ..words import Voice

#: Headings and short texts between them, in the order of the pages.
_TEXTS = (
    "found",
    "found.intro",
    "do",
    "measure",
    "good",
    "air",
    "air.intro",
    "help",
    "help.intro",
    "help.nothing",
    "worth_measuring",
    "branches",
    "measured",
    "hookups",
    "hookups.intro",
    "next",
    "print",
    "boards",
    "gains",
    "wall",
    "wall.intro",
    "labels",
    "rooms",
    "rooms.intro",
    "sessions",
    "sessions.intro",
    "session.air",
    "session.flow",
    "session.bucket",
    "session.dose",
    "cart",
    "panels",
    "panels.note",
    "apart",
    "apart.intro",
    "sheets",
    "cuts",
    "shapes",
    "hardware",
    "to_buy",
    "steps",
    "takes",
    "finish",
    "carries",
    "carries.intro",
    "moving",
    "power",
    "emptying",
    "assumed",
    "sources",
)
#: Column titles of each table.
_COLUMNS = {
    "air": ("tool", "airflow", "wanted", "chips_carried", "dust_caught", "hose"),
    "help": ("change", "airflow_gained", "then_caught", "costs_about"),
    "branches": ("tool", "airflow", "chips_carried", "dust_caught", "best_gate"),
    "measured": ("tool", "what", "predicted", "measured", "recalibrated"),
    "next": ("tool", "as_planned", "by_next_best"),
    "gains": ("fitting", "airflow_at", "price"),
    "rooms": ("hoses", "moves", "lost", "new_hose", "out_of_reach"),
    "session_tasks": ("operation", "time", "dust_made", "caught_part", "air_mean"),
    "session_limits": ("limit", "most", "day", "verdict"),
    "session_effects": ("change", "left_peak", "left_mean", "left_day"),
    "panels": ("mark", "panel", "number", "length", "width", "thick", "grain"),
    "hardware": ("number", "what", "where"),
    "to_buy": ("number", "what", "each", "together"),
    "work": ("work", "hours"),
    "tools": ("tool", "for", "without"),
    "assumed": ("place", "taken_as", "why"),
}


def page_words(voice: Voice) -> dict[str, Any]:
    """All of them by name, ``columns`` by table."""
    texts: dict[str, Any] = {name.replace(".", "_"): voice.word(f"page.{name}") for name in _TEXTS}
    texts["columns"] = {
        table: [voice.word(f"page.column.{name}") for name in names]
        for table, names in _COLUMNS.items()
    }
    return texts
