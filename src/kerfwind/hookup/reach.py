"""Where to park the unit so that the hose reaches: the floor map.

A hose of length L that climbs a rise h reaches a tool from any spot within
(L - h) / slack of it, since a hose lies in curves; each tool has the hose of its own
chain. A spot serves the tools whose circles it lies in, and is clear of walls and outlines
(`free_floor.py`). The fewest spots that serve all are found exactly: the spots that serve a set
of tools have a corner where two of the lines that bound them cross, or are a whole circle.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..facts import Ref, facts
from ..finding import Finding, finding, judge
from ..quantity import Draw
from ..shop import Hose, Shop, Tool
from ..sources import fact
from .ends import Floats
from .free_floor import FreeFloor, Outline, distance, free_floors, in_blocks, middle, outlines
from .loss import velocity_pressure_pa

#: Lengths that hoses are sold in, in feet, or near enough in metres (common practice).
SOLD_FT = (6, 8, 10, 12, 16, 20, 25)
#: With more circles than this, forty tools with ten hoses, their crossings take seconds and
#: soon hours: spots on a lattice of so many points stand for them.
MOST_CROSSED, LATTICE = 400, 3_000
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
    """One spot: which tools it serves, and how long each hose must be for the farthest.

    ``turned``: the unit's length lies across the room.
    """

    x_m: float
    y_m: float
    turned: bool
    tools: tuple[str, ...]
    needed: tuple[tuple[str, float], ...]
    outlet: int | None

    @property
    def needed_m(self) -> float:
        """The longest hose that the spot needs [m]."""
        return max(length for _, length in self.needed)


@dataclass(frozen=True)
class HoseLength:
    """A hose at one length: what it loses at the reference airflow, what a new one costs."""

    name: str
    length_m: float
    owned: bool
    loss_pa: float
    price: float


@dataclass(frozen=True)
class ReachChoice:
    """Hoses at some lengths: the fewest spots, and what the lengths cost.

    ``changed`` is the hose that is not as owned; empty where all are. ``unserved`` are
    tools that no spot reaches.
    """

    hoses: tuple[HoseLength, ...]
    changed: str
    spots: tuple[Parking, ...]
    unserved: tuple[str, ...]
    circles: tuple[Circle, ...]

    @property
    def owned(self) -> bool:
        """Whether every hose is as it is owned."""
        return not self.changed

    @property
    def moves(self) -> int:
        """How often the unit is moved in a session that uses every tool once."""
        return max(0, len(self.spots) - 1)

    @property
    def price(self) -> float:
        """Of the new hose, if there is one."""
        return sum(h.price for h in self.hoses)

    def hose(self, name: str) -> HoseLength:
        """One of its hoses; StopIteration when there is none of that name."""
        return next(h for h in self.hoses if h.name == name)


@dataclass(frozen=True)
class FloorMap:
    """The room, what stands where, and the choice between moves and hose.

    ``footprint_m`` is the unit's length and width; ``hoses`` names each tool's hose;
    ``choices`` begins with the hoses as owned; ``left_out`` are tools without a place.
    """

    length_m: float
    width_m: float
    footprint_m: tuple[float, float]
    tools: tuple[Circle, ...]
    outlines: tuple[Outline, ...]
    outlets: tuple[Circle, ...]
    hoses: dict[str, str]
    choices: tuple[ReachChoice, ...]
    left_out: tuple[str, ...]
    findings: tuple[Finding, ...]


def floor_map(
    shop: Shop,
    hoses: Mapping[str, Hose],
    draw: Draw,
    *,
    footprint_m: tuple[float, float] | None = None,
) -> FloorMap | None:
    """Parking for the tools that have a place and a hose; None where none has.

    Parameters
    ----------
    hoses
        The hose of each tool's own chain, by the tool's name.
    footprint_m
        Length and width of the unit; by default the largest that the shop allows.
    """
    placed = [t for t in shop.tools if t.place is not None and t.name in hoses]
    if not placed:
        return None
    free = free_floors(shop, footprint_m)
    used = {h.name: h for t in placed for h in [hoses[t.name]]}
    floor = Floor(free, placed, plugs(shop), used, {t.name: hoses[t.name].name for t in placed})
    own = {name: h.length.best_si for name, h in used.items()}
    choices = [floor.choice(own)]
    for name in used:
        choices += [floor.choice({**own, name: sold}, name) for sold in floor.worth(own, name)]
    wishes = shop.wishes
    return FloorMap(
        shop.room.length.best_si,
        shop.room.width.best_si,
        footprint_m or (wishes.largest_length.best_si, wishes.largest_width.best_si),
        tuple(Circle(t.name, *middle(t), t.rise.best_si) for t in placed),
        outlines(shop),
        plugs(shop),
        floor.of,
        tuple(choices),
        tuple(t.name for t in shop.tools if t not in placed),
        _findings(shop, hoses, draw, choices[0]),
    )


def plugs(shop: Shop) -> tuple[Circle, ...]:
    """Outlets, with how far from them the unit's cord lets it stand."""
    slack = fact("hookup.hose_slack").value
    cord = shop.circuit.cord.best_si / slack if shop.circuit.cord else math.inf
    return tuple(
        Circle(f"outlet {i}", o.x.best_si, o.y.best_si, cord)
        for i, o in enumerate(shop.room.outlets, 1)
    )


