"""Putting a remedy into the shop, as a person would put it into the file."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from pydantic import BaseModel

from ..quantity import Quantity, parse
from ..shop import Sheet, Shop
from .model import CannotBuild, Unmet

_ROUNDS = 8


def _changed(part: Any, keys: list[str], text: str, path: str) -> Any:
    if not keys:
        if isinstance(part, Quantity):
            return parse(text, part.dimension_name).at(path).standing_as("chosen")
        if isinstance(part, tuple):
            return tuple(text.split(", ")) if text else ()
        return text
    if not isinstance(part, BaseModel) or not hasattr(part, keys[0]):
        raise KeyError(path)
    inner = _changed(getattr(part, keys[0]), keys[1:], text, path)
    return part.model_copy(update={keys[0]: inner})


def with_remedy(shop: Shop, sheet: Sheet, remedy: Mapping[str, str]) -> tuple[Shop, Sheet]:
    """Shop and sheet with each place set to its text.

    Places that begin with ``sheet.`` speak of the sheet being cut, those with ``second.`` of
    the second one; a list is written with commas.

    Raises
    ------
    KeyError
        There is no such place.
    QuantityError
        A text is no quantity of the place's kind.
    """
    for place, text in remedy.items():
        first, *rest = place.split(".")
        if first == "sheet":
            sheet = _changed(sheet, rest, text, place)
        elif first == "second":
            rows = [
                _changed(s, rest, text, place) if s.name == shop.wishes.second_sheet else s
                for s in shop.sheets
            ]
            shop = shop.model_copy(update={"sheets": tuple(rows)})
        else:
            shop = _changed(shop, [first, *rest], text, place)
    return shop, sheet


def refusal(
    form: str,
    unmet: Sequence[Unmet],
    shop: Shop,
    sheet: Sheet,
    against: Callable[[Shop, Sheet], Sequence[Unmet]],
) -> CannotBuild:
    """The error for wishes that cannot be met, with a remedy that is known to build.

    A first remedy can bring up the next wish (a bucket that must stand makes the cart
    higher), so remedies are tried until ``against`` finds nothing more.
    """
    by_wish = {u.wish: u for u in unmet}
    for _ in range(_ROUNDS):
        remedy = {place: text for u in by_wish.values() for place, text in u.remedy}
        still_unmet = against(*with_remedy(shop, sheet, remedy))
        if not still_unmet:
            break
        for each in still_unmet:
            kept = by_wish[each.wish].remedy if each.wish in by_wish else ()
            merged = tuple({**dict(kept), **dict(each.remedy)}.items())
            by_wish[each.wish] = replace(each, remedy=merged)
    return CannotBuild(form, tuple(by_wish.values()))
