"""The command line: a thin view of what the rooms compute."""

from __future__ import annotations

import json
import os
import signal
import tomllib
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import replace
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

# No plugin is wanted, and looking for one imports much.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")

import typer

from .answering import answered, pdf_at, say, wrong
from .facts import Listing, Name, Statement, state
from .faults import BAD_INPUT, Faults, refusal
from .filenames import file_stem, numbered
from .one_cart import begin_build
from .plaintext import json_text, visible
from .quantity import MANY_TOOLS, SAMPLES, Draw, samples_for
from .result_folder import check_folder
from .screen import progress
from .shop import ShopFile, read_shop
from .wholefiles import is_standard_output, write_whole

if TYPE_CHECKING:
    from .cutting import Nest, Progress
    from .printed.figure_files import Figures
    from .words import Voice

app = typer.Typer(
    name="kerfwind",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="Plans a rolling dust unit for a home workshop from one shop file: how much air each "
    "tool gets, which fittings join it, the cart that carries vacuum and separator, the cuts, "
    "and a plan to print.\n\n"
    "Start with `kerfwind new my-shop.toml`, fill in what you know, then "
    "`kerfwind plan my-shop.toml`.",
)

#: From so many sheets on it is said how long their drawings take, about so long for each [s].
_MANY_SHEETS, _SECONDS_A_SHEET = 100, 0.2

#: With many tools it is said how long a plan takes, about so long for each [s].
_SECONDS_A_TOOL = 2.5

#: Drawings whose files are named one by one; the others are counted.
_NAMED_FILES = 8

ShopPath = Annotated[Path, typer.Argument(metavar="FILE", help="Your shop file (TOML).")]


class Units(StrEnum):
    """Units to print in."""

    inches = "in"
    mm = "mm"
    both = "both"


class Order(StrEnum):
    """What a person keeps at the saw."""

    sheets = "sheets"
    settings = "settings"


class Page(StrEnum):
    """Paper."""

    letter = "letter"
    a4 = "a4"


@contextmanager
def _until_interrupted() -> Iterator[Callable[[], bool]]:
    """A question that is answered yes until Ctrl-C is pressed once."""
    pressed = False

    def press(*_: object) -> None:
        nonlocal pressed
        pressed = True

    before = signal.signal(signal.SIGINT, press)
    try:
        yield lambda: not pressed
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def _once_more(voice: Voice) -> Iterator[None]:
    """Ctrl-C pressed once does not spoil what is being written; pressed again it ends all."""

    def press(*_: object) -> None:
        signal.signal(signal.SIGINT, before)
        wrong(voice.word("cuts.writing_on"))

    before = signal.signal(signal.SIGINT, press)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


def _stages(show: Callable[[str], None], voice: Voice) -> Callable[[Statement], None]:
    """Tells each stage of a plan in words."""
    return lambda stage: show(voice.text(stage))


def _read(path: Path) -> tuple[ShopFile, Voice]:
    """The shop file, and the voice that it asks for."""
    with answered():
        shop_file = read_shop(path)
    return shop_file, _voice(shop_file)


def _voice(shop_file: ShopFile) -> Voice:
    with answered():
        from .view.language import voice_in

        return voice_in(shop_file)


def _say_beside(out: Path, text: str) -> None:
    """Say what was written; not into the page itself, where that went to standard output."""
    (wrong if is_standard_output(out) else say)(text)


def _without_comments(text: str) -> str:
    """A TOML text without its comments, which no page shows; as it is where all is ASCII."""
    return text if text.isascii() else json.dumps(tomllib.loads(text), ensure_ascii=False)


