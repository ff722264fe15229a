"""A cut list of any build as pages, drawings and tables."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from .. import __version__
from ..cautions import cautions_for
from ..cutting import CutStep, Nest, SawCut, banding
from ..cutting.going_on import Rest
from ..cutting.reading import CutList
from ..drawing import Paper, svg
from ..drawing.sheet import sheet_drawing
from ..quantity import UnitChoice, show, show_cut
from ..wholefiles import gather, gathered
from .cart_content import GRAIN
from .content import PAPER
from .cut_rows import cut_cautions, cut_rows
from .figures import PAGE_MM, sheet_layout
from .tables import cut_table
from .writing import typeset

#: Narrower pieces that lie there are not told of.
_LEAST_M = 0.05


def write_cut_list(
    listed: CutList,
    nest: Nest,
    steps: tuple[CutStep, ...],
    folder: Path,
    title: str,
    units: UnitChoice,
    page: str,
    stays: Sequence[str] = (),
    tell: Callable[[str], None] = lambda text: None,
) -> list[Path]:
    """Write PDF, a drawing for each sheet and the cuts as CSV; the paths written.

    ``stays`` is what is there already of a half-done build; ``tell`` is called with what is
    at work.
    """
    paper = Paper(*PAGE_MM[page])
    drawings: dict[str, str] = {}
    nests = []
    of_sheet = _of_sheets(steps)
    for done, sheet in enumerate(nest.sheets):
        tell(f"drawing sheet {done + 1} of {len(nest.sheets)}")
        drawn = sheet_drawing(sheet, of_sheet[sheet.number], kerf_m=listed.saw.kerf_m, units=units)
        name = f"sheet-{sheet.number}.svg"
        placed, turned = sheet_layout(drawn, sheet, units, paper)
        drawings[name] = svg(placed)
        nests.append(
            {
                "title": f"Sheet {sheet.number}{' from here on' if stays else ''}: {sheet.kind.key}",
                "file": name,
                "turned": turned,
                "caption": f"{100 * sheet.used:.0f} % of it becomes panels.",
            }
        )

    def size(length_m: float) -> str:
        return show_cut(length_m, units)

    bands = banding(listed.panels)
    data = {
        "title": title,
        "paper": PAPER[page],
        "made_by": f"kerfwind {__version__}",
        "intro": nest.nearness,
        "cautions": [{"title": c.title, "text": c.text} for c in cautions_for("cutting")],
        "panels": [
            {
                "mark": nest.pencils[p.name],
                "name": p.name,
                "count": str(p.quantity),
                "length": size(p.length_m),
                "width": size(p.width_m),
                "thickness": size(p.thickness_m),
                "grain": GRAIN[p.grain],
            }
            for p in listed.panels
        ],
        "banding": "; ".join(
            f"Edge banding for {b.material}: {show(b.buy_m, 'length', units)} to buy, "
            f"{b.edges} edges"
            for b in bands
        ),
        "assumed": list(listed.assumed),
        "stays": list(stays),
        "nests": nests,
        "cuts": cut_rows(steps, listed.saw, units),
        "cut_cautions": cut_cautions(steps),
    }
    tell(f"setting the pages of {len(nest.sheets)} sheets")
    pages = typeset("cut-list.typ", data, drawings)
    written = [folder / "cuts.pdf", *(folder / name for name in drawings), folder / "cuts.csv"]
    with gathered(folder) as work:
        gather(work / "cuts.pdf", pages)
        for name, text in drawings.items():
            gather(work / name, text)
        gather(work / "cuts.csv", cut_table(steps, units))
    return written


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


def stays_text(rest: Rest, units: UnitChoice) -> list[str]:
    """What is there already of a half-done build, a sentence each."""
    stays = rest.stays

    def size(length_m: float, width_m: float) -> str:
        sides = (show_cut(v, units) for v in (length_m, width_m))
        return " by ".join(sides)

    made = ", ".join(f"{p.pencil} ({p.panel})" for p in stays.made)
    told = [
        f"{rest.done} cut{'' if rest.done == 1 else 's'} made. Panels that are finished: {made or 'none'}."
    ]
    useful = [k for k in stays.lying if min(k.length_m, k.width_m) >= _LEAST_M]
    if useful:
        rows = "; ".join(f"{k.key}, {size(k.length_m, k.width_m)}" for k in useful)
        told.append(f"Pieces lying there: {rows}.")
    if stays.whole:
        names = [(k.limit or 1, k.key.removesuffix(" on hand")) for k in stays.whole]
        rows = "; ".join(f"{n} of {name}" if n > 1 else name for n, name in names)
        told.append(f"Not begun yet: {rows}.")
    for pencil, answers in rest.answers:
        ways = " Or: ".join(a.text for a in answers)
        told.append(f"{pencil} came out short. {ways}")
    return told
