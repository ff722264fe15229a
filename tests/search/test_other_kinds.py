"""Another form or hold where the usual cart does not do, and what is offered where one was wished for."""

import tomllib

import pytest

from kerfwind.facts import Term
from kerfwind.options import FORMS
from kerfwind.plan import make_plan
from kerfwind.quantity import exact
from kerfwind.shop import parse_shop
from kerfwind.view.findings import tried_lines
from tests.say import VOICE, answer, to_do

BODY = """
[vacuum]
length = "18 in"
width = "18 in"
height = "21 in"
weight = "17 lb"
tank = "9 US gal"
[vacuum.suction]
known_from = "label"
sealed = "75 inH2O"
[separator.bucket]
{bucket}
[[tools]]
name = "sander"
hood = "pad holes"
[wishes]
{wishes}
"""
PAIL = 'volume = "5 US gal"'
DRUM = (
    'shape = "drum"\nvolume = "60 L"\ntop_diameter = "390 mm"\nrim_diameter = "410 mm"\n'
    'height = "560 mm"\nweight = "4.6 kg"'
)
FAILED = ("stop", "problem")


def planned(wishes="", bucket=PAIL):
    return make_plan(parse_shop(BODY.format(bucket=bucket, wishes=wishes)), samples=300)


def cart_failures(plan):
    return [f for f in plan.findings if f.room == "cart" and f.level in FAILED]


def bench(plan):
    return {
        f.key.removeprefix("cart.under_bench"): f
        for f in plan.findings
        if f.key.startswith("cart.under_bench")
    }


def test_the_usual_form_stays_where_it_does():
    plan = planned()
    assert plan.cart.form == "tower"
    assert cart_failures(plan) == []


def test_a_form_that_nobody_wished_for_is_chosen_for_the_bench():
    """A tower of a 21 in vacuum is not 34 in high without its separator; a low cart goes under."""
    plan = planned('under_bench = "31 in"')
    assert plan.cart.form == "low"
    assert bench(plan)[".lifted_out"].level == "good"
    taken = {a.path: a for a in plan.file.assumptions}
    assert taken["wishes.form"].value.text == "low"
    assert taken["wishes.form"].why.kind == "assumed.kind_that_passes"
    # As it will be read: the file with that form wished for plans the same cart.
    again = planned('form = "low"\nunder_bench = "31 in"')
    assert again.cart.sizes.height_m == pytest.approx(plan.cart.sizes.height_m)


def test_a_form_that_was_wished_for_stays_and_the_other_is_offered_and_passes():
    plan = planned('form = "tower"\nunder_bench = "31 in"')
    assert plan.cart.form == "tower"
    found = bench(plan)[".lifted_out"]
    assert found.level == "stop"
    assert "stands in the way" in answer(found)
    fix = found.fixes[0]
    assert (fix.place, fix.to, fix.passes) == ("wishes.form", Term("form", "low"), True)
    assert fix.costs is not None
    other = planned('form = "low"\nunder_bench = "31 in"')
    assert bench(other)[".lifted_out"].level == "good"
    assert cart_failures(other) == []


def test_where_no_cart_goes_under_the_nearest_is_planned_and_told():
    plan = planned('under_bench = "20 in"')
    found = bench(plan)
    assert list(found) == [".lifted_out"]
    assert found[".lifted_out"].level == "stop"
    raised = dict(found[".lifted_out"].facts)["raised"]
    heights = {
        form: dict(bench(planned(f'form = "{form}"\nunder_bench = "20 in"'))[".lifted_out"].facts)
        for form in FORMS
    }
    assert raised.si == min(f["raised"].si for f in heights.values())
    # Raised so far, it goes under.
    mended = planned(f'under_bench = "{raised.si * 1000:.2f} mm"')
    under = bench(mended)[".lifted_out"]
    assert under.level != "stop"
    assert under.value.best <= under.limit.best


