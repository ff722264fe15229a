"""One cart that carries the most of a table of vacuums and buckets."""

from __future__ import annotations

import heapq
import itertools
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from ..cart import CannotBuild, Cart, Unmet, build, finish, lay_steady, with_remedy
from ..cart.others import (
    BucketSize,
    Carries,
    Range,
    VacuumSize,
    carries,
    shop_for_most,
)
from ..cutting import CuttingError, Nest, nest
from ..quantity import Draw
from ..records import dataclass
from ..shop import Sheet, Shop
from .sheet_choice import NEST_BUDGET, saw_of, to_nest

#: Carts laid out at most.
MOST_BUILDS = 400

GoOn = Callable[[int], bool]


@dataclass(frozen=True)
class Missed:
    """Why one is not carried: its size, the nearest that the cart takes, and which it is."""

    name: str
    what: str
    dimension: str
    value: float
    limit: float


@dataclass(frozen=True)
class ForTable:
    """The cart, what it carries and what it does not.

    ``missed`` says of each left out what most keeps it out. ``sure`` is False where the search ended before it had tried all that could carry more.
    """

    shop: Shop
    sheets: Sequence[Sheet]
    cart: Cart
    nest: Nest
    ranges: Carries
    vacuums: tuple[str, ...]
    buckets: tuple[str, ...]
    missed: tuple[Missed, ...]
    tried: int
    sure: bool

    @property
    def count(self) -> int:
        """How many it carries."""
        return len(self.vacuums) + len(self.buckets)


@dataclass(frozen=True)
class NoneFits:
    """No cart carries any of them within the wishes, and what stood against it."""

    unmet: tuple[Unmet, ...]


_Sizes = tuple[tuple[VacuumSize, ...], tuple[BucketSize, ...]]


def cart_for_table(
    shop: Shop,
    groups: Sequence[Sequence[Sheet]],
    vacuums: Sequence[VacuumSize],
    buckets: Sequence[BucketSize],
    draw: Draw,
    *,
    second: Sequence[Sheet] = (),
    go_on: GoOn = lambda tried: True,
) -> ForTable | NoneFits:
    """The cart of the wished form that carries the most of a table.

    Sets are tried from the largest down, each with its longest, widest, highest, heaviest or
    lightest left out in turn; every cart is built, nested, checked, and asked what it carries.
    Leaving one out never asks more of a cart, so the first that carries all of its set carries
    the most. Buckets hang by their rims.

    Parameters
    ----------
    groups
        Sheets that can stand in for one another, as from `sheet_groups`.
    draw
        For the cart that is shown.
    second
        Sheets that can stand in for the second one, where it is wished for.
    go_on
        Called with the carts laid out so far; False ends with the best so far.
    """
    every: _Sizes = (tuple(vacuums), tuple(buckets))
    ticket = itertools.count()
    waiting = [(-_count(every), next(ticket), every)]
    seen = {every}
    best: ForTable | None = None
    against: dict[str, Unmet] = {}
    tried, sure = 0, True
    while waiting:
        most, _, sizes = heapq.heappop(waiting)
        if best is not None and -most <= best.count:
            break
        if tried >= MOST_BUILDS or not go_on(tried):
            sure = False
            break
        changed, held, hung = shop_for_most(shop, *sizes)
        fit: _Sizes = (
            tuple(v for v in sizes[0] if v.name in held),
            tuple(b for b in sizes[1] if b.name in hung),
        )
        if fit == sizes:
            tried += 1
            found = _best_build(changed, groups, second, sizes, every, against)
            if found is not None and (best is None or found.count > best.count):
                best = found
            if found is not None and found.count >= _count(sizes):
                continue
        for smaller in (fit, *_fewer(sizes)):
            if smaller not in seen and all(
                bool(a) == bool(b) for a, b in zip(smaller, every, strict=True)
            ):
                seen.add(smaller)
                heapq.heappush(waiting, (-_count(smaller), next(ticket), smaller))
    if best is None:
        return NoneFits(tuple(against.values()))
    return _shown(best, second, draw, tried, sure)


def _count(sizes: _Sizes) -> int:
    return len(sizes[0]) + len(sizes[1])


def _fewer(sizes: _Sizes) -> Iterator[_Sizes]:
    """The set with one that asks most of the cart left out."""
    vacuums, buckets = sizes
    if vacuums:
        for ask in (
            lambda v: v.height_m, lambda v: v.width_m, lambda v: v.length_m,
            lambda v: v.weight_kg, lambda v: -v.weight_kg,
        ):  # fmt: skip
            worst = max(vacuums, key=ask)
            yield tuple(v for v in vacuums if v is not worst), buckets
    if buckets:
        for ask_b in (
            lambda b: b.side_m, lambda b: b.top_diameter_m, lambda b: -b.rim_diameter_m,
        ):  # fmt: skip
            worst_b = max(buckets, key=ask_b)
            yield vacuums, tuple(b for b in buckets if b is not worst_b)


