"""One cart that carries the most of a table of vacuums and buckets."""

from __future__ import annotations

import heapq
import itertools
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from ..cart import CannotBuild, with_entries
from ..checks import CheckedCart, build, check_cart, make_steady
from ..checks.fit_range import (
    BucketSize,
    FitRange,
    SizeRange,
    VacuumSize,
    fit_range_of,
    shop_for_most,
)
from ..checks.under_bench import LIFTED_OUT
from ..cutting import CuttingError, Nest, nest
from ..facts import Term
from ..faults import Refusal, refusal
from ..options import FORMS
from ..quantity import Draw, Quantity
from ..shop import Sheet, Shop
from .cut_already import by_panel
from .other_kinds import of_kind
from .sheet_choice import NEST_BUDGET, saw_of, to_nest

#: Carts laid out at most.
MOST_BUILDS = 400

GoOn = Callable[[int], bool]


@dataclass(frozen=True)
class Missed:
    """Why one is not carried: its size, the nearest that the cart takes, and which it is.

    Both are None where no size keeps it out, but its shape.
    """

    name: str
    what: Term
    dimension: str
    value: float | None
    limit: float | None


@dataclass(frozen=True)
class ForTable:
    """The cart, what it carries and what it does not.

    ``missed`` says of each left out what most keeps it out. ``sure`` is False where the search
    ended before it had tried all that could carry more. ``also`` are places in the shop file of
    another form than is wished for, and what to write there.
    """

    shop: Shop
    sheets: Sequence[Sheet]
    cart: CheckedCart
    nest: Nest
    ranges: FitRange
    vacuums: tuple[str, ...]
    buckets: tuple[str, ...]
    missed: tuple[Missed, ...]
    tried: int
    sure: bool
    also: tuple[tuple[str, str], ...] = ()

    @property
    def count(self) -> int:
        """How many of the table's vacuums and buckets the cart carries."""
        return len(self.vacuums) + len(self.buckets)


@dataclass(frozen=True)
class NoneFits:
    """No cart carries any of them within the wishes, and what stood against it."""

    unmet: tuple[Refusal, ...]


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
    the most. Buckets and boxes of the table hang by their rims, whatever way is wished for.

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
    shop = by_panel(shop, [g[0] for g in groups])
    every: _Sizes = (tuple(vacuums), tuple(buckets))
    ticket = itertools.count()
    # No opening carries round buckets and boxes: each kind is tried by itself.
    kinds = [tuple(b for b in buckets if b.is_round == is_round) for is_round in (True, False)]
    starts: list[_Sizes] = [(every[0], kind) for kind in kinds if kind] or [every]
    waiting = [(-_count(start), next(ticket), start) for start in starts]
    heapq.heapify(waiting)
    seen = set(starts)
    best: ForTable | None = None
    against: dict[str, Refusal] = {}
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
            build = _best_build(changed, groups, second, sizes, every, against)
            if build is not None and (best is None or build.count > best.count):
                best = build
            if build is not None and build.count >= _count(sizes):
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


def any_form_for_table(
    shop: Shop,
    groups: Sequence[Sequence[Sheet]],
    vacuums: Sequence[VacuumSize],
    buckets: Sequence[BucketSize],
    draw: Draw,
    *,
    second: Sequence[Sheet] = (),
    go_on: GoOn = lambda tried: True,
) -> ForTable | NoneFits:
    """As `cart_for_table`, and where the wished form leaves some out, of the form that takes more.

    Of two forms that carry as many the wished one is answered, and what stands against it where
    none carries any.
    """

    def of(each: Shop) -> ForTable | NoneFits:
        return cart_for_table(each, groups, vacuums, buckets, draw, second=second, go_on=go_on)

    wished = best = of(shop)
    for form in FORMS:
        if isinstance(best, ForTable) and best.count == len(vacuums) + len(buckets):
            break
        if form == shop.wishes.form or not go_on(0):
            continue
        other = of_kind(shop, form, shop.wishes.hold_bucket)
        found = of(other)
        if isinstance(found, ForTable) and found.count > _carried(best):
            wide, was = other.wishes.largest_width, shop.wishes.largest_width
            metric = shop.wishes.measures == "metric"
            also = [("wishes.form", form)]
            if wide.best_si != was.best_si:
                also.append(("wishes.largest_width", written(wide, metric)))
            best = replace(found, also=tuple(also))
    return wished if _carried(best) == 0 else best


