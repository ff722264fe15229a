"""Finding places for labels, leaders, balloons and grain arrows.

Every label has a list of candidate places with a cost; the cheapest one that meets no
text wins. Lines crossed cost, so a clear place is taken even when it is farther off.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from .canvas import CLEARANCE, SIZES, Canvas, block_size
from .model import Balloon, GrainArrow, Label, Point, Side, Weight
from .overlap import Floats, boxes_meet_boxes, boxes_meet_segments, segments_cross
from .placed import Ring

BALLOON = 2.6  # radius [mm]
_ANGLES_DEG = (
    35.0,
    145.0,
    325.0,
    215.0,
    55.0,
    125.0,
    305.0,
    235.0,
    15.0,
    165.0,
    345.0,
    195.0,
    75.0,
    105.0,
    285.0,
    255.0,
)
_BLOCKED = 1e6
_ON_LEAD = 2e3


@dataclass(frozen=True)
class Candidates:
    """Places to try: boxes (n, 5), leaders (n, 4) or None, and what each costs by itself."""

    boxes: Floats
    leaders: Floats | None
    cost: Floats


def best(canvas: Canvas, tries: Candidates, line_cost: float = 40.0) -> tuple[int, float]:
    """Index and cost of the best place; a cost of 1e6 or more means it meets text."""
    grown = tries.boxes.copy()
    grown[:, 2:4] += CLEARANCE
    around = _window(grown, tries.leaders)
    boxes = _near_boxes(canvas.boxes, around)
    lines, leads = _near(canvas.lines, around), _near(canvas.leads, around)
    cost = tries.cost.copy()
    cost += _BLOCKED * boxes_meet_boxes(grown, boxes).any(axis=1)
    cost += line_cost * np.minimum(boxes_meet_segments(grown, lines).sum(axis=1), 4)
    cost += _ON_LEAD * boxes_meet_segments(grown, leads).any(axis=1)
    if tries.leaders is not None:
        cost += _ON_LEAD * boxes_meet_segments(_thick(boxes), tries.leaders).any(axis=0)
        cost += 2.0 * segments_cross(tries.leaders, lines).sum(axis=1)
        cost += 30.0 * segments_cross(tries.leaders, leads).sum(axis=1)
    index = int(np.argmin(cost))
    return index, float(cost[index])


def _best_of_rings(canvas: Canvas, tries: Candidates, line_cost: float = 40.0) -> tuple[int, float]:
    """As ``best``, nearest rings first, going on only while farther ones could be better."""
    step = 4 * len(_ANGLES_DEG)
    found, lowest = 0, np.inf
    for start in range(0, len(tries.cost), step):
        part = slice(start, start + step)
        if lowest <= tries.cost[part].min():
            break
        leaders = None if tries.leaders is None else tries.leaders[part]
        index, cost = best(
            canvas, Candidates(tries.boxes[part], leaders, tries.cost[part]), line_cost
        )
        if cost < lowest:
            found, lowest = start + index, cost
    return found, lowest


def _window(boxes: Floats, leaders: Floats | None) -> tuple[float, float, float, float]:
    reach = np.hypot(boxes[:, 2], boxes[:, 3])
    low = (boxes[:, :2] - reach[:, None]).min(axis=0)
    high = (boxes[:, :2] + reach[:, None]).max(axis=0)
    if leaders is not None:
        ends = leaders.reshape(-1, 2)
        low, high = np.minimum(low, ends.min(axis=0)), np.maximum(high, ends.max(axis=0))
    return (float(low[0]), float(low[1]), float(high[0]), float(high[1]))


def _near(segments: Floats, window: tuple[float, float, float, float]) -> Floats:
    x0, y0, x1, y1 = window
    xa, ya, xb, yb = segments.T
    keep = (np.minimum(xa, xb) <= x1) & (np.maximum(xa, xb) >= x0)
    keep &= (np.minimum(ya, yb) <= y1) & (np.maximum(ya, yb) >= y0)
    return np.asarray(segments[keep])


def _near_boxes(boxes: Floats, window: tuple[float, float, float, float]) -> Floats:
    x0, y0, x1, y1 = window
    r = np.hypot(boxes[:, 2], boxes[:, 3]) + 1.0
    keep = (boxes[:, 0] - r <= x1) & (boxes[:, 0] + r >= x0)
    keep &= (boxes[:, 1] - r <= y1) & (boxes[:, 1] + r >= y0)
    return boxes[keep]


def _thick(boxes: Floats) -> Floats:
    grown = boxes.copy()
    grown[:, 2:4] += 0.4
    return grown


def leader_candidates(
    tip: Point, radius: float, half_w: float, half_h: float, reach: float, *, through: bool = False
) -> Candidates:
    """Boxes around ``tip`` at rising distances, each with a straight leader to its side.

    Parameters
    ----------
    radius
        Of the circle the leader ends on; 0 for a point.
    reach
        How far out the farthest must lie, so that one of them is clear of everything.
    through
        The leader runs to the middle of the box (a balloon), not to its nearer end.
    """
    d, c, s, right, cost = _spokes(max(0, math.ceil((reach - 37.0) / 9.0)))
    ex, ey = tip[0] + c * (radius + d), tip[1] + s * (radius + d)
    x = ex if through else ex + right * (half_w + 0.8)
    boxes = np.stack(
        [x, ey, np.full_like(x, half_w), np.full_like(x, half_h), np.zeros_like(x)], axis=1
    )
    leaders = np.stack(
        [np.full_like(x, tip[0]) + c * radius, np.full_like(x, tip[1]) + s * radius, ex, ey], axis=1
    )
    return Candidates(boxes, leaders, cost)


@lru_cache(maxsize=16)
def _spokes(farther: int) -> tuple[Floats, Floats, Floats, Floats, Floats]:
    """Distance, direction, side and cost of every place to try, ``farther`` rings beyond the usual."""
    distances = np.array(
        [4.0, 6.0, 8.5, 11.5, 15.0, 19.0, 24.0, 30.0, *(37.0 + 9.0 * k for k in range(farther))]
    )
    angles = np.radians(np.asarray(_ANGLES_DEG))
    d, a = (x.ravel() for x in np.meshgrid(distances, angles, indexing="ij"))
    c, s = np.cos(a), -np.sin(a)
    cost = d + (np.abs(s) > 0.9) * 3.0 + np.tile(np.arange(len(angles)) * 0.05, len(distances))
    return d, c, s, np.where(c >= 0, 1.0, -1.0), cost


def place_with_leader(
    canvas: Canvas,
    tip: Point,
    text: str,
    *,
    reach: float,
    size: float,
    weight: Weight = "Regular",
    radius: float = 0.0,
    arrow: bool = False,
) -> None:
    """Text beside a spot, with a line to it that ends in a dot or an arrow."""
    w, h = block_size(text, size, weight)
    tries = leader_candidates(tip, radius, w / 2, h / 2, reach)
    index, _ = _best_of_rings(canvas, tries)
    assert tries.leaders is not None
    x0, y0, x1, y1 = (float(v) for v in tries.leaders[index])
    canvas.lead((x0, y0), (x1, y1))
    if arrow:
        canvas.head((x0, y0), (x1, y1))
    else:
        canvas.add(Ring((x0, y0), 0.45, None, 0.15))
    bx, by = (float(v) for v in tries.boxes[index, :2])
    canvas.text(text, (bx, by), size=size, weight=weight)


def _wrapped(text: str) -> str | None:
    words = text.split(" ")
    if "\n" in text or len(words) < 2:
        return None
    cuts = [[" ".join(words[:i]), " ".join(words[i:])] for i in range(1, len(words))]
    lines = min(cuts, key=lambda lines: max(map(len, lines)))
    return "\n".join(line.removesuffix(" ·").removeprefix("· ") for line in lines)


def place_label(canvas: Canvas, label: Label, at: Point, mm: float, reach: float) -> None:
    """A label on the spot, or as near to it as there is room, or on a leader."""
    size = SIZES[label.size]
    if label.place == "leader":
        place_with_leader(canvas, at, label.text, reach=reach, size=size, weight=label.weight)
        return
    small = min(size, SIZES["small"])
    if label.room is None:
        _place_free(canvas, label, at, size, reach)
        return
    half_w, half_h = label.room[0] * mm / 2, label.room[1] * mm / 2
    middle = (size + small) / 2
    upright = label.turned or label.hug in ("left", "right")
    turns = (90.0, 0.0) if upright else (0.0, 90.0)
    variants = [
        (text, s, turn)
        for whole in (label.text, *label.shorter)
        for s in dict.fromkeys((size, middle, small))
        for turn in turns
        for text in (whole, _wrapped(whole))
        if text
    ]
    for text, s, turn in variants:
        w, h = block_size(text, s, label.weight)
        if turn:
            w, h = h, w
        free_w, free_h = half_w - w / 2 - CLEARANCE, half_h - h / 2 - CLEARANCE
        if free_w < 0 or free_h < 0:
            continue
        xs, ys = _grid(free_w), _grid(free_h)
        gx, gy = (v.ravel() for v in np.meshgrid(xs, ys, indexing="ij"))
        boxes = np.stack(
            [
                at[0] + gx,
                at[1] + gy,
                np.full_like(gx, w / 2),
                np.full_like(gx, h / 2),
                np.zeros_like(gx),
            ],
            axis=1,
        )
        tx, ty = _hugged(label.hug, free_w, free_h)
        away = np.abs(gx - tx) + np.abs(gy - ty) + 200.0 * _within(boxes, at, label, mm)
        index, cost = best(canvas, Candidates(boxes, None, away * 0.1))
        if cost < 35.0:
            canvas.text(
                text,
                (float(boxes[index, 0]), float(boxes[index, 1])),
                size=s,
                weight=label.weight,
                turn_deg=turn,
            )
            return
    text = label.shorter[-1] if label.shorter else label.text
    if not label.lead:
        if label.shorter:
            canvas.text(text, at, size=small, weight=label.weight)
        return
    place_with_leader(canvas, at, text, reach=reach, size=small, weight=label.weight)


def _hugged(hug: Side | None, free_w: float, free_h: float) -> tuple[float, float]:
    """Where in the room's free play the text would like to be."""
    return {
        None: (0.0, 0.0),
        "left": (-free_w, 0.0),
        "right": (free_w, 0.0),
        "above": (0.0, -free_h),
        "below": (0.0, free_h),
    }[hug]