@dataclass(frozen=True)
class Floor:
    """Tools on the floor with their hoses; `choice` parks for hoses of given lengths.

    ``of`` names the hose of each tool.
    """

    floors: tuple[FreeFloor, ...]
    tools: Sequence[Tool]
    outlets: tuple[Circle, ...]
    hoses: Mapping[str, Hose]
    of: dict[str, str]

    def worth(self, own: Mapping[str, float], name: str) -> list[float]:
        """Lengths of one hose on sale that serve more than any shorter one does.

        Longer than owned only where they serve more than the one owned.
        """
        own_score = self.score(own)
        best, shown = (math.inf, math.inf), []
        for length in (ft * 0.3048 for ft in SOLD_FT):
            if abs(length - own[name]) > 0.01:
                score = self.score({**own, name: length})
                if score < best and (score < own_score or length < own[name]):
                    shown.append(length)
                best = min(best, score)
        return shown

    def score(self, lengths: Mapping[str, float]) -> tuple[float, float]:
        """Tools out of reach, and spots for the others."""
        *_, reachable, chosen = self._cover(lengths)
        return float(np.sum(~reachable)), float(len(chosen))

    def _cover(
        self, lengths: Mapping[str, float]
    ) -> tuple[list[Circle], Floats, NDArray[np.bool_], NDArray[np.bool_], list[int]]:
        circles = [circle(t, lengths[self.of[t.name]]) for t in self.tools]
        spots, serves = where(self.floors, circles, self.outlets)
        reachable: NDArray[np.bool_] = np.asarray(serves.any(axis=0))
        chosen = fewest_sets(serves[:, reachable]) if reachable.any() else []
        return circles, spots, serves, reachable, chosen

    def choice(self, lengths: Mapping[str, float], changed: str = "") -> ReachChoice:
        """The fewest spots for hoses of these lengths [m]."""
        circles, spots, serves, reachable, chosen = self._cover(lengths)
        left = {i for i in range(len(circles)) if reachable[i]}
        parkings = []
        for row in chosen:
            # A tool in reach of two spots goes with the first: the unit then need not return.
            served = [i for i in sorted(left) if serves[row, i]]
            left -= set(served)
            parkings.append(self._park(spots[row], [self.tools[i] for i in served], lengths))
        unserved = tuple(t.name for t, ok in zip(self.tools, reachable, strict=True) if not ok)
        return ReachChoice(
            tuple(self._length(h, lengths[n], n == changed) for n, h in self.hoses.items()),
            changed,
            tuple(parkings),
            unserved,
            tuple(circles),
        )

    def _park(self, spot: Floats, served: list[Tool], lengths: Mapping[str, float]) -> Parking:
        floor = self.floors[int(spot[2])]
        x, y = self._roomiest(floor, (float(spot[0]), float(spot[1])), served, lengths)
        needed: dict[str, float] = {}
        for tool in served:
            name = self.of[tool.name]
            needed[name] = max(needed.get(name, 0.0), needed_m(x, y, tool))
        return Parking(
            x,
            y,
            floor.turned,
            tuple(t.name for t in served),
            tuple(needed.items()),
            _outlet(x, y, self.outlets),
        )

    def _roomiest(
        self,
        floor: FreeFloor,
        spot: tuple[float, float],
        served: list[Tool],
        lengths: Mapping[str, float],
    ) -> tuple[float, float]:
        """From a spot that serves some tools to one that leaves their hoses the most to spare."""
        at = np.array([middle(t) for t in served])
        slack = fact("hookup.hose_slack").value
        bias = np.array([t.rise.best_si - lengths[self.of[t.name]] for t in served])

        def short(spots: Floats) -> Floats:
            away = np.linalg.norm(spots[:, None, :] - at[None], axis=2)
            most = (slack * away + bias).max(axis=1)
            ok = floor.free(spots)
            if self.outlets:
                ok &= _within(spots, self.outlets).any(axis=1)
            return np.where(ok, most, np.inf)

        best = np.array(spot)
        lowest = float(short(best[None])[0])
        angles = np.arange(16) * math.pi / 8
        rose = np.stack([np.cos(angles), np.sin(angles)], axis=1)
        step = 1.0
        while step > 0.01:
            around = best + step * rose
            values = short(around)
            k = int(np.argmin(values))
            if values[k] < lowest - 1e-6:
                best, lowest = around[k], float(values[k])
            else:
                step /= 2
        return float(best[0]), float(best[1])

    @staticmethod
    def _length(hose: Hose, length: float, new: bool) -> HoseLength:
        bore = hose.bore.best_si
        friction = fact(f"hookup.friction.{hose.wall}").value
        loss = friction * length / bore * float(velocity_pressure_pa(bore))
        price = fact("air.cost.hose_m").value * length if new else 0.0
        return HoseLength(hose.name, length, not new, loss, price)