def _carried(found: ForTable | NoneFits) -> int:
    return found.count if isinstance(found, ForTable) else 0


def _count(sizes: _Sizes) -> int:
    return len(sizes[0]) + len(sizes[1])


def _fewer(sizes: _Sizes) -> Iterator[_Sizes]:
    """The set with one that asks most of the cart left out."""
    vacuums, buckets = sizes
    if vacuums:
        for ask in (
            lambda v: v.height_m,
            lambda v: v.width_m,
            lambda v: v.length_m,
            lambda v: v.weight_kg,
            lambda v: -v.weight_kg,
        ):
            worst = max(vacuums, key=ask)
            yield tuple(v for v in vacuums if v is not worst), buckets
    if buckets:
        for ask_b in (
            lambda b: b.side_m,
            lambda b: b.top_diameter_m,
            lambda b: -b.rim_diameter_m,
            lambda b: b.top_length_m,
            lambda b: -b.rim_length_m,
        ):
            worst_b = max(buckets, key=ask_b)
            yield vacuums, tuple(b for b in buckets if b is not worst_b)


def _best_build(
    shop: Shop,
    groups: Sequence[Sequence[Sheet]],
    second: Sequence[Sheet],
    sizes: _Sizes,
    every: _Sizes,
    against: dict[str, Refusal],
) -> ForTable | None:
    """The cheapest cart for one set, with all of the table that it carries."""
    entries = {"wishes.hold_bucket": "rim"} if sizes[1] else {}
    if sizes[0]:
        # The lightest stands least firmly on its wheels; the heaviest is asked of the casters.
        entries["vacuum.weight"] = f"{min(v.weight_kg for v in sizes[0]):.2f} kg"
    bucket = shop.separator.bucket
    floor, top = bucket.bottom_diameter, bucket.top_diameter
    if floor is not None and top is not None and floor.best_si > top.best_si:
        entries["separator.bucket.bottom_diameter"] = top.text
    rows: tuple[VacuumSize | BucketSize, ...] = (*every[0], *every[1])
    best: ForTable | None = None
    nominal = Draw(1)
    for sheets in groups:
        changed, sheet = with_entries(shop, sheets[0], entries)
        # As it will be written: a cart is made steady in another way for a hair's difference.
        places = _places(changed, sheets[0].name, bool(sizes[0]), bool(sizes[1]))
        changed, sheet = with_entries(changed, sheet, dict(places))
        try:
            steady, layout = make_steady(changed.wishes.form, changed, sheet, nominal)
            cart = check_cart(steady, sheet, nominal, layout)
            panels, kinds = to_nest(cart.panels, sheets, second)
            nested = nest(panels, kinds, saw_of(shop.saw), seed=1, money_only=True)
        except CannotBuild as error:
            against.update({u.place: u for u in error.unmet})
            continue
        except CuttingError as error:
            against.update({why.kind: why for why in error.problems})
            continue
        stops = [f for f in cart.findings if f.level == "stop"]
        if stops:
            bench = changed.wishes.under_bench
            for raised in (dict(f.facts)["raised"] for f in stops if f.key == LIFTED_OUT):
                assert bench is not None
                against["wishes.under_bench"] = refusal(
                    "cart.refused.under_bench", "wishes.under_bench", needed=raised, limit=bench
                )
            continue
        ranges = fit_range_of(steady, cart)
        each = ForTable(
            changed,
            sheets,
            cart,
            nested,
            ranges,
            tuple(v.name for v in every[0] if missed(v, ranges) is None),
            tuple(b.name for b in every[1] if missed(b, ranges) is None),
            tuple(m for row in rows if (m := missed(row, ranges))),
            0,
            True,
        )
        if best is None or (-each.count, nested.cost) < (-best.count, best.nest.cost):
            best = each
    return best


#: Half the last place of a size as it is written [m, kg]: less keeps no row out.
_ROUNDED = {"length": 0.5e-4, "mass": 0.005}

_VACUUM = (
    ("length", "vacuum_length", "length_m", "length"),
    ("width", "vacuum_width", "width_m", "length"),
    ("height", "vacuum_height", "height_m", "length"),
    ("weight", "vacuum_kg", "weight_kg", "mass"),
)


