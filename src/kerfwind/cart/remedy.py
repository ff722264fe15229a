"""Putting changes of the shop file into the shop, and finding those with which a cart builds."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from functools import partial
from typing import Any

from pydantic import BaseModel

from ..facts import Amount, Fact, Fix, Listing, Name, Term
from ..faults import Refusal
from ..quantity import Quantity, exact, parse
from ..shop import Sheet, Shop
from .model import CannotBuild

_ROUNDS = 8

#: Makes the new value of a field from the one it has.
_NewValue = Callable[[Any], Any]


def _changed(part: Any, keys: list[str], new: _NewValue, path: str) -> Any:
    if not keys:
        value = new(part)
        chosen = isinstance(value, Quantity)
        return value.at(path).standing_as("chosen") if chosen else value
    if not isinstance(part, BaseModel) or not hasattr(part, keys[0]):
        raise KeyError(path)
    inner = _changed(getattr(part, keys[0]), keys[1:], new, path)
    return part.model_copy(update={keys[0]: inner})


def _put(shop: Shop, sheet: Sheet, place: str, new: _NewValue) -> tuple[Shop, Sheet]:
    """Shop and sheet with one field made anew.

    Places that begin with ``sheet.`` speak of the sheet being cut, those with ``second.`` of
    the second one.
    """
    first, *rest = place.split(".")
    if first == "sheet":
        return shop, _changed(sheet, rest, new, place)
    if first != "second":
        return _changed(shop, [first, *rest], new, place), sheet
    rows = [
        _changed(s, rest, new, place) if s.name == shop.wishes.second_sheet else s
        for s in shop.sheets
    ]
    return shop.model_copy(update={"sheets": tuple(rows)}), sheet


def with_fixes(shop: Shop, sheet: Sheet, fixes: Iterable[Fix]) -> tuple[Shop, Sheet]:
    """Shop and sheet with every fix in its place.

    Raises
    ------
    KeyError
        There is no such place.
    """
    for fix in (each for given in fixes for each in given.every):
        shop, sheet = _put(shop, sheet, fix.place, partial(_field, fix.to))
    return shop, sheet


def _field(to: Fact, was: Any) -> Quantity | tuple[str, ...] | str:
    """What stands in a field of the shop that is set to this, whatever was there."""
    if isinstance(to, Quantity):
        return to
    if isinstance(to, Amount):
        return exact(to.si, to.dimension)
    if isinstance(to, Listing):
        return tuple(_word(each) for each in to.items)
    return _word(to)


def _word(fact: Fact) -> str:
    """A word of the shop file: what names a term, or a name itself."""
    if isinstance(fact, Term):
        return fact.key
    if isinstance(fact, Name):
        return fact.text
    if not isinstance(fact, str):
        raise TypeError(f"{fact!r} is no entry of a shop file")
    return fact


def with_entries(shop: Shop, sheet: Sheet, entries: Mapping[str, str]) -> tuple[Shop, Sheet]:
    """Shop and sheet with each place set to what a person would write there in the shop file.

    A list is written with commas.

    Raises
    ------
    KeyError
        There is no such place.
    QuantityError
        A text is no quantity of the place's kind.
    """
    for place, text in entries.items():

        def read(was: Any, text: str = text) -> Any:
            if isinstance(was, Quantity):
                return parse(text, was.dimension_name)
            if isinstance(was, tuple):
                return tuple(text.split(", ")) if text else ()
            return text

        shop, sheet = _put(shop, sheet, place, read)
    return shop, sheet


def cannot_build(
    form: str,
    unmet: Sequence[Refusal],
    shop: Shop,
    sheet: Sheet,
    against: Callable[[Shop, Sheet], Sequence[Refusal]],
) -> CannotBuild:
    """The error for wishes that cannot be met, with fixes that are known to build.

    A first fix can bring up the next wish (a bucket that must stand makes the cart
    higher), so fixes are tried together until ``against`` finds nothing more.
    """
    by_place = {u.place: u for u in unmet}
    passes = False
    for _ in range(_ROUNDS):
        still_unmet = against(*with_fixes(shop, sheet, _together(by_place.values())))
        passes = not still_unmet
        if passes:
            break
        for each in still_unmet:
            kept = by_place[each.place].fixes if each.place in by_place else ()
            by_place[each.place] = replace(each, fixes=_merged((*kept, *each.fixes)))
    # Each is mended only by all of them: one alone leaves the others in the way.
    tried = tuple(replace(fix, passes=passes) for fix in _together(by_place.values()))
    return CannotBuild(form, tuple(replace(u, fixes=tried) for u in by_place.values()))


def _together(unmet: Iterable[Refusal]) -> tuple[Fix, ...]:
    return _merged(fix for each in unmet for fix in each.fixes)


def _merged(fixes: Iterable[Fix]) -> tuple[Fix, ...]:
    """One fix for each place: the last that was found for it."""
    return tuple({fix.place: fix for fix in fixes}.values())
