"""The answer first: whether it works, what to do in order, and what to measure."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

from ..facts import Band, Fact, Fix, Joined, Listing, Name, Ref, Term, state
from ..finding import LEVELS, PREVENTING, Finding
from ..plan import Plan
from ..search.air_help import Change
from ..words import Voice
from .air import SETTLES, cost_text
from .breathing import session_rows
from .findings import fix_order, groups, price_text, voice_of

#: So many things to do, and so many to measure: more than that nobody does.
MOST = 5
#: So many changes for the air stand among what to do; the rest is under what would help most.
_MOST_AIR = 2
#: So many failed or open checks of the cart are named.
_MOST_CHECKS = 3
#: So many tools are named in one line.
_MOST_TOOLS = 16
#: A change of the air is worth doing where it makes dust caught so much likelier, over all tools.
_LEAST_RISE = 0.1
#: At a tool where it rises by less, a change is not told of.
_RISE = 0.05
#: The part of the cart and the bucket come before the air: they are cut and bought first.
_ROOMS = ("cutting", "cart", "hookup", "air", "breathing", "power")
#: Whether it goes under a bench as it stands, and with its separator lifted out.
_UNDER_BENCH = ("cart.under_bench", "cart.under_bench.lifted_out")
#: So many sessions of work are told of.
_MOST_SESSIONS = 2
_CURVE = "vacuum.suction"
#: What can be measured only once the unit is built and has worked.
_ONCE_BUILT = ("sessions", "tools.measured_")
#: Checks of the air at a tool, and how each is called in a few words.
_AT_TOOL = {"air.dust_caught": "first.dust_at", "air.chips_carried": "first.chips_at"}
#: Two names are told where both together are no longer than this.
_SHORT = 75
_ITEM = re.compile(r"\[.*\]")


@dataclass(frozen=True)
class Todo:
    """One thing to do: what it costs and what it changes, both empty where not known."""

    what: str
    cost: str
    changes: str


@dataclass(frozen=True)
class ToMeasure:
    """One thing to measure, and what it settles."""

    what: str
    settles: str


@dataclass(frozen=True)
class First:
    """What a person should know first.

    Attributes
    ----------
    works
        Whether it can be built, stands, and catches the dust: a few lines, worst first.
    todo, measure
        At most `MOST` each, in order.
    more
        How many things to do are left to the findings.
    """

    works: tuple[str, ...]
    todo: tuple[Todo, ...]
    measure: tuple[ToMeasure, ...]
    more: int


def what_first(plan: Plan) -> First:
    """The first page's answer; the terminal's and the printed plan's are this one."""
    voice = voice_of(plan).plain()
    todo = list(_todo(plan, voice))
    return First(
        tuple(_works(plan, voice)),
        tuple(todo[:MOST]),
        tuple(islice(_to_measure(plan, voice), MOST)),
        max(len(todo) - MOST, 0),
    )


def what_works(plan: Plan) -> tuple[str, ...]:
    """`First.works` alone."""
    return tuple(_works(plan, voice_of(plan).plain()))


# --- does it work ----------------------------------------------------------------------


def before_cutting(plan: Plan) -> tuple[str, ...]:
    """What speaks against cutting by a plan: its stops, and checks of its cart that do not pass."""
    voice = voice_of(plan).plain()
    checks = [f for f in plan.findings if f.room in ("cart", "cutting")]
    if not any(f.level in ("stop", "problem", "unknown") for f in checks):
        return tuple(_stops(plan, voice))
    return (*_stops(plan, voice), *_cart_or_why_none(plan, voice))


def _stops(plan: Plan, voice: Voice) -> Iterator[str]:
    for finding in plan.findings:
        if finding.level == "stop" and finding.key not in PREVENTING:
            yield voice.word("first.stop", answer=Name(voice.finding(finding).answer))


