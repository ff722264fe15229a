"""The order of cuts: groups, limits of the saw, the store, cautions."""

from __future__ import annotations

import pytest
from bench.sawn import saw_up
from hypothesis import example, given, settings
from hypothesis import strategies as st
from tests.say import refused, text

from kerfwind.cutting import (
    CutStep,
    CuttingError,
    Grain,
    Panel,
    Piece,
    Saw,
    SawCut,
    SheetKind,
    check_nest,
    cut_order,
    nest,
    open_pieces,
    replay,
)
from kerfwind.cutting.order import CutKind, How, Order
from kerfwind.cutting.stating import gives_fact, step_statement
from kerfwind.facts import Amount, state
from kerfwind.words import Voice

FULL = SheetKind("full", 2.44, 1.22, price=60.0)
PANELS = [
    Panel("side", 0.76, 0.5, 2, grain="along"),
    Panel("shelf", 0.55, 0.48, 3, grain="across"),
    Panel("rail", 0.55, 0.1, 4),
]
#: Blocks of 3-7/8 by 2-7/8 in, sizes that lie between two hundredths of a millimetre.
BLOCKS = [
    Panel("block", 0.098425, 0.073025, 9),
    Panel("side", 0.8874125, 0.29845, 2, grain="along"),
]


def steps_of(panels: list[Panel], saw: Saw, sheets: list[SheetKind] | None = None) -> list[CutStep]:
    made = nest(panels, sheets or [FULL], saw, budget=0)
    steps = cut_order(made, saw)
    assert check_nest(made, panels, sheets or [FULL], saw, steps) == []
    return steps


def test_rips_run_along_the_grain() -> None:
    for step in steps_of(PANELS, Saw()):
        for cut in step.cuts:
            assert (cut.kind == "rip") == (cut.axis == "y")


@pytest.mark.parametrize("panels", [PANELS, BLOCKS], ids=["round sizes", "sixteenths"])
def test_a_setting_is_not_set_twice_in_a_row(panels: list[Panel]) -> None:
    saw = Saw(kerf_m=0.003175, trim_m=0.003175)
    steps = steps_of(panels, saw, [SheetKind("full", 2.4384, 1.2192)])
    keys = [(s.kind, s.how, round(s.setting_m, 4)) for s in steps]
    assert all(a != b for a, b in zip(keys, keys[1:], strict=False))
    assert [c.number for s in steps for c in s.cuts] == list(
        range(1, sum(len(s.cuts) for s in steps) + 1)
    )


@pytest.mark.parametrize("limit", [0.3, 0.6, 1.2])
def test_the_fence_stays_within_its_reach(limit: float) -> None:
    saw = Saw(fence_limit_m=limit)
    for step in steps_of(PANELS, saw):
        if step.how == "fence":
            assert step.setting_m <= limit + 1e-9
            # A piece wider than its edge along the fence could twist and bind.
            assert all(c.length_m >= step.setting_m * 0.99 for c in step.cuts)
        if step.how == "sled":
            assert all(c.length_m <= 0.6 + 1e-9 for c in step.cuts)
        if step.how == "line":
            assert step.cautions


@pytest.mark.parametrize("kind", ["track", "circular"])
def test_a_saw_without_a_fence_follows_lines(kind: str) -> None:
    saw = Saw(kind=kind, guide_offset_m=0.1)  # type: ignore[arg-type]
    steps = steps_of(PANELS, saw)
    assert {s.how for s in steps} == {"line"}
    said = step_statement(steps[0], saw)
    assert said.kind == "cutting.step.guided"
    guide = Amount(steps[0].setting_m - 0.1, "length", "cut")
    assert dict(said.facts)["guide"] == guide
    assert f"straightedge {text(guide)} from it" in text(said)


