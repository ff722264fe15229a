"""What a person reads of a cut list: what is there already, and how it came out."""

from __future__ import annotations

import pytest

from kerfwind.cutting import (
    CutList,
    CuttingError,
    Panel,
    Saw,
    SheetKind,
    cut_order,
    nest,
    open_pieces,
)
from kerfwind.cutting.going_on import Rest, go_on
from kerfwind.facts import Name, state
from kerfwind.plan import _refused as refused_findings
from kerfwind.search.sheet_choice import NoBuild
from kerfwind.view.cuts import (
    bought_table,
    cut_rows,
    cut_table,
    outcome_text,
    part_labels,
    sheet_title,
    sheets_alike,
    stays_text,
)
from kerfwind.words import Voice

LISTED = CutList(
    (
        Panel("side", 0.8, 0.5, 4, grain="along", banded=("near",)),
        Panel("shelf", 0.6, 0.45, 5),
        Panel("back", 1.2, 0.7, 2, grain="along"),
    ),
    (SheetKind("full", 2.44, 1.22, price=60.0),),
    Saw(kerf_m=0.003),
    (state("cutting.assumed.columns", columns=Name("colour")),),
)
MM = Voice(units="mm")


def rest(*rounds: str, short: tuple[str, ...] = ()) -> Rest:
    return go_on(LISTED, "list.csv", rounds, short, budget=0, seed=1)


def test_nothing_cut_yet() -> None:
    assert stays_text(rest(), MM) == [
        "0 cuts made. Panels that are finished: none.",
        "Not begun yet: 2 of full.",
    ]


def test_one_cut_leaves_two_pieces_and_a_sheet() -> None:
    found = rest("1")
    made, lying, whole = stays_text(found, MM)
    assert made == "1 cut made. Panels that are finished: none."
    assert lying.startswith("Pieces lying there: piece 1a of sheet 1, 2,440 mm by ")
    assert "; piece 1b of sheet 1, " in lying
    assert whole == "Not begun yet: full."
    assert found.nest is not None
    titles = [sheet_title(s, MM, going_on=True) for s in found.nest.sheets]
    assert "Sheet 1 from here on: piece 1a of sheet 1" in titles
    assert titles[-1].endswith(": full on hand")


def test_pieces_of_two_rounds_that_would_share_a_name_are_told_apart() -> None:
    found = rest("2", "1")
    names = [MM.text(k.name) for k in (*found.stays.lying, *found.stays.whole)]
    assert len(set(names)) == len(names)
    assert "piece 1b of sheet 1 again" in names


def test_a_panel_that_came_out_short_is_told_with_every_way_on() -> None:
    *_, told = stays_text(rest("sheets 1-2", short=("A1 = 797 mm x 500 mm",)), MM)
    first, *others = told.split(" Or: ")
    assert first == (
        "A1 came out short. A1 is short by 3 mm in length: glue on a strip that thick and plane it "
        "flush, where the edge carries no screws."
    )
    assert others[0].startswith("Cut A1 again: it takes ")
    assert others[1].startswith("Let the design follow: set side to 797 mm by 500 mm")


@pytest.mark.parametrize(
    ("going_on", "counted"), [(False, "2 sheets, "), (True, "2 pieces and sheets, ")]
)
def test_how_a_list_came_out(going_on: bool, counted: str) -> None:
    made = nest(list(LISTED.panels), list(LISTED.sheets), LISTED.saw, budget=0)
    steps = cut_order(made, LISTED.saw)
    assumed, nearness, counts, lying = outcome_text(LISTED, made, steps, MM, going_on=going_on)
    assert assumed == "Assumed: columns not used: colour."
    assert nearness == "2 sheets: fewest possible, proven."
    assert counts.startswith(f"{counted}{len(steps)} settings, ")
    assert counts.endswith(" % waste.")
    assert lying == f"At most {open_pieces(steps)} part-cut pieces lie about at once."


