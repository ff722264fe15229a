"""How a cart stands in each of its states, and its bottom widened until it does."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from ..cart import CannotBuild, CartLayout
from ..cart.forms import FORMS, lay_out_without_remedy
from ..cart.loads import states
from ..cart.whole_cart import parts_of
from ..fact_samples import Samples, spread_fact
from ..joinery import MarkingRule
from ..quantity import Draw, Quantity, middle
from ..shop import Sheet, Shop
from ..sources import fact
from .tipping import Stand, stand

#: A cart that stands by less than the first margin is steadied to the second [rad].
_LEAST_MARGIN, _MARGIN = math.radians(1.0), math.radians(1.5)


_ROUNDS = 4


def widen_until_it_stands(
    form: str, shop: Shop, sheet: Sheet, draw: Draw
) -> tuple[Shop, CartLayout]:
    """Lay out a form, its bottom widened and deepened until it stands on the test's slope.

    Where wishes or sheet leave no room for that, it is laid out as steady as they allow; the
    checks then say so.

    Returns
    -------
    shop, layout
        The shop with the width and depth that were added.

    Raises
    ------
    CannotBuild
        A wish, or the sheet, does not let the best values fit, whatever is added.
    """
    layout = FORMS[form](shop, sheet, draw)
    for _ in range(_ROUNDS):
        wider = _wider(shop, layout, draw)
        if wider is None:
            break
        share = 1.0
        while share > 0.1:
            tried = _with_extra(shop, {k: v * share for k, v in wider.items()})
            try:
                layout = lay_out_without_remedy(form, tried, sheet, draw)
            except CannotBuild:
                share /= 2
                continue
            shop = tried
            break
        if share < 1.0:
            break
    return shop, layout


def _wider(shop: Shop, layout: CartLayout, draw: Draw) -> dict[str, float] | None:
    """What to add to width and depth so that it stands in every state [m]; None where it does already."""
    add = {"extra_width": 0.0, "extra_depth": 0.0, "extra_front": 0.0}
    wish = {
        "left": "extra_width",
        "right": "extra_width",
        "rear": "extra_depth",
        "front": "extra_front",
    }
    slope = fact("cart.tilt.angle").value
    enough = True
    for each in stands_of(shop, layout, draw):
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
        size = MarkingRule.of(shop).up(was.best_si + more)
        update[key] = replace(was, best_si=size, low_si=size, high_si=size)
    return shop.model_copy(update={"wishes": shop.wishes.model_copy(update=update)})


def stands_of(shop: Shop, layout: CartLayout, draw: Draw) -> tuple[Stand, ...]:
    """How a cart that is laid out stands, in each of its states."""
    axles, trail = np.array(layout.places.where.casters_xy), trail_m(shop, draw)
    return tuple(
        stand(state, load, axles, trail)
        for state, load in states(parts_of(shop, layout, draw)).items()
    )


def trail_m(shop: Shop, draw: Draw) -> Samples:
    """How far a swivelling wheel touches the floor from its pivot, over the draw [m]."""
    return spread_fact("cart.caster.trail", draw) * shop.wishes.caster_diameter.best_si
