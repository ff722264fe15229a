"""The shopping list: sheets, fittings and hardware, counted as they are sold."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from .cutting import Nest
from .facts import Amount, Fact, Listing, Ref, state
from .hookup import Hookups
from .joinery import HardwareItem
from .shop.catalogue.prices import EDGING_METRE, PAINT_LITRE, hardware_price
from .sources import fact

Standing = Literal["given", "about", "none"]


@dataclass(frozen=True)
class ShoppingLine:
    """One row.

    ``price`` is for one of ``count``, ``standing`` says whose price it is, and ``note`` what
    it is for or how it is sold.
    """

    kind: Literal["sheet", "fitting", "print", "hardware", "finish"]
    what: Fact
    count: int
    price: float | None
    standing: Standing
    note: Fact | None = None

    @property
    def cost(self) -> float:
        """Price of all of them; 0 where no price is known."""
        return (self.price or 0.0) * self.count


def shopping(
    hookups: Hookups,
    hardware: Sequence[HardwareItem],
    nest: Nest | None,
    *,
    link_m: float = 0.0,
    own_printer: bool = True,
    assumed_sheets: Collection[str] = (),
    taped: Sequence[Fact] = (),
    paint_l: float = 0.0,
    edging_m: float = 0.0,
    currency: str = "$",
) -> tuple[ShoppingLine, ...]:
    """Everything to buy, sheets first. Rough prices are marked ``about``.

    The program guesses in dollars alone; in any other ``currency`` only prices that were given
    are told. ``taped`` is what has a joint that wants tape; ``paint_l`` is what the faces and
    edges take [L], and ``edging_m`` how much edging would cover the plies that show instead [m].
    ``link_m`` is how much link hose is owned [m]; one that is long enough is not bought.
    ``assumed_sheets`` are the names of sheets whose price nobody gave. Printed parts cost their
    filament, and what a printing service asks where no printer is owned.
    """
    lines: list[ShoppingLine] = []
    if nest is not None:
        lines += _sheets(nest, assumed_sheets)
    for purchase in hookups.purchases:
        used = state("shopping.for_tools", tools=Listing(purchase.used_by, "commas"))
        lines.append(_guess("fitting", purchase.what, purchase.count, purchase.price, used))
    if taped:
        used = state("shopping.for_tools", tools=Listing(tuple(taped), "commas"))
        price = fact("hookup.tape_price").value
        lines.append(_guess("fitting", state("shopping.tape"), 1, price, used))
    for reducer in hookups.printed:
        asked = 0.0 if own_printer else fact("hookup.print_service").value
        part = reducer.called
        what = state("shopping.filament" if own_printer else "shopping.made_to_order", part=part)
        lines.append(_guess("print", what, 1, reducer.material_price + asked))
    for item in _alike_together(hardware):
        if item.key == "link-hose" and (item.length_m or 0.0) <= link_m:
            continue
        row = hardware_price(item.kind)
        name, use = item.what, Listing(item.uses, "semicolons")
        if item.kind == "hose":
            each = fact("air.cost.hose_m").value * (item.length_m or 0.0)
            lines.append(_guess("hardware", name, item.quantity, each, use))
            continue
        if row is None:
            lines.append(ShoppingLine("hardware", name, item.quantity, None, "none", use))
            continue
        packs = -(-item.quantity // row.pack)
        boxed = state("shopping.boxed", pack=row.pack, needed=item.quantity)
        lines.append(_guess("hardware", name, packs, row.price, boxed if row.pack > 1 else use))
    if paint_l > 0:
        what = state("shopping.paint", volume=Amount(paint_l / 1000, "volume"))
        lines.append(_guess("finish", what, 1, PAINT_LITRE * paint_l))
    if edging_m > 0:
        what = state("shopping.edging", length=Amount(edging_m, "length", "tall"))
        note = state("shopping.edging.or_seal")
        lines.append(_guess("finish", what, 1, EDGING_METRE * edging_m, note))
    return tuple(lines if guesses_in(currency) else map(_without_guess, lines))


def guesses_in(currency: str) -> bool:
    """Whether the program's own prices are in this money; in any other it guesses none."""
    return currency in _DOLLARS


def _sheets(nest: Nest, assumed: Collection[str]) -> list[ShoppingLine]:
    """Sheets to buy, the first with how near all are to the least money; then what is there."""
    counts = Counter(s.kind for s in nest.sheets)
    lines: list[ShoppingLine] = []
    for kind, number in counts.items():
        if kind.offcut:
            continue
        name = Ref("sheet", kind.key)
        lines.append(
            _guess("sheet", name, number, kind.price)
            if kind.key in assumed
            else ShoppingLine("sheet", name, number, kind.price, "given")
        )
    if lines and lines[0].price:
        least = (
            state("shopping.least_proven")
            if nest.proven
            else state("shopping.least", least=Amount(nest.bound_cost, "money"))
        )
        lines[0] = replace(lines[0], note=least)
    there = state("shopping.on_hand")
    return lines + [
        ShoppingLine("sheet", Ref("sheet", kind.key), number, 0.0, "given", there)
        for kind, number in counts.items()
        if kind.offcut
    ]


def _alike_together(hardware: Sequence[HardwareItem]) -> list[HardwareItem]:
    """One row for what is bought as the same thing, whatever it is for: it comes out of one box."""
    rows: dict[tuple[str, Fact], HardwareItem] = {}
    for item in hardware:
        had = rows.get((item.kind, item.what))
        # Hose is cut to each of its lengths.
        if had is None or item.kind == "hose":
            rows[item.kind, item.what] = item
        else:
            rows[item.kind, item.what] = had.with_more(item.quantity, item.uses)
    return list(rows.values())


#: The money that the program's own prices are in.
_DOLLARS = ("$", "US$", "USD")


def _guess(
    kind: Literal["sheet", "fitting", "print", "hardware", "finish"],
    what: Fact,
    count: int,
    price: float,
    note: Fact | None = None,
) -> ShoppingLine:
    return ShoppingLine(kind, what, count, rounded(price), "about", note)


def _without_guess(line: ShoppingLine) -> ShoppingLine:
    return replace(line, price=None, standing="none") if line.standing == "about" else line


def rounded(price: float) -> float:
    """A price no finer than a guess is: halves, ones, fives, tens, and so on.

    >>> [rounded(p) for p in (0.34, 3.7, 23.0, 178.0)]
    [0.5, 4.0, 25.0, 180.0]
    """
    step = next((s for most, s in _STEPS if price < most), 50.0)
    return max(round(price / step) * step, step)


#: Up to which price a guess goes by which step; each is of both steps that meet there, lest what
#: costs more be told as less.
_STEPS = ((2.0, 0.5), (15.0, 1.0), (60.0, 5.0), (500.0, 10.0))


def total(lines: tuple[ShoppingLine, ...]) -> float:
    """What it all costs, as far as prices are known."""
    return sum(line.cost for line in lines)
