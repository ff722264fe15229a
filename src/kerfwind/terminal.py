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
from .view.first import First, Todo, what_first
from .view.summary import bill_text, level_text, sheets_fact, size_fact, sizes_fact
from .words import Voice

if TYPE_CHECKING:
    from rich.console import RenderableType
    from rich.text import Text

    from .faults import Refusal
    from .plan import Plan
    from .search.cart_sizing import Sizing
    from .search.fits_mine import PanelChange
    from .search.for_table import ForTable, Missed, NoneFits
    from .shop import Shop, ShopFile

_STYLE: dict[str, str] = {
    "stop": "bold white on red",
    "problem": "bold red",
    "unknown": "bold magenta",
    "advice": "yellow",
    "good": "green",
}
#: The report of a plan has no more lines than this.
MOST_LINES = 30
#: More characters than this that no typeface has are not all shown.
_MOST_LACKING = 20


def _table(kind: str, columns: Sequence[str], voice: Voice, *, indent: int = 0) -> Table:
    table = Table(box=None, padding=(0, 2, 0, indent))
    for column in columns:
        table.add_column(voice.word(f"{kind}.{column}") if column else "", overflow="fold")
    return table


def _finding_lines(group: Group, voice: Voice) -> list[Text]:
    lines = []
    if group.check:
        rows = [
            Name(voice.word("finding.each", about=Name(s.said.about), brief=Name(s.brief)).strip())
            for s in group.spoken
        ]
        many = voice.word("terminal.about", about=Name(group.check))
        lines.append(styled((f"{many} ", "bold"), voice.text(Listing(tuple(rows), "semicolons"))))
    for each in group.spoken if not group.check else ():
        about = voice.word("terminal.about", about=Name(each.said.about)) if each.said.about else ""
        lines.append(styled((f"{about} " if about else "", "bold"), each.said.answer))
        if each.said.numbers:
            lines.append(styled((each.said.numbers, "dim")))
    if group.do:
        lines.append(styled(voice.word("terminal.do", do=Name(group.do))))
    lines += [styled(voice.word("terminal.tried", tried=Name(line))) for line in group.tried]
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
    """The tools and every finding, worst first, and what was measured after building."""
    out, voice = Screen(), voice_of(plan)
    _tools(out, plan, voice)
    out.print()
    if plan.breathing.results:
        _sessions(out, plan, voice)
        out.print()
    _findings(out, plan.findings, voice)
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
    """The answer first: does it work, what to do in order, what to measure, where the results are.

    At most `MOST_LINES` lines: where they would be more, the last things to do and to measure
    are left to the findings. ``lacking`` are characters that the pages cannot show.
    """
    out, voice = Screen(), voice_of(plan)
    first = what_first(plan)
    todo, measure = len(first.todo), len(first.measure)
    while True:
        blocks = _first_blocks(plan, first, todo, measure, voice)
        blocks += _ending(plan, written, lacking, voice)
        lines = sum(len(out.render_lines(block, pad=False)) for block in blocks)
        if lines <= MOST_LINES or todo + measure <= 2:
            break
        if measure > max(todo, 1):
            measure -= 1
        else:
            todo -= 1
    for block in blocks:
        out.print(block)


def _first_blocks(
    plan: Plan, first: First, todo: int, measure: int, voice: Voice
) -> list[RenderableType]:
    blocks: list[RenderableType] = [styled(""), styled((plan.title, "bold"))]
    blocks += [styled(line) for line in first.works]
    blocks += [_in_short(plan, voice), styled("")]
    blocks.append(styled((voice.word("first.todo"), "bold")))
    rows = [_todo_line(each, voice) for each in first.todo[:todo]]
    if not rows:
        blocks.append(styled(f"  {voice.word('first.nothing')}"))
    left = first.more + len(first.todo) - todo
    blocks.append(_numbered(rows))
    if left:
        blocks.append(styled(f"  {voice.word('first.more', count=left)}"))
    if first.measure:
        blocks.append(styled((voice.word("first.measure"), "bold")))
        settled = [
            styled(m.what, (f" {voice.word('first.settles', what=Name(m.settles))}", "dim"))
            for m in first.measure[:measure]
        ]
        blocks.append(_numbered(settled))
    return blocks


