"""Putting a form together: panels placed in space, and joints found where they touch."""

from __future__ import annotations

import itertools
import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from typing import Any, NamedTuple

import numpy as np

from ..facts import Amount, Fact, Statement, Term, state
from ..solids import Body, Corner, Face, FlatPanel, Groove, Opening, Placement, panel_body
from ..sources import fact
from .fasteners import ScrewSize, into_edge_m, into_face_m, screw_size, spread
from .grooves import groove
from .marks import MarkingRule
from .model import (
    CutPanel,
    Edge,
    Grain,
    HardwareItem,
    Hole,
    JointKind,
    Kept,
    PanelJoint,
    PlacedPanel,
    Pocket,
    Screw,
)
from .pockets import PocketWork, pockets_for
from .segments import BETWEEN_M, Line, ends_of, segments_apart_m

_TOUCH_M = 1e-5
#: Along a joint, from one screw to the next at least; steps a screw is moved in [m].
_BESIDE_M, _MOVE_M = 0.02, 0.002
#: Within this a hole that another copy of the panel has is used again [m].
_SHARED_M = 0.06
_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


def _mark(number: int) -> str:
    """A panel's letter by its number: A to Z without I and O, then AA, AB and so on."""
    more, rest = divmod(number, len(_LETTERS))
    return (_LETTERS[more - 1] if more else "") + _LETTERS[rest]


#: What each panel is, for those that may come from the second sheet.
ROLES = {
    "lipping": "lipping",
    "long lipping": "lipping",
    "short lipping": "lipping",
    "bucket cleat": "cleat",
    "rail": "rail",
    "shelf": "shelf",
}


@dataclass(frozen=True)
class SecondSheet:
    """A sheet of another thickness, and what is cut from it [m]."""

    name: str
    thickness_m: float
    along_m: float
    across_m: float
    roles: frozenset[str]


class UnjoinableError(ValueError):
    """Panels that cannot be made or joined as they are; ``why`` says what stands against it."""

    def __init__(self, why: Statement) -> None:
        super().__init__(why)
        self.why = why


class _Meet(NamedTuple):
    """Where two panels meet: a box, which way the second lies, how far it sinks in.

    ``deep`` is the whole of the second along that way.
    """

    low: np.ndarray
    high: np.ndarray
    way: np.ndarray
    outside: float
    sink: float
    into_face: bool
    normal: int
    long: int
    short: int
    deep: float


def _head(meet: _Meet, place: float) -> np.ndarray:
    """Where a screw's head sits, ``place`` along the joint from its low end."""
    head = np.zeros(3)
    head[meet.normal], head[meet.long] = meet.outside, meet.low[meet.long] + place
    head[meet.short] = (meet.low[meet.short] + meet.high[meet.short]) / 2
    return head


def _vector(v: np.ndarray) -> tuple[float, float, float]:
    return float(v[0]), float(v[1]), float(v[2])


def _same_groove(a: Groove, b: Groove) -> bool:
    sides = ((a.x_m, b.x_m), (a.y_m, b.y_m), (a.length_m, b.length_m), (a.width_m, b.width_m))
    return a.face == b.face and all(abs(m - n) < 1e-6 for m, n in sides)


def _same_pocket(a: Pocket, b: Pocket) -> bool:
    sides = ((a.x_m, b.x_m), (a.y_m, b.y_m), (a.seat_m, b.seat_m))
    near = all(abs(m - n) < 1e-6 for m, n in sides)
    return near and (a.to, a.face) == (b.to, b.face)