@app.command()
def plan(
    file: ShopPath,
    out: Annotated[
        str | None,
        typer.Option("--out", metavar="DIR", help="Folder for the results; made if missing."),
    ] = None,
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the whole plan as JSON instead of a report.")
    ] = False,
    machine_files: Annotated[
        bool,
        typer.Option(
            "--all",
            help="Also write panels as DXF, STL and 3MF, the cart as GLB, printed parts as STL and 3MF.",
        ),
    ] = False,
) -> None:
    """Plan the unit and write the results.

    The answer comes here; PDF, drawings, tables and JSON go to a folder.

    Exit status: 0, or 1 when no cart can be built, or 2 when the file cannot be read.
    """
    with answered():
        shop_file = read_shop(file)
    samples = samples_for(len(shop_file.shop.tools))
    begun = begin_build(shop_file.shop, Draw(samples))
    voice = _voice(shop_file)
    with answered(voice):
        folder = out if out is not None else file_stem(file.stem, after="-plan")
        check_folder(folder, "plan")
        from .plan import make_plan, plan_record
        from .printed.cart_figures import begin_cart
        from .printed.typeface import lacking
        from .printed.writing import write_all
        from .terminal import report
        from .view.findings import voice_of

        tools = len(shop_file.shop.tools)
        if tools > MANY_TOOLS and not as_json:
            minutes = round(tools * _SECONDS_A_TOOL / 60)
            say(voice.word("terminal.plan.long", tools=tools, minutes=minutes))
        drawn: list[Callable[[], Figures]] = []
        with ExitStack() as shown:
            on_stage = _stages(shown.enter_context(progress()), voice)
            result = make_plan(
                shop_file,
                samples=samples,
                on_stage=on_stage,
                begun=begun,
                when_built=lambda build: drawn.append(begin_cart(shop_file.shop, build, voice)),
            )

            def report_all(written: list[Path]) -> None:
                # While it is shown, all that is printed goes its way.
                shown.close()
                if as_json:
                    say(*json_text(plan_record(result), indent=1).split("\n"))
                else:
                    report(result, written, lacking(_without_comments(shop_file.text)))

            written = write_all(
                result,
                folder,
                on_stage=on_stage,
                machine_files=machine_files,
                cart=next(iter(drawn), None),
                meanwhile=report_all,
            )
        wrong(*map(voice_of(result).text, written.kept))
    if result.cart is None:
        raise typer.Exit(1)


@app.command()
def check(file: ShopPath) -> None:
    """Check a shop file; writes nothing.

    Says what is good, doubtful or wrong, and what to measure.

    Exit status: 0, or 1 when something must not be built or run so, or 2 when the file
    cannot be read.
    """
    shop_file, voice = _read(file)
    with answered(voice):
        from .plan import make_plan
        from .terminal import report_findings

        with progress() as show:
            result = make_plan(
                shop_file,
                samples=samples_for(len(shop_file.shop.tools)),
                on_stage=_stages(show, voice),
            )
        report_findings(result)
    if any(f.level == "stop" for f in result.findings):
        raise typer.Exit(1)


@app.command()
def new(file: Annotated[Path, typer.Argument(metavar="FILE", help="Where to write it.")]) -> None:
    """Write a commented shop file to start from.

    An existing file is left alone.
    """
    from importlib.resources import files

    from .words import Voice

    voice, name = Voice(), Name(str(file))
    with answered():
        if file.exists():
            wrong(voice.word("terminal.new.exists", file=name))
            raise typer.Exit(BAD_INPUT)
        if file.parent != Path() and not file.parent.is_dir():
            wrong(voice.word("terminal.new.no_folder", folder=Name(str(file.parent))))
            raise typer.Exit(BAD_INPUT)
        starter = (files("kerfwind.shop") / "starter.toml").read_text(encoding="utf-8")
        write_whole(file, starter)
    say(voice.word("terminal.new.wrote", file=name))


