"""Equal parts of two readings of a shop file as the same objects.

What is known of a part by its identity, such as its digest, then holds after an edit elsewhere.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from .model import Part, Shop


def with_kept_parts(shop: Shop, before: Shop) -> Shop:
    """``shop``, with every part of ``before`` that is equal in place of its own."""
    kept: Shop = _kept(shop, before)
    return kept


def _kept(new: Any, old: Any) -> Any:
    if new is old or type(new) is not type(old):
        return new
    if isinstance(new, Part):
        return _part_kept(new, old)
    if isinstance(new, tuple):
        return _rows_kept(new, old)
    return old if new == old else new


def _part_kept(new: Any, old: Any) -> Any:
    update: dict[str, Any] = {}
    same = True
    for name, value in new.__dict__.items():
        before = old.__dict__[name]
        kept = _kept(value, before)
        same = same and kept is before
        if kept is not value:
            update[name] = kept
    if same:
        return old
    return new.model_copy(update=update) if update else new


def _rows_kept(new: Sequence[Any], old: Sequence[Any]) -> Sequence[Any]:
    """Rows that have a name are known by it, others by their number."""
    named = {row.name: row for row in old if hasattr(row, "name")}
    pairs = [
        (row, named.get(row.name) if hasattr(row, "name") else old[n] if n < len(old) else None)
        for n, row in enumerate(new)
    ]
    kept = tuple(_kept(row, before) for row, before in pairs)
    if len(kept) == len(old) and all(a is b for a, b in zip(kept, old, strict=True)):
        return old
    return kept
