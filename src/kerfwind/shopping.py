"""The shopping list: sheets, fittings and hardware, counted as they are sold."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Literal

from .cutting import Nest
from .facts import Fact, Listing, Ref, state
from .hookup import Hookups
from .joinery import HardwareItem
from .shop.catalogue.prices import hardware_price
from .sources import fact

Standing = Literal["given", "about", "none"]


@dataclass(frozen=True)
class ShoppingLine:
    """One row.

    ``price`` is for one of ``count``, ``standing`` says whose price it is, and ``note`` what
    it is for or how it is sold.
    """

    kind: Literal["sheet", "fitting", "print", "hardware"]
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
) -> tuple[ShoppingLine, ...]:
    """Everything to buy, sheets first. Rough prices are marked ``about``.

    ``link_m`` is how much link hose is owned [m]; one that is long enough is not bought.
    ``assumed_sheets`` are the names of sheets whose price nobody gave. Printed parts cost their
    filament, and what a printing service asks where no printer is owned.
    """
    lines: list[ShoppingLine] = []
    if nest is not None:
        counts: dict[str, int] = {}
        prices: dict[str, float] = {}
        for sheet in nest.sheets:
            if not sheet.kind.offcut:
                counts[sheet.kind.key] = counts.get(sheet.kind.key, 0) + 1
                prices[sheet.kind.key] = sheet.kind.price
        lines += [
            ShoppingLine(
                "sheet", Ref("sheet", k), n, prices[k], "about" if k in assumed_sheets else "given"
            )
            for k, n in counts.items()
        ]
    for purchase in hookups.purchases:
        lines.append(
            ShoppingLine(
                "fitting",
                purchase.what,
                purchase.count,
                purchase.price,
                "about",
                state("shopping.for_tools", tools=Listing(purchase.used_by, "commas")),
            )
        )
    for reducer in hookups.printed:
        asked = 0.0 if own_printer else fact("hookup.print_service").value
        part = reducer.called
        what = state("shopping.filament" if own_printer else "shopping.made_to_order", part=part)
        price = round(reducer.material_price + asked, 2)
        lines.append(ShoppingLine("print", what, 1, price, "about"))
    for item in hardware:
        if item.key == "link-hose" and (item.length_m or 0.0) <= link_m:
            continue
        row = hardware_price(item.kind)
        name, use = item.what, Listing(item.uses, "semicolons")
        if row is None:
            lines.append(ShoppingLine("hardware", name, item.quantity, None, "none", use))
            continue
        packs = -(-item.quantity // row.pack)
        boxed = state("shopping.boxed", pack=row.pack, needed=item.quantity)
        note = boxed if row.pack > 1 else use
        lines.append(ShoppingLine("hardware", name, packs, row.price, "about", note))
    return tuple(lines)


def total(lines: tuple[ShoppingLine, ...]) -> float:
    """What it all costs, as far as prices are known."""
    return sum(line.cost for line in lines)
