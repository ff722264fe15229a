"""A table of vacuums and buckets, as CSV or TOML, for one cart that carries the most of them."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from .. import limits
from ..facts import Amount, Listing, Name
from ..faults import Faults, Refusal, refusal, unread
from ..plaintext import decoded, delimiter_of, hidden, is_control
from ..quantity import Quantity, QuantityError, parse
from ..rawfile import TooLargeError, read_at_most
from ..tomlfile import load_toml
from .fit_range import BucketSize, VacuumSize

VACUUM = ("length", "width", "height", "weight")
BUCKET = ("top_diameter", "rim_diameter", "height", "rim_drop")
BOX = ("top_width", "top_length", "rim_width", "rim_length", "height", "rim_drop")
COLUMNS = ("kind", "name", *VACUUM, "top_diameter", "rim_diameter", "rim_drop", *BOX[:4])

#: Beyond these a size is a slip of the unit [m, kg].
_SMALLEST = {"length": 0.05, "mass": 0.5}
_LARGEST = {"length": 3.0, "mass": 200.0}

_Row = tuple[int, str, Mapping[str, Any]]


@dataclass
class _Reader:
    file: str
    faults: list[Refusal] = field(default_factory=list)

    def refuse(self, line: int, fault: Refusal) -> None:
        self.faults.append(replace(fault, file=self.file, line=line))

    def size(self, line: int, row: Mapping[str, Any], column: str) -> Quantity | None:
        kind = "mass" if column == "weight" else "length"
        text = str(row.get(column, "") or "").strip()
        if not text:
            self.refuse(line, refusal("checks.sizes.no_size", column, of=kind))
            return None
        try:
            found = parse(text, kind)
        except QuantityError as error:
            self.refuse(line, unread(error, column))
            return None
        least = 0.0 if column == "rim_drop" else _SMALLEST[kind]
        if not least <= found.low_si or found.high_si > _LARGEST[kind]:
            self.refuse(
                line,
                refusal(
                    "checks.sizes.slip",
                    column,
                    given=Name(text),
                    least=Amount(least, kind, "short"),
                    most=Amount(_LARGEST[kind], kind, "short"),
                ),
            )
            return None
        return found


def read_sizes(path: Path) -> tuple[list[VacuumSize], list[BucketSize]]:
    """Read a table of vacuums and buckets.

    A CSV has a row each and the columns ``kind`` (``vacuum`` or ``bucket``), ``name`` and
    the sizes of either kind; a TOML has ``[[vacuums]]`` and ``[[buckets]]``. A bucket with
    widths and lengths instead of diameters is a box. Of a size with a range the end that is
    harder to carry counts.

    Raises
    ------
    Faults
        With every fault found, each naming file, row, column, what stands there, what may,
        and how to mend it.
    """
    reader = _Reader(path.name)
    text = _text(path, reader)
    rows = (_toml if path.suffix.lower() == ".toml" else _csv)(text, reader)
    if not rows and not reader.faults:
        reader.refuse(0, refusal("checks.sizes.no_row"))
    if len(rows) > limits.SIZES:
        reader.refuse(0, refusal("checks.sizes.many_rows", rows=len(rows), most=limits.SIZES))
        raise Faults(reader.faults)
    vacuums: list[VacuumSize] = []
    buckets: list[BucketSize] = []
    seen: set[tuple[str, str]] = set()
    for line, kind, row in rows:
        name = re.sub(r"\s+", " ", str(row.get("name", "") or "")).strip()
        for at in hidden(name)[:1]:
            reader.refuse(
                line,
                refusal(
                    "checks.sizes.not_printed",
                    "name",
                    given=Name(name),
                    char="control" if is_control(name[at]) else "invisible",
                    code=Name(f"U+{ord(name[at]):04X}"),
                ),
            )
        if not name:
            reader.refuse(line, refusal("checks.sizes.no_name", "name", row=kind))
        elif (kind, name) in seen:
            reader.refuse(line, refusal("checks.sizes.named_twice", "name", name=Name(name)))
        seen.add((kind, name))
        if kind == "bucket":
            bucket = _bucket(reader, line, name, row)
            buckets += [bucket] if bucket is not None else []
            continue
        sizes = [reader.size(line, row, c) for c in VACUUM]
        if all(q is not None for q in sizes):
            a, b, c, d = (q for q in sizes if q is not None)
            vacuums.append(VacuumSize(name, a.high_si, b.high_si, c.high_si, d.best_si))
    if reader.faults:
        raise Faults(reader.faults)
    return vacuums, buckets


def _bucket(reader: _Reader, line: int, name: str, row: Mapping[str, Any]) -> BucketSize | None:
    """A bucket, or a box where it has widths or lengths; None with faults."""
    given = [c for c in COLUMNS if str(row.get(c, "") or "").strip()]
    box = [c for c in given if c in BOX[:4]]
    both = [c for c in given if c in BUCKET[:2]]
    if box and both:
        reader.refuse(
            line,
            refusal("checks.sizes.two_shapes", both[0], across=Name(both[0]), side=Name(box[0])),
        )
        return None
    columns = BOX if box else BUCKET
    sizes = {c: reader.size(line, row, c) for c in columns}
    known = {c: q for c, q in sizes.items() if q is not None}
    if len(known) < len(columns):
        return None
    before = len(reader.faults)
    pairs = [(c, c.replace("top", "rim")) for c in columns if c.startswith("top")]
    for body, over in pairs:
        if known[over].low_si < known[body].high_si:
            rim_text, body_text = Name(known[over].text), Name(known[body].text)
            reader.refuse(
                line, refusal("checks.sizes.narrow_rim", over, rim=rim_text, body=body_text)
            )
    high, drop = known["height"], known["rim_drop"]
    if drop.high_si >= high.low_si:
        deep, tall = Name(drop.text), Name(high.text)
        reader.refuse(line, refusal("checks.sizes.deep_rim", "rim_drop", drop=deep, height=tall))
    if len(reader.faults) > before:
        return None
    (wide, rim), *more = ((known[a].high_si, known[b].low_si) for a, b in pairs)
    long, rim_long = more[0] if more else (0.0, 0.0)
    return BucketSize(name, wide, rim, high.high_si - drop.low_si, long, rim_long)


def _text(path: Path, reader: _Reader) -> str:
    try:
        raw = read_at_most(path, limits.SIZES_BYTES)
    except TooLargeError as error:
        most = limits.SIZES_BYTES
        reader.refuse(0, refusal("checks.sizes.too_long", given=error.size, most=most))
        raise Faults(reader.faults) from None
    except OSError as error:
        why = Name(error.strerror or str(error))
        reader.refuse(0, refusal("checks.sizes.no_file", why=why))
        raise Faults(reader.faults) from None
    text = decoded(raw)
    if text is None:
        reader.refuse(0, refusal("checks.sizes.not_text"))
        raise Faults(reader.faults)
    return text


def _unknown(reader: _Reader, line: int, names: Iterable[str]) -> None:
    for name in names:
        if name not in COLUMNS:
            reader.refuse(
                line, refusal("checks.sizes.column", name, given=Name(name), allowed=_columns())
            )


def _columns() -> Listing:
    return Listing(tuple(Name(f"`{column}`") for column in COLUMNS), "commas")


def _csv(text: str, reader: _Reader) -> list[_Row]:
    delimiter = delimiter_of(text)
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    columns: list[str] = []
    found: list[_Row] = []
    try:
        for cells in rows:
            line = rows.line_num
            if not any(c.strip() for c in cells):
                continue
            if not columns:
                columns = [c.strip().lower().replace(" ", "_") for c in cells]
                _unknown(reader, line, columns)
                for needed in ("kind", "name"):
                    if needed not in columns:
                        reader.refuse(
                            line,
                            refusal(
                                "checks.sizes.no_column",
                                needed,
                                needed=Name(needed),
                                allowed=_columns(),
                            ),
                        )
                if reader.faults:
                    return []
                continue
            if len(cells) > len(columns) and any(c.strip() for c in cells[len(columns) :]):
                reader.refuse(
                    line,
                    refusal(
                        "checks.sizes.cells",
                        given=len(cells),
                        wanted=len(columns),
                        delimiter=Name(delimiter),
                    ),
                )
                continue
            row = dict(zip(columns, cells, strict=False))
            kind = row.get("kind", "").strip().lower()
            if kind not in ("vacuum", "bucket"):
                reader.refuse(
                    line,
                    refusal("checks.sizes.kind", "kind", given=Name(kind))
                    if kind
                    else refusal("checks.sizes.no_kind", "kind"),
                )
                continue
            found.append((line, kind, row))
    except csv.Error as error:
        reader.refuse(rows.line_num, refusal("checks.sizes.not_csv", why=Name(str(error))))
    return found


def _toml(text: str, reader: _Reader) -> list[_Row]:
    data = load_toml(text, reader.file)
    lines = text.splitlines()
    found: list[_Row] = []
    for key, rows in data.items():
        if key not in ("vacuums", "buckets"):
            reader.refuse(0, refusal("checks.sizes.section", key, given=Name(key)))
            continue
        if not isinstance(rows, list) or not all(isinstance(r, dict) for r in rows):
            given, table = Name(str(rows)), Name(key)
            reader.refuse(0, refusal("checks.sizes.no_tables", key, given=given, table=table))
            continue
        heads = [n for n, each in enumerate(lines, 1) if re.match(rf"\s*\[\[\s*{key}\s*\]\]", each)]
        for at, row in enumerate(rows):
            line = heads[at] if at < len(heads) else 0
            _unknown(reader, line, row)
            found.append((line, key[:-1], row))
    return found
