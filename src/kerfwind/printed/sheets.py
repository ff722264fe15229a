"""Single pages to take to the bench."""

from __future__ import annotations

from .. import __version__
from ..air import test_sheet
from ..quantity import show
from ..shop import Shop
from .content import PAPER
from .writing import typeset


def test_sheet_pdf(shop: Shop) -> bytes:
    """The home test's page as PDF bytes.

    Raises
    ------
    CurveError, OrificeError
        Measurements already in the file that no curve can hold.
    """
    sheet = test_sheet(shop)
    units = shop.shop.units
    data = {
        "title": "Home test of the suction curve",
        "shop": f"{shop.shop.name}: {shop.vacuum.name}",
        "paper": PAPER[shop.shop.page],
        "made_by": f"kerfwind {__version__}",
        "why": "A thin plate with one hole of known size lets a known airflow through at each suction. "
        "A few holes give the vacuum's whole curve, which decides the air at every tool.",
        "held_on": sheet.held_on,
        "gauge": sheet.gauge,
        "cautions": sheet.cautions,
        "steps": sheet.steps,
        "columns": sheet.columns,
        "rows": [
            {
                "hole": r.hole,
                "expected": r.expected,
                "plate": show(r.thickest_plate_m, "length", units) if r.hole_m else "any",
            }
            for r in sheet.rows
        ],
        "entry": sheet.entry,
    }
    return typeset("test-sheet.typ", data, {})
