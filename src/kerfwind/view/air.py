"""The air at each tool as people see it, and what would help."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..air import BranchTool, ToolAir, Verdict
from ..facts import Amount, Band, Fact, Listing, Name, Ref, Statement, Term
from ..plan import Plan, ToolHelp
from ..search.air_help import Change
from ..shopping import guesses_in
from ..words import Voice
from .hookups import chain_text

#: Gains below this part of the airflow are left out.
_LEAST_GAIN = 0.01
#: A change turns a tool where its dust is then caught this likely, and so much likelier than before.
_CAUGHT, _TURNED = 0.5, 0.05
#: A measurement that settles less than this is not worth the walk.
SETTLES = 0.02
_MOST_HELPS, _MOST_MEASURED = 8, 2


@dataclass(frozen=True)
class Tag:
    """A verdict or a level: what it is, for the one who sets it, and in words."""

    key: str
    text: str


@dataclass(frozen=True)
class ToolRow:
    """The air at one tool; ``chain`` is what joins it to its hose, in one line."""

    name: str
    airflow: str
    wanted: str
    chips: Tag
    caught: Tag
    hose: str
    chain: str


@dataclass(frozen=True)
class HelpRow:
    """One change: what it gains, where dust is then caught, what it costs."""

    what: str
    gain: str
    turns: str
    cost: str


@dataclass(frozen=True)
class BranchRow:
    """The air at one open end of a fixed branch, and which gate to close."""

    tool: str
    airflow: str
    wanted: str
    chips: Tag
    caught: Tag
    gate: str


@dataclass(frozen=True)
class MeasuredRow:
    """What was predicted at a tool, what was measured, and what is predicted since."""

    tool: str
    what: str
    predicted: str
    measured: str
    recalibrated: str


@dataclass(frozen=True)
class Afterwards:
    """What was measured after building, in a few sentences and a table."""

    text: str
    rows: tuple[MeasuredRow, ...]


def tool_rows(plan: Plan, voice: Voice) -> list[ToolRow]:
    """A row for each tool with a hose."""
    rows = []
    for air in plan.air:
        chain = plan.hookups.chain(air.tool)
        rows.append(
            ToolRow(
                air.tool,
                _airflow(air, voice),
                _wanted(air, voice),
                _tag(air.chips, voice),
                _tag(air.caught, voice),
                chain.hose,
                chain_text(chain, voice),
            )
        )
    return rows


def _airflow(air: ToolAir | BranchTool, voice: Voice) -> str:
    return voice.text(air.told_airflow)


def _wanted(air: ToolAir | BranchTool, voice: Voice) -> str:
    limit = air.caught.finding.limit
    return voice.text(limit) if limit else voice.word("view.air.not_known")


def _tag(verdict: Verdict, voice: Voice) -> Tag:
    return Tag(verdict.word, voice.text(verdict.named))


def help_rows(plan: Plan, voice: Voice) -> list[HelpRow]:
    """Changes by the airflow they gain over all tools together."""
    before = {each.tool: each.caught_before for each in plan.helps}
    groups: dict[Statement, list[tuple[str, Change]]] = {}
    for each in plan.helps:
        for change in each.changes:
            if change.share >= _LEAST_GAIN:
                groups.setdefault(change.what, []).append((each.tool, change))
    ranked = sorted(groups.values(), key=lambda g: -sum(c.gain_m3_s.best for _, c in g))
    return [_help(group, before, plan.helps, voice) for group in ranked[:_MOST_HELPS]]


def _help(
    group: Sequence[tuple[str, Change]],
    before: dict[str, float],
    helps: Sequence[ToolHelp],
    voice: Voice,
) -> HelpRow:
    first = group[0][1]
    low = min(c.gain_m3_s.low for _, c in group)
    high = max(c.gain_m3_s.high for _, c in group)
    what = voice.text(first.what)
    if len(group) < len(helps):
        tools = Listing(tuple(Ref("tool", tool) for tool, _ in group), "commas")
        what = voice.word("view.help.some", what=Name(what), tools=tools)
    if first.catch:
        what = voice.word("view.help.but", what=Name(what), catch=first.catch)
    turned = [
        voice.word(
            "view.help.turned",
            tool=Ref("tool", tool),
            before=round(100 * before[tool]),
            after=round(100 * change.caught),
        )
        for tool, change in group
        if change.caught >= _CAUGHT and change.caught - before[tool] >= _TURNED
    ]
    return HelpRow(
        what,
        voice.text(Band(low, low, high, "airflow")),
        voice.text(Listing(tuple(map(Name, turned)), "commas"))
        or voice.word("view.help.nowhere_new"),
        cost_text(first, voice) or voice.word("view.cost.unknown"),
    )


def cost_text(change: Change, voice: Voice) -> str:
    """What a change costs: nothing, up to so much, or from one price to another.

    Empty where the program guesses no price in this money.
    """
    low, high = (Amount(round(v), "money") for v in (change.cost_low, change.cost_high))
    if change.cost_high < 0.5:
        return voice.word("view.cost.nothing")
    if not guesses_in(voice.currency):
        return ""
    if low.si == 0:
        return voice.word("view.cost.up_to", price=high)
    return voice.word("number.range", before=low, after=high)


def worth_measuring(plan: Plan, voice: Voice) -> list[str]:
    """Measurements that would settle a verdict, and whose."""
    worth: dict[str, list[str]] = {}
    for each in plan.helps:
        for m in each.measurements[:_MOST_MEASURED]:
            if m.settles >= SETTLES:
                what = voice.word("search.measure.with", what=m.what, gauge=m.how)
                worth.setdefault(what, []).append(each.tool)
    return [
        voice.word(
            "view.measure.for",
            what=Name(what),
            tools=Listing(tuple(Ref("tool", t) for t in tools), "commas"),
        )
        for what, tools in worth.items()
    ]


def branch_rows(plan: Plan, voice: Voice) -> list[BranchRow]:
    """Tools on fixed branches, with the gates as they stand."""
    if plan.branches is None:
        return []
    gates = dict(plan.branches.gates)
    rows = []
    for tool in plan.branches.air.tools:
        best = next((c for c in gates.get(tool.tool, ()) if c.share >= _LEAST_GAIN), None)
        gain: Fact = best.gain_m3_s if best else Name("")
        rows.append(
            BranchRow(
                voice.text(tool.standing),
                _airflow(tool, voice),
                _wanted(tool, voice),
                _tag(tool.chips, voice),
                _tag(tool.caught, voice),
                voice.word("view.gate", gate=best.what, gain=gain)
                if best
                else voice.word("view.gate.none"),
            )
        )
    return rows


def afterwards(plan: Plan, voice: Voice) -> Afterwards | None:
    """What was measured after building; None where nothing was."""
    found = plan.afterwards
    if found is None:
        return None
    told = [voice.finding(f) for f in found.findings]
    said = [text for f in told for text in (f.answer, f.do) if text]
    said += [
        voice.word("air.measured.other", cause=e.named, size=e.size, remedy=e.remedy)
        for e in found.explanations[1:3]
    ]
    return Afterwards(
        voice.text(Listing(tuple(map(Name, said)), "sentences")),
        tuple(
            MeasuredRow(
                c.tool,
                voice.text(Term("suction", c.what)),
                voice.text(c.predicted),
                voice.text(Amount(c.measured_pa, "pressure")),
                voice.text(c.recalibrated),
            )
            for c in found.compared
        ),
    )
