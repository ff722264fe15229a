"""Where to park the unit so that the hose reaches: the floor map.

A hose of length L that climbs a rise h reaches a tool from any spot within
(L - h) / slack of it, since a hose lies in curves. A spot serves the tools whose circles
it lies in. The fewest spots that serve all are found exactly: a best spot for a set of
tools can always be moved to where two circles, or a circle and the parking area's edge,
cross, or to a corner, or to the point of the area nearest a tool.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..finding import Finding, judge
from ..quantity import Draw
from ..shop import Hose, Shop
from ..sources import fact
from .ends import Floats
from .loss import velocity_pressure_pa

#: Lengths that hoses are sold in, in feet, or near enough in metres (common practice).
SOLD_FT = (6, 8, 10, 12, 16, 20, 25)
_TINY = 1e-9


@dataclass(frozen=True)
class Circle:
    """Where the unit may stand for one tool, or for one outlet."""

    name: str
    x_m: float
    y_m: float
    radius_m: float


@dataclass(frozen=True)
class Parking:
    """One spot: which tools it serves, and the hose that the farthest of them needs."""

    x_m: float
    y_m: float
    tools: tuple[str, ...]
    needed_m: float
    outlet: int | None


@dataclass(frozen=True)
class ReachChoice:
    """One hose length: the fewest spots, and what the length costs in air.

    ``loss_pa`` is the hose's friction at the reference airflow. ``unserved`` are tools
    that no spot reaches.
    """

    hose_m: float
    owned: bool
    spots: tuple[Parking, ...]
    unserved: tuple[str, ...]
    circles: tuple[Circle, ...]
    loss_pa: float

    @property
    def moves(self) -> int:
        """How often the unit is moved in a session that uses every tool once."""
        return max(0, len(self.spots) - 1)


@dataclass(frozen=True)
class FloorMap:
    """The room, what stands where, and the choice between moves and hose.

    ``left_out`` are tools without a place on the map.
    """

    length_m: float
    width_m: float
    area: tuple[float, float, float, float]
    tools: tuple[Circle, ...]
    outlets: tuple[Circle, ...]
    hose: str
    choices: tuple[ReachChoice, ...]
    left_out: tuple[str, ...]
    findings: tuple[Finding, ...]


def floor_map(
    shop: Shop, hose: Hose, draw: Draw, *, footprint_m: tuple[float, float] | None = None
) -> FloorMap | None:
    """Parking for the tools that have a place; None where none has.

    Parameters
    ----------
    hose
        The tool hose in use.
    footprint_m
        Length and width of the unit; by default the largest that the shop allows.

    Notes
    -----
    Tools have no outline here: that the spot itself is free is for the reader to see.
    """
    placed = [t for t in shop.tools if t.place is not None]
    if not placed:
        return None
    size = footprint_m or (shop.wishes.largest_length.best_si, shop.wishes.largest_width.best_si)
    half = max(size) / 2
    room = (shop.room.length.best_si, shop.room.width.best_si)
    area = (min(half, room[0] / 2), min(half, room[1] / 2),
            max(room[0] - half, room[0] / 2), max(room[1] - half, room[1] / 2))  # fmt: skip
    slack = fact("hookup.hose_slack").value
    points = [
        Circle(t.name, t.place.x.best_si, t.place.y.best_si, t.rise.best_si)
        for t in placed
        if t.place is not None
    ]
    cord = shop.circuit.cord.best_si / slack if shop.circuit.cord else math.inf
    outlets = tuple(
        Circle(f"outlet {i}", o.x.best_si, o.y.best_si, cord)
        for i, o in enumerate(shop.room.outlets, 1)
    )
    own = hose.length.best_si
    lengths = sorted({own, *(ft * 0.3048 for ft in SOLD_FT)})
    choices = [
        _choice(length, length == own, points, outlets, area, slack, hose) for length in lengths
    ]
    findings = _findings(shop, hose, draw, choices)
    return FloorMap(
        *room, area, tuple(points), outlets, hose.name, _worth_showing(choices),
        tuple(t.name for t in shop.tools if t.place is None), findings,
    )  # fmt: skip


def _worth_showing(choices: list[ReachChoice]) -> tuple[ReachChoice, ...]:
    """Choices that no shorter hose equals, and the one owned."""
    shown: list[ReachChoice] = []
    best = (math.inf, math.inf)
    for choice in choices:
        score = (len(choice.unserved), len(choice.spots))
        if score < best or choice.owned:
            shown.append(choice)
            best = min(best, score)
    return tuple(shown)


def _choice(
    length: float, owned: bool, tools: list[Circle], outlets: tuple[Circle, ...],
    area: tuple[float, float, float, float], slack: float, hose: Hose,
) -> ReachChoice:  # fmt: skip
    circles = [Circle(t.name, t.x_m, t.y_m, max(0.0, (length - t.radius_m) / slack)) for t in tools]
    spots = _candidates([*circles, *(o for o in outlets if math.isfinite(o.radius_m))], area)
    if outlets:
        spots = spots[_inside(spots, outlets).any(axis=1)]
    serves = _inside(spots, circles)
    reachable: NDArray[np.bool_] = np.asarray(serves.any(axis=0))
    chosen = fewest_sets(serves[:, reachable]) if reachable.any() else []
    left = {i for i in range(len(circles)) if reachable[i]}
    parkings = []
    for row in chosen:
        # A tool in reach of two spots goes with the first: the unit then need not return.
        mine = [i for i in left if serves[row, i]]
        left -= set(mine)
        x, y = _settle(spots[row], [circles[i] for i in mine], tools, mine, outlets, area, slack)
        needed = max(slack * math.hypot(x - tools[i].x_m, y - tools[i].y_m) + tools[i].radius_m
                     for i in mine)  # fmt: skip
        parkings.append(
            Parking(x, y, tuple(tools[i].name for i in mine), needed, _outlet(x, y, outlets))
        )
    bore = hose.bore.best_si
    friction = fact(f"hookup.friction.{hose.wall}").value
    loss = friction * length / bore * float(velocity_pressure_pa(bore))
    unserved = tuple(t.name for t, ok in zip(tools, reachable, strict=True) if not ok)
    return ReachChoice(length, owned, tuple(parkings), unserved, tuple(circles), loss)


def _inside(spots: Floats, circles: Sequence[Circle]) -> NDArray[np.bool_]:
    if not len(spots) or not circles:
        return np.zeros((len(spots), len(circles)), dtype=bool)
    at = np.array([[c.x_m, c.y_m] for c in circles])
    radius = np.array([c.radius_m for c in circles])
    away = np.linalg.norm(spots[:, None, :] - at[None, :, :], axis=2)
    return np.asarray(away <= radius + _TINY)


def _candidates(circles: Sequence[Circle], area: tuple[float, float, float, float]) -> Floats:
    """Spots worth trying, all inside the parking area."""
    left, front, right, back = area
    found = [(x, y) for x in (left, right) for y in (front, back)]
    for i, a in enumerate(circles):
        found.append((min(max(a.x_m, left), right), min(max(a.y_m, front), back)))
        for b in circles[i + 1 :]:
            found += crossing(a, b)
        for x in (left, right):
            if abs(x - a.x_m) <= a.radius_m:
                up = math.sqrt(a.radius_m**2 - (x - a.x_m) ** 2)
                found += [(x, a.y_m - up), (x, a.y_m + up)]
        for y in (front, back):
            if abs(y - a.y_m) <= a.radius_m:
                along = math.sqrt(a.radius_m**2 - (y - a.y_m) ** 2)
                found += [(a.x_m - along, y), (a.x_m + along, y)]
    spots = np.array(found)
    ok = (
        (spots[:, 0] >= left - _TINY) & (spots[:, 0] <= right + _TINY)
        & (spots[:, 1] >= front - _TINY) & (spots[:, 1] <= back + _TINY)
    )  # fmt: skip
    return np.asarray(spots[ok])


def crossing(a: Circle, b: Circle) -> list[tuple[float, float]]:
    """Where two circles cross: none, one or two points."""
    dx, dy = b.x_m - a.x_m, b.y_m - a.y_m
    apart = math.hypot(dx, dy)
    if apart < _TINY or apart > a.radius_m + b.radius_m or apart < abs(a.radius_m - b.radius_m):
        return []
    along = (a.radius_m**2 - b.radius_m**2 + apart**2) / (2 * apart)
    up = math.sqrt(max(0.0, a.radius_m**2 - along**2))
    x, y = a.x_m + along * dx / apart, a.y_m + along * dy / apart
    return [(x - up * dy / apart, y + up * dx / apart), (x + up * dy / apart, y - up * dx / apart)]


def fewest_sets(member: NDArray[np.bool_]) -> list[int]:
    """Fewest rows of a boolean matrix that together cover every column, exactly.

    Every column must be covered by some row. Rows within another are dropped; then
    depths are tried in turn, always on the column that the fewest rows cover.
    """
    masks = [sum(1 << int(c) for c in np.flatnonzero(row)) for row in member]
    order = sorted(range(len(masks)), key=lambda r: -masks[r].bit_count())
    kept: list[int] = []
    for row in order:
        if masks[row] and not any(masks[row] | masks[k] == masks[k] for k in kept):
            kept.append(row)
    everything = (1 << member.shape[1]) - 1

    def cover(left: int, depth: int) -> list[int] | None:
        if not left:
            return []
        most = max((masks[k] & left).bit_count() for k in kept)
        if depth * most < left.bit_count():
            return None
        bits = [b for b in range(member.shape[1]) if left >> b & 1]
        rare = min(bits, key=lambda b: sum(masks[k] >> b & 1 for k in kept))
        for k in kept:
            if masks[k] >> rare & 1:
                rest = cover(left & ~masks[k], depth - 1)
                if rest is not None:
                    return [k, *rest]
        return None

    for depth in range(1, member.shape[1] + 1):
        found = cover(everything, depth)
        if found is not None:
            return sorted(found, key=lambda r: -masks[r].bit_count())
    return []


def _settle(
    spot: Floats, circles: list[Circle], tools: list[Circle], mine: list[int],
    outlets: tuple[Circle, ...], area: tuple[float, float, float, float], slack: float,
) -> tuple[float, float]:  # fmt: skip
    """From a spot that serves some tools to one nearer the middle of them."""
    best, step = (float(spot[0]), float(spot[1])), max(c.radius_m for c in circles) / 4

    def needed(x: float, y: float) -> float:
        inside = area[0] <= x <= area[2] and area[1] <= y <= area[3]
        if not inside or (outlets and _outlet(x, y, outlets) is None):
            return math.inf
        return max(
            slack * math.hypot(x - tools[i].x_m, y - tools[i].y_m) + tools[i].radius_m for i in mine
        )

    lowest = needed(*best)
    while step > 0.01:
        around = [
            (best[0] + step * math.cos(k * math.pi / 8), best[1] + step * math.sin(k * math.pi / 8))
            for k in range(16)
        ]
        nearest = min(around, key=lambda p: needed(*p))
        if needed(*nearest) < lowest - 1e-6:
            best, lowest = nearest, needed(*nearest)
        else:
            step /= 2
    return best


def _outlet(x: float, y: float, outlets: tuple[Circle, ...]) -> int | None:
    """Number of the nearest outlet that the cord reaches; None where there is none."""
    near = [
        (math.hypot(x - o.x_m, y - o.y_m), i)
        for i, o in enumerate(outlets, 1)
        if math.hypot(x - o.x_m, y - o.y_m) <= o.radius_m + _TINY
    ]
    return min(near)[1] if near else None


def _findings(
    shop: Shop, hose: Hose, draw: Draw, choices: list[ReachChoice]
) -> tuple[Finding, ...]:
    owned = next(c for c in choices if c.owned)
    slack = draw.between(*fact("hookup.hose_slack").span, "hookup.hose_slack")
    rise = {t.name: t.rise for t in shop.tools}
    places = {t.name: t.place for t in shop.tools}
    found = []
    for spot in owned.spots:
        for name in spot.tools:
            place = places[name]
            assert place is not None
            away = np.hypot(spot.x_m - draw.of(place.x), spot.y_m - draw.of(place.y))
            found.append(judge(
                key="hookup.reach", room="hookup", about=name,
                check=f"{hose.name} reaches it from its parking spot",
                value=draw.of(hose.length), limit=slack * away + draw.of(rise[name]),
                must="at least", dimension="length", draw=draw,
                rests_on=(hose.length, rise[name], place.x, place.y),
                sources=("hookup.hose_slack",),
                good="The hose reaches it.", bad="The hose is too short from this spot.",
                do="Park nearer, or take a longer hose.",
            ))  # fmt: skip
    for name in owned.unserved:
        found.append(Finding(
            "hookup.reach", "hookup", name, f"{hose.name} reaches it", "problem",
            "No spot in the room lets the hose reach it"
            + (" while the cord reaches an outlet." if shop.room.outlets else "."),
            sources=("hookup.hose_slack",), do="Take a longer hose, or move the tool.",
        ))  # fmt: skip
    return tuple(found)
