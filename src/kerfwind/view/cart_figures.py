"""What is drawn of the cart: drawings not yet laid on paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from ..cart import Cart
from ..cutting import SheetNest
from ..drawing import Dimension, Drawing
from ..drawing.board import board_drawing
from ..drawing.exploded import exploded_drawing
from ..drawing.model import Balloon, Label
from ..drawing.motion import motions
from ..drawing.panel import panel_drawing
from ..drawing.project import Hidden, picture, picture_drawing
from ..drawing.sheet import sheet_drawing
from ..drawing.steps import step_drawing
from ..drawing.view import FRONT, RIGHT, TOP, View, perspective
from ..facts import Name
from ..joinery import CutPanel
from ..search.sheet_choice import Build
from ..shop import Shop
from ..solids import Body, coarser
from ..words import Voice
from .cuts import sheet_caption, sheet_title
from .figure import Figure
from .placing import lies_text

#: A picture of a step in which so much is named wants more room.
_MUCH_NAMED = 6
_CARRIED = ("vacuum", "bucket", "cyclone", "link hose")
#: With half the sides, round things still count as round at this angle.
_CREASE_DEG = 38.0
#: The hose is dimensioned where it stands so far above all else [m].
_OVER_M = 0.01


@dataclass(frozen=True)
class PanelFigure:
    """A panel's drawing."""

    panel: CutPanel
    figure: Figure


@dataclass(frozen=True)
class StepFigure:
    """The picture of a step; ``wide`` where much is named in it."""

    number: int
    wide: bool
    figure: Figure


def plainer(bodies: Sequence[Body]) -> list[Body]:
    """The bodies with as few facets as still look round."""
    return [coarser(b, least_sides=10 if b.kind == "hose" else 12) for b in bodies]


def cover_figure(bodies: Sequence[Body], voice: Voice) -> Figure:
    """The unit in perspective."""
    look = perspective(np.concatenate([b.vertices for b in bodies]))
    seen = picture(bodies, look, crease_deg=_CREASE_DEG)
    return Figure("unit.svg", picture_drawing(voice.word("drawing.unit"), seen))


def exploded_figure(cart: Cart, bodies: Sequence[Body], voice: Voice) -> Figure:
    """The unit pulled apart."""
    return Figure("exploded.svg", exploded_drawing(cart, voice, bodies))


def three_sides(build: Build, voice: Voice) -> list[list[Drawing | None]]:
    """Front, right side and from above, as views of one thing stand on a page."""
    bodies = plainer(build.cart.bodies)
    wood = [b for b in bodies if b.kind in ("panel", "hardware")]
    floor = 0.0
    shelf = max(float(b.high[2]) for b in wood)
    stand = np.concatenate([b.vertices for b in bodies if b.kind != "hose"])
    top = build.cart.sizes.height_m
    top_left = float(stand[stand[:, 2] > stand[:, 2].max() - 1e-6, 0].min())

    def view(name: str, look: View, extra: Sequence[Dimension], hidden: Hidden = "none") -> Drawing:
        seen = picture(bodies, look, hidden=hidden, crease_deg=_CREASE_DEG)
        return picture_drawing(voice.word(f"drawing.unit.{name}"), seen, list(extra))

    # Swivelling wheels and what is carried are no part of the footprint.
    foot = [b for b in bodies if b.kind != "hardware" and (b.part_of or b.name) not in _CARRIED]
    wl, wr = (min(float(b.low[0]) for b in foot), max(float(b.high[0]) for b in foot))
    wf, wb = (min(float(b.low[1]) for b in foot), max(float(b.high[1]) for b in foot))
    front = view(
        "front",
        FRONT,
        [
            Dimension(FRONT.at((wl, wf, floor)), FRONT.at((wr, wf, floor)), "x", "below"),
            Dimension(FRONT.at((wl, wf, floor)), FRONT.at((wl, wf, shelf)), "y", "left"),
            Dimension(FRONT.at((wl, wf, floor)), FRONT.at((top_left, wf, top)), "y", "left"),
        ],
    )
    side = view(
        "side",
        RIGHT,
        [
            Dimension(RIGHT.at((wr, wf, floor)), RIGHT.at((wr, wb, floor)), "x", "below"),
            *_over_hose(build.cart.bodies, (wr, wb, floor), top),
        ],
        hidden="dashed",
    )
    return [[front, side], [view("above", TOP, []), None]]


def _over_hose(
    bodies: Sequence[Body], foot: tuple[float, float, float], top_m: float
) -> list[Dimension]:
    """Height of the hose on the right side, where it stands above all else."""
    hoses = [b.vertices for b in bodies if b.kind == "hose"]
    if not hoses:
        return []
    every = np.concatenate(hoses)
    apex = every[int(np.argmax(every[:, 2]))]
    if apex[2] < top_m + _OVER_M:
        return []
    return [Dimension(RIGHT.at(foot), RIGHT.at(apex), "y", "right")]


def sheet_figures(shop: Shop, build: Build, voice: Voice) -> list[tuple[SheetNest, Figure]]:
    """Each sheet with its panels and cuts."""
    names = {p.name: voice.text(p.called) for p in build.panels}
    kerf_m = shop.saw.kerf.best_si
    return [
        (
            sheet,
            Figure(
                f"sheet-{sheet.number}.svg",
                sheet_drawing(sheet, build.cuts, kerf_m=kerf_m, voice=voice, names=names),
                sheet_title(sheet, voice),
                sheet_caption(sheet, voice, key=True),
            ),
        )
        for sheet in build.nest.sheets
    ]


def board_figures(build: Build, voice: Voice) -> dict[str, Figure]:
    """Each hood box pulled apart, by its name."""
    return {
        board.wanted.name: Figure(f"box-{number}.svg", board_drawing(board, voice))
        for number, board in enumerate(build.boards, start=1)
        if board.wanted.kind == "hood box"
    }


def panel_figures(build: Build, voice: Voice) -> list[PanelFigure]:
    """Each kind of panel with its holes and edges."""
    return [
        PanelFigure(
            panel,
            Figure(
                f"panel-{panel.key.lower()}.svg",
                panel_drawing(panel, voice),
                voice.word(
                    "view.panel.drawn",
                    mark=Name(panel.key),
                    panel=panel.called,
                    count=panel.quantity,
                ),
                lies_text(build.cart, panel, voice),
            ),
        )
        for panel in build.panels
    ]


def step_figures(cart: Cart, bodies: Sequence[Body], voice: Voice) -> Iterator[StepFigure]:
    """The pictures of the steps that add a part."""
    known = motions(cart)
    for step in cart.steps:
        drawing = step_drawing(cart, step, voice, bodies, known)
        if drawing is not None:
            named = sum(isinstance(i, Balloon | Label) for i in drawing.items)
            yield StepFigure(
                step.number, named >= _MUCH_NAMED, Figure(f"step-{step.number}.svg", drawing)
            )
