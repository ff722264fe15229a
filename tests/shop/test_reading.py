"""Shop files: read whole, or answered with every fault in them."""

import re
import tomllib
import typing
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kerfwind.quantity import Quantity
from kerfwind.shop import Faults, parse_shop, read_shop
from kerfwind.shop.catalogue import trade_words
from kerfwind.shop.catalogue.hoods import HOODS
from kerfwind.shop.positions import KeyLines
from kerfwind.shop.schema import fields_of_file
from kerfwind.shop.writing import change_shop, changed_text
from kerfwind.view.schema import shop_schema
from kerfwind.words import Voice
from tests.say import all_refused, refused
from tests.say import text as in_words
from tests.shops import shop_path

BROKEN = Path(__file__).parent / "broken"
EXAMPLES = Path(__file__).parents[2] / "examples"
STARTER = Path(__file__).parents[2] / "src" / "kerfwind" / "shop" / "starter.toml"

# file, line, field, part of what was found, part of how to mend it
ANSWERS = [
    ("wrong_unit", 2, "vacuum.height", "21 lb", "mass"),
    ("no_unit", 2, "vacuum.height", "21", "which unit"),
    ("bare_number", 2, "vacuum.height", "bare number 21", "quotes"),
    ("which_gallon", 2, "vacuum.tank", "9 gal", "US gal"),
    ("impossible_size", 2, "vacuum.height", "90 ft", "Check the number"),
    ("impossible_suction", 2, "vacuum.suction.sealed", "12 bar", "Check the number"),
    ("negative", 2, "vacuum.width", "-18 in", "without a sign"),
    ("unknown_key", 2, "vacuum.hieght", "unknown key", "`height`"),
    ("unknown_table", 1, "vaccum", "unknown key", "`vacuum`"),
    ("unknown_hood", 3, "tools[sander].hood", "pad hole", "`pad holes`"),
    ("unknown_choice", 2, "wishes.form", "towr", "`tower`"),
    ("missing_reference", 4, "tools[sander].hose", "blue hose", "`big hose`"),
    ("no_tool_hose", 1, "hoses", "no hose that goes to the tools", "leave all hoses out"),
    ("many_hoses", 52, "hoses[hose 12]", "13 hoses for tools", "never go to a tool"),
    ("link_to_a_tool", 9, "tools[sander].hose", "no hose for tools", "`big hose`"),
    ("missing_sheet", 2, "wishes.sheet", "oak", "name of one sheet"),
    ("missing_name", 1, "tools[1].name", "missing", "Add `name"),
    ("same_name_twice", 6, "tools[sander]", "a second `sander`", "Add a word"),
    ("no_tools", 1, "tools", "empty list", "[[tools]]"),
    ("nothing_yet", 1, "tools", "no tool", "[[tools]]"),
    ("control_character", 2, "tools[1].name", "U+001B", "Take it out"),
    ("empty_name", 2, "tools[1].name", "empty name", "what you call it"),
    ("long_name", 2, "tools[1].name", "100 characters", "Shorten"),
    ("long_word", 2, "tools[1].name", "a word of 36 characters", "Put a space"),
    ("giant_wheel", 2, "wishes.caster_diameter", "20 m", "Check the number"),
    ("low_caster", 3, "wishes.caster_height", "2 in high", "caster's plate"),
    ("toml_unclosed", 2, "", "21 in", "quotes"),
    ("toml_twice", 3, "", "height", "keep one"),
    ("text_for_number", 4, "tools[sander].bends", "three", "without quotes"),
    ("table_expected", 4, "tools[sander].port", "57.2 mm", "{ outside ="),
    ("range_backwards", 2, "vacuum.suction.sealed", "70..60", "Swap"),
    ("comma", 2, "separator.bucket.wall", "2,1 mm", "comma"),
    ("volume_of_another_bucket", 8, "separator.bucket.volume", "whose sizes hold", "the volume"),
    ("bucket_upside_down", 3, "separator.bucket.bottom_diameter", "wider than the top", "Swap"),
    ("box_with_a_diameter", 2, "separator.bucket.shape", "a box has no diameter", "top_diameter"),
    ("round_with_a_width", 2, "separator.bucket.top_width", "a round bucket has none", "top_width"),
    ("wide_corner", 5, "separator.bucket.corner", "half its narrow side", "radius"),
    ("missing_second_sheet", 2, "wishes.second_sheet", "`oak`", "name of one sheet"),
    ("unknown_second_panel", 2, "wishes.second_panels[1]", "`shelve`", "`shelf`"),
    ("second_panels_no_list", 2, "wishes.second_panels", "`shelf`", '["lipping"]'),
    ("inside_larger", 4, "tools[sander].port.inside", "not inside", "Swap"),
    ("rising_curve", 4, "vacuum.suction.points[2]", "more suction at more airflow", "again"),
    ("plate_beside_a_port", 5, "tools[drill].made", "beside a port", "Remove `port`"),
    ("bored_guard", 4, "tools[saw].made", "on a guard", "saw cabinet"),
    ("box_without_a_face", 3, "tools[lathe].hood", "without the face", "opening ="),
    ("opening_without_making", 4, "tools[drill].opening", "nothing to cover it", "plate"),
    ("side_of_a_plate", 5, "tools[drill].bored", "`side`, of a plate", "hood box"),
    ("outline_without_place", 4, "tools[drill].size", "without a place", "middle stands"),
    ("outline_through_a_wall", 9, "tools[drill].place", "200 mm beyond a wall", "Measure place"),
    ("binary", 0, "", "binary file", "shop file"),
    ("latin1", 2, "", "not UTF-8", "UTF-8"),
    ("one_bracket", 4, "hoses", "a table", "[[hoses]]"),
]


