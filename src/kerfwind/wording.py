"""Sentences and cells that the terminal, the printed plan and the tables share."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from .air import BranchTool, ToolAir
from .finding import PREVENTING, Band, Finding
from .hookup import Chain
from .hookup.model import Piece
from .plan import Plan
from .quantity import UnitChoice, show, show_range
from .shopping import total

_ORIGIN = {"owned": "owned", "buy": "to buy", "cut": "to buy and cut", "print": "to print"}


def span(reading: Band, units: UnitChoice) -> str:
    """A range in short: ``72 to 85 cfm``; in both units on demand."""
    return show_range(reading.low, reading.high, reading.dimension, units)


def airflow(air: ToolAir | BranchTool, units: UnitChoice) -> str:
    """The band of the airflow at the hood."""
    return span(Band.of(air.airflow_m3_s, "airflow"), units)


def wanted(air: ToolAir | BranchTool, units: UnitChoice) -> str:
    """The band of the airflow that the hood wants."""
    limit = air.caught.finding.limit
    return span(limit, units) if limit else "not known"


def piece_text(piece: Piece) -> str:
    """A fitting with where it comes from."""
    return f"{piece.fitting.name} ({_ORIGIN[piece.origin]})"


def chain_text(chain: Chain) -> str:
    """A chain in one line, from port to hose."""
    if not chain.reached:
        return "nothing joins it yet"
    plate = [f"{chain.plate.kind} (to make)"] if chain.plate else []
    names = [*plate, *(piece_text(p) for p in chain.pieces)]
    return " → ".join([*names, chain.hose or chain.finish])


def joints_text(chain: Chain) -> str:
    """How each joint of a chain holds."""
    return "; ".join(
        f"{j.upstream} {_way(j.fit.inner)} {j.downstream}: {j.fit.kind}" for j in chain.joints
    )


def _way(inner: str) -> str:
    return {"a": "into", "b": "over"}.get(inner, "to")


def size_text(plan: Plan) -> str:
    """Length × width × height of the unit."""
    if plan.cart is None:
        return ""
    s, u = plan.cart.sizes, plan.units
    return " × ".join(show(v, "length", u) for v in (s.length_m, s.width_m, s.height_m))


def money(plan: Plan, amount: float) -> str:
    """An amount in the shop's money."""
    sign = plan.shop.shop.currency
    number = f"{amount:,.0f}" if amount == int(amount) and abs(amount) >= 1 else f"{amount:,.2f}"
    return f"{sign}{number}" if len(sign) == 1 else f"{number} {sign}"


def bill(plan: Plan) -> str:
    """What all there is to buy costs, and how many items have no price."""
    known = f"about {money(plan, round(total(plan.shopping)))}"
    without = sum(line.price is None for line in plan.shopping)
    if not without:
        return known
    return f"{known}, and {without} item{'s' if without > 1 else ''} without a known price"


def sheets_text(plan: Plan) -> str:
    """How many sheets of which kind."""
    if plan.nest is None:
        return ""
    counts: dict[str, int] = {}
    for sheet in plan.nest.sheets:
        counts[sheet.kind.key] = counts.get(sheet.kind.key, 0) + 1
    return " and ".join(f"{n} sheet{'s' if n > 1 else ''} of {name}" for name, n in counts.items())


def counted(findings: Sequence[Finding]) -> dict[str, int]:
    """How many findings there are of each level."""
    counts: dict[str, int] = {}
    for finding in findings:
        counts[finding.level] = counts.get(finding.level, 0) + 1
    return counts


def verdict_lines(plan: Plan) -> list[str]:
    """What a person should know first, worst first, in a few plain lines."""
    lines = []
    groups: dict[str, list[str]] = {}
    for air in plan.air:
        groups.setdefault(air.caught.word, []).append(air.tool)
    told = {
        "starved": "Dust not caught, far too little air",
        "weak": "Dust only partly caught",
        "unknown": "Not known until something is measured",
        "enough": "Dust caught",
        "strong": "Dust caught with air to spare",
    }
    for word, text in told.items():
        if word in groups:
            lines.append(f"{text}: {', '.join(groups[word])}.")
    prevented = [f for f in plan.findings if f.key in PREVENTING]
    cart = [
        f
        for f in plan.findings
        if f.level == "problem" and f.room == "cart" and f.key not in PREVENTING
    ]
    lines += [f"{f.about[:1].upper()}{f.about[1:] or 'Cart'}: {f.answer}" for f in cart[:4]]
    if any(f.level == "problem" and f.room == "power" for f in plan.findings):
        lines.append("Some tools and the vacuum together overload their circuit.")
    stops = [f for f in plan.findings if f.level == "stop"]
    return [f"STOP: {f.answer}" for f in stops] + [f.answer for f in prevented] + lines


def joined(findings: Sequence[Finding]) -> list[Finding]:
    """Findings that say the same of several things, said once of all of them."""
    groups: dict[tuple[str, ...], list[Finding]] = {}
    for finding in findings:
        key = (finding.key, finding.level, finding.answer, finding.do)
        groups.setdefault(key, []).append(finding)
    result = []
    for group in groups.values():
        first = group[0]
        if len(group) == 1:
            result.append(first)
        else:
            about = ", ".join(dict.fromkeys(f.about for f in group if f.about))
            measure = tuple(dict.fromkeys(m for f in group for m in f.measure))
            one = replace(first, about=about, measure=measure)
            alike = all((f.value, f.limit) == (first.value, first.limit) for f in group)
            result.append(one if alike else replace(one, value=None, likelihood=None))
    return result


def grouped(findings: Sequence[Finding]) -> list[list[Finding]]:
    """Findings of one check with one thing to do, together where the first of them stands."""
    groups: dict[tuple[str, ...], list[Finding]] = {}
    for number, finding in enumerate(findings):
        alone = "" if finding.do and finding.about else str(number)
        groups.setdefault((finding.key, finding.level, finding.do, alone), []).append(finding)
    return list(groups.values())