def _within(boxes: Floats, at: Point, item: Label | GrainArrow, mm: float) -> Floats:
    """1 for each box that stands in one of the places to keep out of, else 0."""
    places = []
    for (x0, y0), (x1, y1) in item.avoid:
        cx, cy = (x0 + x1) / 2 - item.at[0], item.at[1] - (y0 + y1) / 2
        places.append((at[0] + cx * mm, at[1] + cy * mm, (x1 - x0) * mm / 2, (y1 - y0) * mm / 2, 0))
    rows = np.asarray(places, dtype=float).reshape(-1, 5)
    return np.asarray(boxes_meet_boxes(boxes, rows).any(axis=1), dtype=float)


def _grid(free: float) -> Floats:
    n = int(min(free / 1.2, 7))
    return np.linspace(-free, free, 2 * n + 1) if n else np.zeros(1)


def _place_free(canvas: Canvas, label: Label, at: Point, size: float, reach: float) -> None:
    w, h = block_size(label.text, size, label.weight)
    shift = {"start": w / 2, "middle": 0.0, "end": -w / 2}[label.anchor]
    if label.turned:
        w, h = h, w
        centre = (at[0], at[1] - shift)
    else:
        centre = (at[0] + shift, at[1])
    offsets = [(0.0, 0.0)]
    for r in (1.0, 2.0, 3.0, 4.5, 6.0):
        offsets += [(0.0, -r), (0.0, r), (r, 0.0), (-r, 0.0)]
    o = np.asarray(offsets)
    boxes = np.concatenate(
        [o + np.asarray(centre), np.tile((w / 2, h / 2, 0.0), (len(o), 1))], axis=1
    )
    cost = np.hypot(o[:, 0], o[:, 1])
    index, total = best(canvas, Candidates(boxes, None, cost), line_cost=8.0)
    if total < _BLOCKED:
        place = (float(boxes[index, 0]), float(boxes[index, 1]))
        canvas.text(
            label.text,
            place,
            size=size,
            weight=label.weight,
            turn_deg=90.0 if label.turned else 0.0,
        )
        return
    place_with_leader(canvas, at, label.text, reach=reach, size=size, weight=label.weight)


