"""Reading the shop file: text in, a whole `Shop` out, or everything wrong with it."""

from __future__ import annotations

import copy
import difflib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import Any, get_args

from pydantic import BaseModel, ValidationError

from .. import limits
from ..faults import Fault, Faults, shortened
from ..plaintext import decoded
from ..quantity import Quantity, QuantityError, Standing, show_written
from ..rawfile import TooLargeError, read_at_most
from ..tomlfile import load_toml
from .air_faults import air_faults
from .bucket_faults import bucket_faults
from .filling import Assumption, Path, fill
from .given_faults import reference_faults, text_faults
from .kinds import AssumedText, PlaceError
from .model import Shop
from .positions import key_lines, line_of, path_text, value_at
from .tool_faults import tool_faults

_SAVE = "Save the file as UTF-8 in your editor."


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
    (10, 0.058)
    """
    file = FilePath(path)
    name = str(path)
    try:
        raw = read_at_most(file, limits.SHOP_BYTES)
    except TooLargeError as error:
        raise _whole(
            name,
            str(error),
            f"up to {limits.SHOP_BYTES:,} bytes",
            "A shop file is a few pages of text.",
        ) from None
    except IsADirectoryError:
        raise _whole(name, "a folder", "a TOML file", "Name the file inside it.") from None
    except FileNotFoundError:
        raise _whole(
            name, "no such file", "a TOML file", f"Check the name, or `kerfwind new {name}`."
        ) from None
    except OSError as error:
        raise _whole(
            name, error.strerror or "unreadable", "a file you may read", "Check its permissions."
        ) from None
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        text = decoded(raw)
        if text is None:
            raise _whole(name, "UTF-16 cut short", "text saved as UTF-8", _SAVE)
        return parse_shop(text, name)
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        if b"\0" in raw[:4096]:
            raise _whole(
                name, "a binary file", "a text in TOML", "Name the shop file, not a picture or PDF."
            ) from None
        line = raw[: error.start].count(b"\n") + 1
        fault = Fault(
            name,
            line,
            "",
            f"a byte that is not UTF-8 (0x{raw[error.start]:02x})",
            "text saved as UTF-8",
            _SAVE,
        )
        raise Faults([fault]) from None
    if "\0" in text:
        raise _whole(
            name,
            "a binary file, or UTF-16 that does not say so",
            "text saved as UTF-8",
            f"Name the shop file itself. {_SAVE}",
        )
    return parse_shop(text, name)


def parse_shop(text: str, name: str = "shop") -> ShopFile:
    """The shop in a TOML text; `read_shop` says what is raised."""
    data = load_toml(text, name)
    lines = key_lines(text.replace("\r\n", "\n"))
    many = list(_long_lists(data, name, lines))
    if many:
        raise Faults(many)
    given = copy.deepcopy(data)
    filled = fill(data)
    faults: list[Fault] = []
    more = 0
    shop: Shop | None = None
    try:
        shop = Shop.model_validate(data)
    except ValidationError as error:
        wrong = [e for e in error.errors() if not _shadowed(tuple(e["loc"]), given)]
        wrong.sort(key=lambda e: line_of(lines, tuple(e["loc"])))
        # One cause may be found twice; what is made of the rest would never be told.
        more = max(0, len(wrong) - 4 * limits.FAULTS)
        faults += [
            _fault(given, name, lines, tuple(e["loc"]), dict(e)) for e in wrong[: 4 * limits.FAULTS]
        ]
    faults += text_faults(given, name, lines)
    faults += reference_faults(given, name, lines)
    if shop is not None:
        faults += _sense_faults(shop, name, lines)
    if faults or shop is None:
        raise Faults(sorted(_unique(faults), key=lambda f: f.line), more)
    placed = _place(shop, (), data, filled)
    assumptions = tuple(
        Assumption(path_text(path, data), _told(placed, path, text), why, source)
        for path, (text, why, source) in filled.items()
        if why
    )
    return ShopFile(placed, assumptions, name, text)


def _long_lists(data: dict[str, Any], name: str, lines: dict[Path, int]) -> Iterator[Fault]:
    """Lists with more rows than can be planned with."""
    for place, most in limits.ROWS.items():
        path = tuple(place.split("."))
        rows = value_at(data, path)
        if isinstance(rows, list) and len(rows) > most:
            yield Fault(
                name,
                line_of(lines, (*path, most)),
                place,
                f"{len(rows):,} of them",
                f"up to {most:,}",
                "Leave out what this plan is not for, or make two files of it.",
            )


def _told(shop: Shop, path: Path, text: str) -> str:
    """What was put at a place, in the shop's own units."""
    part: Any = shop
    for step in path:
        part = part[step] if isinstance(step, int) else getattr(part, step, None)
    return show_written(part, shop.shop.units) if isinstance(part, Quantity) else text