@pytest.mark.parametrize(
    ("line", "mend"),
    [
        ('amps = "1400 W"', "`6.1 A` at 230 V, `11.7 A` at 120 V"),  # 1400 / 230, 1400 / 120
        ('amps = "1.4 kW"', "`6.1 A` at 230 V"),
        ('weight = "8,5 kg"', "write `8.5 kg`"),
        ('height = "1,250 mm"', "write `1250 mm` or `1.250 mm`"),
        ('height = "20 in"\n[about]\nlanguage = "English"', "leave `language` out"),
    ],
)
def test_a_slip_is_answered_with_what_was_meant(line, mend):
    with pytest.raises(Faults) as told:
        parse_shop(f'[vacuum]\n{line}\n[[tools]]\nname = "a"\nhood = "pad holes"\n')
    assert mend in refused(told.value.faults[0]).mend


@pytest.mark.parametrize("units", ["in", "mm"])
def test_a_name_that_the_program_gave_may_be_written(units):
    """The plan and `kerfwind carry` print the names of hoses and sheets that no one listed."""
    tool = f'[about]\nunits = "{units}"\n[[tools]]\nname = "a"\nhood = "pad holes"\n'
    usual = parse_shop(tool).shop
    hose = next(h.name for h in usual.hoses if h.use == "tool")
    for sheet in usual.sheets:
        again = parse_shop(f'{tool}hose = "{hose}"\n[wishes]\nsheet = "{sheet.name}"\n').shop
        assert (again.tools[0].hose, again.wishes.sheet) == (hose, sheet.name)
    listed = f'{tool}hose = "{hose}"\n[[hoses]]\nname = "mine"\nbore = "50 mm"\nlength = "2 m"\n'
    with pytest.raises(Faults) as told:
        parse_shop(listed)
    assert "mine" in refused(told.value.faults[0]).allowed


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("sanding pad", "pad holes"),
        ("thickness planer", "planer hood"),
        ("router tabel", "router"),
        ("mitre saw", "mitre boot"),
        ("band saw", "band saw port"),
        ("lathe", "lathe hood"),
    ],
)
def test_a_hood_is_known_by_what_it_is(said, meant):
    with pytest.raises(Faults) as told:
        parse_shop(f'[[tools]]\nname = "a"\nhood = "{said}"\n')
    assert f"`{meant}" in refused(told.value.faults[0]).mend


def test_a_file_saved_as_utf_16_is_read(tmp_path):
    path = tmp_path / "shop.toml"
    path.write_text(STARTER.read_text(encoding="utf-8"), encoding="utf-16")
    assert read_shop(path).shop == read_shop(STARTER).shop


