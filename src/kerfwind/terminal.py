"""The report in the terminal: plain when piped, coloured for a person."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import astuple
from pathlib import Path
from typing import TYPE_CHECKING

from rich.table import Table

from .facts import Amount, Fact, Listing, Name, Term, state
from .finding import Finding, Level, ordered
from .plaintext import quoted
from .screen import Screen, stacked, styled
from .sources import STANDINGS, all_facts, source
from .view.air import Tag, branch_rows, tool_rows
from .view.breathing import session_rows
from .view.findings import Group, groups, measure_text, voice_for, voice_of
from .view.summary import level_text, sheets_fact, size_fact, sizes_fact
from .words import Voice

if TYPE_CHECKING:
    from rich.text import Text

    from .plan import Plan
    from .search.cart_sizing import Sizing
    from .search.for_table import ForTable, Missed, NoneFits
    from .shop import ShopFile

_STYLE: dict[str, str] = {
    "stop": "bold white on red",
    "problem": "bold red",
    "unknown": "bold magenta",
    "advice": "yellow",
    "good": "green",
}
#: More characters than this that no typeface has are not all shown.
_MOST_LACKING = 20


def _table(kind: str, columns: Sequence[str], voice: Voice, *, indent: int = 0) -> Table:
    table = Table(box=None, padding=(0, 2, 0, indent))
    for column in columns:
        table.add_column(voice.word(f"{kind}.{column}") if column else "", overflow="fold")
    return table


def _finding_lines(group: Group, voice: Voice) -> list[Text]:
    lines = []
    for each in group.spoken:
        about = voice.word("terminal.about", about=Name(each.said.about)) if each.said.about else ""
        lines.append(styled((f"{about} " if about else "", "bold"), each.said.answer))
        if each.said.numbers:
            lines.append(styled((each.said.numbers, "dim")))
    if group.do:
        lines.append(styled(voice.word("terminal.do", do=Name(group.do))))
    if group.measure:
        places = Name(measure_text(group.measure, voice))
        lines.append(styled(voice.word("terminal.measure", places=places)))
    return lines


def _level(level: Level, voice: Voice) -> Text:
    return styled((level_text(level, voice), _STYLE[level]))


def _findings(out: Screen, findings: Sequence[Finding], voice: Voice) -> None:
    table = Table.grid(padding=(0, 2))
    table.add_column(min_width=8)
    table.add_column(ratio=1)
    good = sum(f.level == "good" for f in findings)
    for group in groups(ordered(findings), voice):
        table.add_row(_level(group.level, voice), stacked(_finding_lines(group, voice)))
    table.add_row(_level("good", voice), voice.word("terminal.other_checks", count=good))
    out.print(table)


def report_findings(plan: Plan) -> None:
    """Findings alone, worst first, and what was measured after building."""
    out = Screen()
    _findings(out, plan.findings, voice_of(plan))
    _after_building(out, plan)


def list_sources(word: str) -> int:
    """Print the facts that have ``word`` in them; how many there were."""
    out, voice = Screen(), Voice()
    columns = ("key", "what", "value", "from", "standing")
    table = _table("terminal.sources.column", columns, voice)
    count = 0
    for fact in all_facts():
        if word.lower() not in f"{fact.key} {fact.what}".lower():
            continue
        count += 1
        low, high = fact.span
        value = voice.word(
            "terminal.sources.value" if low == high else "terminal.sources.value_from_to",
            value=Name(f"{fact.value:g}"),
            low=Name(f"{low:g}"),
            high=Name(f"{high:g}"),
            unit=Name(fact.unit),
        )
        origin = source(fact.source)
        cited = origin.citation
        if fact.where:
            cited = voice.word(
                "terminal.sources.where", citation=Name(cited), where=Name(fact.where)
            )
        standing = STANDINGS[fact.standing or origin.standing]
        table.add_row(fact.key, fact.what, value, cited, standing)
    if count:
        out.print(table)
    return count


def _tools(out: Screen, plan: Plan, voice: Voice) -> None:
    columns = ("tool", "airflow", "wanted", "chips_carried", "dust_caught")
    table = _table("page.column", columns, voice)
    table.add_column(voice.word("terminal.column.from_port_to_hose"), overflow="fold")
    for row in tool_rows(plan, voice.plain()):
        verdicts = (_verdict(row.chips), _verdict(row.caught))
        table.add_row(row.name, row.airflow, row.wanted, *verdicts, row.chain)
    fixed = voice.word("terminal.fixed")
    for on in branch_rows(plan, voice.plain()):
        table.add_row(
            on.tool, on.airflow, on.wanted, _verdict(on.chips), _verdict(on.caught), fixed
        )
    out.print(table)


def _sessions(out: Screen, plan: Plan, voice: Voice) -> None:
    """Each session of work in a line."""
    columns = ("session", "dust_made", "caught_part", "day_mean", "limit", "mask_on", "noise")
    table = _table("page.column", (*columns, "sessions_full"), voice)
    for row in session_rows(plan, voice.plain()):
        table.add_row(*astuple(row))
    out.print(table)


def _verdict(verdict: Tag) -> Text:
    levels = {"starved": "problem", "weak": "problem", "unknown": "unknown"}
    return styled((verdict.text, _STYLE[levels.get(verdict.key, "good")]))


def _after_building(out: Screen, plan: Plan) -> None:
    """What was measured and found as predicted, which good findings are not told of else."""
    voice = voice_of(plan)
    for finding in plan.afterwards.findings if plan.afterwards else ():
        if finding.level == "good":
            out.print()
            answer = Name(voice.finding(finding).answer)
            out.print(voice.word("terminal.after_building", answer=answer))


def lacking_text(chars: str, voice: Voice) -> str:
    """Says that the pages show boxes for these characters, and what to do; empty for none."""
    if not chars:
        return ""
    shown: Fact = Name(" ".join(chars[:_MOST_LACKING]))
    if len(chars) > _MOST_LACKING:
        shown = state("terminal.lacking.more", characters=shown)
    return voice.word("terminal.lacking", characters=shown)


def report(plan: Plan, written: Sequence[Path], lacking: str = "") -> None:
    """The whole report: what was found, the tools, the cart, where the results are.

    ``lacking`` are characters that the pages cannot show.
    """
    out, voice = Screen(), voice_of(plan)
    out.print()
    out.print(styled((plan.title, "bold")))
    out.print()
    _tools(out, plan, voice)
    out.print()
    if plan.breathing.results:
        _sessions(out, plan, voice)
        out.print()
    _findings(out, plan.findings, voice)
    _after_building(out, plan)
    out.print()
    _in_short(out, plan, voice)
    out.print()
    if written:
        folder = written[0].parent
        out.print(voice.word("terminal.results", folder=Name(str(folder))))
        for line in _listed([path.relative_to(folder) for path in written], voice):
            out.print(f"  {line}")
    if lacking:
        advice = lacking_text(lacking, voice)
        out.print()
        out.print(styled((level_text("advice", voice), _STYLE["advice"]), f"    {advice}"))


def _in_short(out: Screen, plan: Plan, voice: Voice) -> None:
    """The cart, its sheets, and how much was only assumed."""
    rows = []
    if plan.cart is not None and plan.nest is not None and (size := size_fact(plan)):
        form = Term("form", plan.cart.form)
        cost = Amount(plan.nest.cost, "money")
        sheets = voice.word("terminal.sheets.cost", sheets=sheets_fact(plan), cost=cost)
        rows = [
            (voice.word("terminal.cart"), voice.word("terminal.cart.size", size=size, form=form)),
            (voice.word("terminal.sheets"), sheets),
        ]
    assumed = voice.word("terminal.assumed.count", count=len(plan.file.assumptions))
    rows.append((voice.word("terminal.assumed"), assumed))
    widest = max(len(label) for label, _ in rows)
    for label, text in rows:
        out.print(f"{label:<{widest}}  {text}")


def _listed(paths: Sequence[Path], voice: Voice) -> list[str]:
    """Files by name, those in a folder by their number."""
    counts: dict[str, int] = {}
    for path in paths:
        name = str(path) if path.parent == Path() else f"{path.parent}/"
        counts[name] = counts.get(name, 0) + 1
    return [
        voice.word("terminal.folder", folder=Name(name), count=n) if name.endswith("/") else name
        for name, n in counts.items()
    ]


def report_for_table(file: ShopFile, found: ForTable | NoneFits) -> None:
    """The cart for a table of vacuums and buckets, what it carries, and what it does not."""
    from .search.for_table import NoneFits, changes

    out, voice = Screen(), voice_for(file.shop).plain()
    if isinstance(found, NoneFits):
        out.print(voice.word("terminal.table.none"))
        for each in found.unmet:
            place, what, allowed, mend = map(Name, astuple(voice.refusal(each)))
            line = voice.word(
                "terminal.table.unmet", place=place, found=what, allowed=allowed, mend=mend
            )
            out.print(f"  {line}")
        return
    things = [("vacuums", found.vacuums), ("buckets", found.buckets)]
    sizes = found.cart.sizes
    counts = tuple(
        state(f"terminal.table.{kind}", count=len(each)) for kind, each in things if each
    )
    out.print(
        voice.word(
            "terminal.table.one",
            form=Name(found.cart.form),
            things=Listing(counts),
            size=sizes_fact(sizes.length_m, sizes.width_m, sizes.height_m),
            cost=Amount(round(found.nest.cost), "money"),
            sure="yes" if found.sure else "no",
        )
    )
    for kind, names in things:
        if names:
            out.print()
            listed = Listing(tuple(map(Name, names)), "commas")
            out.print(voice.word(f"terminal.table.carries.{kind}", names=listed))
    if found.missed:
        out.print()
        out.print(voice.word("terminal.table.not_carried"))
        _missed(out, found.missed, voice)
    out.print()
    out.print(voice.word("terminal.table.write"))
    sections: dict[str, list[str]] = {}
    for path, text in changes(found):
        section, _, key = path.rpartition(".")
        sections.setdefault(section, []).append(f"{key} = {quoted(text)}")
    for section, lines in sections.items():
        for line in (f"[{section}]", *lines):
            out.print(line)
    if len(found.vacuums) > 1:
        out.print(voice.word("terminal.table.largest"))
    was_round = file.shop.separator.bucket.is_round
    if found.buckets and was_round != found.shop.separator.bucket.is_round:
        out.print(voice.word("terminal.table.take_out", round="yes" if was_round else "no"))
    out.print(voice.word("terminal.table.own_plan"))


def _missed(out: Screen, missed: Iterable[Missed], voice: Voice) -> None:
    columns = ("name", "what", "is", "takes", "beyond")
    table = _table("terminal.table.column", columns, voice, indent=2)
    for m in missed:
        if m.value is None or m.limit is None:
            table.add_row(m.name, voice.text(m.what), "", "", "")
            continue
        way = "up_to" if m.value > m.limit else "at_least"
        table.add_row(
            m.name,
            voice.text(m.what),
            voice.text(Amount(m.value, m.dimension)),
            voice.word(f"terminal.table.{way}", limit=Amount(m.limit, m.dimension)),
            voice.text(Amount(abs(m.value - m.limit), m.dimension)),
        )
    out.print(table)


def _as_written(key: str, text: str) -> str:
    """A wish as it stands under ``[wishes]`` in a shop file."""
    name = key.removeprefix("wishes.")
    if name in ("second_panels", "options"):
        listed = ", ".join(f'"{each}"' for each in text.split(", "))
        return f"{name} = [{listed}]"
    return f"{name} = {quoted(text)}"


def report_sizes(file: ShopFile, found: Sizing) -> None:
    """The carts that a search chose, with what each is best at."""
    out, voice = Screen(), voice_for(file.shop).plain()
    columns = ("", "best_at", "form", "size", "overturns", "sheets")
    table = _table("terminal.sizes.column", columns, voice)
    for number, choice in enumerate(found.choices, 1):
        sizes = choice.cart.sizes
        aims = Listing(tuple(Term("aim", aim) for aim in choice.aims), "commas")
        table.add_row(
            str(number),
            voice.text(aims) or voice.word("terminal.sizes.in_between"),
            voice.text(Term("form", choice.cart.form)),
            voice.text(sizes_fact(sizes.length_m, sizes.width_m, sizes.height_m)),
            voice.text(Amount(choice.score.steadiness_rad, "angle")),
            voice.money(round(choice.score.cost)),
        )
    out.print(table)
    if found.choices:
        out.print()
        out.print(voice.word("terminal.sizes.write"))
    for number, choice in enumerate(found.choices, 1):
        out.print()
        out.print(f"# {number}")
        for key, text in choice.wishes.items():
            out.print(_as_written(key, text))
    out.print()
    out.print(
        voice.word(
            "terminal.sizes.counts",
            laid_out=found.laid_out,
            nested=found.nested,
            refused=found.refused,
            stopped="yes" if found.stopped else "no",
        )
    )