def _unique(faults: list[Fault]) -> list[Fault]:
    return list(dict.fromkeys(faults))


def _whole(name: str, found: str, allowed: str, mend: str) -> Faults:
    return Faults([Fault(name, 0, "", found, allowed, mend)])


def _shadowed(path: tuple[Any, ...], given: Any) -> bool:
    """Whether the fault only echoes a wrong value further up."""
    for cut in range(1, len(path)):
        here = value_at(given, path[:cut])
        if here is not None and not isinstance(here, (dict, list)):
            return True
    return False


def _fault(
    given: Any, name: str, lines: dict[Path, int], path: tuple[Any, ...], error: dict[str, Any]
) -> Fault:
    line = line_of(lines, path)
    field = path_text(path, given)
    kind = error["type"]
    value = value_at(given, path)
    found = f"`{shortened(str(value))}`" if isinstance(value, _PLAIN) else _kind_of(value)
    cause = (error.get("ctx") or {}).get("error")
    if isinstance(cause, PlaceError):
        return Fault(name, line, field, cause.found, cause.allowed, cause.mend)
    if isinstance(cause, QuantityError):
        return Fault(name, line, field, f"`{cause.found}`", cause.allowed, cause.mend)
    if kind == "extra_forbidden":
        known = _fields_at(path[:-1])
        near = difflib.get_close_matches(str(path[-1])[:80], known, 1, 0.6)
        mend = f"Did you mean `{near[0]}`?" if near else "Remove it, or turn it into a # comment."
        return Fault(
            name, line, field, f"unknown key `{shortened(str(path[-1]))}`", ", ".join(known), mend
        )
    if kind == "missing" and path == ("tools",):
        return Fault(
            name,
            line,
            field,
            "no tool",
            "at least one",
            'Add one: a line [[tools]], then name = "…" and hood = "…" (`kerfwind new` shows how).',
        )
    if kind == "missing":
        return Fault(
            name,
            line,
            field,
            f"`{path[-1]}` is missing",
            "a value for it",
            f"Add `{path[-1]} = …`.",
        )
    if kind == "literal_error":
        allowed = [part.strip("'") for part in _literals(path)]
        near = difflib.get_close_matches(str(value)[:80], allowed, 1, 0.5)
        mend = f"Did you mean `{near[0]}`?" if near else "Use one of these."
        return Fault(name, line, field, found, ", ".join(allowed), mend)
    bounds = error.get("ctx") or {}
    if "ge" in bounds or "le" in bounds:
        words = f"at least {bounds['ge']}" if "ge" in bounds else f"at most {bounds['le']}"
        return Fault(name, line, field, found, words, "Check the number.")
    if "max_length" in bounds:
        words = f"up to {bounds['max_length']} characters"
        return Fault(name, line, field, found, words, "Shorten it.")
    choices = _literals(path) if kind == "tuple_type" else []
    if choices:
        listed = f"a list of {', '.join(choices)}"
        return Fault(name, line, field, found, listed, f'Write it as ["{choices[0]}"].')
    if kind == "tuple_type" and isinstance(value, dict):
        heading = ".".join(str(part) for part in path)
        return Fault(
            name,
            line,
            field,
            found,
            "a list of tables",
            f"Write its heading with two brackets, [[{heading}]], once for each.",
        )
    if kind == "model_type" and (known := _fields_at(path)):
        right, change = _BY_TYPE[kind]
        return Fault(name, line, field, found, f"{right}: {', '.join(known)}", change)
    right, change = _BY_TYPE.get(kind, (error["msg"], "Check the value."))
    return Fault(name, line, field, found, right, change)


_BY_TYPE = {
    "string_type": ("a text in quotes", "Put quotes around it."),
    "bool_type": ("true or false", "Write true or false, without quotes."),
    "bool_parsing": ("true or false", "Write true or false, without quotes."),
    "int_type": ("a whole number", "Write it without quotes or decimals."),
    "int_parsing": ("a whole number", "Write it without quotes or decimals."),
    "int_from_float": ("a whole number", "Write it without decimals."),
    "float_type": ("a number", "Write it without quotes, such as 28.50."),
    "float_parsing": ("a number", "Write it without quotes or currency, such as 28.50."),
    "finite_number": ("a number", "Write it in digits, such as 28.50."),
    "model_type": ("a table with keys of its own", "Write it as { key = value } or as [table]."),
    "model_attributes_type": ("a table with keys of its own", "Write it as { key = value }."),
    "tuple_type": (
        "a list",
        "Put it in [square brackets], or start each item with a [[…]] heading.",
    ),
}