@app.command("open")
def open_(
    file: Annotated[
        Path, typer.Argument(metavar="[FILE]", help="The shop file; made where there is none.")
    ] = Path("my-shop.toml"),
    phone: Annotated[
        bool,
        typer.Option(
            "--phone", help="Also on the local network, for a phone: prints a code to scan."
        ),
    ] = False,
    port: Annotated[
        int, typer.Option("--port", min=0, max=65535, help="Another port; 0 for any.")
    ] = 0,
    browse: Annotated[
        bool, typer.Option("--browser/--no-browser", help="Open the page in a browser.")
    ] = True,
) -> None:
    """Do the whole job on a page in the browser.

    The page is on this computer alone, unless a phone is asked for. It ends with Ctrl-C.
    """
    from .words import Voice

    voice = Voice()
    with answered():
        from .app.run import Address, open_page

        def told(address: Address) -> None:
            kind = "terminal.open.already" if address.already else "terminal.open"
            say(voice.word(kind, address=Name(address.own)))
            if address.phone:
                import segno

                say(voice.word("terminal.open.phone", address=Name(address.phone)))
                segno.make(address.phone).terminal(compact=True)
            elif phone and not address.already:
                say(voice.word("terminal.open.no_network"))

        open_page(file, port=port, phone=phone, browse=browse, told=told)


@app.command()
def shortcut(
    file: Annotated[
        Path, typer.Argument(metavar="[FILE]", help="The shop file that it opens.")
    ] = Path("~/my-shop.toml"),
    folder: Annotated[
        Path | None, typer.Option("--folder", metavar="DIR", help="Elsewhere than on the desktop.")
    ] = None,
) -> None:
    """Put a starter on the desktop that opens the page, so that no terminal is needed."""
    from .words import Voice

    with answered():
        from .app.shortcut import make_shortcut

        made = make_shortcut(file.expanduser(), folder)
        say(Voice().word("terminal.shortcut", place=Name(str(made))))


