"""Pocket holes: their geometry from thickness, and where along an edge they may go.

Section through the panel that butts, the edge that meets the other panel on the right::

        mouth
    ____/    \\______________
    |    \\     \\_            |      angle a between axis and face
    |      \\_     \\|_  seat   |
    |        \\_   _|- -_ _    |
    |           ‾‾         ‾ -|-->   axis leaves at half the thickness
    |_________________________|
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from ..solids import Face, Placement
from ..sources import fact
from .fasteners import INCH_LENGTHS, METRIC_LENGTHS, ScrewSize, screw_size
from .model import CutPanel, Edge, Kept, Pocket
from .segments import BETWEEN_M, Line

_IN = 0.0254
#: Points along a screw at which its distance from a pocket is looked at.
_POINTS = 24
#: Of the wood between them, what a pocket gives up where another copy of the panel has one there already [m].
_HAIR_M = 0.0005

#: Bore of the pocket and head of its screw, by the screw's diameter (common practice, no
#: source) [m].
_BORES = ((0.0037, 0.0071, 0.0070), (0.0045, 3 / 8 * _IN, 0.0085), (math.inf, 7 / 16 * _IN, 0.0100))

Interval = tuple[float, float]


@dataclass(frozen=True)
class PocketSize:
    """A pocket and its screw [m].

    ``seat_m`` is the wood under the head along the screw, ``out_m`` what stands out of the
    edge, both along the screw; ``reach_m`` runs from the edge to where the axis meets the
    face, ``far_m`` to the far end of the mouth.
    """

    angle_rad: float
    bore_m: float
    length_m: float
    seat_m: float
    out_m: float
    reach_m: float
    far_m: float

    @property
    def depth_m(self) -> float:
        """How deep the screw goes into the other panel, square to its face."""
        return self.out_m * math.cos(self.angle_rad)

    @property
    def drift_m(self) -> float:
        """How far its point lies from the middle of the panel that is drilled."""
        return self.out_m * math.sin(self.angle_rad)


def pocket_size(
    thickness_m: float, into_m: float, size: ScrewSize, metric: bool
) -> PocketSize | None:
    """Pocket in a panel of one thickness for a screw into the face of one of another.

    The axis leaves the edge at half the thickness. The screw is the shortest on sale whose
    point stops short of the other panel's far face by the usual wood and that leaves enough
    wood under its head, the head below the face.

    Returns
    -------
    PocketSize or None
        None where the panel is too thin for that.
    """
    angle = fact("cart.pocket.angle").value
    sin, cos = math.sin(angle), math.cos(angle)
    bore, head = next((b, h) for most, b, h in _BORES if size.diameter_m <= most)
    most_out = (into_m - fact("cart.screw.point").value) / cos
    least_seat = fact("cart.pocket.seat").value
    most_seat = (thickness_m / 2 - head / 2) / sin
    lengths = METRIC_LENGTHS if metric else INCH_LENGTHS
    fitting = [
        length
        for length in lengths
        if least_seat <= length - most_out + 1e-9 and length - most_out <= most_seat + 1e-9
    ]
    if most_out <= 0 or not fitting:
        return None
    seat = fitting[0] - most_out
    reach = thickness_m / 2 / math.tan(angle)
    return PocketSize(angle, bore, fitting[0], seat, most_out, reach, reach + bore / 2 / sin)


def free_places(
    start_m: float,
    stop_m: float,
    end_m: float,
    least: int,
    blocked: Sequence[Interval],
    gap_m: float,
) -> list[float]:
    """Places between ``start_m`` and ``stop_m``, spread by rule and moved clear of what is blocked.

    Parameters
    ----------
    end_m
        Least distance from either end.
    blocked
        Stretches in which no middle of a pocket may lie.
    gap_m
        Least distance between two pockets.

    Returns
    -------
    list of float
        Empty where fewer than two places are free.
    """
    low, high = start_m + end_m, stop_m - end_m
    free = _free(low, high, blocked)
    if not free:
        return []
    first, last = free[0][0], free[-1][1]
    count = max(least, math.ceil((last - first) / fact("cart.pocket.spacing").value - 1e-9) + 1)
    places: list[float] = []
    for k in range(count):
        want = first + (last - first) * k / (count - 1)
        place = min((min(max(want, a), b) for a, b in free), key=lambda p: abs(p - want))
        if all(abs(place - other) >= gap_m - 1e-9 for other in places):
            places.append(place)
    return places if len(places) >= 2 else []


def _free(low: float, high: float, blocked: Sequence[Interval]) -> list[Interval]:
    free: list[Interval] = []
    at = low
    for a, b in sorted(blocked):
        if a >= at and min(a, high) > at - 1e-9:
            free.append((at, min(a, high)))
        at = max(at, b)
        if at > high:
            break
    if at <= high + 1e-9:
        free.append((at, max(at, high)))
    return [(a, b) for a, b in free if b >= a and a <= high + 1e-9]


Box = tuple[np.ndarray, np.ndarray]


class PocketWork(NamedTuple):
    """One joint to be made with pocket screws.

    ``panel`` at ``at`` is drilled; it meets a panel ``into_m`` thick whose corners are
    ``first``, in the box from ``low`` to ``high``; ``way`` points from that one into it.
    ``screws`` are those there are already.
    """

    panel: CutPanel
    at: Placement
    into_m: float
    low: np.ndarray
    high: np.ndarray
    way: np.ndarray
    first: Box
    least: int
    joint: str
    screws: Sequence[Line] = ()


Made = tuple[PocketSize, list[Pocket], list[tuple[np.ndarray, np.ndarray]]]


def pockets_for(work: PocketWork, face: Face, metric: bool, others: Sequence[Box]) -> Made | Kept:
    """Pockets of one joint in a face of a panel.

    Parameters
    ----------
    others
        Corners of the other panels: where one lies on the face, no pocket can be.

    Returns
    -------
    size, pockets, screws
        Screws as the place of the head's seat and the direction, in space; or why there are
        none.
    """
    panel, at = work.panel, work.at
    t = panel.thickness_m
    wood = screw_size(t, metric)
    size = pocket_size(t, work.into_m, wood, metric)
    if size is None:
        return "thin plywood"
    edge = _edge(work)
    behind = panel.width_m if edge in ("near", "far") else panel.length_m
    margin = fact("cart.pocket.margin").value
    if size.far_m + margin > behind:
        return "narrow panel"
    inward = np.asarray(at.through, dtype=float) * (1.0 if face == "lower" else -1.0)
    axis = int(np.argmax(np.abs(inward)))
    point = float(at.point(0.0, 0.0, t / 2)[axis]) + size.drift_m * float(inward[axis])
    beside = min(point - float(work.first[0][axis]), float(work.first[1][axis]) - point)
    if beside - wood.diameter_m / 2 < fact("cart.pocket.beside").value:
        return "points near edge"
    k = 0 if edge in ("near", "far") else 1
    ends = sorted((at.local(work.low)[k], at.local(work.high)[k]))
    end = max(
        min(fact("cart.screw.end_distance").value, (ends[1] - ends[0]) / 4),
        size.bore_m / 2 + margin,
    )
    blocked = _blocked(work, edge, face, size, others)
    direction = -work.way * math.cos(size.angle_rad) + inward * math.sin(size.angle_rad)
    blocked += _crossed(work, edge, size, direction, k, wood)
    places = free_places(ends[0], ends[1], end, work.least, blocked, 2.5 * size.bore_m)
    if not places:
        return "no room"
    # A copy of the panel that is a hair longer or shorter uses the same pockets.
    there = [
        (p.x_m, p.y_m)[k]
        for p in panel.pockets
        if (p.to, p.face) == (edge, face) and abs(p.seat_m - size.seat_m) < 1e-6
    ]
    shared = [p for p in there if not any(a + _HAIR_M < p < b - _HAIR_M for a, b in blocked)]
    places = [_nearest(shared, place, size.bore_m + margin) for place in places]
    pockets, screws = [], []
    for place in places:
        made = _pocket(panel, edge, face, size, place, wood.clearance_m, work.joint)
        dx, dy = made.way
        leaves = at.point(made.x_m + dx * size.reach_m, made.y_m + dy * size.reach_m, t / 2)
        pockets.append(made)
        screws.append((leaves - direction * size.seat_m, direction))
    return size, pockets, screws


def _nearest(there: Sequence[float], place: float, within_m: float) -> float:
    near = min(there, key=lambda p: abs(p - place), default=place)
    return near if abs(near - place) < within_m else place


def _edge(work: PocketWork) -> Edge:
    along = float(-work.way @ np.asarray(work.at.along))
    if abs(along) > 0.5:
        return "right" if along > 0 else "left"
    return "far" if float(-work.way @ np.asarray(work.at.across)) > 0 else "near"


def _pocket(
    panel: CutPanel,
    edge: Edge,
    face: Face,
    size: PocketSize,
    place: float,
    shank: float,
    joint: str,
) -> Pocket:
    x, y = {
        "near": (place, size.reach_m),
        "far": (place, panel.width_m - size.reach_m),
        "left": (size.reach_m, place),
        "right": (panel.length_m - size.reach_m, place),
    }[edge]
    return Pocket(
        x, y, edge, face, size.angle_rad, size.reach_m, size.seat_m, size.bore_m, shank, joint
    )


def footprint(pocket: Pocket) -> tuple[float, float, float, float]:
    """The rectangle that a pocket takes of its panel's face, edge included: x and y, low and high."""
    far, half = pocket.mouth_m[1], pocket.bore_m / 2
    dx, dy = pocket.way
    x0, y0 = pocket.x_m + dx * pocket.reach_m, pocket.y_m + dy * pocket.reach_m
    x1, y1 = x0 - dx * far, y0 - dy * far
    wide_x, wide_y = abs(dy) * half, abs(dx) * half
    return min(x0, x1) - wide_x, min(y0, y1) - wide_y, max(x0, x1) + wide_x, max(y0, y1) + wide_y