def test_small_pieces_get_a_caution_and_another_way() -> None:
    strip = SheetKind("strip", 1.0, 0.045, price=0.0, limit=1, offcut=True, trim=False)
    steps = steps_of([Panel("lath", 0.9, 0.02, 2, grain="along")], Saw(), [strip])
    narrow = state("cutting.caution.narrow")
    assert any(narrow in s.cautions for s in steps)
    assert "by hand or with a track saw" in text(narrow)
    left = SheetKind("left over", 0.2, 0.1, price=0.0, limit=1, offcut=True, trim=False)
    steps = steps_of([Panel("block", 0.08, 0.08, 2)], Saw(), [left])
    assert any(state("cutting.caution.short") in s.cautions for s in steps)


def test_a_short_edge_is_not_run_along_the_fence() -> None:
    # Blocks from a strip: the cuts across it run along the sheet's grain, and are rips by name.
    steps = steps_of([Panel("block", 0.098, 0.073, 6, grain="along")], Saw())
    assert all(c.length_m >= 0.25 for s in steps if s.how == "fence" for c in s.cuts)
    assert any(s.how == "sled" and s.kind == "rip" for s in steps)


def test_the_store_cuts_until_it_can_be_carried() -> None:
    saw = Saw(carry_m=(1.3, 0.8), trim_m=0.005)
    made = nest(PANELS, [FULL], saw, budget=0)
    steps = cut_order(made, saw)
    assert check_nest(made, PANELS, [FULL], saw, steps) == []
    store = [s for s in steps if s.how == "store"]
    assert store
    assert steps[: len(store)] == store
    lying, _ = replay(made, store, saw)
    for sheet in made.sheets:
        for x0, y0, x1, y1 in lying[sheet.number]:
            if any(x0 <= p.x_m <= x1 and y0 <= p.y_m <= y1 for p in sheet.pieces):
                assert max(x1 - x0, y1 - y0) <= 1.3 + 1e-6
                assert min(x1 - x0, y1 - y0) <= 0.8 + 1e-6


def test_one_cut_in_the_store_where_one_is_enough() -> None:
    saw = Saw(carry_m=(2.0, 1.3))
    made = nest(PANELS, [FULL], saw, budget=100)
    store = [c for s in cut_order(made, saw) if s.how == "store" for c in s.cuts]
    assert len(store) == 1
    assert "takes 1 cut in the store, the fewest possible." in text(made.nearness)


@pytest.mark.parametrize("budget", [60, 400])
def test_the_nest_says_where_more_cuts_in_the_store_than_needed_could_be(budget: int) -> None:
    saw = Saw(carry_m=(1.25, 1.0))
    made = nest(PANELS, [FULL], saw, budget=budget)
    store = [c for s in cut_order(made, saw) if s.how == "store" for c in s.cuts]
    assert len(store) > len(made.sheets)
    *_, in_store = made.nearness.items
    assert in_store == state("cutting.store.perhaps_more", sheets=len(made.sheets), cuts=len(store))
    assert f"takes {len(store)} cuts in the store: fewer sheets come first" in text(in_store)
    assert len(nest(PANELS, [FULL], Saw(), budget=0).nearness.items) == 1


def test_what_cannot_be_carried_is_refused() -> None:
    with pytest.raises(CuttingError) as raised:
        nest([Panel("long", 1.5, 0.3)], [FULL], Saw(carry_m=(1.3, 0.8)))
    [why] = raised.value.problems
    assert why.kind == "cutting.panel.not_carried"
    assert Voice(units="mm").refusal(why).allowed.endswith("1,300 mm by 800 mm")


def test_an_offcut_is_used_before_a_sheet_is_bought() -> None:
    offcut = SheetKind("left over", 0.8, 0.6, price=0.0, limit=1, offcut=True, trim=False)
    made = nest([Panel("side", 0.76, 0.5)], [FULL, offcut], Saw(), budget=0)
    assert [s.kind.key for s in made.sheets] == ["left over"]
    assert made.cost == 0
    assert made.proven


