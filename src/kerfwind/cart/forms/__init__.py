"""Forms of a cart, one module each."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from ...quantity import Draw
from ...shop import Sheet, Shop
from ..as_built import as_built_unmet, blamed
from ..model import CannotBuild, Unmet
from ..options.fit import fit
from ..remedy import refusal
from ..whole_cart import Laid
from . import backframe, low, tower

Lay = Callable[[Shop, Sheet, Draw], Laid]


_BARE: dict[str, Lay] = {"tower": tower.lay, "backframe": backframe.lay, "low": low.lay}


def lay_without_remedy(form: str, shop: Shop, sheet: Sheet, draw: Draw) -> Laid:
    """A form with its options, refused without looking for a remedy."""
    laid, unmet = fit(shop, draw, _BARE[form](shop, sheet, draw))
    if unmet:
        raise CannotBuild(form, tuple(unmet))
    return laid


def _as_built(form: str, lay: Lay) -> Lay:
    """Lay out a form, refusing panels as built of which no cart can be joined."""

    def checked(shop: Shop, sheet: Sheet, draw: Draw) -> Laid:
        try:
            laid = lay(shop, sheet, draw)
        except CannotBuild as error:
            rows = blamed(lay, shop, sheet, error.unmet)
            raise CannotBuild(form, (*rows, *error.unmet)) from None
        unmet = as_built_unmet(lay, shop, sheet)
        if unmet:
            raise CannotBuild(form, tuple(unmet))
        return laid

    return checked


def _with_options(form: str, lay: Lay) -> Lay:
    """Lay out a form and put the wished options on it."""

    def against(shop: Shop, sheet: Sheet, draw: Draw) -> Sequence[Unmet]:
        try:
            laid = lay(shop, sheet, draw)
        except CannotBuild as error:
            return error.unmet
        return fit(shop, draw, laid)[1]

    def whole(shop: Shop, sheet: Sheet, draw: Draw) -> Laid:
        if not shop.wishes.options:
            return lay(shop, sheet, draw)
        unmet: Sequence[Unmet]
        try:
            laid, unmet = fit(shop, draw, lay(shop, sheet, draw))
        except CannotBuild as error:
            unmet = error.unmet
        if unmet:
            raise refusal(form, unmet, shop, sheet, lambda a, b: against(a, b, draw))
        return laid

    return whole


#: What lays out each form, with the options that are wished for.
FORMS: dict[str, Lay] = {
    form: _with_options(form, _as_built(form, lay)) for form, lay in _BARE.items()
}
