"""Measuring aids against plain geometry."""

from __future__ import annotations

import math

import numpy as np
import pytest

from kerfwind.hookup.measuring import (
    LONGEST_PIECE_M,
    measure_sheet,
    read_wrapped,
    ruler,
    step_card,
    strip,
)
from kerfwind.view.measure_sheet import measure_page, number_on
from kerfwind.words import Voice


@pytest.mark.parametrize(("unit", "step"), [("mm", 0.0005), ("in", 0.0254 / 64)])
def test_marks_stand_pi_times_the_step_apart(unit: str, step: float) -> None:
    made = strip("all", unit, 1 if unit == "in" else 20, 3 if unit == "in" else 60)  # type: ignore[arg-type]
    at = np.array([m.at_m for m in made.marks])
    assert made.step_m == pytest.approx(step)
    assert np.diff(at) == pytest.approx(math.pi * step, rel=1e-9)
    assert made.marks[0].size_m == pytest.approx(0.0254 if unit == "in" else 0.020)


def test_a_strip_reads_the_diameter_of_what_it_is_wrapped_round() -> None:
    made = strip("all", "mm", 20, 110)
    for diameter in (0.0345, 0.0572, 0.1016):
        read = read_wrapped(made, math.pi * diameter)
        assert abs(read - diameter) <= made.step_m / 2 + 1e-12


def test_pieces_fit_the_page_overlap_and_cover_the_strip() -> None:
    for made in measure_sheet().strips:
        assert made.pieces[0].start_m == 0.0
        assert made.pieces[-1].stop_m == pytest.approx(made.length_m)
        for piece in made.pieces:
            assert piece.stop_m - piece.start_m <= LONGEST_PIECE_M + 1e-12
        for a, b in zip(made.pieces, made.pieces[1:], strict=False):
            assert a.stop_m - b.start_m == pytest.approx(0.012)


def test_every_number_says_its_own_size() -> None:
    for made in (strip("all", "mm", 20, 60), ruler("mm", 100)):
        numbered = [m for m in made.marks if m.numbered]
        assert len(numbered) > 5
        for mark in numbered:
            assert float(number_on(mark.size_m, "mm", Voice())) == pytest.approx(mark.size_m * 1e3)
    marks = [m for m in strip("all", "in", 1, 4).marks if m.numbered]
    inches = {number_on(m.size_m, "in", Voice()): m.size_m for m in marks}
    assert inches["2-1/4 in"] == pytest.approx(0.05715)
    assert inches["1-7/8 in"] == pytest.approx(0.047625)


def test_a_step_card_widens_by_even_steps_and_is_symmetric() -> None:
    card = step_card("all", "in", 1, 3, 16, 0.004)
    widths = np.array([w for w, _ in card.steps])
    assert np.diff(widths) == pytest.approx(0.0254 / 16)
    assert number_on(widths[20], "in", Voice()) == "2-1/4 in"
    assert widths[20] == pytest.approx(0.05715)
    corners = np.array(card.outline)
    assert sorted(corners[:, 0]) == pytest.approx(sorted(-corners[:, 0]))
    assert corners[:, 1].max() == pytest.approx(0.004 * len(card.steps))
    # Shoelace area against the sum of the steps.
    x, y = corners[:, 0], corners[:, 1]
    area = abs(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) / 2
    assert area == pytest.approx(float(widths.sum()) * 0.004)


def test_the_ruler_is_true() -> None:
    made = ruler("in", 6)
    assert made.length_m == pytest.approx(0.1524)
    assert len(made.marks) == 97
    assert made.marks[16].numbered
    assert not made.marks[8].numbered
    assert made.marks[16].at_m == pytest.approx(0.0254)


def test_the_page_titles_each_aid_and_numbers_its_scale() -> None:
    page = measure_page(Voice())
    assert [r["title"] for r in page["rulers"]] == ["Must measure 150 mm", "Must measure 6 in"]
    inches = [m["label"] for m in page["rulers"][1]["marks"] if m["label"]]
    assert inches == ["0", "1", "2", "3", "4", "5", "6"]
    assert page["strips"][0]["title"].startswith("Strip for outside diameter, small ends, in half")
    second = next(s for s in page["strips"] if not s["first"])
    assert second["tape"].startswith("Tape its first 12 mm over the end")
    assert ", piece 2 of " in second["title"]
    [large] = [c["title"] for c in page["cards"] if c["large"]]
    assert large.startswith("Step card, inside diameter, large ends, mm: cut along")
    assert page["cards"][2]["steps"][20]["label"] == "2-1/4 in"
    assert "steel rule" in page["how"][0]
