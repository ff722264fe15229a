"""A list of cuts as people see it: its rows, what is there already, and how it came out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from ..cutting import CutStep, Grain, Nest, Panel, Progress, Saw, SheetNest, banding, open_pieces
from ..cutting.going_on import Rest
from ..cutting.reading import CutList
from ..cutting.stating import gives_fact, piece_fact, step_statement
from ..facts import Amount, Fact, Listing, Name, Statement, Term, state
from ..words import Voice
from .cautions import Caution

#: Narrower pieces that lie there are not told of [m].
_LEAST_M = 0.05

#: Cuts told in one row of the table of steps.
_ROW_CUTS = 24

#: Columns of the table of single cuts.
_COLUMNS = (
    "step",
    "cut",
    "sheet",
    "kind",
    "guided-by",
    "setting-mm",
    "setting",
    "is-the-size-of",
    "length-mm",
    "piece",
    "gives",
    "rest",
)


def cut_rows(steps: Sequence[CutStep], saw: Saw, voice: Voice) -> list[dict[str, Any]]:
    """The order of cuts as rows of the table, with cautions in full or as `cut_cautions` say."""
    short = _often(steps)
    steps = [part for step in steps for part in _in_rows(step)]
    return [
        {
            "number": _run([c.number for c in step.cuts]),
            "sheet": _listed((str(c.sheet) for c in step.cuts), voice),
            "what": voice.text(step_statement(step, saw)),
            "setting": voice.text(_to_cut(step.setting_m)),
            "gives": _listed((voice.text(gives_fact(c)) for c in step.cuts), voice),
            "cautions": [
                voice.say(c.kind, c.facts, "brief") if c in short else voice.text(c)
                for c in step.cautions
            ],
        }
        for step in steps
    ]


def _in_rows(step: CutStep) -> list[CutStep]:
    """A step with many cuts as several rows: nobody finds one among a hundred."""
    return [
        replace(step, cuts=step.cuts[at : at + _ROW_CUTS])
        for at in range(0, len(step.cuts), _ROW_CUTS)
    ]


def cut_cautions(steps: Sequence[CutStep], voice: Voice) -> list[Caution]:
    """What is told in full above the table of cuts, since rows say it in few words."""
    return [Caution(voice.say(c.kind, c.facts, "title"), voice.text(c)) for c in _often(steps)]


def cut_words(voice: Voice) -> dict[str, Any]:
    """Headings of the table of cuts, and what stands above the cautions told in short."""
    columns = ("cut", "sheet", "what", "set-to", "gives")
    return {
        "columns": [voice.word(f"cuts.step-column.{name}") for name in columns],
        "short": voice.word("cuts.in_short"),
    }


def page_words(voice: Voice) -> dict[str, Any]:
    """Headings of a list's pages and of its table of panels."""
    columns = ("mark", "panel", "number", "length", "width", "thick", "grain")
    heads = ("panels", "assumed", "stays", "sheets", "cuts")
    return {
        **{name: voice.word(f"cuts.head.{name}") for name in heads},
        "panel_columns": [voice.word(f"cuts.panel-column.{name}") for name in columns],
    }


def _often(steps: Sequence[CutStep]) -> list[Statement]:
    """Cautions that several rows of the table bear, in the order they come up."""
    counts = Counter(caution for step in steps for caution in step.cautions)
    return [caution for caution, count in counts.items() if count > 1]


def _listed(texts: Iterable[str], voice: Voice) -> str:
    """Each text once, in the order they come up."""
    return voice.text(Listing(tuple(map(Name, dict.fromkeys(texts))), "commas"))


def _run(values: Sequence[int]) -> str:
    """Whole numbers in short: ``4``, ``5–7`` where they follow each other, else ``5, 9``."""
    if len(values) > 2 and list(values) == list(range(values[0], values[-1] + 1)):
        return f"{values[0]}–{values[-1]}"
    return ", ".join(map(str, values))


def _to_cut(length_m: float) -> Amount:
    return Amount(length_m, "length", "cut")


def cut_table(
    steps: Sequence[CutStep], voice: Voice, nest: Nest | None = None
) -> list[list[object]]:
    """Every single cut of an order of cuts, below a row of headings.

    A sheet of ``nest`` that is a panel as it comes has a row too.

    A setting measures the piece or the rest: the column beside it says which.
    """
    rows: list[list[object]] = [[voice.word(f"cuts.column.{name}") for name in _COLUMNS]]
    for step in steps:
        for cut in step.cuts:
            trimmed_off = cut.kind == "trim" and step.how in ("line", "store")
            measured = cut.rest if trimmed_off else cut.gives
            rows.append(
                [
                    step.number,
                    cut.number,
                    cut.sheet,
                    voice.text(Term("cut-kind", cut.kind)),
                    voice.text(Term("cut-how", step.how)),
                    _mm(step.setting_m),
                    voice.text(_to_cut(step.setting_m)),
                    voice.text(piece_fact(measured)) if measured else "",
                    _mm(cut.length_m),
                    voice.text(piece_fact(cut.piece)),
                    voice.text(piece_fact(cut.gives)),
                    voice.text(piece_fact(cut.rest)) if cut.rest else "",
                ]
            )
    sawn = {c.sheet for step in steps for c in step.cuts}
    for sheet in nest.sheets if nest else ():
        if sheet.number not in sawn and sheet.pieces:
            whole = voice.word("cuts.as_it_comes")
            pencil = sheet.pieces[0].pencil
            rows.append(["", "", sheet.number, whole, "", "", "", "", "", "", pencil, ""])
    return rows


