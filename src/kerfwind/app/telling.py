"""A plan's answers as rows, to be set beside those of another plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..plan import Plan
from ..view.air import tool_rows
from ..view.hookups import chain_rows
from ..view.summary import bill_text, sheets_fact, summary_rows
from ..words import Voice

#: Checks of how the cart stands and rolls.
_STEADY = ("cart.tilt.", "cart.rolling.", "cart.tips.")


@dataclass(frozen=True)
class Told:
    """One answer: the group it stands in, what it is of, and the answer."""

    group: str
    what: str
    answer: str


@dataclass(frozen=True)
class Changed:
    """An answer in two plans; empty where one of them has none."""

    group: str
    what: str
    before: str
    after: str

    @property
    def same(self) -> bool:
        """Whether both say the same."""
        return self.before == self.after


def told(plan: Plan, voice: Voice) -> list[Told]:
    """What one wants to know of a plan: dust, air, cart and sheets, money, steadiness."""
    voice = voice.plain()
    rows = [Told("dust", r.name, r.caught.text) for r in tool_rows(plan, voice)]
    rows += [Told("air", r.name, r.airflow) for r in tool_rows(plan, voice)]
    rows += [Told("hookups", r.name, r.line) for r in chain_rows(plan, voice)]
    size = summary_rows(plan, voice)[:2] if plan.cart is not None else []
    rows += [Told("cart", what, answer) for what, answer in size]
    if plan.nest is not None:
        rows.append(
            Told("sheets", voice.word("view.summary.sheets"), voice.text(sheets_fact(plan)))
        )
    rows.append(Told("money", voice.word("view.summary.to_buy"), bill_text(plan, voice)))
    for each in plan.findings:
        if each.key.startswith(_STEADY) and each.value is not None:
            rows.append(Told("steady", voice.say(each.key, each.facts), voice.band(each.value)))
    return rows


def changed(before: Sequence[Told], after: Sequence[Told]) -> list[Changed]:
    """Both plans' answers side by side, in the order of the later one."""
    old = {(t.group, t.what): t.answer for t in before}
    new = {(t.group, t.what): t.answer for t in after}
    keys = [*new, *(k for k in old if k not in new)]
    order = list(dict.fromkeys(group for group, _ in keys))
    keys.sort(key=lambda k: order.index(k[0]))
    return [Changed(*k, old.get(k, ""), new.get(k, "")) for k in keys]
