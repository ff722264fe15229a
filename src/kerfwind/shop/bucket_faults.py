"""What does not make sense in a bucket, drum or box as it was measured."""

from __future__ import annotations

import math
from collections.abc import Container, Iterator

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


def bucket_faults(bucket: Bucket, in_file: Container[str]) -> Iterator[tuple[str, Refusal]]:
    """The field of each fault, and what is wrong there; ``in_file`` are those it has."""
    chosen = "shape" in in_file
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
    yield from _volume(bucket, in_file)


#: A label's volume may be taken to the brim and rounded up, but not by more than this.
_ROUNDED = 1.25
#: A label's volume is commonly four fifths or more of what fills it to the brim; no bucket's is
#: less than this share of it.
_TO_BRIM = 0.6


def _volume(bucket: Bucket, in_file: Container[str]) -> Iterator[tuple[str, Refusal]]:
    """A volume that the bucket's own outside does not hold, or far less than it holds."""
    sides = [(a.high_si, b.high_si) for a, b in (bucket.top, bucket.bottom)]
    area = sum(a * b for a, b in sides) / 2 * (math.pi / 4 if bucket.is_round else 1.0)
    most = area * bucket.height.high_si
    given = Name(bucket.volume.text)
    if bucket.volume.low_si > _ROUNDED * most:
        yield "volume", refusal("shop.bucket.small", given=given, outside=Amount(most, "volume"))
    ways = ("diameter",) if bucket.is_round else ("length", "width")
    sizes = ("height", *(f"{level}_{way}" for level in ("top", "bottom") for way in ways))
    if not all(name in in_file for name in ("volume", *sizes)):
        return
    least = _least_inside(bucket)
    if bucket.volume.high_si < _TO_BRIM * least:
        yield "volume", refusal("shop.bucket.large", given=given, inside=Amount(least, "volume"))


def _least_inside(bucket: Bucket) -> float:
    """What fills it to the brim, as small and as thick as it may be [m³]."""
    wall = bucket.wall.high_si
    across = [
        (top.low_si + bottom.low_si) / 2 - 2 * wall
        for top, bottom in zip(bucket.top, bucket.bottom, strict=True)
    ]
    area = math.prod(across) * (math.pi / 4 if bucket.is_round else 1.0)
    if bucket.corner is not None:
        area -= (4 - math.pi) * bucket.corner.high_si**2
    return area * (bucket.height.low_si - wall)
