"""What does not make sense in a bucket, drum or box as it was measured."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..facts import Amount, Fix, Listing, Name
from ..faults import Refusal, refusal
from .model import Bucket

_WAYS = ("diameter", "length", "width")
_ROUND = ("top_diameter", "bottom_diameter", "rim_diameter")
_FLAT = (
    "top_length",
    "top_width",
    "bottom_length",
    "bottom_width",
    "rim_length",
    "rim_width",
    "corner",
)


def bucket_faults(bucket: Bucket, *, chosen: bool) -> Iterator[tuple[str, Refusal]]:
    """The field of each fault, and what is wrong there; ``chosen`` is whether its shape was."""
    other = [n for n in (_ROUND if bucket.shape == "box" else _FLAT) if getattr(bucket, n)]
    if other:
        # Of several sizes it is one thing: they are all of another shape than was chosen.
        yield (
            "shape" if chosen else other[0],
            refusal(
                "shop.bucket.other_shape",
                shape="box" if bucket.shape == "box" else "round",
                fields=Listing(tuple(map(Name, other)), "and"),
                fixes=tuple(Fix(f"separator.bucket.{n}", Listing(()), False) for n in other),
            ),
        )
        return
    for way in _WAYS:
        top = getattr(bucket, f"top_{way}")
        if top is None:
            continue
        bottom, rim = getattr(bucket, f"bottom_{way}"), getattr(bucket, f"rim_{way}")
        # A range that the catalogue filled may reach past what was measured.
        if bottom.best_si > top.best_si + 1e-9:
            given, widest = Name(bottom.text), Name(top.text)
            yield f"bottom_{way}", refusal("shop.bucket.wide_floor", given=given, top=widest)
        if rim.best_si < top.best_si - 1e-9:
            yield f"rim_{way}", refusal("shop.bucket.narrow_rim", given=Name(rim.text), way=way)
    if bucket.corner is not None:
        least = min(q.best_si for q in bucket.bottom)
        if bucket.corner.best_si > least / 2 + 1e-9:
            yield "corner", refusal("shop.bucket.wide_corner", given=Name(bucket.corner.text))
    if bucket.rim_drop.best_si > bucket.height.best_si / 2:
        yield "rim_drop", refusal("shop.bucket.deep_rim", given=Name(bucket.rim_drop.text))
    yield from _volume(bucket)


#: A label's volume may be taken to the brim and rounded up, but not by more than this.
_ROUNDED = 1.25


def _volume(bucket: Bucket) -> Iterator[tuple[str, Refusal]]:
    """A volume that the bucket's own outside does not hold."""
    sides = [(a.high_si, b.high_si) for a, b in (bucket.top, bucket.bottom)]
    area = sum(a * b for a, b in sides) / 2 * (math.pi / 4 if bucket.is_round else 1.0)
    most = area * bucket.height.high_si
    if bucket.volume.low_si > _ROUNDED * most:
        given, outside = Name(bucket.volume.text), Amount(most, "volume")
        yield "volume", refusal("shop.bucket.small", given=given, outside=outside)