def test_materials_and_thicknesses_stay_apart() -> None:
    thin = SheetKind("thin", 2.44, 1.22, thickness_m=0.012)
    panels = [Panel("a", 0.5, 0.5), Panel("b", 0.5, 0.5, thickness_m=0.012)]
    made = nest(panels, [FULL, thin], Saw(), budget=0)
    assert sorted(s.kind.key for s in made.sheets) == ["full", "thin"]
    with pytest.raises(CuttingError) as raised:
        nest([Panel("c", 0.5, 0.5, thickness_m=0.015)], [FULL, thin], Saw())
    [why] = raised.value.problems
    assert "No sheet of plywood 15 mm" in Voice(units="mm").say(why.kind, why.facts)
    assert "No sheet of plywood 19/32 in" in Voice(units="in").say(why.kind, why.facts)


def test_a_limited_number_of_sheets() -> None:
    one = SheetKind("one", 2.44, 1.22, limit=1)
    with pytest.raises(CuttingError) as raised:
        nest([Panel("whole", 2.44, 1.22, 2)], [one], Saw())
    assert [why.kind for why in raised.value.problems] == ["cutting.stock.too_few_sheets"]
    assert refused(raised.value.problems[0]).mend == "Raise the limits or add sheets."
    dear = SheetKind("dear", 2.44, 1.22, price=9.0)
    made = nest([Panel("whole", 2.44, 1.22, 2)], [one, dear], Saw())
    assert made.cost == 10.0
    assert made.proven


sizes = st.integers(50, 1100).map(lambda mm: mm / 1000)


@given(
    panels=st.lists(
        st.tuples(sizes, sizes, st.integers(1, 3), st.sampled_from(["along", "free"])),
        min_size=1,
        max_size=7,
    ),
    kerf=st.sampled_from([0.0, 0.003]),
    carry=st.sampled_from([None, (1.25, 1.15)]),
)
@settings(max_examples=30, deadline=None)
def test_several_kinds_of_sheet(
    panels: list[tuple[float, float, int, str]], kerf: float, carry: tuple[float, float] | None
) -> None:
    rows = [
        Panel(f"p{i}", *row[:3], grain=row[3])  # type: ignore[arg-type]
        for i, row in enumerate(panels)
    ]
    kinds = [
        FULL,
        SheetKind("half", 1.22, 1.22, price=35.0),
        SheetKind("left over", 0.9, 0.7, price=0.0, limit=2, offcut=True, trim=False),
    ]
    saw = Saw(kerf_m=kerf, carry_m=carry, trim_m=0.004)
    made = nest(rows, kinds, saw, budget=0)
    assert check_nest(made, rows, kinds, saw, cut_order(made, saw)) == []
    assert made.bound_cost <= made.cost + 1e-9


@pytest.mark.parametrize("kind", ["track", "circular"])
def test_small_pieces_are_minded_with_a_hand_guided_saw_too(kind: str) -> None:
    saw = Saw(kind=kind, smallest_width_m=0.075)  # type: ignore[arg-type]
    steps = steps_of([Panel("block", 0.1, 0.06, 2), Panel("side", 0.8, 0.4)], saw)
    for step in steps:
        minded = state("cutting.caution.small") in step.cautions
        small = any(c.gives.name in ("A1", "A2") for c in step.cuts)
        assert minded or not small, step
        if step.kind == "trim":
            assert not minded
    assert any(not s.cautions for s in steps if s.kind != "trim")


CAUTIONS = (
    "narrow",
    "narrow_falls",
    "short",
    "short_falls",
    "small",
    "large",
    "track",
    "left_over",
)


@pytest.mark.parametrize("caution", CAUTIONS)
def test_every_caution_has_few_words_that_stand_by_themselves(caution: str) -> None:
    voice, kind = Voice(), f"cutting.caution.{caution}"
    full = voice.say(kind)
    title, brief = (voice.say(kind, attribute=each) for each in ("title", "brief"))
    start, _, what = brief.partition(":")
    assert start == title
    assert what.strip().endswith(".")
    assert len(brief) < 60 <= len(full)


