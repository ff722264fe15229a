"""A cart with what was found of it: how it stands, what its wheels carry, its findings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from typing import Literal

import numpy as np

from ..cart import Cart, CartLayout, assemble
from ..cart.loads import CartState
from ..cart.model import Load
from ..fact_samples import Samples
from ..finding import Finding, ordered
from ..quantity import Draw, Quantity
from ..shop import Sheet, Shop
from ..sources import fact
from .checker import Checker
from .exhaust import exhaust_findings
from .nearest import nearest
from .outriggers import outrigger_findings
from .standing import trail_m
from .steadied import in_the_way, steadied
from .steadiness import FAILED, STEADINESS_KEYS, Steadiness, steadiness_findings
from .steadying import Tried, make_steady
from .tipping import Stand
from .under_bench import bench_findings
from .wheels import level_shares, worst_wheel_n


@dataclass(frozen=True)
class WheelLoad:
    """The most that one wheel carries [N], shape (n,): on a level floor, or with one lifted."""

    state: CartState
    floor: Literal["level", "uneven"]
    most_n: Samples


@dataclass(frozen=True, kw_only=True)
class CheckedCart(Cart):
    """A whole cart and what was found of it.

    ``parts`` are the loads it is made of; ``wheel_loads`` says what one wheel carries at most, for each state and floor;
    ``measure_first`` names the places in the shop file to measure before cutting.
    """

    parts: dict[str, Load]
    stands: tuple[Stand, ...]
    wheel_loads: tuple[WheelLoad, ...]
    findings: tuple[Finding, ...]
    measure_first: tuple[str, ...]

    @property
    def falls(self) -> list[Finding]:
        """The checks of what could tip it that it does not pass."""
        return [f for f in self.findings if f.key in STEADINESS_KEYS and f.level in FAILED]


def check_cart(
    shop: Shop, sheet: Sheet, draw: Draw, layout: CartLayout, cart: Cart | None = None
) -> CheckedCart:
    """The whole cart of a form that is laid out, weighed and checked; its strength left out.

    ``cart`` is the layout assembled, where it is already.
    """
    cart = assemble(shop, sheet, layout) if cart is None else cart
    steadiness = Steadiness(shop, layout, draw)
    stands = steadiness.stands
    worst = _wheel_loads(shop, layout, stands, draw)
    findings = _findings(cart, steadiness, worst)
    return CheckedCart(
        **{f.name: getattr(cart, f.name) for f in fields(Cart)},
        parts=steadiness.parts,
        stands=stands,
        wheel_loads=worst,
        findings=tuple(ordered(findings)),
        measure_first=_measure_first(findings),
    )


def build(shop: Shop, sheet: Sheet, draw: Draw) -> CheckedCart:
    """A cart of the form that is wished for.

    Raises
    ------
    CannotBuild
        A wish, or the sheet, does not let the best values fit.
    """
    return _built(shop.wishes.form, shop, sheet, draw)


def tower(shop: Shop, sheet: Sheet, draw: Draw) -> CheckedCart:
    """A tower, whatever form is wished for; raises as `build` does."""
    return _built("tower", shop, sheet, draw)


def backframe(shop: Shop, sheet: Sheet, draw: Draw) -> CheckedCart:
    """A backframe, whatever form is wished for; raises as `build` does."""
    return _built("backframe", shop, sheet, draw)


def low(shop: Shop, sheet: Sheet, draw: Draw) -> CheckedCart:
    """A low cart, whatever form is wished for; raises as `build` does."""
    return _built("low", shop, sheet, draw)


def _built(form: str, shop: Shop, sheet: Sheet, draw: Draw) -> CheckedCart:
    steady, layout = make_steady(form, shop, sheet, draw)
    cart = check_steadied(shop, steady, sheet, draw, layout)
    return with_nearest(shop, sheet, Tried(steady, sheet, Steadiness(steady, layout, draw)), cart)


def check_steadied(
    shop: Shop, steady: Shop, sheet: Sheet, draw: Draw, layout: CartLayout, cart: Cart | None = None
) -> CheckedCart:
    """As `check_cart`, with what was added to the ``shop``'s cart where it stands by that."""
    checked = check_cart(steady, sheet, draw, layout, cart)
    if checked.falls:
        return checked
    return replace(checked, findings=tuple(ordered([*checked.findings, steadied(shop, steady)])))


