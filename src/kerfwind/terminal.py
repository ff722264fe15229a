"""The report in the terminal: plain when piped, coloured for a person."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from rich.console import Console
from rich.markup import escape
from rich.table import Table

from .air.branches import on_branch
from .finding import Finding, Level, ordered
from .quantity import UnitChoice, show
from .sources import STANDINGS, all_facts, source
from .view.findings import Group, groups, measure_text, voice_of
from .wording import airflow, chain_text, money, sheets_text, size_text, wanted
from .words import Voice

if TYPE_CHECKING:
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


class _Out(Console):
    """A console whose reader may leave: what is left to say is then said to no one.

    The exit status stays that of the answer.
    """

    def on_broken_pipe(self) -> None:
        self.quiet = True
        nothing = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nothing, sys.stdout.fileno())


def console() -> Console:
    """A console that is wide enough for tables when piped."""
    out = _Out(highlight=False)
    return out if out.is_terminal else _Out(highlight=False, width=110)


def _finding_lines(group: Group, voice: Voice) -> list[str]:
    lines = []
    for each in group.spoken:
        about = f"[bold]{escape(each.said.about)}:[/bold] " if each.said.about else ""
        lines.append(f"{about}{escape(each.said.answer)}")
        if each.said.numbers:
            lines.append(f"[dim]{escape(each.said.numbers)}[/dim]")
    if group.do:
        lines.append(f"Do: {escape(group.do)}")
    if group.measure:
        lines.append(f"Measure: {escape(measure_text(group.measure, voice))}")
    return lines


def _findings(out: Console, findings: Sequence[Finding], voice: Voice) -> None:
    table = Table.grid(padding=(0, 2))
    table.add_column(min_width=8)
    table.add_column(ratio=1)
    good = sum(f.level == "good" for f in findings)
    for group in groups(ordered(findings), voice):
        level = f"[{_STYLE[group.level]}]{group.level}[/]"
        table.add_row(level, "\n".join(_finding_lines(group, voice)))
    out.print(table)
    out.print(f"[{_STYLE['good']}]good[/]      {good} other checks")


def report_findings(plan: Plan) -> None:
    """Findings alone, worst first, and what was measured after building."""
    out = console()
    _findings(out, plan.findings, voice_of(plan))
    _after_building(out, plan)


def list_sources(word: str) -> int:
    """Print the facts that have ``word`` in them; how many there were."""
    out = console()
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
            escape(fact.key),
            escape(fact.what),
            escape(f"{value} {fact.unit}"),
            escape(origin.citation + where),
            standing,
        )
    if count:
        out.print(table)
    return count


def _tools(out: Console, plan: Plan) -> None:
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
    units: UnitChoice = "in" if plan.units == "both" else plan.units
    for air in plan.air:
        table.add_row(
            escape(air.tool),
            airflow(air, units),
            wanted(air, units),
            _word(air.chips.word),
            _word(air.caught.word),
            escape(chain_text(plan.hookups.chain(air.tool))),
        )
    for on in plan.branches.air.tools if plan.branches else ():
        table.add_row(
            escape(on_branch(on.tool, on.branch)),
            airflow(on, units),
            wanted(on, units),
            _word(on.chips.word),
            _word(on.caught.word),
            "fixed, with the gates as they stand",
        )
    out.print(table)


def _word(word: str) -> str:
    style = {"starved": "problem", "weak": "problem", "unknown": "unknown"}.get(word, "good")
    return f"[{_STYLE[style]}]{word}[/]"  # type: ignore[index]


def _after_building(out: Console, plan: Plan) -> None:
    """What was measured and found as predicted, which good findings are not told of else."""
    for finding in plan.afterwards.findings if plan.afterwards else ():
        if finding.level == "good":
            out.print(f"\nAfter building: {escape(voice_of(plan).finding(finding).answer)}")


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
    out = console()
    out.print(f"\n[bold]{escape(plan.title)}[/bold]\n")
    _tools(out, plan)
    out.print()
    _findings(out, plan.findings, voice_of(plan))
    _after_building(out, plan)
    out.print()
    if plan.cart is not None and plan.nest is not None:
        out.print(f"Cart     {size_text(plan)} long, wide, high; form {plan.cart.form}")
        out.print(f"Sheets   {escape(sheets_text(plan))}, {money(plan, plan.nest.cost)}")
    assumed = len(plan.file.assumptions)
    out.print(f"Assumed  {assumed} values, listed in the plan\n")
    if written:
        folder = written[0].parent
        out.print(f"Results in {escape(str(folder))}:")
        for line in _listed([path.relative_to(folder) for path in written]):
            out.print(f"  {escape(line)}")
    if lacking:
        out.print(f"\n[{_STYLE['advice']}]advice[/]    {escape(lacking_text(lacking))}")


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

    out = console()
    about = file.shop.shop
    plain: UnitChoice = "in" if about.units == "both" else about.units
    if isinstance(found, NoneFits):
        out.print("No cart of this form carries any of them within the wishes:")
        for each in found.unmet:
            out.print(escape(f"  {each.wish}: {each.found}; allowed: {each.allowed}. {each.mend}"))
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
            out.print(escape(f"\nCarries these {kind}: {', '.join(names)}"))
    if found.missed:
        out.print("\nDoes not carry:")
        table = Table(box=None, padding=(0, 2, 0, 2))
        for column in ("name", "what keeps it out", "it is", "the cart takes", "beyond by"):
            table.add_column(column, overflow="fold")
        for m in found.missed:
            if m.value is None or m.limit is None:
                table.add_row(escape(m.name), m.what, "", "", "")
                continue
            value, limit = show(m.value, m.dimension, plain), show(m.limit, m.dimension, plain)
            over = m.value > m.limit
            table.add_row(
                escape(m.name),
                m.what,
                value,
                f"{'up to' if over else 'at least'} {limit}",
                show(abs(m.value - m.limit), m.dimension, plain),
            )
        out.print(table)
    out.print("\nTo plan it, write in a copy of the shop file:")
    sections: dict[str, list[str]] = {}
    for place, text in changes(found):
        section, _, key = place.rpartition(".")
        sections.setdefault(section, []).append(f'{key} = "{text}"')
    for section, lines in sections.items():
        out.print(escape("\n".join((f"[{section}]", *lines))))
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
    return f'{name} = "{text}"'


def report_sizes(file: ShopFile, found: Sizing) -> None:
    """The carts that a search chose, with what each is best at."""
    out = console()
    about = file.shop.shop
    units = about.units
    plain: UnitChoice = "in" if units == "both" else units
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
            ", ".join(choice.aims) or "in between",
            choice.cart.form,
            measures,
            show(choice.score.steadiness_rad, "angle", plain),
            f"{about.currency}{choice.score.cost:,.0f}",
        )
    out.print(table)
    if found.choices:
        out.print(
            "\nTo plan one, write its lines under \\[wishes] in the shop file, in place of those there:"
        )
    for number, choice in enumerate(found.choices, 1):
        out.print(f"\n# {number}")
        for key, text in choice.wishes.items():
            out.print(escape(_as_written(key, text)))
    out.print(
        f"\n{found.laid_out} carts laid out, {found.nested} nested, {found.refused} could not be built"
        + ("; stopped early" if found.stopped else "")
    )
