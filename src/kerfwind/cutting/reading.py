"""Reading a list of panels from CSV or TOML, for `kerfwind cut FILE`.

CSV: a first row of column names, then a panel a row. Columns `name`, `length`, `width`
and, where wanted, `quantity`, `material`, `thickness`, `grain`, `edges`, `band_thickness`,
`kind`, `price`. With `band_thickness` sizes are those of the finished panel, and it is cut
smaller by that at each of its `edges`. A row whose `kind` is `sheet` or `offcut` is a sheet. A unit may stand in the column's
name, `length (mm)`, or in each cell. Commas, semicolons or tabs; quotes and a byte order
mark are understood. The panel list of a plan is read too, with columns added or not.

TOML: tables `[[panels]]` and `[[sheets]]` with the same keys, and `[saw]` with `kerf`,
`trim`, `kind`, `largest_rip`, `smallest_piece`, `carry_length` and `carry_width`, and the
limits of what guides a cut: `crosscut` and `sled_stop` of a sled, `track` of a track saw.
Its `order` is `sheets`, one finished before the next, or `settings`, each for all sheets.
"""

from __future__ import annotations

import csv
import difflib
import io
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import count
from pathlib import Path
from typing import Any, Literal, cast

from .. import limits
from ..facts import Amount, Listing, Name, Statement, state
from ..faults import Faults, Refusal, refusal, unread
from ..plaintext import decoded, delimiter_of, hidden, is_control
from ..quantity import QuantityError, UnitChoice, parse
from ..rawfile import TooLargeError, read_at_most
from ..sources import fact
from ..tomlfile import load_toml
from .model import Edge, Grain, Order, Panel, Saw, SheetKind

_FIELDS = (
    "name",
    "length",
    "width",
    "quantity",
    "material",
    "thickness",
    "grain",
    "edges",
    "band_thickness",
    "kind",
    "price",
)
#: Columns of the panel list that a plan writes; sizes stand there twice, in mm and in words.
PLAN_COLUMNS = (
    "mark",
    "panel",
    "number",
    "length mm",
    "width mm",
    "thickness mm",
    "length",
    "width",
    "thickness",
    "grain",
)
_SIZES = ("length", "width", "thickness")
#: Columns whose numbers tell what a comma is.
_WRITTEN = (*_SIZES, "band_thickness")
_SAID = " in words"
#: Sizes in words are to a 32nd of an inch, or to a tenth of a millimetre [m].
_SAID_M = 0.0005
_SAW_FIELDS = (
    "kerf",
    "trim",
    "kind",
    "largest_rip",
    "smallest_piece",
    "carry_length",
    "carry_width",
    "crosscut",
    "sled_stop",
    "track",
    "order",
)
_GRAINS = ("along", "across", "free")
_EDGES = ("near", "far", "left", "right")
_SEVERAL_EDGES: dict[str, tuple[Edge, ...]] = {
    "all": ("near", "far", "left", "right"),
    "long": ("near", "far"),
    "short": ("left", "right"),
}
_ORDERS = ("sheets", "settings")
#: Other words that people use for these.
_SAME = {
    "grain": {"length": "along", "l": "along", "yes": "along", "width": "across", "w": "across"}
    | dict.fromkeys(("none", "no", "any", "either"), "free"),
    "kind": {"part": "panel", "stock": "sheet", "scrap": "offcut"},
}
_SAWS = ("table", "track", "circular")
#: Beyond these a size is a slip of the unit [m].
_LARGEST_M = {
    "thickness": 0.1,
    "band_thickness": 0.02,
    "kerf": 0.008,
    "trim": 0.1,
    "smallest_piece": 1.0,
    "largest_rip": 20.0,
}
#: Other words for a column, as people have them.
_MEANT = {
    **dict.fromkeys(
        ("qty", "qty.", "count", "pcs", "pcs.", "pieces", "amount", "number", "quantity needed"),
        "quantity",
    ),
    **dict.fromkeys(("part", "part name", "panel", "piece", "item", "description"), "name"),
    **dict.fromkeys(("l", "len", "long"), "length"),
    **dict.fromkeys(("w", "wid", "wide"), "width"),
    **dict.fromkeys(("t", "thick", "thk"), "thickness"),
    **dict.fromkeys(("mat", "mat.", "wood"), "material"),
    **dict.fromkeys(("band", "banding", "edge", "edge banding", "banded"), "edges"),
    **dict.fromkeys(
        ("band_thickness", "band thickness", "banding thickness", "edge thickness"),
        "band_thickness",
    ),
    **dict.fromkeys(("cost", "price each"), "price"),
}
#: A number whose comma can only be a decimal's.
_COMMA = re.compile(r"(?<![\d.,])\d+,(\d{1,2}|\d{4,})(?![\d.,])")
_SIGNS = re.compile(r"[$€£¥₤₩₹\u20a0-\u20cf]")
_KINDS = ("panel", "sheet", "offcut")
_BARE = re.compile(r"[\d.,\s/+-]+")
#: Sizes in inches and feet, and those in parts of a metre: in cells or in a column's name.
_INCHES = re.compile(
    r"""[\d¼½¾⅛⅜⅝⅞]\s*(?:in\b|inch|ft\b|feet\b|foot\b|""|[″′])"""
    r"""|(?:^|[,;\t])[ ]*\d[\d\s/.-]*"|[(\[_ ](?:in|ft)[)\]]?\s*(?=[,;\t\n]|$)""",
    re.I | re.M,
)
_METRES = re.compile(r"\d\s*(?:mm|cm|m)\b|[(\[_ ](?:mm|cm|m)[)\]]?\s*(?=[,;\t\n]|$)", re.I)