def test_an_answer_steers_no_terminal():
    with pytest.raises(Faults) as caught:
        parse_shop('[vacuum]\nheight = "\\u001b[2J"\n[[tools]]\nname = "a"\nhood = "pad holes"\n')
    assert "\x1b" not in all_refused(caught.value)
    assert "\\x1b" in all_refused(caught.value)


@pytest.mark.parametrize(("name", "line", "field", "found", "mend"), ANSWERS)
def test_a_broken_file_is_answered(name, line, field, found, mend):
    with pytest.raises(Faults) as caught:
        read_shop(BROKEN / f"{name}.toml")
    [fault] = caught.value.faults
    assert (fault.line, fault.place) == (line, field)
    said = refused(fault, caught.value.units or "in")
    assert found in said.found
    assert mend in said.mend
    assert said.allowed
    assert str(BROKEN / f"{name}.toml") == fault.file


def test_all_faults_come_in_one_go():
    with pytest.raises(Faults) as caught:
        read_shop(BROKEN / "many_at_once.toml")
    fields = [f.place for f in caught.value.faults]
    assert fields == [
        "vacuum.height",
        "vacuum.widht",
        "saw.kerf",
        "saw.kind",
        "tools[sander].bends",
    ]


def test_every_broken_file_is_in_a_test():
    named = {row[0] for row in ANSWERS} | {"many_at_once"}
    assert {p.stem for p in BROKEN.glob("*.toml")} == named


def test_a_folder_or_a_missing_file_is_answered(tmp_path):
    for path, found in ((tmp_path, "a folder"), (tmp_path / "x.toml", "no such file")):
        with pytest.raises(Faults) as told:
            read_shop(path)
        assert refused(told.value.faults[0]).found == found


@pytest.mark.parametrize("name", ["garage", "cellar", "labels", "boathouse"])
def test_examples_are_read_and_hold_to_the_schema(name):
    path = EXAMPLES / f"{name}.toml"
    file = read_shop(path)
    jsonschema.validate(tomllib.loads(path.read_text(encoding="utf-8")), shop_schema(Voice()))
    assert all(a.path and in_words(a.why) and in_words(a.value) for a in file.assumptions)


@pytest.mark.parametrize("units", ["in", "mm", "both"])
def test_what_is_assumed_is_told_in_the_units_of_the_shop(units):
    """A metric shop was told that its vacuum is 17..21 in long."""
    text = (
        f'[about]\nname = "s"\nunits = "{units}"\n[vacuum]\nname = "v"\ntank = "9 US gal"\n[separator.bucket]\n'
        '[[tools]]\nname = "t"\nhood = "pad holes"\n'
    )
    told = {
        a.path: Voice(units=units).text(a.value)
        for a in parse_shop(text).assumptions
        if not a.path.endswith(("nominal", "name"))
    }
    assert (
        told["vacuum.length"]
        == {"in": "17 to 21 in", "mm": "432 to 533 mm", "both": "17 to 21 in (432 to 533 mm)"}[
            units
        ]
    )
    inches = re.compile(r"\d (in|ft|lb|US gal|inH2O|cfm|°F)\b")
    metric = re.compile(r"\d (mm|m|kg|L|kPa|m³/h|°C)(?=\W|$)")
    assert len(told) > 80
    assert sum(bool(inches.search(t)) for t in told.values()) >= (0 if units == "mm" else 30)
    assert sum(bool(metric.search(t)) for t in told.values()) >= (0 if units == "in" else 30)
    if units == "mm":
        assert not [t for t in told.values() if inches.search(t)]
    if units == "in":
        assert not [t for t in told.values() if metric.search(t)]


def _quantities(part):
    if isinstance(part, Quantity):
        yield part
    elif isinstance(part, tuple):
        for item in part:
            yield from _quantities(item)
    elif hasattr(type(part), "model_fields"):
        for name in type(part).model_fields:
            yield from _quantities(getattr(part, name))


def test_every_quantity_knows_its_place_and_standing():
    file = read_shop(shop_path("one_car"))
    found = list(_quantities(file.shop))
    assert len({q.path for q in found}) == len(found) > 150
    by_path = {q.path: q for q in found}
    assert by_path["vacuum.height"].standing == "measured"
    assert by_path["vacuum.amps"].standing == "label"
    assert by_path["tools[bench table saw].port.outside"].standing == "assumed"
    assert by_path["wishes.caster_load"].standing == "chosen"
    assumed = {a.path for a in file.assumptions}
    assert {q.path for q in found if q.assumed} <= assumed