def test_the_largest_drum_for_a_bench_goes_under_it_as_it_stands():
    wishes = 'form = "low"\nunder_bench = "1100 mm"\nlargest_width = "1200 mm"'
    found = bench(planned(wishes, DRUM))[""]
    assert found.level == "advice"
    assert "drum at most" in to_do(found)
    least = dict(found.facts)["least"].si
    assert 0.15 < least < 0.56
    lower = DRUM.replace("560 mm", f"{least * 1000:.1f} mm")
    under = bench(planned(wishes, lower))[""]
    assert under.value.best == pytest.approx(under.limit.best, abs=0.002)


def test_a_vacuum_low_enough_is_told_and_goes_under():
    wishes = 'form = "low"\nunder_bench = "24 in"'
    plan = planned(wishes)
    found = bench(plan)[".lifted_out"]
    assert found.level == "stop"
    assert "vacuum at most" in to_do(found)
    least = dict(found.facts)["least"].si
    text = BODY.format(bucket=PAIL, wishes=wishes).replace("21 in", f"{least * 1000:.1f} mm")
    assert bench(make_plan(parse_shop(text), samples=300))[".lifted_out"].level != "stop"


def test_what_stands_against_a_cart_is_one_thing_to_do_and_what_it_gives_stands():
    plan = planned('form = "tower"\nlargest_width = "18 in"\nlargest_length = "18 in"')
    [wide, long] = [f for f in plan.findings if f.key == "cart.cannot_build"]
    assert wide.fixes == long.fixes
    fix = wide.fixes[0]
    assert {f.place for f in fix.every} == {"wishes.largest_width", "wishes.largest_length"}
    wishes = "".join(
        f'{f.place.removeprefix("wishes.")} = "{f.to.si * 1000:.4f} mm"\n' for f in fix.every
    )
    assert cart_failures(planned('form = "tower"\n' + wishes)) == []


def test_a_height_that_is_offered_is_one_that_cart_and_hose_stay_under():
    wishes = 'form = "tower"\nlargest_width = "30 in"\ngreatest_height = "{high}"'
    plan = planned(wishes.format(high="40 in"))
    [refused] = [f for f in plan.findings if f.key == "cart.cannot_build"]
    [fix] = [f for f in refused.fixes if f.place == "wishes.greatest_height"]
    assert not fix.also
    mended = planned(wishes.format(high=f"{fix.to.si * 1000:.4f} mm"))
    [height] = [f for f in mended.findings if f.key == "cart.height"]
    assert height.level == "good"
    # The sheet that the plan then takes may be another, and no more than its thickness apart.
    assert mended.cart.sizes.height_over_hose_m < fix.to.si + 0.018
    assert fix.passes
    # The bucket's own checks were not run with it, so that no more is said than was tried.
    told = tried_lines([refused], VOICE)
    assert told
    assert all("a cart can then be built" in line for line in told)
    assert not any("it then passes" in line for line in told)


def test_a_wider_door_is_no_change_to_offer():
    plan = planned('form = "tower"\nnarrowest_door = "300 mm"')
    [refused] = [f for f in plan.findings if f.key == "cart.cannot_build"]
    assert refused.fixes == ()
    assert "goes through a doorway" in to_do(refused)


def test_a_form_that_can_be_built_is_chosen_where_the_usual_one_cannot():
    """Vacuum and bucket side by side need no height that a tower does."""
    plan = planned('greatest_height = "50 in"')
    assert plan.cart.form == "low"
    assert plan.shop.wishes.form == "low"
    assert plan.shop.wishes.largest_width.best_si == pytest.approx(
        exact(42 * 0.0254, "length").best_si
    )


def test_panels_already_cut_keep_the_form_they_were_cut_for():
    plan = planned('greatest_height = "50 in"')
    name = plan.cart.panels[0].name
    text = BODY.format(bucket=PAIL, wishes='greatest_height = "50 in"')
    text += f'[[built]]\nname = "{name}"\nlength = "{plan.cart.panels[0].length_m * 1000:.1f} mm"\n'
    assert tomllib.loads(text)["built"]
    assert make_plan(parse_shop(text), samples=300).cart.form == "low"