@dataclass(frozen=True)
class CutList:
    """Panels, sheets and saw of a list, and what was taken for granted.

    ``lines`` says where each panel and each sheet stands, by its name; ``priced`` whether any
    sheet has a price, and ``currency`` the sign that it is written with.
    """

    panels: tuple[Panel, ...]
    sheets: tuple[SheetKind, ...]
    saw: Saw
    assumed: tuple[Statement, ...] = ()
    lines: Mapping[str, int] = field(default_factory=dict)
    priced: bool = False
    currency: str = ""


@dataclass
class _Reader:
    """Collects faults while rows are read."""

    file: str
    faults: list[Refusal] = field(default_factory=list)
    assumed: list[Statement] = field(default_factory=list)
    decimal_comma: bool = False
    currency: str = ""

    def refuse(self, line: int, fault: Refusal) -> None:
        self.faults.append(replace(fault, file=self.file, line=line))

    def unknown(self, line: int, name: str, found: object, known: Iterable[str]) -> None:
        """A key or column that is none, with the nearest that is one."""
        near = (
            [_MEANT[name.lower()]]
            if name.lower() in _MEANT
            # Beyond so many it will be counted, not told.
            else difflib.get_close_matches(name.lower()[:80], list(known), 1, 0.6)
            if len(self.faults) < limits.FAULTS
            else []
        )
        given, allowed = Name(str(found)), _names(known)
        if near:
            meant = Name(near[0])
            self.refuse(
                line, refusal("cutting.list.meant", name, given=given, allowed=allowed, meant=meant)
            )
        else:
            self.refuse(line, refusal("cutting.list.unknown", name, given=given, allowed=allowed))

    def name(self, row: Mapping[str, Any], line: int) -> str:
        """A name that can be printed on one line; empty where there is none."""
        value = row.get("name")
        if value is not None and not isinstance(value, (str, int, float)):
            self.refuse(line, refusal("cutting.list.no_text", "name", given=Name(str(value))))
            return ""
        return self.seen("name", "" if value is None else value, line)

    def seen(self, name: str, value: object, line: int) -> str:
        """A text on one line; a fault where something in it is not seen."""
        text = re.sub(r"\s+", " ", str(value)).strip()
        for at in hidden(text)[:1]:
            char = text[at]
            self.refuse(
                line,
                refusal(
                    "cutting.list.not_printed",
                    name,
                    given=Name(text),
                    char="control" if is_control(char) else "invisible",
                    code=Name(f"U+{ord(char):04X}"),
                ),
            )
        return text

    def length(
        self,
        row: Mapping[str, Any],
        name: str,
        line: int,
        unit: str = "",
        default: float | None = None,
    ) -> float:
        """A length in metres; faults give NaN."""
        value = row.get(name)
        text = "" if value is None else str(value).strip()
        if not text:
            if default is not None:
                return default
            self.refuse(line, refusal("cutting.list.no_length", name))
            return float("nan")
        if self.decimal_comma:
            text = text.replace(",", ".")
        if unit and _BARE.fullmatch(text):
            text = f"{text} {unit}"
        try:
            quantity = parse(text, "length")
        except QuantityError as error:
            self.refuse(line, unread(error, name))
            return float("nan")
        if quantity.shape == "flat" and name in ("length", "width"):
            self.refuse(line, refusal("cutting.list.range", name, given=Name(text)))
            return float("nan")
        most = _LARGEST_M.get(name, 100.0)
        if quantity.high_si > most:
            limit = Amount(most, "length")
            self.refuse(line, refusal("cutting.list.too_large", name, given=Name(text), most=limit))
            return float("nan")
        if quantity.best_si <= 0 and name not in ("kerf", "trim"):
            self.refuse(line, refusal("cutting.list.not_over_zero", name, given=Name(text)))
            return float("nan")
        return quantity.best_si

    def word(
        self, row: Mapping[str, Any], name: str, line: int, allowed: tuple[str, ...], default: str
    ) -> str:
        text = str(row.get(name) or "").strip().lower()
        if not text:
            return default
        text = _SAME.get(name, {}).get(text, text)
        if text not in allowed:
            self.refuse(
                line, refusal("cutting.list.word", name, given=Name(text), allowed=_names(allowed))
            )
            return default
        return text

    def number(
        self, row: Mapping[str, Any], name: str, line: int, default: int | None
    ) -> int | None:
        value = row.get(name)
        text = "" if value is None else str(value).strip()
        if not text:
            return default
        # A spreadsheet writes a whole number with a decimal now and then.
        text = re.sub(r"[.,]0+$", "", text)
        if isinstance(value, bool) or not re.fullmatch(r"\d{1,9}", text) or int(text) < 1:
            self.refuse(line, refusal("cutting.list.number", name, given=Name(text)))
            return default
        return int(text)

    def price(self, row: Mapping[str, Any], line: int, default: float) -> float:
        value = row.get("price")
        text = "" if value is None else str(value).strip()
        if not text:
            return default
        if sign := _SIGNS.search(text):
            self.currency = self.currency or sign[0]
        text = _SIGNS.sub("", text).strip()
        if not self.decimal_comma:
            text = re.sub(r"(?<=\d),(?=\d{3}(\D|$))", "", text)
        if not re.fullmatch(r"\d{1,9}([.,]\d{1,4})?", text):
            self.refuse(line, refusal("cutting.list.price", "price", given=Name(text)))
            return default
        return float(text.replace(",", "."))

    def edges(self, row: Mapping[str, Any], line: int) -> tuple[Edge, ...]:
        value = row.get("edges")
        words = (
            value if isinstance(value, list) else re.split(r"[\s,;+]+", str(value or "").strip())
        )
        found: list[Edge] = []
        for word in words:
            text = str(word).strip().lower()
            if not text:
                continue
            if text in _SEVERAL_EDGES:
                found += [each for each in _SEVERAL_EDGES[text] if each not in found]
            elif text not in _EDGES:
                allowed = _names(_EDGES)
                self.refuse(
                    line, refusal("cutting.list.edge", "edges", given=Name(text), allowed=allowed)
                )
            elif text not in found:
                found.append(cast(Edge, text))
        return tuple(found)


