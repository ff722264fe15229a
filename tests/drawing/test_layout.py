"""Text never meets text, outlines or the paper's edge, however crowded the drawing."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kerfwind.drawing import (
    Balloon,
    Circle,
    Dimension,
    Drawing,
    GrainArrow,
    Label,
    Ordinates,
    Paper,
    Polygon,
    RoundDimension,
    layout,
    layout_together,
    overlaps,
    rectangle,
)
from kerfwind.drawing.canvas import Canvas
from kerfwind.drawing.layout import length_text
from kerfwind.drawing.model import Item
from kerfwind.drawing.ordinates import spread
from kerfwind.drawing.overlap import boxes_meet_boxes, boxes_meet_segments, segments_cross
from kerfwind.drawing.placed import Placed, Words
from kerfwind.words import Voice

A_PAGE = Paper(180, 230)


def side_panel() -> Drawing:
    return Drawing(
        "Side panel",
        (
            Polygon(((0, 0), (0.6, 0), (0.6, 0.8), (0.5, 0.9), (0, 0.9)), grey=0.97),
            Circle((0.2, 0.6), 0.13),
            RoundDimension((0.2, 0.6), 0.13, note="through"),
            Dimension((0, 0), (0.6, 0)),
            Dimension((0, 0), (0, 0.9), "y", "left"),
            Dimension((0, 0), (0.2, 0.6), "y", "left"),
            Dimension((0, 0), (0.2, 0.6)),
            Dimension((0.6, 0.8), (0.5, 0.9), "aligned"),
            Label((0.35, 0.3), "Side panel", room=(0.3, 0.2)),
            GrainArrow((0.35, 0.2), math.pi / 2, (0.4, 0.4)),
            Balloon((0.5, 0.5), "4"),
        ),
    )


def test_a_panel_takes_the_largest_plain_scale_that_fits() -> None:
    placed = layout(side_panel(), A_PAGE, Voice())
    assert placed.scale == "1:6"
    assert placed.width <= A_PAGE.width
    assert placed.height <= A_PAGE.height
    assert overlaps(placed) == []
    tighter = layout(side_panel(), Paper(100, 140), Voice())
    assert float(tighter.scale.removeprefix("1:")) > 6


def test_the_stated_scale_is_the_drawn_one() -> None:
    placed = layout(side_panel(), A_PAGE, Voice(units="mm"))
    ratio = float(placed.scale.removeprefix("1:"))
    assert placed.mm_per_unit == pytest.approx(1000 / ratio)
    assert any(w.text.startswith(f"Scale {placed.scale}") for w in placed.words)


def test_dimension_texts_are_the_measured_lengths() -> None:
    texts = {w.text for w in layout(side_panel(), A_PAGE, Voice(units="mm")).words}
    assert {"600", "900", "200", "141", "Ø 260 through"} <= texts
    assert "23-5/8" in {w.text for w in layout(side_panel(), A_PAGE, Voice()).words}


def test_two_units_at_once() -> None:
    assert length_text(Voice(units="both"))(0.6) == "23-5/8 (600)"
    assert length_text(Voice(units="mm"))(0.0125) == "12.5"


def test_views_share_scale_and_origin() -> None:
    wide = Drawing("Front", (rectangle(-0.3, 0, 0.6, 0.9), Dimension((-0.3, 0), (0.3, 0))))
    top = Drawing("Top", (rectangle(-0.2, 0, 0.4, 0.3), Dimension((-0.2, 0), (0.2, 0))))
    placed = layout_together([[top, None], [wide, side_panel()]], A_PAGE, Voice(units="mm"))
    assert overlaps(placed) == []
    assert placed.height <= A_PAGE.height


coordinate = st.integers(0, 40).map(lambda n: n * 0.025)


@st.composite
def crowded(draw: st.DrawFn) -> Drawing:
    items: list[Item] = [rectangle(0, 0, 1.0, 1.0)]
    for n in range(draw(st.integers(1, 7))):
        x, y = draw(coordinate), draw(coordinate)
        w, h = draw(st.floats(0.02, 0.5)), draw(st.floats(0.02, 0.5))
        x, y, w, h = min(x, 0.98), min(y, 0.98), min(w, 1 - min(x, 0.98)), min(h, 0.02 + (1 - y))
        items.append(rectangle(x, y, w, h, "edge"))
        items.append(Label((x + w / 2, y + h / 2), f"Panel number {n}", room=(w, h)))
        items.append(Dimension((x, y), (x + w, y), "x", draw(st.sampled_from(["below", "above"]))))
        items.append(Dimension((x, y), (x, y + h), "y", draw(st.sampled_from(["left", "right"]))))
        if draw(st.booleans()):
            items.append(Dimension((x, y), (x + w, y + h), "aligned", "left"))
        if draw(st.booleans()):
            items.append(RoundDimension((x, y), 0.01))
        if draw(st.booleans()):
            items.append(Balloon((x, y), str(n), upon=((x, y), (x + w, y))))
        if draw(st.booleans()):
            items.append(Balloon((x + w, y), str(n)))
        if draw(st.booleans()):
            items.append(Label((x, y), "a spot worth a word", "leader"))
    return Drawing("Crowded", tuple(items))


@settings(max_examples=25, deadline=None)
@given(crowded(), st.sampled_from(["in", "mm", "both"]))
def test_no_text_ever_meets_text_or_leaves_the_paper(drawing: Drawing, units: str) -> None:
    placed = layout(drawing, A_PAGE, Voice(units=units))  # type: ignore[arg-type]
    assert [o for o in overlaps(placed) if o[0] != "line"] == []
    # Dimension texts keep clear of every line, not only of other text.
    sizes = {text for _, _, text in placed.measures}
    level = [
        o
        for o in overlaps(placed)
        if o[0] == "line" and o[1] in sizes and o[2] in ("outline", "edge")
    ]
    aligned = {t for d, _, t in placed.measures if d.along == "aligned"}
    assert [o for o in level if o[1] not in aligned] == []


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(coordinate, coordinate), min_size=1, max_size=25, unique=True))
def test_any_number_of_dimensions_on_one_side(spans: list[tuple[float, float]]) -> None:
    items: list[Item] = [rectangle(0, 0, 1.0, 0.4)]
    items += [Dimension((a, 0.1), (b, 0.1)) for a, b in spans if a != b]
    placed = layout(Drawing("Rules", tuple(items)), Paper(180, 400), Voice())
    assert overlaps(placed) == []


def _word(x: float, y: float, text: str = "word", turn: float = 0.0) -> Words:
    return Words((x, y), text, 3, "Regular", "middle", 0, (x, y, 5, 1.5, turn))


def test_overlaps_are_really_found() -> None:
    words = (_word(10, 10), _word(14, 11), _word(40, 10), _word(49, 10), _word(99, 50))
    placed = Placed("t", 100, 100, words, 1, 1, (0, 0), "")
    assert [o[0] for o in overlaps(placed)] == ["text", "text", "edge"]
    canvas = Canvas()
    canvas.lead((0.0, 10.0), (100.0, 10.0))
    crossed = Placed("t", 100, 100, (_word(10, 10), *canvas.items), 1, 1, (0, 0), "")
    assert overlaps(crossed) == [("line", "word", "measure")]


box = st.tuples(
    st.floats(-5, 5), st.floats(-5, 5), st.floats(0.2, 4), st.floats(0.2, 4), st.floats(-3, 3)
)


@settings(max_examples=100, deadline=None)
@given(box, box)
def test_separating_axes_agree_with_sampled_points(
    a: tuple[float, ...], b: tuple[float, ...]
) -> None:
    t = np.linspace(-0.999, 0.999, 41)
    u, v = (x.ravel() for x in np.meshgrid(t * a[2], t * a[3]))
    x = a[0] + u * np.cos(a[4]) - v * np.sin(a[4]) - b[0]
    y = a[1] + u * np.sin(a[4]) + v * np.cos(a[4]) - b[1]
    inside = (np.abs(x * np.cos(b[4]) + y * np.sin(b[4])) < b[2]) & (
        np.abs(y * np.cos(b[4]) - x * np.sin(b[4])) < b[3]
    )
    rows = np.array([a]), np.array([b])
    if inside.any():
        assert boxes_meet_boxes(*rows)[0, 0]
        assert boxes_meet_boxes(rows[1], rows[0])[0, 0]
    # The diagonal that leaves the first box ends in the second only if they meet.
    ends = np.array([[a[0], a[1], b[0], b[1]]])
    assert boxes_meet_segments(rows[1], ends)[0, 0]


def test_segments_cross_properly() -> None:
    a = np.array([[0.0, 0, 2, 2]])
    b = np.array([[0.0, 2, 2, 0], [0, 0, 1, 0], [3, 0, 3, 3]])
    assert segments_cross(a, b).tolist() == [[True, False, False]]


def test_when_no_scale_has_room_everything_is_made_smaller_and_said() -> None:
    items: list[Item] = [rectangle(0, 0, 1.0, 0.4)]
    items += [
        Label((0.025 * n, 0.2), f"a rather long word for spot {n}", "leader") for n in range(40)
    ]
    placed = layout(Drawing("Too many words", tuple(items)), Paper(60, 40), Voice(units="mm"))
    assert placed.width <= 60 + 1e-9
    assert placed.height <= 40 + 1e-9
    assert placed.scale == ""
    assert any("Not to scale" in w.text for w in placed.words)
    assert not any(w.text.startswith("Scale") for w in placed.words)


def test_several_views_have_captions() -> None:
    views = [Drawing(name, (rectangle(0, 0, 0.2, 0.1),)) for name in ("Front", "Right side")]
    words = [w.text for w in layout_together([[views[0], views[1]]], A_PAGE, Voice()).words]
    assert "Front" in words
    assert "Right side" in words
    assert "Front" not in [w.text for w in layout(views[0], A_PAGE, Voice()).words]


@settings(max_examples=30, deadline=None)
@given(
    st.lists(st.tuples(coordinate, coordinate), min_size=1, max_size=14, unique=True),
    st.lists(st.tuples(coordinate, coordinate), max_size=5, unique=True),
    st.floats(0.15, 1.0),
)
def test_rows_of_distances_beside_dimensions_on_the_other_sides(
    points: list[tuple[float, float]], spans: list[tuple[float, float]], height: float
) -> None:
    spots = tuple((x, y * height) for x, y in points)
    items: list[Item] = [rectangle(0, 0, 1.0, height)]
    items += [Ordinates(spots, 0.0, "x", "below"), Ordinates(spots, 0.0, "y", "left")]
    for a, b in spans:
        if a != b:
            items.append(Dimension((a, 0), (b, height), "x", "above"))
            items.append(Dimension((0, a * height), (1, b * height), "y", "right"))
    placed = layout(Drawing("Holes", tuple(items)), Paper(180, 200), Voice())
    assert [o for o in overlaps(placed) if o[0] != "line"] == []
    texts = {w.text for w in placed.words}
    assert {length_text(Voice())(x) for x, _ in spots} <= texts


@given(st.lists(st.floats(0, 60), min_size=1, max_size=15).map(sorted))
def test_spread_keeps_order_and_distance_and_moves_little(wanted: list[float]) -> None:
    places = spread(wanted, 3.0)
    assert all(b - a >= 3.0 - 1e-9 for a, b in zip(places, places[1:], strict=False))
    if all(b - a >= 3.0 for a, b in zip(wanted, wanted[1:], strict=False)):
        assert places == pytest.approx(wanted)
    # As many are pushed up as down: the mean stays.
    assert sum(places) == pytest.approx(sum(wanted), abs=1e-6)


def test_no_label_is_left_out_of_a_drawing_that_was_shrunk() -> None:
    """A crowded drawing on a low paper: every try too large to label is passed over."""
    texts = [f"a label of some length that stands by its spot, number {k}" for k in range(6)]
    spots = [Label((0.2 + 0.01 * k, 0.2), text, "leader") for k, text in enumerate(texts)]
    for height in (40, 55, 70, 85, 100):
        drawn = Drawing(
            "crowded",
            (
                rectangle(0, 0, 0.5, 0.48),
                *spots,
                Dimension((0, 0.48), (0.5, 0.48), "x", "above"),
                Dimension((0.5, 0), (0.5, 0.48), "y", "right"),
            ),
        )
        words = {
            i.text for i in layout(drawn, Paper(180, height), Voice()).items if isinstance(i, Words)
        }
        assert set(texts) <= words, height


def test_a_chart_that_is_wider_than_the_paper_keeps_its_words() -> None:
    """What is drawn in millimetres of paper has no smaller scale to be tried."""
    drawn = Drawing(
        "chart", (rectangle(0, 0, 200, 80), Label((20, 90), "an axis")), unit_m=1e-3, scaled="paper"
    )
    placed = layout(drawn, Paper(190, 240), Voice())
    assert "an axis" in {i.text for i in placed.items if isinstance(i, Words)}
    assert overlaps(placed) == []
