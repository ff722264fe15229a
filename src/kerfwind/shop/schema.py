"""A JSON Schema of the shop file, for editors."""

from __future__ import annotations

from typing import Any

from .catalogue.hoods import HOODS, OPERATIONS
from .model import Shop


def shop_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of what a person may write.

    Fields that the catalogue fills are optional here, as they are in the file.
    """
    schema = Shop.model_json_schema()
    for model in (schema, *schema.get("$defs", {}).values()):
        for field in model.get("properties", {}).values():
            if field.get("default", ...) is None:
                del field["default"]
    tool = schema["$defs"]["Tool"]["properties"]
    tool["hood"]["enum"] = list(HOODS)
    tool["hood"]["description"] += " " + "; ".join(f"{h.key}: {h.what}" for h in HOODS.values())
    tool["operation"]["enum"] = list(OPERATIONS)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "kerfwind shop file",
        **{key: value for key, value in schema.items() if key != "title"},
    }