def _todo_line(todo: Todo, voice: Voice) -> Text:
    cost = f" ({todo.cost})" if todo.cost else ""
    changes = f" {voice.word('first.changes', changes=Name(todo.changes))}" if todo.changes else ""
    return styled(f"{todo.what}{cost}", (changes, "dim"))


def _numbered(rows: Sequence[Text]) -> Table:
    table = Table.grid(padding=(0, 1))
    table.add_column(width=4, justify="right")
    table.add_column(ratio=1)
    for number, row in enumerate(rows, 1):
        table.add_row(f"{number}.", row)
    return table


def _ending(
    plan: Plan, written: Sequence[Path], lacking: str, voice: Voice
) -> list[RenderableType]:
    """Where the results are, and how to read every finding."""
    blocks: list[RenderableType] = [styled("")]
    if written:
        folder = written[0].parent
        files = Listing(
            tuple(map(Name, _listed([path.relative_to(folder) for path in written], voice))),
            "commas",
        )
        blocks.append(styled(voice.word("terminal.results", folder=Name(str(folder)), files=files)))
    if plan.file.path:
        blocks.append(styled(voice.word("terminal.all_findings", file=Name(plan.file.path))))
    if lacking:
        advice = lacking_text(lacking, voice)
        blocks.append(styled((level_text("advice", voice), _STYLE["advice"]), f"    {advice}"))
    return blocks


def _in_short(plan: Plan, voice: Voice) -> Text:
    """The cart, its sheets, what all costs, and how much was only assumed."""
    rows: list[str] = []
    if plan.cart is not None and (size := size_fact(plan)):
        plain = voice.plain()
        form = Term("form", plan.cart.form)
        rows = [
            plain.word("terminal.cart.size", size=size, form=form),
            plain.word("terminal.sheets.count", sheets=sheets_fact(plan)),
        ]
    rows.append(voice.word("terminal.bill", bill=Name(bill_text(plan, voice))))
    rows.append(voice.word("terminal.assumed.count", count=len(plan.file.assumptions)))
    return styled(voice.text(Listing(tuple(map(Name, rows)), "sentences")))


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
        _unmet(out, found.unmet, "terminal.table.none", voice)
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


def _unmet(out: Screen, unmet: Iterable[Refusal], title: str, voice: Voice) -> None:
    """Under a title the wishes that no cart meets, each with what mends it."""
    out.print(voice.word(title))
    for each in unmet:
        place, what, allowed, mend = map(Name, astuple(voice.refusal(each)))
        line = voice.word(
            "terminal.table.unmet", place=place, found=what, allowed=allowed, mend=mend
        )
        out.print(f"  {line}")


def report_fits(
    shop: Shop,
    kept_out: Sequence[Missed],
    changed: Sequence[PanelChange],
    refused: Sequence[Refusal],
) -> None:
    """Whether the cart of a published plan carries a reader's own, and which panels change."""
    out, voice = Screen(), voice_for(shop)
    if not kept_out:
        out.print(voice.word("terminal.fits.yes"))
        return
    out.print(voice.word("terminal.fits.no"))
    _missed(out, kept_out, voice.plain())
    out.print()
    if refused:
        _unmet(out, refused, "terminal.fits.none", voice)
        return
    out.print(voice.word("terminal.fits.changed" if changed else "terminal.fits.nothing"))
    for each in changed:
        more = each.now_m - each.was_m
        out.print(
            "  "
            + voice.word(
                "terminal.fits.panel",
                panel=Term("panel", each.panel),
                side=each.side,
                known="gone" if each.now_m == 0 else "new" if each.was_m == 0 else "both",
                was=Amount(each.was_m, "length"),
                now=Amount(each.now_m, "length"),
                way="more" if more > 0 else "less",
                by=Amount(abs(more), "length"),
            )
        )
    out.print(voice.word("terminal.fits.own_plan"))


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
    if not found.choices:
        _unmet(out, found.unmet, "terminal.sizes.none", voice)
    columns = ("", "best_at", "form", "size", "overturns", "ballast", "fails", "sheets")
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
            choice.wishes["wishes.ballast"],
            voice.text(Listing(tuple(Term("tips", c) for c in choice.failed), "commas"))
            or voice.word("terminal.sizes.none_failed"),
            voice.money(round(choice.score.cost)),
        )
    if found.choices:
        out.print(table)
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