@dataclass
class Workbench:
    """Collects one cart while a form lays it out.

    ``wish`` is the joint that is wished for; ``faces`` the face of each panel, by name, that
    pockets are drilled in.
    """

    thickness_m: float
    rule: MarkingRule
    second: SecondSheet | None = None
    wish: str = "screwed butt"
    faces: Mapping[str, Face] = field(default_factory=dict)
    panels: dict[str, CutPanel] = field(default_factory=dict)
    placed: dict[str, PlacedPanel] = field(default_factory=dict)
    joints: list[PanelJoint] = field(default_factory=list)
    screws: dict[str, HardwareItem] = field(default_factory=dict)

    @property
    def metric(self) -> bool:
        """Whether screws come in millimetres."""
        return self.rule.metric

    @property
    def size(self) -> ScrewSize:
        """The wood screw that suits the plywood of most panels."""
        return screw_size(self.thickness_m, self.metric)

    def copied(self) -> Workbench:
        """A bench of its own with all that is on this one; what is done on either stays there."""
        # Dicts and lists grow as panels are added and joined; what they hold never changes.
        held: dict[str, Any] = {f.name: getattr(self, f.name) for f in fields(self)}
        own: dict[str, Any] = {
            name: v.copy() for name, v in held.items() if isinstance(v, (dict, list))
        }
        return replace(self, **own)

    def thickness_of(self, copy: str) -> float:
        """Thickness of a placed panel [m]."""
        return self.panels[self.placed[copy].key].thickness_m

    def screws_of(self, joints: Collection[str]) -> list[HardwareItem]:
        """The kinds of screw in these joints, in the order they come."""
        keys = [s.hardware for j in self.joints if j.key in joints for s in j.screws]
        return [self.screws[key] for key in dict.fromkeys(keys)]

    def panel(
        self,
        name: str,
        length_m: float,
        width_m: float,
        places: dict[str, Placement],
        *,
        grain: Grain = "along",
        edges: tuple[Edge, ...] = (),
        openings: tuple[Opening, ...] = (),
        chamfers: tuple[tuple[Corner, float], ...] = (),
        note: Fact | None = None,
        notches: tuple[tuple[Corner, float, float], ...] = (),
        own: Statement | None = None,
    ) -> str:
        """Add a panel with all its copies, and give its key letter."""
        key = _mark(len(self.panels))
        other = self.second if self.second and ROLES.get(name) in self.second.roles else None
        thickness = other.thickness_m if other else self.thickness_m
        self.panels[key] = CutPanel(
            key,
            name,
            length_m,
            width_m,
            thickness,
            len(places),
            grain,
            edges,
            openings,
            chamfers,
            note=note,
            second=other is not None,
            notches=notches,
            own=own,
        )
        for copy, at in places.items():
            self.placed[copy] = PlacedPanel(key, copy, at)
        return key

    def plate(self, copy: str) -> tuple[FlatPanel, Placement]:
        """A placed panel's solid and where it is."""
        placed = self.placed[copy]
        return self.panels[placed.key].plate, placed.at

    def extent(self, copy: str) -> tuple[np.ndarray, np.ndarray]:
        """Low and high corner of a placed panel."""
        plate, at = self.plate(copy)
        a, b = at.point(0, 0), at.point(plate.length_m, plate.width_m, plate.thickness_m)
        return np.minimum(a, b), np.maximum(a, b)

    def join(
        self,
        first: str,
        second: str,
        *,
        carries: bool,
        least: int = 2,
        at: Sequence[float] | None = None,
        glue: bool = True,
    ) -> PanelJoint:
        """Join ``first`` to ``second`` where they meet on a face of ``first``.

        Two that touch are joined as is wished, where that can be: by screws through the face
        of ``first``, by pocket screws out of ``second``, or by glue. Where ``second`` reaches
        into ``first``, a groove is cut for it and the screws follow.

        Parameters
        ----------
        at
            Places of the screws along the joint from its low end; otherwise they are spread
            by rule.

        Raises
        ------
        UnjoinableError
            The two do not meet on a face of ``first``, or no screw is short enough.
        """
        meet = self._meet(first, second)
        key = f"J{len(self.joints) + 1}"
        how: JointKind = "glued-screwed butt" if glue else "screwed butt"
        kept: Kept | None = None
        screws: list[Screw] = []
        if meet.into_face:
            how = "glued face" if self.wish == "glue" else "glued-screwed face"
        elif meet.sink > 0:
            how = "glued dado"
            self._cut_groove(first, meet)
        elif self.wish == "dado" and carries:
            kept = "narrow lipping"
        elif self.wish == "glue" and carries:
            kept = "end grain"
        elif self.wish == "glue":
            how = "glued butt"
        elif self.wish == "pocket hole":
            pocketed = self._pockets(first, second, meet, carries, least, key)
            if isinstance(pocketed, str):
                kept = pocketed
            else:
                screws, how = pocketed, "pocket screws"
        if not screws and how not in ("glued face", "glued butt"):
            screws = self._through(first, second, meet, carries, least, at, key)
        joint = PanelJoint(key, first, second, how, carries, tuple(screws), _vector(meet.way), kept)
        self.joints.append(joint)
        return joint

    def _meet(self, first: str, second: str) -> _Meet:
        lo_a, hi_a = self.extent(first)
        lo_b, hi_b = self.extent(second)
        low, high = np.maximum(lo_a, lo_b), np.minimum(hi_a, hi_b)
        normal = int(np.argmax(np.abs(self.placed[first].at.through)))
        sink = float(high[normal] - low[normal])
        if (
            sink < -_TOUCH_M
            or sink >= 0.5 * float(hi_a[normal] - lo_a[normal])
            or np.any(np.delete(high - low, normal) <= _TOUCH_M)
        ):
            pair = Term("panel", first), Term("panel", second)
            raise UnjoinableError(state("joinery.apart", first=pair[0], second=pair[1]))
        sink = round(sink, 9) if sink > _TOUCH_M else 0.0
        into_face = int(np.argmax(np.abs(self.placed[second].at.through))) == normal
        inward = 1.0 if lo_b[normal] + hi_b[normal] > lo_a[normal] + hi_a[normal] else -1.0
        outside = float(lo_a[normal] if inward > 0 else hi_a[normal])
        if sink:
            self._trim(second, low, high)
        long, short = sorted((i for i in range(3) if i != normal), key=lambda i: low[i] - high[i])
        way = np.zeros(3)
        way[normal] = inward
        deep = float(hi_b[normal] - lo_b[normal])
        return _Meet(low, high, way, outside, sink, into_face, normal, long, short, deep)

    def _trim(self, second: str, low: np.ndarray, high: np.ndarray) -> None:
        """Leave the notches of ``second`` out of the box in which it meets another panel."""
        plate, at = self.plate(second)
        for corner, a, b in plate.notches:
            x = plate.length_m - a if "right" in corner else 0.0
            y = plate.width_m - b if "far" in corner else 0.0
            ends = at.point(x, y), at.point(x + a, y + b, plate.thickness_m)
            out_low, out_high = np.minimum(*ends), np.maximum(*ends)
            inside = np.minimum(high, out_high) - np.maximum(low, out_low)
            if np.any(inside <= _TOUCH_M):
                continue
            axis = int(np.argmax(high - low))
            if out_low[axis] <= low[axis] + _TOUCH_M:
                low[axis] = out_high[axis]
            else:
                high[axis] = out_low[axis]

    def _cut_groove(self, first: str, meet: _Meet) -> None:
        placed = self.placed[first]
        panel = self.panels[placed.key]
        ends = np.array([placed.at.local(meet.low), placed.at.local(meet.high)])
        (x0, y0, _), (x1, y1, _) = ends.min(axis=0), ends.max(axis=0)
        face: Face = "upper" if meet.way @ np.asarray(placed.at.through) > 0 else "lower"
        cut = groove(
            (float(x0), float(x1)),
            (float(y0), float(y1)),
            panel.length_m,
            panel.width_m,
            meet.sink,
            face,
        )
        if not any(_same_groove(cut, other) for other in panel.grooves):
            self.panels[placed.key] = replace(panel, grooves=(*panel.grooves, cut))

    def _through(
        self,
        first: str,
        second: str,
        meet: _Meet,
        carries: bool,
        least: int,
        at: Sequence[float] | None,
        key: str,
    ) -> list[Screw]:
        """Screws through the face of ``first``, in the middle of what it meets."""
        item = self._screw(first, second, carries, meet)
        length = float(meet.high[meet.long] - meet.low[meet.long])
        screws = []
        for place in (
            at if at is not None else self._clear(first, second, meet, item, spread(length, least))
        ):
            head = _head(meet, place)
            screws.append(Screw(_vector(head), _vector(meet.way), item.key))
            self._drill(first, head, item, key)
        self.screws[item.key] = replace(item, quantity=item.quantity + len(screws))
        return screws

    def _clear(
        self, first: str, second: str, meet: _Meet, item: HardwareItem, places: Sequence[float]
    ) -> list[float]:
        """Places along a joint, each moved as little as it takes to miss screws and pockets.

        Copies of a panel share their holes: one that is drilled already is taken where it is
        free, and another keeps clear of it. Where nothing is free nearby, a place stays as it is
        by rule.
        """
        own = (item.diameter_m or 0.0) / 2
        lines = self.lines() + self._bores(first) + self._bores(second)
        starts, ends = ends_of(lines)
        apart = np.array([r for _, _, r in lines]) + own + BETWEEN_M
        length = float(meet.high[meet.long] - meet.low[meet.long])
        end, middle = min(places[0], length - places[-1]), length / 2
        drilled = self._drilled_along(first, meet)
        bit = (item.clearance_hole_m or 0.0) + BETWEEN_M
        taken: list[float] = []

        def free(place: float) -> bool:
            if any(1e-6 < abs(place - hole) < bit for hole in drilled):
                return False
            if any(abs(place - other) < _BESIDE_M for other in taken):
                return False
            if not lines:
                return True
            head = _head(meet, place)
            to = head + (item.length_m or 0.0) * meet.way
            return bool(np.all(segments_apart_m(head, to, starts, ends) > apart))

        steps = np.arange(0.0, length, _MOVE_M).tolist()
        for want in places:
            sense = 1.0 if want <= middle else -1.0
            shared = sorted(
                (h for h in drilled if abs(h - want) < _SHARED_M), key=lambda h: abs(h - want)
            )
            moved = (want + way * step for step in steps for way in (sense, -sense))
            fit = next(
                (
                    p
                    for p in itertools.chain(shared, moved)
                    if end - 1e-9 <= p <= length - end + 1e-9 and free(p)
                ),
                want,
            )
            taken.append(float(fit))
        return sorted(taken)

    def meets(self, joint: PanelJoint) -> bool:
        """Whether a screw of a joint that was made runs into another one."""
        lines = self.lines([j for j in self.joints if j.key != joint.key])
        for a, b, r in self.lines([joint]):
            if np.any(segments_apart_m(a, b, *ends_of(lines)) <= [r + own for _, _, own in lines]):
                return True
            lines.append((a, b, r))
        return False

    def lines(self, joints: Sequence[PanelJoint] | None = None) -> list[Line]:
        """Every screw so far, or of some joints: where it begins and ends, and its radius."""
        lines = []
        rows = self.joints if joints is None else joints
        for screw in (s for joint in rows for s in joint.screws):
            row, head = self.screws[screw.hardware], np.array(screw.head_m)
            end = head + (row.length_m or 0.0) * np.array(screw.direction)
            lines.append((head, end, (row.diameter_m or 0.0) / 2))
        return lines

    def fewer_kinds(self) -> Workbench:
        """The same with as few kinds of wood screw as do.

        Where every screw of one length could be one of a longer that is on the list as well, its
        point inside and clear of all other screws and pockets, the longer stands for both.
        """
        bench = self.copied()
        rows = sorted(
            (r for r in bench.screws.values() if r.pilot_hole_m is not None),
            key=lambda r: r.length_m or 0.0,
        )
        for short in rows:
            for long in rows:
                sizes = (short.diameter_m, short.pilot_hole_m, short.clearance_hole_m)
                if (long.length_m or 0.0) <= (short.length_m or 0.0) or sizes != (
                    long.diameter_m,
                    long.pilot_hole_m,
                    long.clearance_hole_m,
                ):
                    continue
                if bench._stands_for(short, long):
                    bench._replace_screws(short, bench.screws[long.key])
                    break
        return bench

    def _stands_for(self, short: HardwareItem, long: HardwareItem) -> bool:
        """Whether the longer screw goes wherever the shorter does."""
        point = fact("cart.screw.point").value
        length, own = long.length_m or 0.0, (long.diameter_m or 0.0) / 2
        # All of them become longer at once, so they are held against each other as such.
        longer = self.copied()
        longer.screws[short.key] = replace(short, length_m=length)
        lines = [*longer.lines(), *(line for copy in self.placed for line in self._bores(copy))]
        starts, ends = ends_of(lines)
        apart = np.array([r for _, _, r in lines]) + own + BETWEEN_M
        number = -1
        for joint in self.joints:
            low, high = self.extent(joint.second)
            for screw in joint.screws:
                number += 1
                if screw.hardware != short.key:
                    continue
                head, way = np.array(screw.head_m), np.array(screw.direction)
                axis = int(np.argmax(np.abs(way)))
                far = high[axis] if way[axis] > 0 else low[axis]
                if abs(way[axis]) < 0.999 or abs(far - head[axis]) - point < length - 1e-9:
                    return False
                near = segments_apart_m(head, head + length * way, starts, ends) <= apart
                near[number] = False
                if np.any(near):
                    return False
        return True

    def _replace_screws(self, short: HardwareItem, long: HardwareItem) -> None:
        self.joints = [
            replace(
                joint,
                screws=tuple(
                    replace(s, hardware=long.key) if s.hardware == short.key else s
                    for s in joint.screws
                ),
            )
            for joint in self.joints
        ]
        # Those it has taken over itself go along.
        gone = self.screws.pop(short.key)
        self.screws[long.key] = long.with_more(gone.quantity, gone.uses)

    def _bores(self, copy: str) -> list[Line]:
        """The pockets of a placed panel, from shoulder to mouth."""
        placed = self.placed[copy]
        panel = self.panels[placed.key]
        bores = []
        for p in panel.pockets:
            (dx, dy), back = p.way, p.reach_m - p.seat_m * math.cos(p.angle_rad)
            deep = p.seat_m * math.sin(p.angle_rad)
            up = 1.0 if p.face == "upper" else -1.0
            seat = placed.at.point(
                p.x_m + dx * back, p.y_m + dy * back, panel.thickness_m / 2 + up * deep
            )
            mouth = placed.at.point(p.x_m, p.y_m, panel.thickness_m if up > 0 else 0.0)
            bores.append((seat, mouth, p.bore_m / 2))
        return bores

    def _drilled_along(self, copy: str, meet: _Meet) -> list[float]:
        """Places along a joint at which its first panel is drilled for another copy."""
        placed = self.placed[copy]
        line = _head(meet, 0.0)
        drilled = []
        for hole in self.panels[placed.key].holes:
            at = placed.at.point(hole.x_m, hole.y_m, 0.0)
            if abs(at[meet.short] - line[meet.short]) < 1e-6:
                drilled.append(float(at[meet.long] - meet.low[meet.long]))
        return drilled

    def _pockets(
        self, first: str, second: str, meet: _Meet, carries: bool, least: int, key: str
    ) -> list[Screw] | Kept:
        """Pocket screws out of ``second``; why there are none, where they do not fit."""
        lo, hi = self.extent(first)
        drilled = pockets_for(
            PocketWork(
                self.panels[self.placed[second].key],
                self.placed[second].at,
                float(hi[meet.normal] - lo[meet.normal]),
                meet.low,
                meet.high,
                meet.way,
                (lo, hi),
                least,
                key,
                self.lines(),
            ),
            self.faces.get(self.panels[self.placed[second].key].name, "lower"),
            self.metric,
            [self.extent(c) for c in self.placed if c not in (first, second)],
        )
        if isinstance(drilled, str):
            return drilled
        size, pockets, screws = drilled
        panel = self.panels[self.placed[second].key]
        new = [p for p in pockets if not any(_same_pocket(p, other) for other in panel.pockets)]
        self.panels[panel.key] = replace(panel, pockets=(*panel.pockets, *new))
        wood = screw_size(panel.thickness_m, self.metric)
        row = f"screw-pocket-{wood.diameter_m * 1000:.1f}x{size.length_m * 1000:.1f}"
        use = Term("use", "pockets that carry") if carries else Term("use", "pockets of lipping")
        item = self.screws.get(row) or HardwareItem(
            row,
            state("joinery.screw.pocket", size=wood.says, length=self.rule.amount(size.length_m)),
            0,
            (),
            size.length_m,
            wood.diameter_m,
            wood.clearance_m,
            kind="screw",
        )
        self.screws[row] = item.with_more(len(screws), (use,))
        return [Screw(_vector(h), _vector(d), row) for h, d in screws]

    def _screw(self, first: str, second: str, carries: bool, meet: _Meet) -> HardwareItem:
        through, into = self.thickness_of(first), self.thickness_of(second)
        into_face = meet.into_face
        # The thinner of the two decides: its edge splits, or its face takes the head.
        size = screw_size(min(through, into) if into_face else into, self.metric)
        length = (
            into_face_m(through, into, self.metric)
            if into_face
            else into_edge_m(through - meet.sink, size, carries, self.metric, meet.deep)
        )
        if length is None:
            raise UnjoinableError(
                state(
                    "joinery.no_screw",
                    first=Term("panel", first),
                    second=Term("panel", second),
                    through=Amount(through, "length"),
                    into=Amount(into, "length"),
                )
            )
        key = f"screw-{size.diameter_m * 1000:.1f}x{length * 1000:.1f}"
        name = self.panels[self.placed[second].key].name
        light = Term("use", "cleats") if ROLES.get(name) == "cleat" else Term("use", "lipping")
        use = (
            Term("use", "face to face")
            if into_face
            else Term("use", "what carries")
            if carries
            else light
        )
        listed = self.screws.get(key) or HardwareItem(
            key,
            state("joinery.screw.wood", size=size.says, length=self.rule.amount(length)),
            0,
            (),
            length,
            size.diameter_m,
            size.clearance_m,
            size.pilot_m,
            kind="screw",
        )
        return listed.with_more(0, (use,))

    def _drill(self, copy: str, head: np.ndarray, item: HardwareItem, joint: str) -> None:
        placed = self.placed[copy]
        x, y, depth = placed.at.local(head)
        panel = self.panels[placed.key]
        face: Face = "lower" if depth < panel.thickness_m / 2 else "upper"
        if any(abs(h.x_m - x) < 1e-6 and abs(h.y_m - y) < 1e-6 for h in panel.holes):
            return
        hole = Hole(
            x, y, item.clearance_hole_m or 0.0, joint, state("joinery.hole.countersunk"), face
        )
        self.panels[placed.key] = replace(panel, holes=(*panel.holes, hole))

    def bodies(self) -> list[Body]:
        """All placed panels as solids.

        Raises
        ------
        UnjoinableError
            The cuts in a panel reach beyond it.
        """
        return [self._body(c) for c in self.placed]

    def _body(self, copy: str) -> Body:
        try:
            return panel_body(copy, *self.plate(copy))
        except ValueError:
            raise UnjoinableError(state("joinery.cut_beyond", panel=Term("panel", copy))) from None
