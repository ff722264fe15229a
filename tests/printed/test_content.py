"""What the pages say: nothing twice where once will do, nothing left out that keeps hands whole."""

import pytest

from kerfwind.facts import Ref, facts
from kerfwind.finding import PREVENTING, Finding, Level, finding
from kerfwind.plan import Plan, make_plan
from kerfwind.search.sheet_choice import saw_of
from kerfwind.shop import parse_shop
from kerfwind.view.assumed import places_text
from kerfwind.view.cuts import cut_cautions, cut_rows
from kerfwind.view.findings import groups, voice_of
from kerfwind.view.first import what_first
from kerfwind.words import Voice
from tests.shops import shop_path


def plan_of(example: str, *change: tuple[str, str]) -> Plan:
    text = shop_path(example).read_text(encoding="utf-8")
    for old, new in change:
        assert old in text
        text = text.replace(old, new)
    return make_plan(parse_shop(text))


@pytest.mark.parametrize("example", ["cellar", "boathouse"])
def test_every_caution_of_a_cut_is_told_in_its_row_and_once_in_full(example: str) -> None:
    plan = plan_of(example)
    voice = voice_of(plan)
    rows = cut_rows(plan.cuts, saw_of(plan.shop.saw), voice)
    above = {c.text: c.title for c in cut_cautions(plan.cuts, voice)}
    assert above
    for step, row in zip(plan.cuts, rows, strict=True):
        assert len(row["cautions"]) == len(step.cautions)
        for caution, told in zip(step.cautions, row["cautions"], strict=True):
            full = voice.text(caution)
            if full in above:
                assert told == voice.say(caution.kind, attribute="brief")
                assert told.startswith(f"{above[full]}:")
            else:
                assert told == full


def test_what_keeps_the_cart_from_being_built_is_told_first() -> None:
    plan = plan_of("one_car", ('narrowest_door = "29-1/2 in"', 'narrowest_door = "12 in"'))
    assert plan.build is None
    assert plan.findings[0].key in PREVENTING
    assert plan.findings[0].level == "stop"
    first = what_first(plan)
    assert first.works[0].startswith("No cart can be built")
    assert "door" in first.todo[0].what


def test_findings_with_one_thing_to_do_are_told_together_where_the_first_stands() -> None:
    def over(tool: str, outcome: str = "over", level: Level = "problem") -> Finding:
        more = facts(others="counted")
        return finding("power.together", outcome, level, Ref("tool", tool), facts=more)

    row = [
        over("saw"),
        finding("power.with_others", "over", "problem", Ref("vacuum", "vacuum")),
        over("lathe", "perhaps_over"),
        over("sander", level="advice"),
        over("router"),
    ]
    told = [[s.said.about for s in group.spoken] for group in groups(row, Voice())]
    assert told == [["saw, router", "lathe"], ["vacuum"], ["sander"]]


def test_many_places_assumed_alike_are_counted() -> None:
    assert places_text(["a.x", "b.x"], Voice()) == "a.x, b.x"
    assert places_text([f"tools[{n}].taper" for n in range(9)], Voice()) == (
        "tools[0].taper, tools[1].taper, and 7 more ending in taper"
    )
