"""What keeps a standing bucket on the cart: cleats against sliding, straps against tipping.

Seen from the right; front to the left::

          ___
         |   |  cyclone
       /-|---|-\\   lid, a strap over it before and behind the cyclone
       | |   | |
      |  bucket |
      |_|_____|_|   each strap runs from a loop at the left to one at the right
      ===========
"""

from __future__ import annotations

import math

import numpy as np

from ..finding import Finding, judge
from ..quantity import Draw, middle, show
from ..shop import Separator, Shop
from ..sources import fact
from .cutsize import Rule
from .fasteners import ScrewSize, screw_size
from .loads import together
from .model import Cart, HardwareItem, HeldBucket, Samples
from .pushing import stumble_speed_m_s, tipping_force_n
from .screws import in_face_n

#: Half a strap and a finger beside it; a loop beside a cleat's end [m].
_BESIDE_M, _LOOP_M = 0.025, 0.015
#: A strap nearer to the lid's edge slips off it.
_ON_LID = 0.8
#: Steel of a strap's loop under its screws' heads; wood left before their points [m].
_PLATE_M, _LEFT_M = 0.002, 0.002
#: Lengths of small pan-head screws on sale (common practice, no source) [m].
_INCH = tuple(x * 0.0254 for x in (0.375, 0.5, 0.625, 0.75))
_METRIC = (0.010, 0.012, 0.016, 0.020)


def strap_m(held: HeldBucket, separator: Separator) -> float:
    """How far before and behind the bucket's middle its straps run: clear of cyclone and cleats."""
    lid = separator.bucket.top[1].best_si / 2
    cleat = 0.3 * min(held.opening_m, held.opening_length_m)
    clear = max(separator.cyclone.body_diameter.best_si / 2 + _BESIDE_M, cleat + _LOOP_M)
    return min(clear, _ON_LID * lid)


def loop_screw(thickness_m: float, metric: bool) -> tuple[ScrewSize, float]:
    """The longest screw of a loop that does not come through."""
    lengths = _METRIC if metric else _INCH
    fitting = [x for x in lengths if x - _PLATE_M <= thickness_m - _LEFT_M]
    return screw_size(thickness_m, metric), (fitting or lengths[:1])[-1]


def strap_hardware(
    separator: Separator, held: HeldBucket | None, floor_m: float, rule: Rule
) -> list[HardwareItem]:
    """Straps, their loops and screws, on a floor ``floor_m`` thick; none where nothing stands."""
    if held is None or held.hold != "standing":
        return []
    bucket = separator.bucket
    size, length = loop_screw(floor_m, rule.units == "mm")
    # Both sides, the lid, and a hand's breadth to pull; straps are sold by rough lengths.
    step = 0.1 if rule.units == "mm" else 0.1524
    needed = 2 * bucket.height.high_si + bucket.rim[0].high_si + 0.1
    needed = math.ceil(needed / step) * step
    return [
        HardwareItem(
            "strap", f"lashing strap with a cam buckle, {rule.text(needed)} or longer", 2,
            "over the bucket's lid, before and behind the cyclone", needed,
        ),
        HardwareItem("strap-loop", "steel strap loop with two holes", 4,
                     "left and right of the bucket"),
        HardwareItem(
            "strap-screw", f"{size.name} pan-head screw, {rule.text(length)}", 8, "strap loops",
            length, size.diameter_m, None, size.pilot_m,
        ),
    ]  # fmt: skip


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
    names = ("bucket", "cyclone", "dust")
    empty = together("empty", [cart.parts[n] for n in names[:2]])
    full = together("full", [cart.parts[n] for n in names])
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
    thrown = float(np.quantile(speed, 0.05))
    stops = f" Stopped dead from {thrown:.1f} m/s it can go over as well." if thrown < walk else ""
    stands = judge(
        key="cart.bucket.stands", room="cart", about="bucket", draw=draw,
        check="a tug on the tool hose leaves the standing bucket in its place, unstrapped",
        value=pull, limit=tug, must="at least", dimension="force", rests_on=rests,
        sources=["cart.push.tug"], fail="advice",
        good="It stands heavily enough that a firm tug on the hose does not tip it off its cleats.",
        bad="The cleats keep it from sliding, not from tipping: without its straps, a tug of "
        f"{show(middle(pull), 'force', units)} on the hose at the cyclone pulls it over.{stops}",
        do="Keep both straps tight whenever the vacuum runs or the cart rolls, and tie the tool hose "
        "to the cart, so that a tug pulls there.",
    )  # fmt: skip
    row = next(h for h in cart.hardware if h.key == "strap-screw")
    assert row.length_m is not None
    assert row.diameter_m is not None
    moment = np.maximum(tug * port - empty.mass_kg * gravity * arm, 0.0)
    # Two legs share it: of the strap behind where it tips forward, or of one side.
    leg = moment / (2 * np.minimum(arms[1] + held.strap_m, 2 * arms[0]))
    holds = 2 * in_face_n(row.length_m, row.diameter_m, _PLATE_M, draw)
    straps = judge(
        key="cart.bucket.straps", room="cart", about="bucket", draw=draw,
        check="the straps' screws hold the standing bucket against a firm tug on the hose",
        value=holds, limit=leg, must="at least", dimension="force", rests_on=rests,
        sources=["cart.push.tug", "cart.screw.withdrawal", "cart.screw.in_face"],
        good="Two screws in each strap loop hold the bucket against a firm tug on the hose.",
        bad="The screws of the strap loops are too short for a firm tug on the hose.",
        do="Bolt the loops through, with washers.",
    )  # fmt: skip
    return [stands, straps]