def _best_build(
    shop: Shop, groups: Sequence[Sequence[Sheet]], second: Sequence[Sheet], sizes: _Sizes,
    every: _Sizes, against: dict[str, Unmet],
) -> ForTable | None:  # fmt: skip
    """The cheapest cart for one set, with all of the table that it carries."""
    more = {"wishes.hold_bucket": "rim"}
    if sizes[0]:
        # The lightest stands least firmly on its wheels; the heaviest is asked of the casters.
        more["vacuum.weight"] = f"{min(v.weight_kg for v in sizes[0]):.2f} kg"
    bucket = shop.separator.bucket
    floor, top = bucket.bottom_diameter, bucket.top_diameter
    if floor is not None and top is not None and floor.best_si > top.best_si:
        more["separator.bucket.bottom_diameter"] = top.text
    rows: tuple[VacuumSize | BucketSize, ...] = (*every[0], *every[1])
    best: ForTable | None = None
    nominal = Draw(1)
    for sheets in groups:
        changed, sheet = with_remedy(shop, sheets[0], more)
        try:
            steady, laid = lay_steady(changed.wishes.form, changed, sheet, nominal)
            cart = finish(steady, sheet, nominal, laid)
            panels, kinds = to_nest(cart.panels, sheets, second)
            found = nest(panels, kinds, saw_of(shop.saw), seed=1, money_only=True)
        except CannotBuild as error:
            against.update({u.wish: u for u in error.unmet})
            continue
        except CuttingError as error:
            text = " ".join(error.problems)
            against["sheets"] = Unmet("sheets", text, "panels that fit", "Add a larger sheet.")
            continue
        if any(f.level == "stop" for f in cart.findings):
            continue
        ranges = carries(steady, cart)
        each = ForTable(
            changed, sheets, cart, found, ranges,
            tuple(v.name for v in every[0] if missed(v, ranges) is None),
            tuple(b.name for b in every[1] if missed(b, ranges) is None),
            tuple(m for row in rows if (m := missed(row, ranges))), 0, True,
        )  # fmt: skip
        if best is None or (-each.count, found.cost) < (-best.count, best.nest.cost):
            best = each
    return best


_VACUUM = (
    ("length", "vacuum_length", "length_m", "length"),
    ("width", "vacuum_width", "width_m", "length"),
    ("height", "vacuum_height", "height_m", "length"),
    ("weight", "vacuum_kg", "weight_kg", "mass"),
)
_BUCKET = (
    ("diameter under the rim", "bucket_top", "top_diameter_m", "length"),
    ("diameter over the rim", "bucket_rim", "rim_diameter_m", "length"),
    ("height up to the rim", "bucket_side", "side_m", "length"),
)


def missed(row: VacuumSize | BucketSize, ranges: Carries) -> Missed | None:
    """What most keeps a row out of a cart; None when the cart carries it.

    Most is by the share of the size itself.
    """
    worst: tuple[float, Missed] | None = None
    for what, span, own, dimension in _VACUUM if isinstance(row, VacuumSize) else _BUCKET:
        limits: Range = getattr(ranges, span)
        value: float = getattr(row, own)
        if limits.holds(value):
            continue
        limit = limits.high if value > limits.high else limits.low
        share = abs(value - limit) / value
        if worst is None or share > worst[0]:
            worst = share, Missed(row.name, what, dimension, value, limit)
    return worst[1] if worst else None


def _shown(best: ForTable, second: Sequence[Sheet], draw: Draw, tried: int, sure: bool) -> ForTable:
    """The cart found, built again for all samples and its panels laid with care."""
    sheet = best.sheets[0]
    cart = build(best.shop, sheet, draw)
    panels, kinds = to_nest(cart.panels, best.sheets, second)
    found = nest(panels, kinds, saw_of(best.shop.saw), budget=NEST_BUDGET, seed=1)
    return replace(best, cart=cart, nest=found, tried=tried, sure=sure)


def changes(found: ForTable) -> list[tuple[str, str]]:
    """Places in the shop file and what to write there, so that a plan is of this cart."""
    vacuum, bucket = found.shop.vacuum, found.shop.separator.bucket
    rows: list[tuple[str, str]] = []
    if found.vacuums:
        rows += [
            (f"vacuum.{k}", getattr(vacuum, k).text)
            for k in ("length", "width", "height", "weight")
        ]  # fmt: skip
    if found.buckets:
        sides = (
            "top_diameter", "bottom_diameter", "rim_diameter", "height", "volume", "weight",
        )  # fmt: skip
        rows += [(f"separator.bucket.{k}", getattr(bucket, k).text) for k in sides]
    return [*rows, ("wishes.hold_bucket", "rim"), ("wishes.sheet", found.sheets[0].name)]