@app.command()
def cut(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A list of panels, CSV or TOML.")],
    out: Annotated[
        str | None, typer.Option("--out", metavar="DIR", help="Folder for the results.")
    ] = None,
    effort: Annotated[
        int,
        typer.Option(
            "--effort",
            min=0,
            max=10_000_000,
            help="How long to look for the cheapest sheets: a thousand is about a second.",
        ),
    ] = 4_000,
    order: Annotated[
        Order | None,
        typer.Option(
            "--order",
            help="One sheet finished before the next, or each setting kept for all sheets.",
        ),
    ] = None,
    seed: Annotated[int, typer.Option("--seed", help="Another seed, another search.")] = 1,
    units: Annotated[
        Units | None,
        typer.Option("--units", help="Units to print in: the list's or the plan's own."),
    ] = None,
    page: Annotated[
        Page | None, typer.Option("--page", help="Paper: a4, or the plan's own.")
    ] = None,
    done: Annotated[
        list[str] | None,
        typer.Option(
            "--done",
            metavar="CUTS",
            help="Cuts made already, or what is there: `1-7, 9, sheet 2, A1, 3b`. Again for cuts "
            "of the layout that came of it.",
        ),
    ] = None,
    short: Annotated[
        list[str] | None,
        typer.Option(
            "--short",
            metavar="PANEL",
            help="A panel that came out too small, as measured: `A1 = 780 mm x 498 mm`.",
        ),
    ] = None,
) -> None:
    """Lay any list of panels on sheets.

    Columns of the CSV: name, length, width; and, where wanted, quantity, material,
    thickness, grain, edges, band thickness, kind, price. Each size has its unit, in the cell
    or in the column's name: `length (mm)`. A row whose kind is `sheet` or `offcut` is a sheet.
    With a band thickness, sizes are those of the finished panel, cut smaller at its edges. A
    TOML has [[panels]], [[sheets]] and [saw] with the same keys. The plan.json of a plan, or
    its panels.csv where it still lies beside it unchanged, is cut from the plan's own sheets
    with its own saw: the cuts are numbered as in its pages.

    Gives what to buy, the sheets, the numbered cuts, the offcuts and part labels, as PDF, SVG
    and CSV. Ctrl-C ends a long search at once with the best so far.

    With --done and --short a build goes on from the middle: what is cut stays, the rest is
    laid out again from what is left. Give the list, effort and seed as they were before.
    """
    from .cutting import CuttingError, SheetsRunOutError, cut_order, nest
    from .cutting.going_on import Rest, go_on
    from .cutting.of_plan import read_plan_list
    from .cutting.reading import read_cut_list, units_written
    from .view.cuts import outcome_text, progress_text, stays_text
    from .words import Voice

    voice = Voice(units=units.value if units else units_written(file))
    with answered(voice):
        of_plan = read_plan_list(file)
        if of_plan is not None:
            # Cuts are known by the numbers of the plan's own nest.
            effort, seed = of_plan.budget, of_plan.seed
            voice = Voice(units=units.value if units else of_plan.units)
        paper = page.value if page else of_plan.page if of_plan else "a4"
        after = "-rest" if done or short else "-cuts"
        folder = out if out is not None else file_stem(file.stem, after=after)
        check_folder(folder, "cut")
        try:
            listed = of_plan.listed if of_plan else read_cut_list(file)
            voice = replace(voice, currency=listed.currency)
            if order is not None:
                listed = replace(listed, saw=replace(listed.saw, order=order.value))
            lacking_panels = ""
            rest: Rest | None = None
            found: Nest | None
            with progress() as on_stage, _until_interrupted() as going:

                def watch(now: Progress) -> bool:
                    on_stage(progress_text(now, voice))
                    return going()

                made = dict(of_plan.made) if of_plan else None
                if made and (done or short):
                    raise Faults([refusal("cutting.plan.half", file=file.name)])
                own = of_plan is None or of_plan.lays_out(
                    nest(
                        list(listed.panels),
                        list(listed.sheets),
                        listed.saw,
                        budget=effort,
                        seed=seed,
                        made=made or None,
                    )
                )
                if not own:
                    raise Faults([refusal("cutting.plan.other", file=file.name)])
                if done or short:
                    rest = go_on(
                        listed,
                        file.name,
                        done or (),
                        short or (),
                        budget=effort,
                        seed=seed,
                        watch=watch,
                    )
                    found = rest.nest
                else:
                    found = nest(
                        list(listed.panels),
                        list(listed.sheets),
                        listed.saw,
                        budget=effort,
                        seed=seed,
                        watch=watch,
                        made=made or None,
                    )
        except SheetsRunOutError as error:
            # What did find a place is worth having; what did not is said.
            found = error.partial
            lacking_panels = voice.refusal(error.problems[0]).found
        except CuttingError as error:
            lines = listed.lines
            raise Faults(
                [replace(p, file=file.name, line=lines.get(p.place, 0)) for p in error.problems]
            ) from None
        from .printed.cutlist import write_cut_list
        from .printed.typeface import lacking
        from .terminal import lacking_text

        stays = stays_text(rest, voice) if rest else []
        if stays:
            say(*stays)
        if found is None:
            say(voice.word("cuts.all_made"))
            return
        title = visible(file.stem)
        sheets = len(found.sheets)
        if sheets > _MANY_SHEETS:
            minutes = max(1, round(sheets * _SECONDS_A_SHEET / 60))
            say(voice.word("cuts.long", sheets=sheets, minutes=minutes))
        with progress() as on_stage, _once_more(voice):
            on_stage(voice.word("cuts.ordering"))
            steps = tuple(cut_order(found, listed.saw))
            written = write_cut_list(
                listed, found, steps, folder, title, voice, paper, stays, on_stage
            )
    say(*outcome_text(listed, found, steps, voice, going_on=rest is not None))
    sheets_drawn = [p for p in written.paths if p.suffix == ".svg"]
    files = Listing(
        (
            *(Name(str(p)) for p in written.paths if p not in sheets_drawn[_NAMED_FILES:]),
            *(
                [state("cuts.drawings", count=len(sheets_drawn) - _NAMED_FILES)]
                if len(sheets_drawn) > _NAMED_FILES
                else []
            ),
        ),
        "commas",
    )
    say(voice.word("cuts.results", files=files))
    wrong(*map(voice.text, written.kept))
    named = "".join([title, *(p.name for p in listed.panels), *(s.key for s in listed.sheets)])
    if missing := lacking_text(lacking(named), voice):
        say(missing)
    if lacking_panels:
        wrong(lacking_panels)
        raise typer.Exit(1)