def _blocked(
    work: PocketWork, edge: Edge, face: Face, size: PocketSize, others: Sequence[Box]
) -> list[Interval]:
    """Stretches along the edge where something is in a pocket's way."""
    panel = work.panel
    length, width = panel.length_m, panel.width_m
    margin = fact("cart.pocket.margin").value
    boxes = [footprint(p) for p in panel.pockets if (p.to, p.face) != (edge, face)]
    boxes += [
        (
            h.x_m - h.diameter_m / 2,
            h.y_m - h.diameter_m / 2,
            h.x_m + h.diameter_m / 2,
            h.y_m + h.diameter_m / 2,
        )
        for h in panel.holes
    ]
    boxes += [
        (
            o.x_m - o.length_m / 2,
            o.y_m - o.width_m / 2,
            o.x_m + o.length_m / 2,
            o.y_m + o.width_m / 2,
        )
        for o in panel.openings
    ]
    cut = [(c, leg, leg) for c, leg in panel.chamfers]
    for corner, a, b in (*cut, *panel.notches):
        x = length - a if "right" in corner else 0.0
        y = width - b if "far" in corner else 0.0
        boxes.append((x, y, x + a, y + b))
    boxes += _lying_on(work, face, others)
    keep = size.bore_m / 2 + margin
    stretches = []
    for x0, y0, x1, y1 in boxes:
        depth, along = {
            "near": (y0, (x0, x1)),
            "far": (width - y1, (x0, x1)),
            "left": (x0, (y0, y1)),
            "right": (length - x1, (y0, y1)),
        }[edge]
        if depth < size.far_m + margin:
            stretches.append((along[0] - keep, along[1] + keep))
    return stretches


