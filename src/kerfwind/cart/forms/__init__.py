"""Forms of a cart, one module each."""

from __future__ import annotations

from collections.abc import Callable

from ...quantity import Draw
from ...shop import Sheet, Shop
from ..model import Cart
from .backframe import backframe
from .low import low
from .tower import tower

Form = Callable[[Shop, Sheet, Draw], Cart]

FORMS: dict[str, Form] = {"tower": tower, "backframe": backframe, "low": low}


def build(shop: Shop, sheet: Sheet, draw: Draw) -> Cart:
    """A cart of the form that is wished for.

    Raises
    ------
    CannotBuild
        A wish, or the sheet, does not let the best values fit.
    """
    return FORMS[shop.wishes.form](shop, sheet, draw)