def _parts(part):
    if hasattr(type(part), "model_fields"):
        yield part
        for name in type(part).model_fields:
            yield from _parts(getattr(part, name))
    elif isinstance(part, tuple):
        for item in part:
            yield from _parts(item)


def test_only_a_tool_need_be_given():
    shop = parse_shop('[[tools]]\nname = "sander"\nhood = "pad holes"\n').shop
    for part in _parts(shop):
        for name, field in type(part).model_fields.items():
            if type(None) not in typing.get_args(field.annotation):
                assert getattr(part, name) is not None, f"{type(part).__name__}.{name}"
    assert all(isinstance(q, Quantity) for q in _quantities(shop))
    assert shop.vacuum.height.assumed


def test_the_starter_is_a_shop_file_also_with_every_remark_taken_away():
    text = STARTER.read_text(encoding="utf-8")
    parse_shop(text)
    opened = re.sub(r"(?m)^# (?=(\[\[|\w+ = |\]|    \{))", "", text)
    shop = parse_shop(opened, "starter, opened").shop
    jsonschema.validate(tomllib.loads(opened), shop_schema(Voice()))
    assert [hose.use for hose in shop.hoses] == ["tool", "link"]
    assert len(shop.fittings) == len(shop.sheets) == len(shop.branches) == len(shop.built) == 1


def test_the_starter_tells_of_every_field():
    text = STARTER.read_text(encoding="utf-8")
    for field in fields_of_file():
        name = re.escape(field.name)
        told = re.search(rf"(?m)\b{name}\s*=", text) or re.search(
            rf"(?m)^(# )?\[+{re.escape(field.path)}\]", text
        )
        assert told, field.path


def test_lines_of_keys():
    text = (EXAMPLES / "garage.toml").read_text(encoding="utf-8")
    lines = KeyLines(text).every
    rows = text.splitlines()
    assert len(lines) > 200
    for path, line in lines.items():
        if path and isinstance(path[-1], str):
            assert path[-1] in rows[line - 1], (path, line)


@given(st.text(max_size=200))
def test_any_text_is_a_shop_or_is_answered(text):
    try:
        parse_shop(text)
    except Faults as error:
        assert error.faults


_VALUES = st.recursive(
    st.one_of(st.integers(-5, 5), st.booleans(), st.text(max_size=8), st.floats(allow_nan=False)),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(["name", "inside", "hood", "bore", "suction"]), inner, max_size=3
        )
    ),
    max_leaves=6,
)


@given(
    st.dictionaries(
        st.sampled_from(
            ["vacuum", "tools", "hoses", "separator", "saw", "fittings", "sheets", "wishes"]
        ),
        st.one_of(
            _VALUES,
            st.dictionaries(
                st.sampled_from(["tank", "inlet", "suction", "bucket", "height", "kerf"]), _VALUES
            ),
            st.lists(st.dictionaries(st.sampled_from(["name", "hood", "port", "bore"]), _VALUES)),
        ),
    )
)
def test_any_shape_of_data_is_answered(data):
    import tomlkit

    try:
        parse_shop(tomlkit.dumps(data))
    except Faults as error:
        assert all(refused(f).mend and refused(f).allowed for f in error.faults)


def test_writing_keeps_comments_and_order(tmp_path):
    path = tmp_path / "garage.toml"
    text = (EXAMPLES / "garage.toml").read_text(encoding="utf-8")
    path.write_text(text, encoding="utf-8")
    change_shop(path, {("vacuum", "height"): "21-1/4 in", ("tools", 1, "bends"): 4})
    after = path.read_text(encoding="utf-8")
    changed = [(a, b) for a, b in zip(text.splitlines(), after.splitlines(), strict=True) if a != b]
    assert [b.split("#")[0].strip() for _, b in changed] == ['height = "21-1/4 in"', "bends = 4"]
    assert "# floor to the top of the handle" in after
    assert [p.name for p in tmp_path.iterdir()] == ["garage.toml"]


