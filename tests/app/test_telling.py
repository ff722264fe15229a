"""What is set beside what: whatever differs between two plans is told, and nothing else."""

from pathlib import Path

import pytest
from bench.edits import KINDS

from kerfwind.app.page_voice import voice_in
from kerfwind.app.telling import Told, changed, told
from kerfwind.plan import make_plan
from kerfwind.shop.reading import parse_shop
from kerfwind.stages import Stages

EXAMPLES = Path(__file__).parents[2] / "examples"
STAGES = Stages(keep=64)


def answers(text: str):
    plan = make_plan(parse_shop(text), stages=STAGES)
    return plan, told(plan, voice_in(units="in"))


def levels(plan):
    found = {}
    for each in plan.findings:
        found.setdefault((each.key, each.about), each.level)
    return found


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_a_check_that_comes_out_otherwise_is_told(kind):
    text = (EXAMPLES / "garage.toml").read_text(encoding="utf-8")
    (before, was), (after, now) = answers(text), answers(kind.of(text))
    old, new = levels(before), levels(after)
    news = {
        key
        for key in {*old, *new}
        if old.get(key) != new.get(key) and {old.get(key), new.get(key)} - {None, "good"}
    }
    rows = [row for row in changed(was, now) if not row.same]
    assert {(r.after or r.before).of for r in rows if r.group == "checks"} == news
    assert all(row.what for row in rows)


@pytest.mark.parametrize(
    ("example", "before", "after", "group"),
    [
        ("garage", 'load = "', 'load = "20 lb" # "', "checks"),
        ("boathouse", 'inlet_height = "', 'inlet_height = "480 mm" # "', "hookups"),
    ],
)
def test_what_is_built_or_bought_otherwise_is_told(example, before, after, group):
    text = (EXAMPLES / f"{example}.toml").read_text(encoding="utf-8")
    assert before in text
    _, was = answers(text)
    _, now = answers(text.replace(before, after, 1))
    assert group in {row.group for row in changed(was, now) if not row.same}


def test_the_same_plan_says_nothing_new():
    _, was = answers((EXAMPLES / "garage.toml").read_text(encoding="utf-8"))
    assert [row for row in changed(was, list(was)) if not row.same] == []


def test_a_good_check_that_is_new_or_gone_is_no_news():
    good = Told("checks", "a", "good", lambda: "a", quiet=True)
    bad = Told("checks", "a", "problem", lambda: "a")
    assert [r.same for r in changed([], [good])] == [True]
    assert [r.same for r in changed([bad], [])] == [False]
    (row,) = changed([good], [bad])
    assert (row.same, row.before.answer, row.after.answer) == (False, "good", "problem")
