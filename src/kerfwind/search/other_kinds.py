"""Other kinds of cart: another form, or another way to hold the bucket, where one does not do."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from ..cart import CannotBuild, with_fixes
from ..checks import CheckedCart, check_cart, make_steady
from ..checks import build as build_cart
from ..checks.nearest import DOOR
from ..checks.under_bench import LIFTED_OUT
from ..facts import Amount, Fix, Term
from ..finding import Finding
from ..joinery import HardwareItem, MarkingRule
from ..options import FORMS
from ..quantity import Draw, parse
from ..shop import AssumedText, Sheet, Shop
from ..shop.catalogue.generic import LOW_WIDTH
from ..shop.catalogue.prices import hardware_price
from .sheet_choice import Build, NoBuild, with_backed_lid

#: Every form and hold, for a bucket that either may carry.
HOLDS = ("rim", "standing")
#: Samples on which another kind is tried.
_SAMPLES = 256
_FAILED = ("stop", "problem")
_UNDER = "cart.under_bench"
_HEIGHT = "wishes.greatest_height"
#: Buckets that a rim may carry as well as a shelf.
_LIGHT = ("tapered", "straight")


@dataclass(frozen=True)
class Kind:
    """A form and a way to hold the bucket, and what came of a cart of them.

    ``failed`` checks it does not pass; ``under_bench`` is 0 where it goes under the bench that
    is wished for, 1 where it does with its separator lifted out, 2 and the metres that it is too
    high where it does not.
    """

    form: str
    hold: str
    failed: int
    under_bench: float
    cost: float

    @property
    def passes(self) -> bool:
        """Whether it passes every check of the cart, and every wish."""
        return self.failed == self.under_bench == 0

    @property
    def goes_under(self) -> bool:
        """Whether it passes every check, and goes under the bench with its separator lifted out."""
        return self.failed == 0 and self.under_bench < 2

    @property
    def rank(self) -> tuple[float, ...]:
        """Lower is better: what passes first, then what is cheap."""
        return self.failed, self.under_bench, self.cost


def falls_short(build: Build | NoBuild) -> bool:
    """Whether another kind of cart could be better: a check fails, or none can be built."""
    return isinstance(build, NoBuild) or _failed(build.cart) != (0, 0)


def kinds_tried(
    shop: Shop, groups: Sequence[Sequence[Sheet]], forms: Sequence[str], holds: Sequence[str]
) -> tuple[Kind, ...]:
    """Carts of each form and hold that can be built within the wishes, the best first.

    Of those that do as well the ones that hold the bucket as the shop has it come first, then
    the cheapest.
    """
    found = [
        best
        for form, hold in itertools.product(forms, holds)
        if (best := _tried(shop, groups, form, hold)) is not None
    ]
    own = shop.wishes.hold_bucket
    return tuple(sorted(found, key=lambda k: (*k.rank[:2], k.hold != own, k.cost)))


def _tried(shop: Shop, groups: Sequence[Sequence[Sheet]], form: str, hold: str) -> Kind | None:
    """A cart of one kind, from the sheet that suits it best; None where none can be built."""
    draw, found = Draw(_SAMPLES), list[Kind]()
    for sheet in (max(g, key=lambda s: s.length.low_si * s.width.low_si) for g in groups):
        changed = with_backed_lid(of_kind(shop, form, hold), sheet)
        try:
            steady, layout = make_steady(form, changed, sheet, draw)
        except CannotBuild:
            continue
        cart = check_cart(steady, sheet, draw, layout)
        each = sheet.price / (sheet.length.best_si * sheet.width.best_si)
        area = sum(p.length_m * p.width_m * p.quantity for p in cart.panels)
        found.append(Kind(form, hold, *_failed(cart), area * each + _priced(cart.hardware)))
    return min(found, key=lambda k: k.rank, default=None)


def free_forms(shop: Shop) -> tuple[str, ...]:
    """The forms that a cart may have: the one that is wished for, or each."""
    wished = shop.wishes.form
    return tuple(FORMS) if isinstance(wished, AssumedText) else (wished,)


def free_holds(shop: Shop) -> tuple[str, ...]:
    """The ways in which the bucket may be held: the one that is wished for, or those that suit it."""
    wished = shop.wishes.hold_bucket
    return holds_for(shop) if isinstance(wished, AssumedText) else (wished,)


def holds_for(shop: Shop) -> tuple[str, ...]:
    """The ways to hold the bucket that suit it, the one of the file among them."""
    own, separator = shop.wishes.hold_bucket, shop.separator
    if not separator.in_use or separator.bucket.shape not in _LIGHT:
        return (own,)
    return tuple(dict.fromkeys((own, *HOLDS)))


def of_kind(shop: Shop, form: str, hold: str) -> Shop:
    """The shop with another form and hold, and with that form's width where none is wished for."""
    wishes = shop.wishes.model_copy(update={"form": form, "hold_bucket": hold})
    if form == "low" and wishes.largest_width.assumed:
        wide = parse(LOW_WIDTH[int(wishes.measures == "metric")], "length")
        wide = wide.at("wishes.largest_width").standing_as("assumed")
        wishes = wishes.model_copy(update={"largest_width": wide})
    return shop.model_copy(update={"wishes": wishes})


