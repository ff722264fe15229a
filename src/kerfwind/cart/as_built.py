"""Panels as they were cut that no cart can be joined from: named, with what was planned."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from ..facts import Amount, Listing, Statement, Term, state
from ..faults import Refusal, refusal
from ..joinery.workbench import UnjoinableError
from ..quantity import Draw
from ..shop import Built, Sheet, Shop
from ..solids import clashes, contact_area_m2
from .model import CannotBuild, Cart
from .whole_cart import CartLayout, assemble

LayOut = Callable[[Shop, Sheet, Draw], CartLayout]

#: A joint with less of its planned contact than this is not the joint that was planned.
_LEAST_CONTACT = 0.5
#: What stands out of the cart by more than a thumb's breadth is in the way.
_PROUD_M = 0.025
_NOMINAL = Draw(1)


def as_built_unmet(lay_out: LayOut, shop: Shop, sheet: Sheet) -> list[Refusal]:
    """Rows of panels as built with which the panels no longer make a cart.

    A row is named where it does so by itself, otherwise every row is. A vacuum or bucket that
    no longer fits is left to the checks, which say so.

    Raises
    ------
    CannotBuild
        As ``lay`` does.
    """
    planned = _planned(lay_out, shop, sheet)
    if planned is None:
        return []
    against = _against(lay_out, shop, sheet, planned)
    if not against:
        return []
    alone = [(row, _against(lay_out, _with(shop, (row,)), sheet, planned)) for row in shop.built]
    rows = [(row, why) for row, why in alone if why] or [(row, against) for row in shop.built]
    return [_unmet(row, why, planned) for row, why in rows]


def blamed(lay_out: LayOut, shop: Shop, sheet: Sheet, unmet: Sequence[Refusal]) -> list[Refusal]:
    """Rows of panels as built for which alone the cart misses what is wished for.

    ``unmet`` is what it misses; where that names a row already, or the cart misses it as
    planned, there are none.
    """
    if any(u.place.startswith("built[") for u in unmet):
        return []
    planned = _planned(lay_out, shop, sheet)
    if planned is None:
        return []
    rows_to_blame = []
    for row in shop.built:
        try:
            lay_out(_with(shop, (row,)), sheet, _NOMINAL)
        except CannotBuild:
            rows_to_blame.append(_unmet(row, state("cart.built.misses"), planned))
    return rows_to_blame


def _with(shop: Shop, rows: Sequence[Built]) -> Shop:
    return shop.model_copy(update={"built": tuple(rows)})


def _planned(lay_out: LayOut, shop: Shop, sheet: Sheet) -> Cart | None:
    """The cart with none of its panels as built, where there are such rows.

    None as well where it cannot be built: what stands against it is told by its form.
    """
    if not shop.built:
        return None
    try:
        return _finished(lay_out, _with(shop, ()), sheet)
    except CannotBuild:
        return None


def _finished(lay_out: LayOut, shop: Shop, sheet: Sheet) -> Cart:
    return assemble(shop, sheet, lay_out(shop, sheet, _NOMINAL))


def _unmet(row: Built, why: Statement, planned: Cart) -> Refusal:
    panel = next(p for p in planned.panels if p.name == row.name)
    sides = [(s, getattr(row, s), getattr(panel, f"{s}_m")) for s in ("length", "width")]
    given = [
        (side, Amount(measured.best_si, "length"), Amount(was, "length"))
        for side, measured, was in sides
        if measured is not None
    ]
    return refusal(
        "cart.refused.as_built",
        f"built[{row.name}]",
        sides=Listing(tuple(state("cart.built.side", side=s, size=now) for s, now, _ in given)),
        planned=Listing(tuple(state("cart.built.planned", side=s, size=p) for s, _, p in given)),
        why=why,
    )


def _against(lay_out: LayOut, shop: Shop, sheet: Sheet, planned: Cart) -> Statement | None:
    """What keeps the panels as they were cut from making a cart; None where nothing does."""
    try:
        cart = _finished(lay_out, shop, sheet)
    except CannotBuild:
        return None
    except UnjoinableError as error:
        return error.why
    wood = {p.name for p in cart.placed}
    for clash in clashes(cart.bodies):
        met = {clash.first, clash.second}
        if met <= wood or (met & wood and "link hose" in met):
            first, second = (
                Term("panel" if n in wood else "body", n) for n in (clash.first, clash.second)
            )
            return state("cart.built.in_one_place", first=first, second=second)
    return _loose(cart, planned) or _proud(cart, planned)


def _contacts(cart: Cart) -> dict[tuple[str, str], float]:
    """Area over which the two of each joint touch, or go into each other in a groove [m²]."""
    placed = {p.name: p for p in cart.placed}
    areas = {}
    for joint in cart.joints:
        first, second = placed[joint.first], placed[joint.second]
        if joint.in_groove:
            a, b = cart.body(joint.first), cart.body(joint.second)
            box = np.minimum(a.high, b.high) - np.maximum(a.low, b.low)
            area = float(np.prod(np.delete(box, int(np.argmax(np.abs(joint.way))))))
        else:
            area = contact_area_m2(
                cart.panel(first.key).plate, first.at, cart.panel(second.key).plate, second.at
            )
        areas[joint.first, joint.second] = area
    return areas


def _loose(cart: Cart, planned: Cart) -> Statement | None:
    """Two panels that hardly meet any more; None where all meet."""
    was = _contacts(planned)
    for pair, area in _contacts(cart).items():
        if area < _LEAST_CONTACT * was.get(pair, area):
            first, second = (Term("panel", name) for name in pair)
            return state("cart.built.hardly_meet", first=first, second=second)
    return None


def _proud(cart: Cart, planned: Cart) -> Statement | None:
    """A panel that stands out beyond the others, or beyond the sizes that are told."""
    was = _over(planned)
    for axis, (over, name) in enumerate(_over(cart)):
        if over > max(was[axis][0], 0.0) + _PROUD_M:
            return state("cart.built.stands_out", panel=Term("panel", name))
    return None


def _over(cart: Cart) -> list[tuple[float, str]]:
    """By how much the wood is wider, deeper and higher than is told; and which panel is longest."""
    bodies = [cart.body(p.name) for p in cart.placed]
    beyond = []
    stated = (cart.sizes.width_m, cart.sizes.length_m, cart.sizes.height_m)
    for axis, limit in enumerate(stated):
        low, high = min(b.low[axis] for b in bodies), max(b.high[axis] for b in bodies)
        low = 0.0 if axis == 2 else low
        largest = max(bodies, key=lambda b: float(b.high[axis] - b.low[axis]))
        beyond.append((float(high - low) - limit, largest.name))
    return beyond
