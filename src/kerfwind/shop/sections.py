"""A shop cut down to what one stage may depend on."""

from __future__ import annotations

from collections import OrderedDict
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

#: So many parts are remembered cut down.
_MOST = 2048
_views: Kept[Shop] = Kept(128)
_cut: OrderedDict[tuple[int, int], tuple[Part, Fields, Part]] = OrderedDict()


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
    parts = tuple(_section(getattr(shop, section), inner) for section, inner in fields.items())
    also = tuple(len(each) if isinstance(each, list) else 0 for each in parts)
    objects = [each for part in parts for each in (part if isinstance(part, list) else (part,))]
    return _views.of(
        (fields, *objects),
        also,
        lambda: _blank().model_copy(
            update={
                section: tuple(part) if isinstance(part, list) else part
                for section, part in zip(fields, parts, strict=True)
            }
        ),
    )


def _section(part: Any, fields: Fields | None) -> Any:
    """A section or the list of its rows, cut down."""
    if fields is None:
        return part
    if isinstance(part, tuple):
        return [cut_down(row, fields) for row in part]
    return cut_down(part, fields)


def cut_down(part: P, fields: Fields) -> P:
    """A part with nothing but some of its fields, the others None.

    Of the same part and fields it is the same object again, so that what is known of it holds.
    """
    key = id(part), id(fields)
    known = _cut.get(key)
    if known is not None and known[0] is part and known[1] is fields:
        return known[2]  # type: ignore[return-value]
    update: dict[str, Any] = {}
    for name in type(part).model_fields:
        if name not in fields:
            update[name] = None
        elif (inner := fields[name]) is not None and isinstance(value := getattr(part, name), Part):
            update[name] = cut_down(value, inner)
    cut = part.model_copy(update=update)
    _cut[key] = part, fields, cut
    if len(_cut) > _MOST:
        _cut.popitem(last=False)
    return cut
