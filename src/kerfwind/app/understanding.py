"""What a person typed into a field, as it is written in the file, or why it cannot be."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from functools import cache
from typing import Any, get_args

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from ..faults import Refusal, unread
from ..quantity import UNSEEN, QuantityError, dimension, parse
from ..shop.kinds import Kind, PlaceError
from ..shop.model import Shop
from ..shop.schema import model_in

#: Units of a bare number, by what it is a number of: for inches, and for millimetres.
_BARE = {
    "length": ("in", "mm"),
    "pressure": ("inH2O", "kPa"),
    "airflow": ("cfm", "L/s"),
    "volume": ("US gal", "L"),
    "mass": ("lb", "kg"),
    "current": ("A", "A"),
    "voltage": ("V", "V"),
    "temperature": ("°F", "°C"),
    "angle": ("°", "°"),
}
#: What a metric shop measures in, by the unit of an example.
_METRIC = {
    "in": "mm",
    "ft": "m",
    "US gal": "L",
    "cfm": "m³/h",
    "inH2O": "kPa",
    "lb": "kg",
    "°F": "°C",
}
_IN_UNIT = re.compile(r"\d ([^\d.].*)$")
#: A room, a hose, a place on the floor: feet are the usual unit where inches are.
_LONG = re.compile(r"^(room\.|hoses\.length|tools\.place|branches\.length|circuit\.cord)")
_BARE_NUMBER = re.compile(r"[\d\s./½¼¾⅛⅜⅝⅞⅓⅔-]+(?:\s*(?:±|\+/-)\s*[\d./\s]+)?")
#: Three digits after it could be thousands; one or two are a decimal part.
_COMMA = re.compile(r"(?<=\d),(?=\d{1,2}(?!\d))")
#: Bounds are told to so many significant digits.
_DIGITS = 3


class NotUnderstood(ValueError):
    """It can be no value of the field.

    ``bounds`` are the least and the most of the field, as a person of this shop measures.
    """

    def __init__(self, refusal: Refusal, bounds: tuple[str, str] | None = None) -> None:
        super().__init__(str(refusal))
        self.refusal = refusal
        self.bounds = bounds


@cache
def _field(path: tuple[str, ...]) -> FieldInfo | None:
    model: type[BaseModel] | None = Shop
    field = None
    for key in path:
        if model is None or key not in model.model_fields:
            return None
        field = model.model_fields[key]
        model = model_in(field.annotation)
    return field


def keys_of(place: tuple[str | int, ...]) -> tuple[str, ...]:
    """The keys on the way to a field, without the names and numbers of rows."""
    keys: list[str] = []
    model: type[BaseModel] | None = Shop
    row = False
    for part in place:
        if row:
            row = False
            continue
        if model is None or not isinstance(part, str) or part not in model.model_fields:
            break
        keys.append(part)
        annotation = model.model_fields[part].annotation
        model = model_in(annotation)
        row = model is not None and str(annotation).startswith("tuple")
    return tuple(keys)


def kind_of(place: tuple[str | int, ...]) -> Kind | None:
    """What quantity stands in a field; None for another thing."""
    field = _field(keys_of(place))
    if field is None:
        return None
    inner = [m for a in get_args(field.annotation) for m in getattr(a, "__metadata__", ())]
    return next((m for m in (*field.metadata, *inner) if isinstance(m, Kind)), None)


def understood(place: tuple[str | int, ...], value: Any, data: Mapping[str, Any]) -> Any:
    """The value as it is to be written: a bare number gets the unit that the shop measures in.

    Raises
    ------
    NotUnderstood
        A quantity that is none, or outside what is possible.
    """
    if not isinstance(value, str):
        return value
    value = value.translate(UNSEEN)
    kind = kind_of(place)
    if kind is None:
        return value
    path, metric = ".".join(keys_of(place)), metric_shop(data)
    text = with_unit(value, kind, path, metric)
    try:
        kind.read(text)
    except PlaceError as error:
        raise NotUnderstood(error.refusal, bounds(kind, path, metric)) from None
    except QuantityError as error:
        raise NotUnderstood(unread(error), bounds(kind, path, metric)) from None
    return text


def metric_shop(data: Mapping[str, Any]) -> bool:
    """Whether bare numbers are metric."""
    about, wishes = data.get("about", {}), data.get("wishes", {})
    measures = wishes.get("measures") if isinstance(wishes, Mapping) else None
    units = about.get("units") if isinstance(about, Mapping) else None
    return bool(measures == "metric" or (measures is None and units == "mm"))


def bare_length(text: str, data: Mapping[str, Any]) -> str:
    """A length with its unit, where it is a bare number."""
    plain = _COMMA.sub(".", text.translate(UNSEEN).strip())
    if not _BARE_NUMBER.fullmatch(plain):
        return plain
    return f"{plain} {_BARE['length'][metric_shop(data)]}"


def with_unit(text: str, kind: Kind, path: str, metric: bool) -> str:
    """A text with a decimal point for a comma, and with its unit, where it is a bare number."""
    plain = _COMMA.sub(".", text.strip())
    unit = _bare_unit(kind, path, metric)
    return f"{plain} {unit}" if unit is not None and _BARE_NUMBER.fullmatch(plain) else plain


def _bare_unit(kind: Kind, path: str, metric: bool) -> str | None:
    """The unit of a bare number in a field; None where there must be one."""
    if kind.dimension == "length" and _LONG.match(path):
        return "m" if metric else "ft"
    units = _BARE.get(kind.dimension)
    return None if units is None else units[metric]


def bounds(kind: Kind, path: str, metric: bool) -> tuple[str, str]:
    """The least and the most of a field in the unit of a bare number there, both allowed."""
    name = _bare_unit(kind, path, metric)
    unit = None if name is None else dimension(kind.dimension).unit(name)
    if unit is None:
        return kind.low, kind.high

    def told(written: str, way: int) -> str:
        value = (parse(written, kind.dimension).best_si - unit.offset) / unit.factor
        places = _DIGITS - 1 - math.floor(math.log10(abs(value))) if value else 0
        inward = way * math.ceil(way * value * 10.0**places - 1e-6) / 10.0**places
        return (
            f"{inward:.{max(places, 0)}f}".rstrip("0").rstrip(".")
            if places > 0
            else f"{inward:.0f}"
        )

    return f"{told(kind.low, 1)} {name}", f"{told(kind.high, -1)} {name}"


def example(kind: Kind, metric: bool) -> str:
    """An example of what a field may hold, as a person of this shop measures."""
    written = _IN_UNIT.search(kind.example)
    name = _METRIC.get(written[1]) if written and metric else None
    unit = None if name is None else dimension(kind.dimension).unit(name)
    if unit is None:
        return kind.example
    quantity = parse(kind.example, kind.dimension)
    ends = dict.fromkeys((quantity.low_si, quantity.high_si))
    told = (_rounded((end - unit.offset) / unit.factor) for end in ends)
    return f"{'..'.join(told)} {name}"


def _rounded(value: float) -> str:
    """To two significant digits."""
    places = 1 - math.floor(math.log10(abs(value))) if value else 0
    return f"{round(value, places):.{max(places, 0)}f}"
