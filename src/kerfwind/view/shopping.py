"""The shopping list as people see it."""

from __future__ import annotations

from collections.abc import Sequence

from ..facts import Amount, Name
from ..shopping import ShoppingLine
from ..words import Voice


def shopping_rows(lines: Sequence[ShoppingLine], voice: Voice) -> list[dict[str, str]]:
    """Rows for a page, each with its price as far as one is known."""
    return [
        {
            "count": str(line.count),
            "what": _what(line, voice),
            "each": _price(line, line.price, voice),
            "total": _price(line, None if line.price is None else line.cost, voice),
        }
        for line in lines
    ]


def _what(line: ShoppingLine, voice: Voice) -> str:
    if line.note is None:
        return voice.text(line.what)
    return voice.word("shopping.with_note", what=line.what, note=line.note)


def _price(line: ShoppingLine, amount: float | None, voice: Voice) -> str:
    if amount is None:
        return ""
    price = Amount(amount, "money")
    return (
        voice.word("shopping.about", price=price) if line.standing == "about" else voice.text(price)
    )


def shopping_table(lines: Sequence[ShoppingLine], voice: Voice) -> list[list[object]]:
    """The list as a table of bare numbers, below a row of headings."""
    currency = Name(voice.currency)
    heading: list[object] = [
        voice.word("shopping.column.kind"),
        voice.word("shopping.column.what"),
        voice.word("shopping.column.number"),
        voice.word("shopping.column.each", currency=currency),
        voice.word("shopping.column.together", currency=currency),
        voice.word("shopping.column.price-is"),
        voice.word("shopping.column.note"),
    ]
    rows: list[list[object]] = [
        [
            voice.word(f"shopping.kind.{line.kind}"),
            voice.text(line.what),
            line.count,
            "" if line.price is None else f"{line.price:.2f}",
            "" if line.price is None else f"{line.cost:.2f}",
            voice.word(f"shopping.standing.{line.standing}"),
            "" if line.note is None else voice.text(line.note),
        ]
        for line in lines
    ]
    return [heading, *rows]
