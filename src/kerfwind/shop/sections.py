"""A shop cut down to what one stage may depend on."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any, TypeVar

from ..kept import Kept
from .model import Part, Shop
from .reading import parse_shop

P = TypeVar("P", bound=Part)

#: Fields that stay, each whole or cut down in its turn.
Fields = Mapping[str, "Fields | None"]

#: Any would do.
_HOOD = "floor nozzle"

#: Parts, rows and shops that were cut down.
_cut: Kept[Any] = Kept(2048)
_rows: Kept[tuple[Any, ...]] = Kept(256)
_views: Kept[Shop] = Kept(128)


def names(text: str, **inner: Fields | None) -> Fields:
    """Fields by name, in one text; those in ``inner`` are cut down themselves."""
    return dict.fromkeys(text.split()) | inner


@cache
def _blank() -> Shop:
    return parse_shop("\n".join(("[[tools]]", 'name = "-"', f'hood = "{_HOOD}"'))).shop


def only_fields(shop: Shop, fields: Fields) -> Shop:
    """The same shop with every section but those in ``fields`` set to one fixed blank.

    In a section that is cut down every other field is None. A stage that is given the result
    cannot depend on anything else, so a digest of it is a true key for the stage's cache. Of the
    same parts it is the same object again.
    """
    parts = [_section(getattr(shop, section), inner) for section, inner in fields.items()]
    return _views.of(
        (fields, *parts),
        None,
        lambda: _blank().model_copy(update=dict(zip(fields, parts, strict=True))),
    )


def _section(part: Any, fields: Fields | None) -> Any:
    """A section or the rows of a list, cut down; of the same ones the same object again."""
    if fields is None:
        return part
    if isinstance(part, tuple):
        rows = tuple(cut_down(row, fields) for row in part)
        return _rows.of(rows, None, lambda: rows)
    return cut_down(part, fields)


def cut_down(part: P, fields: Fields) -> P:
    """A part with nothing but some of its fields, the others None.

    Of the same part and fields it is the same object again, so that what is known of it holds.
    """
    cut: P = _cut.of((part, fields), None, lambda: _cut_down(part, fields))
    return cut


def _cut_down(part: P, fields: Fields) -> P:
    update: dict[str, Any] = {}
    for name in type(part).model_fields:
        if name not in fields:
            update[name] = None
        elif (inner := fields[name]) is not None and isinstance(value := getattr(part, name), Part):
            update[name] = cut_down(value, inner)
    return part.model_copy(update=update)