@pytest.mark.parametrize(
    ("kind", "how", "says"),
    [
        ("rip", "fence", "Rip, fence at 19-11/16 in: A1 from sheet 1, 1b from 1a."),
        ("crosscut", "fence", "Crosscut, fence at 19-11/16 in: A1 from sheet 1, 1b from 1a."),
        ("trim", "fence", "Trim, fence at 19-11/16 in: sheet 1, 1a."),
        ("rip", "sled", "On the sled, stop at 19-11/16 in: A1 from sheet 1, 1b from 1a."),
        (
            "rip",
            "stop",
            "Narrow rip, stop on the open side of the blade 19-11/16 in from it: bring the board "
            "to the stop, the fence to the board, then cut: A1 from sheet 1, 1b from 1a.",
        ),
        (
            "rip",
            "store",
            "Rip, in the store, 19-11/16 in from the edge: A1 from sheet 1, 1b from 1a.",
        ),
        ("rip", "line", "Rip, line 19-11/16 in from the edge: A1 from sheet 1, 1b from 1a."),
    ],
)
def test_a_step_says_what_is_set_and_which_pieces_are_cut(
    kind: CutKind, how: How, says: str
) -> None:
    def cut(piece: Piece, gives: Piece, rest: Piece) -> SawCut:
        ends = (0.0, 0.5, 1.0, 0.5)
        return SawCut(1, 1, kind, "y", ends, 1, piece, gives, rest, 1.0, 0.5, 0.1, "sawn edge")

    part = Piece("part", 1, "1a")
    waste = cut(Piece("sheet", 1), Piece("panel", 1, "A1"), Piece("waste", 1))
    named = cut(part, Piece("part", 1, "1b"), Piece("panel", 1, "A2"))
    step = CutStep(1, kind, how, 0.5, (waste, named))
    assert text(step_statement(step, Saw())) == says
    assert text(gives_fact(waste)) == "A1"
    assert text(gives_fact(named)) == ("1b" if kind == "trim" else "1b (rest A2)")


@pytest.mark.parametrize(("strip", "panel", "short"), [(1.2, 0.5, False), (0.22, 0.1, True)])
def test_on_a_sled_a_long_narrow_strip_is_not_too_short_to_hold(
    strip: float, panel: float, short: bool
) -> None:
    """It lies along the sled's fence; how wide it is says nothing of how it is held."""
    steps = steps_of([Panel("cleat", panel, 0.075, 2)], Saw(), [SheetKind("strip", strip, 0.075)])
    assert {s.how for s in steps} == {"sled"}
    assert any(state("cutting.caution.short") in s.cautions for s in steps) == short


@pytest.mark.parametrize("fence", [0.3, 0.6])
@given(
    sizes=st.lists(
        st.tuples(st.integers(4, 50), st.integers(4, 30), st.integers(1, 4)), min_size=2, max_size=7
    )
)
@example(sizes=[(48, 47, 2), (43, 25, 2), (52, 45, 4), (58, 28, 4), (47, 12, 3)])
@settings(max_examples=40, deadline=None)
def test_panels_come_off_in_their_size_when_cut_as_told(
    fence: float, sizes: list[tuple[int, int, int]]
) -> None:
    # The sizes are few and coarse, so that a panel is often as wide as another's rest.
    saw = Saw(kerf_m=0.003, trim_m=0.0, fence_limit_m=fence)
    panels = [Panel(f"p{i}", a / 100, b / 100, n) for i, (a, b, n) in enumerate(sizes)]
    sheet = SheetKind("full", 1.212, 1.212)
    made = nest(panels, [sheet], saw, budget=0)
    sawn = saw_up(made, cut_order(made, saw), saw)
    assert sawn.wrong == []
    assert sawn.shaves == 0


@st.composite
def cabinets(draw: st.DrawFn) -> list[Panel]:
    """A list whose panels can be cut with a kerf between them, in any order."""
    rows = draw(
        st.lists(
            st.tuples(st.integers(60, 1100), st.integers(40, 700), st.integers(1, 6)),
            min_size=1,
            max_size=8,
        )
    )
    grain: st.SearchStrategy[Grain] = st.sampled_from(["along", "across", "free"])
    return [
        Panel(f"p{i}", a / 1000, b / 1000, n, grain=draw(grain)) for i, (a, b, n) in enumerate(rows)
    ]