def test_a_change_that_would_not_do_leaves_the_file(tmp_path):
    path = tmp_path / "a.toml"
    path.write_text('[[tools]]\nname = "sander"\nhood = "pad holes"\n', encoding="utf-8")
    before = path.read_bytes()
    with pytest.raises(Faults):
        change_shop(path, {("vacuum", "height"): "21 lb"})
    assert path.read_bytes() == before
    with pytest.raises(KeyError):
        changed_text(before.decode(), {("tools", 7, "bends"): 2})


def test_what_is_left_out_of_a_drum_or_box_follows_from_what_was_measured():
    tool = '[[tools]]\nname = "sander"\nhood = "pad holes"\n'
    drum = parse_shop(
        '[separator.bucket]\nshape = "drum"\ntop_diameter = "600 mm"\n' + tool
    ).shop.separator.bucket
    assert drum.bottom[0].best_si == drum.top[0].best_si
    assert drum.rim[0].low_si > drum.top[0].high_si
    assert drum.is_round
    box = parse_shop(
        '[separator.bucket]\nshape = "box"\ntop_length = "900 mm"\ntop_width = "700 mm"\n'
        'rim_drop = "0 mm"\n' + tool
    ).shop.separator.bucket
    assert box.rim[0].text == box.top[0].text
    assert [q.best_si for q in box.rim] == pytest.approx([0.7, 0.9])
    assert all(b.high_si <= t.best_si + 1e-9 for b, t in zip(box.bottom, box.top, strict=True))
    assert not box.is_round


@pytest.mark.parametrize(
    ("given", "found", "mend"),
    [('["handel"]', "`handel`", "`handle`"), ('"handle"', "`handle`", '["handle"]')],
)
def test_a_wrong_option_says_which_there_are(given: str, found: str, mend: str) -> None:
    text = f'[wishes]\noptions = {given}\n[[tools]]\nname = "a"\nhood = "pad holes"\n'
    with pytest.raises(Faults) as raised:
        parse_shop(text)
    [fault] = raised.value.faults
    assert fault.line == 2
    assert fault.place.startswith("wishes.options")
    assert refused(fault).found == found
    assert mend in refused(fault).mend


def test_what_cannot_be_together_is_told_beside_a_missing_reference():
    text = """
[[hoses]]
name = "big hose"
bore = "58 mm"
length = "8 ft"
[[tools]]
name = "sander"
hood = "pad holes"
hose = "red hose"
port = { inside = "36 mm", outside = "35 mm" }
"""
    with pytest.raises(Faults) as caught:
        parse_shop(text)
    assert [f.place for f in caught.value.faults] == [
        "tools[sander].hose",
        "tools[sander].port.inside",
    ]


def _tool(*, hood="pad holes", more=""):
    return f'[[tools]]\nname = "a"\nhood = "{hood}"\n{more}'


def _asked(text):
    with pytest.raises(Faults) as caught:
        parse_shop(text)
    return all_refused(caught.value)


@pytest.mark.parametrize(
    ("written", "candidates"),
    [
        ("table saw", ["saw cabinet", "blade guard"]),
        ("tablesaw", ["saw cabinet", "blade guard"]),
        ("miter saw", ["mitre boot"]),
        ("Chop Saw", ["mitre boot"]),
        ("sander", ["pad holes", "belt shroud", "disc table"]),
        ("random orbit sander", ["pad holes"]),
        ("belt sander", ["belt shroud", "disc table"]),
        ("disk sander", ["disc table"]),
        ("bandsaw", ["band saw port"]),
        ("jigsaw", ["saw shroud"]),
        ("router", ["router base", "router fence"]),
        ("router table", ["router fence"]),
        ("thickness planer", ["planer hood"]),
        ("planer", ["planer hood", "jointer chute"]),
        ("jointer", ["jointer chute"]),
        ("lathe", ["lathe hood", "hood box", "bench nozzle"]),
        ("drill press", ["drill fence"]),
        ("shop vac hose", ["bench nozzle", "floor nozzle"]),
        ("pad hole", ["pad holes"]),
    ],
)
def test_a_tools_own_name_leads_to_its_hoods_and_to_no_other(written, candidates):
    mend = _asked(_tool(hood=written)).rpartition("mend:")[2]
    told = {hood for hood in HOODS if f"`{hood}`" in mend}
    assert told == set(candidates)


