"""Weighing the bucket and the sweepings narrows what is not known, and bends nothing."""

import numpy as np
import pytest

from kerfwind.breathing import breathing
from kerfwind.quantity import Draw
from tests.breathing.shops import DAY, hoods_of, shop_of
from tests.say import answer

DRAW = Draw(2048)


def result_of(session=""):
    shop = shop_of(DAY, session)
    found = breathing(shop, hoods_of(shop, DRAW), DRAW)
    dust = next(f for f in found.findings if f.key == "breathing.dust")
    return found.results[0], dust


def spread(samples):
    return float(np.std(np.log(samples)))


def test_nothing_weighed_names_what_to_weigh():
    _, dust = result_of()
    assert dust.level == "unknown"
    assert dust.measure == ("sessions[day].bucket", "sessions[day].floor")
    assert "never published" in answer(dust)


@pytest.mark.parametrize("grams", [300, 600, 1000])
def test_a_weighed_bucket_is_what_the_bucket_holds(grams):
    before, _ = result_of()
    after, dust = result_of(f'bucket = "{grams} g"')
    assert np.median(after.air.went_kg["bucket"]) == pytest.approx(grams / 1000, rel=0.08)
    assert spread(after.air.made_kg) < 0.7 * spread(before.air.made_kg)
    assert dust.measure == ("sessions[day].floor",)
    # All else was chosen with it, and still adds up in every sample.
    total = sum(after.air.went_kg.values())
    assert total == pytest.approx(after.air.made_kg, rel=1e-9)


def test_both_weighed_leave_less_open_than_one():
    one, _ = result_of('bucket = "600 g"')
    both, dust = result_of('bucket = "600 g"\nfloor = "300 g"')
    caught = [spread(r.air.caught) for r in (one, both)]
    assert caught[1] < caught[0]
    assert dust.outcome == "weighed"
    assert dust.level == "good"


def test_sweepings_are_what_the_broom_swept():
    """A last sweeping in the list is that of the scales: its weighing says the same."""
    broom = '[[sessions.operations]]\noperation = "sweeping"\ntime = "10 min"\n'
    shop = shop_of(DAY + broom, 'floor = "300 g"')
    found = breathing(shop, hoods_of(shop, DRAW), DRAW).results[0]
    assert np.median(found.air.went_kg["swept"]) == pytest.approx(0.3, rel=0.1)
    listed, plain = (
        breathing(s, hoods_of(s, DRAW), DRAW).results[0].air.made_kg
        for s in (shop, shop_of(DAY, 'floor = "300 g"'))
    )
    assert np.median(listed) == pytest.approx(np.median(plain), rel=0.05)


def test_more_in_the_bucket_means_more_was_made():
    made = [np.median(result_of(f'bucket = "{g} g"')[0].air.made_kg) for g in (300, 900)]
    assert made[1] > 1.5 * made[0]


def test_a_weighing_that_cannot_be_is_not_believed():
    plain, _ = result_of()
    odd, dust = result_of('bucket = "200 lb"')
    assert (dust.level, dust.outcome) == ("problem", "apart")
    assert np.array_equal(odd.air.made_kg, plain.air.made_kg)
