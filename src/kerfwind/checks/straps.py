"""Whether a bucket that stands on the cart stays there when the tool hose is tugged."""

from __future__ import annotations

import numpy as np

from ..cart.loads import SEPARATOR, together
from ..cart.model import Cart
from ..cart.straps import PLATE_M
from ..fact_samples import Samples
from ..finding import Finding, judge
from ..joinery.screws import in_face_n
from ..quantity import Draw, middle, show
from ..shop import Shop
from ..sources import fact
from .pushing import stumble_speed_m_s, tipping_force_n


def strap_findings(shop: Shop, cart: Cart, draw: Draw) -> list[Finding]:
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
    units = shop.shop.units
    rests = [bucket.weight, *bucket.bottom, bucket.height, cyclone.weight, cyclone.inlet_height]
    slow = float(np.quantile(speed, 0.05))
    stops = (
        f" If the cart stops dead from {show(slow, 'speed', units)} or more, it can go over as well."
        if slow < walk
        else ""
    )
    stands = judge(
        key="cart.bucket.stands",
        room="cart",
        about="bucket",
        draw=draw,
        check="a tug on the tool hose leaves the standing bucket in its place, unstrapped",
        value=pull,
        limit=tug,
        must="at least",
        dimension="force",
        rests_on=rests,
        sources=["cart.push.tug", "cart.push.walk"],
        fail="advice",
        good="It is heavy enough that a firm tug on the hose does not tip it off its cleats.",
        bad="The cleats keep it from sliding, not from tipping: without its straps, a tug of "
        f"{show(middle(pull), 'force', units)} on the hose at the cyclone pulls it over.{stops}",
        do="Keep both straps tight whenever the vacuum runs or the cart rolls, and tie the tool hose "
        "to the cart, so that a tug pulls there.",
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
        room="cart",
        about="bucket",
        draw=draw,
        check="the straps' screws hold the standing bucket against a firm tug on the hose",
        value=holds,
        limit=leg,
        must="at least",
        dimension="force",
        rests_on=rests,
        sources=["cart.push.tug", "cart.screw.withdrawal", "cart.screw.in_face"],
        good="Two screws in each strap loop hold the bucket against a firm tug on the hose.",
        bad="The screws of the strap loops are too short for a firm tug on the hose.",
        do="Bolt the loops through, with washers.",
    )
    return [stands, straps]
