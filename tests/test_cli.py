"""The command line as a person meets it: whole processes, piped."""

import json
import os
import pty
import subprocess
import sys
from pathlib import Path

import pytest

from kerfwind.shop import parse_shop
from tests.shops import shop_path

ROOT = Path(__file__).parents[1]
EXAMPLES = ROOT / "examples"
TOOL = '\n[[tools]]\nname = "a"\nhood = "pad holes"\n'
BROKEN = ROOT / "tests" / "shop" / "broken"


def run(*words, cwd=ROOT):
    return subprocess.run(
        [sys.executable, "-m", "kerfwind", *map(str, words)],
        cwd=cwd,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )


def test_help_tells_a_newcomer_where_to_start():
    told = run("--help")
    assert told.returncode == 0
    assert "kerfwind new" in told.stdout
    for command in ("plan", "check", "new", "schema", "sources", "carry", "cut"):
        assert f"\n  {command} " in told.stdout
        assert run(command, "--help").returncode == 0


def test_plan_reports_and_says_where_the_results_are(tmp_path):
    told = run("plan", EXAMPLES / "labels.toml", "--out", tmp_path / "out")
    assert told.returncode == 0, told.stderr
    assert "plan.pdf" in told.stdout
    assert "\x1b" not in told.stdout + told.stderr
    assert (tmp_path / "out" / "plan.pdf").stat().st_size > 10_000
    assert told.stderr == ""


def test_plan_as_json_prints_json_alone(tmp_path):
    told = run("plan", EXAMPLES / "labels.toml", "--out", tmp_path / "out", "--json")
    assert json.loads(told.stdout)["kerfwind"]


def test_what_is_printed_goes_to_its_file_while_a_terminal_is_watched(tmp_path):
    ours, theirs = pty.openpty()
    words = ["plan", str(EXAMPLES / "labels.toml"), "--out", str(tmp_path / "out"), "--json"]
    with (tmp_path / "printed.json").open("wb") as printed:
        going = subprocess.Popen(
            [sys.executable, "-m", "kerfwind", *words], cwd=ROOT, stdout=printed, stderr=theirs
        )
    os.close(theirs)
    watched = b""
    while True:
        try:
            more = os.read(ours, 65536)
        except OSError:
            break
        if not more:
            break
        watched += more
    os.close(ours)
    assert going.wait() == 0
    # A short stage may be over before its name was drawn.
    assert any(stage in watched for stage in (b"choosing fittings", b"drawing", b"setting the"))
    assert json.loads((tmp_path / "printed.json").read_text(encoding="utf-8"))["kerfwind"]


