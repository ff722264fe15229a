"""Putting a form together: panels placed in space, and joints found where they touch."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from ..solids import Body, Corner, Opening, Placement, Plate, plate_body
from .cutsize import Rule
from .fasteners import ScrewSize, into_edge_m, into_face_m, screw_size, spread
from .model import CartPanel, Edge, Grain, HardwareItem, Hole, Joint, PlacedPanel, Screw

_TOUCH_M = 1e-5
_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


def _mark(number: int) -> str:
    """A to Z without I and O, then AA, AB and so on."""
    more, rest = divmod(number, len(_LETTERS))
    return (_LETTERS[more - 1] if more else "") + _LETTERS[rest]


#: What each panel is, for those that may come from the second sheet.
ROLES = {
    "lipping": "lipping", "long lipping": "lipping", "short lipping": "lipping",
    "bucket cleat": "cleat", "rail": "rail", "shelf": "shelf",
}  # fmt: skip


@dataclass(frozen=True)
class SecondSheet:
    """A sheet of another thickness, and what is cut from it [m]."""

    name: str
    thickness_m: float
    along_m: float
    across_m: float
    roles: frozenset[str]


@dataclass
class Workbench:
    """Collects one cart while a form lays it out."""

    thickness_m: float
    rule: Rule
    second: SecondSheet | None = None
    panels: dict[str, CartPanel] = field(default_factory=dict)
    placed: dict[str, PlacedPanel] = field(default_factory=dict)
    joints: list[Joint] = field(default_factory=list)
    screws: dict[str, HardwareItem] = field(default_factory=dict)

    @property
    def metric(self) -> bool:
        """Whether screws come in millimetres."""
        return self.rule.units == "mm"

    @property
    def size(self) -> ScrewSize:
        """The wood screw that suits the plywood of most panels."""
        return screw_size(self.thickness_m, self.metric)

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
        note: str = "",
    ) -> str:
        """Add a panel with all its copies; its key letter."""
        key = _mark(len(self.panels))
        other = self.second if self.second and ROLES.get(name) in self.second.roles else None
        thickness = other.thickness_m if other else self.thickness_m
        self.panels[key] = CartPanel(
            key, name, length_m, width_m, thickness, len(places), grain, edges, openings,
            chamfers, note=note, second=other is not None,
        )  # fmt: skip
        for copy, at in places.items():
            self.placed[copy] = PlacedPanel(key, copy, at)
        return key

    def plate(self, copy: str) -> tuple[Plate, Placement]:
        """A placed panel's solid and where it is."""
        placed = self.placed[copy]
        return self.panels[placed.key].plate, placed.at

    def extent(self, copy: str) -> tuple[np.ndarray, np.ndarray]:
        """Low and high corner of a placed panel."""
        plate, at = self.plate(copy)
        a, b = at.point(0, 0), at.point(plate.length_m, plate.width_m, plate.thickness_m)
        return np.minimum(a, b), np.maximum(a, b)

    def join(
        self, first: str, second: str, *, carries: bool, text: str, least: int = 2,
        at: Sequence[float] | None = None, glue: bool = True,
    ) -> Joint:  # fmt: skip
        """Screw ``first`` to ``second`` through the face of ``first``, where they touch.

        ``at`` gives places along the joint from its low end; otherwise they are spread by
        rule.

        Raises
        ------
        ValueError
            The two do not touch on a face of ``first``.
        """
        lo_a, hi_a = self.extent(first)
        lo_b, hi_b = self.extent(second)
        low, high = np.maximum(lo_a, lo_b), np.minimum(hi_a, hi_b)
        normal = int(np.argmax(np.abs(self.placed[first].at.through)))
        if abs(high[normal] - low[normal]) > _TOUCH_M or np.any(
            np.delete(high - low, normal) <= _TOUCH_M
        ):
            raise ValueError(f"{first} and {second} do not touch face to face")
        into_face = int(np.argmax(np.abs(self.placed[second].at.through))) == normal
        inward = 1.0 if lo_b[normal] >= hi_a[normal] - _TOUCH_M else -1.0
        outside = lo_a[normal] if inward > 0 else hi_a[normal]
        long, short = sorted((i for i in range(3) if i != normal), key=lambda i: low[i] - high[i])
        key = f"J{len(self.joints) + 1}"
        deep = float(hi_b[normal] - lo_b[normal])
        item = self._screw(first, second, carries, into_face, deep, key)
        screws = []
        for place in at if at is not None else spread(float(high[long] - low[long]), least):
            head = np.zeros(3)
            head[normal], head[long] = outside, low[long] + place
            head[short] = (low[short] + high[short]) / 2
            direction = np.zeros(3)
            direction[normal] = inward
            screws.append(
                Screw(tuple(map(float, head)), tuple(map(float, direction)), item.key)  # type: ignore[arg-type]
            )
            self._drill(first, head, item, key)
        count = item.quantity + len(screws)
        self.screws[item.key] = replace(item, quantity=count)
        how = "glued face and screws" if into_face else (
            "screwed and glued butt" if glue else "screwed butt")  # fmt: skip
        joint = Joint(key, first, second, how, carries, tuple(screws), text)  # type: ignore[arg-type]
        self.joints.append(joint)
        return joint

    def _screw(
        self, first: str, second: str, carries: bool, into_face: bool, deep_m: float, joint: str
    ) -> HardwareItem:
        through, into = self.thickness_of(first), self.thickness_of(second)
        # The thinner of the two decides: its edge splits, or its face takes the head.
        size = screw_size(min(through, into) if into_face else into, self.metric)
        length = (
            into_face_m(through, into, self.metric) if into_face
            else into_edge_m(through, size, carries, self.metric, deep_m)
        )  # fmt: skip
        if length is None:
            raise ValueError(
                f"{joint}: no screw on sale joins {through * 1000:.1f} to {into * 1000:.1f} mm plywood"
            )
        kind = "face" if into_face else "edge"
        key = f"screw-{size.diameter_m * 1000:.1f}x{length * 1000:.1f}"
        light = "cleats" if "cleat" in second else "lipping"
        use = "face to face" if kind == "face" else "what carries" if carries else light
        found = self.screws.get(key)
        if found is None:
            return HardwareItem(
                key, f"{size.name} countersunk wood screw, {self.rule.text(length)}", 0, use,
                length, size.diameter_m, size.clearance_m, size.pilot_m,
            )  # fmt: skip
        if use not in found.use:
            return replace(found, use=f"{found.use}; {use}")
        return found

    def _drill(self, copy: str, head: np.ndarray, item: HardwareItem, joint: str) -> None:
        placed = self.placed[copy]
        x, y, _ = placed.at.local(head)
        panel = self.panels[placed.key]
        if any(abs(h.x_m - x) < 1e-6 and abs(h.y_m - y) < 1e-6 for h in panel.holes):
            return
        hole = Hole(x, y, item.clearance_hole_m or 0.0, joint, "clearance hole, countersunk")
        self.panels[placed.key] = replace(panel, holes=(*panel.holes, hole))

    def bodies(self) -> list[Body]:
        """All placed panels as solids."""
        return [plate_body(c, *self.plate(c)) for c in self.placed]
