"""Numbers as a person reads them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kerfwind.facts import Amount, Band
from kerfwind.quantity import parse
from kerfwind.words import Voice
from kerfwind.words.numbers import show, show_fraction_in, show_range, show_written


@given(st.integers(0, 200), st.integers(1, 63))
def test_fractions_survive_printing_and_reading(whole, part):
    length = (whole + part / 64) * 0.0254
    assert parse(show_fraction_in(length, 64), "length").best_si == pytest.approx(length)


def test_prints_in_the_units_asked_for():
    assert show(0.05715, "length") == "2-1/4 in"
    assert show(0.05715, "length", "both") == "2-1/4 in (57 mm)"
    assert show(0.018, "length", "mm") == "18 mm"
    assert show(0.0178, "length", "mm") == "17.8 mm"
    assert show(0.0471947, "airflow") == "100 cfm"
    assert show(-1e-9, "length", "mm") == "0 mm"


def test_a_range_names_its_unit_once():
    assert show_range(0.0004, 0.0008, "volume", "in", " to ") == "0.1 to 0.2 US gal"
    assert show_range(0.1, 0.2, "length", "in", " to ") == "3-15/16 to 7-7/8 in"
    assert show_range(0.03, 0.04, "airflow", "mm", " to ") == "108 to 144 m³/h"


@pytest.mark.parametrize(
    ("text", "dimension", "inch", "mm"),
    [
        ("17..21 in", "length", "17 to 21 in", "432 to 533 mm"),
        ("6..8 ft", "length", "72 to 96 in", "1,830 to 2,440 mm"),
        ("0..2000 ft", "length", "0 to 2,000 ft", "0 to 610 m"),
        ("23/32 in ± 1/64", "length", "23/32 in ± 1/64 in", "18.3 mm ± 0.4 mm"),
        ("48 in", "length", "48 in", "1,219 mm"),
        ("1.7..2.4 mm", "length", "1/16 to 3/32 in", "1.7 to 2.4 mm"),
        ("8..14 US gal", "volume", "8 to 14 US gal", "30.3 to 53 L"),
        ("20 kPa", "pressure", "80.3 inH2O", "20 kPa"),
        ("45..90 °F", "temperature", "45 to 90 °F", "7 to 32 °C"),
        ("8..12 A", "current", "8 to 12 A", "8 to 12 A"),
    ],
)
def test_what_was_written_is_told_in_other_units(text, dimension, inch, mm):
    quantity = parse(text, dimension)
    assert (show_written(quantity, "in", " to "), show_written(quantity, "mm", " to ")) == (
        inch,
        mm,
    )


def test_a_small_length_is_not_told_as_none():
    told = [show(mm / 1000, "length", "in") for mm in (0.0, 0.1, 0.4, 0.79, 0.8, 3.0)]
    assert told == ["0 in", "0.004 in", "1/64 in", "1/32 in", "1/16 in", "1/8 in"]


def test_on_a_drawing_the_unit_stands_once_below() -> None:
    assert Voice().drawn(0.6) == "23-5/8"
    assert Voice(units="mm").drawn(0.0125) == "12.5"
    assert Voice(units="both").drawn(0.6) == "23-5/8 (600)"
    assert Voice(units="both").bare(2500.0, "pressure") == "10.0"
    assert Voice(units="mm").bare(2500.0, "pressure") == "2.50"


def test_counts_group_their_thousands() -> None:
    assert Voice().count(12345.6) == "12,346"
    assert Voice().count(0.25, 2) == "0.25"


def test_a_range_is_put_together_as_the_language_does() -> None:
    assert Voice().text(Band(1.5, 1.0, 2.0, "mass")) == "2.2 to 4.4 lb"
    assert Voice().length(0.05715 / 2) == "1-1/8 in"


@pytest.mark.parametrize(
    ("units", "told"), [("in", "1.0 oz"), ("mm", "28 g"), ("both", "1.0 oz (28 g)")]
)
def test_what_weighs_next_to_nothing_is_told_in_small_units(units, told):
    ounce_kg = 0.028349523125  # An avoirdupois ounce, exactly (NIST SP 811, B.8).
    assert Voice(units=units).text(Amount(ounce_kg, "mass", "fine")) == told
