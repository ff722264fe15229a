"""A cut list of any build as pages, drawings and tables."""

from __future__ import annotations

from pathlib import Path

from .. import __version__
from ..cautions import cautions_for
from ..cutting import CutStep, Nest, banding
from ..cutting.reading import CutList
from ..drawing import Paper, layout, svg
from ..drawing.sheet import sheet_drawing
from ..quantity import UnitChoice, show
from ..shop.writing import write_text
from .content import GRAIN, PAPER, cut_rows
from .figures import PAGE_MM
from .tables import cut_table
from .writing import typeset, write_bytes


def write_cut_list(
    listed: CutList, nest: Nest, steps: tuple[CutStep, ...], folder: Path, title: str,
    units: UnitChoice, page: str,
) -> list[Path]:  # fmt: skip
    """Write PDF, a drawing for each sheet and the cuts as CSV; the paths written."""
    folder.mkdir(parents=True, exist_ok=True)
    width, height = PAGE_MM[page]
    drawings: dict[str, str] = {}
    nests = []
    for sheet in nest.sheets:
        drawn = sheet_drawing(sheet, steps, kerf_m=listed.saw.kerf_m, units=units)
        name = f"sheet-{sheet.number}.svg"
        drawings[name] = svg(layout(drawn, Paper(width, height * 0.5), units))
        nests.append(
            {
                "title": f"Sheet {sheet.number}: {sheet.kind.key}",
                "file": name,
                "caption": f"{100 * sheet.used:.0f} % of it becomes panels.",
            }
        )

    def size(length_m: float) -> str:
        return show(length_m, "length", units, denominator=32)

    bands = banding(listed.panels)
    data = {
        "title": title,
        "paper": PAPER[page],
        "made_by": f"kerfwind {__version__}",
        "intro": nest.nearness,
        "cautions": [{"title": c.title, "text": c.text} for c in cautions_for("cutting")],
        "panels": [
            {
                "mark": nest.pencils[p.name], "name": p.name, "count": str(p.quantity),
                "length": size(p.length_m), "width": size(p.width_m),
                "thickness": size(p.thickness_m), "grain": GRAIN[p.grain],
            }
            for p in listed.panels
        ],
        "banding": "; ".join(
            f"Edge banding for {b.material}: {show(b.buy_m, 'length', units)} to buy, "
            f"{b.edges} edges" for b in bands
        ),
        "assumed": list(listed.assumed),
        "nests": nests,
        "cuts": cut_rows(steps, listed.saw, units),
    }  # fmt: skip
    pages = typeset("cut-list.typ", data, drawings)
    written = [folder / "cuts.pdf", *(folder / name for name in drawings), folder / "cuts.csv"]
    write_bytes(written[0], pages)
    for name, text in drawings.items():
        write_text(folder / name, text)
    write_text(folder / "cuts.csv", cut_table(steps, units))
    return written
