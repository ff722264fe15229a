"""What a cart can have besides, one module each; what is wished for is put on its form."""

from __future__ import annotations

from collections.abc import Sequence

from ..cart.as_built import as_built_unmet, blamed
from ..cart.forms import BARE, LayOut
from ..cart.model import CannotBuild
from ..cart.remedy import cannot_build
from ..cart.whole_cart import CartLayout
from ..faults import Refusal
from ..quantity import Draw
from ..shop import Sheet, Shop
from .fit import fit

__all__ = ["FORMS", "LayOut", "lay_out_without_options", "lay_out_without_remedy"]


def lay_out_without_remedy(form: str, shop: Shop, sheet: Sheet, draw: Draw) -> CartLayout:
    """Lay out a form with its options; a refusal then names no remedy, which would take long to find."""
    layout, unmet = fit(shop, draw, BARE[form](shop, sheet, draw))
    if unmet:
        raise CannotBuild(form, tuple(unmet))
    return layout


def lay_out_without_options(form: str, shop: Shop, sheet: Sheet, draw: Draw) -> CartLayout:
    """Lay out a form as if no options were wished for; a refusal names no remedy."""
    return BARE[form](shop, sheet, draw)


def _as_built(form: str, lay_out: LayOut) -> LayOut:
    """Lay out a form, refusing panels as built of which no cart can be joined."""

    def with_rows(shop: Shop, sheet: Sheet, draw: Draw) -> CartLayout:
        try:
            layout = lay_out(shop, sheet, draw)
        except CannotBuild as error:
            rows = blamed(lay_out, shop, sheet, error.unmet)
            raise CannotBuild(form, (*rows, *error.unmet)) from None
        unmet = as_built_unmet(lay_out, shop, sheet)
        if unmet:
            raise CannotBuild(form, tuple(unmet))
        return layout

    return with_rows


def _with_options(form: str, lay_out: LayOut) -> LayOut:
    """Lay out a form and put the wished options on it."""

    def against(shop: Shop, sheet: Sheet, draw: Draw) -> Sequence[Refusal]:
        try:
            layout = lay_out(shop, sheet, draw)
        except CannotBuild as error:
            return error.unmet
        return fit(shop, draw, layout)[1]

    def whole(shop: Shop, sheet: Sheet, draw: Draw) -> CartLayout:
        if not shop.wishes.options:
            return lay_out(shop, sheet, draw)
        unmet: Sequence[Refusal]
        try:
            layout, unmet = fit(shop, draw, lay_out(shop, sheet, draw))
        except CannotBuild as error:
            unmet = error.unmet
        if unmet:
            raise cannot_build(form, unmet, shop, sheet, lambda a, b: against(a, b, draw))
        return layout

    return whole


#: What lays out each form, with the options that are wished for.
FORMS: dict[str, LayOut] = {
    form: _with_options(form, _as_built(form, lay_out)) for form, lay_out in BARE.items()
}
