"""The revised NIOSH lifting equation against its worked cases."""

import pytest

from kerfwind.lifting import recommended_lift_kg


@pytest.mark.parametrize(
    ("reach", "height", "travel", "grip", "kg"),
    [
        # Recomputed from the equation as published (CCOHS; Occupational Ergonomics, ch. 46).
        (30, 75, 25, 1.0, 19.2),
        (38, 90, 80, 0.95, 12.0),
        (40, 30, 60, 0.95, 10.6),
    ],
)
def test_worked_cases(reach, height, travel, grip, kg):
    lift = recommended_lift_kg(reach / 100, height / 100, travel / 100, grip=grip)
    assert lift == pytest.approx(kg, abs=0.06)


def test_multipliers_are_those_of_the_tables():
    # H 40: 0.63 (0.625), V 0 and 150: 0.78 (0.775), D 40: 0.93, 100: 0.87 (0.865).
    best = recommended_lift_kg(0.25, 0.75, 0.25)
    assert best == pytest.approx(23.0)
    assert recommended_lift_kg(0.40, 0.75, 0.25) / best == pytest.approx(0.625)
    assert recommended_lift_kg(0.25, 0.0, 0.25) / best == pytest.approx(0.775)
    assert recommended_lift_kg(0.25, 1.5, 0.25) / best == pytest.approx(0.775)
    assert recommended_lift_kg(0.25, 0.75, 0.40) / best == pytest.approx(0.9325)
    assert recommended_lift_kg(0.25, 0.75, 1.0) / best == pytest.approx(0.865)


def test_beyond_its_bounds_nothing_is_to_be_lifted():
    assert recommended_lift_kg(0.64, 0.75, 0.25) == 0
    assert recommended_lift_kg(0.3, 1.8, 0.25) == 0
