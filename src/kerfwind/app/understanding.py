"""What a person typed into a field, as it is written in the file, or why it cannot be."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from typing import Any, get_args

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from ..facts import Name
from ..faults import Refusal, refusal, unread
from ..quantity import UNSEEN, QuantityError
from ..shop.kinds import Kind, PlaceError
from ..shop.model import Shop
from ..shop.schema import model_in
from .paths import LISTS, free_name

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
#: A room, a hose, a place on the floor: feet are the usual unit where inches are.
_LONG = re.compile(r"^(room\.|hoses\.length|tools\.place|branches\.length|circuit\.cord)")
_BARE_NUMBER = re.compile(r"[\d\s./½¼¾⅛⅜⅝⅞⅓⅔-]+(?:\s*(?:±|\+/-)\s*[\d./\s]+)?")
_COMMA = re.compile(r"(?<=\d),(?=\d{1,2}(?!\d))")


class NotUnderstood(ValueError):
    """It can be no value of the field."""

    def __init__(self, refusal: Refusal) -> None:
        super().__init__(str(refusal))
        self.refusal = refusal


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
        A quantity that is none, or outside what is possible; a name that another row has.
    """
    if not isinstance(value, str):
        return value
    value = value.translate(UNSEEN)
    _own_name(place, value, data)
    kind = kind_of(place)
    if kind is None:
        return value
    text = with_unit(value, kind, ".".join(keys_of(place)), metric_shop(data))
    try:
        kind.read(text)
    except PlaceError as error:
        raise NotUnderstood(error.refusal) from None
    except QuantityError as error:
        raise NotUnderstood(unread(error)) from None
    return text


def _own_name(place: tuple[str | int, ...], name: str, data: Mapping[str, Any]) -> None:
    """Refuse the name of a row that another row of its list has."""
    if len(place) != 3 or place[0] not in LISTS or place[2] != "name" or name == place[1]:
        return
    rows = data.get(str(place[0]))
    taken = {row.get("name") for row in rows or () if isinstance(row, dict)}
    if place[1] in taken and name in taken:
        free = free_name(name, data, str(place[0]))
        raise NotUnderstood(refusal("app.name_taken", given=Name(name), free=Name(free)))


def metric_shop(data: Mapping[str, Any]) -> bool:
    """Whether bare numbers are metric."""
    about, wishes = data.get("about", {}), data.get("wishes", {})
    measures = wishes.get("measures") if isinstance(wishes, Mapping) else None
    units = about.get("units") if isinstance(about, Mapping) else None
    return bool(measures == "metric" or (measures is None and units == "mm"))


def bare_length(text: str, data: Mapping[str, Any]) -> str:
    """A length with its unit, where it is a bare number."""
    body = text.translate(UNSEEN).strip()
    plain = _COMMA.sub(".", body)
    if not _BARE_NUMBER.fullmatch(plain):
        return body
    return f"{plain} {_BARE['length'][metric_shop(data)]}"


def with_unit(text: str, kind: Kind, path: str, metric: bool) -> str:
    """A text with its unit, where it is a bare number."""
    body = text.strip()
    plain = _COMMA.sub(".", body)
    if not _BARE_NUMBER.fullmatch(plain) or kind.dimension not in _BARE:
        return body
    unit = _BARE[kind.dimension][metric]
    if kind.dimension == "length" and _LONG.match(path):
        unit = "m" if metric else "ft"
    return f"{plain} {unit}"
