"""The drawings of a plan by what they show, and how a sheet stands on a page."""

from __future__ import annotations

from dataclasses import dataclass, field

from ..cutting import SheetNest
from ..drawing import Drawing, Paper, layout, svg
from ..drawing.placed import Placed
from ..view.figure import Figure
from ..words import Voice

PAGE_MM = {"letter": (179.0, 245.0), "a4": (174.0, 262.0)}

#: An oblong sheet with more pieces than this is drawn along the page's height, as large as it can be.
_CROWDED = 16
#: Of the page's height, for a sheet with few pieces and for one with more.
_FEW, _SHARE, _LARGE_SHARE = 8, 0.55, 0.72
#: Kept for the heading, the caption and the foot of such a page [mm].
_AROUND_MM = 45.0


@dataclass
class Figures:
    """File names of the drawings by what they show, and the drawings themselves."""

    cover: str | None = None
    charts: list[dict[str, str]] = field(default_factory=list)
    chains: dict[str, str] = field(default_factory=dict)
    reducers: list[str] = field(default_factory=list)
    boards: dict[str, str] = field(default_factory=dict)
    rooms: list[dict[str, str]] = field(default_factory=list)
    sessions: list[dict[str, str]] = field(default_factory=list)
    views: list[dict[str, str]] = field(default_factory=list)
    views_mm: float = 0.0
    exploded: str | None = None
    nests: list[dict[str, str | bool]] = field(default_factory=list)
    shapes: list[dict[str, str]] = field(default_factory=list)
    steps: dict[int, str] = field(default_factory=dict)
    wide_steps: set[int] = field(default_factory=set)
    files: dict[str, str] = field(default_factory=dict)

    def take_cart(self, cart: Figures) -> None:
        """Add the cart's own drawings."""
        self.cover, self.exploded = cart.cover, cart.exploded
        self.boards, self.nests, self.shapes = cart.boards, cart.nests, cart.shapes
        self.views, self.views_mm = cart.views, cart.views_mm
        self.steps = {**cart.steps, **self.steps}
        self.wide_steps |= cart.wide_steps
        self.files |= cart.files

    def lay(self, figure: Figure, paper: Paper, voice: Voice, *, footer: bool = True) -> str:
        """Set a figure on paper and keep it; its file's name."""
        placed = layout(figure.drawing, paper, voice, footer=footer)
        return self.add(figure.file, svg(placed))

    def add(self, name: str, text: str) -> str:
        """Keep a drawing under a file name; the name."""
        self.files[name] = text
        return name


def sheet_layout(
    drawing: Drawing, sheet: SheetNest, voice: Voice, page: Paper
) -> tuple[Placed, bool]:
    """A sheet as it stands on a page, and whether it is to be turned a quarter there."""
    oblong = sheet.kind.length_m > 1.3 * sheet.kind.width_m
    if len(sheet.pieces) > _CROWDED:
        if oblong:
            return layout(drawing, Paper(page.height - _AROUND_MM, page.width), voice), True
        return layout(drawing, Paper(page.width, page.height - _AROUND_MM), voice), False
    share = _SHARE if len(sheet.pieces) <= _FEW else _LARGE_SHARE
    return layout(drawing, Paper(page.width, page.height * share), voice), False
