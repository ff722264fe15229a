"""The cart in stages: what an edit leaves as it was, of the search for a steady one, of its wood
and of its checks, is kept from plan to plan.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from .. import stage_reads as reads
from ..cart import CannotBuild, Cart, CartLayout, assemble
from ..cart.model import Load
from ..checks import CheckedCart, make_steady
from ..checks.checked import check_steadied, with_nearest
from ..checks.steadiness import Steadiness
from ..checks.steadying import STEADYING, Tried, Tries, TryOut, with_size
from ..quantity import Draw
from ..shop import Sheet, Shop
from ..shop.sections import cut_down
from ..stages import Stages


@dataclass(frozen=True)
class Steady:
    """A shop with what makes its cart of a sheet stand, and that cart laid out."""

    shop: Shop
    sheet: Sheet
    layout: CartLayout


def steady_in_stages(shop: Shop, sheet: Sheet, draw: Draw, stages: Stages) -> Steady:
    """The cart of the form that is wished for, laid out so that it stands.

    Raises
    ------
    CannotBuild
        A wish, or the sheet, does not let the best values fit.
    """
    return stages.run("steadied", partial(_steadied, _kept_tries(stages)), shop, sheet, draw)


def cart_in_stages(shop: Shop, steady: Steady, draw: Draw, stages: Stages) -> CheckedCart:
    """The cart that was laid out for a shop, as `checks.build` makes it."""
    own, sheet, layout = steady.shop, steady.sheet, steady.layout
    # Whatever its wood costs, it is the same.
    unpriced = cut_down(sheet, reads.SHEET_IN_CART)
    wood = stages.run(
        "wood",
        partial(_wood, layout),
        reads.wood_sections(own),
        cut_down(sheet, reads.SHEET_IN_WOOD),
        layout.told,
    )
    asked = tuple(getattr(shop.wishes, key).best_si for key in STEADYING)
    cart = stages.run("cart", partial(_checked, layout, wood), own, unpriced, draw, asked)
    if not cart.falls:
        return cart
    before = Tried(own, sheet, Steadiness(own, layout, draw))
    return stages.run("nearest", partial(_nearest, before, cart), shop, sheet, draw)


def footprint_in_stages(shop: Shop, sheet: Sheet, stages: Stages) -> tuple[float, float] | None:
    """Length and width of a cart [m]; None where none can be built."""
    size: tuple[float, float] | None = stages.run(
        "footprint", partial(_footprint, _kept_tries(stages)), shop, sheet
    )
    return size


def _footprint(try_out: TryOut, shop: Shop, sheet: Sheet) -> tuple[float, float] | None:
    try:
        _, layout = make_steady(shop.wishes.form, shop, sheet, Draw(1), try_out)
    except CannotBuild:
        return None
    return layout.sizes.length_m, layout.sizes.width_m


def _kept_tries(stages: Stages) -> TryOut:
    """The carts to try, kept from plan to plan: a price only says how many are looked at."""

    def try_out(form: str, shop: Shop, sheet: Sheet, hung: tuple[Load, ...]) -> Tries:
        unpriced = cut_down(sheet, reads.SHEET_IN_CART)
        return stages.run("tries", Tries, form, reads.tried_sections(shop), unpriced, hung)

    return try_out


def _steadied(try_out: TryOut, shop: Shop, sheet: Sheet, draw: Draw) -> Steady:
    own, layout = make_steady(shop.wishes.form, shop, sheet, draw, try_out)
    return Steady(own, sheet, layout)


def _wood(layout: CartLayout, shop: Shop, sheet: Sheet, told: object) -> Cart:
    """The layout assembled; ``told`` is all that it is, for the key."""
    return assemble(shop, sheet, layout)


def _checked(
    layout: CartLayout, wood: Cart, own: Shop, sheet: Sheet, draw: Draw, asked: tuple[float, ...]
) -> CheckedCart:
    """Its checks; ``asked`` are the sizes that were wished for, before anything was added."""
    shop = own
    for key, size in zip(STEADYING, asked, strict=True):
        shop = with_size(shop, key, size)
    return check_steadied(shop, own, sheet, draw, layout, wood)


def _nearest(before: Tried, cart: CheckedCart, shop: Shop, sheet: Sheet, draw: Draw) -> CheckedCart:
    return with_nearest(shop, sheet, before, cart)
