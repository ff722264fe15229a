"""Findings in words, together where they say the same."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

from ..facts import Amount, Fact, Fix, Listing, Name, Term, slug
from ..finding import PREVENTING, Finding, Level
from ..kept import Kept
from ..shop import Shop
from ..shopping import guesses_in
from ..words import Said, Voice

if TYPE_CHECKING:
    from ..plan import Plan

#: From so many findings of one check on they are one row.
_ONE_ROW = 3
#: So many changes that were tried stand with a finding.
_MOST_TRIED = 3


@dataclass(frozen=True)
class Spoken:
    """A finding, or several that say the same of several things, in words.

    ``brief`` is the value against its limit, in a few words for a row of many.
    """

    level: Level
    key: str
    said: Said
    brief: str
    sources: tuple[str, ...]
    measure: tuple[str, ...]


@dataclass(frozen=True)
class Group:
    """Findings of one check with one thing to do, and what to measure for all of them.

    Attributes
    ----------
    check
        What was found of all of them, where they are enough to make one row; else empty.
    tried
        Changes of the shop file that were tried, and what each brings.
    findings
        All that it tells of.
    """

    level: Level
    spoken: tuple[Spoken, ...]
    check: str
    do: str
    measure: tuple[str, ...]
    tried: tuple[str, ...]
    findings: tuple[Finding, ...]


def voice_for(shop: Shop) -> Voice:
    """The language, units and money that a shop file asks for."""
    return Voice(shop.about.language, shop.about.units, shop.about.currency)


def voice_of(plan: Plan) -> Voice:
    """The language, units and money that a plan's shop file asks for."""
    return voice_for(plan.shop)


def spoken(findings: Sequence[Finding], voice: Voice) -> list[Spoken]:
    """Each in words; those that say the same of several things, once of all of them."""
    alike: dict[tuple[str, ...], list[tuple[Finding, Said]]] = {}
    for finding in findings:
        said = voice.finding(finding)
        alike.setdefault((finding.key, finding.level, said.answer, said.do), []).append(
            (finding, said)
        )
    return [_spoken(group, voice) for group in alike.values()]


def _spoken(group: Sequence[tuple[Finding, Said]], voice: Voice) -> Spoken:
    first, said = group[0]
    brief = _brief(first, voice)
    if len(group) > 1:
        names = dict.fromkeys(s.about for _, s in group if s.about)
        about = voice.text(Listing(tuple(map(Name, names)), "commas"))
        alike = all((f.value, f.limit) == (first.value, first.limit) for f, _ in group)
        said = replace(said, about=about, numbers=said.numbers if alike else "")
        brief = brief if alike else ""
    measure = tuple(dict.fromkeys(m for f, _ in group for m in f.measure))
    return Spoken(first.level, first.key, said, brief, first.sources, measure)


def _brief(finding: Finding, voice: Voice) -> str:
    """The best value against the best limit, and how many cases of a hundred pass."""
    if finding.value is None or finding.limit is None or finding.must is None:
        return ""
    plain = voice.plain()
    value, limit = (
        Name(plain.amount(Amount(band.best, band.dimension)))
        for band in (finding.value, finding.limit)
    )
    if finding.likelihood is None:
        return voice.word("finding.brief", value=value, limit=limit, way=slug(finding.must))
    cases = min(max(round(100 * finding.likelihood), 1), 99)
    return voice.word(
        "finding.brief.likely",
        value=value,
        limit=limit,
        way=slug(finding.must),
        side="under"
        if finding.likelihood < 0.01
        else "over"
        if finding.likelihood > 0.99
        else "at",
        cases=cases,
    )


def groups(findings: Sequence[Finding], voice: Voice) -> list[Group]:
    """What is not good, worst first as it comes, alike checks together where the first stands."""
    rows: dict[tuple[str, ...], list[Finding]] = {}
    for number, finding in enumerate(f for f in findings if f.level != "good"):
        said = voice.finding(finding)
        kind = _kind_of_many(finding, voice)
        if kind:
            what = (finding.key, finding.level, finding.outcome)
        elif said.do and said.about:
            what = (finding.key, finding.level, said.do)
        else:
            what = (finding.key, finding.level, str(number))
        rows.setdefault(what, []).append(finding)
    return [
        _groups.of(tuple(row), voice, partial(_group, tuple(row), voice)) for row in rows.values()
    ]


#: Of most findings an edit changes nothing.
_groups: Kept[Group] = Kept(256)


def _kind_of_many(finding: Finding, voice: Voice) -> str:
    """What is said once of many things that this is found of; empty where each is told alone."""
    kind = f"{finding.key}.{finding.outcome}"
    return voice.say(kind, (), "many") if voice.can_say(kind, "many") else ""


