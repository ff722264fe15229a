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


@pytest.mark.parametrize(("unit", "step"), [("mm", 0.0005), ("in", 0.0254 / 64)])
def test_marks_stand_pi_times_the_step_apart(unit: str, step: float) -> None:
    made = strip("s", unit, 1 if unit == "in" else 20, 3 if unit == "in" else 60)  # type: ignore[arg-type]
    at = np.array([m.at_m for m in made.marks])
    assert made.step_m == pytest.approx(step)
    assert np.diff(at) == pytest.approx(math.pi * step, rel=1e-9)
    assert made.marks[0].size_m == pytest.approx(0.0254 if unit == "in" else 0.020)


def test_a_strip_reads_the_diameter_of_what_it_is_wrapped_round() -> None:
    made = strip("s", "mm", 20, 110)
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


def test_every_label_says_its_own_size() -> None:
    for made in (strip("s", "mm", 20, 60), ruler("r", "mm", 100)):
        for mark in made.marks:
            if mark.label:
                assert float(mark.label) == pytest.approx(mark.size_m * 1e3)
    inches = {m.label: m.size_m for m in strip("s", "in", 1, 4).marks if m.label}
    assert inches["2-1/4 in"] == pytest.approx(0.05715)
    assert inches["1-7/8 in"] == pytest.approx(0.047625)


def test_a_step_card_widens_by_even_steps_and_is_symmetric() -> None:
    card = step_card("c", "in", 1, 3, 16, 0.004)
    widths = np.array([w for w, _ in card.steps])
    assert np.diff(widths) == pytest.approx(0.0254 / 16)
    assert card.labels[20] == "2-1/4 in"
    assert widths[20] == pytest.approx(0.05715)
    corners = np.array(card.outline)
    assert sorted(corners[:, 0]) == pytest.approx(sorted(-corners[:, 0]))
    assert corners[:, 1].max() == pytest.approx(0.004 * len(card.steps))
    # Shoelace area against the sum of the steps.
    x, y = corners[:, 0], corners[:, 1]
    area = abs(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) / 2
    assert area == pytest.approx(float(widths.sum()) * 0.004)


def test_the_ruler_is_true() -> None:
    made = ruler("r", "in", 6)
    assert made.length_m == pytest.approx(0.1524)
    assert len(made.marks) == 97
    assert made.marks[16].label == "1"
    assert made.marks[16].at_m == pytest.approx(0.0254)
