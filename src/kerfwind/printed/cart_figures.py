"""The cart's own drawings, begun as soon as there is a cart."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from ..cart import Cart
from ..drawing import Dimension, Drawing, Paper, layout, layout_together, svg
from ..drawing.board import board_drawing
from ..drawing.exploded import exploded_drawing
from ..drawing.model import Balloon, Label
from ..drawing.motion import motions
from ..drawing.panel import panel_drawing
from ..drawing.project import Hidden, picture, picture_drawing
from ..drawing.sheet import sheet_drawing
from ..drawing.steps import step_drawing
from ..drawing.view import FRONT, RIGHT, TOP, View, perspective
from ..joinery import CutPanel
from ..quantity import UnitChoice
from ..search.sheet_choice import Build
from ..second_process import run_beside
from ..shop import About, Shop
from ..solids import Body, coarser
from ..view.cuts import sheet_caption, sheet_title
from ..words import Voice
from .figure_files import PAGE_MM, Figures, sheet_layout

#: Space for the picture of a step.
STEP_MM = Paper(80, 60)
#: The same where much is named in it.
WIDE_STEP_MM = Paper(105, 75)
_MUCH_NAMED = 6
#: About a panel for its dimensions.
_DIMENSIONS_MM = 45.0
#: Panels smaller than this are drawn as large as they are.
_SMALL_M = 0.08
_CARRIED = ("vacuum", "bucket", "cyclone", "link hose")
#: With half the sides, round things still count as round at this angle.
_CREASE_DEG = 38.0


def begin_cart(shop: Shop, build: Build) -> Callable[[], Figures]:
    """Draw the cart and its panels; most of it is drawn on another core meanwhile.

    The figures are had by calling what is returned.
    """
    begun = run_beside(_assembly_and_panels, shop.shop, build)
    figures = Figures()
    paper = Paper(*PAGE_MM[shop.shop.page])
    _views(build, figures, shop.shop.units, paper)
    _nests(shop, build, figures, paper)
    _boards(build, figures, shop.shop.units)

    def whole() -> Figures:
        more = begun()
        figures.cover, figures.exploded = more.cover, more.exploded
        figures.steps, figures.shapes = more.steps, more.shapes
        figures.wide_steps = more.wide_steps
        figures.files.update(more.files)
        return figures

    return whole


def assembly(about: About, cart: Cart) -> Figures:
    """The unit in perspective, pulled apart, and step by step."""
    figures = Figures()
    width, height = PAGE_MM[about.page]
    bodies = _plainer(cart.bodies)
    _cover(bodies, figures, about.units)
    _exploded(cart, bodies, figures, about.units, Paper(width, height - 20))
    _steps(cart, bodies, figures, about.units)
    return figures


def _assembly_and_panels(about: About, build: Build) -> Figures:
    figures = assembly(about, build.cart)
    _shapes(build, figures, about.units, Paper(*PAGE_MM[about.page]))
    return figures


def _plainer(bodies: Sequence[Body]) -> list[Body]:
    """The bodies with as few facets as still look round."""
    return [coarser(b, least_sides=10 if b.kind == "hose" else 12) for b in bodies]


def _cover(bodies: Sequence[Body], figures: Figures, units: UnitChoice) -> None:
    look = perspective(np.concatenate([b.vertices for b in bodies]))
    seen = picture(bodies, look, crease_deg=_CREASE_DEG)
    placed = layout(picture_drawing("The unit", seen), Paper(150, 118), units, footer=False)
    figures.cover = figures.add("unit.svg", svg(placed))


def _exploded(
    cart: Cart, bodies: Sequence[Body], figures: Figures, units: UnitChoice, paper: Paper
) -> None:
    drawing = exploded_drawing(cart, Voice(units=units), bodies)
    placed = layout(drawing, paper, units, footer=False)
    figures.exploded = figures.add("exploded.svg", svg(placed))


def _views(build: Build, figures: Figures, units: UnitChoice, paper: Paper) -> None:
    bodies = _plainer(build.cart.bodies)
    wood = [b for b in bodies if b.kind in ("panel", "hardware")]
    floor = 0.0
    shelf = max(float(b.high[2]) for b in wood)
    stand = np.concatenate([b.vertices for b in bodies if b.kind != "hose"])
    top = build.cart.sizes.height_m
    top_left = float(stand[stand[:, 2] > stand[:, 2].max() - 1e-6, 0].min())

    def view(name: str, look: View, extra: Sequence[Dimension], hidden: Hidden = "none") -> Drawing:
        seen = picture(bodies, look, hidden=hidden, crease_deg=_CREASE_DEG)
        return picture_drawing(name, seen, list(extra))

    # Swivelling wheels and what is carried are no part of the footprint.
    foot = [b for b in bodies if b.kind != "hardware" and (b.part_of or b.name) not in _CARRIED]
    wl, wr = (min(float(b.low[0]) for b in foot), max(float(b.high[0]) for b in foot))
    wf, wb = (min(float(b.low[1]) for b in foot), max(float(b.high[1]) for b in foot))
    front = view(
        "Front",
        FRONT,
        [
            Dimension(FRONT.at((wl, wf, floor)), FRONT.at((wr, wf, floor)), "x", "below"),
            Dimension(FRONT.at((wl, wf, floor)), FRONT.at((wl, wf, shelf)), "y", "left"),
            Dimension(FRONT.at((wl, wf, floor)), FRONT.at((top_left, wf, top)), "y", "left"),
        ],
    )
    side = view(
        "Right side",
        RIGHT,
        [
            Dimension(RIGHT.at((wr, wf, floor)), RIGHT.at((wr, wb, floor)), "x", "below"),
            *_over_hose(bodies, (wr, wb, floor), top),
        ],
        hidden="dashed",
    )
    above = view("From above", TOP, [])
    placed = layout_together(
        [[front, side], [above, None]],
        Paper(paper.width, paper.height * 0.66),
        units,
        title="The unit from three sides",
    )
    figures.views.append({"file": figures.add("three-sides.svg", svg(placed))})
    figures.views_mm = placed.height


def _over_hose(
    bodies: Sequence[Body], foot: tuple[float, float, float], top_m: float
) -> list[Dimension]:
    """Height of the hose on the right side, where it stands above all else."""
    hoses = [b.vertices for b in bodies if b.kind == "hose"]
    if not hoses:
        return []
    every = np.concatenate(hoses)
    apex = every[int(np.argmax(every[:, 2]))]
    if apex[2] < top_m + 0.01:
        return []
    return [Dimension(RIGHT.at(foot), RIGHT.at(apex), "y", "right")]


def _nests(shop: Shop, build: Build, figures: Figures, paper: Paper) -> None:
    units = shop.shop.units
    voice = Voice(units=units)
    for sheet in build.nest.sheets:
        drawing = sheet_drawing(sheet, build.cuts, kerf_m=shop.saw.kerf.best_si, voice=voice)
        placed, turned = sheet_layout(drawing, sheet, units, paper)
        name = figures.add(f"sheet-{sheet.number}.svg", svg(placed))
        figures.nests.append(
            {
                "title": sheet_title(sheet, voice),
                "file": name,
                "turned": turned,
                "caption": sheet_caption(sheet, voice, key=True),
            }
        )


def _boards(build: Build, figures: Figures, units: UnitChoice) -> None:
    for number, board in enumerate(build.boards, start=1):
        if board.wanted.kind == "hood box":
            placed = layout(board_drawing(board), STEP_MM, units, footer=False)
            figures.boards[board.wanted.name] = figures.add(f"box-{number}.svg", svg(placed))


def _shapes(build: Build, figures: Figures, units: UnitChoice, paper: Paper) -> None:
    for panel in build.panels:
        placed = layout(panel_drawing(panel, Voice(units=units)), _panel_paper(panel, paper), units)
        title = f"{panel.key}: {panel.name}" + (
            f", {panel.quantity} of them" if panel.quantity > 1 else ""
        )
        name = figures.add(f"panel-{panel.key.lower()}.svg", svg(placed))
        figures.shapes.append({"title": title, "file": name})


def _panel_paper(panel: CutPanel, paper: Paper) -> Paper:
    """Space for a panel's drawing: half of life size at most, but small worked ones whole."""
    worked = (
        panel.holes,
        panel.openings,
        panel.pockets,
        panel.grooves,
        panel.chamfers,
        panel.notches,
    )
    size = (panel.length_m, panel.width_m)
    scale = 1.0 if any(worked) and max(size) < _SMALL_M else 0.5
    wide, high = (1000 * scale * v + _DIMENSIONS_MM for v in size)
    return Paper(min(paper.width, max(wide, 100.0)), min(100.0, max(high, 55.0)))


def _steps(cart: Cart, bodies: Sequence[Body], figures: Figures, units: UnitChoice) -> None:
    known = motions(cart)
    for step in cart.steps:
        drawing = step_drawing(cart, step, Voice(units=units), bodies, known)
        if drawing is not None:
            named = sum(isinstance(i, Balloon | Label) for i in drawing.items)
            wide = named >= _MUCH_NAMED
            placed = layout(drawing, WIDE_STEP_MM if wide else STEP_MM, units, footer=False)
            if wide:
                figures.wide_steps.add(step.number)
            figures.steps[step.number] = figures.add(f"step-{step.number}.svg", svg(placed))
