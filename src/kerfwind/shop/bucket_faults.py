"""What does not make sense in a bucket, drum or box as it was measured."""

from __future__ import annotations

import math
from collections.abc import Iterator

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


def bucket_faults(bucket: Bucket) -> Iterator[tuple[str, str, str, str]]:
    """Field, what was found, what is allowed and how to mend it, for each fault."""
    other = [n for n in (_ROUND if bucket.shape == "box" else _FLAT) if getattr(bucket, n)]
    if other:
        for name in other:
            given = getattr(bucket, name)
            what = "a box has no diameter" if bucket.shape == "box" else "a round bucket has none"
            allowed = _FLAT if bucket.shape == "box" else _ROUND
            yield (
                name,
                f"`{given.text}`, but {what}",
                ", ".join(allowed),
                "Remove it, or change `shape`.",
            )
        return
    for way in _WAYS:
        top = getattr(bucket, f"top_{way}")
        if top is None:
            continue
        bottom, rim = getattr(bucket, f"bottom_{way}"), getattr(bucket, f"rim_{way}")
        # A range that the catalogue filled may reach past what was measured.
        if bottom.best_si > top.best_si + 1e-9:
            yield (
                f"bottom_{way}",
                f"`{bottom.text}`, wider than the top, `{top.text}`",
                "no wider than the top",
                "Swap them, or measure again.",
            )
        if rim.best_si < top.best_si - 1e-9:
            yield (
                f"rim_{way}",
                f"`{rim.text}`, narrower than the wall under it",
                f"at least the top {way}",
                "Measure over the rim.",
            )
    if bucket.corner is not None:
        least = min(q.best_si for q in bucket.bottom)
        if bucket.corner.best_si > least / 2 + 1e-9:
            yield (
                "corner",
                f"`{bucket.corner.text}`, more than half its narrow side",
                "up to half its narrow side",
                "Measure the radius of an upright corner.",
            )
    if bucket.rim_drop.best_si > bucket.height.best_si / 2:
        yield (
            "rim_drop",
            f"`{bucket.rim_drop.text}`",
            "less than half the bucket's height",
            "Measure from the top of the rim down.",
        )
    yield from _volume(bucket)


#: A label's volume may be taken to the brim and rounded up, but not by more than this.
_ROUNDED = 1.25


def _volume(bucket: Bucket) -> Iterator[tuple[str, str, str, str]]:
    """A volume that the bucket's own outside does not hold."""
    sides = [(a.high_si, b.high_si) for a, b in (bucket.top, bucket.bottom)]
    area = sum(a * b for a, b in sides) / 2 * (math.pi / 4 if bucket.is_round else 1.0)
    most = area * bucket.height.high_si
    if bucket.volume.low_si > _ROUNDED * most:
        yield (
            "volume",
            f"`{bucket.volume.text}` in a bucket that measures {most * 1000:.1f} L outside",
            "no more than its outside holds",
            "Check its sizes and their units, or the volume.",
        )
