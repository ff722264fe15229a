"""Files that are too large, too deep or not of this world are answered, never worked on for long."""

import os
import random
import threading
import tomllib
from pathlib import Path

import pytest
import typer
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from typer.testing import CliRunner

from kerfwind import limits
from kerfwind.air import suction_curve
from kerfwind.air.vacuum import power_finding
from kerfwind.checks.sizes_table import read_sizes
from kerfwind.cli import app
from kerfwind.cutting import Panel, Saw, SheetKind, cut_order, nest
from kerfwind.cutting.first import Ranked
from kerfwind.cutting.model import Piece, Rect
from kerfwind.cutting.order import _Bench, _named, _Namer, _ready, _Task
from kerfwind.cutting.problem import Part
from kerfwind.cutting.reading import read_cut_list
from kerfwind.faults import Faults, Refusal
from kerfwind.quantity import Draw
from kerfwind.shop import parse_shop, read_shop
from kerfwind.words import SaidRefusal
from tests.say import refused, to_do

EXAMPLES = Path(__file__).parents[1] / "examples"
TOOL = '[[tools]]\nname = "sander"\nhood = "pad holes"\n'


def fault_of(text: str) -> Refusal:
    return wrong_in(text).faults[0]


def wrong_in(text: str) -> Faults:
    with pytest.raises(Faults) as told:
        parse_shop(text)
    return told.value


def said_of(told: pytest.ExceptionInfo[Faults] | str) -> SaidRefusal:
    """The first fault in words, in the units of the file."""
    faults = wrong_in(told) if isinstance(told, str) else told.value
    return refused(faults.faults[0], faults.units or "in")


# --- before anything is read ---------------------------------------------------------------


@pytest.mark.parametrize("read", [read_shop, read_cut_list, read_sizes])
def test_a_file_too_large_is_known_before_it_is_read(read, tmp_path):
    """A sparse file of a terabyte: reading it would not end."""
    path = tmp_path / "list.csv"
    with path.open("wb") as file:
        file.truncate(10**12)
    with pytest.raises(Faults) as told:
        read(path)
    assert "1,000,000,000,000 bytes" in said_of(told).found
    assert said_of(told).mend


@pytest.mark.parametrize("read", [read_shop, read_cut_list, read_sizes])
@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="no such device here")
def test_a_device_without_an_end_is_answered(read):
    with pytest.raises(Faults) as told:
        read(Path("/dev/zero"))
    assert said_of(told).found.startswith("more bytes than ")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes here")
def test_a_pipe_is_read_to_its_end(tmp_path):
    pipe = tmp_path / "shop.toml"
    os.mkfifo(pipe)
    writer = threading.Thread(target=lambda: pipe.write_text(TOOL))
    writer.start()
    assert read_shop(pipe).shop.tools[0].name == "sander"
    writer.join()


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("a = " + "[" * 30, "deep"),
        (".".join(["a"] * 950) + " = 1", "deep"),
        (f"[{'.'.join(['a'] * 950)}]", "deep"),
        ("x = " + "9" * 5000, "5,000 digits"),
        ("x = 0x" + "f" * 5000, "digits"),
    ],
)
def test_toml_that_would_choke_its_reader_is_answered(text, found):
    text = f"{TOOL}# [[[[[[[[[[[[[[[[[[\n{text}\n"
    assert found in said_of(text).found
    assert fault_of(text).line == 5


def test_brackets_in_texts_are_no_depth():
    shop = parse_shop(f'{TOOL}[about]\nnotes = """{"[" * 40} \\""" {"." * 40}"""\n').shop
    assert shop.about.notes.startswith("[[[")


@pytest.mark.parametrize("place", sorted(limits.ROWS))
def test_a_list_too_long_is_answered(place):
    *tables, key = place.split(".")
    rows = ", ".join(["{}"] * (limits.ROWS[place] + 1))
    head = f"[{'.'.join(tables)}]\n" if tables else ""
    text = f"{head}{key} = [{rows}]\n"
    assert fault_of(text).place == place
    assert said_of(text).allowed == f"up to {limits.ROWS[place]:,}"


def test_sessions_with_too_many_operations_in_all_are_answered():
    row = '[[sessions.operations]]\ntool = "sander"\ntime = "10 min"\n'
    day = '[[sessions]]\nname = "day {}"\n' + row * limits.OPERATIONS
    days = limits.ALL_OPERATIONS // limits.OPERATIONS
    parse_shop(TOOL + "".join(map(day.format, range(days))))
    text = TOOL + "".join(map(day.format, range(days + 1)))
    assert fault_of(text).place == "sessions"
    assert said_of(text).found.startswith("240 operations")