def with_nearest(shop: Shop, sheet: Sheet, before: Tried, cart: CheckedCart) -> CheckedCart:
    """A cart that falls with the wishes that stand in the way; one that stands as it is.

    ``before`` is how it stands, steadied as far as the shop's wishes allow.
    """
    falls = cart.falls
    if not falls:
        return cart
    near = nearest(cart.form, shop, sheet, before)
    mended = [
        replace(f, fixes=near.offered) if f.key in STEADINESS_KEYS and f.level in FAILED else f
        for f in cart.findings
    ]
    return replace(cart, findings=tuple(ordered([*mended, in_the_way(falls, near)])))


def _wheel_loads(
    shop: Shop, layout: CartLayout, stands: Sequence[Stand], draw: Draw
) -> tuple[WheelLoad, ...]:
    axles, trail = np.array(layout.places.where.casters_xy), trail_m(shop, draw)
    gravity = fact("general.gravity").value
    found: list[WheelLoad] = []
    for s in stands:
        mass, centre = s.load.mass_kg, s.load.centre_m[:2]
        level = level_shares(axles, centre).max(axis=0) * mass * gravity
        found.append(WheelLoad(s.state, "level", level))
        uneven = worst_wheel_n(mass, centre, axles, trail)
        found.append(WheelLoad(s.state, "uneven", uneven))
    return tuple(found)


def _findings(cart: Cart, steadiness: Steadiness, worst: Sequence[WheelLoad]) -> list[Finding]:
    shop, draw, layout = steadiness.shop, steadiness.draw, steadiness.layout
    places, sizes = layout.places, cart.sizes
    check = Checker(shop, draw, sizes, places.out_of_way)
    findings = check.fits(
        (sizes.bay_width_m, sizes.bay_depth_m),
        places.clear_m,
        places.held if places.under_bucket_m is None else None,
    )
    rests: list[Quantity] = [shop.vacuum.weight, shop.vacuum.height]
    total = np.full(draw.count, sizes.shelf_top_m)
    total = total + draw.of(shop.wishes.caster_height) - shop.wishes.caster_height.best_si
    over: list[Quantity] = [shop.wishes.caster_height]
    if places.held is not None:
        bucket, cyclone = shop.separator.bucket, shop.separator.cyclone
        total = total + draw.of(bucket.height) - places.held.depth_m + draw.of(cyclone.height)
        rests += [bucket.height, bucket.weight, bucket.volume, cyclone.weight, cyclone.height]
        over += [bucket.height, bucket.rim_drop, cyclone.height]
    vacuum_top = sizes.bottom_top_m + draw.of(shop.vacuum.height)
    if bool(np.any(vacuum_top > total)):
        over.append(shop.vacuum.height)
    total = np.maximum.reduce([total, vacuum_top, np.full(draw.count, layout.fitted.top_m)])
    if places.held is not None:
        findings += check.bucket(places.held, total)
        findings += check.hangs(places.held, places.under_bucket_m)
    findings += check.wishes()
    findings.append(check.height(total, over))
    findings += check.room(total, over)
    findings += check.over_hose()
    findings += bench_findings(shop, draw, layout.bench.rule, cart.bodies, total, over)
    gaps = places.breathing_gaps_m
    findings += check.air(gaps)
    findings += exhaust_findings(shop, draw, sizes, gaps, places.hands_on)
    findings += check.stands(steadiness.stands, rests)
    findings += steadiness_findings(steadiness)
    findings.append(check.casters(np.maximum.reduce([w.most_n for w in worst]), rests))
    most = {
        floor: np.maximum.reduce([w.most_n for w in worst if w.floor == floor])
        for floor in ("level", "uneven")
    }
    trail = trail_m(shop, draw)
    findings += outrigger_findings(cart, draw, trail, most["level"], most["uneven"], rests)
    hose = shop.link
    if cart.hose is not None and hose is not None:
        findings += check.hose(cart.hose, hose)
    return [*findings, *layout.fitted.findings]


_BEFORE_CUTTING = ("cart.fit", "cart.bucket", "cart.height", "cart.room")


def _measure_first(findings: Sequence[Finding]) -> tuple[str, ...]:
    """Measurements to make before cutting, in the order of the checks they settle."""
    places = [
        place
        for f in findings
        if f.level == "unknown" and f.key.startswith(_BEFORE_CUTTING)
        for place in f.measure
    ]
    return tuple(dict.fromkeys(places))
