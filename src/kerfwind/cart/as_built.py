"""Panels as they were cut that no cart can be joined from: named, with what was planned."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from ..joinery.marks import MarkingRule
from ..joinery.workbench import UnjoinableError
from ..quantity import Draw
from ..shop import Built, Sheet, Shop
from ..solids import clashes, contact_area_m2
from .model import CannotBuild, Cart, Unmet
from .whole_cart import CartLayout, assemble

LayOut = Callable[[Shop, Sheet, Draw], CartLayout]

#: A joint with less of its planned contact than this is not the joint that was planned.
_LEAST_CONTACT = 0.5
#: What stands out of the cart by more than a thumb's breadth is in the way.
_PROUD_M = 0.025
_NOMINAL = Draw(1)


def as_built_unmet(lay_out: LayOut, shop: Shop, sheet: Sheet) -> list[Unmet]:
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
    rule = MarkingRule.of(shop)
    return [_unmet(row, why, planned, rule) for row, why in rows]


def blamed(lay_out: LayOut, shop: Shop, sheet: Sheet, unmet: Sequence[Unmet]) -> list[Unmet]:
    """Rows of panels as built for which alone the cart misses what is wished for.

    ``unmet`` is what it misses; where that names a row already, or the cart misses it as
    planned, there are none.
    """
    if any(u.wish.startswith("built") for u in unmet):
        return []
    planned = _planned(lay_out, shop, sheet)
    if planned is None:
        return []
    rule, rows_to_blame = MarkingRule.of(shop), []
    for row in shop.built:
        try:
            lay_out(_with(shop, (row,)), sheet, _NOMINAL)
        except CannotBuild:
            rows_to_blame.append(
                _unmet(row, "the cart then misses what is wished for", planned, rule)
            )
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
    return assemble(shop, sheet, _NOMINAL, lay_out(shop, sheet, _NOMINAL))


def _unmet(row: Built, why: str, planned: Cart, rule: MarkingRule) -> Unmet:
    panel = next(p for p in planned.panels if p.name == row.name)
    sides = [(s, getattr(row, s), getattr(panel, f"{s}_m")) for s in ("length", "width")]
    given = [(s, measured.best_si, was) for s, measured, was in sides if measured is not None]
    return Unmet(
        f"built[{row.name}]",
        " and ".join(f"a {side} of {rule.text(size)}" for side, size, _ in given) + f": {why}",
        " and ".join(f"a {side} of about {rule.text(was)}" for side, _, was in given)
        + ", as planned",
        "Check the unit and which side was measured; if it is so, cut this panel again.",
    )


def _against(lay_out: LayOut, shop: Shop, sheet: Sheet, planned: Cart) -> str:
    """What keeps the panels as they were cut from making a cart; empty where nothing does."""
    try:
        cart = _finished(lay_out, shop, sheet)
    except CannotBuild:
        return ""
    except UnjoinableError as error:
        return str(error.why)
    wood = {p.name for p in cart.placed}
    for clash in clashes(cart.bodies):
        met = {clash.first, clash.second}
        if met <= wood or (met & wood and "link hose" in met):
            return f"{clash.first} and {clash.second} would be in one place"
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


def _loose(cart: Cart, planned: Cart) -> str:
    """Names two panels that hardly meet any more; empty where all meet."""
    was = _contacts(planned)
    for pair, area in _contacts(cart).items():
        if area < _LEAST_CONTACT * was.get(pair, area):
            return f"{pair[0]} and {pair[1]} would hardly meet"
    return ""


def _proud(cart: Cart, planned: Cart) -> str:
    """A panel that stands out beyond the others, or beyond the sizes that are told."""
    was = _over(planned)
    for axis, (over, name) in enumerate(_over(cart)):
        if over > max(was[axis][0], 0.0) + _PROUD_M:
            return f"the {name} would stand out of the cart"
    return ""


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
