"""Reading, printing and drawing of quantities."""

import math
import tracemalloc

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kerfwind.faults import unread
from kerfwind.quantity import Draw, QuantityError, parse
from tests.say import refused

# Exact by definition: NIST Handbook 44, appendix C (inch, pound, US gallon of 231 cubic
# inches). Inch of water at 4 °C and psi: NIST SP 811, appendix B.8 (from memory).
READINGS = [
    ("2-1/4 in", "length", 0.05715),
    ("2 1/4 in", "length", 0.05715),
    ("2¼ in", "length", 0.05715),
    ("¾ in", "length", 0.01905),
    ('23/32"', "length", 0.0254 * 23 / 32),
    ("5 ft 3-1/2 in", "length", 1.6129),
    ("6' 3-1/2\"", "length", 1.9177),
    ("57.2 mm", "length", 0.0572),
    ("1.2 m", "length", 1.2),
    ("9 US gal", "volume", 9 * 231 * 0.0254**3),
    ("2 UK gal", "volume", 2 * 4.54609e-3),
    ("30 L", "volume", 0.030),
    ("100 cfm", "airflow", 0.0471947443),
    ("50 L/s", "airflow", 0.05),
    ("180 m³/h", "airflow", 0.05),
    ("1 inH2O", "pressure", 249.089),
    ("20 kPa", "pressure", 20_000),
    ("200 mbar", "pressure", 20_000),
    ("1 psi", "pressure", 6894.757),
    ("10 lb", "mass", 4.5359237),
    ("68 °F", "temperature", 293.15),
    ("20 °C", "temperature", 293.15),
    ("50 %", "ratio", 0.5),
    # As it is copied from a page or from paper: hyphens that do not break, signs of no width.
    ("40\u2060-\u20601/2 in", "length", 1.0287),
    ("40\u20111/2 in", "length", 1.0287),
    ("40\u22121/2\u200b in", "length", 1.0287),
    ("40 1\u20442 in", "length", 1.0287),
]


@pytest.mark.parametrize(("text", "dimension", "si"), READINGS)
def test_reads_what_people_write(text, dimension, si):
    assert parse(text, dimension).best_si == pytest.approx(si, rel=1e-6)


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("57.2 mm ± 0.3", 0.0569, 0.0575),
        ("57.2 ± 0.3 mm", 0.0569, 0.0575),
        ("57.2 mm +/- 0.3 mm", 0.0569, 0.0575),
        ("100 mm ± 5 %", 0.095, 0.105),
        ("4 in ± 1/16", 0.1016 - 0.0254 / 16, 0.1016 + 0.0254 / 16),
        ("50..60 mm", 0.050, 0.060),
        ("2 in..60 mm", 0.0508, 0.060),
    ],
)
def test_reads_ranges(text, low, high):
    found = parse(text, "length")
    assert (found.low_si, found.high_si) == pytest.approx((low, high))


@pytest.mark.parametrize(
    ("text", "dimension", "hint"),
    [
        ("12 gal", "volume", "US gal"),
        ("57,2 mm", "length", "decimal point"),
        ("80 psi", "length", "pressure"),
        ("50", "length", "which unit"),
        ("-3 in", "length", "below zero"),
        ("1e400 mm", "length", "too large"),
        ("1/0 in", "length", "number"),
        ("", "length", "number"),
        ("10..5 mm", "length", "Swap"),
        ("..5 mm", "length", "range"),
        ("5 mm ± -1", "length", "tolerance"),
        ("5 mm ± 9", "length", "below zero"),
        ("-300 °C", "temperature", "absolute zero"),
        ("5 ft 13 in", "length", "below 12"),
        ("5.5 ft 3 in", "length", "whole feet"),
        ("5..6 ft 3 in", "length", "both ends"),
        ("80–95 mm", "length", "two dots"),
        ("2-1/4 to 2-1/2 in", "length", "two dots"),
        ("3-5/2 in", "length", "number"),
        ("9,5 kg", "mass", "9.5 kg"),
        ("x" * 500, "length", "…"),
    ],
)
def test_refuses_and_says_how_to_mend(text, dimension, hint):
    with pytest.raises(QuantityError) as caught:
        parse(text, dimension)
    said = refused(unread(caught.value))
    assert any(hint in part for part in (said.found, said.allowed, said.mend))
    assert caught.value.kind in str(caught.value)


@given(st.text(max_size=30))
def test_any_text_is_read_or_refused(text):
    try:
        found = parse(text, "length")
    except QuantityError as error:
        assert refused(unread(error)).mend
    else:
        assert math.isfinite(found.best_si)
        assert 0 <= found.low_si <= found.best_si <= found.high_si


def test_the_draw_has_the_moments_of_what_was_written():
    draw = Draw(4096)
    flat = draw.of(parse("80..95 kPa", "pressure", path="a"))
    normal = draw.of(parse("57.2 mm ± 0.3", "length", path="b"))
    # A flat range has the deviation of its width over √12; ± is two deviations
    # (JCGM 100:2008, 4.3.7 and 6.3.3).
    assert flat.std() == pytest.approx(15e3 / math.sqrt(12), rel=0.005)
    assert normal.std() == pytest.approx(0.15e-3, rel=0.02)
    assert normal.mean() == pytest.approx(57.2e-3, rel=1e-5)


def test_one_quantity_is_drawn_alike_in_every_room_and_apart_from_others():
    draw = Draw(2048)
    a = parse("50..60 mm", "length", path="hoses[big].bore")
    b = parse("50..60 mm", "length", path="hoses[thin].bore")
    assert np.array_equal(draw.of(a), Draw(2048).of(a))
    assert abs(np.corrcoef(draw.of(a), draw.of(b))[0, 1]) < 0.08
    assert not np.array_equal(draw.of(a), Draw(2048, seed=21).of(a))
    assert Draw(1).of(a) == pytest.approx([0.055])


def test_normal_samples_follow_the_normal_distribution():
    # Against scipy's quantile function, a general-purpose reference.
    from scipy.stats import kstest, norm

    z = (Draw(4096).of(parse("100 mm ± 2", "length", path="z")) - 0.1) / 1e-3
    assert np.abs(z).max() < 3.001
    assert kstest(z, norm.cdf).statistic < 0.002


def test_samples_of_what_is_no_longer_asked_for_are_let_go():
    """As where a tool is renamed letter by letter, and each letter gives all its sizes new names."""
    draw = Draw(2048)
    tracemalloc.start()
    try:
        for number in range(4000):
            draw.of(parse("1-1/4 in ± 1/16", "length", path=f"tools[saw {number}].port.inside"))
        held, _ = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert held < 30e6
