"""Panels, sheets, saws, and the nest that comes of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal

from ..facts import Fact, Listing, Name, state
from ..faults import Refusal

Grain = Literal["along", "across", "free"]
SheetGrain = Literal["length", "none"]
Edge = Literal["near", "far", "left", "right"]
Axis = Literal["x", "y"]
Order = Literal["sheets", "settings"]


class CuttingError(ValueError):
    """What was asked cannot be nested; one entry of ``problems`` for each reason."""

    def __init__(self, problems: tuple[Refusal, ...]) -> None:
        super().__init__(", ".join(f"{p.kind} ({p.place})" for p in problems))
        self.problems = problems


class SheetsRunOutError(CuttingError):
    """Some panels found no place within the effort spent, and nothing proves that none can.

    Attributes
    ----------
    partial
        The nest that holds most of the panels.
    left
        Names of the panels left over, and how many of each.
    """

    def __init__(
        self, problems: tuple[Refusal, ...], partial: Nest, left: tuple[tuple[str, int], ...]
    ) -> None:
        super().__init__(problems)
        self.partial = partial
        self.left = left


@dataclass(frozen=True)
class Mark:
    """A hole, chamfer or notch to mark out on a panel.

    ``x_m`` runs along the panel's length from its left end, ``y_m`` along its width from
    its near edge; ``size_m`` is a hole's diameter, a chamfer's leg, or a notch's length,
    and ``depth_m`` a notch's other side.
    """

    kind: Literal["hole", "chamfer", "notch", "other"]
    x_m: float
    y_m: float
    size_m: float
    depth_m: float = 0.0
    text: str = ""


@dataclass(frozen=True)
class Panel:
    """One row of the panel list.

    Attributes
    ----------
    length_m, width_m
        The panel's own sides. ``length_m`` is the side that ``grain`` speaks of.
    grain
        ``along``: the sheet's grain runs along the length; ``across``: along the width;
        ``free``: the panel may be turned.
    banded
        Edges that get edge banding: ``near`` and ``far`` are the two of the length,
        ``left`` and ``right`` the two ends.
    band_m
        Thickness of that banding where the sizes allow for it [m]: the panel is cut smaller
        by it at each edge that is banded, and the finished panel has its size.

    Examples
    --------
    Four sides of 600 mm by 400 mm, in metres [m]:

    >>> Panel("side", 0.6, 0.4, quantity=4).quantity
    4
    """

    name: str
    length_m: float
    width_m: float
    quantity: int = 1
    material: str = "plywood"
    thickness_m: float = 0.018
    grain: Grain = "free"
    banded: tuple[Edge, ...] = ()
    marks: tuple[Mark, ...] = ()
    band_m: float = 0.0

    @property
    def finished_m(self) -> tuple[float, float]:
        """Length and width with the banding on [m]."""
        ends = sum(edge in ("left", "right") for edge in self.banded)
        sides = len(self.banded) - ends
        return self.length_m + ends * self.band_m, self.width_m + sides * self.band_m


@dataclass(frozen=True)
class SheetKind:
    """Sheets of one size on sale, or one offcut on hand.

    Attributes
    ----------
    length_m, width_m
        Full size, factory edges included. With ``grain`` ``length`` the grain runs along
        the length; with ``none`` (MDF) every panel may be turned.
    price
        For one sheet, in any money; zero for what is on hand.
    limit
        How many there are; None for as many as wanted.
    offcut
        On hand already; used before sheets are bought.
    trim
        Its edges are trimmed before use where the saw trims at all.
    on_hand
        A whole sheet that was bought for a build already begun.
    called
        What it is called; None where its key is a name that a person gave it.

    Examples
    --------
    A full sheet and what is left of one, in metres [m]:

    >>> full = SheetKind("full", 2.44, 1.22, price=60.0)
    >>> SheetKind("rest", 1.2, 0.6, price=0.0, limit=1, offcut=True).limit
    1
    """

    key: str
    length_m: float
    width_m: float
    material: str = "plywood"
    thickness_m: float = 0.018
    price: float = 1.0
    limit: int | None = None
    grain: SheetGrain = "length"
    offcut: bool = False
    trim: bool = True
    on_hand: bool = False
    called: Fact | None = None

    @property
    def name(self) -> Fact:
        """What it is called, whether on hand or to be bought."""
        return Name(self.key) if self.called is None else self.called

    @property
    def title(self) -> Fact:
        """What it is called, and whether it is on hand."""
        return state("cutting.sheet.on_hand", sheet=self.name) if self.on_hand else self.name


@dataclass(frozen=True)
class Saw:
    """The saw that makes the cuts, and what limits it.

    Attributes
    ----------
    kerf_m
        Width of the cut.
    trim_m
        Taken off each edge of a full sheet before anything else, kerf included.
    kind
        ``table``: rips against a fence. ``track`` and ``circular``: measured lines.
    fence_limit_m
        Farthest the fence stands from the blade; None for no limit.
    crosscut_limit_m
        Longest crosscut that a sled or mitre gauge takes; longer ones follow a line.
    stop_limit_m
        Longest piece that the sled's stop measures; None for no limit.
    track_m
        Length of a track saw's track; None for no limit.
    smallest_width_m, smallest_length_m
        What is narrower (between blade and fence) or shorter than this gets a caution
        and another way to cut it.
    guide_offset_m
        From the edge of the saw's base to the blade, for a straightedge; zero for a track.
    order
        ``sheets``: one sheet is finished before the next, with little lying about;
        ``settings``: each setting serves all sheets before it is changed.
    carry_m
        Longest and shorter side of the biggest piece that can be brought home; the store
        makes the first cuts until every piece fits. None for no limit.

    Examples
    --------
    A track saw with a kerf of 2.2 mm, in metres [m]:

    >>> Saw(kerf_m=0.0022, kind="track", fence_limit_m=None).kerf_m
    0.0022
    """

    kerf_m: float = 0.0032
    trim_m: float = 0.0
    kind: Literal["table", "track", "circular"] = "table"
    fence_limit_m: float | None = 0.76
    crosscut_limit_m: float | None = 0.6
    stop_limit_m: float | None = 1.2
    track_m: float | None = None
    smallest_width_m: float = 0.05
    smallest_length_m: float = 0.25
    guide_offset_m: float = 0.0
    order: Order = "sheets"
    carry_m: tuple[float, float] | None = None


@dataclass(frozen=True)
class Rect:
    """A rectangle in sheet coordinates [m]: ``x`` along the sheet's length."""

    x_m: float
    y_m: float
    length_m: float
    width_m: float

    @property
    def area_m2(self) -> float:
        """Area [m²]."""
        return self.length_m * self.width_m


