"""A cut list of any build as pages, drawings and tables."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from .. import __version__, limits
from ..cutting import CutStep, Nest, SawCut, SheetNest
from ..cutting.checking import named_pieces
from ..cutting.reading import CutList
from ..drawing import Paper, svg
from ..drawing.sheet import sheet_drawing
from ..result_folder import write_folder
from ..view.cautions import caution_rows
from ..view.cuts import (
    banding_text,
    bought_content,
    cut_cautions,
    cut_rows,
    cut_words,
    page_words,
    panel_rows,
    part_labels,
    sheet_caption,
    sheet_title,
    sheets_alike,
)
from ..words import Voice
from .content import PAPER
from .figure_files import PAGE_MM, sheet_layout
from .tables import bought_csv, marked_csv, single_cuts_csv
from .typesetting import typeset
from .writing import Written


def write_cut_list(
    listed: CutList,
    nest: Nest,
    steps: tuple[CutStep, ...],
    folder: str | Path,
    title: str,
    voice: Voice,
    page: str,
    stays: Sequence[str] = (),
    on_stage: Callable[[str], None] = lambda text: None,
) -> Written:
    """Write PDF, a drawing for each layout, labels, and the cuts and what to buy as CSV.

    ``stays`` is what is there already of a half-done build; ``on_stage`` is called with what is
    at work.
    """
    paper = Paper(*PAGE_MM[page])
    drawings: dict[str, str] = {}
    nests = []
    of_sheet, alike = _of_sheets(steps), sheets_alike(nest)
    total = len(alike)
    pieces = named_pieces(nest, steps, listed.saw, every=True)
    # What is left of a piece keeps its place; what comes off it is what one carries about.
    given = {c.gives.name for step in steps for c in step.cuts}
    for number, (sheet, others) in enumerate(alike, 1):
        on_stage(voice.word("cuts.drawing", number=number, total=total))
        drawn = sheet_drawing(
            _lettered(sheet, nest) if others else sheet,
            of_sheet[sheet.number],
            kerf_m=listed.saw.kerf_m,
            voice=voice,
            pieces=[p for p in pieces[sheet.number] if p[0] in given] if not others else (),
            alike=bool(others),
        )
        name = f"sheet-{sheet.number}.svg"
        placed, turned = sheet_layout(drawn, sheet, voice, paper)
        drawings[name] = svg(placed)
        nests.append(
            {
                "title": sheet_title(sheet, voice, going_on=bool(stays), others=others),
                "file": name,
                "turned": turned,
                "caption": sheet_caption(sheet, voice),
            }
        )
    on_paper = nests[: limits.SHEETS_ON_PAPER]
    first = len(on_paper) + 1
    beside = []
    if first <= total:
        numbers = alike[first - 1][0].number, nest.sheets[-1].number
        beside = [voice.word("cuts.beside", first=numbers[0], last=numbers[1])]
    # A table of ten thousand cuts would be a book: those of sheets on paper are printed.
    printed = {n for sheet, others in alike[: len(on_paper)] for n in (sheet.number, *others)}
    on_pages = steps if not beside else [s for s in steps if s.cuts[0].sheet in printed]
    rows = panel_rows(listed.panels, nest, voice)
    if len(rows) > limits.PANELS_ON_PAPER:
        beside.append(voice.word("cuts.panels_beside", count=limits.PANELS_ON_PAPER))
    data = {
        "title": title,
        "language": voice.language,
        "paper": PAPER[page],
        "made_by": f"kerfwind {__version__}",
        "intro": voice.text(nest.nearness),
        "buy": bought_content(listed, nest, voice),
        "cautions": caution_rows("cutting", voice),
        "panels": rows[: limits.PANELS_ON_PAPER],
        "banding": banding_text(listed.panels, voice),
        "assumed": [*(voice.text(taken) for taken in listed.assumed), *beside],
        "stays": list(stays),
        "nests": on_paper,
        "cuts": cut_rows(on_pages, listed.saw, voice),
        "cut_cautions": cut_cautions(on_pages, voice),
        "cut_words": cut_words(voice),
        "words": page_words(voice),
    }
    shown = dict(list(drawings.items())[: len(on_paper)])
    on_stage(voice.word("cuts.setting", total=len(on_paper)))
    files: dict[str, str | bytes] = {"cuts.pdf": typeset("cut-list.typ", data, shown)}
    on_stage(voice.word("cuts.labelling"))
    files["labels.pdf"] = _labels(listed, nest, title, voice, page)
    files |= drawings
    files["cuts.csv"] = single_cuts_csv(steps, voice, nest)
    files["panels.csv"] = marked_csv(rows, voice)
    files["buy.csv"] = bought_csv(listed, nest, voice)
    kept = write_folder(folder, files, "cut")
    return Written([Path(folder) / name for name in files], kept)


def _labels(listed: CutList, nest: Nest, title: str, voice: Voice, page: str) -> bytes:
    """Labels to stick on the panels, as many as a page holds."""
    labels = part_labels(listed, nest, voice)
    few = labels[: limits.LABELS]
    data = {
        "title": f"{title}: {voice.word('cuts.labels')}",
        "language": voice.language,
        "paper": PAPER[page],
        "made_by": f"kerfwind {__version__}",
        "beside": voice.word("cuts.labels.beside", count=len(few)) if few != labels else "",
        "labels": few,
    }
    return typeset("labels.typ", data, {})


def _lettered(sheet: SheetNest, nest: Nest) -> SheetNest:
    """A sheet whose panels have their letters alone: one drawing stands for several sheets."""
    pieces = (replace(p, pencil=nest.pencils[p.panel]) for p in sheet.pieces)
    return replace(sheet, pieces=tuple(pieces))


def _of_sheets(steps: Sequence[CutStep]) -> dict[int, list[CutStep]]:
    """The steps of each sheet, with its own cuts alone."""
    found: dict[int, list[CutStep]] = defaultdict(list)
    for step in steps:
        cuts: dict[int, list[SawCut]] = defaultdict(list)
        for cut in step.cuts:
            cuts[cut.sheet].append(cut)
        for sheet, mine in cuts.items():
            found[sheet].append(replace(step, cuts=tuple(mine)))
    return found
