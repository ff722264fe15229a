"""Dimension lines in tiers outside the outline, shortest nearest.

Each side of the drawing has a frame of its own: u along the side, v outwards from the
outline. Text never stands where an extension line of a farther tier must pass, so the
lines of the four sides can be set one after the other without looking at the result.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from .canvas import ARROW, CLEARANCE, SIZES, Canvas, block_size
from .model import Dimension, Point, Side
from .overlap import boxes_meet_boxes, boxes_meet_segments

FIRST = 7.5  # outline to first tier [mm]
PITCH = 5.6  # tier to tier [mm]
GAP = 0.8  # outline to the start of an extension line [mm]
BEYOND = 1.2  # extension line past the dimension line [mm]
_STUB = 2 * ARROW  # a dimension line outside its own gap [mm]


@dataclass(frozen=True)
class Span:
    """One dimension in its side's frame [mm]."""

    dimension: Dimension
    text: str
    u0: float
    u1: float
    v0: float
    v1: float

    @property
    def length(self) -> float:
        return self.u1 - self.u0


@dataclass(frozen=True)
class _Set:
    """A span with its tier and text place."""

    span: Span
    tier: int
    low: float
    high: float
    text_u: float
    half: float
    arrows_inside: bool


class Frame:
    """Turns u, v of a side into paper coordinates."""

    def __init__(self, side: Side, bounds: tuple[float, float, float, float]) -> None:
        left, top, right, bottom = bounds
        self.side = side
        self.level = side in ("below", "above")
        self.u_low, self.u_high = (left, right) if self.level else (-bottom, -top)
        self.edge = {"below": bottom, "above": -top, "left": -left, "right": right}[side]
        #: Room past the outline's end belongs to one side at each corner.
        self.spill_high = side in ("below", "right")

    def u(self, p: Point) -> float:
        return p[0] if self.level else -p[1]

    def v(self, p: Point) -> float:
        value = p[1] if self.level else p[0]
        return -value if self.side in ("above", "left") else value

    def point(self, u: float, v: float) -> Point:
        w = -v if self.side in ("above", "left") else v
        return (u, w) if self.level else (w, -u)


def span_of(dimension: Dimension, text: str, frame: Frame, a: Point, b: Point) -> Span:
    """The dimension in the side's frame, its ends in order."""
    if frame.u(a) > frame.u(b):
        a, b = b, a
    return Span(dimension, text, frame.u(a), frame.u(b), frame.v(a), frame.v(b))


def set_side(canvas: Canvas, frame: Frame, spans: list[Span]) -> list[tuple[Dimension, Point, str]]:
    """Place every dimension of one side.

    Returns
    -------
    list
        Each dimension with a point of its line [mm] and its text.
    """
    size = SIZES["normal"]
    unique = {(round(s.u0, 3), round(s.u1, 3), s.text): s for s in spans}
    todo = sorted(unique.values(), key=lambda s: (round(s.length, 3), s.u0))
    done: list[_Set] = []
    for span in todo:
        half = block_size(span.text, size, "Regular")[0] / 2
        # Extension lines this text must not stand on: all that may pass its tier.
        set_spans = {id(d.span) for d in done}
        waiting = [u for s in todo if id(s) not in set_spans for u in (s.u0, s.u1)]
        tier = 0
        while True:
            spot = _spot(span, half, tier, done, waiting, frame)
            if spot is not None:
                done.append(spot)
                break
            tier += 1
    return [_draw(canvas, frame, s, size) for s in done]


def _spot(
    span: Span, half: float, tier: int, done: list[_Set], waiting: list[float], frame: Frame
) -> _Set | None:
    passing = np.asarray(
        waiting + [u for d in done if d.tier >= tier for u in (d.span.u0, d.span.u1)]
    )
    rivals = [d for d in done if d.tier == tier]
    for text_u, inside in _places(span, half, frame, passing):
        low = min(span.u0, text_u - half)
        high = max(span.u1, text_u + half)
        if not inside:
            low, high = min(low, span.u0 - _STUB), max(high, span.u1 + _STUB)
        if bool(np.any(np.abs(passing - text_u) < half + CLEARANCE * 0.8)):
            continue
        if any(low < d.high - 0.05 and high > d.low + 0.05 for d in rivals):
            continue
        if any(abs(text_u - d.text_u) < half + d.half + 1.5 for d in rivals):
            continue
        # Its own extension lines go past the text of nearer tiers.
        if any(
            abs(u - d.text_u) < d.half + CLEARANCE * 0.8
            for d in done
            if d.tier <= tier
            for u in (span.u0, span.u1)
        ):
            continue
        return _Set(span, tier, low, high, text_u, half, inside)
    return None