@given(
    panels=cabinets(),
    trim=st.sampled_from([0.0, 0.006]),
    kind=st.sampled_from(["table", "track"]),
    order=st.sampled_from(["sheets", "settings"]),
)
@settings(max_examples=60, deadline=None)
def test_a_person_who_follows_the_settings_gets_every_panel_in_its_size(
    panels: list[Panel], trim: float, kind: str, order: Order
) -> None:
    saw = Saw(kerf_m=0.0032, trim_m=trim, kind=kind)  # type: ignore[arg-type]
    made = nest(panels, [FULL], saw, budget=0)
    steps = cut_order(made, saw, order)
    assert check_nest(made, panels, [FULL], saw, steps) == []
    sawn = saw_up(made, steps, saw)
    assert sawn.wrong == []
    assert sawn.left_over == 0
    assert sawn.shaves == 0
    assert open_pieces(steps) == sawn.most_open
    # Every cut that takes less than its kerf is in a step that says so.
    told = [s for s in steps if any(c.kind == "cutting.caution.grazing" for c in s.cautions)]
    assert sawn.thin <= sum(len(s.cuts) for s in told)


def test_less_than_a_kerf_comes_off_only_where_as_many_sheets_do_not_go_without() -> None:
    sizes = [(985, 498, 6), (988, 60, 3), (587, 458, 4), (982, 70, 4), (983, 170, 2)]
    grain: list[Grain] = ["free", "free", "across", "along", "across"]
    panels = [
        Panel(f"p{i}", a / 1000, b / 1000, n, grain=g)
        for i, ((a, b, n), g) in enumerate(zip(sizes, grain, strict=True))
    ]
    saw = Saw(kerf_m=0.0032)
    hasty, careful = (nest(panels, [FULL], saw, budget=budget) for budget in (0, 1_000))
    assert hasty.sheets_bought == careful.sheets_bought == 2
    sawn = [saw_up(made, cut_order(made, saw), saw) for made in (hasty, careful)]
    assert sawn[0].thin > 0
    assert sawn[1].thin == 0
    assert sawn[1].wrong == []


def test_a_sheet_at_a_time_or_a_setting_at_a_time() -> None:
    panels = [Panel(f"p{i}", 0.3 + i / 20, 0.2 + i / 30, 6) for i in range(8)]
    saw = Saw(kerf_m=0.0032, trim_m=0.006)
    made = nest(panels, [FULL], saw, budget=0)
    assert len(made.sheets) > 2
    one, all_ = cut_order(made, saw, "sheets"), cut_order(made, saw, "settings")
    sheets = [c.sheet for s in one for c in s.cuts]
    assert sheets == sorted(sheets)
    assert len(all_) < len(one)
    assert open_pieces(one) <= open_pieces(all_)


def test_a_sheet_in_two_with_nothing_to_spare_is_said_to_leave_a_panel_over() -> None:
    half = Panel("half", 2.44, (1.22 - 0.0032) / 2, 2)
    saw = Saw(kerf_m=0.0032)
    made = nest([half], [FULL], saw)
    steps = cut_order(made, saw)
    assert made.sheets_bought == 1
    assert saw_up(made, steps, saw).left_over == 1
    assert [s.cautions[-1].kind for s in steps] == ["cutting.caution.left_over"]


def test_only_edges_that_panels_refer_to_are_trimmed() -> None:
    saw = Saw(kerf_m=0.003, trim_m=0.006)
    trims = [c for s in steps_of(PANELS, saw) for c in s.cuts if c.kind == "trim"]
    sheets = {c.sheet for c in trims}
    assert len(trims) == 2 * len(sheets)
    assert {c.line_m[:2] for c in trims} == {(0.0, 0.006), (0.006, 0.006)}