def test_two_hundred_thousand_unknown_keys_are_told_in_a_page(tmp_path):
    path = tmp_path / "shop.toml"
    path.write_text("".join(f"k{i} = 1\n" for i in range(40_000)) + TOOL)
    said = CliRunner().invoke(app, ["check", str(path)]).output
    assert said.count("mend:") == limits.FAULTS
    assert "and 39,950 more." in said
    assert "40,000 things to mend" in said
    path.write_text("".join(f"k{i}=1\n" for i in range(90_000)) + TOOL)
    assert "90,00" in CliRunner().invoke(app, ["check", str(path)]).output


def test_a_list_of_too_many_panels_is_answered(tmp_path):
    path = tmp_path / "panels.csv"
    rows = "".join(f"p{i},300 mm,200 mm\n" for i in range(limits.PANEL_ROWS + 1))
    path.write_text(f"name,length,width\n{rows}")
    with pytest.raises(Faults) as told:
        read_cut_list(path)
    assert "20,001 rows of panels" in said_of(told).found


def test_a_plan_of_many_tools_says_beforehand_how_long_it_takes(tmp_path, monkeypatch):
    def stop(*inputs, **more):
        asked.append(more["samples"])
        raise typer.Exit(0)

    asked: list[int] = []
    monkeypatch.setattr("kerfwind.plan.make_plan", stop)
    shop = tmp_path / "shop.toml"
    for count, said in ((200, "200 tools to plan: this takes up to about 8 minutes."), (10, "")):
        rows = (TOOL.replace("sander", f"sander {n}") for n in range(count))
        shop.write_text("".join(rows), encoding="utf-8")
        words = ["plan", str(shop), "--out", str(tmp_path / "out")]
        assert CliRunner().invoke(app, words).output.strip() == said
    # Each sample of each tool's air has its bytes.
    assert asked == [1024, 2048]


# --- what it costs ---------------------------------------------------------------------------


def some_panels(count: int) -> list[Panel]:
    chance = random.Random(3)
    return [
        Panel(f"p{i}", chance.randint(90, 700) / 1000, chance.randint(60, 400) / 1000)
        for i in range(count)
    ]


def bench_work(count: int) -> int:
    sheet = SheetKind("sheet", 2.44, 1.22)
    found = nest(some_panels(count), [sheet], Saw(), budget=0)
    namer = _Namer()
    tasks = [
        _Task(s, s.tree, Rect(0, 0, 2.44, 1.22), Piece("sheet", s.number)) for s in found.sheets
    ]
    ready = [r for t in tasks if (r := _ready(t, Saw(), namer)) is not None]
    bench = _Bench(_named(ready, Saw(), namer), 1)
    line, _ = bench.run()
    cuts = sum(len(s.cuts) for s in cut_order(found, Saw()))
    assert len(line) == cuts > count / 2
    return bench.work


def test_twice_the_panels_cost_twice_the_work_to_order():
    assert bench_work(400) < 2.6 * bench_work(200)


def test_a_large_rectangle_is_filled_without_looking_at_all_parts():
    """The heaviest of ten thousand fits: nothing after it is looked at."""
    parts = [Part(1000 + i, 500 + i, i % 2 == 0, 1) for i in range(10_000)]
    ranked = Ranked(parts, [float(p.area) for p in parts])
    left = [1] * len(parts)
    ranked.begin(left)
    for step in range(50):
        i, w, h, _ = ranked.best(50_000, 50_000, left, 0.0)
        assert (i, {w, h}) == (9_999 - step, {10_999 - step, 10_499 - step})
        left[i] = 0
    assert ranked.looks < 50 * 200


def test_few_and_many_parts_are_chosen_alike(monkeypatch):
    chance = random.Random(8)
    parts = [
        Part(chance.randint(20, 90), chance.randint(20, 90), chance.random() < 0.5, 2)
        for _ in range(200)
    ]
    weights = [float(p.area) for p in parts]
    few = Ranked(parts, weights)
    monkeypatch.setattr("kerfwind.cutting.first._MANY", 10)
    many = Ranked(parts, weights)
    left = [2] * len(parts)
    few.begin(left)
    many.begin(left)
    for _ in range(300):
        size = (chance.randint(15, 100), chance.randint(15, 100), left, chance.choice([0.0, 0.3]))
        chosen = few.best(*size)
        assert many.best(*size) == chosen
        if chosen[0] >= 0:
            left[chosen[0]] -= 1


