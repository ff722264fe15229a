"""A cart made to stand: its bottom widened and deepened, ballast put in, its wheels set out.

Sizes are tried by closed forms on carts that are only laid out, the cheapest that passes every
check of what could tip it is kept.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ..cart import CannotBuild, CartLayout
from ..cart.loads import at
from ..cart.model import Load
from ..cart.whole_cart import parts_of
from ..joinery import MarkingRule
from ..options import FORMS, lay_out_without_options, lay_out_without_remedy
from ..quantity import Draw, Quantity, middle
from ..shop import Sheet, Shop
from ..shop.catalogue.prices import hardware_price
from ..sources import fact
from .steadiness import CHECKS, Check, Steadiness, weighing
from .tipping import SIDES

#: Wishes that make a cart steadier.
STEADYING = ("extra_width", "extra_depth", "extra_front", "ballast", "outriggers")
#: What a cart's rank begins with that does not stand.
FALLS = 2
#: Samples on which sizes are tried.
SAMPLES = 256
#: A check settles as good from this likelihood on, and where assumptions stand behind it.
_GOOD, _GOOD_ASSUMED = 0.93, 0.998
#: What only advises: it is met where it can be, and keeps no cart out.
_ADVICE: tuple[Check, ...] = ("handle",)
_ROUNDS, _FARTHEST_M = 4, 0.4
_SHARES = (1.0, 0.6, 0.3, 0.1)


@dataclass(frozen=True)
class Tried:
    """A cart that was laid out to see how it stands, and what it adds up to in money."""

    shop: Shop
    sheet: Sheet
    of: Steadiness

    @property
    def chances(self) -> dict[Check, float]:
        """How likely it passes each check."""
        return self.of.chances

    @cached_property
    def money(self) -> float:
        """Price of its plywood by area, and of its ballast."""
        panels = self.of.layout.bench.panels.values()
        area = sum(p.length_m * p.width_m * p.quantity for p in panels)
        each = self.sheet.price / (self.sheet.length.best_si * self.sheet.width.best_si)
        return area * each + self.ballast_cost

    @cached_property
    def cost(self) -> float:
        """Its price, and what its floor is worth."""
        sizes = self.of.layout.sizes
        return self.money + fact("cart.floor.worth").value * sizes.length_m * sizes.width_m

    @property
    def ballast_cost(self) -> float:
        """What its ballast costs, about, in the shop's money."""
        ballast = self.of.layout.places.where.ballast
        if ballast is None:
            return 0.0
        price = hardware_price("iron" if ballast.iron else "ballast")
        assert price is not None
        return math.ceil(ballast.mass_kg / lot_kg(self.shop) - 1e-6) * price.price

    @property
    def passes(self) -> bool:
        """Whether it passes every check."""
        return not self.failed(CHECKS)

    @property
    def stands(self) -> bool:
        """Whether it passes every check that is more than advice."""
        return not self.failed(tuple(c for c in CHECKS if c not in _ADVICE))

    def failed(self, checks: tuple[Check, ...]) -> list[Check]:
        """Those of some checks that it does not pass."""
        good = good_from(self.shop)
        return [c for c in checks if self.chances[c] < good]

    @property
    def rank(self) -> tuple[float, ...]:
        """Lower is better: what passes first, then what is nearest to it, then what is cheap."""
        hard = min(v for c, v in self.chances.items() if c not in _ADVICE)
        if self.passes:
            return 0, 0.0, self.cost
        if self.stands:
            return 1, -self.chances["handle"], self.cost
        return FALLS, -hard, self.cost


@dataclass(frozen=True)
class _Hung:
    """What options weigh, where the bottom reaches ``front_m`` farther in front than it must."""

    loads: tuple[Load, ...]
    front_m: float


def good_from(shop: Shop) -> float:
    """The likelihood from which a check counts as passed."""
    return _GOOD_ASSUMED if any(q.assumed for q in weighing(shop)) else _GOOD


