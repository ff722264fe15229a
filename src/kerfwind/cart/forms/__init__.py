"""Forms of a cart, one module each."""

from __future__ import annotations

from collections.abc import Callable

from ...quantity import Draw
from ...shop import Sheet, Shop
from ..finishing import Laid, finish
from ..model import Cart
from . import backframe as _backframe
from . import low as _low
from . import tower as _tower

Lay = Callable[[Shop, Sheet, Draw], Laid]

#: What lays out each form.
FORMS: dict[str, Lay] = {"tower": _tower.lay, "backframe": _backframe.lay, "low": _low.lay}


def build(shop: Shop, sheet: Sheet, draw: Draw) -> Cart:
    """A cart of the form that is wished for.

    Raises
    ------
    CannotBuild
        A wish, or the sheet, does not let the best values fit.
    """
    return _built(shop.wishes.form, shop, sheet, draw)


def tower(shop: Shop, sheet: Sheet, draw: Draw) -> Cart:
    """A tower, whatever form is wished for; raises as `build` does."""
    return _built("tower", shop, sheet, draw)


def backframe(shop: Shop, sheet: Sheet, draw: Draw) -> Cart:
    """A backframe, whatever form is wished for; raises as `build` does."""
    return _built("backframe", shop, sheet, draw)


def low(shop: Shop, sheet: Sheet, draw: Draw) -> Cart:
    """A low cart, whatever form is wished for; raises as `build` does."""
    return _built("low", shop, sheet, draw)


def _built(form: str, shop: Shop, sheet: Sheet, draw: Draw) -> Cart:
    return finish(shop, sheet, draw, FORMS[form](shop, sheet, draw))
