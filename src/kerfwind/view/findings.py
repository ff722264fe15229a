"""Findings in words, together where they say the same."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ..facts import Listing, Name, Ref
from ..finding import PREVENTING, Finding, Level
from ..shop import Shop
from ..words import Said, Voice

if TYPE_CHECKING:
    from ..plan import Plan


@dataclass(frozen=True)
class Spoken:
    """A finding, or several that say the same of several things, in words."""

    level: Level
    key: str
    said: Said
    sources: tuple[str, ...]
    measure: tuple[str, ...]


@dataclass(frozen=True)
class Group:
    """Findings of one check with one thing to do, and what to measure for all of them."""

    level: Level
    spoken: tuple[Spoken, ...]
    do: str
    measure: tuple[str, ...]


def voice_for(shop: Shop) -> Voice:
    """The language, units and money that a shop file asks for."""
    return Voice(shop.about.language, shop.about.units, shop.about.currency)


def voice_of(plan: Plan) -> Voice:
    """The language, units and money that a plan's shop file asks for."""
    return voice_for(plan.shop)


def spoken(findings: Sequence[Finding], voice: Voice) -> list[Spoken]:
    """Each in words; those that say the same of several things, once of all of them."""
    groups: dict[tuple[str, ...], list[tuple[Finding, Said]]] = {}
    for finding in findings:
        said = voice.finding(finding)
        groups.setdefault((finding.key, finding.level, said.answer, said.do), []).append(
            (finding, said)
        )
    result = []
    for group in groups.values():
        first, said = group[0]
        if len(group) > 1:
            names = dict.fromkeys(s.about for _, s in group if s.about)
            about = voice.text(Listing(tuple(map(Name, names)), "commas"))
            alike = all((f.value, f.limit) == (first.value, first.limit) for f, _ in group)
            said = replace(said, about=about, numbers=said.numbers if alike else "")
        measure = tuple(dict.fromkeys(m for f, _ in group for m in f.measure))
        result.append(Spoken(first.level, first.key, said, first.sources, measure))
    return result


def groups(findings: Sequence[Finding], voice: Voice) -> list[Group]:
    """What is not good, worst first as it comes, alike checks together where the first stands."""
    rows: dict[tuple[str, ...], list[Spoken]] = {}
    for number, each in enumerate(spoken([f for f in findings if f.level != "good"], voice)):
        alone = "" if each.said.do and each.said.about else str(number)
        rows.setdefault((each.key, each.level, each.said.do, alone), []).append(each)
    return [
        Group(
            row[0].level,
            tuple(row),
            row[0].said.do,
            tuple(dict.fromkeys(m for each in row for m in each.measure)),
        )
        for row in rows.values()
    ]


def measure_text(measure: Sequence[str], voice: Voice) -> str:
    """Fields of the shop file to measure: by name, and where to find them."""
    places = tuple(Name(voice.found_at(path)) for path in measure)
    return voice.text(Listing(places, "commas"))


def verdict_lines(plan: Plan) -> list[str]:
    """What a person should know first, worst first, in a few plain lines."""
    voice = voice_of(plan)
    lines = []
    tools: dict[str, list[str]] = {}
    for air in plan.air:
        tools.setdefault(air.caught.word, []).append(air.tool)
    for word in ("starved", "weak", "unknown", "enough", "strong"):
        if word in tools:
            named = Listing(tuple(Ref("tool", tool) for tool in tools[word]), "commas")
            lines.append(voice.word(f"view.verdict.{word}", tools=named))
    prevented = [f for f in plan.findings if f.key in PREVENTING]
    cart = [
        voice.finding(f)
        for f in plan.findings
        if f.level == "problem" and f.room == "cart" and f.key not in PREVENTING
    ]
    for said in cart[:4]:
        about = Name(said.about[:1].upper() + said.about[1:] or voice.word("view.verdict.cart"))
        lines.append(voice.word("view.verdict.of", about=about, answer=Name(said.answer)))
    if any(f.level == "problem" and f.room == "power" for f in plan.findings):
        lines.append(voice.word("view.verdict.overload"))
    stops = [voice.finding(f).answer for f in plan.findings if f.level == "stop"]
    first = [voice.finding(f).answer for f in prevented]
    halts = [voice.word("view.verdict.stop", answer=Name(answer)) for answer in stops]
    return halts + first + lines