def lot_kg(shop: Shop) -> float:
    """Ballast goes in by lots of this mass."""
    metric = MarkingRule.of(shop).units == "mm"
    return fact("cart.ballast.lot_metric" if metric else "cart.ballast.lot_inch").value


def make_steady(
    form: str, shop: Shop, sheet: Sheet, draw: Draw, try_out: TryOut | None = None
) -> tuple[Shop, CartLayout]:
    """Lay out a form so that it passes every check of what could tip it, as cheaply as it goes.

    Its bottom is widened and deepened, ballast is laid under it, its wheels are set out beyond
    it, within the wishes. Where these leave no room for that, it is laid out as steady as they
    allow; the checks then say so.

    Parameters
    ----------
    try_out
        Gives the carts to try, where they are kept from another time.

    Returns
    -------
    shop, layout
        The shop with what was added.

    Raises
    ------
    CannotBuild
        A wish, or the sheet, does not let the best values fit, whatever is added.
    """
    if shop.built:
        # What was cut was cut for the cart as it was planned.
        planned = shop.model_copy(update={"built": ()})
        shop = _as(shop, make_steady(form, planned, sheet, Draw(1), try_out)[0])
        return shop, FORMS[form](shop, sheet, draw)
    layout = FORMS[form](shop, sheet, draw)
    bare, hung = shop, tuple[Load, ...]()
    if shop.wishes.options:
        plain = lay_out_without_options(form, shop, sheet, draw)
        bare, hung = _beside_options(shop, layout, plain), _hung(shop, layout, plain, draw)
    tries = (try_out or Tries)(form, bare, sheet, hung)
    for steady in sorted(tries.at_price(sheet), key=lambda t: t.rank):
        found = _with_options(form, replace(steady, shop=_as(shop, steady.shop)), draw)
        if found is not None:
            return found
    for kg in reversed(list(_ballasts(shop))) if shop.wishes.options else ():
        # Options can need the room that a wider bottom takes: then ballast alone must do.
        laden = with_size(shop, "ballast", kg)
        try:
            return laden, lay_out_without_remedy(form, laden, sheet, draw)
        except CannotBuild:
            continue
    return shop, layout


def _hung(shop: Shop, fitted: CartLayout, bare: CartLayout, draw: Draw) -> tuple[Load, ...]:
    """What options weigh on a cart: what hangs on them, and their wood as one load."""
    few = Draw(SAMPLES)

    def even(name: str, mass: float, centre: NDArray[np.float64]) -> Load:
        return at(name, np.full(few.count, mass), *map(float, centre))

    with_wood, without = (parts_of(shop, each, draw)["plywood"] for each in (fitted, bare))
    mass = with_wood.mass_kg - without.mass_kg
    first = with_wood.mass_kg * with_wood.centre_m - without.mass_kg * without.centre_m
    rows = [("options", mass, first / np.maximum(mass, 1e-9))]
    rows += [(load.name, load.mass_kg, load.centre_m) for load in fitted.fitted.loads]
    return tuple(even(name, middle(kg), np.median(centre, axis=-1)) for name, kg, centre in rows)


def _beside_options(shop: Shop, fitted: CartLayout, bare: CartLayout) -> Shop:
    """A shop whose limits leave room for what its options add at the sides."""
    for key, whole, without in (
        ("largest_width", fitted.sizes.width_m, bare.sizes.width_m),
        ("largest_length", fitted.sizes.length_m, bare.sizes.length_m),
        ("narrowest_door", fitted.sizes.passing_m, bare.sizes.passing_m),
    ):
        limit = getattr(shop.wishes, key).best_si
        shop = with_size(shop, key, limit - max(whole - without, 0.0))
    return shop


def _as(shop: Shop, steady: Shop) -> Shop:
    """A shop with what was added to another to make it steady."""
    for key in STEADYING:
        shop = with_size(shop, key, getattr(steady.wishes, key).best_si)
    return shop


