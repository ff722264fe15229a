"""The generic parts: what is assumed of things of any size could be true of them."""

import math

import pytest

from kerfwind.quantity import parse
from kerfwind.shop.catalogue.generic import Row, bucket_row, cyclone_sizes, vacuum_row
from kerfwind.sources import all_facts
from kerfwind.sources.parts import part_key

GALLON_M3 = 3.785411784e-3


def _size(row, key):
    return parse(row.sizes[key], "mass" if key == "weight" else "length")


@pytest.mark.parametrize("key", ["length", "height", "weight", "inlet_height"])
def test_a_larger_tank_is_never_smaller_and_never_jumps(key):
    rows = [vacuum_row(gallons / 4 * GALLON_M3) for gallons in range(12, 80)]
    for low, high in zip(rows, rows[1:], strict=False):
        for side in ("low_si", "high_si"):
            before, after = (getattr(_size(row, key), side) for row in (low, high))
            assert before <= after <= before * 1.06


@pytest.mark.parametrize("gallons", [4, 6, 9, 12, 14, 16])
def test_a_vacuum_of_the_usual_size_holds_its_tank(gallons):
    row = vacuum_row(gallons * GALLON_M3)
    across, high = (_size(row, key).high_si for key in ("length", "height"))
    assert math.pi / 4 * across**2 * high > gallons * GALLON_M3


@pytest.mark.parametrize(
    ("shape", "gallons"),
    [("tapered", g) for g in (3, 3.5, 5, 6.5, 8, 10)] + [("drum", g) for g in (15, 17, 20, 25, 30)],
)
def test_a_bucket_of_the_usual_size_holds_what_it_is_said_to(shape, gallons):
    row = bucket_row(gallons * GALLON_M3, shape)
    most = math.pi / 4 * _size(row, "top_diameter").high_si ** 2 * _size(row, "height").high_si
    least = math.pi / 4 * _size(row, "bottom_diameter").low_si ** 2 * _size(row, "height").low_si
    assert 0.6 * least < gallons * GALLON_M3 < most


def test_twelve_gallons_lie_between_nine_and_sixteen():
    nine, twelve, sixteen = (vacuum_row(g * GALLON_M3) for g in (9, 12, 16))
    for key in nine.sizes:
        if key == "amps":
            continue
        assert _size(nine, key).best_si < _size(twelve, key).best_si < _size(sixteen, key).best_si


def test_what_is_assumed_of_a_thing_of_a_usual_size_stands_in_the_register_of_sources():
    known = {f.key: f for f in all_facts()}
    for kind, holds, row in (
        ("vacuum", "9 US gal", vacuum_row(9 * GALLON_M3)),
        ("bucket", "5 US gal", bucket_row(5 * GALLON_M3)),
        ("drum", "20 US gal", bucket_row(20 * GALLON_M3, "drum")),
        ("cyclone", "", Row(0.0, cyclone_sizes())),
    ):
        for size in row.sizes:
            entry = known[part_key(kind, holds, size)]
            assert entry.source == "practice"
            dimension = {"weight": "mass", "amps": "current"}.get(size, "length")
            written = parse(row.sizes[size], dimension)
            low, high = (parse(f"{end} {entry.unit}", dimension).best_si for end in entry.span)
            assert (written.low_si, written.high_si) == pytest.approx((low, high))
