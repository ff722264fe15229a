"""A cut list of any build as pages, drawings and tables."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from .. import __version__, limits
from ..cutting import CutStep, Nest, SawCut
from ..cutting.reading import CutList
from ..drawing import Paper, svg
from ..drawing.sheet import sheet_drawing
from ..result_folder import write_folder
from ..view.cautions import caution_rows
from ..view.cuts import (
    banding_text,
    cut_cautions,
    cut_rows,
    cut_words,
    page_words,
    panel_rows,
    sheet_caption,
    sheet_title,
)
from ..words import Voice
from .content import PAPER
from .figure_files import PAGE_MM, sheet_layout
from .tables import single_cuts_csv
from .writing import Written, typeset


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
    """Write PDF, a drawing for each sheet and the cuts as CSV.

    ``stays`` is what is there already of a half-done build; ``on_stage`` is called with what is
    at work.
    """
    paper = Paper(*PAGE_MM[page])
    drawings: dict[str, str] = {}
    nests = []
    of_sheet, total = _of_sheets(steps), len(nest.sheets)
    for number, sheet in enumerate(nest.sheets, 1):
        on_stage(voice.word("cuts.drawing", number=number, total=total))
        drawn = sheet_drawing(sheet, of_sheet[sheet.number], kerf_m=listed.saw.kerf_m, voice=voice)
        name = f"sheet-{sheet.number}.svg"
        placed, turned = sheet_layout(drawn, sheet, voice.units, paper)
        drawings[name] = svg(placed)
        nests.append(
            {
                "title": sheet_title(sheet, voice, going_on=bool(stays)),
                "file": name,
                "turned": turned,
                "caption": sheet_caption(sheet, voice),
            }
        )
    on_paper = nests[: limits.SHEETS_ON_PAPER]
    first = len(on_paper) + 1
    beside = [voice.word("cuts.beside", first=first, last=total)] if first <= total else []
    data = {
        "title": title,
        "paper": PAPER[page],
        "made_by": f"kerfwind {__version__}",
        "intro": voice.text(nest.nearness),
        "cautions": caution_rows("cutting", voice),
        "panels": panel_rows(listed.panels, nest, voice),
        "banding": banding_text(listed.panels, voice),
        "assumed": [*(voice.text(taken) for taken in listed.assumed), *beside],
        "stays": list(stays),
        "nests": on_paper,
        "cuts": cut_rows(steps, listed.saw, voice),
        "cut_cautions": cut_cautions(steps, voice),
        "cut_words": cut_words(voice),
        "words": page_words(voice),
    }
    shown = dict(list(drawings.items())[: len(on_paper)])
    on_stage(voice.word("cuts.setting", total=len(on_paper)))
    files: dict[str, str | bytes] = {"cuts.pdf": typeset("cut-list.typ", data, shown)}
    files |= drawings
    files["cuts.csv"] = single_cuts_csv(steps, voice)
    kept = write_folder(folder, files, "cut")
    return Written([Path(folder) / name for name in files], kept)


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
