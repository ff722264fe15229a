"""Whether one person should lift the full bucket out."""

from __future__ import annotations

import numpy as np

from ..cart.loads import SEPARATOR
from ..facts import Amount, Term, facts
from ..finding import Finding, judge
from ..lifting import recommended_lift_kg
from ..quantity import Draw, middle
from ..shop import Shop
from ..sources import fact
from .checked import CheckedCart


def lifting_finding(shop: Shop, cart: CheckedCart, draw: Draw) -> Finding:
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
    limits = [
        recommended_lift_kg(reach, hands, top, grip=coupling) for hands in (start, raised, grip)
    ]
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