def test_a_narrow_strip_is_set_by_a_stop_and_falls_free() -> None:
    saw = Saw(fence_limit_m=1.3)
    steps = steps_of([Panel("cleat", 1.5, 0.03, 4, grain="along")], saw)
    stops = [s for s in steps if s.how == "stop"]
    assert stops
    for step in stops:
        assert step.setting_m == pytest.approx(0.03)
        assert all(c.side == "far" and c.rest_m >= 0.05 for c in step.cuts)


@pytest.mark.parametrize("length", [0.9, 0.4])
def test_no_hand_passes_between_blade_and_fence_beside_a_wide_piece(length: float) -> None:
    laths = [Panel("lath", length, 0.02, 12, grain="along")]
    steps = steps_of(laths, Saw(), [SheetKind("piece", length + 0.1, 1.2)])
    thin = [s for s in steps if s.setting_m == pytest.approx(0.02)]
    assert {s.how for s in thin} <= {"stop", "sled", "line"}
    assert ("sled" if length < 0.6 else "line") in {s.how for s in thin}


def test_what_the_stop_does_not_reach_is_cut_to_a_mark_on_the_sled() -> None:
    sheet = SheetKind("board", 2.4, 0.25)
    for limit, kind in ((0.6, "cutting.caution.marked"), (0.2, "cutting.caution.large")):
        saw = Saw(crosscut_limit_m=limit)
        steps = steps_of([Panel("beam", 2.0, 0.25, grain="along")], saw, [sheet])
        assert [c.kind for s in steps if s.kind == "crosscut" for c in s.cautions] == [kind]


def test_a_long_piece_is_not_held_to_the_stop_of_a_short_sled() -> None:
    panels = [Panel("long", 1.4, 0.3, 3, grain="along")]
    for limit in (0.9, 1.5):
        steps = steps_of(panels, Saw(stop_limit_m=limit, crosscut_limit_m=1.3))
        assert any(s.how == "sled" for s in steps) == (limit > 1.4)


def test_a_cut_longer_than_the_track_is_told() -> None:
    saw = Saw(kind="track", track_m=1.4)
    for step in steps_of(PANELS, saw):
        longer = any(c.length_m > 1.4 for c in step.cuts)
        assert (state("cutting.caution.track") in step.cautions) == longer


def test_a_piece_wider_than_the_edge_along_the_fence_goes_on_the_sled() -> None:
    sheet = SheetKind("piece", 0.5064, 0.5826)
    panel = Panel("shelf", 0.568, 0.506)
    for limit, way in ((0.6, "sled"), (0.5, "line")):
        saw = Saw(crosscut_limit_m=limit)
        steps = cut_order(nest([panel], [sheet], saw), saw)
        assert [s.how for s in steps if s.setting_m == pytest.approx(0.568)] == [way]


def test_the_saw_says_which_order_its_owner_likes() -> None:
    panels = [Panel(f"p{i}", 0.3 + i / 20, 0.2 + i / 30, 6) for i in range(8)]
    saw = Saw(kerf_m=0.0032, order="settings")
    made = nest(panels, [FULL], saw, budget=0)
    assert cut_order(made, saw) == cut_order(made, saw, "settings")
    assert cut_order(made, saw) != cut_order(made, saw, "sheets")


def test_a_sheet_that_can_just_be_carried_is_cut_to_size_at_once() -> None:
    """No rough cut is made at home, as the store would make it, and cut again."""
    saw = Saw(kerf_m=0.0022, trim_m=0.005, kind="track", carry_m=(2.5, 1.25))
    sheet = SheetKind("full", 2.5, 1.25)
    panels = [Panel("side", 2.1, 0.3, 4, grain="along"), Panel("top", 0.8, 0.3, 2)]
    made = nest(panels, [sheet], saw, budget=0)
    steps = cut_order(made, saw)
    assert {s.how for s in steps} == {"line"}
    sizes = (2.1, 0.8, 0.3)
    for step in steps:
        if step.kind != "trim":
            assert any(step.setting_m == pytest.approx(size) for size in sizes)