def _crossed(
    work: PocketWork, edge: Edge, size: PocketSize, direction: np.ndarray, k: int, wood: ScrewSize
) -> list[Interval]:
    """Stretches along the edge where a pocket or its screw would meet a screw that is there."""
    panel, at = work.panel, work.at
    far = {"far": panel.width_m, "right": panel.length_m}.get(edge, 0.0)
    leaves = np.array(at.point(*((0.0, far) if k == 0 else (far, 0.0)), panel.thickness_m / 2))
    along = np.asarray(at.along if k == 0 else at.across, dtype=float)
    seat = leaves - direction * size.seat_m
    pieces = (
        (leaves + direction * size.out_m, seat, wood.diameter_m / 2),
        (seat, leaves - direction * size.reach_m / math.cos(size.angle_rad), size.bore_m / 2),
    )
    stretches = []
    for start, end, radius in work.screws:
        line = start + np.linspace(0.0, 1.0, _POINTS)[:, None] * (end - start)
        step = float(np.linalg.norm(end - start)) / (_POINTS - 1)
        places = (line - leaves) @ along
        for a, b, own in pieces:
            keep = own + radius + BETWEEN_M + step / 2
            flat = line - a - places[:, None] * along
            way = b - a
            share = np.clip(flat @ way / (way @ way), 0.0, 1.0)
            near = np.linalg.norm(flat - share[:, None] * way, axis=1) < keep
            if near.any():
                stretches.append(
                    (float(places[near].min()) - keep, float(places[near].max()) + keep)
                )
    return stretches


def _lying_on(
    work: PocketWork, face: Face, others: Sequence[Box]
) -> list[tuple[float, float, float, float]]:
    """What other panels cover of the face, in the panel's own measures."""
    panel, at = work.panel, work.at
    through = np.asarray(at.through, dtype=float)
    axis = int(np.argmax(np.abs(through)))
    outward = float(through[axis]) * (1.0 if face == "upper" else -1.0)
    plane = float(at.point(0, 0, panel.thickness_m if face == "upper" else 0.0)[axis])
    covered = []
    for low, high in others:
        near = float(low[axis] if outward > 0 else high[axis])
        if abs(near - plane) > 1e-4:
            continue
        a, b = at.local(low), at.local(high)
        x0, x1 = sorted((a[0], b[0]))
        y0, y1 = sorted((a[1], b[1]))
        if x0 < panel.length_m and x1 > 0 and y0 < panel.width_m and y1 > 0:
            covered.append((x0, y0, x1, y1))
    return covered
