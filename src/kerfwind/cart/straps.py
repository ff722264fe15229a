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
from collections.abc import Sequence

import numpy as np

from ..facts import Term, state
from ..joinery.fasteners import ScrewSize, screw_size
from ..joinery.marks import MarkingRule
from ..joinery.model import HardwareItem
from ..shop import Bucket, Separator
from ..solids import Body, band, box
from .bucket_opening import CLEAT_M, cleat_run_m
from .model import HeldBucket

#: The loops, in the order in which they are made.
LOOPS = ("front left loop", "front right loop", "rear left loop", "rear right loop")
#: Half a strap and a finger beside it; a loop beside a cleat's end [m].
_BESIDE_M, _LOOP_M = 0.025, 0.015
#: A strap as it is drawn: wide and thick; off what it passes; its loop off the bucket's foot, long
#: and high [m].
_WIDE_M, _THICK_M, _HAIR_M = 0.025, 0.0025, 0.003
_FOOT_M, _LOOP_LONG_M, _LOOP_HIGH_M = 0.010, 0.025, 0.006
#: A strap nearer to the lid's edge slips off it.
_ON_LID = 0.8
#: Steel of a strap's loop under its screws' heads; wood left before their points [m].
PLATE_M, _LEFT_M = 0.002, 0.002
#: Lengths of small pan-head screws on sale (common practice, no source) [m].
PAN_INCH = tuple(x * 0.0254 for x in (0.375, 0.5, 0.625, 0.75))
PAN_METRIC = (0.010, 0.012, 0.016, 0.020)


def strap_m(held: HeldBucket, separator: Separator) -> float:
    """How far before and behind the bucket's middle its straps run [m]: clear of cyclone and cleats."""
    lid = separator.bucket.top[1].best_si / 2
    cleat = cleat_run_m(held) / 2
    clear = max(separator.cyclone.body_diameter.best_si / 2 + _BESIDE_M, cleat + _LOOP_M)
    return min(clear, _ON_LID * lid)


def strap_bodies(
    bucket: Bucket, held: HeldBucket, foot: Sequence[float], cleat_m: float
) -> list[Body]:
    """Both straps and their four loops, over a bucket.

    Parameters
    ----------
    foot
        Middle of the bucket's underside: x, y, z [m].
    cleat_m
        Thickness of its cleats.
    """
    x, y, floor = foot
    half, edge, out = _WIDE_M / 2, _edge_m(bucket, held), _out_m(bucket, held, cleat_m)
    low, rim, top = _LOOP_HIGH_M, _wall_m(bucket), bucket.height.best_si
    leg = [(out, low), (out, low + _HAIR_M), (edge, rim), (edge, top)]
    if top - rim < _HAIR_M:
        del leg[2]
    points = [(x + u, floor + z) for u, z in (*((-u, z) for u, z in leg), *reversed(leg))]
    loops, straps = [], []
    names = iter(LOOPS)
    for name, middle_y in (("front strap", y - held.strap_m), ("rear strap", y + held.strap_m)):
        at = (middle_y - half, middle_y + half)
        straps.append(band(name, points, at, _THICK_M))
        for sign in (-1.0, 1.0):
            a, b = sorted((x + sign * out, x + sign * (out + _LOOP_LONG_M)))
            loops.append(box(next(names), (a, at[0], floor), (b, at[1], floor + low), "round", 0.5))
    return [*loops, *straps]


def loops_reach_m(bucket: Bucket, held: HeldBucket, cleat_m: float) -> float:
    """From a standing bucket's middle to the outer ends of its strap loops, left or right [m]."""
    return _out_m(bucket, held, cleat_m) + _LOOP_LONG_M


def _wall_m(bucket: Bucket) -> float:
    """From the bucket's underside to that of its rim, where a strap leaves the wall [m]."""
    return max(bucket.height.best_si - bucket.rim_drop.best_si, bucket.height.best_si / 2)


def _edge_m(bucket: Bucket, held: HeldBucket) -> float:
    """From the bucket's middle to where a strap turns down over the rim [m]."""
    near = held.strap_m - _WIDE_M / 2
    return _HAIR_M + max(
        _chord_m(a.best_si / 2, b.best_si / 2, near, bucket.is_round)
        for a, b in (bucket.rim, bucket.top)
    )


