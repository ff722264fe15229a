"""Tables as CSV: UTF-8, commas, one heading row, SI in the headings."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Mapping, Sequence

from ..cutting import CutList, CutStep, Nest
from ..facts import Amount, Ref
from ..joinery import CutPanel
from ..joinery.drilled import drilled_m3
from ..plan import Plan
from ..sources import fact
from ..view.cuts import bought_table, cut_table
from ..view.findings import voice_of
from ..view.shopping import shopping_table
from ..words import Voice

#: What a spreadsheet takes for the beginning of a formula, in wide letters, too.
_FORMULA = tuple("=+-@\t\r＝＋－＠")
_NUMBER = re.compile(r"[+-]?\d+(\.\d+)?")

#: Columns of the panel list that a plan writes; sizes stand there twice, in mm and in words.
_PANELS = (
    "mark",
    "panel",
    "number",
    "length-mm",
    "width-mm",
    "thickness-mm",
    "length",
    "width",
    "thickness",
    "grain",
)
_SOLIDS = ("mark", "panel", "number", "volume", "holes", "from", "to")
_AIR = (
    "tool",
    "hose",
    "airflow",
    "low",
    "high",
    "wanted-low",
    "wanted-high",
    "chips-carried",
    "chips-likelihood",
    "dust-caught",
    "dust-likelihood",
)


def _heading(kind: str, columns: Sequence[str], voice: Voice) -> list[str]:
    return [voice.word(f"{kind}.{name}") for name in columns]


def _csv(heading: Sequence[object], rows: Iterable[Sequence[object]]) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(heading)
    writer.writerows([[_cell(value) for value in row] for row in rows])
    return out.getvalue()


def _cell(value: object) -> object:
    """A cell that no spreadsheet runs: a text that would be a formula gets a space before it.

    A quote mark before it, as is often done, would stay in the text wherever else it is read;
    a space is taken off by most readers, `kerfwind cut` among them. Numbers stay numbers.
    """
    if isinstance(value, str) and value[:1] in _FORMULA and not _NUMBER.fullmatch(value):
        return f" {value}"
    return value


def _mm(value_m: float) -> str:
    return f"{value_m * 1000:.4f}".rstrip("0").rstrip(".")


def panels_csv(plan: Plan) -> str:
    """The panel list; sizes in millimetres and as the person reads them."""
    voice = voice_of(plan)
    rows = []
    for p in plan.panels:
        sizes = (p.length_m, p.width_m, p.thickness_m)
        rows.append(
            [
                p.key,
                voice.text(p.called),
                p.quantity,
                *(_mm(v) for v in sizes),
                *(voice.text(Amount(v, "length", "cut")) for v in sizes),
                p.grain,
            ]
        )
    return _csv(_heading("cuts.panels-csv", _PANELS, voice), rows)


def solids_csv(panels: Sequence[CutPanel], voice: Voice) -> str:
    """What each panel's solid encloses and weighs, screw holes and pockets taken out."""
    low, high = fact("cart.plywood.density").span
    rows = []
    for p in panels:
        gone = drilled_m3(p)
        volume = p.plate.volume_m3 - gone
        rows.append(
            [
                p.key,
                voice.text(p.called),
                p.quantity,
                f"{volume * 1e6:.1f}",
                f"{gone * 1e6:.2f}",
                f"{volume * low:.2f}",
                f"{volume * high:.2f}",
            ]
        )
    return _csv(_heading("view.solids-column", _SOLIDS, voice), rows)


def cuts_csv(plan: Plan) -> str:
    """Every single cut in order."""
    return single_cuts_csv(plan.cuts, voice_of(plan))


def single_cuts_csv(steps: Sequence[CutStep], voice: Voice, nest: Nest | None = None) -> str:
    """Every single cut of an order of cuts; of a ``nest`` what needs no cut, too."""
    heading, *rows = cut_table(steps, voice, nest)
    return _csv(heading, rows)


def marked_csv(rows: Sequence[Mapping[str, str]], voice: Voice) -> str:
    """The panels of a list with the letters to pencil on them."""
    columns = ("mark", "panel", "number", "length", "width", "thick", "grain")
    keys = ("mark", "name", "count", "length", "width", "thickness", "grain")
    heading = _heading("cuts.panel-column", columns, voice)
    return _csv(heading, ([row[key] for key in keys] for row in rows))


def bought_csv(listed: CutList, nest: Nest, voice: Voice) -> str:
    """What a cut list takes to buy."""
    heading, *rows = bought_table(listed, nest, voice)
    return _csv(heading, rows)


def shopping_csv(plan: Plan) -> str:
    """The shopping list with its prices."""
    heading, *rows = shopping_table(plan.shopping, voice_of(plan))
    return _csv(heading, rows)


def air_csv(plan: Plan) -> str:
    """Airflow and verdicts by tool, in SI."""
    voice = voice_of(plan)
    by_hose = [(a.tool, plan.hookups.chain(a.tool).hose, a.chips, a.caught) for a in plan.air]
    fixed = plan.branches.air.tools if plan.branches else ()
    by_branch = [
        (b.tool, voice.word("air.branch", branch=Ref("branch", b.branch)), b.chips, b.caught)
        for b in fixed
    ]
    rows = []
    for tool, way, chips, caught in (*by_hose, *by_branch):
        limit, value = caught.finding.limit, caught.finding.value
        rows.append(
            [tool, way]
            + [f"{x * 1000:.2f}" for x in ((value.best, value.low, value.high) if value else ())]
            + [f"{x * 1000:.2f}" for x in ((limit.low, limit.high) if limit else ())]
            + [voice.text(chips.named), f"{chips.likelihood:.3f}"]
            + [voice.text(caught.named), f"{caught.likelihood:.3f}"]
        )
    return _csv(_heading("view.air-column", _AIR, voice), rows)
