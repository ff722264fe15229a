"""The shop's floor from above; its tools are dragged to where they stand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import htpy as h

from ...drawing.textsize import text_width
from ...facts import Name
from ...shop import Shop, Tool
from ..looking import Looking
from ..paths import coded

#: Half a tool's side where its size is not known, and the height of the names [m].
_USUAL_M, _TEXT_M = 0.3, 0.19

#: Left, lowest, right and highest of a box, y downwards as it is drawn [m].
_Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class _Placed:
    """A tool as it stands on the map [m]; its name lies ``across`` and ``down`` of its middle."""

    tool: Tool
    x: float
    y: float
    half_x: float
    half_y: float
    turn_rad: float
    across: float = 0.0
    down: float = 0.0

    @property
    def box(self) -> _Box:
        """What it covers; turned ones by the circle around them."""
        a, b = self.half_x, self.half_y
        if self.turn_rad:
            a = b = (a * a + b * b) ** 0.5
        return (self.x - a, self.y - b, self.x + a, self.y + b)


def floor(look: Looking) -> h.Node:
    """The floor to scale, y away from the viewer; nothing until the file has been read."""
    if look.file is None:
        return None
    shop = look.file.shop
    room = shop.room
    wide = max([room.length.best_si, *(t.place.x.best_si + 0.5 for t in shop.tools if t.place)])
    deep = max([room.width.best_si, *(t.place.y.best_si + 0.5 for t in shop.tools if t.place)])
    waiting = [tool for tool in shop.tools if tool.place is None]
    unit = "mm" if shop.about.units == "mm" else "in"
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
            (_drawn(p) for p in _named(_placed(shop, deep), wide)),
        ],
        h.p(".quiet")[
            look.label("floor.room", length=Name(room.length.text), width=Name(room.width.text))
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
                for tool in waiting
            ),
        ]
        if waiting
        else None,
    ]


def _placed(shop: Shop, deep: float) -> list[_Placed]:
    """The tools on the map, large ones first, so that none lies hidden under another."""
    found = []
    for tool in shop.tools:
        if tool.place is None:
            continue
        half_x = tool.size.length.best_si / 2 if tool.size else _USUAL_M
        half_y = tool.size.width.best_si / 2 if tool.size else _USUAL_M
        turn = tool.place.turn.best_si if tool.place.turn is not None else 0.0
        x, y = tool.place.x.best_si, deep - tool.place.y.best_si
        found.append(_Placed(tool, x, y, half_x, half_y, turn))
    return sorted(found, key=lambda p: -p.half_x * p.half_y)


def _named(tools: Sequence[_Placed], wide: float) -> list[_Placed]:
    """Each with its name where it covers no other name, and no other tool if that can be."""
    names: list[_Box] = []
    found = []
    for each in tools:
        half = text_width(each.tool.name, _TEXT_M) / 2
        left, low, right, high = each.box
        above, below = low - each.y - 0.06, high - each.y + _TEXT_M
        choices = [(0.0, below), (0.0, above), (right - each.x + half + 0.06, 0.06)]
        choices += [(left - each.x - half - 0.06, 0.06), (0.0, 0.06)]
        choices += [(0.0, below + _TEXT_M * n) for n in (1.1, 2.2, 3.3)]
        choices += [(0.0, above - _TEXT_M * n) for n in (1.1, 2.2)]

        def box(at: tuple[float, float], each: _Placed = each, half: float = half) -> _Box:
            x, y = each.x + at[0], each.y + at[1]
            return (x - half, y - _TEXT_M, x + half, y + 0.05)

        def covers(at: tuple[float, float], each: _Placed = each) -> tuple[float, float]:
            mine = box(at)
            over = sum(_common(mine, name) for name in names)
            beyond = max(-mine[0], 0.0) + max(mine[2] - wide, 0.0)
            boxes = sum(_common(mine, other.box) for other in tools if other is not each)
            return over + beyond, boxes

        best = min(choices, key=covers)
        names.append(box(best))
        found.append(
            _Placed(each.tool, each.x, each.y, each.half_x, each.half_y, each.turn_rad, *best)
        )
    return found


def _common(one: _Box, other: _Box) -> float:
    """Area that two boxes share [m²]."""
    wide = min(one[2], other[2]) - max(one[0], other[0])
    high = min(one[3], other[3]) - max(one[1], other[1])
    return max(wide, 0.0) * max(high, 0.0)


def _drawn(placed: _Placed) -> h.Node:
    tool = placed.tool
    assert tool.place is not None
    return h.g(
        ".tool",
        tabindex="0",
        role="button",
        aria_label=tool.name,
        data_tool=tool.name,
        data_place=coded(("tools", tool.name, "place")),
        data_x=f"{tool.place.x.best_si:.4f}",
        data_y=f"{tool.place.y.best_si:.4f}",
        transform=f"translate({placed.x:.3f} {placed.y:.3f})",
    )[
        h.rect(
            x=f"{-placed.half_x:.3f}",
            y=f"{-placed.half_y:.3f}",
            width=f"{2 * placed.half_x:.3f}",
            height=f"{2 * placed.half_y:.3f}",
            transform=f"rotate({-placed.turn_rad * 57.29578:.1f})",
        ),
        h.text(
            x=f"{placed.across:.3f}",
            y=f"{placed.down:.3f}",
            text_anchor="middle",
            aria_hidden="true",
        )[tool.name],
    ]
