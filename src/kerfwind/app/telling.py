"""A plan's answers as rows, to be set beside those of another plan."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Sequence
from dataclasses import dataclass, field

from ..facts import Name
from ..finding import Finding
from ..plan import Plan
from ..view.air import tool_rows
from ..view.breathing import session_rows
from ..view.cart import panel_rows
from ..view.hookups import chain_rows
from ..view.summary import bill_text, level_text, sheets_fact, summary_rows
from ..words import Voice

#: Checks of how the cart stands and rolls.
_STEADY = ("cart.tilt.", "cart.rolling.", "cart.tips.")


@dataclass(frozen=True)
class Told:
    """One answer: the group it stands in, what it is ``of``, and the answer.

    ``say`` gives what it is of in words. A ``quiet`` one is no news where it is new or gone.
    """

    group: str
    of: Hashable
    answer: str
    say: Callable[[], str] = field(compare=False, repr=False)
    quiet: bool = False


@dataclass(frozen=True)
class Changed:
    """An answer in two plans; None where one of them has none."""

    before: Told | None
    after: Told | None

    @property
    def _any(self) -> Told:
        one = self.after or self.before
        assert one is not None
        return one

    @property
    def group(self) -> str:
        """Where it stands."""
        return self._any.group

    @property
    def what(self) -> str:
        """What it is an answer to."""
        return self._any.say()

    @property
    def same(self) -> bool:
        """Whether both say the same, or nothing that is news."""
        if self.before is None or self.after is None:
            return self._any.quiet
        return self.before.answer == self.after.answer


def told(plan: Plan, voice: Voice) -> list[Told]:
    """What one wants to know of a plan, whole: checks, dust and air, work, cart, sheets, money."""
    spoken, voice = voice, voice.plain()
    rows = list(_checks(plan, spoken))

    def add(group: str, what: str, answer: str) -> None:
        rows.append(Told(group, what, answer, lambda: what))

    tools = tool_rows(plan, voice)
    for tool in tools:
        add("dust", tool.name, tool.caught.text)
    for tool in tools:
        add("air", tool.name, tool.airflow)
    for session in session_rows(plan, voice):
        for column, answer in (
            ("day_mean", session.air),
            ("mask_on", session.mask_on),
            ("sessions_full", session.sessions),
        ):
            add("breathing", f"{session.name}: {voice.word(f'page.column.{column}')}", answer)
    for chain in chain_rows(plan, voice):
        add("hookups", chain.name, chain.line)
    if plan.build is not None:
        for item in plan.build.hardware:
            if item.key == "link-hose":
                add("hookups", voice.word("app.compare.link"), voice.text(item.what))
    if plan.cart is not None:
        for what, answer in summary_rows(plan, voice)[:2]:
            add("cart", what, answer)
        for panel in panel_rows(plan, voice):
            size = voice.word(
                "app.compare.panel", length=Name(panel.length), width=Name(panel.width)
            )
            add("cart", f"{panel.mark} {panel.name}", size)
    if plan.nest is not None:
        add("sheets", voice.word("view.summary.sheets"), voice.text(sheets_fact(plan)))
    add("money", voice.word("view.summary.to_buy"), bill_text(plan, voice))
    for each in plan.findings:
        if each.key.startswith(_STEADY) and each.value is not None:
            add("steady", voice.say(each.key, each.facts), voice.band(each.value))
    return rows


def _checks(plan: Plan, voice: Voice) -> Iterator[Told]:
    """How each check came out: the worst, where it is made of the same thing more than once."""
    seen = set()
    for each in plan.findings:
        of = each.key, each.about
        if of not in seen:
            seen.add(of)
            level = level_text(each.level, voice)
            yield Told("checks", of, level, _said(each, voice), quiet=each.level == "good")


def _said(finding: Finding, voice: Voice) -> Callable[[], str]:
    def say() -> str:
        said = voice.finding(finding)
        return f"{said.about}: {said.check}" if said.about else said.check

    return say


def changed(before: Sequence[Told], after: Sequence[Told]) -> list[Changed]:
    """Both plans' answers side by side, in the order of the later one."""
    old = {(t.group, t.of): t for t in before}
    new = {(t.group, t.of): t for t in after}
    keys = [*new, *(k for k in old if k not in new)]
    order = list(dict.fromkeys(group for group, _ in keys))
    keys.sort(key=lambda k: order.index(k[0]))
    return [Changed(old.get(k), new.get(k)) for k in keys]
