"""A file that two have changed is made one, or asked about, a place at a time."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from kerfwind.app.document import Document, Edit, same
from kerfwind.app.merge import Clash, changes, merge
from kerfwind.app.renaming import with_references
from kerfwind.faults import Faults
from kerfwind.shop.reading import parse_shop
from tests.app.files import edits, shop_texts

GARAGE = (Path(__file__).parents[1] / "shops" / "one_car.toml").read_text(encoding="utf-8")


def by_name(data):
    """Data with its named rows in the order of their names."""
    return {
        key: sorted(value, key=lambda row: row["name"])
        if isinstance(value, list) and all(isinstance(r, dict) and "name" in r for r in value)
        else value
        for key, value in data.items()
    }


def edited(text, *made):
    document = Document(text)
    document.apply_all(made)
    return document.text


@settings(phases=[Phase.generate], max_examples=60, suppress_health_check=list(HealthCheck))
@given(st.data())
def test_the_changes_between_two_files_lead_from_one_to_the_other(data):
    document = Document(data.draw(shop_texts()))
    before = Document(document.text)
    for _ in range(data.draw(st.integers(1, 4))):
        document.apply(data.draw(edits(document)))
    for edit in changes(before.data, document.data):
        before.apply(edit)
    assert same(before.data, document.data)


@settings(phases=[Phase.generate], max_examples=60, suppress_health_check=list(HealthCheck))
@given(st.data())
def test_changes_of_different_places_are_both_there_whoever_was_first(data):
    base = data.draw(shop_texts())
    one, other = Document(base), Document(base)
    one.apply(data.draw(edits(one)))
    other.apply(data.draw(edits(other)))
    here, there = merge(base, one.text, other.text), merge(base, other.text, one.text)
    assert {c.place for c in here.clashes} == {c.place for c in there.clashes} or (
        here.clashes and there.clashes
    )
    if not here.clashes:
        assert same(by_name(Document(here.text).data), by_name(Document(there.text).data))
        ours = changes(Document(base).data, one.data)
        result = Document(here.text)
        for edit in ours:
            gone = edit.new is None and not edit.moves
            assert not gone or result.value(edit.place) is None
    # Whoever merges a second time finds nothing left to do.
    again = merge(base, one.text, here.text)
    assert again.text == here.text


def test_nothing_of_theirs_is_touched_but_the_places_that_we_changed():
    theirs = GARAGE.replace('"3 A"', '"3.5 A"    # read from the plate').replace(
        "[saw]", "# The saw by the window.\n[saw]"
    )
    ours = edited(GARAGE, Edit(("saw", "kerf"), "1/8 in", "3 mm"))
    merged = merge(GARAGE, ours, theirs)
    assert merged.text == theirs.replace('kerf = "1/8 in"', 'kerf = "3 mm"')
    assert [(e.place, e.old, e.new) for e in merged.made] == [(("saw", "kerf"), "1/8 in", "3 mm")]
    assert not merged.clashes


def test_the_same_place_is_asked_about_and_stays_theirs_until_then():
    ours = edited(GARAGE, Edit(("saw", "kerf"), "1/8 in", "3 mm"))
    theirs = edited(GARAGE, Edit(("saw", "kerf"), "1/8 in", "2 mm"))
    merged = merge(GARAGE, ours, theirs)
    assert merged.clashes == (Clash(("saw", "kerf"), "3 mm", "2 mm"),)
    assert merged.text == theirs
    assert merge(GARAGE, ours, ours).clashes == ()


def test_a_tool_that_they_renamed_takes_our_change_of_it():
    theirs = GARAGE.replace('name = "planer"', 'name = "thickness planer"')
    ours = edited(GARAGE, Edit(("tools", "planer", "bends"), 2, 4))
    merged = merge(GARAGE, ours, theirs)
    assert Document(merged.text).value(("tools", "thickness planer", "bends")) == 4
    assert not merged.clashes
    other = merge(GARAGE, theirs, ours)
    assert Document(other.text).value(("tools", "thickness planer", "bends")) == 4
    assert not other.clashes


def test_a_tool_that_they_took_away_while_we_changed_it_is_asked_about_whole():
    planer = Document(GARAGE).value(("tools", "planer"))
    theirs = edited(GARAGE, Edit(("tools", "planer"), planer, None))
    ours = edited(
        GARAGE,
        Edit(("tools", "planer", "bends"), 2, 4),
        Edit(("tools", "planer", "port", "inside"), "97 mm ± 0.5", "98 mm"),
    )
    merged = merge(GARAGE, ours, theirs)
    (clash,) = merged.clashes
    assert clash.place == ("tools", "planer")
    assert clash.theirs is None
    assert clash.ours["bends"] == 4
    # The answer "as we had it" is an edit like any other.
    document = Document(merged.text)
    document.apply(Edit(clash.place, clash.theirs, clash.ours))
    assert document.value(("tools", "planer", "port", "inside")) == "98 mm"


def test_tools_that_both_added_and_moved_are_all_there():
    ours = edited(
        GARAGE,
        Edit(("tools", "lathe"), None, {"hood": "pad holes"}),
        Edit(("tools", "floor sweep"), {}, {}, 0),
    )
    theirs = edited(GARAGE, Edit(("tools", "jointer"), None, {"hood": "pad holes"}, 0))
    merged = merge(GARAGE, ours, theirs)
    names = [tool["name"] for tool in Document(merged.text).data["tools"]]
    assert len(names) == 12
    assert {"lathe", "jointer"} <= set(names)
    assert names.index("floor sweep") < 2
    assert not merged.clashes


def test_both_first_fittings_of_a_shop_are_there():
    base = '[[tools]]\nname = "saw"\n'
    ours = edited(base, Edit(("fittings", "cuff"), None, {"kind": "cuff"}))
    theirs = edited(base, Edit(("fittings", "cone"), None, {"kind": "reducer"}))
    names = [f["name"] for f in Document(merge(base, ours, theirs).text).data["fittings"]]
    assert sorted(names) == ["cone", "cuff"]
    theirs = edited(base, Edit(("fittings", "cuff"), None, {"kind": "elbow"}))
    assert [c.place for c in merge(base, ours, theirs).clashes] == [("fittings", "cuff")]


def test_their_text_that_is_no_toml_is_told_with_its_line():
    with pytest.raises(Faults) as caught:
        merge(GARAGE, GARAGE, GARAGE.replace('kerf = "1/8 in"', 'kerf = "1/8 in'), "shop.toml")
    (fault,) = caught.value.faults
    assert fault.kind == "toml.unread"
    assert 'kerf = "1/8 in' in GARAGE.splitlines()[fault.line - 1]


EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.mark.parametrize("file", sorted(EXAMPLES.glob("*.toml")), ids=lambda file: file.stem)
def test_a_row_is_meant_by_its_new_name_wherever_it_was_meant_by_the_old(file):
    text = file.read_text(encoding="utf-8")
    document = Document(text)
    rows = [
        (key, row["name"])
        for key in ("tools", "hoses", "sheets", "branches", "sessions", "fittings")
        for row in document.data.get(key, ())
    ]
    followed = 0
    for key, name in rows:
        edits = with_references([Edit((key, name, "name"), name, "Ångström № 7")], document.data)
        followed += len(edits) - 1
        back = document.apply_all(edits)
        parse_shop(document.text)
        assert name not in {row["name"] for row in document.data[key]}
        document.apply_all(back)
        assert document.text == text
    tools = {row["name"] for row in document.data["tools"]}
    operations = [o for s in document.data.get("sessions", ()) for o in s.get("operations", ())]
    assert followed >= sum(o.get("tool") in tools for o in operations)


def test_a_name_that_is_taken_draws_nothing_with_it():
    data = Document(
        GARAGE
        + '\n[[sessions]]\nname = "day"\noperations = [{ tool = "planer", time = "5 min" }]\n'
    ).data
    one, other = (row["name"] for row in data["tools"][:2])
    edit = Edit(("tools", one, "name"), one, other)
    assert with_references([edit], data) == [edit]