def _places(
    span: Span, half: float, frame: Frame, passing: np.ndarray[tuple[int], np.dtype[np.float64]]
) -> list[tuple[float, bool]]:
    """Text places to try, best first: (u of the text's middle, arrows inside)."""
    middle = (span.u0 + span.u1) / 2
    inside = span.length >= 2 * ARROW + 1.2
    places: list[tuple[float, bool]] = []
    free = span.length / 2 - half - CLEARANCE
    if free >= 0:
        steps = np.arange(0.0, free + 1e-9, 1.0)
        places += [(middle + s * sign, inside) for s in steps for sign in (1, -1)]
    out = half + CLEARANCE + (0.8 if inside else _STUB * 0.55)
    places += [(span.u1 + out, inside), (span.u0 - out, inside)]
    # Along its own line, in the first gap between what passes, then past the end.
    if len(passing):
        ordered = np.unique(np.round(passing, 3))
        wide = np.nonzero(np.diff(ordered) > 2 * (half + CLEARANCE))[0]
        gaps = [(ordered[i] + ordered[i + 1]) / 2 for i in wide]
        places += [(float(g), inside) for g in sorted(gaps, key=lambda g: abs(g - middle))]
    places = [
        p
        for p in places
        if (p[0] - half >= frame.u_low - 1.0 or not frame.spill_high)
        and (p[0] + half <= frame.u_high + 1.0 or frame.spill_high)
    ]
    end = _STUB + half + 2.0
    places.append(
        (max(frame.u_high, span.u1) + end, inside)
        if frame.spill_high
        else (min(frame.u_low, span.u0) - end, inside)
    )
    return places


def _draw(canvas: Canvas, frame: Frame, placed: _Set, size: float) -> tuple[Dimension, Point, str]:
    span = placed.span
    v = frame.edge + FIRST + placed.tier * PITCH
    for u, start in ((span.u0, span.v0), (span.u1, span.v1)):
        canvas.lead(frame.point(u, min(start + GAP, v)), frame.point(u, v + BEYOND))
    a, b = frame.point(span.u0, v), frame.point(span.u1, v)
    low, high = span.u0, span.u1
    if not placed.arrows_inside:
        low, high = low - _STUB, high + _STUB
    low, high = (
        min(low, placed.text_u - placed.half) if placed.text_u < span.u0 else low,
        max(high, placed.text_u + placed.half) if placed.text_u > span.u1 else high,
    )
    canvas.lead(frame.point(low, v), frame.point(high, v))
    if placed.arrows_inside:
        canvas.head(a, b)
        canvas.head(b, a)
    else:
        canvas.head(a, frame.point(span.u0 - 5, v))
        canvas.head(b, frame.point(span.u1 + 5, v))
    # Above a level line; left of an upright one, read from the right.
    x, y = frame.point(placed.text_u, v)
    lift = block_size(span.text, size, "Regular")[1] / 2 + 0.15
    if frame.level:
        canvas.text(span.text, (x, y - lift), size=size)
    else:
        canvas.text(span.text, (x - lift, y), size=size, turn_deg=90.0)
    return span.dimension, a, span.text


def set_aligned(
    canvas: Canvas, dimension: Dimension, text: str, at: Callable[[Point], Point]
) -> tuple[Dimension, Point, str]:
    """A dimension along its own line, on the first clear offset of its side or the other."""
    size = SIZES["normal"]
    (x0, y0), (x1, y1) = at(dimension.start), at(dimension.end)
    length = float(np.hypot(x1 - x0, y1 - y0)) or 1.0
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    # Left of the way from start to end; the paper's y runs down.
    nx, ny = (uy, -ux) if dimension.side != "right" else (-uy, ux)
    turn = float(np.degrees(np.arctan2(-uy, ux)))
    turn = (turn + 90.0) % 180.0 - 90.0
    half_w, half_h = (v / 2 for v in block_size(text, size, "Regular"))
    outside = length < 2 * half_w + 1.0
    along = length / 2 if not outside else length + _STUB * 0.6 + half_w
    offsets = [s * d for d in np.arange(6.0, 60.0, 3.0) for s in (1.0, -1.0)]
    up = (-float(np.sin(np.radians(turn))), -float(np.cos(np.radians(turn))))
    lift = half_h + 0.2
    boxes = np.asarray(
        [
            (
                x0 + ux * along + nx * d + up[0] * lift,
                y0 + uy * along + ny * d + up[1] * lift,
                half_w + CLEARANCE,
                half_h,
                -np.radians(turn),
            )
            for d in offsets
        ]
    )
    cost = np.abs(np.asarray(offsets)) + np.where(np.asarray(offsets) < 0, 4.0, 0.0)
    cost = cost + 1e6 * boxes_meet_boxes(boxes, canvas.boxes).any(axis=1)
    cost = cost + 1e6 * boxes_meet_segments(boxes, canvas.leads).any(axis=1)
    cost = cost + 50.0 * boxes_meet_segments(boxes, canvas.lines).any(axis=1)
    index = int(np.argmin(cost))
    d = offsets[index]
    a, b = (x0 + nx * d, y0 + ny * d), (x1 + nx * d, y1 + ny * d)
    s = 1.0 if d > 0 else -1.0
    for foot, end in (((x0, y0), a), ((x1, y1), b)):
        canvas.lead(
            (foot[0] + nx * s * GAP, foot[1] + ny * s * GAP),
            (end[0] + nx * s * BEYOND, end[1] + ny * s * BEYOND),
        )
    if length < 2 * ARROW + 1.2 or outside:
        far = along + half_w if outside else length + _STUB
        canvas.lead((a[0] - ux * _STUB, a[1] - uy * _STUB), (a[0] + ux * far, a[1] + uy * far))
        canvas.head(a, (a[0] - ux, a[1] - uy))
        canvas.head(b, (b[0] + ux, b[1] + uy))
    else:
        canvas.lead(a, b)
        canvas.head(a, b)
        canvas.head(b, a)
    box = boxes[index]
    canvas.text(text, (float(box[0]), float(box[1])), size=size, turn_deg=turn)
    return dimension, a, text
