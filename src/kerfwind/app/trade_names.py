"""Tools by the names that the trade has for them, and what each usually has for its dust."""

from __future__ import annotations

from ..words import Voice

#: What a tool of this name usually has; the more usual tools first.
HOOD_OF = {
    "random-orbit-sander": "pad holes",
    "belt-sander": "belt shroud",
    "disc-sander": "disc table",
    "table-saw": "saw cabinet",
    "saw-guard": "blade guard",
    "track-saw": "saw shroud",
    "mitre-saw": "mitre boot",
    "band-saw": "band saw port",
    "router-table": "router fence",
    "router": "router base",
    "planer": "planer hood",
    "jointer": "jointer chute",
    "drill-press": "drill fence",
    "lathe": "lathe hood",
    "floor-sweep": "floor nozzle",
    "bench-sweep": "bench nozzle",
    "other": "hood box",
}


def tool_name(key: str, voice: Voice) -> str:
    """The usual name of a tool."""
    return voice.say(f"app.tool.{key}")
