"""Where each part goes, as distances from what is there already: found from the solids.

The sentences, the pictures and the dimensions of a step all come from what is found here, so
that none can say anything else than where the solids stand.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..solids import Body
from .model import Alignment, Axis, CutPanel, Lying, PanelJoint, PlacedPanel, Side, Step, Taken

#: Nearer than this two sides are level or touch [m].
LEVEL_M = 2e-5
#: What stands apart by less is not marked: what is left over is shared by eye [m].
HAIR_M = 1e-3
#: The plate of a caster is what lies within this of its top [m].
_PLATE_M = 1e-3
#: Carried loosely, a thing is said to be centred within this [m].
_LOOSE_M = 1e-3

AXES: tuple[Axis, Axis, Axis] = ("x", "y", "z")
#: The low and the high side along each way.
SIDES: dict[Axis, tuple[Side, Side]] = {
    "x": ("left", "right"),
    "y": ("front", "rear"),
    "z": ("lower", "upper"),
}
_ACROSS: dict[Side, Side] = {
    a: b for low, high in SIDES.values() for a, b in ((low, high), (high, low))
}

#: Low and high corner [m]: plain numbers, for they are compared one by one.
_Point = tuple[float, ...]
_Extent = tuple[_Point, _Point]


def opposite(side: Side) -> Side:
    """The side across from one."""
    return _ACROSS[side]


def lying_of(placed: PlacedPanel) -> Lying:
    """Which way round a panel goes on."""
    at = placed.at
    ends = []
    for way in (at.along, at.across, at.through):
        axis = int(np.argmax(np.abs(way)))
        low, high = SIDES[AXES[axis]]
        ends.append(low if way[axis] > 0 else high)
    return Lying(placed.name, *ends)


@dataclass(frozen=True)
class Parts:
    """All that can be aligned: extents by name [m], panels in place, and their joints.

    ``free`` are those that stand where there is room for them, screwed to nothing.
    """

    extents: Mapping[str, _Extent]
    plates: Mapping[str, tuple[CutPanel, PlacedPanel]]
    joints: Sequence[PanelJoint]
    free: frozenset[str]

    @classmethod
    def of(
        cls,
        bodies: Iterable[Body],
        panels: Iterable[CutPanel],
        placed: Iterable[PlacedPanel],
        joints: Sequence[PanelJoint],
        free: Iterable[str] = (),
    ) -> Parts:
        """Of a cart, or of a board."""
        cut = {p.key: p for p in panels}
        plates = {p.name: (cut[p.key], p) for p in placed}
        extents: dict[str, _Extent] = {name: _panel_extent(*row) for name, row in plates.items()}
        for body in bodies:
            if body.name in plates or body.part_of or body.kind == "hose":
                continue
            extents[body.name] = _extent(body)
        return cls(extents, plates, joints, frozenset(free))


def _panel_extent(panel: CutPanel, placed: PlacedPanel) -> _Extent:
    ends = (
        placed.at.point(0.0, 0.0),
        placed.at.point(panel.length_m, panel.width_m, panel.thickness_m),
    )
    return tuple(np.minimum(*ends).tolist()), tuple(np.maximum(*ends).tolist())


def _extent(body: Body) -> _Extent:
    """Low and high corner; of a caster, those of its plate."""
    points = body.vertices
    if body.kind == "hardware":
        points = points[points[:, 2] > body.high[2] - _PLATE_M]
        low, high = points.min(axis=0).tolist(), points.max(axis=0).tolist()
        return (*low[:2], float(body.low[2])), tuple(high)
    return tuple(body.low.tolist()), tuple(body.high.tolist())


def aligned(steps: Sequence[Step], parts: Parts) -> tuple[Step, ...]:
    """The steps with their alignments and with the screws that they take."""
    there: list[str] = []
    done = []
    joints = {j.key: j for j in parts.joints}
    for step in steps:
        mine = [joints[key] for key in step.joints if key in joints]
        rows = _step(step, mine, there, parts)
        counts: dict[str, int] = {}
        for screw in (s for j in mine for s in j.screws):
            counts[screw.hardware] = counts.get(screw.hardware, 0) + 1
        screws = tuple(Taken(key, count) for key, count in counts.items())
        lying = tuple(lying_of(parts.plates[n][1]) for n in step.new if n in parts.plates)
        done.append(replace(step, lying=lying, aligned=rows, takes=(*screws, *step.takes)))
    return tuple(done)


def _step(
    step: Step, joints: Sequence[PanelJoint], there: list[str], parts: Parts
) -> tuple[Alignment, ...]:
    """The alignments of one step; what it adds is put on ``there``."""
    waiting = [n for n in step.new if n in parts.extents]
    rows: list[Alignment] = []
    while waiting:
        name = _next(waiting, joints, there, parts)
        waiting.remove(name)
        if there:
            rows += _part(name, joints, there, parts)
        there.append(name)
    return tuple(rows)


def _next(
    waiting: Sequence[str], joints: Sequence[PanelJoint], there: Sequence[str], parts: Parts
) -> str:
    """What goes on next: what a joint holds to something there, else what touches something."""
    held = {j.first for j in joints} | {j.second for j in joints}
    for name in waiting:
        if _partners(name, joints, there):
            return name
    for name in waiting:
        if any(_touch(name, other, parts) is not None for other in there):
            return name
    return next((n for n in waiting if n in held), waiting[0])


def _partners(
    name: str, joints: Sequence[PanelJoint], there: Sequence[str]
) -> dict[str, PanelJoint]:
    found = {}
    for joint in joints:
        other = joint.second if joint.first == name else joint.first
        if name in (joint.first, joint.second) and other in there:
            found[other] = joint
    return found


def _touch(name: str, other: str, parts: Parts) -> tuple[int, bool] | None:
    """The way along which two parts touch, and whether the first is on the high side of it."""
    one, two = parts.extents[name], parts.extents[other]
    shared = _shared(one, two)
    apart = [axis for axis in range(3) if shared[axis] <= LEVEL_M]
    # Where they share something along both other ways, and next to nothing along this one.
    if len(apart) != 1 or abs(shared[apart[0]]) >= LEVEL_M:
        return None
    return apart[0], abs(one[0][apart[0]] - two[1][apart[0]]) < LEVEL_M


def _shared(one: _Extent, two: _Extent) -> list[float]:
    """How much two extents have in common along each way; less than nothing where they lie apart."""
    (lo, hi), (low, high) = one, two
    return [min(b, d) - max(a, c) for a, b, c, d in zip(lo, hi, low, high, strict=True)]


def _overlap(name: str, other: str, parts: Parts) -> bool:
    """Whether one part passes through another, as a peg does through its board."""
    return min(_shared(parts.extents[name], parts.extents[other])) > LEVEL_M


def _part(
    name: str, joints: Sequence[PanelJoint], there: Sequence[str], parts: Parts
) -> list[Alignment]:
    partners = _partners(name, joints, there)
    touched = [o for o in there if o not in partners and _touch(name, o, parts) is not None]
    passed = [o for o in there if o in parts.plates and _overlap(name, o, parts)]
    beside = [*partners, *touched]
    rows: list[Alignment] = []
    for axis in range(3):
        if name not in parts.plates:
            free = name in parts.free
            rows += (
                _against(name, axis, touched, parts)
                or _in_opening(name, axis, there, parts)
                or (_between(name, axis, there, parts) if free else [])
                or _centred(name, axis, touched, parts)
                or _level(name, axis, [*touched, *passed], parts)
                or (_gap(name, axis, there, parts) if free else [])
                or _measured(name, axis, touched or there, parts)
            )
            continue
        rows += (
            _joined(name, axis, partners, parts)
            or _level(name, axis, partners, parts)
            or _against(name, axis, touched, parts)
            or _level(name, axis, touched, parts)
            or _measured(name, axis, beside or there, parts)
        )
    return rows


def _joined(
    name: str, axis: int, partners: Mapping[str, PanelJoint], parts: Parts
) -> list[Alignment]:
    """Along the way in which two panels are joined: face against edge, or down in its groove."""
    rows = []
    lo, hi = parts.extents[name]
    for other, joint in partners.items():
        if abs(joint.way[axis]) < 0.5:
            continue
        low, high = parts.extents[other]
        on_high = bool(lo[axis] + hi[axis] > low[axis] + high[axis])
        side, to_side = SIDES[AXES[axis]][::-1] if not on_high else SIDES[AXES[axis]]
        gap = float(lo[axis] - high[axis] if on_high else hi[axis] - low[axis])
        flat = abs(gap) < LEVEL_M
        rows.append(
            Alignment(
                name,
                side,
                other,
                to_side,
                AXES[axis],
                0.0 if flat else gap,
                "against" if flat else "groove",
                "" if flat else joint.first,
            )
        )
    return rows


def _level(name: str, axis: int, others: Iterable[str], parts: Parts) -> list[Alignment]:
    """Sides of one name that are level, each with the first that it is level with."""
    extent = parts.extents[name]
    rows = []
    for end, side in enumerate(SIDES[AXES[axis]]):
        for other in others:
            if abs(extent[end][axis] - parts.extents[other][end][axis]) < LEVEL_M:
                rows.append(Alignment(name, side, other, side, AXES[axis], 0.0, "flush"))
                break
    return rows


def _against(name: str, axis: int, others: Iterable[str], parts: Parts) -> list[Alignment]:
    for other in others:
        touch = _touch(name, other, parts)
        if touch is not None and touch[0] == axis:
            low, high = SIDES[AXES[axis]]
            side, to_side = (low, high) if touch[1] else (high, low)
            return [Alignment(name, side, other, to_side, AXES[axis], 0.0, "against")]
    return []


def _middle(name: str, axis: int, parts: Parts) -> float:
    low, high = parts.extents[name]
    return float(low[axis] + high[axis]) / 2


def _in_opening(name: str, axis: int, there: Iterable[str], parts: Parts) -> list[Alignment]:
    """In the opening of a panel that it passes through."""
    lo, hi = parts.extents[name]
    for other in there:
        if other not in parts.plates:
            continue
        panel, placed = parts.plates[other]
        if not _overlap(name, other, parts):
            continue
        for hole in panel.openings:
            centre = placed.at.point(hole.x_m, hole.y_m, panel.thickness_m / 2)
            through = int(np.argmax(np.abs(placed.at.through)))
            off = [
                abs(c - (a + b) / 2)
                for way, (c, a, b) in enumerate(zip(centre.tolist(), lo, hi, strict=True))
                if way != through
            ]
            if max(off) < _LOOSE_M and axis != through:
                offset = _middle(name, axis, parts) - _middle(other, axis, parts)
                return [Alignment(name, "middle", other, "middle", AXES[axis], offset, "opening")]
    return []


def _between(name: str, axis: int, there: Sequence[str], parts: Parts) -> list[Alignment]:
    """Half way between two panels that face it from both sides, as a bucket between its cleats."""
    low_side, high_side = SIDES[AXES[axis]]
    middle = _middle(name, axis, parts)
    before = [
        (middle - float(parts.extents[o][1][axis]), o)
        for o in there
        if o in parts.plates and _faces(name, o, axis, parts)
    ]
    after = [
        (float(parts.extents[o][0][axis]) - middle, o)
        for o in there
        if o in parts.plates and _faces(name, o, axis, parts)
    ]
    one = min((row for row in before if row[0] > 0), default=None)
    two = min((row for row in after if row[0] > 0), default=None)
    if one is None or two is None or abs(one[0] - two[0]) > _LOOSE_M:
        return []
    return [
        Alignment(name, "middle", one[1], high_side, AXES[axis], one[0], "between"),
        Alignment(name, "middle", two[1], low_side, AXES[axis], -two[0], "between"),
    ]


def _centred(name: str, axis: int, others: Iterable[str], parts: Parts) -> list[Alignment]:
    for other in others:
        if abs(_middle(name, axis, parts) - _middle(other, axis, parts)) < _LOOSE_M:
            return [Alignment(name, "middle", other, "middle", AXES[axis], 0.0, "centred")]
    return []


def _gap(name: str, axis: int, there: Iterable[str], parts: Parts) -> list[Alignment]:
    """The least free way to a panel that faces it."""
    lo, hi = parts.extents[name]
    low_side, high_side = SIDES[AXES[axis]]
    best: Alignment | None = None
    for other in there:
        if other not in parts.plates or not _faces(name, other, axis, parts):
            continue
        low, high = parts.extents[other]
        for side, to_side, offset in (
            (low_side, high_side, float(lo[axis] - high[axis])),
            (high_side, low_side, float(hi[axis] - low[axis])),
        ):
            outside = offset >= 0 if side == low_side else offset <= 0
            if outside and (best is None or abs(offset) < abs(best.offset_m)):
                best = Alignment(name, side, other, to_side, AXES[axis], offset, "marked", other)
    return [best] if best is not None else []


def _measured(name: str, axis: int, others: Iterable[str], parts: Parts) -> list[Alignment]:
    """The least distance to a side of what it meets; both sides' where they are alike."""
    lo, hi = parts.extents[name]
    ends = SIDES[AXES[axis]]
    rows: list[tuple[float, Alignment]] = []
    for rank, other in enumerate(others):
        low, high = parts.extents[other]
        carrier = _carrier(name, other, axis, parts)
        for side, mine in zip(ends, (lo, hi), strict=True):
            for to_side, its in zip(ends, (low, high), strict=True):
                offset = float(mine[axis] - its[axis])
                # From edge to edge of one name one setting of the rule does for both ends.
                cost = abs(offset) + (0.0 if side == to_side else 0.02) + 1e-6 * rank
                rows.append(
                    (
                        cost,
                        Alignment(
                            name, side, other, to_side, AXES[axis], offset, "marked", carrier
                        ),
                    )
                )
    if not rows:
        return []
    _, best = min(rows, key=lambda row: row[0])
    alike = [
        r
        for _, r in rows
        if r.side == r.to_side != best.side == best.to_side
        and abs(r.offset_m + best.offset_m) < LEVEL_M
    ]
    return [best, *alike[:1]]


def _faces(name: str, other: str, axis: int, parts: Parts) -> bool:
    """Whether one part covers something of another, seen along a way."""
    shared = _shared(parts.extents[name], parts.extents[other])
    return min(each for way, each in enumerate(shared) if way != axis) > LEVEL_M


def _carrier(name: str, other: str, axis: int, parts: Parts) -> str:
    """Which of two parts the mark is made on: the one that reaches further along the way."""
    (lo, hi), (low, high) = parts.extents[name], parts.extents[other]
    return name if hi[axis] - lo[axis] > high[axis] - low[axis] + LEVEL_M else other