def _cart_or_why_none(plan: Plan, voice: Voice) -> Iterator[str]:
    prevented = [f for f in plan.findings if f.key in PREVENTING]
    if prevented:
        yield from dict.fromkeys(voice.finding(f).answer for f in prevented)
    elif plan.cart is not None:
        yield _cart_line(plan, voice)


def _works(plan: Plan, voice: Voice) -> Iterator[str]:
    stops = [f for f in plan.findings if f.level == "stop" and f.key not in PREVENTING]
    yield from _stops(plan, voice)
    yield from _cart_or_why_none(plan, voice)
    if plan.cart is not None and not any(f.key in PREVENTING for f in plan.findings):
        # Half a wish is met, and the cart's line says that it passes.
        under = [f for f in plan.findings if f.key in _UNDER_BENCH and f not in stops]
        if any(f.level == "advice" for f in under):
            yield " ".join(voice.finding(f).answer for f in under)
    tools: dict[str, list[Fact]] = {}
    for air in plan.air:
        tools.setdefault(air.caught.word, []).append(Ref("tool", air.tool))
    for on in plan.branches.air.tools if plan.branches else ():
        tools.setdefault(on.caught.word, []).append(on.standing)
    for word in ("strong", "enough", "weak", "starved", "unknown"):
        if word in tools:
            yield voice.word(f"view.verdict.{word}", tools=_few(tools[word]))
    for row in session_rows(plan, voice)[:_MOST_SESSIONS]:
        yield voice.word(
            "first.session",
            session=Ref("session", row.name),
            day=Name(row.air),
            limit=Name(row.limit),
            mask_on=Name(row.mask_on),
        )
    for finding in plan.afterwards.findings if plan.afterwards else ():
        yield voice.word("terminal.after_building", answer=Name(voice.finding(finding).answer))


def _cart_line(plan: Plan, voice: Voice) -> str:
    checks = [f for f in plan.findings if f.room in ("cart", "cutting")]
    failed = [f for f in checks if f.level in ("stop", "problem")]
    open_ = [f for f in checks if f.level == "unknown"]
    return voice.word(
        "first.cart",
        outcome="fails" if failed else "open" if open_ else "passes",
        count=len(checks),
        failed=_named(failed, voice),
        open=_named(open_, voice),
    )


def _named(findings: Iterable[Finding], voice: Voice) -> Fact:
    """The first few of these checks, and how many more there are."""
    said = list(dict.fromkeys(_checked(f, voice) for f in findings))
    return _few(list(map(Name, said)), _MOST_CHECKS, "semicolons")


def _few(facts: Sequence[Fact], most: int = _MOST_TOOLS, joined: Joined = "commas") -> Fact:
    """The first of many facts, and how many more there are."""
    first = Listing(tuple(facts[:most]), joined)
    if len(facts) <= most:
        return first
    return state("first.and_more", first=first, count=len(facts) - most)


def _checked(finding: Finding, voice: Voice) -> str:
    """What was checked, and of what."""
    said = voice.finding(finding)
    if not said.about or said.about in said.check:
        return said.check
    return voice.word("first.check_of", about=Name(said.about), check=Name(said.check))


# --- what to do ------------------------------------------------------------------------


@dataclass(frozen=True)
class _Candidate:
    """A thing to do with what decides its place: the worst level it mends, and its price."""

    todo: Todo
    level: int
    tried: bool
    room: int
    price: float


def _todo(plan: Plan, voice: Voice) -> Iterator[Todo]:
    """In the order in which they should be done: worst first, what is built before the air."""
    found = [*_by_fixes(plan, voice), *_by_advice(plan, voice), *_by_air(plan, voice)]
    found.sort(key=lambda c: (c.level, c.room, not c.tried, c.price))
    seen: set[str] = set()
    for each in found:
        if each.todo.what not in seen:
            seen.add(each.todo.what)
            yield each.todo


def _bad(plan: Plan) -> list[Finding]:
    return [f for f in plan.findings if f.level in ("stop", "problem")]