def place_balloon(
    canvas: Canvas, balloon: Balloon, at: Point, upon: tuple[Point, Point] | None, reach: float
) -> None:
    """A numbered balloon on its line, or beside its spot on a leader."""
    w, _ = block_size(balloon.text, SIZES["normal"], "Semibold")
    r = max(BALLOON, w / 2 + 0.9)
    if upon is not None:
        (x0, y0), (x1, y1) = upon
        length = float(np.hypot(x1 - x0, y1 - y0)) or 1.0
        t = np.linspace(0, 1, max(3, int(length / 2.0)))
        back = (r + 0.6) / length
        t = np.concatenate([[-back, 1 + back], t])
        aside = np.repeat((0.0, r + 0.5, -r - 0.5), len(t))
        t = np.tile(t, 3)
        ux, uy = (x1 - x0) / length, (y1 - y0) / length
        x = x0 + t * (x1 - x0) - aside * uy
        y = y0 + t * (y1 - y0) + aside * ux
        boxes = np.stack([x, y, *(np.full_like(t, v) for v in (r, r, 0.0))], axis=1)
        # Just off the start is best; then just off the end, upon the line, or touching it.
        off = np.where(t < 0, 0.0, np.where(t > 1, 3.0, 6.0 + np.minimum(t, 1 - t) * length * 0.1))
        cost = off + 7.0 * (aside != 0)
        grown = boxes.copy()
        grown[:, 2:4] += 0.4
        around = _window(grown, None)
        meets = boxes_meet_boxes(grown, _near_boxes(canvas.boxes, around)).any(axis=1)
        meets |= boxes_meet_segments(grown, _near(canvas.leads, around)).any(axis=1)
        crossed = boxes_meet_segments(boxes, _near(canvas.lines, around))
        cost = cost + _BLOCKED * meets + 3.0 * crossed.sum(axis=1)
        index = int(np.argmin(cost))
        if cost[index] < _BLOCKED:
            place = (float(boxes[index, 0]), float(boxes[index, 1]))
            canvas.balloon(place, balloon.text, r, balloon.square)
            return
        if not balloon.lead:
            return
        at = ((x0 + x1) / 2, (y0 + y1) / 2)
    tries = leader_candidates(at, 0.0, r, r, reach, through=True)
    index, _ = _best_of_rings(canvas, tries, line_cost=12.0)
    assert tries.leaders is not None
    x0, y0, cx, cy = (float(v) for v in tries.leaders[index])
    n = float(np.hypot(cx - x0, cy - y0)) or 1.0
    rim = (cx - (cx - x0) / n * r, cy - (cy - y0) / n * r)
    canvas.lead((x0, y0), rim)
    canvas.add(Ring((x0, y0), 0.45, None, 0.15))
    canvas.balloon((cx, cy), balloon.text, r, balloon.square)


