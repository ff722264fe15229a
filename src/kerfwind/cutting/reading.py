"""Reading a list of panels from CSV or TOML, for `kerfwind cut FILE`.

CSV: a first row of column names, then a panel a row. Columns `name`, `length`, `width`
and, where wanted, `quantity`, `material`, `thickness`, `grain`, `edges`, `kind`, `price`.
A row whose `kind` is `sheet` or `offcut` is a sheet. A unit may stand in the column's
name, `length (mm)`, or in each cell. Commas, semicolons or tabs; quotes and a byte order
mark are understood. The panel list of a plan is read too, with columns added or not.

TOML: tables `[[panels]]` and `[[sheets]]` with the same keys, and `[saw]` with `kerf`,
`trim`, `kind`, `largest_rip`, `smallest_piece`, `carry_length` and `carry_width`.
"""

from __future__ import annotations

import csv
import difflib
import io
import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path
from typing import Any, Literal, cast

from .. import limits
from ..faults import Fault, Faults, shortened
from ..plaintext import decoded, delimiter_of, raw_text
from ..quantity import QuantityError, parse, show
from ..sources import fact
from ..tomlfile import load_toml
from .model import Edge, Grain, Panel, Saw, SheetKind

_FIELDS = (
    "name",
    "length",
    "width",
    "quantity",
    "material",
    "thickness",
    "grain",
    "edges",
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
)
_GRAINS = ("along", "across", "free")
_EDGES = ("near", "far", "left", "right")
_SAWS = ("table", "track", "circular")
#: Beyond these a size is a slip of the unit [m].
_LARGEST_M = {
    "thickness": 0.1,
    "kerf": 0.008,
    "trim": 0.1,
    "smallest_piece": 1.0,
    "largest_rip": 20.0,
}
#: Other words for a column without which too little would be cut.
_MEANT = dict.fromkeys(
    ("qty", "qty.", "count", "pcs", "pcs.", "pieces", "amount", "number", "quantity needed"),
    "quantity",
)
_KINDS = ("panel", "sheet", "offcut")
_FEWER = "Keep the columns of panels: " + ", ".join(f"`{f}`" for f in _FIELDS) + "."
_BARE = re.compile(r"[\d.,\s/+-]+")


@dataclass(frozen=True)
class CutList:
    """Panels, sheets and saw of a list, and what was taken for granted."""

    panels: tuple[Panel, ...]
    sheets: tuple[SheetKind, ...]
    saw: Saw
    assumed: tuple[str, ...] = ()


