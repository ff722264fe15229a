"""How much one person should lift: the revised NIOSH lifting equation."""

from __future__ import annotations

import numpy as np

from ..cart.loads import SEPARATOR
from ..cart.model import Cart
from ..fact_samples import Samples
from ..facts import Amount, Term, facts
from ..finding import Finding, judge
from ..quantity import Draw, middle
from ..shop import Shop
from ..sources import fact


def recommended_kg(
    reach_m: Samples | float,
    hands_m: Samples | float,
    travel_m: Samples | float,
    coupling: float = 1.0,
) -> Samples:
    """Mass that nearly all may lift once in a while, straight before them [kg].

    23 kg × (25/H) (1 − 0.003 |V − 75|) (0.82 + 4.5/D) C, in centimetres: each multiplier at most 1,
    and nothing beyond the farthest reach or above the highest hands.

    Parameters
    ----------
    reach_m
        From between the ankles to the hands, level.
    hands_m
        Height of the hands over the floor.
    travel_m
        Way that the hands go up or down.

    Examples
    --------
    >>> round(float(recommended_kg(0.38, 0.90, 0.80, 0.95)), 1)
    12.0
    """
    h, v, d = (np.asarray(x, dtype=float) for x in (reach_m, hands_m, travel_m))
    near, far = fact("cart.lift.near").value, fact("cart.lift.farthest").value
    level = np.where(h <= far, near / np.maximum(h, near), 0.0)
    off = np.abs(v - fact("cart.lift.knuckles").value)
    height = np.where(v <= fact("cart.lift.highest").value, np.maximum(1 - 0.3 * off, 0.0), 0.0)
    way = 0.82 + 0.045 / np.maximum(d, fact("cart.lift.travel").value)
    found: Samples = fact("cart.lift.constant").value * level * height * way * coupling
    return found


def lifting_finding(shop: Shop, cart: Cart, draw: Draw) -> Finding:
    """Whether one person should lift the full bucket out and set it on the floor.

    The hands are under its rim; where it hangs, lifted clear and on the floor, the least counts.
    """
    bucket, held = shop.separator.bucket, cart.bucket
    assert held is not None
    full = np.sum([cart.parts[n].mass_kg for n in SEPARATOR], axis=0)
    grip = draw.of(bucket.height) - draw.of(bucket.rim_drop)
    reach = fact("cart.lift.body").value + min(q.best_si for q in bucket.rim) / 2
    hang = np.maximum(held.depth_m, 0.0)
    # Up until its floor is clear of the shelf, and from there down to the floor.
    top = np.full(draw.count, cart.sizes.shelf_top_m)
    start, raised = top - hang + grip, top + grip
    coupling = fact("cart.lift.coupling").value
    limits = [recommended_kg(reach, hands, top, coupling) for hands in (start, raised, grip)]
    limit = np.minimum.reduce(limits)
    return judge(
        key="cart.bucket.lift",
        about=Term("part", "bucket"),
        draw=draw,
        value=full,
        limit=limit,
        must="at most",
        dimension="mass",
        rests_on=[bucket.volume, bucket.weight, bucket.height],
        sources=["cart.lift.constant", "cart.lift.near", "cart.sawdust.density"],
        outcome="heavy",
        facts=facts(weight=Amount(middle(full), "mass"), most=Amount(middle(limit), "mass")),
        fail="advice",
    )