@dataclass(frozen=True)
class Placed:
    """A panel on a sheet.

    ``length_m`` and ``width_m`` are its extents along the sheet's x and y; ``turned`` says
    that the panel's own length runs along y. ``pencil`` is the short name to write on it,
    ``banded`` the panel's own edges that get edge banding.
    """

    pencil: str
    panel: str
    copy: int
    x_m: float
    y_m: float
    length_m: float
    width_m: float
    turned: bool
    grain: Grain
    marks: tuple[Mark, ...] = ()
    banded: tuple[Edge, ...] = ()

    @property
    def rect(self) -> Rect:
        """Where it lies."""
        return Rect(self.x_m, self.y_m, self.length_m, self.width_m)


@dataclass(frozen=True)
class Piece:
    """What is put on the saw or comes off it.

    A ``part`` has cuts to come. Parts and panels have a ``name`` to pencil on them, such as
    ``1a`` and ``A2``.
    """

    kind: Literal["sheet", "part", "panel", "offcut", "waste"]
    sheet: int
    name: str = ""


@dataclass(frozen=True)
class Node:
    """A piece of a sheet in the tree of edge-to-edge cuts.

    A ``cut`` node is divided along ``axis`` (``x``: lines across the length) into
    ``parts``, in order from its low side, one kerf between neighbours. A ``panel`` node
    holds the index of a piece in the sheet's ``pieces``.
    """

    rect: Rect
    kind: Literal["cut", "panel", "offcut", "waste"]
    axis: Axis = "x"
    parts: tuple[Node, ...] = ()
    piece: int = -1


@dataclass(frozen=True)
class SheetNest:
    """One sheet with all that lies on it, ready to be drawn."""

    number: int
    kind: SheetKind
    pieces: tuple[Placed, ...]
    offcuts: tuple[Rect, ...]
    waste: tuple[Rect, ...]
    usable: Rect
    tree: Node

    @property
    def used(self) -> float:
        """Share of the sheet's area that becomes panels."""
        area = self.kind.length_m * self.kind.width_m
        return sum(p.length_m * p.width_m for p in self.pieces) / area


@dataclass(frozen=True)
class Progress:
    """What a search tells while it runs."""

    evaluations: int
    budget: int
    cost: float
    sheets: int
    bound_cost: float


#: Called now and then; the search ends with the best so far when it returns False.
Watch = Callable[[Progress], bool]


@dataclass(frozen=True)
class Nest:
    """The best nest found, and how near it is to the best there can be.

    Attributes
    ----------
    cost, bound_cost
        Money for the sheets bought, and the least it can be for any nest.
    sheets_bought, bound_sheets
        Full sheets used and the fewest possible, offcuts on hand not counted.
    nearness
        Sentences about how near this is to the fewest possible, and about cuts in the store.
    evaluations
        Effort spent; a thousand is about a second of an ordinary machine.
    stopped
        The search was stopped before its budget was used and before a proof.
    """

    sheets: tuple[SheetNest, ...]
    cost: float
    bound_cost: float
    sheets_bought: int
    bound_sheets: int
    proven: bool
    nearness: Listing
    evaluations: int
    budget: int
    seed: int
    stopped: bool = False
    pencils: dict[str, str] = field(default_factory=dict)

    @property
    def offcuts(self) -> tuple[tuple[int, Rect], ...]:
        """Every offcut kept, with its sheet's number, largest first."""
        found = [(s.number, r) for s in self.sheets for r in s.offcuts]
        return tuple(sorted(found, key=lambda pair: -pair[1].area_m2))

    @property
    def waste_share(self) -> float:
        """Share of the sheets' area that is neither panel nor offcut kept."""
        total = sum(s.kind.length_m * s.kind.width_m for s in self.sheets)
        kept = sum(p.length_m * p.width_m for s in self.sheets for p in s.pieces)
        kept += sum(r.area_m2 for s in self.sheets for r in s.offcuts)
        return 1 - kept / total if total else 0.0