def test_every_hood_that_trade_words_lead_to_is_one():
    for entry, hoods in trade_words._HOODS.items():
        assert set(hoods) <= set(HOODS), entry
        assert trade_words.hoods_meant(entry), entry
    for hood in HOODS:
        assert any(hood in hoods for hoods in trade_words._HOODS.values()), hood
    fields = {f.name for f in fields_of_file()}
    for key, choices in trade_words._CHOICES.items():
        assert key in fields
        assert all(choices.values())
    for keys in trade_words._KEYS.values():
        assert set(keys) <= fields, keys


@pytest.mark.parametrize("written", ["2-1/2 in", '2.5\\"', "2 1/2 in", "2½ in", "2-1/2 in port"])
def test_an_end_may_be_written_as_the_name_of_its_size(written):
    short = parse_shop(_tool(more=f'port = "{written}"\n')).shop.tools[0].port
    long = parse_shop(_tool(more='port = { nominal = "2-1/2 in" }\n')).shop.tools[0].port
    assert short.outside.assumed
    assert (short.outside.low_si, short.outside.high_si) == (
        long.outside.low_si,
        long.outside.high_si,
    )
    jsonschema.validate(tomllib.loads(_tool(more=f'port = "{written}"\n')), shop_schema(Voice()))


def test_a_measured_size_is_asked_which_way_it_was_measured():
    assert "inside = " in _asked(_tool(more='port = "57.2 mm ± 0.3"\n'))


def test_a_field_of_an_end_can_be_set_where_its_name_stands():
    text = _tool(more='port = "2-1/2 in"\n')
    after = changed_text(text, {("tools", 0, "port", "outside"): "63 mm"})
    port = parse_shop(after).shop.tools[0].port
    assert port.nominal == "2-1/2 in"
    assert port.outside.best_si == pytest.approx(0.063)


@pytest.mark.parametrize("written", ["5 gal", "5 gallon", "5-gallon", "5 gallons", "5 Gal."])
def test_a_five_gallon_bucket_is_understood_and_said(written):
    file = parse_shop(_tool() + f'[separator.bucket]\nvolume = "{written}"\nheight = "14 in"\n')
    assert file.shop.separator.bucket.volume.best_si == pytest.approx(5 * 231 * 0.0254**3)
    [put] = [a for a in file.assumptions if a.path == "separator.bucket.volume"]
    assert "US" in in_words(put.why)
    # Where people measure in millimetres or spell as in Britain, it could be the other gallon.
    for also in (
        '[vacuum]\nheight = "500 mm"\nwidth = "400 mm"\n',
        '[about]\nlanguage = "en-GB"\n',
    ):
        assert "US gal" in _asked(_tool() + also + f'[separator.bucket]\nvolume = "{written}"\n')


def test_both_spellings_are_one_word():
    shop = parse_shop(
        _tool(hood="Miter boot") + '[separator.bucket]\nmade_of = "fiber"\nshape = "drum"\n'
    ).shop
    assert shop.tools[0].hood == "mitre boot"
    assert shop.separator.bucket.made_of == "fibre"


@pytest.mark.parametrize(
    ("text", "near"),
    [
        ('[wishes]\nform = "side by side"\n', "`low`"),
        ('[wishes]\njoint = "pocket screws"\n', "`pocket hole`"),
        ('[separator.bucket]\nmade_of = "metal"\n', "`steel`"),
        ('[vacuum]\ncapacity = "9 US gal"\n', "`tank`"),
        ('[vacuum.suction]\ncfm = "100 cfm"\n', "`open_airflow`"),
        ('[wishes]\ndoor = "29 in"\n', "`narrowest_door`"),
        ('[wishes]\nbench_height = "33 in"\n', "`under_bench`"),
        ("[wishes]\ndrawer = true\n", "`options`"),
        ('[wishes]\nwidth = "30 in"\n', "`largest_width`"),
    ],
)
def test_what_was_meant_is_found_by_meaning(text, near):
    assert f"Did you mean {near}" in _asked(_tool() + text)