# --- what cannot be in a workshop ---------------------------------------------------------------


def test_more_air_than_electricity_is_refused():
    """60 kPa times 500 L/s is 30 kW; a quarter of it, 7.5 kW, is the most of a straight curve."""
    vacuum = '[vacuum]\namps = "11.5 A"\n[vacuum.suction]\nsealed = "60 kPa"\n'
    text = f'{TOOL}{vacuum}open_airflow = "500 L/s"\n[circuit]\nvolts = "120 V"\n'
    assert "7,500 W of air from 1,380 W of electricity" in said_of(text).found
    assert fault_of(text).place == "vacuum.suction.open_airflow"
    point = '[vacuum]\namps = "5 A"\nsuction = { points = [{ airflow = "60 L/s", suction = "20 kPa" }, { airflow = "90 L/s", suction = "1 kPa" }] }\n'
    assert "1,200 W of air" in said_of(f"{TOOL}{point}").found


def test_a_doubtful_air_power_is_asked_about():
    """20 kPa and 110 L/s make 550 W or more of 1380 W: two fifths, and a usual one has a quarter."""
    text = f'{TOOL}[vacuum]\namps = "11.5 A"\nsuction = {{ sealed = "20 kPa ± 0.1", open_airflow = "110 L/s ± 1" }}\n'
    text += '[circuit]\nvolts = "120 V"\n'
    draw = Draw(200)
    shop = parse_shop(text).shop
    asked = power_finding(shop, suction_curve(shop, draw), draw)
    assert asked is not None
    assert asked.level in ("problem", "unknown", "advice")
    assert "home test" in to_do(asked)
    assert "vacuum.suction.home_test" in asked.measure


@pytest.mark.parametrize("example", sorted(EXAMPLES.glob("*.toml")), ids=lambda p: p.stem)
def test_a_usual_vacuum_passes(example):
    shop = read_shop(example).shop
    draw = Draw(200)
    assert power_finding(shop, suction_curve(shop, draw), draw) is None


@pytest.mark.parametrize(
    ("table", "line"),
    [
        ("vacuum", 'width = "1 mm"'),
        ("vacuum", 'height = "40 mm"'),
        ("vacuum", 'inlet = { inside = "1 mm" }'),
        ("separator.bucket", 'height = "5 m"'),
        ("saw", 'kerf = "60 mm"'),
        ("wishes", 'narrowest_door = "20 mm"'),
    ],
)
def test_what_no_hand_builds_is_refused(table, line):
    text = f"{TOOL}[{table}]\n{line}\n"
    assert fault_of(text).place.startswith(f"{table}.{line.split()[0]}")
    assert " from " in said_of(text).allowed


def test_a_hose_of_a_kilometre_is_refused():
    hose = '[[hoses]]\nname = "long"\nbore = "50 mm"\nlength = "1000 m"\n'
    assert fault_of(f"{TOOL}{hose}").place == "hoses[long].length"


def test_a_bucket_holds_no_more_than_its_outside():
    """0.3 m across and 0.4 m high is 28 L (π/4 × 0.3² × 0.4)."""
    bucket = '[separator.bucket]\ntop_diameter = "300 mm"\nbottom_diameter = "300 mm"\n'
    text = f'{TOOL}{bucket}rim_diameter = "310 mm"\nheight = "400 mm"\nvolume = "60 L"\n'
    assert "28.3 L outside" in said_of(text).found


@pytest.mark.parametrize(("volume", "kept"), [("15 L", False), ("20 L", True), ("28 L", True)])
def test_a_bucket_holds_no_less_than_its_sizes_say(volume, kept):
    """Its wall taken off, 0.296 m across and 0.398 m high is 27.4 L to the brim."""
    text = (
        f'{TOOL}[separator.bucket]\ntop_diameter = "300 mm"\nbottom_diameter = "300 mm"\n'
        f'rim_diameter = "310 mm"\nheight = "400 mm"\nwall = "2 mm"\nvolume = "{volume}"\n'
    )
    if kept:
        assert parse_shop(text).shop.separator.bucket.volume.text == volume
        return
    assert "27.4 L or more to the brim" in said_of(text).found