@dataclass
class _Reader:
    """Collects faults while rows are read."""

    file: str
    faults: list[Fault] = field(default_factory=list)
    assumed: list[str] = field(default_factory=list)

    def fault(self, line: int, name: str, found: object, allowed: str, mend: str) -> None:
        shown = shortened(str(found), 120)
        self.faults.append(Fault(self.file, line, name, f"`{shown}`", allowed, mend))

    def unknown(self, line: int, name: str, found: object, known: Iterable[str]) -> None:
        """A key or column that is none, with the nearest that is one."""
        if name.lower() in _MEANT:
            near = [_MEANT[name.lower()]]
        elif len(self.faults) < limits.FAULTS:
            near = difflib.get_close_matches(name.lower()[:80], list(known), 1, 0.6)
        else:
            near = []  # It will be counted, not told.
        mend = f"Did you mean `{near[0]}`?" if near else "Rename it or take it out."
        self.fault(line, name, found, ", ".join(f"`{k}`" for k in known), mend)

    def name(self, row: Mapping[str, Any], line: int) -> str:
        """A name that can be printed on one line; empty where there is none."""
        value = row.get("name")
        if value is not None and not isinstance(value, (str, int, float)):
            self.fault(line, "name", value, "a text in quotes", "Put quotes around it.")
            return ""
        text = re.sub(r"\s+", " ", str("" if value is None else value)).strip()
        strange = next((c for c in text if unicodedata.category(c) == "Cc"), None)
        if strange is not None:
            self.fault(
                line,
                "name",
                text,
                "what can be printed",
                f"Take out the control character U+{ord(strange):04X}.",
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
            self.fault(line, name, "", "a length such as `600 mm` or `2-1/4 in`", "Fill it in.")
            return float("nan")
        if unit and _BARE.fullmatch(text):
            text = f"{text} {unit}"
        try:
            quantity = parse(text, "length")
        except QuantityError as error:
            self.fault(line, name, error.found, error.allowed, error.mend)
            return float("nan")
        if quantity.shape == "flat" and name in ("length", "width"):
            self.fault(
                line,
                name,
                text,
                "one size, as it is to be cut or was measured",
                "Write the one size.",
            )
            return float("nan")
        most = _LARGEST_M.get(name, 100.0)
        if quantity.high_si > most:
            self.fault(line, name, text, f"up to {show(most, 'length', 'mm')}", "Check the unit.")
            return float("nan")
        if quantity.best_si <= 0 and name not in ("kerf", "trim"):
            self.fault(line, name, text, "a length over zero", "Correct it, or take the row out.")
            return float("nan")
        return quantity.best_si

    def word(
        self, row: Mapping[str, Any], name: str, line: int, allowed: tuple[str, ...], default: str
    ) -> str:
        text = str(row.get(name) or "").strip().lower()
        if not text:
            return default
        if text not in allowed:
            choices = ", ".join(f"`{a}`" for a in allowed)
            self.fault(line, name, text, choices, "Write one of these, or leave it empty.")
            return default
        return text

    def number(
        self, row: Mapping[str, Any], name: str, line: int, default: int | None
    ) -> int | None:
        value = row.get(name)
        text = "" if value is None else str(value).strip()
        if not text:
            return default
        if isinstance(value, bool) or not re.fullmatch(r"\d{1,9}", text) or int(text) < 1:
            self.fault(line, name, text, "a whole number from 1", "Count the pieces wanted.")
            return default
        return int(text)

    def price(self, row: Mapping[str, Any], line: int, default: float) -> float:
        value = row.get("price")
        text = "" if value is None else str(value).strip()
        if not text:
            return default
        if not re.fullmatch(r"\d{1,9}([.,]\d{1,4})?", text):
            self.fault(
                line, "price", text, "a number from 0, without a sign for money", "Correct it."
            )
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
            if text not in _EDGES:
                choices = ", ".join(f"`{e}`" for e in _EDGES)
                self.fault(line, "edges", text, choices, "Name the edges that get banding.")
            elif text not in found:
                found.append(cast(Edge, text))
        return tuple(found)


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
        raw = raw_text(path, limits.PANELS_BYTES, path.name, "Split the list.")
    except OSError as error:
        raise Faults(
            (
                Fault(
                    path.name,
                    0,
                    "",
                    error.strerror or "no file",
                    "a CSV or TOML file",
                    "Check the name and that it may be read.",
                ),
            )
        ) from error
    text = decoded(raw, "cp1252")
    if text is None:
        reader.fault(0, "", "bytes that are not text", "UTF-8 text", "Save it as CSV in UTF-8.")
        raise Faults(tuple(reader.faults))
    toml = path.suffix.lower() == ".toml"
    made = _toml(text, reader) if toml else _csv(text, reader)
    if reader.faults:
        raise Faults(tuple(reader.faults))
    return made


def _header(cell: str) -> tuple[str, str]:
    """A column's field and its unit: `Length (mm)` gives `length`, `mm`."""
    text = cell.strip().lower()
    match = re.fullmatch(r"([a-z ]+?)\s*[\[(_ ]\s*(mm|cm|m|in|ft)\s*[\])]?", text)
    if match and match[1].strip() in _FIELDS:
        return match[1].strip(), match[2]
    return text, ""


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
            reader.fault(
                line,
                name,
                f"{row[name]} mm, and {said}",
                "one size, twice",
                "Correct the one that is wrong, or leave the one in words empty.",
            )


def _csv(text: str, reader: _Reader) -> CutList:
    delimiter = delimiter_of(text)
    try:
        rows = list(
            _numbered(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True))
        )
    except csv.Error as error:
        reader.fault(0, "", error, "CSV with matching quotes", 'Write `"` inside quotes as `""`.')
        return CutList((), (), Saw())
    if not rows:
        reader.fault(1, "", "", "a row of column names", "Start with `name,length,width,quantity`.")
        return CutList((), (), Saw())
    line, names = rows[0]
    if len(names) > limits.COLUMNS:
        reader.fault(line, "", f"{len(names):,} columns", f"up to {limits.COLUMNS}", _FEWER)
        return CutList((), (), Saw())
    columns = [_header(cell) for cell in names]
    if set(PLAN_COLUMNS) <= {cell.strip().lower() for cell in names}:
        columns = [_of_plan(cell, column) for cell, column in zip(names, columns, strict=True)]
    for needed in ("name", "length", "width"):
        if needed not in [c[0] for c in columns]:
            allowed = ", ".join(f"`{f}`" for f in _FIELDS)
            reader.fault(
                line,
                needed,
                ", ".join(n.strip() for n in names),
                f"columns {allowed}",
                f"Add a column `{needed}` to the first row.",
            )
    if reader.faults:
        return CutList((), (), Saw())
    doubled = [f for f in _FIELDS if [c[0] for c in columns].count(f) > 1]
    for each in doubled:
        reader.fault(line, each, "two columns", "one column of each name", "Rename one.")
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
        listed = shortened(", ".join(unknown), 300)
        reader.assumed.append(f"columns not used: {listed}")
    units = {name: unit for name, unit in columns if unit}
    panels: list[tuple[int, Mapping[str, Any]]] = []
    sheets: list[tuple[int, Mapping[str, Any]]] = []
    for line, cells in rows[1:]:
        if len(cells) > len(columns) and any(c.strip() for c in cells[len(columns) :]):
            reader.fault(
                line,
                "",
                f"{len(cells)} cells",
                f"{len(columns)} as in the first row",
                f"Put cells that hold `{delimiter}` in quotes.",
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
            reader.fault(_line(lines, key), key, found, f"tables `[[{key}]]`", "Write it so.")
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
        reader.fault(line, "saw", saw, "a table `[saw]`", "Write it so.")
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
            found = f"{len(rows):,} rows of {what}"
            reader.fault(rows[most][0], "", found, f"up to {most:,}", "Split the list.")
            return CutList((), (), Saw())
    panels: list[Panel] = []
    written = [reader.name(row, line) for line, row in panel_rows]
    taken = set(written)
    seen: set[str] = set()
    numbers: dict[str, Iterator[int]] = {}
    unnamed = {f.line for f in reader.faults if f.field == "name"}
    for (line, row), name in zip(panel_rows, written, strict=True):
        if not name and line not in unnamed:
            reader.fault(line, "name", "", "a name", "Name the panel, such as `left side`.")
        if name in seen:
            number = numbers.setdefault(name, count(2))
            again = next(n for i in number if (n := f"{name} ({i})") not in taken)
            reader.assumed.append(f"line {line}: a second {name!r} is called {again}")
            name = again
            taken.add(name)
        seen.add(name)
        panels.append(
            Panel(
                name,
                reader.length(row, "length", line, units.get("length", "")),
                reader.length(row, "width", line, units.get("width", "")),
                reader.number(row, "quantity", line, 1) or 1,
                str(row.get("material") or "").strip() or "plywood",
                reader.length(row, "thickness", line, units.get("thickness", ""), thickness),
                cast(Grain, reader.word(row, "grain", line, _GRAINS, "free")),
                reader.edges(row, line),
            )
        )
    if not panel_rows:
        reader.fault(0, "", "no panel", "one panel or more", "Add a row for each panel.")
    sheets: list[SheetKind] = []
    for line, row in sheet_rows:
        offcut = reader.word(row, "kind", line, ("sheet", "offcut"), "sheet") == "offcut"
        name = reader.name(row, line) or f"sheet of line {line}"
        quantity = reader.number(row, "quantity", line, 1 if offcut else None)
        grain = reader.word(row, "grain", line, ("along", "free"), "along")
        sheets.append(
            SheetKind(
                name if name not in [s.key for s in sheets] else f"{name} (line {line})",
                reader.length(row, "length", line, units.get("length", "")),
                reader.length(row, "width", line, units.get("width", "")),
                str(row.get("material") or "").strip() or "plywood",
                reader.length(row, "thickness", line, units.get("thickness", ""), thickness),
                reader.price(row, line, 0.0 if offcut else 1.0),
                quantity,
                "none" if grain == "free" else "length",
                offcut,
                not offcut,
            )
        )
    if not sheets and not reader.faults:
        length, width = fact("cutting.sheet_length").value, fact("cutting.sheet_width").value
        for key in dict.fromkeys((p.material, round(p.thickness_m, 5)) for p in panels):
            sheets.append(SheetKind(f"full sheet of {key[0]}", length, width, *key))
        reader.assumed.append(
            f"sheets of {length * 1000:.0f} x {width * 1000:.0f} mm (8 ft by 4 ft), as many as wanted: "
            "the list names none"
        )
    kind = reader.word(saw_row, "kind", saw_line, _SAWS, "table")
    plain = Saw()
    if not saw_row:
        reader.assumed.append("a table saw with a kerf of 3.2 mm: the list names no saw")
    carry = [
        reader.length(saw_row, name, saw_line, default=0.0)
        for name in ("carry_length", "carry_width")
    ]
    rip = reader.length(saw_row, "largest_rip", saw_line, default=0.0)
    saw = Saw(
        kerf_m=reader.length(saw_row, "kerf", saw_line, default=fact("cutting.kerf").value),
        trim_m=reader.length(saw_row, "trim", saw_line, default=0.0),
        kind=cast(Literal["table", "track", "circular"], kind),
        fence_limit_m=rip or (plain.fence_limit_m if kind == "table" else None),
        smallest_width_m=reader.length(
            saw_row, "smallest_piece", saw_line, default=plain.smallest_width_m
        ),
        carry_m=(carry[0], carry[1]) if all(carry) else None,
    )
    for (line, _), panel in zip(panel_rows, panels, strict=True):
        thin = min(panel.length_m, panel.width_m)
        if thin < saw.kerf_m / 2:
            reader.fault(
                line,
                "length" if thin == panel.length_m else "width",
                show(thin, "length", "mm"),
                f"at least half the saw's kerf of {show(saw.kerf_m, 'length', 'mm', decimals=1)}",
                "Check the unit: so thin a strip does not outlast the cut.",
            )
    return CutList(tuple(panels), tuple(sheets), saw, tuple(reader.assumed))
