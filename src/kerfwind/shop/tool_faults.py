"""What of a tool's making and standing cannot be, though each value could."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from .. import limits
from ..facts import Amount, Name
from ..faults import Refusal, refusal
from .catalogue.hoods import BOX
from .model import Rectangle, Shop, Tool

Found = tuple[tuple[Any, ...], Refusal]
#: How far an outline may lie over a wall's line before it is a mistake [m].
_SLACK_M = 0.02


def tool_faults(shop: Shop) -> Iterator[Found]:
    """The place of each fault, and what is wrong there."""
    hoses = [i for i, hose in enumerate(shop.hoses) if hose.use == "tool"]
    if len(hoses) > limits.TOOL_HOSES:
        yield (
            ("hoses", hoses[limits.TOOL_HOSES]),
            refusal("shop.tool.many_hoses", hoses=len(hoses), most=limits.TOOL_HOSES),
        )
    for i, tool in enumerate(shop.tools):
        yield from _made(i, tool)
        yield from _stands(i, tool, shop)


def _made(i: int, tool: Tool) -> Iterator[Found]:
    boxed = tool.hood == BOX
    if boxed and tool.opening is None:
        yield ("tools", i, "hood"), refusal("shop.tool.box_without_face", hood=Name(BOX))
    if tool.made is None:
        if tool.opening is not None and not boxed:
            yield ("tools", i, "opening"), refusal("shop.tool.nothing_covers")
        return
    made = Name(tool.made)
    if tool.hood == "blade guard":
        yield ("tools", i, "made"), refusal("shop.tool.guard", made=made)
    if (tool.port.nominal or "").strip().lower() != "none":
        yield ("tools", i, "made"), refusal("shop.tool.made_beside_port", made=made)
    if tool.made == "plate" and boxed:
        yield ("tools", i, "made"), refusal("shop.tool.plate_on_box", made=made, hood=Name(BOX))
    if tool.made == "hood box" and tool.opening is None and not boxed:
        yield ("tools", i, "made"), refusal("shop.tool.made_without_face")
    if tool.made == "plate" and tool.bored == "side":
        yield ("tools", i, "bored"), refusal("shop.tool.side_of_plate")


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
            yield ("tools", i, "size"), refusal("shop.tool.outline_nowhere")
        return
    if room.length.assumed or room.width.assumed:
        return
    spots = [(place.x.best_si, place.y.best_si)]
    if tool.size is not None:
        spots = corners(*spots[0], tool.size, place.turn.best_si)
    for axis, wall in ((0, room.length), (1, room.width)):
        along = [p[axis] for p in spots]
        over = max(max(along) - wall.best_si, -min(along))
        if over > _SLACK_M:
            beyond = refusal(
                "shop.tool.beyond_wall",
                part="outline" if tool.size is not None else "middle",
                over=Amount(over, "length"),
                side="length" if axis == 0 else "width",
                room=Name(wall.text),
            )
            yield ("tools", i, "place"), beyond
            return
