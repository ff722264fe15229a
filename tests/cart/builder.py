"""Someone who has the panels as they were cut, and the steps, and nothing else.

Reads of a step only which way round each panel goes and how far from what; never where the
planner put anything.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from kerfwind.joinery import CutPanel, Lying, Step
from kerfwind.joinery.model import Alignment, Side

_AXIS = {"left": 0, "right": 0, "front": 1, "rear": 1, "lower": 2, "upper": 2}
_HIGH = {"right", "rear", "upper"}
NEAR_M = 1e-4


class CannotFollowError(AssertionError):
    """A step that leaves a part without a place, or gives it two."""


@dataclass
class BuiltPanel:
    """One panel that is in place: where its corner came, and which way its sides run."""

    panel: CutPanel
    ways: np.ndarray
    low: np.ndarray
    high: np.ndarray

    @property
    def corner(self) -> np.ndarray:
        """Where the corner is from which its drawing is measured."""
        begun: np.ndarray = np.where(self.ways.sum(axis=0) > 0, self.low, self.high)
        return begun

    def point(self, x_m: float, y_m: float, depth_m: float) -> np.ndarray:
        """A point of its drawing, in the cart."""
        point: np.ndarray = self.corner + np.array((x_m, y_m, depth_m)) @ self.ways
        return point


class Builder:
    """Puts panels together, step after step."""

    def __init__(
        self, panels: Iterable[CutPanel], letters: Mapping[str, str], near_m: float = NEAR_M
    ) -> None:
        cut = {p.key: p for p in panels}
        self.pile = {name: cut[key] for name, key in letters.items()}
        self.built: dict[str, BuiltPanel] = {}
        self.near_m = near_m

    def follow(self, steps: Sequence[Step]) -> dict[str, BuiltPanel]:
        """All panels in place, from the first one that was laid down."""
        for step in steps:
            lying = {each.part: each for each in step.lying}
            rows: dict[str, list[Alignment]] = {}
            for row in step.aligned:
                rows.setdefault(row.part, []).append(row)
            # Rows stand in the order of work; what has none is laid down first.
            first = [n for n in lying if n not in rows]
            if first and self.built:
                raise CannotFollowError((step.number, "no place for", first))
            for name in [*first, *(n for n in rows if n in lying)]:
                self._put(step, lying[name], rows.get(name, []))
        return self.built

    def _put(self, step: Step, lying: Lying, rows: Sequence[Alignment]) -> None:
        panel = self.pile.pop(lying.part)
        ways = np.zeros((3, 3))
        for n, side in enumerate((lying.left, lying.near, lying.lower)):
            ways[n, _AXIS[side]] = -1.0 if side in _HIGH else 1.0
        size = np.abs(np.array((panel.length_m, panel.width_m, panel.thickness_m)) @ np.abs(ways))
        low = np.full(3, np.nan)
        if not rows:
            low[:] = 0.0
        for row in rows:
            if row.to not in self.built:
                raise CannotFollowError((step.number, row, "is not there yet"))
            axis = "xyz".index(row.axis)
            there = self._at(self.built[row.to], row.to_side, axis)
            share = 0.5 if row.side == "middle" else 1.0 if row.side in _HIGH else 0.0
            found = there + row.offset_m - share * size[axis]
            if not np.isnan(low[axis]) and abs(found - low[axis]) > self.near_m:
                raise CannotFollowError((step.number, row, found - low[axis]))
            low[axis] = found if np.isnan(low[axis]) else low[axis]
        if np.any(np.isnan(low)):
            raise CannotFollowError((step.number, lying.part, "floats", low))
        self.built[lying.part] = BuiltPanel(panel, ways, low, low + size)

    @staticmethod
    def _at(built: BuiltPanel, side: Side, axis: int) -> float:
        if side == "middle":
            return float(built.low[axis] + built.high[axis]) / 2
        assert _AXIS[side] == axis
        return float((built.high if side in _HIGH else built.low)[axis])
