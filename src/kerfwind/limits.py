"""How much a file may hold: more than any home workshop has, and little enough to be planned.

Sizes of a single thing (a hose's length, a vacuum's height) stand beside their fields in
`shop/kinds.py`; here is how many, how long and how deep.
"""

from __future__ import annotations

#: Bytes of a file, by what it is. A shop file is a few pages; a list of panels can be long.
SHOP_BYTES = 1_000_000
PANELS_BYTES = 5_000_000
RECORD_BYTES = 100_000_000
SIZES_BYTES = 1_000_000

#: Keys and values of a TOML file, and how deep one may stand in another.
TOML_VALUES = 50_000
PANEL_VALUES = 300_000
TOML_DEPTH = 12

#: Digits of one number.
DIGITS = 40

#: Faults told at once; more are counted.
FAULTS = 50

#: Rows of the lists of a shop file, by where they stand.
ROWS = {
    "tools": 200,
    "hoses": 30,
    "branches": 100,
    "fittings": 1_000,
    "sheets": 50,
    "built": 500,
    "sessions": 20,
    "room.outlets": 50,
    "vacuum.suction.points": 100,
    "vacuum.suction.home_test.readings": 50,
    "wishes.options": 20,
    "wishes.second_panels": 20,
}

#: Hoses for tools that can be weighed against each other: ways of using them double with each.
TOOL_HOSES = 12

#: Operations of one session, and of all together: each is followed on every sample.
OPERATIONS = 40
ALL_OPERATIONS = 200

#: Vacuums and buckets in one table.
SIZES = 200

#: Columns of a table, most of them another program's.
COLUMNS = 200

#: Rows of a list of panels, sheets of it apart, and pieces of a part that are cut by hand.
PANEL_ROWS = 20_000
SHEET_ROWS = 500
PIECES = 20_000

#: Sheets drawn in one PDF: each takes several megabytes while it is set. The others are files.
SHEETS_ON_PAPER = 30

#: Rows of panels set in one PDF; a file beside it has all of them.
PANELS_ON_PAPER = 500

#: Part labels set in one PDF.
LABELS = 480

#: Characters of the texts that a person makes up, as pages and tables have room for.
TEXTS = {"name": 80, "material": 80, "author": 120, "notes": 4_000, "currency": 4, "nominal": 40}
#: The longest word that a column of the printed tables takes.
WORD = 30