def test_a_volume_is_not_held_against_sizes_that_were_assumed():
    text = f'{TOOL}[separator.bucket]\nvolume = "3 L"\nheight = "400 mm"\n'
    assert parse_shop(text).shop.separator.bucket.volume.text == "3 L"


def test_a_panel_thinner_than_the_cut_is_refused(tmp_path):
    path = tmp_path / "panels.csv"
    path.write_text("name,length,width\nA,600 mm,1.2 mm\n")
    with pytest.raises(Faults) as told:
        read_cut_list(path)
    assert "kerf" in said_of(told).allowed


@pytest.mark.parametrize(
    ("measured", "mend"), [("900 mm x 300 mm", "cut down"), ("300 mm x 600 mm", "swap the two")]
)
def test_a_short_panel_is_not_larger_than_planned(tmp_path, measured, mend):
    path = tmp_path / "panels.csv"
    path.write_text("name,length,width\nside,600 mm,300 mm\n")
    options = ["--out", str(tmp_path / "out"), "--done", "sheet 1", "--short", f"A = {measured}"]
    said = CliRunner().invoke(app, ["cut", str(path), *options])
    assert said.exit_code == 2
    assert "larger than A was planned" in said.output
    assert mend in said.output


# --- anything at all ---------------------------------------------------------------------------

ODD = [
    *("", "nan", "inf", "-1 mm", "0 mm", "1e308 mm", "9" * 39, "9" * 5000, "1/0 in", "1..2..3"),
    *("٣ mm", "½ in", "²", "1 mm ± 1e300", "1 mm..1e9 m", "🪚", "\u202e", "a" * 5000, "-0 mm"),
    *("1 mm ± 99 %", "60 kPa", "500 L/s", "20 m", "0.1 A", "none", "link hose"),
    *(0, -1, 10**39, 1e308, float("inf"), float("nan"), True, [], {}, [[]], [{}], {"a": {}}),
]


def written(value: object) -> str:
    """A value as TOML."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return '"' + "".join(f"\\U{ord(c):08X}" for c in value) + '"'
    if isinstance(value, dict):
        return "{" + ", ".join(f"{written(k)} = {written(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(written, value)) + "]"
    return repr(value)


def places(part: object) -> list[tuple[object, object]]:
    """Every table or list with each of its keys."""
    rows = part.items() if isinstance(part, dict) else enumerate(part)
    found: list[tuple[object, object]] = []
    for key, value in list(rows):
        found.append((part, key))
        if isinstance(value, (dict, list)):
            found += places(value)
    return found


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(
    st.sampled_from(sorted(EXAMPLES.glob("*.toml"))),
    st.lists(st.tuples(st.integers(0, 10**6), st.sampled_from(ODD)), min_size=1, max_size=3),
)
def test_whatever_stands_in_a_file_it_is_read_or_answered(example, changes):
    data = tomllib.loads(example.read_text(encoding="utf-8"))
    for number, value in changes:
        every = places(data)
        table, key = every[number % len(every)]
        table[key] = value
    text = "\n".join(f"{written(k)} = {written(v)}" for k, v in data.items())
    try:
        parse_shop(text)
    except Faults as told:
        said = [refused(f) for f in told.faults]
        assert all(s.found and s.allowed and s.mend for s in said)
        assert len(str(told)) < 200_000


def test_more_sheets_than_a_pdf_holds_are_files_beside_it(tmp_path, monkeypatch):
    monkeypatch.setattr(limits, "SHEETS_ON_PAPER", 1)
    asked = {}

    def typeset(template, data, drawings):
        if template == "cut-list.typ":
            asked.update(data, drawn=list(drawings))
        return b"%PDF"

    monkeypatch.setattr("kerfwind.printed.cutlist.typeset", typeset)
    path = tmp_path / "panels.csv"
    path.write_text("name,length,width\n" + "".join(f"s{n},{n} m,1 m\n" for n in (2, 2.1, 2.2)))
    said = CliRunner().invoke(app, ["cut", str(path), "--out", str(tmp_path / "out")])
    assert said.exit_code == 0, said.output
    assert asked["drawn"] == ["sheet-1.svg"]
    assert "sheets 2 to 3 are drawn in files beside this one" in asked["assumed"]
    assert (tmp_path / "out" / "sheet-3.svg").exists()