def test_a_reader_who_leaves_early_costs_no_file(tmp_path):
    words = ["plan", str(EXAMPLES / "labels.toml"), "--out", str(tmp_path)]
    with subprocess.Popen(
        [sys.executable, "-m", "kerfwind", *words],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as going:
        going.stdout.close()
        told = going.stderr.read()
    assert b"Traceback" not in told
    assert (tmp_path / "plan.pdf").stat().st_size > 10_000


@pytest.mark.parametrize("words", [("check", EXAMPLES / "labels.toml"), ("sources",), ("schema",)])
def test_the_status_is_the_answers_whoever_reads(words):
    heard = run(*words)
    with subprocess.Popen(
        [sys.executable, "-m", "kerfwind", *map(str, words)],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as going:
        going.stdout.close()
        assert going.stderr.read() == b""
    assert going.wait() == heard.returncode == 0
    for closed in (">&-", "2>&-", "<&-"):
        line = f'exec "{sys.executable}" -m kerfwind {" ".join(map(str, words))} {closed}'
        told = subprocess.run(["sh", "-c", line], cwd=ROOT, capture_output=True, check=False)
        assert (told.returncode, told.stderr) == (0, b""), closed


def test_what_a_terminal_has_no_character_for_ends_no_plan():
    told = subprocess.run(
        [sys.executable, "-m", "kerfwind", "check", str(EXAMPLES / "garage.toml")],
        cwd=ROOT,
        capture_output=True,
        check=False,
        env={**os.environ, "PYTHONIOENCODING": "ascii"},
    )
    assert told.returncode == 0, told.stderr


def test_an_interrupt_while_it_starts_is_no_traceback():
    code = (
        "import signal, sys, kerfwind.__main__ as m\n"
        "class Stop:\n"
        "    def find_spec(self, name, path=None, target=None):\n"
        "        if name == 'kerfwind.cli': signal.raise_signal(signal.SIGINT)\n"
        "sys.meta_path.insert(0, Stop())\n"
        "m.main()\n"
    )
    told = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, check=False)
    assert (told.returncode, told.stderr) == (130, b"")


def test_a_fault_of_its_own_is_owned_to():
    code = (
        "import sys, kerfwind.__main__ as m, kerfwind.cli as c\n"
        "def fail(*_): raise ValueError('a box of no size')\n"
        "c.read_shop = fail\n"
        "sys.argv = ['kerfwind', 'check', 'shop.toml']\n"
        "m.main()\n"
    )
    told = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert told.returncode == 70
    assert "a box of no size" in told.stderr
    assert "fault of the program" in told.stderr
    assert "Traceback" not in told.stderr


@pytest.mark.parametrize("place", ["", ".", "no-such-folder/page.pdf"])
def test_a_page_that_can_be_put_nowhere_is_answered(place, tmp_path):
    told = run("measure-sheet", "--out", place, cwd=tmp_path)
    assert told.returncode == 2
    assert "--out" in told.stderr
    assert "mend:" in told.stderr
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("path", sorted(BROKEN.glob("*.toml")), ids=lambda p: p.stem)
def test_a_broken_file_ends_with_status_2_and_no_traceback(path):
    from typer.testing import CliRunner

    from kerfwind.cli import app

    told = CliRunner().invoke(app, ["check", str(path)])
    assert told.exit_code == 2
    assert path.name in told.stderr
    assert "mend:" in told.stderr
    assert "Traceback" not in told.output + told.stderr


@pytest.mark.parametrize(("units", "unit"), [("in", "inH2O"), ("mm", "kPa")])
def test_suction_that_no_room_allows_is_answered_in_the_readers_units(units, unit, tmp_path):
    """Each value could be; together they cannot, and only the air shows it."""
    shop = tmp_path / "high.toml"
    shop.write_text(
        f"""
[about]
units = "{units}"
[room]
altitude = "4900 m"
[vacuum.suction]
points = [
  {{ airflow = "0 L/s", suction = "44.9 kPa" }},
  {{ airflow = "40 L/s", suction = "5 kPa" }},
]
[[tools]]
name = "sander"
hood = "pad holes"
"""
    )
    for command in ("check", "test-sheet"):
        told = run(command, "high.toml", cwd=tmp_path)
        assert told.returncode == 2
        assert told.stderr.startswith("the vacuum's suction (`vacuum.suction`)")
        assert f"{unit} of suction in a room of" in told.stderr
        assert "Check the suction's unit and the room's altitude." in told.stderr
        assert "Nothing was written" in told.stderr
    assert [path.name for path in tmp_path.iterdir()] == ["high.toml"]


def test_a_folder_that_cannot_be_written_is_answered(tmp_path):
    blocked = tmp_path / "file"
    blocked.write_text("not a folder")
    told = run("plan", EXAMPLES / "labels.toml", "--out", blocked)
    assert told.returncode == 2
    assert "Traceback" not in told.stderr
    assert "mend:    A file stands where a folder should be" in told.stderr
    assert blocked.read_text() == "not a folder"


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="wants a device that is full")
@pytest.mark.parametrize("words", [("sources",), ("schema",), ("check", EXAMPLES / "labels.toml")])
def test_a_full_disk_is_answered(words):
    with Path("/dev/full").open("w") as full:
        told = subprocess.run(
            [sys.executable, "-m", "kerfwind", *map(str, words)],
            cwd=ROOT,
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert told.returncode == 2
    assert "Make room" in told.stderr
    assert "Traceback" not in told.stderr


def test_new_writes_a_file_that_can_be_checked_and_never_overwrites(tmp_path):
    assert run("new", "mine.toml", cwd=tmp_path).returncode == 0
    again = run("new", "mine.toml", cwd=tmp_path)
    assert again.returncode == 2
    assert "left alone" in again.stderr
    assert run("check", "mine.toml", cwd=tmp_path).returncode in (0, 1)
    assert [p.name for p in tmp_path.iterdir()] == ["mine.toml"]


def test_schema_and_sources_print(tmp_path):
    assert json.loads(run("schema").stdout)["title"]
    told = run("sources", "entry")
    assert told.returncode == 0
    assert "Ventilation" in told.stdout
    assert run("sources", "no-such-word").returncode == 2


def test_the_readme_names_every_command_and_no_other():
    import re

    from typer.main import get_command

    from kerfwind.cli import app

    text = (ROOT / "README.md").read_text(encoding="utf-8")
    table = set(re.findall(r"(?m)^\| `kerfwind ([\w-]+)", text))
    used = set(re.findall(r"kerfwind ([a-z][\w-]*)(?= (?:my-shop|FILE|`)|`)", text))
    commands = set(get_command(app).commands)
    assert table == commands
    assert used <= commands


def test_cut_lays_out_any_list(tmp_path):
    listed = tmp_path / "shelf.csv"
    listed.write_bytes(
        "\ufeffname;length (mm);width (mm);quantity;grain;kind;price\n"
        '"Side; left and right";1800;300;2;along;panel;\n'
        "Shelf;760;298;5;along;panel;\n"
        "plywood;2440;1220;;;sheet;74.00\n".encode()
    )
    told = run("cut", listed, "--out", tmp_path / "out")
    assert told.returncode == 0, told.stderr
    assert "fewest possible, proven" in told.stdout
    names = {"cuts.pdf", "labels.pdf", "cuts.csv", "buy.csv", "panels.csv", "sheet-1.svg"}
    names |= {"written-by-kerfwind.json"}
    assert {p.name for p in (tmp_path / "out").iterdir()} == names
    (tmp_path / "out" / "cuts.csv").write_text("ticked off: 1, 2")
    (tmp_path / "out" / "glue.txt").write_text("mine")
    again = run("cut", listed, "--out", tmp_path / "out")
    assert again.returncode == 0
    assert "Kept: cuts.csv, which you had changed, is now cuts (yours, " in again.stderr
    (kept,) = (tmp_path / "out").glob("cuts (yours, *).csv")
    assert kept.read_text() == "ticked off: 1, 2"
    assert {p.name for p in (tmp_path / "out").iterdir()} == {*names, kept.name, "glue.txt"}


@pytest.mark.parametrize("command", ["plan", "cut"])
def test_a_folder_of_a_persons_own_is_refused_before_any_work(tmp_path, command):
    (tmp_path / "panels.csv").write_text("name,length,width\nA,300 mm,200 mm\n")
    words = [command, tmp_path / "panels.csv" if command == "cut" else EXAMPLES / "labels.toml"]
    for place in ("", ".", tmp_path):
        told = run(*words, "--out", place, cwd=tmp_path)
        assert told.returncode == 2
        assert "--out" in told.stderr
        assert "mend:" in told.stderr
        assert told.stdout == ""
    assert [p.name for p in tmp_path.iterdir()] == ["panels.csv"]


def test_a_half_done_build_goes_on(tmp_path):
    listed = tmp_path / "shelf.csv"
    listed.write_text("name,length,width,quantity\nside,800 mm,500 mm,4\nback,1200 mm,700 mm,2\n")
    told = run("cut", listed, "--done", "1-2", "--out", tmp_path / "rest")
    assert told.returncode == 0, told.stderr
    assert "2 cuts made" in told.stdout
    assert "pieces and sheets" in told.stdout
    assert (tmp_path / "rest" / "cuts.pdf").exists()
    early = run("cut", listed, "--done", "99", "--out", tmp_path / "no")
    assert early.returncode == 2
    assert "--done" in early.stderr
    assert "Traceback" not in early.stderr
    assert not (tmp_path / "no").exists()


def test_carry_says_what_one_cart_carries_and_what_not(tmp_path):
    table = tmp_path / "sizes.csv"
    table.write_text(
        "kind,name,length,width,height,weight\nvacuum,low one,18 in,18 in,20 in,15 lb\n"
        "vacuum,tower of a vacuum,20 in,20 in,45 in,40 lb\n"
    )
    told = run("carry", shop_path("one_car"), table)
    assert told.returncode == 0, told.stderr
    assert "low one" in told.stdout
    assert "tower of a vacuum" in told.stdout.split("Does not carry")[1]
    table.write_text("kind,name\nbroom,a\n")
    wrong = run("carry", shop_path("one_car"), table)
    assert wrong.returncode == 2
    assert "sizes.csv, line 2, kind" in wrong.stderr


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("name,length,width\nA,3 m,1 m\n", "A"),
        ("name,length,width\nA,0 mm,10 mm\n", "over zero"),
        ("name,length,width,quantity\nA,10 cm,10 cm,1000000\n", "1000000"),
        ("", "found"),
    ],
)
def test_a_list_that_cannot_be_cut_is_answered(tmp_path, text, says):
    listed = tmp_path / "list.csv"
    listed.write_text(text)
    told = run("cut", listed, "--out", tmp_path / "out")
    assert told.returncode == 2
    assert says in told.stderr.replace(",", "")
    assert "Traceback" not in told.stderr
    assert not (tmp_path / "out").exists()


