"""The shape of the shop file, without words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any, get_args

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from .catalogue.hoods import HOODS, OPERATIONS
from .catalogue.sessions import READY
from .kinds import Kind
from .model import Shop


@dataclass(frozen=True)
class FieldOfFile:
    """One field of the shop file.

    Attributes
    ----------
    path
        Where it stands, such as ``tools.port.outside``: without names of what is listed.
    model
        The type that it is a field of.
    kind
        What quantity it is; None for another thing.
    """

    path: str
    model: str
    kind: Kind | None

    @property
    def name(self) -> str:
        """Its key."""
        return self.path.rpartition(".")[2]


def fields_of_file() -> Iterator[FieldOfFile]:
    """Every field, each table before what stands in it."""
    yield from _fields(Shop, ())


def _fields(model: type[BaseModel], at: tuple[str, ...]) -> Iterator[FieldOfFile]:
    for name, field in model.model_fields.items():
        path = (*at, name)
        yield FieldOfFile(".".join(path), model.__name__, _kind(field))
        inner = model_in(field.annotation)
        if inner is not None:
            yield from _fields(inner, path)


def model_in(annotation: Any) -> type[BaseModel] | None:
    """The type of the tables that stand in a field, or in its list; None for none."""
    return _model_in(annotation)


@cache
def _model_in(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((m for a in get_args(annotation) if (m := _model_in(a))), None)


def _kind(field: FieldInfo) -> Kind | None:
    inner = [m for a in get_args(field.annotation) for m in getattr(a, "__metadata__", ())]
    return next((m for m in (*field.metadata, *inner) if isinstance(m, Kind)), None)


def bare_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of what a person may write, without a word about any of it.

    Fields that the catalogue fills are optional here, as they are in the file.
    """
    schema = Shop.model_json_schema()
    for model in (schema, *schema.get("$defs", {}).values()):
        # What the models say of themselves is for who reads the program.
        model.pop("description", None)
        for field in model.get("properties", {}).values():
            if field.get("default", ...) is None:
                del field["default"]
    # The name of its size is written for a whole end.
    for model in (schema, *schema["$defs"].values()):
        for name, field in model.get("properties", {}).items():
            if field.get("$ref") == "#/$defs/End":
                model["properties"][name] = {"anyOf": [field, {"type": "string"}]}
    tool = schema["$defs"]["Tool"]["properties"]
    tool["hood"]["enum"] = list(HOODS)
    tool["operation"]["enum"] = list(OPERATIONS)
    schema["$defs"]["Task"]["properties"]["operation"]["enum"] = list(OPERATIONS)
    schema["$defs"]["Session"]["properties"]["ready"]["enum"] = list(READY)
    return schema