def _with_options(form: str, steady: Tried, draw: Draw) -> tuple[Shop, CartLayout] | None:
    """A steady cart with its options, which may ask for a little more; None without room for them."""
    shop, sheet, few = steady.shop, steady.sheet, Draw(SAMPLES)
    try:
        if shop.wishes.options and steady.passes:
            layout = lay_out_without_remedy(form, shop, sheet, few)
            more = needed_m(Steadiness(shop, layout, few))
            if any(more.values()):
                try:
                    wider = _added(shop, more)
                    return wider, lay_out_without_remedy(form, wider, sheet, draw)
                except CannotBuild:
                    pass
        return shop, lay_out_without_remedy(form, shop, sheet, draw)
    except CannotBuild:
        return None


class Tries:
    """Carts of a form with more and more ballast, each as wide and deep as it then must be.

    They are laid out only as far as somebody looks at them: the price of the sheet, which alone
    says how far that is, changes nothing about them.
    """

    def __init__(self, form: str, shop: Shop, sheet: Sheet, hung: tuple[Load, ...] = ()) -> None:
        """``hung`` is what options weigh on it as it is without any of that."""
        self._to_come = _tried(form, shop, sheet, hung)
        self._found: list[list[Tried]] = []

    def _each(self) -> Iterator[list[Tried]]:
        """Those of each mass of ballast: one, and one on arms where it does not do."""
        number = 0
        while True:
            if number == len(self._found):
                coming = next(self._to_come, None)
                if coming is None:
                    return
                self._found.append(coming)
            yield self._found[number]
            number += 1

    def at_price(self, sheet: Sheet) -> list[Tried]:
        """Carts of a sheet that has its price, until more ballast only costs more.

        None is tried for room.
        """
        found: list[Tried] = []
        for some in self._each():
            found += [replace(each, sheet=sheet) for each in some]
            if found[-1].passes and _dearer(found):
                break
        return found


#: Gives the carts of a form to try, as `Tries` does.
TryOut = Callable[[str, Shop, Sheet, tuple[Load, ...]], Tries]


def tried(form: str, shop: Shop, sheet: Sheet) -> list[Tried]:
    """Carts of a form with more and more ballast, each as wide and deep as it then must be."""
    return Tries(form, shop, sheet).at_price(sheet)


def _tried(form: str, shop: Shop, sheet: Sheet, hung: tuple[Load, ...]) -> Iterator[list[Tried]]:
    on = _Hung(hung, shop.wishes.extra_front.best_si)
    last: Tried | None = None
    for kg in _ballasts(shop):
        laden = with_size(shop, "ballast", kg)
        each = _widened(form, laden, sheet, on)
        if each is None and last is not None:
            # A narrow bottom has less room for ballast under it than one that was widened.
            each = _widened(form, with_size(last.shop, "ballast", kg), sheet, on)
        if each is None:
            return
        armed: Tried | None = None
        if not each.passes and shop.wishes.outriggers.assumed:
            armed = _on_arms(form, each, on)
        last = each if armed is None else armed
        yield [each] if armed is None else [each, armed]


def _dearer(found: list[Tried]) -> bool:
    """Whether the last that passes costs more than one before it: more ballast costs still more."""
    passing = [t.cost for t in found if t.passes]
    return len(passing) > 1 and passing[-1] >= min(passing[:-1])


def _ballasts(shop: Shop) -> Iterator[float]:
    """Masses of ballast to try [kg]: what is written, or none and then lot by lot."""
    ballast = shop.wishes.ballast
    yield ballast.best_si
    if not ballast.assumed:
        return
    lot = lot_kg(shop)
    for lots in range(1, int(fact("cart.ballast.most").value / lot + 1e-6) + 1):
        yield lots * lot


def _laid(form: str, shop: Shop, sheet: Sheet, on: _Hung) -> Tried | None:
    """A form without its options, but with what hangs on them weighed; None where it cannot be."""
    draw = Draw(SAMPLES)
    try:
        layout = lay_out_without_options(form, shop, sheet, draw)
    except CannotBuild:
        return None
    # Whatever stands on the bottom moves back with it, and what hangs on that.
    back = np.array([[0.0], [shop.wishes.extra_front.best_si - on.front_m], [0.0]])
    hung = tuple(Load(x.name, x.mass_kg, x.centre_m + back) for x in on.loads)
    layout = replace(layout, fitted=replace(layout.fitted, loads=hung))
    return Tried(shop, sheet, Steadiness(shop, layout, draw))


