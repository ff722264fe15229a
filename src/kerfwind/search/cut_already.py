"""Panels that were cut already, and came out otherwise than planned: one of several, or all."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from ..cart import CannotBuild, Cart
from ..checks import CheckedCart, build
from ..facts import Amount, Ref, Term, facts
from ..finding import Finding, finding
from ..joinery import CutPanel
from ..quantity import Draw
from ..shop import Built, Sheet, Shop

_MARK = re.compile(r"([A-Z]{1,2})\s?(\d{0,3})")
#: A gap that is packed with a strip sooner than by anything else, at most [m]; common practice.
_SHIM_M = 0.006
_FAILED = ("stop", "problem")


@dataclass(frozen=True)
class OneOfSeveral:
    """One copy of a panel as it was cut, and what could be done about it.

    Attributes
    ----------
    called, panel, copy
        As the file calls it; the panel's name; which of its copies, from 1.
    side, was_m, now_m
        The side that differs, as planned and as cut.
    mate
        Whether a cart can be joined with every copy cut to it; ``fails`` is how many checks
        then fail that did not.
    again_cost, again_sheets
        What cutting it again adds in money and in sheets.
    """

    called: str
    panel: str
    copy: int
    side: Literal["length", "width"]
    was_m: float
    now_m: float
    mate: bool
    fails: int
    again_cost: float = 0.0
    again_sheets: int = 0


@dataclass(frozen=True)
class Standing:
    """What the rows of a file come to.

    ``whole`` are rows for every copy of a panel, ``single`` those for one of several; ``made``
    are the copies that need not be cut any more, by the panel's name.
    """

    whole: tuple[Built, ...]
    single: tuple[tuple[Built, CutPanel, int], ...]
    made: dict[str, frozenset[int]]


def sorted_out(rows: Sequence[Built], planned: Cart) -> Standing:
    """Which panels and copies the rows speak of: by name, by mark, or by place in the cart.

    A row that speaks of nothing in the cart stays as it is, to be refused where carts are built.
    """
    whole: list[Built] = []
    single: list[tuple[Built, CutPanel, int]] = []
    made: dict[str, set[int]] = {}
    for row in rows:
        found = _copies(row.name, planned)
        if found is None:
            whole.append(row)
            continue
        panel, copies = found
        made.setdefault(panel.name, set()).update(copies)
        if len(copies) == panel.quantity:
            whole.append(row.model_copy(update={"name": panel.name}))
        else:
            single.append((row, panel, copies[0]))
    return Standing(tuple(whole), tuple(single), {k: frozenset(v) for k, v in made.items()})


def by_panel(shop: Shop, sheets: Sequence[Sheet]) -> Shop:
    """The shop with its rows of panels as built naming each panel, as the cart planned has it.

    One of several is left out: the cart is planned as if it had come out right. ``sheets`` are
    tried in turn; where no cart can be built of any, rows stay as they are.
    """
    if not shop.built:
        return shop
    bare = shop.model_copy(update={"built": ()})
    for sheet in sheets:
        try:
            planned = build(bare, sheet, Draw(1))
        except CannotBuild:
            continue
        return shop.model_copy(update={"built": sorted_out(shop.built, planned).whole})
    return shop


def _copies(name: str, planned: Cart) -> tuple[CutPanel, list[int]] | None:
    for panel in planned.panels:
        every = list(range(1, panel.quantity + 1))
        mark = _MARK.fullmatch(name.strip().upper())
        if name == panel.name or (mark and mark[1] == panel.key and not mark[2]):
            return panel, every
        if mark and mark[1] == panel.key and int(mark[2]) in every:
            return panel, [int(mark[2])]
        placed = [p.name for p in planned.placed if p.key == panel.key]
        if name.strip().lower() in placed:
            return panel, [placed.index(name.strip().lower()) + 1]
    return None


def ways_on(
    shop: Shop, sheet: Sheet, draw: Draw, cart: CheckedCart, standing: Standing
) -> tuple[OneOfSeveral, ...]:
    """For each single copy, what its mates would have to become, tried on the whole cart."""
    found = []
    for row, panel, copy in standing.single:
        sides: tuple[Literal["length", "width"], ...] = ("length", "width")
        for side in sides:
            measured = getattr(row, side)
            if measured is None:
                continue
            was, now = getattr(panel, f"{side}_m"), float(measured.best_si)
            alike = Built(name=panel.name, **{side: measured})
            tried = shop.model_copy(update={"built": (*standing.whole, alike)})
            try:
                with_it = build(tried, sheet, draw)
                mate, fails = True, max(_failing(with_it) - _failing(cart), 0)
            except CannotBuild:
                mate, fails = False, 0
            found.append(OneOfSeveral(row.name, panel.name, copy, side, was, now, mate, fails))
    return tuple(found)


def _failing(cart: CheckedCart) -> int:
    return sum(f.level in _FAILED for f in cart.findings)


def single_findings(found: Sequence[OneOfSeveral]) -> list[Finding]:
    """What a cabinetmaker would do with each, and what comes of it."""
    return [
        finding(
            "cart.one_panel",
            "short" if one.now_m < one.was_m else "long",
            "advice",
            Ref("panel", one.called),
            facts=facts(
                panel=Term("panel", one.panel),
                side=one.side,
                now=Amount(one.now_m, "length"),
                was=Amount(one.was_m, "length"),
                by=Amount(abs(one.was_m - one.now_m), "length", "fine"),
                mate="passes" if one.mate and not one.fails else "fails" if one.mate else "none",
                fails=one.fails,
                shim="yes" if one.was_m - one.now_m <= _SHIM_M else "no",
                sheets=one.again_sheets,
                price=Amount(one.again_cost, "money"),
            ),
        )
        for one in found
        if abs(one.was_m - one.now_m) > 5e-5
    ]