def _group(row: Sequence[Finding], voice: Voice) -> Group:
    told = spoken(row, voice)
    check = _kind_of_many(row[0], voice) if len(told) >= _ONE_ROW else ""
    dos = dict.fromkeys(each.said.do for each in told if each.said.do)
    return Group(
        row[0].level,
        tuple(told),
        check,
        # Several remedies of one check differ in names alone; of many things the common one is said.
        next(iter(dos), "") if not check or len(dos) < 2 else _common(row, list(dos), voice),
        tuple(dict.fromkeys(m for each in told for m in each.measure)),
        tuple(tried_lines(row, voice)),
        tuple(row),
    )


def _common(row: Sequence[Finding], dos: list[str], voice: Voice) -> str:
    kind = f"{row[0].key}.{row[0].outcome}"
    return voice.say(kind, (), "do_many") if voice.can_say(kind, "do_many") else dos[0]


def tried_lines(findings: Sequence[Finding], voice: Voice) -> list[str]:
    """Changes that were tried for these findings: what passes with which, the cheapest first."""
    tried: dict[tuple[str, str], list[tuple[Finding, Fix]]] = {}
    for finding in findings:
        for fix in finding.fixes:
            tried.setdefault((fix.place, fix_text(fix, voice)), []).append((finding, fix))
    ranked = sorted(
        tried.values(), key=lambda uses: (-sum(fix.passes for _, fix in uses), _costs(uses[0][1]))
    )
    return [_tried(uses, len(findings), voice) for uses in ranked[:_MOST_TRIED]]


def _costs(fix: Fix) -> float:
    return fix.costs if fix.costs is not None else 0.0


def _tried(uses: Sequence[tuple[Finding, Fix]], of: int, voice: Voice) -> str:
    fix = uses[0][1]
    passing = [f for f, each in uses if each.passes]
    helped = passing or [f for f, _ in uses]
    named = [voice.about(f) for f in helped]
    value: Fact = fix.value if fix.value is not None and len(uses) == 1 else ""
    # For a cart that cannot be built, it was tried that it then can.
    outcome = "builds" if uses[0][0].key in PREVENTING else "passes"
    return voice.word(
        "finding.tried",
        change=Name(fix_text(fix, voice)),
        outcome=outcome if passing else "helps",
        where="all" if len(helped) == of or not all(named) else "some",
        at=Listing(tuple(map(Name, named)), "commas"),
        valued="yes" if value else "no",
        value=value or Name(""),
        **_price(fix.costs, voice),
    )


def price_text(costs: float | None, voice: Voice) -> str:
    """What a change costs; empty where that is not known."""
    facts = _price(costs, voice)
    return "" if facts["priced"] == "no" else voice.word("finding.costs", **facts)


def _price(costs: float | None, voice: Voice) -> dict[str, Fact]:
    """Facts of what a change costs: ``priced`` says whether it is known, in this money."""
    if costs is not None and round(costs) == 0:
        return {"priced": "free", "price": Name("")}
    if costs is None or not guesses_in(voice.currency):
        return {"priced": "no", "price": Name("")}
    return {"priced": "yes", "price": Amount(round(costs), "money")}


def fix_text(fix: Fix, voice: Voice) -> str:
    """What was written into the shop file, and where."""
    rows = [Name(_one_fix(each, voice)) for each in fix.every]
    return voice.text(Listing(tuple(rows), "and"))


def fix_order(fix: Fix, voice: Voice) -> str:
    """What a person is told to write into the shop file, and where."""
    rows = [Name(_one_fix(each, voice, "do")) for each in fix.every]
    told = voice.text(Listing(tuple(rows), "and"))
    return told[:1].upper() + told[1:]


def _one_fix(fix: Fix, voice: Voice, part: str = "") -> str:
    to: Fact = fix.to
    # A word of the file as it is written there.
    if isinstance(to, Term):
        to = Name(to.key)
    elif isinstance(to, Listing):
        to = replace(to, items=tuple(Name(i.key) if isinstance(i, Term) else i for i in to.items))
    elif isinstance(to, bool):
        to = Name("true" if to else "false")
    elif isinstance(to, (str, int)):
        to = Name(str(to))
    filled = "no" if to == Listing(()) else "yes"
    place = Name(voice.found_at(fix.place))
    facts = (("filled", filled), ("place", place), ("to", to))
    return voice.say("finding.fix", facts, part)


def measure_text(measure: Sequence[str], voice: Voice) -> str:
    """Fields of the shop file to measure: by name, and where to find them."""
    places = tuple(Name(voice.found_at(path)) for path in measure)
    return voice.text(Listing(places, "commas"))