def _kind_of(value: Any) -> str:
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return f"a list of {len(value)}"
    return "nothing" if value is None else f"`{shortened(str(value))}`"


_PLAIN = (str, int, float)


def _model_at(path: tuple[Any, ...]) -> type[BaseModel] | None:
    model: type[BaseModel] | None = Shop
    for part in path:
        if isinstance(part, int) or model is None:
            continue
        field = model.model_fields.get(str(part))
        model = _model_in(field.annotation) if field else None
    return model


def _model_in(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((m for a in get_args(annotation) if (m := _model_in(a))), None)


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


def _sense_faults(shop: Shop, name: str, lines: dict[Path, int]) -> list[Fault]:
    """Values that are each possible but not together."""
    faults: list[Fault] = []

    def fault(path: tuple[Any, ...], found: str, allowed: str, mend: str) -> None:
        if any(path[:cut] in lines for cut in range(len(path), 1, -1)):
            text = path_text(path, shop.model_dump())
            faults.append(Fault(name, line_of(lines, path), text, found, allowed, mend))

    bucket = shop.separator.bucket
    for field, found, allowed, mend in bucket_faults(bucket):
        fault(("separator", "bucket", field), found, allowed, mend)
    wishes = shop.wishes
    # Its plate and the fork over the wheel are taken for a few millimetres at least.
    if wishes.caster_height.best_si < wishes.caster_diameter.best_si + 0.005:
        given = "caster_height" if ("wishes", "caster_height") in lines else "caster_diameter"
        fault(
            ("wishes", given),
            f"a caster {wishes.caster_height.text} high with a wheel of "
            f"{wishes.caster_diameter.text}",
            "at least 5 mm more than the wheel",
            "Measure the wheel across, and from the floor to the caster's plate.",
        )
    vacuum = shop.vacuum
    if vacuum.inlet_height.best_si > vacuum.height.best_si:
        fault(
            ("vacuum", "inlet_height"),
            f"`{vacuum.inlet_height.text}`, above its height",
            f"at most {vacuum.height.text}",
            "Measure both from the floor.",
        )
    points = sorted(
        (p.airflow.best_si, p.suction.best_si, i) for i, p in enumerate(vacuum.suction.points)
    )
    for (_, before, _), (_, after, i) in zip(points, points[1:], strict=False):
        if after > before * 1.02:
            p = vacuum.suction.points[i]
            fault(
                ("vacuum", "suction", "points", i),
                f"`{p.suction.text}` at `{p.airflow.text}`, more suction at more airflow",
                "suction that falls as airflow grows",
                "Measure this point again.",
            )
    if vacuum.suction.points and len({q for q, _, _ in points}) < 2:
        fault(
            ("vacuum", "suction", "points"),
            f"{len(points)} different airflow",
            "two points or more",
            "Add a second point, or give label figures.",
        )
    for row in (*air_faults(shop), *tool_faults(shop)):
        fault(*row)
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
            fault(
                (*path, "inside"),
                f"`{end.inside.text}`, not inside `{end.outside.text}`",
                "less than the outside diameter",
                "Swap them, or measure again.",
            )
    for i, sheet in enumerate(shop.sheets):
        if sheet.thickness.best_si >= min(sheet.width.best_si, sheet.length.best_si):
            fault(
                ("sheets", i, "thickness"),
                f"`{sheet.thickness.text}`",
                "less than its width",
                "Check the units.",
            )
    return faults


_LABEL = {"amps", "sealed", "open_airflow", "tank", "volume", "weight"}
_CHOSEN = {"wishes", "saw", "circuit"}


def _standing(path: tuple[Any, ...], filled: dict[Path, tuple[str, str, str]]) -> Standing:
    if path in filled and filled[path][1]:
        return "assumed"
    if path[0] in _CHOSEN:
        return "chosen"
    return "label" if path[-1] in _LABEL else "measured"


def _place(
    part: Any, path: tuple[Any, ...], data: Any, filled: dict[Path, tuple[str, str, str]]
) -> Any:
    """The same part with each quantity told its path and standing."""
    if isinstance(part, Quantity):
        return part.at(path_text(path, data)).standing_as(_standing(path, filled))
    if isinstance(part, str) and filled.get(path, ("", ""))[1]:
        return AssumedText(part)
    if isinstance(part, BaseModel):
        return part.model_copy(
            update={
                name: _place(getattr(part, name), (*path, name), data, filled)
                for name in type(part).model_fields
            }
        )
    if isinstance(part, tuple):
        return tuple(_place(item, (*path, i), data, filled) for i, item in enumerate(part))
    return part
