"""What is written in another way than the file keeps it, and means the same."""

from __future__ import annotations

from typing import Any

from .catalogue.generic import nominal_row
from .catalogue.hoods import HOODS
from .catalogue.trade_words import as_spelled_here

#: Fields that hold an end, by the part that has them.
_ENDS = {
    "vacuum": ("inlet",),
    "cyclone": ("inlet", "outlet"),
    "hoses": ("tool_end", "unit_end"),
    "tools": ("port",),
    "fittings": ("end_a", "end_b"),
}


def as_written_here(data: dict[str, Any]) -> None:
    """Put other spellings into the file's own, in place; all else is left for the checks.

    An end may be written as the name of its size, `port = "2-1/2 in"`; `miter boot` and
    `fiber` are known as well as `mitre boot` and `fibre`.
    """
    for key in ("hoses", "tools", "fittings"):
        rows = data.get(key)
        for row in rows if isinstance(rows, list) else ():
            _ends(row, _ENDS[key])
            if isinstance(row, dict) and isinstance(row.get("hood"), str):
                row["hood"] = _hood(row["hood"])
    _ends(data.get("vacuum"), _ENDS["vacuum"])
    separator = data.get("separator")
    if isinstance(separator, dict):
        _ends(separator.get("cyclone"), _ENDS["cyclone"])
        bucket = separator.get("bucket")
        if isinstance(bucket, dict) and isinstance(bucket.get("made_of"), str):
            bucket["made_of"] = as_spelled_here("made_of", bucket["made_of"])


def _hood(text: str) -> str:
    plain = " ".join(text.lower().split())
    return plain if plain in HOODS else as_spelled_here("hood", text)


def _ends(part: Any, names: tuple[str, ...]) -> None:
    """Ends that are written as the name of their size."""
    if not isinstance(part, dict):
        return
    for name in names:
        text = part.get(name)
        if isinstance(text, str) and (nominal_row(text) or text.strip().lower() == "none"):
            part[name] = {"nominal": text}