def place_grain(canvas: Canvas, arrow: GrainArrow, at: Point, mm: float) -> None:
    """A two-headed arrow along the grain, in a clear part of its room; shrinks to fit."""
    c, s = float(np.cos(arrow.angle_rad)), -float(np.sin(arrow.angle_rad))
    half_w, half_h = arrow.room[0] * mm / 2, arrow.room[1] * mm / 2
    for length in (16.0, 12.0, 9.0, 7.0, 5.0):
        hw = abs(c) * length / 2 + abs(s) * 0.8
        hh = abs(s) * length / 2 + abs(c) * 0.8
        free_w, free_h = half_w - hw - 0.5, half_h - hh - 0.5
        if free_w < 0 or free_h < 0:
            continue
        gx, gy = (v.ravel() for v in np.meshgrid(_grid(free_w), _grid(free_h), indexing="ij"))
        boxes = np.stack(
            [at[0] + gx, at[1] + gy, *(np.full_like(gx, v) for v in (hw, hh, 0.0))], axis=1
        )
        roomy = boxes + np.asarray((0, 0, 0.6, 0.6, 0))
        away = np.hypot(gx, gy) * 0.1 + 20.0 * _within(boxes, at, arrow, mm)
        index, cost = best(canvas, Candidates(roomy, None, away))
        if cost < 35.0:
            x, y = (float(v) for v in boxes[index, :2])
            a = (x - c * length / 2, y - s * length / 2)
            b = (x + c * length / 2, y + s * length / 2)
            canvas.lead(a, b)
            canvas.head(a, b)
            canvas.head(b, a)
            canvas.keep_box((x, y, hw, hh, 0.0))
            return
