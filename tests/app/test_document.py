"""A shop file that is changed a place at a time stays the person's own to the letter."""

import difflib
import tomllib
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from kerfwind.app.document import Conflict, Document, Edit, same
from kerfwind.faults import Faults
from tests.app.files import changed, edits, opened, shop_texts, values

EXAMPLES = Path(__file__).parents[2] / "examples"
GARAGE = (EXAMPLES.parent / "tests" / "shops" / "one_car.toml").read_text(encoding="utf-8")
PORT = ("tools", "planer", "port", "inside")


def reading(text):
    return tomllib.loads(text.removeprefix("\ufeff").replace("\r\n", "\n"))


def lines_changed(before, after):
    """Lines that went and lines that came."""
    lines = list(difflib.ndiff(before.splitlines(True), after.splitlines(True)))
    return [line[2:] for line in lines if line[0] == "-"], [
        line[2:] for line in lines if line[0] == "+"
    ]


@settings(phases=[Phase.generate], max_examples=150, suppress_health_check=list(HealthCheck))
@given(st.data())
def test_any_changes_of_any_file_are_made_and_taken_back_to_the_letter(data):
    document = opened(data.draw(shop_texts()))
    assert document.data == reading(document.text)
    texts, inverses = [document.text], []
    for _ in range(data.draw(st.integers(1, 6))):
        edit = data.draw(edits(document))
        wanted = changed(document.data, edit)
        inverse = document.apply(edit)
        assert document.data == reading(document.text)
        assert same(document.data, wanted), document.text
        text = document.text
        if not isinstance(edit.place[-1], int):
            # Members of a list have no names by which one could tell that it was made already.
            document.apply(edit)
            assert document.text == text
        inverses.append(Edit.of(inverse.record()))
        texts.append(document.text)
    forward = []
    for inverse, text in zip(reversed(inverses), reversed(texts[:-1]), strict=True):
        forward.append(document.apply(inverse))
        assert document.text == text
    for edit, text in zip(reversed(forward), texts[1:], strict=True):
        document.apply(edit)
        assert document.text == text


@settings(phases=[Phase.generate], max_examples=100)
@given(st.data())
def test_whatever_is_asked_for_is_made_or_refused_whole(data):
    document = Document(data.draw(shop_texts()))
    keys = st.one_of(
        st.sampled_from(
            ["tools", "saw", "vacuum", "inside", "x", "name", "planer", "b", "", "a.b"]
        ),
        st.integers(-2, 4),
    )
    for _ in range(5):
        place = tuple(data.draw(st.lists(keys, max_size=5)))
        old = data.draw(st.sampled_from([document.value(place), None, 1]))
        at = data.draw(st.one_of(st.none(), st.integers(-1, 5)))
        edit = Edit(place, old, data.draw(st.one_of(st.none(), values)), at)
        before = document.text
        try:
            inverse = document.apply(edit)
        except Conflict:
            assert document.text == before
        else:
            assert document.data == reading(document.text)
            document.apply(inverse)
            assert document.text == before


def test_one_field_changes_one_line():
    document = Document(GARAGE)
    before = document.text
    document.apply(Edit(PORT, "97 mm ± 0.5", "98 mm"))
    went, came = lines_changed(before, document.text)
    assert went == [
        'port = { inside = "97 mm ± 0.5", outside = "101.6 mm ± 0.4", length = "45 mm" }\n'
    ]
    assert came == ['port = { inside = "98 mm", outside = "101.6 mm ± 0.4", length = "45 mm" }\n']


def test_a_remark_behind_a_value_stays():
    document = Document(GARAGE)
    document.apply(Edit(("vacuum", "headroom"), "11 in", "12 in"))
    assert 'headroom = "12 in"          # to lift the lid and reach the filter\n' in document.text


def test_a_row_goes_with_the_remark_above_it_but_not_the_heading_of_the_next_ones():
    document = Document(
        '[[tools]]\nname = "saw"\n\n# Borrowed.\n[[tools]]\nname = "planer"\n# not mine\n\n'
        '# --- hoses ---\n\n[[hoses]]\nname = "big"\n'
    )
    inverse = document.apply(Edit(("tools", "planer"), {"name": "planer"}, None))
    assert document.text == (
        '[[tools]]\nname = "saw"\n\n# --- hoses ---\n\n[[hoses]]\nname = "big"\n'
    )
    assert inverse.source == '# Borrowed.\n[[tools]]\nname = "planer"\n# not mine\n\n'
    assert inverse.at == 1


def test_a_row_that_was_removed_comes_back_with_its_remarks_though_others_were_added_since():
    document = Document(GARAGE)
    planer = document.value(("tools", "planer"))
    inverse = document.apply(Edit(("tools", "planer"), planer, None))
    document.apply(Edit(("vacuum", "notes"), None, "a line more"))
    document.apply(Edit(("tools", "lathe"), None, {"hood": "lathe hood"}, 0))
    document.apply(inverse)
    assert inverse.source in document.text
    names = [tool["name"] for tool in document.data["tools"]]
    assert names[:4] == ["lathe", "random-orbit sander", "planer", "belt sander"]


