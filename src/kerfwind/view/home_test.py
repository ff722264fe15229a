"""The page of the vacuum's home test, in words."""

from __future__ import annotations

from typing import Any

from ..air import SheetRow, TestSheet, test_sheet
from ..facts import Amount, Name
from ..plaintext import quoted
from ..shop import Shop
from ..words import Voice
from .findings import voice_for


def home_test_page(shop: Shop) -> dict[str, Any]:
    """Everything the page shows.

    Raises
    ------
    CurveError, OrificeError
        Measurements already in the file that no curve can hold.
    """
    sheet, voice = test_sheet(shop), voice_for(shop)
    word = voice.word
    return {
        "title": word("home_test.title"),
        "language": voice.language,
        "shop": word("home_test.of", shop=Name(shop.about.name), vacuum=Name(shop.vacuum.name)),
        "why": word("home_test.why"),
        "cautions": [voice.text(each) for each in sheet.cautions],
        "held": {"label": word("home_test.held"), "text": voice.text(sheet.held_on)},
        "gauge": {
            "label": word("home_test.gauge"),
            "text": word("home_test.gauge.range", most=Amount(sheet.gauge_pa, "pressure", "short")),
        },
        "steps_title": word("home_test.steps"),
        "steps": [voice.text(each) for each in sheet.steps],
        "readings_title": word("home_test.readings"),
        "columns": [
            word("home_test.column.hole"),
            word("home_test.column.plate"),
            word("home_test.column.drilled"),
            word("home_test.column.expected"),
            word("home_test.column.first"),
            word("home_test.column.second"),
        ],
        "rows": [_row(row, voice) for row in sheet.rows],
        "entry_title": word("home_test.entry"),
        "entry": entry(sheet, voice),
    }


def _row(row: SheetRow, voice: Voice) -> dict[str, str]:
    thickest = Amount(row.thickest_plate_m, "length", "most")
    return {
        "hole": voice.text(row.hole) if row.hole_m else voice.word("home_test.no_hole"),
        "plate": voice.text(thickest) if row.hole_m else voice.word("home_test.any_plate"),
        "expected": voice.text(row.expected),
    }


def entry(sheet: TestSheet, voice: Voice) -> str:
    """What to write into the shop file, with blanks, in the unit of the reader's gauge."""
    unit = "kPa" if voice.units == "mm" else "inH2O"
    where = [f'at = "{"hose" if sheet.hose else "inlet"}"']
    if sheet.hose and sheet.hose_listed:
        # Without its name it is the first tool hose, also where the file lists none yet.
        where.append(f"hose = {quoted(sheet.hose)}")
    holes = [voice.text(row.hole) if row.hole_m else "0 mm" for row in sheet.rows]
    return "\n".join(
        (
            "[vacuum.suction.home_test]",
            *where,
            'plate = "____ mm"',
            "readings = [",
            *(f'  {{ hole = "{hole}", suction = "____ {unit}" }},' for hole in holes),
            "]\n",
        )
    )
