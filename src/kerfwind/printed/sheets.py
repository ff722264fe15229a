"""Single pages to take to the bench."""

from __future__ import annotations

from .. import __version__
from ..drawing import Dimension, Drawing, Label, Paper, Polygon, Polyline, layout, svg
from ..shop import Shop
from ..view.home_test import home_test_page
from ..view.measure_sheet import measure_page
from ..words import Voice
from .content import PAPER
from .typesetting import typeset


def test_sheet_pdf(shop: Shop) -> bytes:
    """The home test's page as PDF bytes.

    Raises
    ------
    CurveError, OrificeError
        Measurements already in the file that no curve can hold.
    """
    data = {
        **home_test_page(shop),
        "paper": PAPER[shop.about.page],
        "made_by": f"kerfwind {__version__}",
    }
    return typeset("test-sheet.typ", data, {})


def measure_sheet_pdf(page: str) -> bytes:
    """The page of measuring aids, at true size, as PDF bytes."""
    voice = Voice(units="mm")
    data = {**measure_page(voice), "paper": PAPER[page], "made_by": f"kerfwind {__version__}"}
    drawing = layout(_where(voice), Paper(88, 120), voice, footer=False)
    return typeset("measure-sheet.typ", data, {"where.svg": svg(drawing)})


def _where(voice: Voice) -> Drawing:
    """A tapered end in section, with the three places to measure."""
    wall, mouth, deep, length = 3.0, 28.5, 22.0, 45.0
    upper = ((0.0, mouth), (length, deep + 2.5), (length, deep + 2.5 - wall), (0.0, mouth - wall))
    lower = tuple((x, -y) for x, y in upper)
    items = (
        Polygon(upper, "outline", 0.85, "section"),
        Polygon(lower, "outline", 0.85, "section"),
        Polyline(((-6.0, 0.0), (length + 6.0, 0.0)), "centre"),
        Dimension((0.0, -mouth), (0.0, mouth), "y", "left", voice.word("drawing.end.outside")),
        Dimension(
            (0.0, wall - mouth), (0.0, mouth - wall), "y", "left", voice.word("drawing.end.inside")
        ),
        Dimension((20.0, -26.7), (20.0, 26.7), "y", "right", voice.word("drawing.end.taper")),
        Label((3.0, mouth + 6.0), voice.word("drawing.end.mouth")),
    )
    return Drawing(voice.word("drawing.end"), items, unit_m=0.001, scaled="free")
