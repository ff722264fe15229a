"""Whether a bucket that stands on the cart stays there when the tool hose is tugged."""

from __future__ import annotations

import numpy as np

from ..cart.loads import SEPARATOR, together
from ..cart.straps import PLATE_M
from ..fact_samples import Samples
from ..facts import Amount, Term, facts
from ..finding import Finding, judge
from ..joinery.screws import in_face_n
from ..quantity import Draw, middle
from ..shop import Shop
from ..sources import fact
from .checked import CheckedCart
from .pushing import stumble_speed_m_s, tipping_force_n


def strap_findings(shop: Shop, cart: CheckedCart, draw: Draw) -> list[Finding]:
    """Whether a standing bucket stays without its straps, and whether these hold it.

    It tips about the edge of its floor; that the cleats hinder it a little more is left out.
    """
    held = cart.bucket
    if held is None or held.hold != "standing":
        return []
    bucket, cyclone = shop.separator.bucket, shop.separator.cyclone
    floor = cart.sizes.shelf_top_m
    gravity = fact("general.gravity").value
    empty = together("empty", [cart.parts[n] for n in SEPARATOR if n != "dust"])
    full = together("full", [cart.parts[n] for n in SEPARATOR])
    arms = [draw.of(q) / 2 for q in (bucket.bottom[0], bucket.bottom[1])]
    arm: Samples = np.minimum(*arms)
    port = cart.parts["cyclone"].centre_m[2] - floor
    port = port + draw.of(cyclone.inlet_height) - draw.of(cyclone.height) / 2
    pulls, speeds = [], []
    for load in (empty, full):
        height = load.centre_m[2] - floor
        pulls.append(tipping_force_n(load.mass_kg * gravity, arm, port))
        # Its own radius of gyration left out: it then goes over from a lower speed.
        speeds.append(stumble_speed_m_s(arm, height, np.zeros_like(height)))
    pull, speed = np.minimum(*pulls), np.minimum(*speeds)
    tug, walk = fact("cart.push.tug").value, fact("cart.push.walk").value
    rests = [bucket.weight, *bucket.bottom, bucket.height, cyclone.weight, cyclone.inlet_height]
    slow = float(np.quantile(speed, 0.05))
    stands = judge(
        key="cart.bucket.stands",
        about=Term("part", "bucket"),
        draw=draw,
        value=pull,
        limit=tug,
        must="at least",
        dimension="force",
        rests_on=rests,
        sources=["cart.push.tug", "cart.push.walk"],
        fail="advice",
        outcome="tips",
        facts=facts(
            tug=Amount(middle(pull), "force"),
            stops="topples" if slow < walk else "stands",
            speed=Amount(slow, "pace"),
        ),
    )
    row = next(h for h in cart.hardware if h.key == "strap-screw")
    assert row.length_m is not None
    assert row.diameter_m is not None
    moment = np.maximum(tug * port - empty.mass_kg * gravity * arm, 0.0)
    # Two legs share it: of the strap behind where it tips forward, or of one side.
    leg = moment / (2 * np.minimum(arms[1] + held.strap_m, 2 * arms[0]))
    holds = 2 * in_face_n(row.length_m, row.diameter_m, PLATE_M, draw)
    straps = judge(
        key="cart.bucket.straps",
        about=Term("part", "bucket"),
        draw=draw,
        value=holds,
        limit=leg,
        must="at least",
        dimension="force",
        rests_on=rests,
        sources=["cart.push.tug", "cart.screw.withdrawal", "cart.screw.in_face"],
        outcome="short_screws",
    )
    return [stands, straps]
