"""Ready-made sessions to start from: invented days of ordinary work."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True)
class ReadyTask:
    """One operation; it is done at the first tool with one of these hoods, by hand where none."""

    operation: str
    hoods: tuple[str, ...]
    time: str
    material: str
    more: dict[str, object] = field(default_factory=dict)
    by_hand: bool = False


_SAW = ("saw cabinet", "saw shroud", "blade guard", "band saw port", "mitre boot")
_CROSSCUT = ("mitre boot", "saw cabinet", "saw shroud", "band saw port")
_SANDER = ("pad holes", "belt shroud", "disc table")

READY: dict[str, tuple[ReadyTask, ...]] = {
    "shelves": (
        ReadyTask("sawing", _SAW, "25 min", "walnut plywood"),
        ReadyTask("routing", ("router fence", "router base"), "15 min", "walnut plywood"),
        ReadyTask("sanding", _SANDER, "45 min", "walnut plywood", {"grit": 120}, by_hand=True),
    ),
    "boards": (
        ReadyTask("planing", ("jointer chute",), "15 min", "oak"),
        ReadyTask("planing", ("planer hood",), "30 min", "oak"),
        ReadyTask("sawing", _SAW, "20 min", "oak"),
        ReadyTask("sawing", _CROSSCUT, "10 min", "oak"),
    ),
    "sanding": (
        ReadyTask("sanding", _SANDER, "60 min", "maple", {"grit": 80}, by_hand=True),
        ReadyTask("sanding", _SANDER, "45 min", "maple", {"grit": 180}, by_hand=True),
        ReadyTask("sanding", (), "15 min", "maple", {"grit": 220}, by_hand=True),
    ),
    "small parts": (
        ReadyTask("sawing", _CROSSCUT, "15 min", "pine"),
        ReadyTask("drilling", ("drill fence",), "15 min", "pine"),
        ReadyTask("turning", ("lathe hood",), "30 min", "pine"),
        ReadyTask("sanding", _SANDER, "15 min", "pine", {"grit": 150}, by_hand=True),
    ),
}