def _mm(value_m: float) -> str:
    return f"{value_m * 1000:.4f}".rstrip("0").rstrip(".")


def grain_text(grain: Grain, voice: Voice) -> str:
    """How the sheet's grain runs in a panel."""
    return voice.text(Term("grain", grain))


def panel_rows(panels: Sequence[Panel], nest: Nest, voice: Voice) -> list[dict[str, str]]:
    """The panels of a list with the letters to pencil on them."""
    return [
        {
            "mark": nest.pencils[p.name],
            "name": p.name,
            "count": str(p.quantity),
            "length": voice.text(_to_cut(p.length_m)),
            "width": voice.text(_to_cut(p.width_m)),
            "thickness": voice.text(_to_cut(p.thickness_m)),
            "grain": grain_text(p.grain, voice),
        }
        for p in panels
    ]


def sheet_title(
    sheet: SheetNest, voice: Voice, *, going_on: bool = False, others: Sequence[int] = ()
) -> str:
    """A sheet's number and what it is; of a half-done build, that it is counted anew.

    ``others`` are the numbers of sheets that are laid out like it.
    """
    if others:
        numbers = Listing(tuple(Name(str(n)) for n in (sheet.number, *others)), "commas")
        return voice.word(
            "cuts.alike", numbers=numbers, count=1 + len(others), sheet=sheet.kind.title
        )
    return voice.word(
        "cuts.sheet", number=sheet.number, sheet=sheet.kind.title, anew="yes" if going_on else "no"
    )


def sheets_alike(nest: Nest) -> list[tuple[SheetNest, tuple[int, ...]]]:
    """Each layout's first sheet, and the numbers of the others that are laid out like it."""
    found: dict[object, list[SheetNest]] = {}
    for sheet in nest.sheets:
        laid = tuple(
            sorted((p.panel, round(p.x_m, 6), round(p.y_m, 6), p.turned) for p in sheet.pieces)
        )
        found.setdefault((sheet.kind.key, laid), []).append(sheet)
    return [(alike[0], tuple(s.number for s in alike[1:])) for alike in found.values()]


@dataclass(frozen=True)
class Bought:
    """A row of what to buy: what, how many or how much of it, price for one and for all."""

    what: str
    size: str
    count: str
    each: float | None
    total: float | None


def bought_rows(listed: CutList, nest: Nest, voice: Voice) -> list[Bought]:
    """Sheets to buy by kind, offcuts used, and edge banding."""
    found: list[Bought] = []
    counts = Counter(s.kind for s in nest.sheets)
    for kind, count in sorted(counts.items(), key=lambda pair: pair[0].offcut):
        sides = (kind.length_m, kind.width_m, kind.thickness_m)
        length, width, thickness = map(_to_cut, sides)
        size = voice.word("cuts.size", length=length, width=width, thickness=thickness)
        here = kind.offcut or kind.on_hand
        priced = listed.priced and not here
        found.append(
            Bought(
                voice.word("cuts.buy.on_hand" if here else "cuts.buy.sheet", sheet=kind.title),
                size,
                voice.count(count),
                kind.price if priced else None,
                kind.price * count if priced else None,
            )
        )
    for band in banding(listed.panels):
        what = voice.word("cuts.buy.banding", material=Name(band.material))
        needed = voice.text(Amount(band.buy_m, "length", "tall"))
        found.append(
            Bought(what, voice.word("cuts.buy.edges", count=band.edges), needed, None, None)
        )
    return found


def bought_content(listed: CutList, nest: Nest, voice: Voice) -> dict[str, Any]:
    """What to buy, as the first page of a cut list shows it."""
    rows = bought_rows(listed, nest, voice)
    heads = ["what", "size", "count", *(("each", "total") if listed.priced else ())]
    return {
        "title": voice.word("cuts.head.buy"),
        "columns": [voice.word(f"cuts.buy-column.{name}") for name in heads],
        "rows": [
            [
                row.what,
                row.size,
                row.count,
                *(
                    ("" if v is None else voice.money(v) for v in (row.each, row.total))
                    if listed.priced
                    else ()
                ),
            ]
            for row in rows
        ],
        "total": voice.word("cuts.buy.total", price=Amount(nest.cost, "money"))
        if listed.priced
        else "",
    }


def bought_table(listed: CutList, nest: Nest, voice: Voice) -> list[list[object]]:
    """What to buy below a row of headings, numbers as numbers."""
    heads = ("what", "size", "count", "each", "total")
    table: list[list[object]] = [[voice.word(f"cuts.buy-column.{name}") for name in heads]]
    for row in bought_rows(listed, nest, voice):
        money = ["" if v is None else f"{v:.2f}" for v in (row.each, row.total)]
        table.append([row.what, row.size, row.count.replace(",", ""), *money])
    return table


