"""What of a tool's making and standing cannot be, though each value could."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from .. import limits
from .catalogue.hoods import BOX
from .model import Rectangle, Shop, Tool

Found = tuple[tuple[Any, ...], str, str, str]
#: How far an outline may lie over a wall's line before it is a mistake [m].
_SLACK_M = 0.02


def tool_faults(shop: Shop) -> Iterator[Found]:
    """Place, what was found, what is allowed, how to mend it."""
    hoses = [i for i, hose in enumerate(shop.hoses) if hose.use == "tool"]
    if len(hoses) > limits.TOOL_HOSES:
        yield (
            ("hoses", hoses[limits.TOOL_HOSES]),
            f"{len(hoses)} hoses for tools",
            f"up to {limits.TOOL_HOSES}, to be weighed against each other",
            "Leave out those that never go to a tool, or are like another.",
        )
    for i, tool in enumerate(shop.tools):
        yield from _made(i, tool)
        yield from _stands(i, tool, shop)


def _made(i: int, tool: Tool) -> Iterator[Found]:
    boxed = tool.hood == BOX
    if boxed and tool.opening is None:
        yield (
            ("tools", i, "hood"),
            f"`{BOX}` without the face it covers",
            "a hood box with its `opening`: its need of air is its face's",
            'Add opening = { length = "…", width = "…" }.',
        )
    if tool.made is None:
        if tool.opening is not None and not boxed:
            yield (
                ("tools", i, "opening"),
                "an opening, with nothing to cover it",
                'an opening beside `made`, or hood = "hood box"',
                'Add made = "plate", or leave the opening out.',
            )
        return
    if tool.hood == "blade guard":
        yield (
            ("tools", i, "made"),
            f"`{tool.made}` on a guard",
            "a guard as its maker made it, with its own port: never bored, cut or boxed in",
            'Name its port, or take the dust from the saw with hood = "saw cabinet".',
        )
    if (tool.port.nominal or "").strip().lower() != "none":
        yield (
            ("tools", i, "made"),
            f"`{tool.made}` beside a port",
            "one of them: what is made takes the hose itself",
            "Remove `port`, or remove `made`.",
        )
    if tool.made == "plate" and boxed:
        yield (
            ("tools", i, "made"),
            f"`plate` on a `{BOX}`",
            'made = "hood box" for that hood',
            'Write made = "hood box", or name the hood the plate goes onto.',
        )
    if tool.made == "hood box" and tool.opening is None and not boxed:
        yield (
            ("tools", i, "made"),
            "a hood box without the face it covers",
            "a hood box with its `opening`",
            'Add opening = { length = "…", width = "…" }.',
        )
    if tool.made == "plate" and tool.bored == "side":
        yield (
            ("tools", i, "bored"),
            "`side`, of a plate",
            "`back`: a plate has but one face",
            'Remove `bored`, or write made = "hood box".',
        )


def corners(x: float, y: float, size: Rectangle, turn_rad: float) -> list[tuple[float, float]]:
    """Corners [m] of an outline about its middle, counter-clockwise."""
    c, s = math.cos(turn_rad), math.sin(turn_rad)
    half = (size.length.best_si / 2, size.width.best_si / 2)
    return [
        (x + a * half[0] * c - b * half[1] * s, y + a * half[0] * s + b * half[1] * c)
        for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    ]


def _stands(i: int, tool: Tool, shop: Shop) -> Iterator[Found]:
    place, room = tool.place, shop.room
    if place is None:
        if tool.size is not None:
            yield (
                ("tools", i, "size"),
                "an outline without a place",
                "an outline beside `place`",
                "Say where its middle stands, or leave the outline out.",
            )
        return
    if room.length.assumed or room.width.assumed:
        return
    spots = [(place.x.best_si, place.y.best_si)]
    if tool.size is not None:
        spots = corners(*spots[0], tool.size, place.turn.best_si)
    for axis, wall, name in ((0, room.length, "length"), (1, room.width, "width")):
        along = [p[axis] for p in spots]
        over = max(max(along) - wall.best_si, -min(along))
        if over > _SLACK_M:
            what = "its outline" if tool.size is not None else "its middle"
            yield (
                ("tools", i, "place"),
                f"{what} {over * 1000:.0f} mm beyond a wall",
                f"inside the room's {name}, `{wall.text}`",
                "Measure place and outline again; `place` is the outline's middle.",
            )
            return
