"""Where bodies meet: touching faces, and volumes that two bodies would share."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from .body import Body
from .exact import exact
from .flat_panel import FlatPanel, Placement

#: Gaps and overlaps below this are rounding of a cut, not a clash [m].
TOUCH_M = 1e-5


@dataclass(frozen=True)
class Clash:
    """Two bodies that would be in one place, and the volume they share [m³]."""

    first: str
    second: str
    volume_m3: float


def _extent(at: Placement, plate: FlatPanel) -> tuple[np.ndarray, np.ndarray]:
    a = at.point(0, 0, 0)
    b = at.point(plate.length_m, plate.width_m, plate.thickness_m)
    return np.minimum(a, b), np.maximum(a, b)


def contact_area_m2(
    first: FlatPanel, first_at: Placement, second: FlatPanel, second_at: Placement
) -> float:
    """Area over which two square-set plates touch face to face [m²], openings ignored.

    Zero when they are apart, or share volume.
    """
    lo_a, hi_a = _extent(first_at, first)
    lo_b, hi_b = _extent(second_at, second)
    shared = np.minimum(hi_a, hi_b) - np.maximum(lo_a, lo_b)
    touching = np.flatnonzero(np.abs(shared) <= TOUCH_M)
    if len(touching) != 1 or np.any(shared < -TOUCH_M):
        return 0.0
    return float(np.prod(np.delete(shared, touching[0])))


def boxes_apart(first: Body, second: Body, slack_m: float = TOUCH_M) -> bool:
    """Whether the two bodies' enclosing boxes share no volume."""
    return bool(
        np.any(first.low >= second.high - slack_m) or np.any(second.low >= first.high - slack_m)
    )


def shared_volume_m3(first: Body, second: Body) -> float:
    """Volume two bodies share [m³], by exact boolean intersection."""
    if boxes_apart(first, second):
        return 0.0
    return float((exact(first) ^ exact(second)).volume())


def clashes(bodies: Sequence[Body], above_m3: float = 1e-8) -> tuple[Clash, ...]:
    """Pairs of bodies that share more volume than rounding explains."""
    solids: dict[str, Any] = {}
    shared = []
    for first, second in itertools.combinations(bodies, 2):
        if boxes_apart(first, second):
            continue
        for body in (first, second):
            if body.name not in solids:
                solids[body.name] = exact(body)
        volume = float((solids[first.name] ^ solids[second.name]).volume())
        if volume > above_m3:
            shared.append(Clash(first.name, second.name, volume))
    return tuple(shared)