def _asked(
    row: VacuumSize | BucketSize, ranges: FitRange
) -> list[tuple[str, SizeRange, float, str]]:
    """Each size of a row, and the range in which the cart takes it."""
    if isinstance(row, VacuumSize):
        return [(w, getattr(ranges, s), getattr(row, own), d) for w, s, own, d in _VACUUM]
    ways = ("diameter",) if row.is_round else ("width", "length")
    asked = [("rim height", ranges.bucket_side, row.side_m, "length")]
    for way, span, (top, rim, _) in zip(ways, ranges.across, row.ways, strict=True):
        asked += [
            (f"{way} under", span.top, top, "length"),
            (f"{way} over", span.rim, rim, "length"),
        ]
    return asked


def missed(row: VacuumSize | BucketSize, ranges: FitRange) -> Missed | None:
    """What most keeps a row out of a cart; None when the cart carries it.

    Most is by the share of the size itself.
    """
    if isinstance(row, BucketSize) and row.is_round != (len(ranges.across) == 1):
        shape = Term("missed", "round" if row.is_round else "box")
        return Missed(row.name, shape, "length", None, None)
    worst: tuple[float, Missed] | None = None
    for what, limits, value, dimension in _asked(row, ranges):
        slack = _ROUNDED[dimension]
        if limits.low - slack <= value <= limits.high + slack:
            continue
        limit = limits.high if value > limits.high else limits.low
        share = abs(value - limit) / value
        if worst is None or share > worst[0]:
            worst = share, Missed(row.name, Term("missed", what), dimension, value, limit)
    return worst[1] if worst else None


def _shown(best: ForTable, second: Sequence[Sheet], draw: Draw, tried: int, sure: bool) -> ForTable:
    """The cart found, built again for all samples and its panels laid with care."""
    sheet = best.sheets[0]
    cart = build(best.shop, sheet, draw)
    panels, kinds = to_nest(cart.panels, best.sheets, second)
    layout = nest(panels, kinds, saw_of(best.shop.saw), budget=NEST_BUDGET, seed=1)
    return replace(best, cart=cart, nest=layout, tried=tried, sure=sure)


def written(size: Quantity, metric: bool) -> str:
    """A size as a person writes it in a shop file of these measures."""
    unit, si, places = {
        ("length", True): ("mm", 0.001, 1),
        ("length", False): ("in", 0.0254, 3),
        ("mass", True): ("kg", 1.0, 2),
        ("mass", False): ("lb", 0.45359237, 2),
        ("volume", True): ("L", 0.001, 1),
        ("volume", False): ("US gal", 0.003785411784, 2),
    }[size.dimension_name, metric]
    return f"{round(size.best_si / si, places):g} {unit}"


def changes(answer: ForTable) -> list[tuple[str, str]]:
    """Places in the shop file and what to write there, so that a plan is of this cart."""
    places = _places(answer.shop, answer.sheets[0].name, bool(answer.vacuums), bool(answer.buckets))
    return [*answer.also, *(row for row in places if row[0] not in dict(answer.also))]


def _places(shop: Shop, sheet: str, vacuums: bool, buckets: bool) -> list[tuple[str, str]]:
    """Places and what to write there for a shop's vacuum, its bucket and its sheet."""
    vacuum, bucket = shop.vacuum, shop.separator.bucket
    metric = shop.wishes.measures == "metric"
    unit = "mm" if metric else "in"
    rows: list[tuple[str, str]] = []
    if vacuums:
        rows += [
            (f"vacuum.{k}", written(getattr(vacuum, k), metric))
            for k in ("length", "width", "height", "weight")
        ]
    if buckets:
        levels = ("top", "bottom", "rim")
        ways = ("diameter",) if bucket.is_round else ("width", "length")
        if not bucket.is_round:
            rows.append(
                (
                    "separator.bucket.corner",
                    written(bucket.corner, metric) if bucket.corner else f"0 {unit}",
                )
            )
        rows.append(("separator.bucket.shape", bucket.shape))
        sides = [
            *(f"{level}_{way}" for level in levels for way in ways),
            "height",
            "volume",
            "weight",
        ]
        rows += [(f"separator.bucket.{k}", written(getattr(bucket, k), metric)) for k in sides]
        rows.append(("wishes.hold_bucket", "rim"))
    return [*rows, ("wishes.sheet", sheet)]
