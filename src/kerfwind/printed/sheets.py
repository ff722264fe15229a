"""Single pages to take to the bench."""

from __future__ import annotations

from typing import Any

from .. import __version__
from ..drawing import Dimension, Drawing, Label, Paper, Polygon, Polyline, layout, svg
from ..hookup.measuring import Mark, StepCard, Strip, StripPiece, measure_sheet
from ..quantity import show
from ..shop import Shop
from ..view.home_test import home_test_page
from .content import PAPER
from .writing import typeset


def test_sheet_pdf(shop: Shop) -> bytes:
    """The home test's page as PDF bytes.

    Raises
    ------
    CurveError, OrificeError
        Measurements already in the file that no curve can hold.
    """
    data = {
        **home_test_page(shop),
        "paper": PAPER[shop.shop.page],
        "made_by": f"kerfwind {__version__}",
    }
    return typeset("test-sheet.typ", data, {})


def measure_sheet_pdf(page: str) -> bytes:
    """The page of measuring aids, at true size, as PDF bytes."""
    sheet = measure_sheet()
    data = {
        "title": "Measuring ports, hoses and fittings",
        "paper": PAPER[page],
        "made_by": f"kerfwind {__version__}",
        "how": sheet.how,
        "rulers": [
            {
                "title": f"Must measure {r.length_m * 1000:.0f} mm"
                if r.unit == "mm"
                else f"Must measure {show(r.length_m, 'length', 'in')}",
                "length": r.length_m * 1000,
                "marks": _marks(r.marks),
            }
            for r in sheet.rulers
        ],
        "strips": [_piece(s, i) for s in sheet.strips for i in range(len(s.pieces))],
        "cards": [_card(c) for c in sheet.cards],
    }
    drawing = layout(_where(), Paper(88, 120), "mm", footer=False)
    return typeset("measure-sheet.typ", data, {"where.svg": svg(drawing)})


def _marks(
    marks: tuple[Mark, ...], start_m: float = 0.0, stop_m: float = 1.0, room_m: float = 0.0
) -> list[dict[str, Any]]:
    """Marks in millimetres from ``start_m``; labels within ``room_m`` of an end are left out."""
    return [
        {
            "at": 1000 * (m.at_m - start_m),
            "rank": m.rank,
            "label": m.label if start_m + room_m <= m.at_m <= stop_m - room_m else "",
        }
        for m in marks
    ]


def _piece(strip: Strip, number: int) -> dict[str, Any]:
    piece: StripPiece = strip.pieces[number]
    inside = tuple(m for m in strip.marks if piece.start_m <= m.at_m <= piece.stop_m)
    many = f", piece {number + 1} of {len(strip.pieces)}" if len(strip.pieces) > 1 else ""
    overlap = strip.pieces[number - 1].stop_m - piece.start_m if number else 0.0
    unit = "half millimetres" if strip.unit == "mm" else "64ths of an inch"
    return {
        "title": f"Strip for {strip.name}, in {unit}{many}",
        "length": 1000 * (piece.stop_m - piece.start_m),
        "first": number == 0,
        "overlap": f"{1000 * overlap:.0f} mm",
        "marks": _marks(inside, piece.start_m, piece.stop_m, 0.006),
    }


def _card(card: StepCard) -> dict[str, Any]:
    width = max(w for w, _ in card.steps)
    places, y = [], 0.0
    for (_, depth), label in zip(card.steps, card.labels, strict=True):
        places.append({"y": 1000 * y, "label": label})
        y += depth
    return {
        "title": f"{card.name}, {card.unit}",
        "width": 1000 * width,
        "large": "large" in card.name,
        "height": 1000 * y,
        "outline": [(1000 * x, 1000 * depth) for x, depth in card.outline],
        "steps": places,
    }


def _where() -> Drawing:
    """A tapered end in section, with the three places to measure."""
    wall, mouth, deep, length = 3.0, 28.5, 22.0, 45.0
    upper = ((0.0, mouth), (length, deep + 2.5), (length, deep + 2.5 - wall), (0.0, mouth - wall))
    lower = tuple((x, -y) for x, y in upper)
    items = (
        Polygon(upper, "outline", 0.85, "section"),
        Polygon(lower, "outline", 0.85, "section"),
        Polyline(((-6.0, 0.0), (length + 6.0, 0.0)), "centre"),
        Dimension((0.0, -mouth), (0.0, mouth), "y", "left", "outside, at the mouth"),
        Dimension((0.0, wall - mouth), (0.0, mouth - wall), "y", "left", "inside, at the mouth"),
        Dimension((20.0, -26.7), (20.0, 26.7), "y", "right", "outside, 20 mm in"),
        Label((3.0, mouth + 6.0), "mouth"),
    )
    return Drawing("Where to measure an end", items, unit_m=0.001, scaled="free")
