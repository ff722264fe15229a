"""Reading the shop file: text in, a whole `Shop` out, or everything wrong with it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path as FilePath
from typing import Any, get_args

from pydantic import BaseModel, ValidationError

from .. import limits
from ..facts import Amount, Fact, Listing, Name, Statement, Term, state
from ..faults import Faults, Refusal, refusal, shortened, unread
from ..quantity import Quantity, QuantityError, Standing, UnitChoice
from ..textfile import read_text
from ..tomlfile import Tables
from .air_faults import air_faults
from .bucket_faults import bucket_faults
from .catalogue.generic import nominal_names
from .catalogue.trade_words import choices_meant, keys_meant
from .filler import Assumption, Filled, Path
from .filling import fill, metric_file
from .given_faults import meant_by, reference_faults, text_faults
from .keeping import with_kept_parts
from .kinds import AssumedText, PlaceError
from .model import End, Shop
from .positions import KeyLines, path_text, value_at
from .schema import model_in
from .spelling import as_written_here
from .tool_faults import tool_faults


@dataclass(frozen=True)
class ShopFile:
    """A shop with where it came from and what was assumed."""

    shop: Shop
    assumptions: tuple[Assumption, ...]
    path: str
    text: str


def read_shop(path: str | FilePath) -> ShopFile:
    """Read and complete a shop file.

    Raises
    ------
    Faults
        The file cannot be read, is not TOML, or holds something it may not; every
        fault found is in it.

    Examples
    --------
    Quantities keep SI in ``best_si``, here a bore [m]:

    >>> import kerfwind as kw
    >>> shop_file = kw.read_shop("examples/garage.toml")
    >>> len(shop_file.shop.tools), round(shop_file.shop.hoses[0].bore.best_si, 3)
    (9, 0.057)
    """
    return parse_shop(read_text(path).plain, str(path))


def parse_shop(text: str, name: str = "shop") -> ShopFile:
    """The shop in a TOML text; `read_shop` says what is raised."""
    return ShopReader().read(text, name)


@dataclass(frozen=True)
class _Section:
    """A table, or a row of a list, with what was put into it, and what was made of it.

    A row that has a name is known by it, wherever in the list it stands.
    """

    called: Path
    written: str
    filled: dict[Path, Filled]
    part: Any


class ShopReader:
    """Reads one shop file again after each edit: what the edit leaves as it was is not checked
    again, and its parts stand in the result as the same objects.

    Attributes
    ----------
    tables
        What the text read last says, without what was filled in; nothing where it is no TOML.
        It is not to be changed.
    """

    def __init__(self) -> None:
        self.tables: dict[str, Any] = {}
        self._toml = Tables()
        self._sections: dict[Path, _Section] = {}
        self._assumed: dict[Path, Assumption] = {}
        self._before: Shop | None = None

    def read(self, text: str, name: str = "shop") -> ShopFile:
        """The shop in a TOML text; `read_shop` says what is raised."""
        self.tables = {}
        self.tables = self._toml.load(text, name)
        data = _copied(self.tables)
        lines = KeyLines(text)
        many = list(_long_lists(data, name, lines))
        if many:
            raise Faults(many, units=_units(data))
        as_written_here(data)
        given = _copied(data)
        filled = fill(data)
        faults: list[Refusal] = []
        more = 0
        shop: Shop | None = None
        sections = _sections(data, filled)
        known = {at: k for at, each in sections.items() if (k := self._same(each)) is not None}
        try:
            shop = Shop.model_validate(_with_parts(data, known))
        except ValidationError as error:
            wrong = [e for e in error.errors() if not _shadowed(tuple(e["loc"]), given)]
            wrong.sort(key=lambda e: lines.of(tuple(e["loc"])))
            # One cause may be found twice; what is made of the rest would never be told.
            more = max(0, len(wrong) - 4 * limits.FAULTS)
            faults += [
                _fault(given, name, lines, tuple(e["loc"]), dict(e))
                for e in wrong[: 4 * limits.FAULTS]
            ]
        faults += _new_text_faults(given, name, lines, known)
        faults += reference_faults(given, name, lines)
        if shop is not None:
            faults += _sense_faults(shop, name, lines)
        if faults or shop is None:
            raise Faults(sorted(_unique(faults), key=lambda f: f.line), more, units=_units(given))
        done = {id(part) for part in known.values()}
        placed = _place(shop, (), data, filled, done)
        if self._before is not None:
            placed = with_kept_parts(placed, self._before)
        self._before = placed
        self._assumed = assumed = self._assumptions(data, filled, placed, sections, known)
        self._sections = {
            each.called: replace(each, part=_value_in(placed, at)) for at, each in sections.items()
        }
        return ShopFile(placed, tuple(assumed.values()), name, text)

    def _assumptions(
        self,
        data: dict[str, Any],
        filled: dict[Path, Filled],
        shop: Shop,
        sections: dict[Path, _Section],
        known: dict[Path, Any],
    ) -> dict[Path, Assumption]:
        """What was assumed, by section and place; in known sections the same objects again."""
        found: dict[Path, Assumption] = {}
        for path, put in filled.items():
            if put.why is None:
                continue
            at = _section_of(path)
            key = (*sections[at].called, *path[len(at) :])
            before = self._assumed.get(key) if at in known else None
            found[key] = before or Assumption(
                path_text(path, data), _value(shop, path), put.why, put.source
            )
        return found

    def _same(self, section: _Section) -> Any:
        """What was made of a section when it was read last; None where that is not the same."""
        before = self._sections.get(section.called)
        if before is None or before.written != section.written or before.filled != section.filled:
            return None
        return before.part


def _sections(data: dict[str, Any], filled: dict[Path, Filled]) -> dict[Path, _Section]:
    """Each table, and each row of a list, by its path."""
    puts: dict[Path, dict[Path, Filled]] = {}
    for path, put in filled.items():
        at = _section_of(path)
        puts.setdefault(at, {})[path[len(at) :]] = put
    found: dict[Path, _Section] = {}
    for key, value in data.items():
        for at, row in _rows(key, value):
            if isinstance(row, dict):
                name = row.get("name")
                called = (key, name) if len(at) > 1 and isinstance(name, str) else at
                found[at] = _Section(called, repr(row), puts.get(at, {}), None)
    return found


def _rows(key: str, value: Any) -> list[tuple[Path, Any]]:
    """A table, or the rows of a list, each with its path."""
    if isinstance(value, list):
        return [((key, n), row) for n, row in enumerate(value)]
    return [((key,), value)]


def _section_of(path: Path) -> Path:
    """The path of the table, or of the row of a list, that a path leads into."""
    return path[:2] if len(path) > 2 and isinstance(path[1], int) else path[:1]


def _new_text_faults(
    given: dict[str, Any], name: str, lines: KeyLines, known: dict[Path, Any]
) -> list[Refusal]:
    """What is wrong with texts, where they were not found right before."""
    found: list[Refusal] = []
    for key, value in given.items():
        for at, row in _rows(key, value):
            if at not in known:
                found += text_faults(row, name, lines, at)
    return found


def _with_parts(data: dict[str, Any], known: dict[Path, Any]) -> dict[str, Any]:
    """The data, with what is known in place of what it was made of."""
    found: dict[str, Any] = {}
    for key, value in data.items():
        if isinstance(value, list):
            found[key] = [known.get((key, n), row) for n, row in enumerate(value)]
        else:
            found[key] = known.get((key,), value)
    return found


def _copied(part: Any) -> Any:
    """Plain data anew, to be changed."""
    if isinstance(part, dict):
        return {key: _copied(value) for key, value in part.items()}
    return [_copied(each) for each in part] if isinstance(part, list) else part


def _long_lists(data: dict[str, Any], name: str, lines: KeyLines) -> Iterator[Refusal]:
    """Lists with more rows than can be planned with."""
    for place, most in limits.ROWS.items():
        path = tuple(place.split("."))
        rows = value_at(data, path)
        if isinstance(rows, list) and len(rows) > most:
            line = lines.of((*path, most))
            yield refusal("shop.long_list", place, file=name, line=line, rows=len(rows), most=most)


def _value_in(shop: Shop, path: Path) -> Any:
    """What stands at a path of a shop."""
    part: Any = shop
    for step in path:
        part = part[step] if isinstance(step, int) else getattr(part, step)
    return part


def _value(shop: Shop, path: Path) -> Fact:
    """What was put at a place."""
    part = _value_in(shop, path)
    if isinstance(part, Quantity):
        return part
    if path[0] == "sessions" and path[-1] == "material":
        return Term("wood", part)
    if isinstance(part, bool):
        return Term("choice", "yes" if part else "no")
    return Amount(part, "money") if isinstance(part, float) else Name(str(part))


def _units(given: Any) -> UnitChoice:
    """The units in which to speak of a file that cannot be read whole."""
    said = value_at(given, ("about", "units"))
    if said in ("in", "mm", "both"):
        return said  # type: ignore[no-any-return]
    return "mm" if metric_file(given) else "in"


def _unique(faults: list[Refusal]) -> list[Refusal]:
    return list(dict.fromkeys(faults))


def _shadowed(path: tuple[Any, ...], given: Any) -> bool:
    """Whether the fault only echoes a wrong value further up."""
    for cut in range(1, len(path)):
        here = value_at(given, path[:cut])
        if here is not None and not isinstance(here, (dict, list)):
            return True
    return False


def _fault(
    given: Any, name: str, lines: KeyLines, path: tuple[Any, ...], error: dict[str, Any]
) -> Refusal:
    value = value_at(given, path)
    cause = (error.get("ctx") or {}).get("error")
    if isinstance(cause, PlaceError):
        found = cause.refusal
    elif isinstance(cause, QuantityError):
        found = unread(cause)
    else:
        found = _refused(path, value, error)
    return replace(found, file=name, line=lines.of(path), place=path_text(path, given))


def _refused(path: tuple[Any, ...], value: Any, error: dict[str, Any]) -> Refusal:
    """What is wrong with a value, by the kinds of error that the models know."""
    kind = error["type"]
    if kind == "extra_forbidden":
        return _unknown_key(path)
    if kind == "missing":
        key = Name(str(path[-1]))
        return refusal("shop.no_tool") if path == ("tools",) else refusal("shop.missing", given=key)
    found = _found(value)
    if kind == "literal_error":
        allowed = _literals(path)
        choices = _names(allowed)
        text, field = str(value)[:80], str(next(p for p in reversed(path) if isinstance(p, str)))
        near = meant_by(text, allowed, choices_meant(field, text, allowed))
        if near:
            closest = _quoted(near)
            return refusal("shop.value.choice.near", found=found, choices=choices, near=closest)
        return refusal("shop.value.choice", found=found, choices=choices)
    bounds = error.get("ctx") or {}
    if "ge" in bounds:
        return refusal("shop.value.below", found=found, least=Name(str(bounds["ge"])))
    if "le" in bounds:
        return refusal("shop.value.above", found=found, most=Name(str(bounds["le"])))
    if "max_length" in bounds:
        return refusal("shop.value.long", found=found, most=int(bounds["max_length"]))
    if kind == "string_pattern_mismatch" and path == ("about", "language"):
        return refusal("shop.value.language", found=found)
    if kind == "tuple_type" and (options := _literals(path)):
        first = Name(options[0])
        return refusal("shop.value.choices", found=found, choices=_names(options), first=first)
    if kind == "tuple_type" and isinstance(value, dict):
        heading = Name(".".join(str(part) for part in path))
        return refusal("shop.value.one_bracket", found=found, heading=heading)
    if kind == "model_type" and isinstance(value, str) and _model_at(path) is End:
        return refusal("shop.value.end", found=found, names=_names(list(nominal_names())))
    if kind == "model_type" and (known := _fields_at(path)):
        return refusal("shop.value.no_table", found=found, keys=_names(known))
    if kind in _WANTED:
        return refusal("shop.value.other_type", found=found, wanted=_WANTED[kind])
    return refusal("shop.value.refused", found=found, why=Name(error["msg"]))


def _unknown_key(path: tuple[Any, ...]) -> Refusal:
    known = _fields_at(path[:-1])
    key, keys = Name(shortened(str(path[-1]))), _names(known)
    text = str(path[-1])[:80]
    near = meant_by(text, known, keys_meant(text, known))
    if near:
        return refusal("shop.unknown_key.near", given=key, keys=keys, near=_quoted(near))
    return refusal("shop.unknown_key", given=key, keys=keys)


def _names(texts: list[str]) -> Listing:
    return Listing(tuple(map(Name, texts)), "commas")


def _quoted(texts: list[str]) -> Listing:
    return Listing(tuple(state("shop.quoted", name=Name(t)) for t in texts), "or")


#: What is wanted where an error says that a value is of another type.
_WANTED = {
    "string_type": "text",
    "bool_type": "truth",
    "bool_parsing": "truth",
    "int_type": "whole",
    "int_parsing": "whole",
    "int_from_float": "no_decimals",
    "float_type": "number",
    "float_parsing": "number",
    "finite_number": "digits",
    "model_type": "table",
    "model_attributes_type": "table",
    "tuple_type": "list",
}


def _found(value: Any) -> Statement:
    """What stands in the file."""
    if isinstance(value, dict):
        return state("shop.found.table")
    if isinstance(value, list):
        return state("shop.found.list", items=len(value))
    if value is None:
        return state("shop.found.nothing")
    return state("shop.found", text=Name(shortened(str(value))))


def _model_at(path: tuple[Any, ...]) -> type[BaseModel] | None:
    model: type[BaseModel] | None = Shop
    for part in path:
        if isinstance(part, int) or model is None:
            continue
        field = model.model_fields.get(str(part))
        model = model_in(field.annotation) if field else None
    return model


def _fields_at(path: tuple[Any, ...]) -> list[str]:
    model = _model_at(path)
    return list(model.model_fields) if model else []


def _literals(path: tuple[Any, ...]) -> list[str]:
    names = [p for p in path if not isinstance(p, int)]
    model = _model_at(tuple(names[:-1]))
    if model is None or names[-1] not in model.model_fields:
        return []
    return [a for a in _choices(model.model_fields[names[-1]].annotation) if isinstance(a, str)]


def _choices(annotation: Any) -> tuple[Any, ...]:
    """Values of a choice, or of a list of choices."""
    args = get_args(annotation)
    return _choices(args[0]) if args and get_args(args[0]) else args


def _sense_faults(shop: Shop, name: str, lines: KeyLines) -> list[Refusal]:
    """Values that are each possible but not together."""
    faults: list[Refusal] = []

    def fault(path: tuple[Any, ...], found: Refusal) -> None:
        if any(path[:cut] in lines for cut in range(len(path), 1, -1)):
            place = path_text(path, shop.model_dump())
            faults.append(replace(found, file=name, line=lines.of(path), place=place))

    bucket = shop.separator.bucket
    chosen = ("separator", "bucket", "shape") in lines
    for field, found in bucket_faults(bucket, chosen=chosen):
        fault(("separator", "bucket", field), found)
    wishes = shop.wishes
    # Its plate and the fork over the wheel are taken for a few millimetres at least.
    if wishes.caster_height.best_si < wishes.caster_diameter.best_si + _OVER_WHEEL_M:
        key = "caster_height" if ("wishes", "caster_height") in lines else "caster_diameter"
        low = refusal(
            "shop.low_caster",
            height=Name(wishes.caster_height.text),
            wheel=Name(wishes.caster_diameter.text),
            over=Amount(_OVER_WHEEL_M, "length"),
        )
        fault(("wishes", key), low)
    vacuum = shop.vacuum
    if vacuum.inlet_height.best_si > vacuum.height.best_si:
        inlet, top = Name(vacuum.inlet_height.text), Name(vacuum.height.text)
        fault(("vacuum", "inlet_height"), refusal("shop.high_inlet", given=inlet, top=top))
    points = sorted(
        (p.airflow.best_si, p.suction.best_si, i) for i, p in enumerate(vacuum.suction.points)
    )
    for (_, before, _), (_, after, i) in zip(points, points[1:], strict=False):
        if after > before * 1.02:
            p = vacuum.suction.points[i]
            suction, airflow = Name(p.suction.text), Name(p.airflow.text)
            rises = refusal("shop.air.rises", suction=suction, airflow=airflow)
            fault(("vacuum", "suction", "points", i), rises)
    if vacuum.suction.points and len({q for q, _, _ in points}) < 2:
        one = refusal("shop.air.one_airflow", points=len(points))
        fault(("vacuum", "suction", "points"), one)
    for path, found in (*air_faults(shop), *tool_faults(shop)):
        fault(path, found)
    ends: list[tuple[tuple[Any, ...], Any]] = []
    for i, tool in enumerate(shop.tools):
        ends.append((("tools", i, "port"), tool.port))
    for i, hose in enumerate(shop.hoses):
        ends += [(("hoses", i, k), getattr(hose, k)) for k in ("tool_end", "unit_end")]
    for i, fitting in enumerate(shop.fittings):
        ends += [(("fittings", i, k), getattr(fitting, k)) for k in ("end_a", "end_b")]
    ends += [(("vacuum", "inlet"), vacuum.inlet)]
    ends += [
        (("separator", "cyclone", k), getattr(shop.separator.cyclone, k))
        for k in ("inlet", "outlet")
    ]
    for path, end in ends:
        if end.inside.best_si >= end.outside.best_si and not (
            end.inside.assumed or end.outside.assumed
        ):
            inside, outside = Name(end.inside.text), Name(end.outside.text)
            fault((*path, "inside"), refusal("shop.not_inside", inside=inside, outside=outside))
    for i, sheet in enumerate(shop.sheets):
        if sheet.thickness.best_si >= min(sheet.width.best_si, sheet.length.best_si):
            given = Name(sheet.thickness.text)
            fault(("sheets", i, "thickness"), refusal("shop.thick_sheet", given=given))
    return faults


#: A caster's plate and fork, at least [m].
_OVER_WHEEL_M = 0.005
_LABEL = {"amps", "tank", "volume", "weight"}
_CHOSEN = {"wishes", "saw", "circuit"}


def _is_assumed(path: tuple[Any, ...], filled: dict[Path, Filled]) -> bool:
    return path in filled and filled[path].why is not None


def _standing(path: tuple[Any, ...], data: Any, filled: dict[Path, Filled]) -> Standing:
    if _is_assumed(path, filled):
        return "assumed"
    if path[0] in _CHOSEN:
        return "chosen"
    if path[:2] == ("vacuum", "suction"):
        known_from = value_at(data, (*path[:2], "known_from"))
        return "measured" if "home_test" in path or known_from == "measured" else "label"
    return "label" if path[-1] in _LABEL else "measured"


def _place(
    part: Any, path: tuple[Any, ...], data: Any, filled: dict[Path, Filled], done: set[int]
) -> Any:
    """The same part with each quantity told its path and standing; not again those in ``done``."""
    if id(part) in done:
        return part
    if isinstance(part, Quantity):
        return part.at(path_text(path, data)).standing_as(_standing(path, data, filled))
    if isinstance(part, str) and _is_assumed(path, filled):
        return AssumedText(part)
    if isinstance(part, BaseModel):
        return part.model_copy(
            update={
                name: _place(getattr(part, name), (*path, name), data, filled, done)
                for name in type(part).model_fields
            }
        )
    if isinstance(part, tuple):
        rows = enumerate(part)
        return tuple(_place(item, (*path, i), data, filled, done) for i, item in rows)
    return part