def _names(keys: Iterable[str]) -> Listing:
    """Words of the file's own language."""
    return Listing(tuple(Name(f"`{key}`") for key in keys), "commas")


def units_written(path: Path) -> UnitChoice:
    """The units that a list is written in, right or wrong as it may be: those it has more of."""
    try:
        raw = read_at_most(path, limits.PANELS_BYTES)
    except (TooLargeError, OSError):
        return "mm"
    text = decoded(raw, "cp1252") or ""
    inches, metres = (sum(1 for _ in each.finditer(text)) for each in (_INCHES, _METRES))
    return "in" if inches > metres else "mm"


def read_cut_list(path: Path) -> CutList:
    """Read a list of panels.

    Raises
    ------
    Faults
        With every fault found, each naming file, line, field, what stands there, what
        may, and how to mend it.
    """
    reader = _Reader(path.name)
    try:
        raw = read_at_most(path, limits.PANELS_BYTES)
    except TooLargeError as error:
        most = limits.PANELS_BYTES
        reader.refuse(0, refusal("cutting.list.too_long", given=error.size, most=most))
        raise Faults(reader.faults) from None
    except OSError as error:
        reader.refuse(0, refusal("cutting.list.no_file", why=Name(error.strerror or str(error))))
        raise Faults(reader.faults) from error
    text = decoded(raw, "cp1252")
    if text is None:
        reader.refuse(0, refusal("cutting.list.not_text"))
        raise Faults(reader.faults)
    toml = path.suffix.lower() == ".toml"
    made = _toml(text, reader) if toml else _csv(text, reader)
    if reader.faults:
        raise Faults(reader.faults)
    return made


