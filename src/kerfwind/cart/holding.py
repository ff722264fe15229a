"""How a bucket sits in the opening of a shelf: carried by its rim, or wedged by its taper."""

from __future__ import annotations

import itertools

import numpy as np

from ..quantity import Draw
from ..shop import Bucket
from ..sources import fact
from .cutsize import Rule
from .model import HeldBucket, Samples, Unmet

#: Height of the cleats between which a standing bucket is kept [m].
CLEAT_M = 2 * 0.0254

#: A jigsaw or trammel keeps an opening's diameter to about this, either way [m].
CUT_ERROR_M = 0.0008


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


def by_rim(bucket: Bucket, rule: Rule, draw: Draw) -> tuple[HeldBucket, list[Unmet]]:
    """An opening that the body passes and the rim does not."""
    play = fact("cart.opening.play").value
    bearing = fact("cart.rim.bearing").value
    top, rim = bucket.top_diameter, bucket.rim_diameter
    least, most = top.high_si + play, rim.low_si - 2 * bearing
    unmet: list[Unmet] = []
    if rule.up(least) <= most:
        opening = rule.up(least)
    else:
        least, most = top.best_si + play / 2, rim.best_si - 2 * bearing
        opening = rule.near((least + most) / 2)
        if least > most + rule.step_m:
            unmet.append(
                Unmet(
                    "wishes.hold_bucket",
                    f"a rim of {rule.text(rim.best_si)} on a body of {rule.text(top.best_si)}",
                    "a rim wide enough to rest on wood all round",
                    "Let the bucket stand on the shelf instead.",
                    (("wishes.hold_bucket", "standing"),),
                )
            )
    depth = draw.of(bucket.height) - draw.of(bucket.rim_drop)
    held = HeldBucket(
        "rim", opening, depth,
        bucket.height.low_si - bucket.rim_drop.high_si,
        bucket.height.high_si - bucket.rim_drop.low_si,
    )  # fmt: skip
    return held, unmet


def by_taper(bucket: Bucket, rule: Rule, draw: Draw) -> tuple[HeldBucket, list[Unmet]]:
    """An opening in which a tapered bucket wedges at about three quarters of its side."""
    bottom, top = bucket.bottom_diameter, bucket.top_diameter
    opening = rule.near(bottom.best_si + 0.75 * (top.best_si - bottom.best_si))
    unmet: list[Unmet] = []
    if bucket.shape == "straight" or top.best_si - bottom.best_si < 0.006:
        unmet.append(
            Unmet(
                "wishes.hold_bucket",
                "`taper` with a bucket that hardly tapers",
                "`rim` or `standing`",
                "Carry it by its rim.",
                (("wishes.hold_bucket", "rim"),),
            )
        )
    error = draw.between(-CUT_ERROR_M, CUT_ERROR_M, "cart.opening.cut")
    side = draw.of(bucket.height) - draw.of(bucket.rim_drop)
    depth = taper_depth_m(opening + error, draw.of(bottom), draw.of(top), side)
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
    return HeldBucket("taper", opening, depth, min(ends), max(ends)), unmet


def standing(bucket: Bucket, rule: Rule, draw: Draw) -> tuple[HeldBucket, list[Unmet]]:
    """On the shelf itself, between cleats."""
    bottom = bucket.bottom_diameter.high_si
    side = max(bucket.height.low_si - bucket.rim_drop.high_si, CLEAT_M)
    grow = max(bucket.top_diameter.high_si - bottom, 0.0) / side
    pocket = rule.up(bottom + grow * CLEAT_M + fact("cart.opening.play").value)
    return HeldBucket("standing", pocket, np.zeros(draw.count), 0.0, 0.0), []


def hold(bucket: Bucket, wish: str, rule: Rule, draw: Draw) -> tuple[HeldBucket, list[Unmet]]:
    """The bucket held as wished, with whatever stands against it."""
    return {"rim": by_rim, "taper": by_taper, "standing": standing}[wish](bucket, rule, draw)
