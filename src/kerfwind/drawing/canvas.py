"""The paper while it is being filled: what is on it and what new text must keep clear of."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

import numpy as np

from .model import LineMeaning, Point, Size, Weight
from .overlap import Floats, boxes_meet_segments
from .placed import Area, Head, PlacedItem, Ring, Stroke, Words
from .textsize import CAP_HEIGHT, DESCENT, LINE_SPACING, text_width

#: Text sizes [mm]; 3 mm is about 8.5 point.
SIZES: dict[Size, float] = {"small": 2.45, "normal": 3.0, "large": 3.9}
CLEARANCE = 0.7  # between text and anything else [mm]
ARROW = 2.2  # length of an arrow head [mm]

Box = tuple[float, float, float, float, float]


def block_size(text: str, size: float, weight: Weight) -> tuple[float, float]:
    """Width and height of a block of lines [mm]."""
    lines = text.split("\n")
    width = max(text_width(line, size, weight) for line in lines)
    return width, ((len(lines) - 1) * LINE_SPACING + CAP_HEIGHT + DESCENT) * size


class Canvas:
    """Collects placed items (mm, y down) and the obstacles they make."""

    def __init__(self) -> None:
        self.items: list[PlacedItem] = []
        self._boxes: list[Box] = []
        self._lines: list[tuple[float, float, float, float]] = []
        self._leads: list[tuple[float, float, float, float]] = []
        self._hatching: list[tuple[float, float, float, float]] = []
        self._on_top: set[Box] = set()
        self._arrays: dict[str, Floats] = {}

    def _array(self, name: str, rows: Sequence[tuple[float, ...]], width: int) -> Floats:
        known = self._arrays.get(name)
        if known is None or len(known) != len(rows):
            known = np.asarray(rows, dtype=float).reshape(-1, width)
            self._arrays[name] = known
        return known

    @property
    def boxes(self) -> Floats:
        """Text and balloons, shape (n, 5)."""
        return self._array("boxes", self._boxes, 5)

    @property
    def lines(self) -> Floats:
        """What is drawn of the thing itself, shape (n, 4)."""
        return self._array("lines", self._lines, 4)

    @property
    def leads(self) -> Floats:
        """Dimension, extension and leader lines, shape (n, 4)."""
        return self._array("leads", self._leads, 4)

    @property
    def hatching(self) -> Floats:
        """Hatch lines, shape (n, 4): text may stand on them with a clear ground."""
        return self._array("hatching", self._hatching, 4)

    def hatch(self, pieces: Sequence[tuple[Point, Point]]) -> None:
        """Hatch lines."""
        for p, q in pieces:
            self.items.append(Stroke((p, q), "hatch"))
            self._hatching.append((*p, *q))

    def add(self, *items: PlacedItem) -> None:
        """Put items on the paper without making them obstacles."""
        self.items.extend(items)

    def keep_clear_of(self, points: Sequence[Point], closed: bool = False) -> None:
        """Make a line of the drawing an obstacle for text."""
        loop = [*points, points[0]] if closed else points
        for p, q in zip(loop[:-1], loop[1:], strict=True):
            self._lines.append((p[0], p[1], q[0], q[1]))

    def keep_box(self, box: Box) -> None:
        """Make a box an obstacle for text."""
        self._boxes.append(box)

    def lead(self, *points: Point, line: LineMeaning = "measure") -> None:
        """A dimension, extension or leader line."""
        self.items.append(Stroke(points, line))
        for p, q in zip(points[:-1], points[1:], strict=True):
            self._leads.append((p[0], p[1], q[0], q[1]))

    def head(self, tip: Point, towards: Point) -> None:
        """An arrow head at ``tip`` that points from ``towards`` to it."""
        dx, dy = tip[0] - towards[0], tip[1] - towards[1]
        n = float(np.hypot(dx, dy)) or 1.0
        ux, uy = dx / n, dy / n
        bx, by, w = tip[0] - ux * ARROW, tip[1] - uy * ARROW, ARROW * 0.17
        self.items.append(Head((tip, (bx - uy * w, by + ux * w), (bx + uy * w, by - ux * w))))

    def text(
        self,
        text: str,
        centre: Point,
        *,
        size: float,
        weight: Weight = "Regular",
        turn_deg: float = 0.0,
        obstacle: bool = True,
    ) -> None:
        """A block of lines about its centre; no ``obstacle`` where a balloon is one for it."""
        turn = np.radians(turn_deg)
        down = (float(np.sin(turn)), float(np.cos(turn)))
        lines = text.split("\n")
        _, height = block_size(text, size, weight)
        for n, line in enumerate(lines):
            base = -height / 2 + (CAP_HEIGHT + n * LINE_SPACING) * size
            mid = base - (CAP_HEIGHT - DESCENT) / 2 * size
            box = (
                centre[0] + mid * down[0],
                centre[1] + mid * down[1],
                text_width(line, size, weight) / 2,
                (CAP_HEIGHT + DESCENT) / 2 * size,
                -float(turn),
            )
            at = (centre[0] + base * down[0], centre[1] + base * down[1])
            ground: Literal["none", "own"] = "none" if obstacle else "own"
            self.items.append(Words(at, line, size, weight, "middle", turn_deg, box, ground))
            if obstacle:
                self._boxes.append(box)
                self._on_top.add(box)

    def finished(self) -> list[PlacedItem]:
        """Everything in painting order, text last and on a clear ground where it needs one."""
        text = [i for i in self.items if isinstance(i, Words) and i.box in self._on_top]
        rest = [i for i in self.items if not (isinstance(i, Words) and i.box in self._on_top)]
        if not text:
            return rest
        boxes = np.asarray([w.box for w in text])
        under = np.concatenate([self.hatching, self.lines, self.leads])
        meets = boxes_meet_segments(boxes, under)
        washed = [replace(w, ground="wash") if meets[n].any() else w for n, w in enumerate(text)]
        return [*rest, *washed]

    def balloon(self, centre: Point, text: str, radius: float, square: bool) -> None:
        """A number in a circle or square."""
        x, y = centre
        if square:
            r = radius * 0.9
            corners = ((x - r, y - r), (x + r, y - r), (x + r, y + r), (x - r, y + r))
            self.items.append(Area((corners,), 1.0))
            self.items.append(Stroke(corners, "outline", closed=True))
        else:
            self.items.append(Ring(centre, radius, "edge", 1.0))
        self.text(text, centre, size=SIZES["normal"], weight="Semibold", obstacle=False)
        self._boxes.append((x, y, radius, radius, 0.0))
