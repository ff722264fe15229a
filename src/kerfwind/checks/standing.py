"""How a cart stands in each of its states."""

from __future__ import annotations

import numpy as np

from ..cart import CartLayout
from ..cart.loads import CartState, states
from ..cart.model import Load
from ..cart.whole_cart import parts_of
from ..fact_samples import Samples, spread_fact
from ..quantity import Draw
from ..shop import Shop
from .tipping import Stand, stand


def stands_of(
    shop: Shop, layout: CartLayout, draw: Draw, loads: dict[CartState, Load] | None = None
) -> tuple[Stand, ...]:
    """How a cart that is laid out stands, in each of its states; ``loads`` where it is weighed."""
    loads = states(parts_of(shop, layout, draw)) if loads is None else loads
    axles, trail = np.array(layout.places.where.casters_xy), trail_m(shop, draw)
    return tuple(stand(state, load, axles, trail) for state, load in loads.items())


def trail_m(shop: Shop, draw: Draw) -> Samples:
    """How far a swivelling wheel touches the floor from its pivot, over the draw [m]."""
    return spread_fact("cart.caster.trail", draw) * shop.wishes.caster_diameter.best_si