def _widened(form: str, shop: Shop, sheet: Sheet, on: _Hung) -> Tried | None:
    """A form as wide and deep as it must be to pass, or as the wishes allow."""
    best = _laid(form, shop, sheet, on)
    if best is None:
        return None
    for _ in range(_ROUNDS):
        more = needed_m(best.of)
        if not any(more.values()):
            break
        before = best
        for sides in (("front", "rear"), ("left", "right")):
            best = _farther(form, best, {s: more[s] for s in sides}, on)
        if best is before:
            break
    return best


def _farther(form: str, before: Tried, more: dict[str, float], on: _Hung) -> Tried:
    """With wheels so much farther out at some sides, or by the part of it that there is room for."""
    if not any(more.values()):
        return before
    for share in _SHARES:
        wider = _added(before.shop, {side: share * far for side, far in more.items()})
        found = _laid(form, wider, before.sheet, on)
        if found is not None:
            return found
    return before


def _on_arms(form: str, before: Tried, on: _Hung) -> Tried | None:
    """With outriggers that set its wheels out as far as is still asked for at left and right."""
    more = needed_m(before.of)
    far = max(more["left"], more["right"])
    room = min(
        fact("cart.outrigger.most").value,
        (before.shop.wishes.largest_width.best_si - before.of.layout.sizes.width_m) / 2,
    )
    thin = before.of.layout.bench.thickness_m < fact("cart.outrigger.thickness").value
    if far <= 0 or room <= 0 or thin:
        return None
    rule, least = MarkingRule.of(before.shop), fact("cart.outrigger.least").value
    for share in _SHARES:
        out = min(rule.up(max(share * far, least)), rule.down(room))
        armed = with_size(before.shop, "outriggers", out)
        found = _laid(form, armed, before.sheet, on) if out >= least else None
        if found is not None:
            more = needed_m(found.of)
            return _farther(form, found, {s: more[s] for s in ("front", "rear")}, on)
    return None


def needed_m(of: Steadiness) -> dict[str, float]:
    """How much farther out the wheels must be at each side for every check to pass [m]."""
    good = good_from(of.shop)
    return {
        side: max(_needed(lacking[side], good) for lacking in of.lacking_m.values())
        for side in SIDES
    }


def _needed(lacking_m: NDArray[np.float64], good: float) -> float:
    """How far it is until so large a share of the samples lacks nothing, found by halving."""
    count = len(lacking_m)
    enough = next(
        n for n in range(max(math.ceil(good * count) - 1, 1), count + 1) if n / count >= good
    )
    last = float(np.partition(lacking_m, enough - 1)[enough - 1])
    if last <= 0.0:
        return 0.0
    near, far = 0.0, _FARTHEST_M
    for _ in range(7):
        half = (near + far) / 2
        near, far = (near, half) if last <= half else (half, far)
    return far


def _added(shop: Shop, more: dict[str, float]) -> Shop:
    """A shop whose bottom is larger by what its wheels must be farther out at each side."""
    rule, wishes = MarkingRule.of(shop), shop.wishes
    for key, far in (
        ("extra_width", 2 * max(more.get("left", 0.0), more.get("right", 0.0))),
        ("extra_depth", more.get("rear", 0.0)),
        ("extra_front", more.get("front", 0.0)),
    ):
        if far > 0:
            shop = with_size(shop, key, rule.up(getattr(wishes, key).best_si + far))
    return shop


def with_size(shop: Shop, key: str, si: float) -> Shop:
    """A shop with one size or mass among its wishes changed, as if it had been assumed so."""
    was: Quantity = getattr(shop.wishes, key)
    new = replace(was, best_si=si, low_si=si, high_si=si)
    return shop.model_copy(update={"wishes": shop.wishes.model_copy(update={key: new})})
