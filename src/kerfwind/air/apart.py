"""Which tools' ways through the hoses are worth showing beside each other."""

from __future__ import annotations

from collections.abc import Sequence

from .tool import ToolAir

#: Airflows nearer than this, one over the other, lie on each other in a chart.
_APART = 1.06


def tools_apart(air: Sequence[ToolAir], most: int = 4) -> tuple[str, ...]:
    """Tools whose airflows lie apart, from the most air to the least."""
    ranked = sorted(air, key=lambda each: -each.usual_m3_s)
    kept = ranked[:1]
    for each in ranked[1:]:
        gap = kept[-1].usual_m3_s / each.usual_m3_s
        if gap > _APART and len(kept) < most:
            kept.append(each)
    return tuple(each.tool for each in kept)
