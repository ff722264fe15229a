"""Tools by the names that the trade has for them, and what each usually has for its dust."""

from __future__ import annotations

import re

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


def hood_of(name: str, voice: Voice) -> str | None:
    """What a tool has for its dust, by any of its names in what was typed; the longest counts.

    >>> hood_of("my old chop saw", Voice()), hood_of("Miter Saw", Voice()), hood_of("vase", Voice())
    ('mitre boot', 'mitre boot', None)
    """
    typed = _plain(name)
    best, found = 0, None
    for key, hood in HOOD_OF.items():
        names = f"{tool_name(key, voice)}, {voice.say(f'app.tool.{key}', (), 'names')}"
        for each in filter(None, map(_plain, names.split(","))):
            if len(each) > best and re.search(rf"\b{re.escape(each)}s?\b", typed):
                best, found = len(each), hood
    return found


def _plain(text: str) -> str:
    return re.sub(r"[\s-]+", " ", text.casefold()).strip()
