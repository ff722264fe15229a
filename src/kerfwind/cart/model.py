"""The cart as a result: panels, joints, hardware, steps, bodies, and what was found."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ..finding import Finding
from ..solids import Body, Corner, Face, Groove, Opening, Placement, Plate
from .plate import Outline

Grain = Literal["along", "across", "free"]
Edge = Literal["near", "far", "left", "right"]
Hold = Literal["rim", "taper", "standing", "none"]
Pose = Literal["upright", "upside down", "on front edges", "on rear edges"]
JointKind = Literal[
    "screwed and glued butt",
    "screwed butt",
    "glued face and screws",
    "pocket screws and glue",
    "dado, glue and screws",
    "glued face",
    "glued butt",
]
Samples = NDArray[np.float64]


@dataclass(frozen=True)
class Hole:
    """A hole to drill in a panel's face for a screw, from its near left corner."""

    x_m: float
    y_m: float
    diameter_m: float
    joint: str
    text: str


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
class CartPanel:
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
    note: str = ""
    second: bool = False
    notches: tuple[tuple[Corner, float, float], ...] = ()
    grooves: tuple[Groove, ...] = ()
    pockets: tuple[Pocket, ...] = ()

    @property
    def plate(self) -> Plate:
        """Its solid; screw holes and pockets left out."""
        return Plate(
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
class Joint:
    """Two placed panels that meet, and what holds them.

    ``way`` points from the first into the second; ``kept`` says why it is not the joint
    that was wished for, and is empty where it is.
    """

    key: str
    first: str
    second: str
    how: JointKind
    carries: bool
    screws: tuple[Screw, ...]
    text: str
    way: tuple[float, float, float] = (0.0, 0.0, 0.0)
    kept: str = ""


@dataclass(frozen=True)
class HardwareItem:
    """One row of the hardware list; sizes in metres where it has them."""

    key: str
    name: str
    quantity: int
    use: str
    length_m: float | None = None
    diameter_m: float | None = None
    clearance_hole_m: float | None = None
    pilot_hole_m: float | None = None


@dataclass(frozen=True)
class Step:
    """One step of assembly; ``new`` names the bodies it adds, ``joints`` what it fastens.

    ``pose`` is how the work lies meanwhile.
    """

    number: int
    title: str
    text: str
    caution: str
    new: tuple[str, ...]
    joints: tuple[str, ...]
    pose: Pose = "upright"


@dataclass(frozen=True)
class Bend:
    """One bend of a hose: where along it, how far it turns, at what radius."""

    at_m: float
    turn_rad: float
    radius_m: float


@dataclass(frozen=True)
class HosePath:
    """The link hose from the separator's outlet to the vacuum's inlet.

    ``points_m`` is its middle line, shape (n, 3); ``cut_m`` the length to cut, push fits
    included.
    """

    points_m: NDArray[np.float64]
    length_m: float
    cut_m: float
    bore_m: float
    bends: tuple[Bend, ...]

    @property
    def turn_rad(self) -> float:
        """All bends together [rad]."""
        return sum(b.turn_rad for b in self.bends)


@dataclass(frozen=True)
class Home:
    """Where one fitting lives: its name, and its place in words."""

    fitting: str
    place: str


@dataclass(frozen=True)
class Load:
    """A mass and its centre, over the draw: ``mass_kg`` (n,), ``centre_m`` (3, n)."""

    name: str
    mass_kg: Samples
    centre_m: Samples


@dataclass(frozen=True)
class Stand:
    """How the cart stands in one state: its load and where the floor holds it up.

    ``tilt_rad`` gives, for each side it could fall to, the slope that overturns it.
    """

    state: str
    load: Load
    tilt_rad: dict[str, Samples]


@dataclass(frozen=True)
class HeldBucket:
    """How the bucket sits in its opening, or in the pocket between cleats.

    ``opening_m`` is its diameter, or a box's side to side, ``opening_length_m`` front to back
    and ``corner_m`` the radius of its corners; ``depth_m`` is how far it hangs below the top
    of the shelf (n,); ``least_m`` and ``most_m`` are the ends of the range for which clearance
    is kept. ``strap_m`` is how far before and behind its middle a standing one is strapped down.
    """

    hold: Hold
    opening_m: float
    opening_length_m: float
    corner_m: float
    depth_m: Samples
    least_m: float
    most_m: float
    strap_m: float = 0.0

    @property
    def is_box(self) -> bool:
        """Whether the opening is a rectangle."""
        wide = 2 * self.corner_m
        return abs(wide - self.opening_m) > 1e-9 or abs(wide - self.opening_length_m) > 1e-9


@dataclass(frozen=True)
class Sizes:
    """Sizes of the cart [m].

    ``length_m`` (front to back) and ``width_m`` are its footprint; ``passing_m`` the
    narrower way over swivelling wheels, for doors; ``height_m`` from the floor to the top of
    the separator. The bay is where the vacuum stands; ``clear_height_m`` is its height up to
    whatever hangs into it. ``length_over_hose_m`` adds the link hose in front; ``handle_m``
    is the height at which hands push.
    """

    length_m: float
    width_m: float
    height_m: float
    passing_m: float
    bay_width_m: float
    bay_depth_m: float
    bay_height_m: float
    clear_height_m: float
    bottom_top_m: float
    shelf_top_m: float
    gap_over_vacuum_m: float
    lip_height_m: float
    length_over_hose_m: float
    handle_m: float


@dataclass(frozen=True)
class Cart:
    """A whole cart.

    ``shelf`` is the shelf as a plate with its supports, None where nothing hangs in one;
    ``parts`` the loads it is made of; ``wheel_loads_n`` the most that one wheel carries, for each
    state and floor; ``measure_first`` the places in the shop file to
    measure before cutting; ``homes`` where each fitting lives that the rack keeps.
    """

    form: str
    sheet: str
    thickness_m: float
    panels: tuple[CartPanel, ...]
    placed: tuple[PlacedPanel, ...]
    joints: tuple[Joint, ...]
    hardware: tuple[HardwareItem, ...]
    steps: tuple[Step, ...]
    bodies: tuple[Body, ...]
    hose: HosePath | None
    bucket: HeldBucket | None
    sizes: Sizes
    shelf: Outline | None
    parts: dict[str, Load]
    stands: tuple[Stand, ...]
    wheel_loads_n: dict[str, Samples]
    findings: tuple[Finding, ...]
    measure_first: tuple[str, ...]
    homes: tuple[Home, ...] = ()

    def panel(self, key: str) -> CartPanel:
        """The panel called ``key``; KeyError when there is none."""
        for each in self.panels:
            if each.key == key:
                return each
        raise KeyError(key)

    def body(self, name: str) -> Body:
        """The body called ``name``; KeyError when there is none."""
        for each in self.bodies:
            if each.name == name:
                return each
        raise KeyError(name)

    @property
    def wood_area_m2(self) -> float:
        """Area of plywood in the panels, as rectangles [m²]."""
        return sum(p.length_m * p.width_m * p.quantity for p in self.panels)


@dataclass(frozen=True)
class Unmet:
    """A wish that cannot be met, and the change that would let it be.

    ``remedy`` holds pairs of a place in the shop file and what to write there.
    """

    wish: str
    found: str
    allowed: str
    mend: str
    remedy: tuple[tuple[str, str], ...] = ()


class CannotBuild(ValueError):
    """No cart of this form meets the wishes; every unmet wish is in ``unmet``."""

    def __init__(self, form: str, unmet: tuple[Unmet, ...]) -> None:
        super().__init__(
            f"no `{form}` can be built: "
            + " ".join(f"{u.wish}: found {u.found}; allowed: {u.allowed}. {u.mend}" for u in unmet)
        )
        self.form = form
        self.unmet = unmet

    @property
    def remedy(self) -> dict[str, str]:
        """All changes together."""
        return {place: text for u in self.unmet for place, text in u.remedy}
