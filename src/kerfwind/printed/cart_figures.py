"""The cart's own drawings on paper, begun as soon as there is a cart."""

from __future__ import annotations

from collections.abc import Callable

from ..drawing import Paper, layout_together, svg
from ..joinery import CutPanel
from ..search.sheet_choice import Build
from ..second_process import run_beside
from ..shop import Shop
from ..view.cart_figures import (
    board_figures,
    cover_figure,
    exploded_figure,
    panel_figures,
    plainer,
    sheet_figures,
    step_figures,
    three_sides,
)
from ..words import Voice
from .figure_files import PAGE_MM, Figures, sheet_layout

#: Space for the picture of a step.
STEP_MM = Paper(80, 60)
#: The same where much is named in it.
WIDE_STEP_MM = Paper(105, 75)
#: About a panel for its dimensions.
_DIMENSIONS_MM = 45.0
#: Panels smaller than this are drawn as large as they are.
_SMALL_M = 0.08


def begin_cart(shop: Shop, build: Build, voice: Voice) -> Callable[[], Figures]:
    """Draw the cart and its panels; what another core comes to is drawn there meanwhile.

    The figures are had by calling what is returned.
    """
    page = PAGE_MM[shop.about.page]
    # Part by part, so that neither core waits for the other to draw what it could draw itself.
    parts = [
        run_beside(draw, Paper(*page), build, voice) for draw in (_steps, _whole, _panels, _views)
    ]
    sheets = Figures()
    for sheet, figure in sheet_figures(shop, build, voice):
        placed, turned = sheet_layout(figure.drawing, sheet, voice, Paper(*page))
        name = sheets.add(figure.file, svg(placed))
        sheets.nests.append(
            {"title": figure.title, "file": name, "turned": turned, "caption": figure.caption}
        )
    for key, figure in board_figures(build, voice).items():
        sheets.boards[key] = sheets.lay(figure, STEP_MM, voice, footer=False)

    def all_drawn() -> Figures:
        # From the end that the other core comes to last.
        views, panels, whole, steps = (part() for part in reversed(parts))
        every = (whole, steps, panels, views, sheets)
        return Figures(
            cover=whole.cover,
            boards=sheets.boards,
            views=views.views,
            views_mm=views.views_mm,
            exploded=whole.exploded,
            nests=sheets.nests,
            shapes=panels.shapes,
            steps=steps.steps,
            wide_steps=steps.wide_steps,
            files={name: text for each in every for name, text in each.files.items()},
        )

    return all_drawn


def _whole(paper: Paper, build: Build, voice: Voice) -> Figures:
    """The unit in perspective, and pulled apart."""
    figures = Figures()
    bodies = plainer(build.cart.bodies)
    cover = cover_figure(bodies, voice)
    figures.cover = figures.lay(cover, Paper(150, 118), voice, footer=False)
    apart = exploded_figure(build.cart, bodies, voice)
    figures.exploded = figures.lay(
        apart, Paper(paper.width, paper.height - 20), voice, footer=False
    )
    return figures


def _steps(_: Paper, build: Build, voice: Voice) -> Figures:
    """The unit as it is built, step by step."""
    figures = Figures()
    for step in step_figures(build.cart, plainer(build.cart.bodies), voice):
        if step.wide:
            figures.wide_steps.add(step.number)
        paper = WIDE_STEP_MM if step.wide else STEP_MM
        figures.steps[step.number] = figures.lay(step.figure, paper, voice, footer=False)
    return figures


def _panels(paper: Paper, build: Build, voice: Voice) -> Figures:
    """Each kind of panel."""
    figures = Figures()
    for each in panel_figures(build, voice):
        name = figures.lay(each.figure, _panel_paper(each.panel, paper), voice)
        figures.shapes.append(
            {"title": each.figure.title, "file": name, "caption": each.figure.caption}
        )
    return figures


def _views(paper: Paper, build: Build, voice: Voice) -> Figures:
    """The unit from front, side and above."""
    figures = Figures()
    placed = layout_together(
        three_sides(build, voice),
        Paper(paper.width, paper.height * 0.66),
        voice,
        title=voice.word("drawing.unit.three_sides"),
    )
    figures.views.append({"file": figures.add("three-sides.svg", svg(placed))})
    figures.views_mm = placed.height
    return figures


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