def _header(cell: str) -> tuple[str, str]:
    """A column's field and its unit: `Length (mm)` gives `length`, `mm`."""
    text = cell.strip().lower()
    match = re.fullmatch(r"([a-z\s]+?)\s*[\[(_\s]\s*(mm|cm|m|in|ft)\s*[\])]?", text)
    if match and match[1].strip() in _FIELDS:
        return match[1].strip(), match[2]
    return text, ""


def _meant(columns: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """Columns by their own names, where people call them otherwise and none has that name."""
    own = {name for name, _ in columns}
    found: list[tuple[str, str]] = []
    for name, unit in columns:
        word, in_unit = name, unit
        match = re.fullmatch(r"(.+?)\s*[\[(_\s]\s*(mm|cm|m|in|ft)\s*[\])]?", name)
        if match and not unit and match[1].strip() in _MEANT:
            word, in_unit = match[1].strip(), match[2]
        meant = _MEANT.get(word)
        if meant and meant not in own:
            own.add(meant)
            found.append((meant, in_unit))
        else:
            found.append((name, unit))
    return found


def _of_plan(cell: str, column: tuple[str, str]) -> tuple[str, str]:
    """A column of a plan's panel list; marks are given anew."""
    name = cell.strip().lower()
    if name in _SIZES:
        return name + _SAID, ""
    return {"mark": ("", ""), "panel": ("name", ""), "number": ("quantity", "")}.get(name, column)


def _said(row: Mapping[str, str], line: int, reader: _Reader) -> None:
    """Whether sizes in words still say what stands in mm: a person may have changed one."""
    for name in _SIZES:
        said = row.get(name + _SAID, "")
        try:
            same = (
                abs(
                    parse(said.partition("(")[0], "length").best_si
                    - parse(f"{row[name]} mm", "length").best_si
                )
                < _SAID_M
            )
        except QuantityError:
            continue
        if not same:
            reader.refuse(
                line, refusal("cutting.list.two_sizes", name, mm=Name(row[name]), said=Name(said))
            )


def _csv(text: str, reader: _Reader) -> CutList:
    delimiter = delimiter_of(text)
    try:
        rows = list(
            _numbered(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True))
        )
    except csv.Error as error:
        reader.refuse(0, refusal("cutting.list.not_csv", why=Name(str(error))))
        return CutList((), (), Saw())
    if not rows:
        reader.refuse(1, refusal("cutting.list.empty"))
        return CutList((), (), Saw())
    line, names = rows[0]
    if len(names) > limits.COLUMNS:
        columns_given, most = len(names), limits.COLUMNS
        reader.refuse(
            line,
            refusal(
                "cutting.list.many_columns", given=columns_given, most=most, kept=_names(_FIELDS)
            ),
        )
        return CutList((), (), Saw())
    columns = _meant([_header(cell) for cell in names])
    if set(PLAN_COLUMNS) <= {cell.strip().lower() for cell in names}:
        columns = [_of_plan(cell, column) for cell, column in zip(names, columns, strict=True)]
    for needed in ("name", "length", "width"):
        if needed not in [c[0] for c in columns]:
            given = Name(", ".join(n.strip() for n in names))
            reader.refuse(
                line,
                refusal(
                    "cutting.list.no_column",
                    needed,
                    given=given,
                    allowed=_names(_FIELDS),
                    needed=Name(needed),
                ),
            )
    if reader.faults:
        return CutList((), (), Saw())
    doubled = [f for f in _FIELDS if [c[0] for c in columns].count(f) > 1]
    for each in doubled:
        reader.refuse(line, refusal("cutting.list.doubled", each))
    unknown = [
        n.strip()
        for n, c in zip(names, columns, strict=True)
        if c[0] and c[0] not in _FIELDS and not c[0].endswith(_SAID)
    ]
    for each in unknown:
        # A column of another program's is let be; a slip of the pen would change what is cut.
        word = _header(each)[0]
        near = difflib.get_close_matches(word, _FIELDS, 1, 0.75) or [_MEANT.get(word, "")]
        if near[0] and near[0] not in [c[0] for c in columns]:
            reader.unknown(line, each, each, _FIELDS)
    if unknown:
        columns_left = Listing(tuple(map(Name, unknown)), "commas")
        reader.assumed.append(state("cutting.assumed.columns", columns=columns_left))
    units = {name: unit for name, unit in columns if unit}
    at_sizes = [at for at, (name, _) in enumerate(columns) if name in _WRITTEN]
    reader.decimal_comma = delimiter != "," and any(
        _COMMA.search(cells[at]) for _, cells in rows[1:] for at in at_sizes if at < len(cells)
    )
    panels: list[tuple[int, Mapping[str, Any]]] = []
    sheets: list[tuple[int, Mapping[str, Any]]] = []
    for line, cells in rows[1:]:
        if len(cells) > len(columns) and any(c.strip() for c in cells[len(columns) :]):
            reader.refuse(
                line,
                refusal(
                    "cutting.list.cells",
                    given=len(cells),
                    wanted=len(columns),
                    delimiter=Name(delimiter),
                ),
            )
            continue
        row = {name: cell.strip() for (name, _), cell in zip(columns, cells, strict=False)}
        _said(row, line, reader)
        kind = reader.word(row, "kind", line, _KINDS, "panel")
        (panels if kind == "panel" else sheets).append((line, row))
    return _built(panels, sheets, {}, 0, units, reader)