def part_labels(listed: CutList, nest: Nest, voice: Voice) -> list[dict[str, str]]:
    """A label to stick on each panel, in the order in which sheets are cut."""
    own = {p.name: p for p in listed.panels}
    made: list[dict[str, str]] = []
    for sheet in nest.sheets:
        for piece in sheet.pieces:
            panel = own[piece.panel]
            size = (_to_cut(v) for v in (panel.length_m, panel.width_m, panel.thickness_m))
            length, width, thick = size
            edges = Listing(tuple(Term("edge", e) for e in piece.banded), "commas")
            made.append(
                {
                    "mark": piece.pencil,
                    "name": piece.panel,
                    "size": voice.word(
                        "cuts.label.size", length=length, width=width, thickness=thick
                    ),
                    "where": voice.word(
                        "cuts.label.where", sheet=sheet.number, material=Name(panel.material)
                    ),
                    "edges": voice.word("cuts.label.edges", edges=edges) if piece.banded else "",
                    "finished": _finished(panel, voice),
                }
            )
    return made


def _finished(panel: Panel, voice: Voice) -> str:
    """The size of a panel with its banding on, where that was allowed for."""
    if not panel.band_m:
        return ""
    length, width = map(_to_cut, panel.finished_m)
    return voice.word("cuts.label.finished", length=length, width=width)


def banding_text(panels: Sequence[Panel], voice: Voice) -> str:
    """That sizes are those to cut, where banding was allowed for; empty where none was."""
    found = dict.fromkeys(p.band_m for p in panels if p.band_m)
    if not found:
        return ""
    return voice.word("cuts.banding_allowed", thickness=Listing(tuple(map(_to_cut, found)), "or"))


def sheet_caption(sheet: SheetNest, voice: Voice, *, key: bool = False) -> str:
    """How much of a sheet becomes panels, and on demand what its drawing's signs mean."""
    share = Amount(sheet.used, "share")
    return voice.word("cuts.used_and_key" if key else "cuts.used", share=share)


def stays_text(rest: Rest, voice: Voice) -> list[str]:
    """What is there already of a half-done build, a sentence each."""
    stays = rest.stays
    made = tuple(
        state("cuts.panel", pencil=Name(p.pencil), panel=Name(p.panel)) for p in stays.made
    )
    finished = len(made)
    told = [voice.word("cuts.made", cuts=rest.done, count=finished, panels=Listing(made, "commas"))]
    useful = [k for k in stays.lying if min(k.length_m, k.width_m) >= _LEAST_M]
    if useful:
        pieces = tuple(
            state(
                "cuts.lying_piece",
                piece=k.name,
                length=_to_cut(k.length_m),
                width=_to_cut(k.width_m),
            )
            for k in useful
        )
        told.append(voice.word("cuts.lying", pieces=Listing(pieces, "semicolons")))
    if stays.whole:
        sheets: tuple[Fact, ...] = tuple(
            state("cuts.several", count=k.limit, sheet=k.name)
            if k.limit and k.limit > 1
            else k.name
            for k in stays.whole
        )
        told.append(voice.word("cuts.not_begun", sheets=Listing(sheets, "semicolons")))
    for pencil, answers in rest.answers:
        first, *others = (voice.text(a.said) for a in answers)
        ways = [first, *(voice.word("cuts.or", way=Name(way)) for way in others)]
        told.append(
            voice.word(
                "cuts.short", panel=Name(pencil), ways=Listing(tuple(map(Name, ways)), "sentences")
            )
        )
    return told


def progress_text(now: Progress, voice: Voice) -> str:
    """How far a search is."""
    share = Amount(now.evaluations / max(1, now.budget), "share")
    return voice.word("cuts.progress", sheets=now.sheets, share=share)


def outcome_text(
    listed: CutList, nest: Nest, steps: Sequence[CutStep], voice: Voice, *, going_on: bool
) -> list[str]:
    """What was taken as usual and how the nest came out, a sentence each."""
    told = [voice.word("cuts.assumed", what=taken) for taken in listed.assumed]
    told.append(voice.text(nest.nearness))
    if nest.stopped:
        told.append(voice.word("cuts.stopped"))
    pieces = "cuts.counts.pieces" if going_on else "cuts.counts.sheets"
    if listed.priced or any(s.kind.offcut for s in nest.sheets):
        told += [
            voice.word("cuts.bought", what=Name(row.what), count=Name(row.count))
            for row in bought_rows(listed, nest, voice)
        ]
    told.append(
        voice.word(
            "cuts.counts",
            sheets=state(pieces, count=len(nest.sheets)),
            settings=state("cuts.counts.settings", count=len(steps)),
            waste=Amount(nest.waste_share, "share"),
        )
    )
    told.append(voice.word("cuts.open", count=open_pieces(steps)))
    return told