def circle(tool: Tool, length_m: float) -> Circle:
    """From where a hose of some length reaches a tool."""
    radius = (length_m - tool.rise.best_si) / fact("hookup.hose_slack").value
    return Circle(tool.name, *middle(tool), max(0.0, radius))


def needed_m(x_m: float, y_m: float, tool: Tool) -> float:
    """Hose [m] that a tool needs from a spot."""
    slack = fact("hookup.hose_slack").value
    return slack * distance(x_m, y_m, tool) + tool.rise.best_si


def where(
    floors: Sequence[FreeFloor], circles: Sequence[Circle], outlets: Sequence[Circle]
) -> tuple[Floats, NDArray[np.bool_]]:
    """Spots worth trying and which circles each lies in.

    No other spot lies in more of them, up to `MOST_CROSSED` circles; with more, the spots are
    those of a lattice over the floor.

    Returns
    -------
    spots
        x, y and the number of the floor, shape (n, 3); all free and in reach of an outlet.
    serves
        Shape (n, circles).
    """
    held = [*circles, *(o for o in outlets if math.isfinite(o.radius_m))]
    at = np.array([[c.x_m, c.y_m] for c in held]).reshape(-1, 2)
    radius = np.array([c.radius_m for c in held])
    many = len(held) > MOST_CROSSED
    pairs = () if many else itertools.combinations(held, 2)
    meet = [point for a, b in pairs for point in crossing(a, b)]
    round_ = np.concatenate([np.array(meet).reshape(-1, 2), at])
    by_floor = []
    for number, each in enumerate(floors):
        near = np.stack(
            [
                np.clip(at[:, 0], each.area[0], each.area[2]),
                np.clip(at[:, 1], each.area[1], each.area[3]),
            ],
            axis=1,
        )
        edges = _lattice(each.area) if many else each.crossings(at, radius)
        loose = np.concatenate([round_, near, edges])
        spots = np.concatenate([each.corners, loose[each.free(loose)]])
        by_floor.append(np.column_stack([spots, np.full(len(spots), float(number))]))
    every = np.concatenate(by_floor)
    if outlets:
        every = every[_within(every[:, :2], outlets).any(axis=1)]
    serves = _within(every[:, :2], circles)
    if len(every):
        # One spot for each set of circles: others serve no better.
        _, first = np.unique(np.packbits(serves, axis=1), axis=0, return_index=True)
        first.sort()
        every, serves = every[first], serves[first]
    return every, serves


def _lattice(area: tuple[float, float, float, float]) -> Floats:
    """Points over an area, as far apart one way as the other."""
    left, front, right, back = area
    wide, deep = max(right - left, 0.0), max(back - front, 0.0)
    step = max(math.sqrt(wide * deep / LATTICE), (wide + deep) / LATTICE, 1e-3)
    x, y = np.arange(left, right + _TINY, step), np.arange(front, back + _TINY, step)
    return np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)