def _numbered(rows: Any) -> Iterable[tuple[int, list[str]]]:
    """Rows with the line they end on; empty ones left out."""
    for cells in rows:
        if any(cell.strip() for cell in cells):
            yield rows.line_num, cells


def _toml(text: str, reader: _Reader) -> CutList:
    data = load_toml(text, reader.file, limits.PANEL_VALUES)
    lines = text.splitlines()
    begins: dict[str, int] = {}
    for n, each in enumerate(lines, 1):
        if word := re.match(r"\s*\[*\s*[\"']?([\w-]+)", each):
            begins.setdefault(word[1], n)
    for key in data:
        if key not in ("panels", "sheets", "saw"):
            reader.unknown(begins.get(key, 0), key, key, ("panels", "sheets", "saw"))
    tables: dict[str, list[tuple[int, Mapping[str, Any]]]] = {"panels": [], "sheets": []}
    for key, rows in tables.items():
        found = data.get(key, [])
        if not isinstance(found, list) or not all(isinstance(r, dict) for r in found):
            reader.refuse(
                _line(lines, key),
                refusal("cutting.list.no_tables", key, given=Name(str(found)), table=Name(key)),
            )
            continue
        heads = [n for n, each in enumerate(lines, 1) if re.match(rf"\s*\[\[\s*{key}\s*\]\]", each)]
        for at, row in enumerate(found):
            line = heads[at] if at < len(heads) else 0
            rows.append((line, row))
            for name in row:
                if name not in _FIELDS:
                    reader.unknown(line, name, row[name], _FIELDS)
    saw = data.get("saw", {})
    line = _line(lines, r"\[\s*saw\s*\]")
    if not isinstance(saw, dict):
        reader.refuse(line, refusal("cutting.list.no_saw", "saw", given=Name(str(saw))))
        saw = {}
    for name in saw:
        if name not in _SAW_FIELDS:
            reader.unknown(line, name, saw[name], _SAW_FIELDS)
    return _built(tables["panels"], tables["sheets"], saw, line, {}, reader)


def _line(lines: list[str], pattern: str) -> int:
    return next((n for n, each in enumerate(lines, 1) if re.match(rf"\s*{pattern}", each)), 0)