def _out_m(bucket: Bucket, held: HeldBucket, cleat_m: float) -> float:
    """From the bucket's middle to the near end of a loop [m].

    Pulled straight from the rim to there, the strap clears the wall and the cleats.
    """
    near, far = held.strap_m - _WIDE_M / 2, held.strap_m + _WIDE_M / 2
    edge, share = _edge_m(bucket, held), np.linspace(0.0, 0.9, 10)
    wide, long = (
        (low.best_si + share * (top.best_si - low.best_si)) / 2
        for low, top in zip(bucket.bottom, bucket.top, strict=True)
    )
    side = [_chord_m(a, b, near, bucket.is_round) for a, b in zip(wide, long, strict=True)]
    out = max(
        float(np.max((np.array(side) + _HAIR_M - edge * share) / (1 - share))), side[0] + _FOOT_M
    )
    over, run = CLEAT_M / _wall_m(bucket), cleat_run_m(held) / 2
    beside = [held.opening_m / 2 + cleat_m] if near < run + _HAIR_M else []
    beside += [run] if far > held.opening_length_m / 2 - _HAIR_M else []
    for cleat in beside:
        out = max(out, cleat + _HAIR_M, (cleat + _HAIR_M - edge * over) / (1 - over))
    return out


def _chord_m(wide_m: float, long_m: float, y_m: float, is_round: bool) -> float:
    """Half the width of a bucket's section at a distance before or behind its middle [m]."""
    return math.sqrt(max(long_m**2 - y_m**2, 0.0)) if is_round else wide_m


def slide_m(held: HeldBucket, cyclone_diameter_m: float) -> float:
    """How far a standing bucket may slide among its cleats, either way [m].

    No strap then meets the cyclone, and it is no farther than a finger, so that its foot stays
    between the loops.
    """
    beside = held.strap_m - cyclone_diameter_m / 2 - _WIDE_M / 2
    return min(max(beside, 0.0), _BESIDE_M - _WIDE_M / 2)


def loop_screw(thickness_m: float, metric: bool) -> tuple[ScrewSize, float]:
    """Size and length [m] of the longest screw of a loop that does not come through."""
    lengths = PAN_METRIC if metric else PAN_INCH
    fitting = [x for x in lengths if x - PLATE_M <= thickness_m - _LEFT_M]
    return screw_size(thickness_m, metric), (fitting or lengths[:1])[-1]


def strap_hardware(
    separator: Separator, held: HeldBucket | None, floor_m: float, rule: MarkingRule
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
            "strap",
            state("cart.hardware.strap", length=rule.amount(needed)),
            2,
            (Term("use", "over the lid"),),
            needed,
            kind="strap",
        ),
        HardwareItem(
            "strap-loop",
            state("cart.hardware.loop"),
            4,
            (Term("use", "beside the bucket"),),
            kind="loop",
        ),
        HardwareItem(
            "strap-screw",
            state("cart.hardware.pan_head", size=size.says, length=rule.amount(length)),
            8,
            (Term("use", "strap loops"),),
            length,
            size.diameter_m,
            None,
            size.pilot_m,
            kind="screw",
        ),
    ]


def anchor_hardware(thickness_m: float, rule: MarkingRule) -> list[HardwareItem]:
    """The loop by which the tool hose is tied low, its strap and its screws."""
    size, length = loop_screw(thickness_m, rule.units == "mm")
    return [
        HardwareItem(
            "anchor-loop",
            state("cart.hardware.loop"),
            1,
            (Term("use", "hose anchor"),),
            kind="loop",
        ),
        HardwareItem(
            "anchor-strap", state("cart.hardware.tie"), 1, (Term("use", "hose anchor"),), kind="tie"
        ),
        HardwareItem(
            "anchor-screw",
            state("cart.hardware.pan_head", size=size.says, length=rule.amount(length)),
            2,
            (Term("use", "hose anchor"),),
            length,
            size.diameter_m,
            None,
            size.pilot_m,
            kind="screw",
        ),
    ]
