"""The program guesses prices in dollars alone: in other money only what the file gives is told."""

import re

import pytest
from tests.shops import shop_path

from kerfwind.plan import make_plan
from kerfwind.printed.content import content
from kerfwind.printed.figure_files import Figures
from kerfwind.shop import parse_shop


@pytest.mark.parametrize("name", ["cellar", "boathouse"])
@pytest.mark.parametrize(("currency", "guesses"), [("$", True), ("€", False), ("£", False)])
def test_no_price_is_told_in_money_that_nobody_gave_it_in(
    name: str, currency: str, guesses: bool
) -> None:
    text = shop_path(name).read_text(encoding="utf-8")
    assert 'currency = "€"' in text
    plan = make_plan(
        parse_shop(text.replace('currency = "€"', f'currency = "{currency}"')), samples=256
    )
    pages = content(plan, Figures(reducers=[""] * len(plan.hookups.printed)))
    told = set(re.findall(rf"\{currency}([\d,.]*\d)", str(pages)))
    sheets = [line for line in plan.shopping if line.kind == "sheet"]
    each = {line.price for line in sheets}
    mine = each | {line.price * line.count for line in sheets}
    mine.add(sum(line.price * line.count for line in sheets))
    # What no layout costs less than is reckoned from the prices of the file as well.
    mine.add(float(round(plan.build.nest.bound_cost)))
    others = {price for price in told if float(price.replace(",", "")) not in mine}
    assert bool(others) == guesses
