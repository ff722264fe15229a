"""A sheet with its cuts, plain enough to be read at arm's length: what is off, what is next."""

from __future__ import annotations

from collections.abc import Collection, Sequence

import htpy as h

from ...cutting import Placed, SawCut, SheetNest

#: Drawn in millimetres; marks are as large as their panels have room for, within these.
_LEAST_MARK, _LARGEST_MARK = 34.0, 90.0
#: A letter's width and height, of its size.
_WIDE, _HIGH = 0.62, 0.9


def nest_picture(
    sheet: SheetNest,
    cuts: Sequence[SawCut],
    label: str,
    *,
    now: int | None = None,
    done: Collection[int] = (),
) -> h.Node:
    """The sheet's panels and the cuts through it: those made, the one at hand, those to come."""
    wide, deep = sheet.kind.length_m * 1e3, sheet.kind.width_m * 1e3
    edge = max(wide, deep) * 0.025
    mine = [c for c in cuts if c.sheet == sheet.number]
    at_hand = next((c for c in mine if c.number == now), None)
    gives = set()
    if at_hand is not None:
        gives = {p.name for p in (at_hand.gives, at_hand.rest) if p and p.kind == "panel"}

    def panel(place: Placed) -> h.Node:
        x, y = place.x_m * 1e3, deep - (place.y_m + place.width_m) * 1e3
        w, d = place.length_m * 1e3, place.width_m * 1e3
        along, across = max(w, d), min(w, d)
        room = min(along / (_WIDE * len(place.pencil)), across / _HIGH) * 0.85
        size = max(_LEAST_MARK, min(_LARGEST_MARK, room))
        x_mid, y_mid = x + w / 2, y + d / 2
        upright = d > w and len(place.pencil) * _WIDE * size > w
        return h.g(".panel", data_off="yes" if place.pencil in gives else None)[
            h.rect(x=f"{x:.1f}", y=f"{y:.1f}", width=f"{w:.1f}", height=f"{d:.1f}"),
            h.text(
                x=f"{x_mid:.1f}",
                y=f"{y_mid + size * 0.35:.1f}",
                font_size=f"{size:.0f}",
                text_anchor="middle",
                transform=f"rotate(-90 {x_mid:.1f} {y_mid:.1f})" if upright else None,
            )[place.pencil],
        ]

    def line(cut: SawCut) -> h.Node:
        x0, y0, x1, y1 = (v * 1e3 for v in cut.line_m)
        state = "now" if cut.number == now else "done" if cut.number in done else "later"
        return h.line(
            x1=f"{x0:.1f}",
            y1=f"{deep - y0:.1f}",
            x2=f"{x1:.1f}",
            y2=f"{deep - y1:.1f}",
            data_cut=str(cut.number),
            data_state=state,
        )

    return h.svg(
        ".nest",
        viewBox=f"{-edge:.1f} {-edge:.1f} {wide + 2 * edge:.1f} {deep + 2 * edge:.1f}",
        role="img",
        aria_label=label,
    )[
        h.rect(".sheet", x="0", y="0", width=f"{wide:.1f}", height=f"{deep:.1f}"),
        (panel(p) for p in sheet.pieces),
        # The one at hand lies over the others.
        (line(c) for c in sorted(mine, key=lambda c: c.number == now)),
    ]
