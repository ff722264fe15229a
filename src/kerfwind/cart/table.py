"""A table of vacuums and buckets, as CSV or TOML, for one cart that carries the most of them."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from .. import limits
from ..faults import Fault, Faults, shortened
from ..plaintext import decoded, delimiter_of, raw_text
from ..quantity import Quantity, QuantityError, parse
from ..tomlfile import load_toml
from .others import BucketSize, VacuumSize

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
    faults: list[Fault] = field(default_factory=list)

    def fault(self, line: int, column: str, found: object, allowed: str, mend: str) -> None:
        self.faults.append(
            Fault(self.file, line, column, shortened(str(found), 120), allowed, mend)
        )

    def size(self, line: int, row: Mapping[str, Any], column: str) -> Quantity | None:
        kind = "mass" if column == "weight" else "length"
        example = "8.5 kg" if kind == "mass" else "18-1/2 in"
        allowed = f"a {kind} with its unit, such as `{example}`"
        text = str(row.get(column, "") or "").strip()
        if not text:
            self.fault(line, column, "nothing", allowed, "Measure it and fill it in.")
            return None
        try:
            found = parse(text, kind)
        except QuantityError as error:
            self.fault(line, column, error.found, error.allowed, error.mend)
            return None
        least = 0.0 if column == "rim_drop" else _SMALLEST[kind]
        if not least <= found.low_si or found.high_si > _LARGEST[kind]:
            span = "0.5 to 200 kg" if kind == "mass" else "50 mm to 3 m"
            if column == "rim_drop":
                span = "0 to 3 m"
            self.fault(line, column, f"`{text}`", span, "Check the unit.")
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
        reader.fault(0, "", "no row", "a row for each vacuum and bucket", "Add one.")
    if len(rows) > limits.SIZES:
        reader.fault(0, "", f"{len(rows):,} rows", f"up to {limits.SIZES}", "Split the table.")
        raise Faults(reader.faults)
    vacuums: list[VacuumSize] = []
    buckets: list[BucketSize] = []
    seen: set[tuple[str, str]] = set()
    for line, kind, row in rows:
        name = re.sub(r"\s+", " ", str(row.get("name", "") or "")).strip()
        if not name:
            reader.fault(line, "name", "nothing", "a name", f"Name the {kind}.")
        elif (kind, name) in seen:
            reader.fault(line, "name", f"a second `{name}`", "a name of its own", "Rename one.")
        seen.add((kind, name))
        if kind == "bucket":
            bucket = _bucket(reader, line, name, row)
            buckets += [bucket] if bucket is not None else []
            continue
        found = [reader.size(line, row, c) for c in VACUUM]
        if all(q is not None for q in found):
            a, b, c, d = (q for q in found if q is not None)
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
        reader.fault(
            line,
            both[0],
            f"`{both[0]}` and `{box[0]}`",
            "diameters of a round one, or widths and lengths of a box",
            "Take out those of the other kind.",
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
            reader.fault(
                line,
                over,
                f"`{known[over].text}` on a body of `{known[body].text}`",
                "a rim as wide as the body under it, or wider",
                "Measure both again.",
            )
    high, drop = known["height"], known["rim_drop"]
    if drop.high_si >= high.low_si:
        reader.fault(
            line,
            "rim_drop",
            f"`{drop.text}` on a height of `{high.text}`",
            "from the rim's top to the underside of its lowest rib",
            "Measure it again.",
        )
    if len(reader.faults) > before:
        return None
    (wide, rim), *more = ((known[a].high_si, known[b].low_si) for a, b in pairs)
    long, rim_long = more[0] if more else (0.0, 0.0)
    return BucketSize(name, wide, rim, high.high_si - drop.low_si, long, rim_long)


def _text(path: Path, reader: _Reader) -> str:
    try:
        raw = raw_text(path, limits.SIZES_BYTES, reader.file, "Split the table.")
    except OSError as error:
        reader.fault(
            0,
            "",
            error.strerror or "no file",
            "a CSV or TOML file",
            "Check the name and that it may be read.",
        )
        raise Faults(reader.faults) from None
    text = decoded(raw)
    if text is None:
        reader.fault(0, "", "bytes that are not text", "UTF-8 text", "Save it as CSV in UTF-8.")
        raise Faults(reader.faults)
    return text


def _unknown(reader: _Reader, line: int, names: Iterable[str]) -> None:
    for name in names:
        if name not in COLUMNS:
            reader.fault(
                line,
                name,
                f"`{name}`",
                ", ".join(f"`{c}`" for c in COLUMNS),
                "Rename it or take it out.",
            )


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
                        reader.fault(
                            line,
                            needed,
                            "no such column",
                            ", ".join(f"`{c}`" for c in COLUMNS),
                            f"Add a column `{needed}` to the first row.",
                        )
                if reader.faults:
                    return []
                continue
            if len(cells) > len(columns) and any(c.strip() for c in cells[len(columns) :]):
                reader.fault(
                    line,
                    "",
                    f"{len(cells)} cells",
                    f"{len(columns)} as in the first row",
                    f"Put cells that hold `{delimiter}` in quotes.",
                )
                continue
            row = dict(zip(columns, cells, strict=False))
            kind = row.get("kind", "").strip().lower()
            if kind not in ("vacuum", "bucket"):
                reader.fault(
                    line,
                    "kind",
                    f"`{kind}`" if kind else "nothing",
                    "`vacuum`, `bucket`",
                    "Say which of the two it is.",
                )
                continue
            found.append((line, kind, row))
    except csv.Error as error:
        reader.fault(
            rows.line_num, "", error, "CSV with matching quotes", 'Write `"` inside quotes as `""`.'
        )
    return found


def _toml(text: str, reader: _Reader) -> list[_Row]:
    data = load_toml(text, reader.file)
    lines = text.splitlines()
    found: list[_Row] = []
    for key, rows in data.items():
        if key not in ("vacuums", "buckets"):
            reader.fault(0, key, f"`{key}`", "`vacuums`, `buckets`", "Rename it or take it out.")
            continue
        if not isinstance(rows, list) or not all(isinstance(r, dict) for r in rows):
            reader.fault(0, key, f"`{rows}`", f"tables `[[{key}]]`", "Write it so.")
            continue
        heads = [n for n, each in enumerate(lines, 1) if re.match(rf"\s*\[\[\s*{key}\s*\]\]", each)]
        for at, row in enumerate(rows):
            line = heads[at] if at < len(heads) else 0
            _unknown(reader, line, row)
            found.append((line, key[:-1], row))
    return found
