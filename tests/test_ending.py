"""A run that is told to end, or is killed, while it writes: real processes, real signals."""

import contextlib
import os
import random
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from kerfwind.wholefiles import write_whole
from tests.folders import LIST, seen

ROOT = Path(__file__).parents[1]
EXAMPLES = ROOT / "examples"
SIGNALS = (signal.SIGINT, signal.SIGTERM, signal.SIGHUP, signal.SIGKILL)


@pytest.fixture(autouse=True)
def heard_signals():
    """Signals that this run of the tests was begun without, as in the background, are heard."""
    deaf = [n for n in SIGNALS[:3] if signal.getsignal(n) is signal.SIG_IGN]
    for number in deaf:
        signal.signal(number, signal.SIG_DFL)
    yield
    for number in deaf:
        signal.signal(number, signal.SIG_IGN)


#: Writes one generation of results after another into a folder, as the command does, and
#: says so on its standard output right before each time when the folders change places.
WRITER = """
import os, sys
from kerfwind import disk, ending, result_folder
if sys.argv[2] == "two renames":
    disk.exchange = lambda *_: False
put = result_folder._put_in_place
def put_in_place(*inputs):
    os.write(1, b"s")
    put(*inputs)
result_folder._put_in_place = put_in_place
try:
    ending.listen()
    for number in range(1, 100000):
        files = {f"{n}/results.txt": f"{number}" for n in range(3)}
        files |= {f"only in {number}.txt": f"{number}", "plan.pdf": f"{number}" * 5000}
        result_folder.write_folder(sys.argv[1], files, "plan")
        if number == 1:
            os.write(1, b"r")
            os.read(0, 1)
except ending.Ended as end:
    os._exit(128 + end.number)
"""
MINE = ("notes.txt", "1/notes.txt", "photos/saw/1.jpg", "empty/")


def generation(folder):
    """The one run that wrote all the results in a folder; the person's own are all there."""
    found = seen(folder)
    for name in MINE:
        mine = found.pop(name.rstrip("/"))
        assert mine == ("a folder" if name.endswith("/") else b"mine")
    del found[LIST]
    numbers = set()
    for name, what in found.items():
        if what != "a folder":
            numbers.add(what[: len(what) // 5000].decode() if name == "plan.pdf" else what.decode())
            numbers |= set(re.findall(r"only in (\d+)", name))
    assert len(numbers) == 1, f"a mixture of {numbers}"
    assert {n for n, what in found.items() if what != "a folder"} == {
        *(f"{n}/results.txt" for n in range(3)),
        f"only in {next(iter(numbers))}.txt",
        "plan.pdf",
    }
    return int(next(iter(numbers)))


def moment(place, number, way, *, in_swap, chance):
    """Send one signal at some moment to a run; what became of the folder."""
    out = place / "out"
    place.mkdir()
    words = [sys.executable, "-c", WRITER, str(out), way]
    pipe = subprocess.PIPE
    with subprocess.Popen(words, cwd=ROOT, stdin=pipe, stdout=pipe, stderr=pipe) as run:
        while run.stdout.read(1) != b"r":
            pass
        for name in MINE:
            path = out / name
            (path if name.endswith("/") else path.parent).mkdir(parents=True, exist_ok=True)
            if not name.endswith("/"):
                path.write_text("mine")
        run.stdin.write(b".")
        run.stdin.flush()
        for _ in range(chance.randint(1, 3)):
            assert run.stdout.read(1) == b"s"
        if not in_swap:
            time.sleep(chance.uniform(0, 0.02))
        else:
            time.sleep(chance.choice([0, 0, chance.uniform(0, 0.001)]))
        for _ in range(2 if number == signal.SIGINT else 1):
            with contextlib.suppress(ProcessLookupError):
                os.kill(run.pid, number)
        status = run.wait()
        said = run.stderr.read()
    assert status == (-number if number == signal.SIGKILL else 128 + number)
    assert said == b""
    away = not out.is_dir()
    assert not away or (way == "two renames" and number == signal.SIGKILL)
    assert away or generation(out)
    left = [p.name for p in place.iterdir() if p.name != "out"]
    assert not left or number == signal.SIGKILL, left
    write_whole(place / "page.pdf", "page")
    assert {p.name for p in place.iterdir()} == {"out", "page.pdf"}
    assert generation(out)
    return "away" if away else "left over" if left else "clean"


@pytest.mark.parametrize("way", ["exchange", "two renames"])
def test_a_run_ended_at_any_moment_leaves_the_old_or_the_new(tmp_path, way):
    chance = random.Random(5)
    for turn in range(24):
        moment(tmp_path / str(turn), SIGNALS[turn % 4], way, in_swap=turn % 8 < 4, chance=chance)


# The command itself


def children_of(process):
    found = Path(f"/proc/{process}/task/{process}/children").read_text(encoding="ascii")
    return [int(each) for each in found.split()]


def is_gone(process):
    try:
        return Path(f"/proc/{process}/stat").read_text(encoding="ascii").split()[2] == "Z"
    except (FileNotFoundError, ProcessLookupError):
        return True


@pytest.mark.skipif(not Path("/proc/self/task").exists(), reason="wants a list of processes")
@pytest.mark.parametrize("number", SIGNALS)
def test_a_plan_that_is_ended_leaves_nothing_and_no_one(tmp_path, number):
    (tmp_path / "temporary").mkdir()
    run = subprocess.Popen(
        [
            sys.executable,
            "-m",
            "kerfwind",
            "plan",
            str(EXAMPLES / "labels.toml"),
            "--out",
            str(tmp_path / "out"),
        ],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env={**os.environ, "TMPDIR": str(tmp_path / "temporary")},
    )
    while not children_of(run.pid):
        time.sleep(0.01)
    # The first words come while the second process sets the pages.
    run.stdout.read(1)
    others = children_of(run.pid)
    assert others
    for _ in range(2 if number == signal.SIGINT else 1):
        os.kill(run.pid, number)
    _, said = run.communicate()
    assert run.returncode == (-number if number == signal.SIGKILL else 128 + number)
    assert said == b""
    # The system ends them with the first one, in its own time.
    while not all(map(is_gone, others)):
        time.sleep(0.01)
    assert seen(tmp_path) == {"temporary": "a folder"}


def test_a_terminal_that_is_closed_ends_a_search(tmp_path):
    import pty

    listed = tmp_path / "list.csv"
    rows = "\n".join(f"p{n},{300 + 7 * n} mm,{200 + 3 * n} mm,3" for n in range(30))
    listed.write_text(f"name,length,width,quantity\n{rows}\n")
    ours, theirs = pty.openpty()
    run = subprocess.Popen(
        [sys.executable, "-m", "kerfwind", "cut", str(listed), "--effort", "10000000"],
        cwd=tmp_path,
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        start_new_session=True,
        env={**os.environ, "PYTHONPATH": str(ROOT / "src")},
    )
    os.close(theirs)
    heard = b""
    while b"effort" not in heard:
        heard += os.read(ours, 1000)
    os.kill(run.pid, signal.SIGHUP)
    os.close(ours)
    assert run.wait() == 128 + signal.SIGHUP
    assert [p.name for p in tmp_path.iterdir()] == ["list.csv"]


def test_a_signal_that_was_to_be_ignored_stays_so(tmp_path):
    code = (
        "import os, signal\n"
        "from kerfwind.ending import listen\n"
        "signal.signal(signal.SIGHUP, signal.SIG_IGN)\n"
        "listen()\n"
        "os.kill(os.getpid(), signal.SIGHUP)\n"
        "print('goes on')\n"
    )
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True)
    assert told.stdout == b"goes on\n"
