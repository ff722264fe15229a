"""Panels as they are cut and drilled, what joins them, and the steps that put them together."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from typing import Final, Literal

from ..facts import Fact, Statement
from ..shop.catalogue.prices import HardwareKind
from ..solids import Corner, Face, FlatPanel, Groove, Opening, Placement

Grain = Literal["along", "across", "free"]


Edge = Literal["near", "far", "left", "right"]


Pose = Literal["upright", "upside down", "front edges", "rear edges"]


JointKind = Literal[
    "glued-screwed butt",
    "screwed butt",
    "glued-screwed face",
    "pocket screws",
    "glued dado",
    "glued face",
    "glued butt",
]
#: Two faces, held by screws as well.
FACE_AND_SCREWS: Final = "glued-screwed face"
#: Why a joint keeps its screws through the face, whatever was wished for.
Kept = Literal[
    "narrow lipping", "end grain", "thin plywood", "narrow panel", "points near edge", "no room"
]


@dataclass(frozen=True)
class Hole:
    """A hole to drill in a panel's face for a screw, from its near left corner."""

    x_m: float
    y_m: float
    diameter_m: float
    joint: str
    says: Statement


@dataclass(frozen=True)
class Pocket:
    """A slanted hole for a screw that leaves through a panel's edge, at half its thickness.

    ``x_m``, ``y_m`` is where its axis meets the face, from the panel's near left corner;
    ``to`` is the edge that it runs to. ``reach_m`` is the distance from that point to the
    edge, ``seat_m`` the distance along the axis from the edge to the shoulder on which the
    screw's head sits, ``bore_m`` the pocket's diameter, ``shank_m`` that of the hole beyond.
    """

    x_m: float
    y_m: float
    to: Edge
    face: Face
    angle_rad: float
    reach_m: float
    seat_m: float
    bore_m: float
    shank_m: float
    joint: str

    @property
    def way(self) -> tuple[float, float]:
        """The way to the edge along the face."""
        return {"near": (0.0, -1.0), "far": (0.0, 1.0), "left": (-1.0, 0.0), "right": (1.0, 0.0)}[
            self.to
        ]

    @property
    def mouth_m(self) -> tuple[float, float]:
        """From the edge to the near and the far end of its mouth in the face."""
        half = self.bore_m / 2 / math.sin(self.angle_rad)
        shoulder = self.seat_m * math.cos(self.angle_rad) - self.bore_m / 2 * math.sin(
            self.angle_rad
        )
        return max(self.reach_m - half, shoulder), self.reach_m + half


@dataclass(frozen=True)
class CutPanel:
    """One row of the panel list.

    ``length_m`` is the side along the face grain where ``grain`` is ``along``; ``edges``
    names those worth banding or rounding because hands pass them. ``second`` says that it is
    cut from the second sheet.
    """

    key: str
    name: str
    length_m: float
    width_m: float
    thickness_m: float
    quantity: int
    grain: Grain
    edges: tuple[Edge, ...] = ()
    openings: tuple[Opening, ...] = ()
    chamfers: tuple[tuple[Corner, float], ...] = ()
    holes: tuple[Hole, ...] = ()
    note: Fact | None = None
    second: bool = False
    notches: tuple[tuple[Corner, float, float], ...] = ()
    grooves: tuple[Groove, ...] = ()
    pockets: tuple[Pocket, ...] = ()

    @property
    def plate(self) -> FlatPanel:
        """The panel's shape with its openings, chamfers, notches and grooves, but no screw holes or pockets."""
        return FlatPanel(
            self.length_m,
            self.width_m,
            self.thickness_m,
            self.openings,
            self.chamfers,
            self.notches,
            self.grooves,
        )


@dataclass(frozen=True)
class PlacedPanel:
    """One copy of a panel in the cart."""

    key: str
    name: str
    at: Placement


@dataclass(frozen=True)
class Screw:
    """One screw: where its head sits, which way it points, and its row of the hardware."""

    head_m: tuple[float, float, float]
    direction: tuple[float, float, float]
    hardware: str


@dataclass(frozen=True)
class PanelJoint:
    """Two placed panels that meet, and what holds them.

    ``way`` points from the first into the second; ``kept`` says why it is not the joint
    that was wished for, and is None where it is.
    """

    key: str
    first: str
    second: str
    how: JointKind
    carries: bool
    screws: tuple[Screw, ...]
    way: tuple[float, float, float] = (0.0, 0.0, 0.0)
    kept: Kept | None = None

    @property
    def in_groove(self) -> bool:
        """Whether the second panel's edge sits in a groove of the first."""
        return self.how == "glued dado"

    @property
    def by_pockets(self) -> bool:
        """Whether its screws sit in pockets of the second panel."""
        return self.how == "pocket screws"

    @property
    def face_to_face(self) -> bool:
        """Whether two faces meet, with screws or with glue alone."""
        return self.how in ("glued face", "glued-screwed face")

    @property
    def screwed_butt(self) -> bool:
        """Whether an edge butts on a face and screws go through that face into it."""
        return self.how in ("glued-screwed butt", "screwed butt")

    @property
    def butts(self) -> bool:
        """Whether an edge butts on a face, held by screws through that face or glue alone."""
        return self.screwed_butt or self.how == "glued butt"


@dataclass(frozen=True)
class HardwareItem:
    """One row of the hardware list; sizes in metres where it has them.

    ``key`` tells rows apart, ``kind`` says what sort of thing it is, ``what`` what to ask for and
    ``uses`` what it is for.
    """

    key: str
    what: Fact
    quantity: int
    uses: tuple[Fact, ...]
    length_m: float | None = None
    diameter_m: float | None = None
    clearance_hole_m: float | None = None
    pilot_hole_m: float | None = None
    kind: HardwareKind = field(kw_only=True)

    def with_more(self, quantity: int, uses: tuple[Fact, ...]) -> HardwareItem:
        """The row with so many more of it, and what these are for, each use told once."""
        together = tuple(dict.fromkeys((*self.uses, *uses)))
        return replace(self, quantity=self.quantity + quantity, uses=together)


@dataclass(frozen=True)
class Step:
    """One step of assembly; ``new`` names the bodies it adds, ``joints`` what it fastens.

    ``says`` tells what to do and ``cautions`` what to mind, each in a whole sentence or more;
    ``pose`` is how the work lies meanwhile.
    """

    number: int
    title: Fact
    says: tuple[Fact, ...]
    cautions: tuple[Fact, ...]
    new: tuple[str, ...]
    joints: tuple[str, ...]
    pose: Pose = "upright"