def _candidate(todo: Todo, findings: Sequence[Finding], *, tried: bool, price: float) -> _Candidate:
    return _Candidate(
        todo,
        min(LEVELS.index(f.level) for f in findings),
        tried,
        min(_ROOMS.index(f.room) if f.room in _ROOMS else len(_ROOMS) for f in findings),
        price,
    )


def _by_fixes(plan: Plan, voice: Voice) -> Iterator[_Candidate]:
    """Changes of the shop file that were tried and pass, each with all that it mends."""
    mended: dict[str, list[tuple[Finding, Fix]]] = {}
    for finding in (f for f in plan.findings if f.level != "good"):
        passing = [fix for fix in finding.fixes if fix.passes]
        if passing and finding.room != "air":
            fix = min(passing, key=_price)
            mended.setdefault(fix_order(fix, voice), []).append((finding, fix))
    for what, uses in mended.items():
        findings = [f for f, _ in uses]
        costs = uses[0][1].costs
        changes = [_change_text(f, fix.value, voice) for f, fix in uses]
        yield _candidate(
            Todo(what, price_text(costs, voice), _joined(changes, voice)),
            findings,
            tried=True,
            price=_price(uses[0][1]),
        )


def _price(fix: Fix) -> float:
    return fix.costs if fix.costs is not None else 0.0


def _change_text(finding: Finding, after: Band | None, voice: Voice) -> str:
    """A check that is then passed: from which value to which."""
    check = Name(_checked(finding, voice))
    if after is None or finding.value is None:
        return voice.word("first.mends", check=check)
    before, then = (
        Name(voice.band(Band(b.best, b.best, b.best, b.dimension))) for b in (finding.value, after)
    )
    return voice.word("first.mends.value", check=check, before=before, after=then)


def _by_advice(plan: Plan, voice: Voice) -> Iterator[_Candidate]:
    """What the findings say to do where no change that was tried mends them."""
    left = [f for f in _bad(plan) if f.room == "air" or not any(x.passes for x in f.fixes)]
    helped = {tool for change in _air_changes(plan) for tool in _turned(plan, change)}
    left = [
        f for f in left if not (f.key == "air.dust_caught" and f.about and voice.about(f) in helped)
    ]
    for group in groups(left, voice):
        about = dict.fromkeys(each.said.about for each in group.spoken if each.said.about)
        same = [f for f in left if f.key == group.spoken[0].key and f.level == group.level]
        do = _brief_do(same[0], voice) or group.do
        if not do:
            continue
        what = group.check or group.spoken[0].said.answer
        why = voice.word(
            "first.why",
            named="yes" if about else "no",
            about=_few(list(map(Name, about))),
            what=Name(what),
        )
        yield _candidate(Todo(do, "", why), same, tried=False, price=0.0)


def _brief_do(finding: Finding, voice: Voice) -> str:
    """The remedy in one line, where it has been given one."""
    for kind in (f"{finding.key}.{finding.outcome}", finding.key):
        if voice.can_say(kind, "brief"):
            return voice.say(kind, finding.facts, "brief")
    return ""


def _air_changes(plan: Plan) -> list[list[tuple[str, Change]]]:
    """The changes that bring most to what is caught, the best first, each for tools of its own."""
    by_change: dict[str, list[tuple[str, Change]]] = {}
    for each in plan.helps:
        for change in each.changes:
            # Without a separator the filter clogs: never the first thing to do.
            if change.key != "bypass":
                by_change.setdefault(f"{change.key} {change.what}", []).append((each.tool, change))
    before = {each.tool: each.caught_before for each in plan.helps}
    chosen: list[list[tuple[str, Change]]] = []
    open_tools = set(before)
    while len(chosen) < _MOST_AIR:
        best: list[tuple[str, Change]] = []
        worth = 0.0
        for group in by_change.values():
            useful = [(t, c) for t, c in group if t in open_tools and c.caught - before[t] >= _RISE]
            rise = sum(c.caught - before[t] for t, c in useful)
            # A little airflow for a little money comes before a new vacuum.
            price = 20.0 + max((c.cost_high for _, c in useful), default=0.0)
            if rise >= _LEAST_RISE and rise / price > worth:
                best, worth = useful, rise / price
        if not best:
            break
        chosen.append(best)
        open_tools -= {tool for tool, _ in best}
    return chosen


