"""A file read again after edits is the file read anew, in whatever way it is written."""

import random
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from kerfwind.app.document import Document
from kerfwind.shop import Faults, ShopReader, parse_shop
from kerfwind.tomlfile import Tables, load_toml
from tests.test_stage_keys import edited, garage

#: All but those that are no text.
BROKEN = sorted((Path(__file__).parent / "broken").glob("*.toml"))
BROKEN = [path for path in BROKEN if path.stem not in ("binary", "latin1")]
EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
SEED = 11


def same(read, anew):
    """Equal in all that is kept of a size beside its value, too."""
    assert read == anew
    assert repr(read) == repr(anew)


def test_random_edits_read_as_they_would_anew():
    rng = random.Random(SEED)
    document, reader = Document(garage()), ShopReader()
    reader.read(document.text)
    done = 0
    while done < 60:
        if edited(document, rng):
            done += 1
            same(reader.read(document.text), parse_shop(document.text))


def test_rows_that_move_and_change_their_names():
    text = garage()
    rows = text.split("[[tools]]")
    moved = "[[tools]]".join([rows[0], rows[2], rows[1], *rows[3:]])
    reader = ShopReader()
    for each in (text, moved, text.replace('name = "jigsaw"', 'name = "sabre saw"'), text):
        same(reader.read(each), parse_shop(each))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("tool_shares = true", "tool_shares = 1"),
        ("bends = 3", "bends = 3.0"),
        ("price = 52.0", "price = 52"),
        ("price = 52.0", "price = nan"),
    ],
)
def test_values_that_only_look_equal(old, new):
    """To Python 1, 1.0 and true are equal; a shop file tells them apart."""
    text = garage()
    assert old in text
    reader = ShopReader()
    reader.read(text)
    changed = text.replace(old, new, 1)
    try:
        anew = parse_shop(changed)
    except Faults as faults:
        with pytest.raises(Faults) as found:
            reader.read(changed)
        assert found.value.faults == faults.faults
    else:
        assert repr(reader.read(changed)) == repr(anew)


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_faults_are_found_again_and_again(path):
    text = path.read_text(encoding="utf-8")
    with pytest.raises(Faults) as anew:
        parse_shop(text)
    reader = ShopReader()
    for each in (garage(), text, text, garage(), text):
        if each is text:
            with pytest.raises(Faults) as found:
                reader.read(each)
            assert found.value.faults == anew.value.faults
        else:
            reader.read(each)


HEADINGS = ["[a]", "[[a]]", "[a.b]", "[[a.b]]", "[b]", "[[b]]", '["b"]', "[ a . b ]", "  [[ b ]]"]
LINES = ["x = 1", 'x = "[a]"', "y = [", "[1]", "]", '"""', "'''", 'z = """', "a.b = 2", "# [b]"]
LINES += ["[[b]] # more", "[c] x", "b = {x = 1}", "", "\r"]


@given(st.lists(st.sampled_from(HEADINGS + LINES), max_size=14), st.data())
@settings(max_examples=1500)
@example(["[a]", "x = 1", "[b]", "x = 1", "[a.b]", "x = 2"], None)
@example(["[[a]]", "x = 1", "[b]", "[[a]]", "[a.b]", "[[a]]"], None)
@example(["[a]", 'z = """', "[b]", '"""', "x = 1"], None)
def test_any_tables_are_read_as_a_reader_of_toml_reads_them(lines, data):
    """Headings within texts and lists, tables that come in pieces, and what is no TOML."""
    tables = Tables()
    text = "\n".join(lines)
    other = text if data is None else text + "\n" + data.draw(st.sampled_from(HEADINGS + LINES))
    for each in (text, other, text):
        try:
            anew = load_toml(each, "shop")
        except Faults as faults:
            with pytest.raises(Faults) as found:
                tables.load(each, "shop")
            assert found.value.faults == faults.faults
        else:
            assert tables.load(each, "shop") == anew
            assert list(tables.load(each, "shop")) == list(anew)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_examples_are_read_by_their_tables(path):
    text = path.read_text(encoding="utf-8")
    tables = Tables()
    assert tables.load(text, "shop") == load_toml(text, "shop")
    before = tables.load(text, "shop")
    # What an edit leaves is not read anew.
    after = tables.load(text.replace("[wishes]", "[wishes] # mine"), "shop")
    kept = [key for key in before if key != "wishes" and isinstance(before[key], dict)]
    assert kept
    assert all(after[key] is before[key] for key in kept)
