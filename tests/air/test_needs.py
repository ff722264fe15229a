"""What hoods need: every hood has its need, and the ranges hold the published figures."""

import pytest

from kerfwind.facts import Term
from kerfwind.shop.catalogue.hoods import HOODS, OPERATIONS
from kerfwind.shop.catalogue.needs import need
from kerfwind.sources import cite, fact
from tests.say import text

CFM, FPM = 0.3048**3 / 60, 0.3048 / 60


@pytest.mark.parametrize("hood", list(HOODS))
@pytest.mark.parametrize("operation", list(OPERATIONS))
def test_every_hood_at_every_operation_has_a_need_with_a_source(hood, operation):
    found = need(hood, operation)
    parts = (found.catch, found.carry, found.entry, found.mass, found.grain, found.density)
    for part in (*parts, found.longest):
        assert 0 < part.span[0] <= part.span[1]
        assert cite(part.key)
    # Longest chips are longer than the usual ones.
    assert found.longest.span[1] > found.grain.span[1]


def test_every_hood_and_operation_has_its_words():
    said = [text(Term("hood", hood)) for hood in HOODS]
    assert len(set(said)) == len(HOODS)
    assert text(Term("hood", "planer hood")) == "a thickness planer's hood"
    assert len({text(Term("operation", each)) for each in OPERATIONS}) == len(OPERATIONS)


@pytest.mark.parametrize(
    ("hood", "cfm"),
    [
        # ACGIH woodworking sheets, from memory: for their own hoods and ducts.
        ("saw cabinet", 350),
        ("band saw port", 350),
        ("disc table", 350),
        ("jointer chute", 350),
        ("planer hood", 500),
        ("belt shroud", 60),
        # Croteau, University of Washington, 2011.
        ("pad holes", 50),
    ],
)
def test_published_airflow_lies_in_the_range(hood, cfm):
    low, high = fact(f"air.need.{hood}").span
    assert low <= cfm * CFM * (1 + 1e-9)
    assert cfm * CFM <= high


@pytest.mark.parametrize(
    ("dust", "low", "high"),
    [("flour", 2500, 3000), ("shavings", 3000, 4000), ("chips", 3500, 4000), ("heavy", 3500, 5000)],
)
def test_transport_velocity_table(dust, low, high):
    """ACGIH's general table, as reprinted in government guidance; heavy: average to heavy dust."""
    assert fact(f"air.carry.{dust}").span == pytest.approx((low * FPM, high * FPM))


def test_unknown_hoods_are_no_need():
    with pytest.raises(KeyError):
        need("bagpipe", "sanding")
    with pytest.raises(KeyError):
        need("pad holes", "knitting")
