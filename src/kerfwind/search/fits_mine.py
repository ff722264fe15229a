"""Whether the cart of a published plan fits another vacuum and bucket, or which panels change."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from .. import limits
from ..cart import CannotBuild
from ..checks import CheckedCart, FitRange, build
from ..checks.fit_range import Across, BucketSize, SizeRange, VacuumSize
from ..facts import Name
from ..faults import Faults, Refusal, refusal
from ..quantity import Draw
from ..rawfile import TooLargeError, read_at_most
from ..shop import Sheet, Shop, parse_shop
from .for_table import Missed, missed

#: Two sizes of a panel that differ by less are one [m].
_SAME_M = 1e-4
_METRIC = re.compile(r"\d\s*(?:mm|cm|m|kg|g|L|l)\b")
#: Tables of the shop from which it follows how a cart is made steady.
_STEADIED = ("vacuum", "separator", "wishes")
#: Fields that a reader measures, by the words that are taken for each.
_FIELDS = {
    "vacuum": ("length", "width", "height", "weight", "tank", "headroom", "inlet_height", "shape"),
    "bucket": (
        "top_diameter",
        "bottom_diameter",
        "rim_diameter",
        "top_length",
        "top_width",
        "bottom_length",
        "bottom_width",
        "rim_length",
        "rim_width",
        "height",
        "rim_drop",
        "wall",
        "volume",
        "weight",
        "shape",
    ),
}


@dataclass(frozen=True)
class Published:
    """A plan's record: the shop it was made for, the sheet of its cart, and what that carries."""

    shop: dict[str, Any]
    sheet: str
    ranges: FitRange


@dataclass(frozen=True)
class PanelChange:
    """A size of a panel that another vacuum or bucket changes [m]; 0 where there is no such panel."""

    panel: str
    side: str
    was_m: float
    now_m: float


def read_published(path: Path) -> Published:
    """The record of a plan that has a cart.

    Raises
    ------
    Faults
        It cannot be read, or is none.
    """
    try:
        record = json.loads(read_at_most(path, limits.RECORD_BYTES))
        fits = record["fits"]
        spans: dict[str, Any] = {
            key: _span(value) if isinstance(value, dict) else value for key, value in fits.items()
        }
        spans["across"] = tuple(
            Across(*(_span(each[part]) for part in ("top", "rim", "floor")))
            for each in fits["across"]
        )
        sheet = str(record["build"]["cart"]["sheet"])
        # What was assumed of them stays open, so that the cart is made steady as the plan's was.
        shop = {k: _as_written(v, assumed=k not in _STEADIED) for k, v in record["shop"].items()}
        return Published(shop, sheet, FitRange(**spans))
    except (OSError, TooLargeError, ValueError, KeyError, TypeError, AttributeError):
        raise Faults([refusal("search.fits.no_plan", file=path.name)]) from None


def _span(row: Mapping[str, Any]) -> SizeRange:
    return SizeRange(row["low"], math.inf if row["high"] is None else row["high"])


def _as_written(part: Any, *, assumed: bool) -> Any:
    """A part of the shop as a file has it: sizes as texts, and nothing where nothing was.

    Sizes that were assumed are left out where ``assumed`` is False.
    """
    if isinstance(part, dict):
        if "written" in part:
            return part["written"] if assumed or part["standing"] != "assumed" else None
        rows = ((k, _as_written(v, assumed=assumed)) for k, v in part.items())
        return {k: v for k, v in rows if v is not None}
    if isinstance(part, list):
        return [_as_written(each, assumed=assumed) for each in part]
    return part


def own_sizes(kind: str, text: str) -> dict[str, str]:
    """What a reader says of a vacuum or a bucket: `height 24 in, weight 20 lb`.

    Raises
    ------
    Faults
        A part that does not begin with a field.
    """
    sizes = {}
    for part in filter(None, (p.strip() for p in text.split(","))):
        field = next(
            (
                f
                for f in sorted(_FIELDS[kind], key=len, reverse=True)
                if re.match(rf"{f.replace('_', '[ _]')}\b", part, re.IGNORECASE)
            ),
            None,
        )
        value = part[len(field) :].lstrip(" =:") if field else ""
        if not field or not value:
            known = ", ".join(_FIELDS[kind])
            raise Faults(
                [refusal("search.fits.no_field", f"--{kind}", given=Name(part), known=Name(known))]
            )
        sizes[field] = value
    return sizes


def metric(texts: list[str]) -> bool:
    """Whether a reader writes in metric units."""
    return any(_METRIC.search(text) for text in texts)


def shop_with(
    published: Published, vacuum: Mapping[str, str], bucket: Mapping[str, str], units: str
) -> Shop:
    """The plan's shop with a reader's own sizes in it.

    Raises
    ------
    Faults
        A size that cannot be.
    """
    import tomlkit

    data = json.loads(json.dumps(published.shop))
    data["vacuum"].update(vacuum)
    data["separator"]["bucket"].update(bucket)
    data["about"]["units"] = units
    data.pop("sessions", None)
    return parse_shop(tomlkit.dumps(data), "fits").shop


def what_keeps_out(shop: Shop, ranges: FitRange) -> tuple[Missed, ...]:
    """What of a vacuum and a bucket the published cart does not take; empty where it takes both."""
    v, b = shop.vacuum, shop.separator.bucket
    rows: list[VacuumSize | BucketSize] = [
        VacuumSize("vacuum", v.length.best_si, v.width.best_si, v.height.best_si, v.weight.best_si)
    ]
    if shop.separator.in_use:
        (top, long), (rim, rim_long), (floor, floor_long) = (
            (a.best_si, b.best_si) for a, b in (b.top, b.rim, b.bottom)
        )
        side = b.height.best_si - b.rim_drop.best_si
        sizes = (
            BucketSize("bucket", top, rim, side, floor_diameter_m=floor)
            if b.is_round
            else BucketSize("bucket", top, rim, side, long, rim_long, floor, floor_long)
        )
        rows.append(sizes)
    return tuple(m for row in rows if (m := missed(row, ranges)) is not None)


def compared(
    planned: Shop, own: Shop, sheet: Sheet
) -> tuple[tuple[PanelChange, ...], tuple[Refusal, ...]]:
    """What changes from the plan's cart to a reader's; or what stands against the reader's."""
    try:
        carts = [build(shop, sheet, Draw(1)) for shop in (planned, own)]
    except CannotBuild as error:
        return (), error.unmet
    return panel_changes(*carts), ()


def panel_changes(planned: CheckedCart, own: CheckedCart) -> tuple[PanelChange, ...]:
    """Sizes of panels, and of the openings in them, that differ between two carts."""
    before, after = _sizes(planned), _sizes(own)
    return tuple(
        PanelChange(panel, side, before.get((panel, side), 0.0), after.get((panel, side), 0.0))
        for panel, side in dict.fromkeys((*before, *after))
        if abs(before.get((panel, side), 0.0) - after.get((panel, side), 0.0)) > _SAME_M
    )


def _sizes(cart: CheckedCart) -> dict[tuple[str, str], float]:
    sizes = {}
    for panel in cart.panels:
        sizes[panel.name, "length"] = panel.length_m
        sizes[panel.name, "width"] = panel.width_m
        for opening in panel.openings:
            sizes[panel.name, "opening"] = opening.length_m
    return sizes
