"""Where to park the unit so that the hose reaches: the floor map.

A hose of length L that climbs a rise h reaches a tool from any spot within
(L - h) / slack of it, since a hose lies in curves; each tool has the hose of its own
chain. A spot serves the tools whose circles it lies in, and is clear of walls and outlines
(`free_floor.py`). The fewest spots that serve all are found exactly: the spots that serve a set
of tools have a corner where two of the lines that bound them cross, or are a whole circle.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

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
#: Columns that fit into one whole number.
_MOST_BITS = 63


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


#: Circles, spots, which circles each spot is in, which can be reached, and the fewest spots.
_Cover = tuple[list[Circle], Floats, NDArray[np.bool_], NDArray[np.bool_], list[int]]


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
    _covers: dict[tuple[float, ...], _Cover] = field(default_factory=dict)

    def worth(self, own: Mapping[str, float], name: str) -> list[float]:
        """Lengths of one hose on sale that serve more than any shorter one does.

        Longer than owned only where they serve more than the one owned.
        """
        sold = [ft * 0.3048 for ft in SOLD_FT if abs(ft * 0.3048 - own[name]) > 0.01]
        every = sorted([*sold, own[name]])
        scores = dict(zip(every, self._falling(own, name, every), strict=True))
        best, shown = (math.inf, math.inf), []
        for length in sold:
            score = scores[length]
            if score < best and (score < scores[own[name]] or length < own[name]):
                shown.append(length)
            best = min(best, score)
        return shown

    def _falling(
        self, own: Mapping[str, float], name: str, lengths: Sequence[float]
    ) -> list[tuple[float, float]]:
        """Scores of one hose's lengths, shortest first.

        A longer hose reaches from wherever a shorter one does, so between two lengths of the same
        score there is no other.
        """
        scores: dict[int, tuple[float, float]] = {}

        def fill(first: int, last: int) -> None:
            for i in (first, last):
                if i not in scores:
                    scores[i] = self.score({**own, name: lengths[i]})
            if scores[first] == scores[last]:
                scores.update(dict.fromkeys(range(first, last), scores[first]))
            elif last - first > 1:
                fill(first, (first + last) // 2)
                fill((first + last) // 2, last)

        fill(0, len(lengths) - 1)
        return [scores[i] for i in range(len(lengths))]

    def score(self, lengths: Mapping[str, float]) -> tuple[float, float]:
        """Tools out of reach, and spots for the others."""
        *_, reachable, chosen = self._cover(lengths)
        return float(np.sum(~reachable)), float(len(chosen))

    def _cover(self, lengths: Mapping[str, float]) -> _Cover:
        key = tuple(lengths[name] for name in self.hoses)
        if key not in self._covers:
            circles = [circle(t, lengths[self.of[t.name]]) for t in self.tools]
            spots, serves = where(self.floors, circles, self.outlets)
            reachable: NDArray[np.bool_] = np.asarray(serves.any(axis=0))
            chosen = fewest_sets(serves[:, reachable]) if reachable.any() else []
            self._covers[key] = circles, spots, serves, reachable, chosen
        return self._covers[key]

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

        plugs_at, cords = _disks(self.outlets)

        def short(spots: Floats) -> Floats:
            across = spots[:, 0, None] - at[:, 0]
            along = spots[:, 1, None] - at[:, 1]
            most: Floats = (slack * np.sqrt(across * across + along * along) + bias).max(axis=1)
            return most

        def free(spots: Floats) -> NDArray[np.bool_]:
            ok = floor.free(spots)
            if self.outlets:
                ok &= _within(spots, plugs_at, cords).any(axis=1)
            return ok

        best = np.array(spot)
        lowest = float(short(best[None])[0])
        if not free(best[None])[0]:
            lowest = math.inf
        angles = np.arange(16) * math.pi / 8
        rose = np.stack([np.cos(angles), np.sin(angles)], axis=1)
        step = 1.0
        while step > 0.01:
            around = best + step * rose
            values = short(around)
            better = np.flatnonzero(values < lowest - 1e-6)
            if len(better):
                values[better] = np.where(free(around[better]), values[better], np.inf)
            k = int(better[np.argmin(values[better])]) if len(better) else 0
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
    at, radius = _disks(held)
    many = len(held) > MOST_CROSSED
    round_ = at if many else np.concatenate([meetings(at, radius), at])
    by_floor = []
    for number, each in enumerate(floors):
        left, front, right, back = each.area
        near = np.clip(at, (left, front), (right, back))
        edges = _lattice(each.area) if many else each.crossings(at, radius)
        loose = np.concatenate([round_, near, edges])
        spots = np.concatenate([each.corners, loose[each.free(loose)]])
        by_floor.append(np.column_stack([spots, np.full(len(spots), float(number))]))
    every = np.concatenate(by_floor)
    if outlets:
        every = every[_within(every[:, :2], *_disks(outlets)).any(axis=1)]
    serves = _within(every[:, :2], *_disks(circles))
    if len(every):
        # One spot for each set of circles: others serve no better.
        first = _first_of_each(serves)
        every, serves = every[first], serves[first]
    return every, serves


def _disks(circles: Sequence[Circle]) -> tuple[Floats, Floats]:
    """Middles and radii, shape (n, 2) and (n,)."""
    at = np.array([(c.x_m, c.y_m) for c in circles]).reshape(-1, 2)
    return at, np.array([c.radius_m for c in circles])


def _first_of_each(sets: NDArray[np.bool_]) -> NDArray[np.intp]:
    """The first row of each that is alike."""
    if sets.shape[1] < _MOST_BITS:
        whole = sets @ (1 << np.arange(sets.shape[1], dtype=np.int64))
        first = np.unique(whole, return_index=True)[1]
    else:
        first = np.unique(np.packbits(sets, axis=1), axis=0, return_index=True)[1]
    return np.sort(first)


def _lattice(area: tuple[float, float, float, float]) -> Floats:
    """Points over an area, as far apart one way as the other."""
    left, front, right, back = area
    wide, deep = max(right - left, 0.0), max(back - front, 0.0)
    step = max(math.sqrt(wide * deep / LATTICE), (wide + deep) / LATTICE, 1e-3)
    x, y = np.arange(left, right + _TINY, step), np.arange(front, back + _TINY, step)
    return np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)


def _within(spots: Floats, at: Floats, radius: Floats) -> NDArray[np.bool_]:
    """Which disks each spot is in, shape (spots, disks)."""
    found = np.zeros((len(spots), len(at)), dtype=bool)
    if not found.size:
        return found
    for few in in_blocks(len(spots), len(at)):
        across = spots[few, 0, None] - at[:, 0]
        along = spots[few, 1, None] - at[:, 1]
        found[few] = np.sqrt(across * across + along * along) <= radius + _TINY
    return found


@lru_cache(maxsize=8)
def _pairs(count: int) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    return np.triu_indices(count, 1)


def meetings(at: Floats, radius: Floats) -> Floats:
    """Where circles cross, two points for each pair that does, shape (k, 2)."""
    first, second = _pairs(len(at))
    way = at[second] - at[first]
    apart = np.hypot(way[:, 0], way[:, 1])
    a, b = radius[first], radius[second]
    cross = (apart >= _TINY) & (apart <= a + b) & (apart >= np.abs(a - b))
    foot, way, apart, a, b = at[first[cross]], way[cross], apart[cross], a[cross], b[cross]
    along = (a**2 - b**2 + apart**2) / (2 * apart)
    up = np.sqrt(np.maximum(0.0, a**2 - along**2))
    unit = way / apart[:, None]
    foot = foot + along[:, None] * unit
    aside = up[:, None] * np.stack([-unit[:, 1], unit[:, 0]], axis=1)
    return np.stack([foot + aside, foot - aside], axis=1).reshape(-1, 2)


#: Rows by columns that are looked at for the fewest sets: about a second's worth.
_MOST_LOOKS = 10_000_000


def fewest_sets(member: NDArray[np.bool_]) -> list[int]:
    """Fewest rows of a boolean matrix that together cover every column.

    Every column must be covered by some row. Rows within another are dropped; then
    depths are tried in turn, always on the column that the fewest rows cover. Exact, but
    where very many rows and columns would take too long: there each row in turn is the one
    that covers most of what is left.
    """
    packed = np.packbits(member, axis=1, bitorder="little")
    masks = [int.from_bytes(row.tobytes(), "little") for row in packed]
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