@app.command()
def size(
    file: ShopPath,
    effort: Annotated[
        int, typer.Option("--effort", min=10, max=5000, help="How many carts to lay out at most.")
    ] = 400,
) -> None:
    """Find a few distinct carts for your wishes.

    Forms, holds and sizes are built, nested and checked; each cart shown is best at
    something. Nothing is written: put the wishes you like into the shop file.
    """
    shop_file, voice = _read(file)
    with answered(voice):
        from .one_cart import cart_view
        from .search.cart_sizing import size_cart
        from .search.hookup_air import hookups_in_air
        from .search.sheet_choice import second_groups, sheet_groups
        from .terminal import report_sizes

        shop = shop_file.shop
        with progress() as on_stage, _until_interrupted() as going:

            def go_on(done: int, every: int) -> bool:
                on_stage(voice.word("terminal.sizes.progress", done=done, every=every))
                return going()

            rack = "fitting rack" in shop.wishes.options
            kept = hookups_in_air(shop, Draw(SAMPLES)) if rack else None
            found = size_cart(
                cart_view(shop, kept),
                sheet_groups(shop),
                shop.saw,
                Draw(SAMPLES),
                seconds=second_groups(shop),
                budget=effort,
                go_on=go_on,
            )
        report_sizes(shop_file, found)
    if not found.choices:
        raise typer.Exit(1)


@app.command()
def carry(
    file: ShopPath,
    table: Annotated[
        Path, typer.Argument(metavar="TABLE", help="Vacuums and buckets, CSV or TOML.")
    ],
) -> None:
    """Find one cart for a table of vacuums and buckets.

    The cart that carries the most of them, of the wished form where another carries no more:
    which it carries, and for each other what keeps it out, and by how much. Buckets, drums and
    boxes of the table hang by their rims; one opening takes round ones or boxes, never both. A CSV has the columns
    kind (vacuum or bucket), name, length, width, height and weight for vacuums; top_diameter,
    rim_diameter, height and rim_drop for round buckets; top_width, top_length, rim_width,
    rim_length, height and rim_drop for boxes. A TOML has [[vacuums]] and [[buckets]]. Nothing
    is written.

    Exit status: 0, or 1 when no cart carries any, or 2 when a file cannot be read.
    """
    shop_file, voice = _read(file)
    with answered(voice):
        from .checks.sizes_table import read_sizes
        from .one_cart import cart_view
        from .search.for_table import NoneFits, any_form_for_table
        from .search.sheet_choice import second_group, sheet_groups
        from .terminal import report_for_table

        vacuums, buckets = read_sizes(table)
        shop = shop_file.shop
        with progress() as on_stage, _until_interrupted() as going:

            def go_on(tried: int) -> bool:
                on_stage(voice.word("terminal.table.progress", count=tried))
                return going()

            found = any_form_for_table(
                cart_view(shop),
                sheet_groups(shop),
                vacuums,
                buckets,
                Draw(SAMPLES),
                second=second_group(shop),
                go_on=go_on,
            )
        report_for_table(shop_file, found)
    if isinstance(found, NoneFits):
        raise typer.Exit(1)


