"""A JSON Schema of the shop file, for editors."""

from __future__ import annotations

from typing import Any

from ..facts import Listing, Name, Term, state
from ..shop.catalogue.hoods import HOODS
from ..shop.schema import FieldOfFile, bare_schema, fields_of_file
from ..words import Voice


def shop_schema(voice: Voice) -> dict[str, Any]:
    """JSON Schema (2020-12) of what a person may write, with what each field is."""
    schema = bare_schema()
    models = {"Shop": schema, **schema["$defs"]}
    described: set[tuple[str, str]] = set()
    for field in fields_of_file():
        if (field.model, field.name) in described:
            continue
        described.add((field.model, field.name))
        models[field.model]["properties"][field.name]["description"] = _description(field, voice)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": voice.word("schema.title"),
        "description": voice.word("schema.description"),
        **{key: value for key, value in schema.items() if key != "title"},
    }


def _description(field: FieldOfFile, voice: Voice) -> str:
    said = voice.help(field.path)
    if field.kind is not None:
        return voice.word("schema.quantity", help=Name(said), bounds=field.kind.bounds())
    if field.path == "tools.hood":
        hoods = (state("schema.hood", key=Name(key), hood=Term("hood", key)) for key in HOODS)
        return voice.word(
            "schema.hoods", help=Name(said), hoods=Listing(tuple(hoods), "semicolons")
        )
    return said
