"""The cart as a result: panels, joints, hardware, steps and bodies, before anything is judged."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ..fact_samples import Samples
from ..facts import Fact, Fix, Term
from ..faults import Refusal
from ..joinery import CutPanel, HardwareItem, PanelJoint, PlacedPanel, Step
from ..solids import Body

Hold = Literal["rim", "taper", "standing", "none"]
EdgeHold = Literal["free", "simply", "clamped"]

#: Nothing stands within this of the vacuum where a form says so [m].
FREE_M = 1.0


#: How thick a ribbed hose is over its bore at each side, about (common practice) [m].
_HOSE_WALL_M = 0.003


@dataclass(frozen=True)
class SupportedPlate:
    """A rectangle with an opening, and which edges are held how far.

    The opening is a circle of ``radius_m``, or that circle stretched by ``stretch_m`` along and
    across: a rectangle with rounded corners.

    ``left`` and ``right`` are held only above ``held_from_m`` (the sides stand at the rear);
    ``rear`` is the edge at the far y. The mesh has a corner on them at ``corner_m``, or where
    they begin to be held: outlines that differ only in what holds them can share a mesh.
    """

    length_m: float
    width_m: float
    centre_m: tuple[float, float] = (0.0, 0.0)
    radius_m: float = 0.0
    left: EdgeHold = "simply"
    right: EdgeHold = "simply"
    front: EdgeHold = "free"
    rear: EdgeHold = "free"
    held_from_m: float = 0.0
    corner_m: float | None = None
    stretch_m: tuple[float, float] = (0.0, 0.0)

    @property
    def shape(self) -> SupportedPlate:
        """This plate with none of its edges held: a mesh depends on nothing else."""
        corner = self.held_from_m if self.corner_m is None else self.corner_m
        return SupportedPlate(
            self.length_m,
            self.width_m,
            self.centre_m,
            self.radius_m,
            "free",
            "free",
            "free",
            "free",
            corner,
            stretch_m=self.stretch_m,
        )


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
    def outside_m(self) -> float:
        """How thick the hose is over its wall."""
        return self.bore_m + 2 * _HOSE_WALL_M

    @property
    def turn_rad(self) -> float:
        """How far the hose turns in all its bends together [rad]."""
        return sum(b.turn_rad for b in self.bends)


@dataclass(frozen=True)
class Home:
    """Where one fitting lives: its name, and its place."""

    fitting: str
    place: Fact


@dataclass(frozen=True)
class Load:
    """A mass and its centre, over the draw: ``mass_kg`` (n,), ``centre_m`` (3, n)."""

    name: str
    mass_kg: Samples
    centre_m: Samples


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
    is the height at which hands push; ``hose_top_m`` is where the link hose is highest.
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
    hose_top_m: float = 0.0

    @property
    def height_over_hose_m(self) -> float:
        """The whole height, the link hose with it."""
        return max(self.height_m, self.hose_top_m)


@dataclass(frozen=True)
class Cart:
    """A whole cart, as it is built.

    ``shelf`` is the shelf as a plate with its supports, None where nothing hangs in one;
    ``homes`` says where each fitting lives that the rack keeps; ``called`` what bodies are called
    that are a person's own, by their names; ``casters_xy`` where the casters swivel, front left,
    front right, rear left, rear right.
    """

    form: str
    sheet: str
    thickness_m: float
    panels: tuple[CutPanel, ...]
    placed: tuple[PlacedPanel, ...]
    joints: tuple[PanelJoint, ...]
    hardware: tuple[HardwareItem, ...]
    steps: tuple[Step, ...]
    bodies: tuple[Body, ...]
    hose: HosePath | None
    bucket: HeldBucket | None
    sizes: Sizes
    shelf: SupportedPlate | None
    homes: tuple[Home, ...]
    called: dict[str, Fact] = field(default_factory=dict)
    casters_xy: tuple[tuple[float, float], ...] = ()

    def panel(self, key: str) -> CutPanel:
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

    def what(self, name: str) -> Fact:
        """What a body is called: the panel of this name, a part of the unit, or a person's own."""
        if name in self.called:
            return self.called[name]
        body = self.body(name)
        if body.kind == "panel" and any(p.name == name for p in self.placed):
            return Term("panel", name)
        return Term("body", "caster" if name.endswith(" caster") else name)

    @property
    def wood_area_m2(self) -> float:
        """Area of plywood in the panels, as rectangles [m²]."""
        return sum(p.length_m * p.width_m * p.quantity for p in self.panels)


class CannotBuild(ValueError):
    """No cart of this form meets the wishes; every one that it misses is in ``unmet``."""

    def __init__(self, form: str, unmet: tuple[Refusal, ...]) -> None:
        super().__init__(form, unmet)
        self.form = form
        self.unmet = unmet

    @property
    def fixes(self) -> tuple[Fix, ...]:
        """The changes of all unmet wishes: only together do they let it be built."""
        return tuple({fix.place: fix for each in self.unmet for fix in each.fixes}.values())
