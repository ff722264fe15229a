"""Forms of a cart, one module each."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from ...quantity import Draw, Quantity, middle
from ...shop import Sheet, Shop
from ...sources import fact
from ..as_built import as_built_unmet, blamed
from ..cutsize import Rule
from ..finishing import Laid, finish, stands_of
from ..model import CannotBuild, Cart, Unmet
from ..options.fit import fit
from ..remedy import refusal
from . import backframe as _backframe
from . import low as _low
from . import tower as _tower

Lay = Callable[[Shop, Sheet, Draw], Laid]

#: A cart that stands by less than the first margin is steadied to the second [rad].
_LEAST_MARGIN, _MARGIN = math.radians(1.0), math.radians(1.5)
_ROUNDS = 4


_BARE: dict[str, Lay] = {"tower": _tower.lay, "backframe": _backframe.lay, "low": _low.lay}


def _tried(form: str, shop: Shop, sheet: Sheet, draw: Draw) -> Laid:
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
    steady, laid = lay_steady(form, shop, sheet, draw)
    return finish(steady, sheet, draw, laid)


def lay_steady(form: str, shop: Shop, sheet: Sheet, draw: Draw) -> tuple[Shop, Laid]:
    """Lay out a form, its bottom widened and deepened until it stands on the test's slope.

    Where wishes or sheet leave no room for that, it is laid out as steady as they allow; the
    checks then say so.

    Returns
    -------
    shop, laid
        The shop with the width and depth that were added.

    Raises
    ------
    CannotBuild
        A wish, or the sheet, does not let the best values fit, whatever is added.
    """
    laid = FORMS[form](shop, sheet, draw)
    for _ in range(_ROUNDS):
        wider = _wider(shop, laid, draw)
        if wider is None:
            break
        share = 1.0
        while share > 0.1:
            tried = _with_extra(shop, {k: v * share for k, v in wider.items()})
            try:
                laid = _tried(form, tried, sheet, draw)
            except CannotBuild:
                share /= 2
                continue
            shop = tried
            break
        if share < 1.0:
            break
    return shop, laid


def _wider(shop: Shop, laid: Laid, draw: Draw) -> dict[str, float] | None:
    """What to add so that every state stands; None when it does [m]."""
    add = {"extra_width": 0.0, "extra_depth": 0.0, "extra_front": 0.0}
    wish = {
        "left": "extra_width",
        "right": "extra_width",
        "rear": "extra_depth",
        "front": "extra_front",
    }
    slope = fact("cart.tilt.angle").value
    enough = True
    for each in stands_of(shop, laid, draw):
        height = middle(each.load.centre_m[2])
        for side, samples in each.tilt_rad.items():
            tilt = middle(samples)
            if tilt >= slope + _LEAST_MARGIN:
                continue
            enough = False
            short = height * (math.tan(slope + _MARGIN) - math.tan(tilt))
            both = 2.0 if side in ("left", "right") else 1.0
            add[wish[side]] = max(add[wish[side]], both * short)
    return None if enough else add


def _with_extra(shop: Shop, add: dict[str, float]) -> Shop:
    update: dict[str, Quantity] = {}
    for key, more in add.items():
        was: Quantity = getattr(shop.wishes, key)
        size = Rule.of(shop).up(was.best_si + more)
        update[key] = replace(was, best_si=size, low_si=size, high_si=size)
    return shop.model_copy(update={"wishes": shop.wishes.model_copy(update=update)})
