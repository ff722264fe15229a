"""How a bucket sits in the opening of a shelf: carried by its rim, or wedged by its taper.

Round buckets have one size across; boxes have two, and an opening with rounded corners.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import numpy as np

from ..fact_samples import Samples
from ..facts import Amount, Fix
from ..faults import Refusal, refusal
from ..joinery.marks import MarkingRule
from ..quantity import Draw, Quantity
from ..shop import Bucket
from ..sources import fact
from .model import HeldBucket, Hold

#: Height of the cleats between which a standing bucket is kept [m].
CLEAT_M = 2 * 0.0254
#: Their length, as a share of the pocket's shorter way.
_CLEAT_SHARE = 0.6

#: A jigsaw or trammel keeps an opening's diameter to about this, either way [m].
CUT_ERROR_M = 0.0008

#: Taper, over both sides together, below which a bucket does not wedge [m].
_LEAST_TAPER_M = 0.006


def taper_depth_m(
    opening_m: Samples | float,
    bottom_m: Samples | float,
    top_m: Samples | float,
    side_m: Samples | float,
) -> Samples:
    """How far a tapered bucket sinks through an opening until it wedges [m].

    By similar triangles: the bucket's diameter grows evenly from ``bottom_m`` to ``top_m``
    over the height ``side_m``, and it stops where that equals the opening. Zero where it
    does not go in; ``side_m`` where it runs up to its rim.

    Examples
    --------
    >>> round(float(taper_depth_m(0.285, 0.265, 0.295, 0.270)), 3)
    0.18
    """
    grow = np.maximum(np.asarray(top_m, dtype=float) - bottom_m, 1e-9)
    depth: Samples = np.clip(side_m * (opening_m - np.asarray(bottom_m)) / grow, 0.0, side_m)
    return depth


def cleat_run_m(held: HeldBucket) -> float:
    """Length of the cleats about a standing bucket [m], before rounding."""
    return _CLEAT_SHARE * min(held.opening_m, held.opening_length_m)


def _ways(bucket: Bucket) -> tuple[int, ...]:
    """Side to side and front to back; one of them says all of a round bucket."""
    return (0,) if bucket.is_round else (0, 1)


def _held(
    hold_: Hold,
    bucket: Bucket,
    openings: Sequence[float],
    corner: float,
    depth: Samples,
    least: float,
    most: float,
) -> HeldBucket:
    wide, long = openings[0], openings[-1]
    radius = wide / 2 if bucket.is_round else min(corner, wide / 2, long / 2)
    return HeldBucket(hold_, wide, long, radius, depth, least, most)


def corner_clear_m(corner_m: float, gap_m: float) -> float:
    """Largest corner radius of an opening that a box's corner passes [m].

    With ``gap_m`` free at each side, the box's corner of radius R and the opening's of radius r
    meet on the diagonal when (√2 − 1) (r − R) = √2 g.

    Examples
    --------
    >>> round(corner_clear_m(0.0, 0.001) * 1000, 3)
    3.414
    """
    return corner_m + math.sqrt(2) / (math.sqrt(2) - 1) * gap_m


def _corner(bucket: Bucket, gap_m: float, rule: MarkingRule) -> float:
    """Corner radius to cut: about that of the box and its play, so that the rim rests there too."""
    own = bucket.corner.low_si if bucket.corner is not None else 0.0
    return rule.down(min(max(own + gap_m, 3 * gap_m), corner_clear_m(own, 0.9 * gap_m)))


def by_rim(bucket: Bucket, rule: MarkingRule, draw: Draw) -> tuple[HeldBucket, list[Refusal]]:
    """Hold the bucket by its rim: in an opening that its body passes and its rim does not."""
    unmet: list[Refusal] = []
    openings: list[float] = []
    for way in _ways(bucket):
        top, rim = bucket.top[way], bucket.rim[way]
        opening, fits = _rim_opening(top, rim, rule)
        openings.append(opening)
        if not fits and not unmet:
            unmet.append(
                refusal(
                    "cart.refused.narrow_rim",
                    "wishes.hold_bucket",
                    fixes=(Fix("wishes.hold_bucket", "standing", False),),
                    rim=Amount(rim.best_si, "length"),
                    body=Amount(top.best_si, "length"),
                )
            )
    gap = min(o - bucket.top[w].best_si for o, w in zip(openings, _ways(bucket), strict=True)) / 2
    depth = draw.of(bucket.height) - draw.of(bucket.rim_drop)
    return _held(
        "rim",
        bucket,
        openings,
        _corner(bucket, max(gap, 0.0), rule),
        depth,
        bucket.height.low_si - bucket.rim_drop.high_si,
        bucket.height.high_si - bucket.rim_drop.low_si,
    ), unmet


def _rim_opening(top: Quantity, rim: Quantity, rule: MarkingRule) -> tuple[float, bool]:
    """An opening one way, and whether the best sizes let the rim rest on wood."""
    play = fact("cart.opening.play").value
    bearing = fact("cart.rim.bearing").value
    least, most = top.high_si + play, rim.low_si - 2 * bearing
    if rule.up(least) <= most:
        return rule.up(least), True
    least, most = top.best_si + play / 2, rim.best_si - 2 * bearing
    return rule.near((least + most) / 2), least <= most + rule.step_m


def by_taper(bucket: Bucket, rule: MarkingRule, draw: Draw) -> tuple[HeldBucket, list[Refusal]]:
    """An opening in which a tapered bucket wedges at about three quarters of its side.

    A box wedges by whichever of its two ways tapers into the opening first; a way that
    hardly tapers gets play.
    """
    unmet: list[Refusal] = []
    tapers = [
        bucket.shape not in ("straight", "drum") and top.best_si - bottom.best_si >= _LEAST_TAPER_M
        for top, bottom in zip(bucket.top, bucket.bottom, strict=True)
    ]
    if not any(tapers):
        unmet.append(
            refusal(
                "cart.refused.hardly_tapers",
                "wishes.hold_bucket",
                fixes=(Fix("wishes.hold_bucket", "rim", False),),
            )
        )
    error = draw.between(-CUT_ERROR_M, CUT_ERROR_M, "cart.opening.cut")
    side = draw.of(bucket.height) - draw.of(bucket.rim_drop)
    openings: list[float] = []
    depths: list[Samples] = []
    least = most = math.inf
    for way in _ways(bucket):
        bottom, top = bucket.bottom[way], bucket.top[way]
        if any(tapers) and not tapers[way]:
            openings.append(rule.up(top.high_si + fact("cart.opening.play").value))
            continue
        opening = rule.near(bottom.best_si + 0.75 * (top.best_si - bottom.best_si))
        openings.append(opening)
        depths.append(taper_depth_m(opening + error, draw.of(bottom), draw.of(top), side))
        ends = [
            float(taper_depth_m(opening + e, b, t, h - r))
            for e, b, t, h, r in itertools.product(
                (-CUT_ERROR_M, CUT_ERROR_M),
                (bottom.low_si, bottom.high_si),
                (top.low_si, top.high_si),
                (bucket.height.low_si, bucket.height.high_si),
                (bucket.rim_drop.low_si, bucket.rim_drop.high_si),
            )
        ]
        least, most = min(least, min(ends)), min(most, max(ends))
    # The walls must wedge before the corners do.
    own = bucket.corner.low_si if bucket.corner is not None else 0.0
    depth: Samples = np.minimum.reduce(depths)
    return _held("taper", bucket, openings, rule.down(0.85 * own), depth, least, most), unmet


def standing(bucket: Bucket, rule: MarkingRule, draw: Draw) -> tuple[HeldBucket, list[Refusal]]:
    """Stand the bucket on the shelf or the bottom itself, between cleats."""
    pockets: list[float] = []
    for way in _ways(bucket):
        bottom = bucket.bottom[way].high_si
        side = max(bucket.height.low_si - bucket.rim_drop.high_si, CLEAT_M)
        grow = max(bucket.top[way].high_si - bottom, 0.0) / side
        pockets.append(rule.up(bottom + grow * CLEAT_M + fact("cart.opening.play").value))
    return _held("standing", bucket, pockets, 0.0, np.zeros(draw.count), 0.0, 0.0), []


def hold(
    bucket: Bucket, wish: str, rule: MarkingRule, draw: Draw
) -> tuple[HeldBucket, list[Refusal]]:
    """Hold the bucket as it is wished; how it sits, and the wishes that cannot be met so."""
    return {"rim": by_rim, "taper": by_taper, "standing": standing}[wish](bucket, rule, draw)
