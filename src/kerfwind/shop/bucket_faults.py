"""What does not make sense in a bucket, drum or box as it was measured."""

from __future__ import annotations

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