def _within(spots: Floats, circles: Sequence[Circle]) -> NDArray[np.bool_]:
    if not len(spots) or not circles:
        return np.zeros((len(spots), len(circles)), dtype=bool)
    at = np.array([[c.x_m, c.y_m] for c in circles])
    radius = np.array([c.radius_m for c in circles])
    found = np.zeros((len(spots), len(circles)), dtype=bool)
    for few in in_blocks(len(spots), len(circles)):
        away = np.linalg.norm(spots[few, None, :] - at[None, :, :], axis=2)
        found[few] = away <= radius + _TINY
    return found


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


#: Rows by columns that are looked at for the fewest sets: about a second's worth.
_MOST_LOOKS = 10_000_000


def fewest_sets(member: NDArray[np.bool_]) -> list[int]:
    """Fewest rows of a boolean matrix that together cover every column.

    Every column must be covered by some row. Rows within another are dropped; then
    depths are tried in turn, always on the column that the fewest rows cover. Exact, but
    where very many rows and columns would take too long: there each row in turn is the one
    that covers most of what is left.
    """
    masks = [sum(1 << int(c) for c in np.flatnonzero(row)) for row in member]
    order = sorted(range(len(masks)), key=lambda r: -masks[r].bit_count())
    kept: list[int] = []
    for row in order:
        if masks[row] and not any(masks[row] | masks[k] == masks[k] for k in kept):
            kept.append(row)
    everything = (1 << member.shape[1]) - 1
    looks = _MOST_LOOKS

    def cover(left: int, depth: int) -> list[int] | None:
        nonlocal looks
        if not left:
            return []
        looks -= len(kept) * left.bit_count()
        if looks < 0:
            return None
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
        rows = cover(everything, depth)
        if looks < 0:
            rows = _one_by_one(kept, masks, everything)
        if rows is not None:
            return sorted(rows, key=lambda r: -masks[r].bit_count())
    return []


def _one_by_one(kept: list[int], masks: list[int], everything: int) -> list[int]:
    """Rows that cover everything, each the one that covers most of what is left."""
    taken, left = [], everything
    while left:
        taken.append(max(kept, key=lambda k: (masks[k] & left).bit_count()))
        left &= ~masks[taken[-1]]
    needed, left = [], everything
    # A row that the larger ones leave nothing is none of a set.
    for row in sorted(taken, key=lambda r: -masks[r].bit_count()):
        if masks[row] & left:
            needed.append(row)
            left &= ~masks[row]
    return needed


def _outlet(x: float, y: float, outlets: tuple[Circle, ...]) -> int | None:
    """Number of the nearest outlet that the cord reaches; None where there is none."""
    near = [
        (math.hypot(x - o.x_m, y - o.y_m), i)
        for i, o in enumerate(outlets, 1)
        if math.hypot(x - o.x_m, y - o.y_m) <= o.radius_m + _TINY
    ]
    return min(near)[1] if near else None


def _findings(
    shop: Shop, hoses: Mapping[str, Hose], draw: Draw, owned: ReachChoice
) -> tuple[Finding, ...]:
    slack = draw.between(*fact("hookup.hose_slack").span, "hookup.hose_slack")
    tools = {t.name: t for t in shop.tools}
    findings = []
    for spot in owned.spots:
        for name in spot.tools:
            tool, hose = tools[name], hoses[name]
            assert tool.place is not None
            away = np.hypot(spot.x_m - draw.of(tool.place.x), spot.y_m - draw.of(tool.place.y))
            findings.append(
                judge(
                    key="hookup.reach",
                    about=Ref("tool", name),
                    value=draw.of(hose.length),
                    limit=slack * away + draw.of(tool.rise),
                    must="at least",
                    dimension="length",
                    draw=draw,
                    rests_on=(hose.length, tool.rise, tool.place.x, tool.place.y),
                    sources=("hookup.hose_slack",),
                    outcome="short",
                    facts=facts(hose=Ref("hose", hose.name)),
                )
            )
    for name in owned.unserved:
        findings.append(
            finding(
                "hookup.no_spot",
                "cord" if shop.room.outlets else "none",
                "problem",
                Ref("tool", name),
                facts=facts(hose=Ref("hose", hoses[name].name)),
                sources=("hookup.hose_slack",),
            )
        )
    return tuple(findings)
