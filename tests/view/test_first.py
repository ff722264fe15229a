"""The answer first: a person reads thirty lines and knows what to do."""

from dataclasses import replace

import pytest
from tests.shops import shop_path

from kerfwind.facts import Amount, Band, Fix, Ref
from kerfwind.plan import make_plan
from kerfwind.printed.content import content
from kerfwind.printed.figure_files import Figures
from kerfwind.shop import parse_shop, read_shop
from kerfwind.terminal import MOST_LINES, report, report_findings
from kerfwind.view.findings import groups
from kerfwind.view.first import MOST, what_first
from kerfwind.words import Voice

NAMES = ("garage", "one_car", "labels", "cellar", "boathouse")


@pytest.fixture(scope="module")
def plans():
    return {name: make_plan(read_shop(shop_path(name)), samples=256) for name in NAMES}


def _failing(plan, key, outcome, **more):
    """The plan's finding of this key as if the check had failed."""
    found = next(f for f in plan.findings if f.key == key)
    return replace(found, level="problem", outcome=outcome, **more)


_TUG = Band(26.0, 26.0, 26.0, "force")


def _pages(plan):
    return content(plan, Figures(reducers=[""] * len(plan.hookups.printed)))


@pytest.mark.parametrize("name", NAMES)
def test_the_report_is_thirty_lines_at_most_and_says_what_to_do(plans, name, tmp_path, capsys):
    plan = plans[name]
    report(plan, [tmp_path / "plan.pdf", tmp_path / "drawings" / "unit.svg"])
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) <= MOST_LINES
    told = " ".join(" ".join(lines).split())
    first = what_first(plan)
    assert first.todo
    assert " ".join(first.todo[0].what.split()) in told
    assert "plan.pdf" in told
    assert f"kerfwind check {plan.file.path}" in told


@pytest.mark.parametrize("name", NAMES)
def test_the_first_page_says_the_same(plans, name):
    plan = plans[name]
    first, page = what_first(plan), _pages(plan)["first"]
    assert list(page["works"]) == list(first.works)
    assert [t["what"] for t in page["todo"]] == [t.what for t in first.todo]
    assert [m["what"] for m in page["measure"]] == [m.what for m in first.measure]
    assert len(first.todo) <= MOST
    assert len(first.measure) <= MOST


def test_every_tool_is_in_one_line_of_whether_it_works(plans):
    plan = plans["one_car"]
    for tool in plan.shop.tools:
        assert sum(f" {tool.name}" in line for line in what_first(plan).works) == 1, tool.name


def test_a_change_that_was_tried_is_told_with_its_price_and_what_becomes_of_the_check(plans):
    plan = plans["one_car"]
    tug = _failing(plan, "cart.push.tug", "tips", value=_TUG)
    after = Band(70.0, 70.0, 70.0, "force")
    fix = Fix("wishes.extra_front", Amount(0.1, "length"), True, after, 12.0)
    mended = (replace(tug, fixes=(fix,)), *(f for f in plan.findings if f.key != tug.key))
    first = what_first(replace(plan, findings=mended))
    [told] = [t for t in first.todo if "wishes.extra_front" in t.what]
    assert told.cost == "costs about $12"
    assert "6 lbf becomes 16 lbf" in told.changes
    # One change that mends two checks is one thing to do.
    both = (
        replace(tug, fixes=(fix,)),
        _failing(plan, "cart.push.stumble", "goes_over", fixes=(fix,)),
    )
    [told] = [
        t for t in what_first(replace(plan, findings=both)).todo if "wishes.extra_front" in t.what
    ]
    assert "stop dead" in told.changes
    assert "tug" in told.changes


def test_what_helps_without_passing_is_not_offered_as_a_mend(plans):
    plan = plans["one_car"]
    tug = _failing(plan, "cart.push.tug", "tips", value=_TUG)
    fix = Fix("wishes.extra_front", Amount(0.1, "length"), False, tug.value, 12.0)
    found = (replace(tug, fixes=(fix,)), *(f for f in plan.findings if f.key != tug.key))
    assert not any("extra_front" in t.what for t in what_first(replace(plan, findings=found)).todo)


def test_ten_findings_of_one_kind_are_one_row(plans, capsys):
    weak = next(
        f
        for f in plans["one_car"].findings
        if f.key == "air.dust_caught" and f.outcome == "short" and f.level == "problem"
    )
    # Each with a value of its own, as tools have.
    ten = [
        replace(
            weak,
            about=Ref("tool", f"saw {n}"),
            facts=tuple(
                (
                    k,
                    replace(v, best=v.best * (1 + n), low=v.low * (1 + n), high=v.high * (1 + n))
                    if k == "had"
                    else v,
                )
                for k, v in weak.facts
            ),
        )
        for n in range(10)
    ]
    [group] = groups(ten, Voice())
    assert group.check == "Too little air to catch the dust"
    told = " ".join(each.said.about for each in group.spoken)
    assert all(f"saw {n}" in told for n in range(10))
    # And in whole plans no answer of a check stands twice with the same thing to do.
    for plan in plans.values():
        rows = [
            (g.spoken[0].key, g.level, g.check or g.spoken[0].said.answer, g.do)
            for g in groups(plan.findings, Voice())
        ]
        assert len(rows) == len(set(rows))
    report_findings(plans["one_car"])
    told = capsys.readouterr().out
    assert told.count("Too little air to catch the dust") == 1


def test_a_tried_change_stands_with_its_finding(plans, capsys):
    fix = Fix("wishes.form", "low", True, None, 0.0)
    plan = plans["one_car"]
    tug = _failing(plan, "cart.push.tug", "tips", fixes=(fix,))
    report_findings(replace(plan, findings=(tug,)))
    told = " ".join(capsys.readouterr().out.split())
    assert "(`wishes.form`) set to low: it then passes; costs nothing." in told


def test_measuring_what_is_asked_for_settles_it():
    text = shop_path("one_car").read_text(encoding="utf-8")
    asked = what_first(make_plan(parse_shop(text), samples=256)).measure
    place = "tools[bench table saw].port.outside"
    assert any(place in m.what for m in asked)
    known = text.replace(
        'port = { nominal = "2-1/2 in" }',
        'port = { inside = "58 mm ± 0.3", outside = "63.2 mm ± 0.3" }',
    )
    then = what_first(make_plan(parse_shop(known), samples=256)).measure
    assert not any(place in m.what for m in then)


def test_no_cart_is_the_first_thing_said_and_what_would_mend_it_the_first_to_do():
    text = shop_path("one_car").read_text(encoding="utf-8")
    plan = make_plan(
        parse_shop(text.replace('narrowest_door = "29-1/2 in"', 'narrowest_door = "12 in"')),
        samples=64,
    )
    first = what_first(plan)
    assert first.works[0].startswith("No cart can be built")
    assert "door" in first.todo[0].what