def _built(
    panel_rows: list[tuple[int, Mapping[str, Any]]],
    sheet_rows: list[tuple[int, Mapping[str, Any]]],
    saw_row: Mapping[str, Any],
    saw_line: int,
    units: Mapping[str, str],
    reader: _Reader,
) -> CutList:
    thickness = 0.018
    for what, rows, most in (
        ("panels", panel_rows, limits.PANEL_ROWS),
        ("sheets", sheet_rows, limits.SHEET_ROWS),
    ):
        if len(rows) > most:
            line, given = rows[most][0], len(rows)
            reader.refuse(
                line, refusal("cutting.list.many_rows", given=given, what=what, most=most)
            )
            return CutList((), (), Saw())
    panels: list[Panel] = []
    lines: dict[str, int] = {}
    written = [reader.name(row, line) for line, row in panel_rows]
    taken = set(written)
    seen: set[str] = set()
    numbers: dict[str, Iterator[int]] = {}
    unnamed = {f.line for f in reader.faults if f.place == "name"}
    for (line, row), name in zip(panel_rows, written, strict=True):
        if not name and line not in unnamed:
            reader.refuse(line, refusal("cutting.list.no_name", "name"))
        if name in seen:
            number = numbers.setdefault(name, count(2))
            again = next(n for i in number if (n := f"{name} ({i})") not in taken)
            reader.assumed.append(
                state("cutting.assumed.renamed", line=line, name=Name(name), again=Name(again))
            )
            name = again
            taken.add(name)
        seen.add(name)
        lines[name] = line
        panel = Panel(
            name,
            reader.length(row, "length", line, units.get("length", "")),
            reader.length(row, "width", line, units.get("width", "")),
            reader.number(row, "quantity", line, 1) or 1,
            reader.seen("material", row.get("material") or "", line) or "plywood",
            reader.length(row, "thickness", line, units.get("thickness", ""), thickness),
            cast(Grain, reader.word(row, "grain", line, _GRAINS, "free")),
            reader.edges(row, line),
        )
        band = reader.length(row, "band_thickness", line, units.get("band_thickness", ""), 0.0)
        panels.append(_without_band(panel, band, line, reader))
    panels, _ = _alike(panels, [])
    if not panel_rows:
        reader.refuse(0, refusal("cutting.list.no_panel"))
    sheets: list[SheetKind] = []
    priced = any(str(row.get("price") or "").strip() for _, row in sheet_rows)
    unpriced: list[int] = []
    for line, row in sheet_rows:
        offcut = reader.word(row, "kind", line, ("sheet", "offcut"), "sheet") == "offcut"
        name = reader.name(row, line)
        called = None if name else state("cutting.sheet.of_line", line=line)
        key = name or f"line {line}"
        quantity = reader.number(row, "quantity", line, 1 if offcut else None)
        grain = reader.word(row, "grain", line, ("along", "free"), "along")
        if priced and not offcut and not str(row.get("price") or "").strip():
            unpriced.append(len(sheets))
        sheets.append(
            SheetKind(
                key if key not in [s.key for s in sheets] else f"{key} (line {line})",
                reader.length(row, "length", line, units.get("length", "")),
                reader.length(row, "width", line, units.get("width", "")),
                reader.seen("material", row.get("material") or "", line) or "plywood",
                reader.length(row, "thickness", line, units.get("thickness", ""), thickness),
                reader.price(row, line, 0.0 if offcut else 1.0),
                quantity,
                "none" if grain == "free" else "length",
                offcut,
                not offcut,
                called=called,
            )
        )
    if unpriced and not reader.faults:
        sheets = _by_area(sheets, unpriced)
        names = Listing(tuple(Name(sheets[at].key) for at in unpriced), "commas")
        reader.assumed.append(state("cutting.assumed.price", sheets=names))
    if not sheets and not reader.faults:
        length, width = fact("cutting.sheet_length").value, fact("cutting.sheet_width").value
        for material, thick in dict.fromkeys((p.material, round(p.thickness_m, 5)) for p in panels):
            sheets.append(
                SheetKind(
                    f"full {material} {round(thick * 1e5)}",
                    length,
                    width,
                    material,
                    thick,
                    called=state(
                        "cutting.sheet.full",
                        material=Name(material),
                        thickness=Amount(thick, "length", "cut"),
                    ),
                )
            )
        reader.assumed.append(
            state(
                "cutting.assumed.sheets",
                length=Amount(length, "length"),
                width=Amount(width, "length"),
            )
        )
    kind = reader.word(saw_row, "kind", saw_line, _SAWS, "table")
    plain = Saw()
    if not saw_row:
        kerf = Amount(fact("cutting.kerf").value, "length")
        reader.assumed.append(state("cutting.assumed.saw", kerf=kerf))
    if (saw_row.get("carry_length") is None) != (saw_row.get("carry_width") is None):
        lone = "carry_length" if saw_row.get("carry_width") is None else "carry_width"
        missing = "carry_width" if lone == "carry_length" else "carry_length"
        reader.assumed.append(
            state("cutting.assumed.alone", given=Name(f"`{lone}`"), missing=Name(f"`{missing}`"))
        )
    carry = [
        reader.length(saw_row, name, saw_line, default=0.0)
        for name in ("carry_length", "carry_width")
    ]
    rip, crosscut, stop, track = (
        reader.length(saw_row, name, saw_line, default=0.0)
        for name in ("largest_rip", "crosscut", "sled_stop", "track")
    )
    saw = Saw(
        kerf_m=reader.length(saw_row, "kerf", saw_line, default=fact("cutting.kerf").value),
        trim_m=reader.length(saw_row, "trim", saw_line, default=0.0),
        kind=cast(Literal["table", "track", "circular"], kind),
        fence_limit_m=rip or (plain.fence_limit_m if kind == "table" else None),
        crosscut_limit_m=crosscut or plain.crosscut_limit_m,
        stop_limit_m=stop or fact("cutting.sled_stop").value,
        track_m=track or None,
        smallest_width_m=reader.length(
            saw_row, "smallest_piece", saw_line, default=plain.smallest_width_m
        ),
        order=cast(Order, reader.word(saw_row, "order", saw_line, _ORDERS, "sheets")),
        carry_m=(carry[0], carry[1]) if all(carry) else None,
    )
    for (line, _), panel in zip(panel_rows, panels, strict=True):
        thin = min(panel.length_m, panel.width_m)
        if thin < saw.kerf_m / 2:
            reader.refuse(
                line,
                refusal(
                    "cutting.list.thin",
                    "length" if thin == panel.length_m else "width",
                    side=Amount(thin, "length"),
                    kerf=Amount(saw.kerf_m, "length"),
                ),
            )
    panels, sheets = _alike(panels, sheets)
    lines = {**{s.key: n for s, (n, _) in zip(sheets, sheet_rows, strict=False)}, **lines}
    return CutList(
        tuple(panels), tuple(sheets), saw, tuple(reader.assumed), lines, priced, reader.currency
    )


