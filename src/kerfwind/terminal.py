"""The report in the terminal: plain when piped, coloured for a person."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from rich.table import Table

from .facts import Term
from .finding import Finding, Level, ordered
from .plaintext import quoted
from .quantity import show
from .screen import Screen, stacked, styled
from .sources import STANDINGS, all_facts, source
from .view.findings import Group, groups, measure_text, voice_of
from .wording import airflow, chain_text, money, sheets_text, size_text, wanted
from .words import Voice

if TYPE_CHECKING:
    from rich.text import Text

    from .air import Verdict
    from .plan import Plan
    from .search.cart_sizing import Sizing
    from .search.for_table import ForTable, NoneFits
    from .shop import ShopFile

_STYLE: dict[Level, str] = {
    "stop": "bold white on red",
    "problem": "bold red",
    "unknown": "bold magenta",
    "advice": "yellow",
    "good": "green",
}


def _finding_lines(group: Group, voice: Voice) -> list[Text]:
    lines = []
    for each in group.spoken:
        about = f"{each.said.about}: " if each.said.about else ""
        lines.append(styled((about, "bold"), each.said.answer))
        if each.said.numbers:
            lines.append(styled((each.said.numbers, "dim")))
    if group.do:
        lines.append(styled(f"Do: {group.do}"))
    if group.measure:
        lines.append(styled(f"Measure: {measure_text(group.measure, voice)}"))
    return lines


def _findings(out: Screen, findings: Sequence[Finding], voice: Voice) -> None:
    table = Table.grid(padding=(0, 2))
    table.add_column(min_width=8)
    table.add_column(ratio=1)
    good = sum(f.level == "good" for f in findings)
    for group in groups(ordered(findings), voice):
        level = styled((group.level, _STYLE[group.level]))
        table.add_row(level, stacked(_finding_lines(group, voice)))
    out.print(table)
    out.print(styled(("good", _STYLE["good"]), f"      {good} other checks"))


def report_findings(plan: Plan) -> None:
    """Findings alone, worst first, and what was measured after building."""
    out = Screen()
    _findings(out, plan.findings, voice_of(plan))
    _after_building(out, plan)


def list_sources(word: str) -> int:
    """Print the facts that have ``word`` in them; how many there were."""
    out = Screen()
    table = Table(box=None, padding=(0, 2, 0, 0))
    for column in ("key", "what", "value", "from", "standing"):
        table.add_column(column, overflow="fold")
    count = 0
    for fact in all_facts():
        if word.lower() not in f"{fact.key} {fact.what}".lower():
            continue
        count += 1
        low, high = fact.span
        value = f"{fact.value:g}" if low == high else f"{fact.value:g} ({low:g} to {high:g})"
        origin = source(fact.source)
        where = f", {fact.where}" if fact.where else ""
        standing = STANDINGS[fact.standing or origin.standing]
        table.add_row(
            fact.key, fact.what, f"{value} {fact.unit}", origin.citation + where, standing
        )
    if count:
        out.print(table)
    return count


def _tools(out: Screen, plan: Plan) -> None:
    table = Table(box=None, padding=(0, 2, 0, 0))
    for column in (
        "tool",
        "airflow",
        "wanted",
        "chips carried",
        "dust caught",
        "from port to hose",
    ):
        table.add_column(column, overflow="fold")
    voice = voice_of(plan)
    units = voice.plain_units
    for air in plan.air:
        table.add_row(
            air.tool,
            airflow(air, units),
            wanted(air, units),
            _verdict(air.chips, voice),
            _verdict(air.caught, voice),
            chain_text(plan.hookups.chain(air.tool), voice),
        )
    for on in plan.branches.air.tools if plan.branches else ():
        table.add_row(
            voice.text(on.standing),
            airflow(on, units),
            wanted(on, units),
            _verdict(on.chips, voice),
            _verdict(on.caught, voice),
            "fixed, with the gates as they stand",
        )
    out.print(table)


def _verdict(verdict: Verdict, voice: Voice) -> Text:
    levels: dict[str, Level] = {"starved": "problem", "weak": "problem", "unknown": "unknown"}
    return styled((voice.text(verdict.named), _STYLE[levels.get(verdict.word, "good")]))


def _after_building(out: Screen, plan: Plan) -> None:
    """What was measured and found as predicted, which good findings are not told of else."""
    for finding in plan.afterwards.findings if plan.afterwards else ():
        if finding.level == "good":
            out.print()
            out.print(f"After building: {voice_of(plan).finding(finding).answer}")


def lacking_text(chars: str) -> str:
    """Says that the pages show boxes for these characters, and what to do; empty for none."""
    if not chars:
        return ""
    shown = " ".join(chars[:20]) + (" …" if len(chars) > 20 else "")
    return (
        f"The PDF shows empty boxes for these characters: {shown}. No typeface of this computer has "
        "them: install one that has, or write those names in other letters."
    )


def report(plan: Plan, written: Sequence[Path], lacking: str = "") -> None:
    """The whole report: what was found, the tools, the cart, where the results are.

    ``lacking`` are characters that the pages cannot show.
    """
    out = Screen()
    out.print()
    out.print(styled((plan.title, "bold")))
    out.print()
    _tools(out, plan)
    out.print()
    _findings(out, plan.findings, voice_of(plan))
    _after_building(out, plan)
    out.print()
    if plan.cart is not None and plan.nest is not None:
        out.print(f"Cart     {size_text(plan)} long, wide, high; form {plan.cart.form}")
        out.print(f"Sheets   {sheets_text(plan)}, {money(plan, plan.nest.cost)}")
    assumed = len(plan.file.assumptions)
    out.print(f"Assumed  {assumed} values, listed in the plan")
    out.print()
    if written:
        folder = written[0].parent
        out.print(f"Results in {folder}:")
        for line in _listed([path.relative_to(folder) for path in written]):
            out.print(f"  {line}")
    if lacking:
        out.print()
        out.print(styled(("advice", _STYLE["advice"]), f"    {lacking_text(lacking)}"))


def _listed(paths: Sequence[Path]) -> list[str]:
    """Files by name, those in a folder by their number."""
    counts: dict[str, int] = {}
    for path in paths:
        name = str(path) if path.parent == Path() else f"{path.parent}/"
        counts[name] = counts.get(name, 0) + 1
    return [f"{name} ({n} files)" if name.endswith("/") else name for name, n in counts.items()]


def report_for_table(file: ShopFile, found: ForTable | NoneFits) -> None:
    """The cart for a table of vacuums and buckets, what it carries, and what it does not."""
    from .search.for_table import NoneFits, changes

    out = Screen()
    about = file.shop.shop
    voice = Voice(units=about.units, currency=about.currency)
    plain = voice.plain_units
    if isinstance(found, NoneFits):
        out.print("No cart of this form carries any of them within the wishes:")
        for each in found.unmet:
            said = voice.refusal(each)
            out.print(f"  {said.place}: {said.found}; allowed: {said.allowed}. {said.mend}")
        return
    sizes = found.cart.sizes
    measures = " x ".join(
        show(v, "length", plain) for v in (sizes.length_m, sizes.width_m, sizes.height_m)
    )
    kinds = [(len(found.vacuums), "vacuum"), (len(found.buckets), "bucket")]
    counts = " and ".join(f"{n} {kind}{'' if n == 1 else 's'}" for n, kind in kinds if n)
    out.print(
        f"One `{found.cart.form}` for {counts}: {measures}, "
        f"{about.currency}{found.nest.cost:,.0f} of sheets"
        + ("." if found.sure else "; the search ended early, so more could be possible.")
    )
    for kind, names in (("vacuums", found.vacuums), ("buckets", found.buckets)):
        if names:
            out.print()
            out.print(f"Carries these {kind}: {', '.join(names)}")
    if found.missed:
        out.print()
        out.print("Does not carry:")
        table = Table(box=None, padding=(0, 2, 0, 2))
        for column in ("name", "what keeps it out", "it is", "the cart takes", "beyond by"):
            table.add_column(column, overflow="fold")
        for m in found.missed:
            if m.value is None or m.limit is None:
                table.add_row(m.name, voice.text(m.what), "", "", "")
                continue
            value, limit = show(m.value, m.dimension, plain), show(m.limit, m.dimension, plain)
            over = m.value > m.limit
            table.add_row(
                m.name,
                voice.text(m.what),
                value,
                f"{'up to' if over else 'at least'} {limit}",
                show(abs(m.value - m.limit), m.dimension, plain),
            )
        out.print(table)
    out.print()
    out.print("To plan it, write in a copy of the shop file:")
    sections: dict[str, list[str]] = {}
    for place, text in changes(found):
        section, _, key = place.rpartition(".")
        sections.setdefault(section, []).append(f"{key} = {quoted(text)}")
    for section, lines in sections.items():
        for line in (f"[{section}]", *lines):
            out.print(line)
    if len(found.vacuums) > 1:
        out.print("The vacuum's sizes are the largest, its weight the least: so it tips soonest.")
    if (
        found.buckets
        and file.shop.separator.bucket.is_round != found.shop.separator.bucket.is_round
    ):
        gone = "diameters" if file.shop.separator.bucket.is_round else "widths and lengths"
        out.print(f"Take the {gone} of the bucket out of that file.")
    out.print("Each vacuum's own hose and air still want a plan of their own.")


def _as_written(key: str, text: str) -> str:
    """A wish as it stands under ``[wishes]`` in a shop file."""
    name = key.removeprefix("wishes.")
    if name in ("second_panels", "options"):
        listed = ", ".join(f'"{each}"' for each in text.split(", "))
        return f"{name} = [{listed}]"
    return f"{name} = {quoted(text)}"


def report_sizes(file: ShopFile, found: Sizing) -> None:
    """The carts that a search chose, with what each is best at."""
    out = Screen()
    about = file.shop.shop
    voice = Voice(units=about.units, currency=about.currency)
    plain = voice.plain_units
    table = Table(box=None, padding=(0, 2, 0, 0))
    for column in ("", "best at", "form", "long, wide, high", "overturns beyond", "sheets"):
        table.add_column(column, overflow="fold")
    for number, choice in enumerate(found.choices, 1):
        sizes = choice.cart.sizes
        measures = " x ".join(
            show(v, "length", plain) for v in (sizes.length_m, sizes.width_m, sizes.height_m)
        )
        table.add_row(
            str(number),
            ", ".join(voice.text(Term("aim", aim)) for aim in choice.aims) or "in between",
            choice.cart.form,
            measures,
            show(choice.score.steadiness_rad, "angle", plain),
            f"{about.currency}{choice.score.cost:,.0f}",
        )
    out.print(table)
    if found.choices:
        out.print()
        out.print(
            "To plan one, write its lines under [wishes] in the shop file, in place of those there:"
        )
    for number, choice in enumerate(found.choices, 1):
        out.print()
        out.print(f"# {number}")
        for key, text in choice.wishes.items():
            out.print(_as_written(key, text))
    out.print()
    out.print(
        f"{found.laid_out} carts laid out, {found.nested} nested, {found.refused} could not be built"
        + ("; stopped early" if found.stopped else "")
    )