def test_the_home_tests_page_is_one_page(tmp_path):
    for name in ("garage", "labels"):
        told = run("test-sheet", EXAMPLES / f"{name}.toml", "--out", tmp_path / "page.pdf")
        assert told.returncode == 0, told.stderr
        assert (tmp_path / "page.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize("command", ["test-sheet", "measure-sheet"])
def test_a_page_filled_in_under_its_usual_name_is_not_written_over(tmp_path, command):
    words = [command, *([EXAMPLES / "labels.toml"] if command == "test-sheet" else [])]
    filled_in = tmp_path / f"{command}.pdf"
    filled_in.write_bytes(b"%PDF-1.4 what a person filled in")
    for _ in range(2):  # the second time, the page that lies there is the very same
        told = run(*words, cwd=tmp_path)
        assert told.returncode == 0, told.stderr
        assert f"{command}-2.pdf" in told.stdout
    assert filled_in.read_bytes() == b"%PDF-1.4 what a person filled in"
    assert sorted(p.name for p in tmp_path.iterdir()) == [f"{command}-2.pdf", f"{command}.pdf"]


def test_all_writes_sound_solids_for_machines(tmp_path):
    import trimesh

    told = run("plan", shop_path("one_car"), "--all", "--out", tmp_path)
    assert told.returncode == 0, told.stderr
    parts = sorted((tmp_path / "printed-parts").glob("*.stl"))
    assert any("ring" in p.name for p in parts)
    for path in [*parts, *(tmp_path / "solids").glob("*.stl")]:
        mesh = trimesh.load_mesh(path)
        assert mesh.is_watertight, path
        assert mesh.volume > 0, path
    assert len(list((tmp_path / "printed-parts").glob("*.3mf"))) == 2
    assert (tmp_path / "solids" / "cart.glb").read_bytes()[:4] == b"glTF"
    # A plain plan in the same folder leaves no files of another plan behind.
    assert run("plan", EXAMPLES / "labels.toml", "--out", tmp_path).returncode == 0
    assert not list((tmp_path / "printed-parts").glob("*"))


def test_the_same_file_gives_the_same_plan_however_names_are_hashed(tmp_path):
    # Sets of names come in another order in each run; what is summed must not follow it.
    found = []
    for seed in ("1", "2", "3"):
        words = [sys.executable, "-m", "kerfwind", "plan", EXAMPLES / "cellar.toml", "--json"]
        told = subprocess.run(
            [*words, "--out", tmp_path],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        )
        found.append(told.stdout)
    assert len(set(found)) == 1


def test_size_offers_distinct_carts():
    told = run("size", shop_path("one_car"), "--effort", "60")
    assert told.returncode == 0, told.stderr
    assert "cheapest" in told.stdout
    offered = told.stdout.split("\n# ")[1:]
    assert len(offered) >= 3
    for each in offered:
        lines = [line for line in each.splitlines()[1:] if " = " in line]
        wishes = parse_shop("[wishes]\n" + "\n".join(lines) + TOOL).shop.wishes
        assert {line.split(" = ")[0] for line in lines} >= {"form", "hold_bucket"}
        assert f'form = "{wishes.form}"' in lines
