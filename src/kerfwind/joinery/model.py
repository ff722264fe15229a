"""Panels as they are cut and drilled, what joins them, and the steps that put them together."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from typing import Final, Literal

from ..facts import Fact, Statement, Term
from ..shop.catalogue.prices import HardwareKind
from ..solids import Corner, Face, FlatPanel, Groove, Opening, Placement

Grain = Literal["along", "across", "free"]


Edge = Literal["near", "far", "left", "right"]


Pose = Literal["upright", "upside down", "front edges", "rear edges"]


#: A side of a part as the cart stands on its wheels, and half way between two of them.
Side = Literal["left", "right", "front", "rear", "lower", "upper", "middle"]
#: The three ways of the cart: side to side, front to rear, and up.
Axis = Literal["x", "y", "z"]
Held = Literal["against", "groove", "flush", "centred", "between", "opening", "marked"]


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
    """A hole to drill in a panel's face for a screw, from its near left corner.

    ``face`` is the one that the screw goes in at.
    """

    x_m: float
    y_m: float
    diameter_m: float
    joint: str
    says: Statement
    face: Face = "lower"


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
    cut from the second sheet. ``own`` is what to say for it, where it is none of the cart's.
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
    own: Statement | None = None

    @property
    def called(self) -> Statement | Term:
        """What to say for it."""
        return self.own or Term("panel", self.name)

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
class Alignment:
    """How one part lies to another along one way of the cart.

    The ``side`` of ``part`` lies ``offset_m`` from the ``to_side`` of ``to``: to the right of it
    along ``x``, behind it along ``y``, above it along ``z``. Sides are named as the cart stands
    on its wheels, whichever way it lies meanwhile; ``middle`` is half way between two of them.
    One alignment for each of the three ways puts a panel in its place; where a step gives more
    for one way, they agree.

    Attributes
    ----------
    how
        ``against``: the two sides touch. ``groove``: the side rests on the floor of a groove
        ``-offset_m`` or ``offset_m`` deep. ``flush``: the two sides, alike in name, are level.
        ``centred``: the two middles meet. ``opening``: its middle is that of the opening in
        ``to``. ``between``: half way between this side and that of a second row like it. ``marked``: any other distance; it is measured and marked before the part is set.
    carrier
        Which of the two carries the mark, or the groove; the distance is measured from that one's
        edge. Empty where there is neither.
    """

    part: str
    side: Side
    to: str
    to_side: Side
    axis: Axis
    offset_m: float
    how: Held
    carrier: str = ""


@dataclass(frozen=True)
class Lying:
    """Which way round a panel goes on: what its edges and its face, as drawn, are in the cart.

    ``left`` and ``near`` are the edges at which its length and its width begin, ``lower`` the
    face at which its thickness does; the other three lie opposite.
    """

    part: str
    left: Side
    near: Side
    lower: Side


@dataclass(frozen=True)
class Taken:
    """So many of one thing that a step uses up.

    ``key`` is its row of the hardware list; ``what`` says what it is where it is on none: a
    fitting that is bought or printed, or a thing that is owned.
    """

    key: str
    count: int
    what: Fact | None = None


@dataclass(frozen=True)
class Step:
    """One step of assembly; ``new`` names the bodies it adds, ``joints`` what it fastens.

    ``says`` tells what to do and ``cautions`` what to mind, each in a whole sentence or more;
    ``pose`` is how the work lies meanwhile. Where each part goes no sentence says: that is in
    ``lying`` and ``aligned``, found from the solids once all steps are there, and said, drawn and
    tried from these alone. ``takes`` is what it uses of the hardware list: the screws of its joints are found
    from these, all else is named by whoever writes the step.
    """

    number: int
    title: Fact
    says: tuple[Fact, ...]
    cautions: tuple[Fact, ...]
    new: tuple[str, ...]
    joints: tuple[str, ...]
    pose: Pose = "upright"
    lying: tuple[Lying, ...] = ()
    aligned: tuple[Alignment, ...] = ()
    takes: tuple[Taken, ...] = ()