def _without_band(panel: Panel, band_m: float, line: int, reader: _Reader) -> Panel:
    """A panel of the size to cut, where the one that is listed has its banding on."""
    if not band_m:
        return panel
    if not panel.banded:
        allowed = _names(_EDGES)
        reader.refuse(line, refusal("cutting.list.no_edges", "edges", allowed=allowed))
        return panel
    length, width = replace(panel, band_m=band_m).finished_m
    cut = replace(
        panel,
        length_m=2 * panel.length_m - length,
        width_m=2 * panel.width_m - width,
        band_m=band_m,
    )
    if min(cut.length_m, cut.width_m) <= 0:
        thickness = Amount(band_m, "length", "cut")
        reader.refuse(line, refusal("cutting.list.thick_band", "band_thickness", given=thickness))
        return panel
    return cut


def _by_area(sheets: list[SheetKind], unpriced: list[int]) -> list[SheetKind]:
    """Sheets without a price get one by their area, as those that have one cost on average."""
    known = [s for at, s in enumerate(sheets) if at not in unpriced and not s.offcut]
    area = sum(s.length_m * s.width_m for s in known)
    each = sum(s.price for s in known) / area if area else 1.0
    return [
        replace(s, price=round(s.length_m * s.width_m * each, 2)) if at in unpriced else s
        for at, s in enumerate(sheets)
    ]


def _alike(panels: list[Panel], sheets: list[SheetKind]) -> tuple[list[Panel], list[SheetKind]]:
    """Materials that differ in capitals alone are one; as it is written first."""
    first: dict[str, str] = {}
    for name in (*(s.material for s in sheets), *(p.material for p in panels)):
        first.setdefault(name.casefold(), name)
    return (
        [replace(p, material=first[p.material.casefold()]) for p in panels],
        [replace(s, material=first[s.material.casefold()]) for s in sheets],
    )
