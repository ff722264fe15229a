"""The shop's floor from above; its tools are dragged to where they stand."""

from __future__ import annotations

import htpy as h

from ..looking import Looking
from ..paths import coded

#: Half a tool's side where its size is not known [m].
_USUAL_M = 0.3


def floor(look: Looking) -> h.Node:
    """The floor to scale, y away from the viewer; nothing until the file has been read."""
    if look.file is None:
        return None
    shop = look.file.shop
    room = shop.room
    wide = max([room.length.best_si, *(t.place.x.best_si + 0.5 for t in shop.tools if t.place)])
    deep = max([room.width.best_si, *(t.place.y.best_si + 0.5 for t in shop.tools if t.place)])
    placed, waiting = [], []
    for number, tool in enumerate(shop.tools):
        (placed if tool.place else waiting).append((number, tool))
    unit = "mm" if shop.about.units == "mm" else "in"
    boxes = []
    for _, tool in placed:
        assert tool.place is not None
        half_x = tool.size.length.best_si / 2 if tool.size else _USUAL_M
        half_y = tool.size.width.best_si / 2 if tool.size else _USUAL_M
        x, y = tool.place.x.best_si, deep - tool.place.y.best_si
        turn = tool.place.turn.best_si if tool.place.turn is not None else 0.0
        boxes.append(
            h.g(
                ".tool",
                tabindex="0",
                role="img",
                aria_label=tool.name,
                data_tool=tool.name,
                data_place=coded(("tools", tool.name, "place")),
                data_x=f"{tool.place.x.best_si:.4f}",
                data_y=f"{tool.place.y.best_si:.4f}",
                transform=f"translate({x:.3f} {y:.3f})",
            )[
                h.rect(
                    x=f"{-half_x:.3f}",
                    y=f"{-half_y:.3f}",
                    width=f"{2 * half_x:.3f}",
                    height=f"{2 * half_y:.3f}",
                    transform=f"rotate({-turn * 57.29578:.1f})",
                ),
                h.text(y=f"{half_y + 0.2:.3f}", text_anchor="middle")[tool.name],
            ]
        )
    return [
        h.h2[look.label("floor")],
        h.p(".quiet")[look.label("floor.how")],
        h.svg(
            "#floor.floor",
            viewBox=f"-0.2 -0.3 {wide + 0.4:.3f} {deep + 0.7:.3f}",
            data_deep=f"{deep:.4f}",
            data_unit=unit,
            role="group",
            aria_label=look.label("floor"),
        )[
            h.rect(
                ".room",
                x="0",
                y=f"{deep - room.width.best_si:.3f}",
                width=f"{room.length.best_si:.3f}",
                height=f"{room.width.best_si:.3f}",
            ),
            (
                h.circle(
                    ".outlet", cx=f"{o.x.best_si:.3f}", cy=f"{deep - o.y.best_si:.3f}", r="0.08"
                )
                for o in room.outlets
            ),
            boxes,
        ],
        h.p[
            look.label("floor.waiting"),
            " ",
            (
                h.button(
                    ".quiet",
                    type="button",
                    data_do="set",
                    data_place=coded(("tools", tool.name, "place")),
                    data_new='{"x": "3 ft", "y": "3 ft"}'
                    if unit == "in"
                    else '{"x": "1 m", "y": "1 m"}',
                    data_old="null",
                )[tool.name]
                for _, tool in waiting
            ),
        ]
        if waiting
        else None,
    ]
