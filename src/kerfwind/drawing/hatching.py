"""Hatch lines clipped to an outline."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from .model import Hatch, Point

#: Angle in degrees and spacing in mm of each set of parallel lines.
_PATTERNS: dict[Hatch, tuple[tuple[float, float], ...]] = {
    "none": (),
    "waste": ((45.0, 1.6),),
    "offcut": ((45.0, 6.0),),
    "section": ((45.0, 1.2),),
    "band": ((60.0, 1.0),),
}


def hatch_lines(loops: Sequence[Sequence[Point]], hatch: Hatch) -> list[tuple[Point, Point]]:
    """Pieces of the pattern's lines inside the loops (even-odd), in mm."""
    found: list[tuple[Point, Point]] = []
    if not _PATTERNS[hatch]:
        return found
    edges = [(*p, *q) for loop in loops for p, q in zip(loop, [*loop[1:], loop[0]], strict=True)]
    if not edges:
        return found
    e = np.asarray(edges, dtype=float)
    for angle_deg, spacing in _PATTERNS[hatch]:
        c, s = np.cos(np.radians(angle_deg)), np.sin(np.radians(angle_deg))
        # In the pattern's own frame its lines are level: u along, v across.
        u0, v0 = e[:, 0] * c + e[:, 1] * s, e[:, 1] * c - e[:, 0] * s
        u1, v1 = e[:, 2] * c + e[:, 3] * s, e[:, 3] * c - e[:, 2] * s
        low, high = min(v0.min(), v1.min()), max(v0.max(), v1.max())
        first = np.floor(low / spacing) + 0.5
        levels = np.arange(first, high / spacing, 1.0) * spacing
        for v in levels:
            across = (v0 <= v) != (v1 <= v)
            if not across.any():
                continue
            t = (v - v0[across]) / (v1[across] - v0[across])
            us = np.sort(u0[across] + t * (u1[across] - u0[across]))
            for a, b in zip(us[0::2], us[1::2], strict=False):
                if b - a > 0.2:
                    found.append(
                        (
                            (float(a * c - v * s), float(a * s + v * c)),
                            (float(b * c - v * s), float(b * s + v * c)),
                        )
                    )
    return found