def _turned(plan: Plan, change: Sequence[tuple[str, Change]]) -> list[str]:
    return [tool for tool, _ in change]


def _by_air(plan: Plan, voice: Voice) -> Iterator[_Candidate]:
    before = {each.tool: each.caught_before for each in plan.helps}
    for group in _air_changes(plan):
        rows = [
            Name(
                voice.word(
                    "first.turned",
                    tool=Ref("tool", tool),
                    before=round(100 * before[tool]),
                    after=round(100 * change.caught),
                )
            )
            for tool, change in group
        ]
        first = group[0][1]
        findings = [
            f
            for f in plan.findings
            if f.key == "air.dust_caught" and voice.about(f) in {t for t, _ in group}
        ]
        todo = Todo(
            voice.word("first.change", change=first.what),
            cost_text(first, voice),
            voice.word("first.caught", tools=_few(rows)),
        )
        if findings:
            yield _candidate(todo, findings, tried=True, price=first.cost_high)


def _joined(texts: Sequence[str], voice: Voice) -> str:
    return voice.text(Listing(tuple(map(Name, dict.fromkeys(texts))), "semicolons"))


# --- what to measure -------------------------------------------------------------------


def _to_measure(plan: Plan, voice: Voice) -> Iterator[ToMeasure]:
    """Measurements by how many open checks hang on them; those alike of many things are one."""
    worth: dict[str, float] = {}
    settles: dict[str, dict[str, None]] = {}
    named: dict[str, dict[str, None]] = {}
    for finding in plan.findings:
        if finding.level == "good":
            continue
        for place in finding.measure:
            kind = _measured_kind(place)
            if kind.startswith(_ONCE_BUILT):
                continue
            worth[kind] = worth.get(kind, 0.0) + (1.0 if finding.level == "unknown" else 0.5)
            settles.setdefault(kind, {})[_settled(finding, voice)] = None
            named.setdefault(kind, {})[voice.found_at(place)] = None
    for each in plan.helps:
        for m in each.measurements:
            # Where the shop lies moves the air too little to climb for.
            if m.settles < SETTLES or m.how == Term("gauge", "map"):
                continue
            kind = _measured_kind(m.places[0])
            worth[kind] = worth.get(kind, 0.0) + m.settles
            what = voice.word("search.measure.with", what=m.what, gauge=m.how)
            if kind == _CURVE or kind not in named:
                named[kind] = {what: None}
            at = voice.word("first.dust_at", tool=Ref("tool", each.tool))
            settles.setdefault(kind, {})[at] = None
    for kind in sorted(worth, key=lambda k: -worth[k]):
        yield ToMeasure(_some(list(named[kind]), voice), _some(list(settles[kind]), voice))


def _measured_kind(place: str) -> str:
    """A field without the name of its thing; all of the suction curve comes of one test."""
    return _CURVE if place.startswith(_CURVE) else _ITEM.sub("", place)


def _settled(finding: Finding, voice: Voice) -> str:
    if finding.key in _AT_TOOL and finding.about is not None:
        return voice.word(_AT_TOOL[finding.key], tool=Name(voice.about(finding)))
    return _checked(finding, voice)


def _some(texts: Sequence[str], voice: Voice) -> str:
    """The first two of several where they are short, else one; and how many more there are."""
    shown = 2 if sum(map(len, texts[:2])) <= _SHORT else 1
    return voice.text(_few(list(map(Name, texts)), shown))