@pytest.mark.parametrize(
    ("count", "more", "says"),
    [
        (1, 1, "1 sheet: at most one sheet from the fewest possible."),
        (7, 3, "7 sheets: at most three sheets from the fewest possible."),
        (40, 12, "40 sheets: at most 12 sheets from the fewest possible."),
    ],
)
def test_how_near_is_told_by_number(count: int, more: int, says: str) -> None:
    sheets, few = (
        state("cutting.sheets.counted", count=count),
        state("cutting.sheets.few", count=more),
    )
    assert MM.text(state("cutting.nearness.not_proven", sheets=sheets, more=few)) == says


def test_every_single_cut_has_a_row() -> None:
    made = nest(list(LISTED.panels), list(LISTED.sheets), LISTED.saw, budget=0)
    steps = cut_order(made, LISTED.saw)
    heading, *rows = cut_table(steps, MM)
    assert heading[:4] == ["step", "cut", "sheet", "kind"]
    assert [row[1] for row in rows] == [c.number for s in steps for c in s.cuts]
    by_name = [dict(zip(heading, row, strict=True)) for row in rows]
    assert {row["piece"] for row in by_name} >= {"sheet 1", "sheet 2"}
    assert {row["kind"] for row in by_name} <= {"trim", "rip", "crosscut"}
    assert all(row["is the size of"] in (row["gives"], row["rest"]) for row in by_name)


def test_why_no_cart_can_be_built_names_the_sheet_and_what_to_do() -> None:
    with pytest.raises(CuttingError) as raised:
        nest([Panel("side", 3.0, 1.0, grain="along")], list(LISTED.sheets), LISTED.saw)
    [why] = raised.value.problems
    [found] = refused_findings(NoBuild((), (("birch", why),)), ())
    said = MM.finding(found)
    assert (found.key, found.level) == ("cutting.cannot_nest", "stop")
    assert said.answer == (
        "No cart can be built. birch: Panel “side”: 3,000 mm by 1,000 mm fits on no sheet with its "
        "grain along the sheet's length; the largest, “full”, leaves 2,440 mm by 1,220 mm. Make it "
        "smaller, join it from two, or add a larger sheet."
    )
    assert said.do == "Add a larger sheet to the shop file."


def test_four_hundred_cuts_at_one_setting_are_told_in_rows() -> None:
    made = nest([Panel("block", 0.1, 0.05, 400)], [SheetKind("full", 2.44, 1.22)], Saw(), budget=0)
    steps = cut_order(made, Saw())
    rows = cut_rows(steps, Saw(), MM)
    assert len(rows) > len(steps)
    said = " ".join(row["what"] for row in rows)
    assert all(f"A{n} from " in said for n in range(1, 401))


def test_what_to_buy_says_kinds_prices_and_offcuts() -> None:
    offcut = SheetKind("left over", 0.9, 0.7, price=0.0, limit=1, offcut=True, trim=False)
    listed = CutList(LISTED.panels, (*LISTED.sheets, offcut), LISTED.saw, priced=True)
    made = nest(list(listed.panels), list(listed.sheets), listed.saw, budget=0)
    used = sum(not s.kind.offcut for s in made.sheets)
    heading, *rows = bought_table(listed, made, MM)
    assert heading == ["what", "size", "number", "each", "together"]
    assert rows[0] == [
        "full",
        "2,440 mm × 1,220 mm × 18 mm",
        str(used),
        "60.00",
        f"{60 * used:.2f}",
    ]
    assert rows[1][0] == "left over: on hand, nothing to buy"
    assert rows[2][:2] == ["edge banding for plywood", "4 edges"]
    assert len(part_labels(listed, made, MM)) == 11
    assert {x["edges"] for x in part_labels(listed, made, MM)} == {"", "band: near"}


def test_sheets_laid_out_alike_are_shown_once() -> None:
    panels = [Panel("half", 2.44, 0.6, 6)]
    made = nest(panels, list(LISTED.sheets), LISTED.saw, budget=0)
    ((sheet, others),) = sheets_alike(made)
    assert sheet_title(sheet, MM, others=others) == "Sheets 1, 2, 3 (× 3): full"