@app.command()
def fits(
    plan_file: Annotated[
        Path, typer.Argument(metavar="PLAN.json", help="The plan.json of a published plan.")
    ],
    vacuum: Annotated[
        str,
        typer.Option(
            "--vacuum",
            metavar="SIZES",
            help="Yours: `length 18 in, width 18 in, height 21 in, weight 17 lb`.",
        ),
    ] = "",
    bucket: Annotated[
        str,
        typer.Option(
            "--bucket",
            metavar="SIZES",
            help="Yours: `top diameter 11-1/4 in, rim diameter 12 in, height 14 in, rim drop 2 in`.",
        ),
    ] = "",
    units: Annotated[
        Units | None, typer.Option("--units", help="Units to answer in; else as you write.")
    ] = None,
) -> None:
    """Say whether the cart of a plan fits your vacuum and bucket.

    Yes, or what keeps them out and which panels change by how much. Sizes are named as in a
    shop file; what you leave out is taken as the plan has it.

    Exit status: 0, or 1 when it does not fit as it is, or 2 when something cannot be read.
    """
    from .words import Voice

    with answered(Voice()):
        from .search.fits_mine import metric, own_sizes, read_published, shop_with, what_keeps_out

        published = read_published(plan_file)
        own = own_sizes("vacuum", vacuum), own_sizes("bucket", bucket)
        asked = units.value if units else "mm" if metric([vacuum, bucket]) else "in"
        shop = shop_with(published, *own, asked)
        kept_out = what_keeps_out(shop, published.ranges)
        from .terminal import report_fits

        if not kept_out:
            report_fits(shop, (), (), ())
            return
        from .one_cart import cart_view
        from .search.fits_mine import compared

        planned = cart_view(shop_with(published, {}, {}, asked))
        sheet = next(each for each in shop.sheets if each.name == published.sheet)
        report_fits(shop, kept_out, *compared(planned, cart_view(shop), sheet))
    raise typer.Exit(1)


def _write_page(out: Path | None, usual: str, page: bytes) -> Path:
    """Write a page where a person said, or under its usual name or the next that is free.

    A page of the usual name may carry what was filled in on the screen.
    """
    if out is None:
        out = next(
            each
            for each in numbered(Path(usual))
            if not os.path.lexists(each) or (each.is_file() and each.read_bytes() == page)
        )
    write_whole(out, page)
    return out


@app.command("test-sheet")
def home_test_page(
    file: ShopPath,
    out: Annotated[
        Path | None,
        typer.Option("--out", metavar="PDF", help="Where to write the page; else test-sheet.pdf."),
    ] = None,
) -> None:
    """Print the page for measuring your vacuum.

    Thin plates with holes of known size, a dry gauge, and a table to fill in.
    """
    shop_file, voice = _read(file)
    with answered(voice):
        if out is not None:
            pdf_at(out)
        from .printed.sheets import test_sheet_pdf

        out = _write_page(out, "test-sheet.pdf", test_sheet_pdf(shop_file.shop))
    _say_beside(out, voice.word("terminal.test_sheet.wrote", file=Name(str(out))))


@app.command("measure-sheet")
def measuring_page(
    out: Annotated[
        Path | None,
        typer.Option(
            "--out", metavar="PDF", help="Where to write the pages; else measure-sheet.pdf."
        ),
    ] = None,
    page: Annotated[Page, typer.Option("--page", help="Paper.")] = Page.letter,
) -> None:
    """Print strips and cards that read diameters.

    True size: paper strips to wrap round a port, step cards for inside diameters, and a
    ruler that proves that the printer did not scale.
    """
    with answered():
        if out is not None:
            pdf_at(out)
        from .printed.sheets import measure_sheet_pdf

        out = _write_page(out, "measure-sheet.pdf", measure_sheet_pdf(page.value))
    from .words import Voice

    other = "a4" if page is Page.letter else "letter"
    written = Voice().word(
        "terminal.measure_sheet.wrote",
        file=Name(str(out)),
        page=Name(page.value),
        other=Name(other),
    )
    _say_beside(out, written)


@app.command()
def schema() -> None:
    """Print a JSON Schema of the shop file.

    Editors use it to check as you type.
    """
    from .view.schema import shop_schema
    from .words import Voice

    say(*json_text(shop_schema(Voice()), indent=1).split("\n"))


@app.command()
def sources(
    word: Annotated[
        str, typer.Argument(metavar="[WORD]", help="Only numbers whose key or text has this word.")
    ] = "",
) -> None:
    """List the numbers from outside, with where they came from."""
    from .terminal import list_sources

    with answered():
        found = list_sources(word)
    if not found:
        from .words import Voice

        wrong(Voice().word("terminal.sources.none", word=Name(word)))
        raise typer.Exit(BAD_INPUT)
