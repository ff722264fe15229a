"""Every drawing of a plan as SVG, by file name."""

from __future__ import annotations

from ..drawing import Paper
from ..plan import Plan
from ..view.breathing import session_figures
from ..view.figures import (
    chain_figures,
    hose_step_figures,
    path_figure,
    reducer_figures,
    room_figures,
    suction_figure,
)
from ..view.findings import voice_of
from ..words import Voice
from .cart_figures import WIDE_STEP_MM
from .figure_files import PAGE_MM, Figures

#: Kept for half the page's heading, and the heading and caption of each map on it [mm].
_AROUND_MAP_MM = 41.0


def draw_beside_cart(plan: Plan) -> Figures:
    """Draw everything that the printed plan shows but the cart itself."""
    voice = voice_of(plan)
    figures = Figures()
    page = Paper(*PAGE_MM[plan.shop.about.page])
    if plan.air:
        _charts(plan, figures, page.width, voice)
    for tool, figure in chain_figures(plan, voice, page.width - 14, 0.3).items():
        figures.chains[tool] = figures.lay(figure, Paper(page.width, 60), voice, footer=False)
    for number, figure in hose_step_figures(plan, voice, WIDE_STEP_MM.width).items():
        figures.steps[number] = figures.lay(figure, WIDE_STEP_MM, voice, footer=False)
        figures.wide_steps.add(number)
    for figure in reducer_figures(plan, voice):
        figures.reducers.append(figures.lay(figure, Paper(page.width, 70), voice))
    _rooms(plan, figures, page, voice)
    for number in range(len(plan.breathing.results)):
        figures.sessions.append(
            {
                key: figures.lay(figure, Paper(page.width, 110), voice.plain(), footer=False)
                for key, figure in session_figures(plan, number, voice.plain(), page.width).items()
            }
        )
    return figures


def _charts(plan: Plan, figures: Figures, width: float, voice: Voice) -> None:
    suction = suction_figure(plan, voice, width_mm=min(width - 45, 130))
    path = path_figure(plan, voice, width_mm=70)
    for figure, height in ((suction, 120), (path, 190)):
        name = figures.lay(figure, Paper(width, height), voice, footer=False)
        figures.charts.append({"title": figure.title, "file": name, "caption": figure.caption})


def _rooms(plan: Plan, figures: Figures, page: Paper, voice: Voice) -> None:
    drawn = room_figures(plan, voice)
    # Two maps share a page.
    high = page.height / 2 - _AROUND_MAP_MM if len(drawn) > 1 else 105.0
    for figure in drawn:
        name = figures.lay(figure, Paper(page.width, high), voice)
        figures.rooms.append({"title": figure.title, "file": name, "caption": figure.caption})