def _failed(cart: CheckedCart) -> tuple[int, float]:
    """How many checks fail, and how far it goes under the bench, as `Kind` has them."""
    bench = {f.key: f for f in cart.findings if f.key in (_UNDER, LIFTED_OUT)}
    lifted, under = bench.get(LIFTED_OUT), 0.0
    if lifted is not None and lifted.level in _FAILED:
        assert lifted.value is not None
        assert lifted.limit is not None
        under = 2 + round(lifted.value.best - lifted.limit.best, 3)
    elif _UNDER in bench:
        under = float(bench[_UNDER].level != "good")
    return sum(f.level in _FAILED and f.key not in bench for f in cart.findings), under


def _priced(hardware: Iterable[HardwareItem]) -> float:
    prices = ((hardware_price(h.kind), h.quantity) for h in hardware)
    return sum(p.price * n for p, n in prices if p is not None)


def of_shop(shop: Shop, kinds: Sequence[Kind]) -> Kind | None:
    """The one among kinds that the shop wishes for; None where it cannot be built."""
    own = shop.wishes.form, shop.wishes.hold_bucket
    return next((k for k in kinds if (k.form, k.hold) == own), None)


def offered(shop: Shop, kinds: Sequence[Kind]) -> list[tuple[Fix, Kind]]:
    """The changes of form and hold that mend something, the cheapest first."""
    own = of_shop(shop, kinds)
    rows: list[tuple[Fix, Kind]] = []
    for kind in kinds:
        if own is not None and kind.rank[:2] >= own.rank[:2]:
            continue
        fixes = [
            Fix(place, Term(word, to), passes=True)
            for place, word, now, to in (
                ("wishes.form", "form", shop.wishes.form, kind.form),
                ("wishes.hold_bucket", "hold", shop.wishes.hold_bucket, kind.hold),
            )
            if now != to
        ]
        if fixes:
            costs = None if own is None else max(kind.cost - own.cost, 0.0)
            rows.append((replace(Fix.together(tuple(fixes)), costs=costs), kind))
    # A change of both is of no use where one of them does it.
    single = {each.place for fix, _ in rows if not fix.also for each in fix.every}
    return [(f, k) for f, k in rows if not f.also or not single & {e.place for e in f.every}]


def with_offers(findings: Sequence[Finding], offers: Sequence[tuple[Fix, Kind]]) -> list[Finding]:
    """Findings of the cart that another kind mends, with that."""
    found = []
    for each in findings:
        mending = tuple(_for(each, offers))
        found.append(replace(each, fixes=(*each.fixes, *mending)) if mending else each)
    return found


def _for(finding: Finding, offers: Sequence[tuple[Fix, Kind]]) -> Iterator[Fix]:
    for fix, kind in offers:
        if (
            (finding.key == "cart.cannot_build" and kind.passes)
            or (finding.key == _UNDER and finding.level != "good" and kind.passes)
            or (finding.key == LIFTED_OUT and finding.level in _FAILED and kind.goes_under)
        ):
            yield fix


def remedy_that_passes(shop: Shop, sheet: Sheet, fixes: tuple[Fix, ...]) -> tuple[Fix, ...]:
    """Changes with which a cart can be built, and with it those that it needs to stand.

    Where a height is among them, it is one that the cart and its link hose surely stay under.
    They pass where no check of the cart fails with them.
    """
    cart_shop = with_backed_lid(shop, sheet)
    for _ in range(5):
        if not makeable(fixes):
            return ()
        try:
            cart = build_cart(*with_fixes(cart_shop, sheet, fixes), Draw(_SAMPLES))
        except KeyError:
            return ()
        except CannotBuild as error:
            # They were found for a sheet of another thickness.
            fixes = _put_together(fixes, error.fixes)
            continue
        row = next(f for f in cart.findings if f.key == "cart.steadied")
        more = row.fixes[0].every if row.fixes else ()
        if row.level != "good" and not more:
            return ()
        if any(f.place == _HEIGHT for f in fixes) and (higher := _higher(shop, cart)):
            more = (*more, Fix(_HEIGHT, higher, passes=True))
        if not more:
            passes = not any(f.level in _FAILED for f in cart.findings)
            return tuple(replace(f, passes=passes) for f in fixes)
        fixes = _put_together(fixes, more)
    return ()


def makeable(fixes: Sequence[Fix]) -> bool:
    """Whether a person can make them in the shop file: no field makes a sheet or a door larger."""
    return bool(fixes) and not any(f.place.startswith(("sheet.", "second.", DOOR)) for f in fixes)


def _put_together(fixes: Sequence[Fix], more: Sequence[Fix]) -> tuple[Fix, ...]:
    """One change for each place: what is asked for last is the most."""
    every = {f.place: f for f in (*fixes, *more)}
    return tuple(replace(f, also=(), costs=None) for f in every.values())


def _higher(shop: Shop, cart: CheckedCart) -> Amount | None:
    """The height that a cart and its hose stay under, where the one wished for is not enough."""
    found = {f.key: f for f in cart.findings}
    own, hose = found["cart.height"], found.get("cart.height.hose")
    if own.level == "good" and (hose is None or hose.level == "good"):
        return None
    assert own.value is not None
    rule = MarkingRule.of(shop)
    surely = own.value.high + (own.value.high - own.value.best)
    return rule.amount(rule.up(max(surely, cart.sizes.height_over_hose_m)))