def test_missing_tables_are_made_where_a_person_would_write_them():
    document = Document('[vacuum]\nname = "v"\n\n[[tools]]\nname = "saw"\n')
    document.apply(Edit(("vacuum", "suction", "sealed"), None, "20 kPa"))
    document.apply(Edit(("tools", "saw", "port", "inside"), None, "30 mm"))
    document.apply(Edit(("room", "outlets", 0), None, {"x": "1 m", "y": "2 m"}))
    document.apply(Edit(("fittings", "cuff"), None, {"kind": "cuff"}))
    assert document.text == (
        '[vacuum]\nname = "v"\n\n[vacuum.suction]\nsealed = "20 kPa"\n\n'
        '[[tools]]\nname = "saw"\nport = { inside = "30 mm" }\n\n'
        '[room]\noutlets = [{ x = "1 m", y = "2 m" }]\n\n'
        '[[fittings]]\nname = "cuff"\nkind = "cuff"\n'
    )


def test_a_table_that_would_be_empty_goes_and_a_row_stays():
    document = Document('[saw]\nkerf = "3 mm"\n\n[[tools]]\nname = "saw"\nport = { inside = 1 }\n')
    document.apply(Edit(("saw", "kerf"), "3 mm", None))
    document.apply(Edit(("tools", "saw", "port", "inside"), 1, None))
    assert document.text == '[[tools]]\nname = "saw"\n'
    document.apply(Edit(("tools", 0, "name"), "saw", None))
    assert document.text == "[[tools]]\n"


def test_line_ends_the_mark_and_a_missing_last_line_end_stay():
    text = '\ufeff[saw]\r\nkerf = "3 mm" # here\r\ntrim = "2 mm"'
    document = Document(text)
    document.apply(Edit(("saw", "kerf"), "3 mm", "4 mm"))
    document.apply(Edit(("saw", "kind"), None, "table saw"))
    assert document.text == (
        '\ufeff[saw]\r\nkerf = "4 mm" # here\r\ntrim = "2 mm"\r\nkind = "table saw"'
    )


def test_a_row_in_a_list_over_several_lines_goes_with_its_own_remark():
    text = "[room]\noutlets = [\n  { x = 1 },  # by the door\n  { x = 2 },  # behind the saw\n]\n"
    document = Document(text)
    inverse = document.apply(Edit(("room", "outlets", 1), {"x": 2}, None))
    assert document.text == "[room]\noutlets = [\n  { x = 1 },  # by the door\n]\n"
    document.apply(inverse)
    assert document.text == text
    document.apply(Edit(("room", "outlets", 0), {"x": 1}, None))
    assert document.text == "[room]\noutlets = [\n  { x = 2 },  # behind the saw\n]\n"


@pytest.mark.parametrize(
    ("edit", "found"),
    [
        (Edit(PORT, "96 mm", "98 mm"), "97 mm ± 0.5"),
        (Edit(PORT, None, "98 mm"), "97 mm ± 0.5"),
        (Edit(("tools", "lathe", "port", "inside"), None, "98 mm"), None),
        (Edit(("tools", "lathe"), {"name": "lathe"}, {"name": "lathe", "bends": 1}), None),
        (Edit(("tools", "lathe"), {}, {}, 2), None),
        (Edit(("vacuum", "height", "inside"), None, "98 mm"), "20-3/4 in"),
    ],
)
def test_a_place_that_is_otherwise_now_is_told_and_nothing_changes(edit, found):
    document = Document(GARAGE)
    with pytest.raises(Conflict) as caught:
        document.apply(edit)
    assert caught.value.found == found
    assert document.text == GARAGE


def test_a_name_that_another_row_has_is_refused():
    document = Document(GARAGE)
    with pytest.raises(Conflict) as caught:
        document.apply(Edit(("tools", "planer", "name"), "planer", "band saw"))
    assert caught.value.place == ("tools", "band saw")
    assert document.text == GARAGE


def test_several_edits_are_made_all_or_none():
    document = Document(GARAGE)
    good = Edit(("saw", "kerf"), "1/8 in", "3 mm")
    with pytest.raises(Conflict):
        document.apply_all([good, Edit(PORT, "96 mm", "98 mm")])
    assert document.text == GARAGE
    inverses = document.apply_all([good, Edit(PORT, "97 mm ± 0.5", "98 mm")])
    assert [e.place for e in inverses] == [PORT, ("saw", "kerf")]
    document.apply_all(inverses)
    assert document.text == GARAGE


def test_a_number_that_a_page_wrote_another_way_is_the_same():
    assert same(31, 31.0)
    assert not same(1, True)
    assert not same("1", 1)
    document = Document(GARAGE)
    sheet = ("sheets", "3/4 in birch plywood, 2 x 4 ft", "price")
    document.apply(Edit(sheet, 31, 33.5))
    assert "price = 33.5\n" in document.text


def test_a_text_that_is_no_toml_is_refused_with_its_line():
    with pytest.raises(Faults) as caught:
        Document("[saw]\nkerf = \n", "shop.toml")
    assert caught.value.faults[0].line == 2


@pytest.mark.parametrize("name", ["garage", "cellar", "boathouse", "labels"])
def test_each_example_is_held_to_the_letter(name):
    text = (EXAMPLES / f"{name}.toml").read_bytes().decode()
    for variant in (text, text.replace("\n", "\r\n"), text.rstrip("\n")):
        assert opened(variant).data == reading(variant)
