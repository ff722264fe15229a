"""A folder of results is written whole or not at all, and a person's own files stay."""

import contextlib
import errno
import json
import os
import shutil
import signal
from dataclasses import asdict
from pathlib import Path
from types import SimpleNamespace

import pytest

from kerfwind import disk, ending, result_folder
from kerfwind.faults import Faults
from kerfwind.result_folder import LIST, check_folder, write_folder
from kerfwind.wholefiles import write_whole
from tests import say
from tests.folders import CHANGED, MINE, NEW, OLD, lived_in, lives_on, one_day, seen  # noqa: F401

CALLS = (
    *("create", "write", "fsync", "mkdir", "mkdtemp", "link", "symlink", "copy", "liken"),
    *("rename", "exchange", "unlink", "rmdir", "_opened"),
)
pytestmark = pytest.mark.usefixtures("one_day")


@pytest.fixture(autouse=True)
def no_waiting(monkeypatch):
    """A process that is killed loses nothing that the system has: no test waits for a disk."""
    monkeypatch.setattr(disk, "fsync", lambda handle: None)


def left_over(folder):
    return [path.name for path in folder.iterdir() if path.name.startswith(".")]


# What becomes of a person's files


def test_a_new_folder_holds_the_files_and_the_list_of_them(tmp_path):
    assert write_folder(tmp_path / "a" / "b", OLD, "plan") == []
    found = {n for n, what in seen(tmp_path / "a" / "b").items() if what != "a folder"}
    assert found == {*OLD, LIST}
    listed = json.loads((tmp_path / "a" / "b" / LIST).read_text())
    assert listed["command"] == "plan"
    assert set(listed["sha256"]) == set(OLD)
    assert not left_over(tmp_path / "a")


def test_what_is_a_persons_stays_and_what_was_written_goes(tmp_path):
    out = tmp_path / "out"
    lived_in(out)
    (out / "notes.txt").chmod(0o640)
    os.utime(out / "photos" / "1.jpg", (1e9, 1e9))
    out.chmod(0o750)
    told = [say.text(kept) for kept in write_folder(out, NEW, "plan")]
    assert lives_on(seen(out))
    assert (out / "notes.txt").stat().st_mode & 0o777 == 0o640
    assert (out / "photos" / "1.jpg").stat().st_mtime == 1e9
    assert out.stat().st_mode & 0o777 == 0o750
    assert not left_over(tmp_path)
    assert sorted(told) == [
        "Kept: drawings/path.svg, which you had changed, is now path (yours, 2031-05-06).svg.",
        "Kept: panels.csv, which you had changed, is now panels (yours, 2031-05-06).csv.",
        "Kept: your machine stood where a result goes, and is now machine (yours, 2031-05-06).",
        "Kept: your solids/b-post.stl stood where a result goes, and is now "
        "b-post (yours, 2031-05-06).stl.",
    ]


def test_it_can_be_written_again_and_again_on_one_day(tmp_path):
    out = tmp_path / "out"
    for number in (1, 2, 3):
        write_folder(out, OLD, "plan")
        (out / "panels.csv").write_text(f"mine {number}")
    write_folder(out, OLD, "plan")
    kept = {p.name: p.read_text() for p in out.glob("panels (*")}
    assert kept == {
        "panels (yours, 2031-05-06).csv": "mine 1",
        "panels (yours, 2031-05-06, 2).csv": "mine 2",
        "panels (yours, 2031-05-06, 3).csv": "mine 3",
    }


def test_a_persons_folder_stands_where_a_file_goes(tmp_path):
    out = tmp_path / "out"
    write_folder(out, OLD, "plan")
    (out / "machine.txt" / "deep").mkdir(parents=True)
    (out / "machine.txt" / "deep" / "a").write_text("mine")
    told = [say.text(k) for k in write_folder(out, {"machine.txt": "new"}, "plan")]
    assert (out / "machine.txt").read_text() == "new"
    assert (out / "machine (yours, 2031-05-06).txt" / "deep" / "a").read_text() == "mine"
    assert len(told) == 1


def test_a_disk_without_second_names_gets_copies(tmp_path, monkeypatch):
    def none(*_):
        raise PermissionError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(disk, "link", none)
    lived_in(tmp_path / "out")
    os.utime(tmp_path / "out" / "notes.txt", (1e9, 1e9))
    write_folder(tmp_path / "out", NEW, "plan")
    assert lives_on(seen(tmp_path / "out"))
    assert (tmp_path / "out" / "notes.txt").stat().st_mtime == 1e9
    assert not left_over(tmp_path)


@pytest.mark.parametrize("known", [True, False], ids=["exchange", "two renames"])
def test_what_is_saved_while_it_is_written_is_kept(tmp_path, monkeypatch, known):
    out = tmp_path / "out"
    lived_in(out)
    build = result_folder._build

    def built(*inputs):
        made = build(*inputs)
        # As an editor saves: another file by the same name. And a change to a result in place.
        (out / "notes.tmp").write_text("saved late")
        (out / "notes.tmp").replace(out / "notes.txt")
        (out / "late.txt").write_text("late")
        (out / "late" / "too").mkdir(parents=True)
        (out / "drawings" / "unit.svg").write_text("drawn late")
        return made

    monkeypatch.setattr(result_folder, "_build", built)
    if not known:
        monkeypatch.setattr(disk, "exchange", lambda *_: False)
    told = [say.text(kept) for kept in write_folder(out, NEW, "plan")]
    assert (out / "notes.txt").read_text() == "my notes.txt"
    assert (out / "notes (yours, 2031-05-06).txt").read_text() == "saved late"
    assert (out / "late.txt").read_text() == "late"
    assert (out / "late" / "too").is_dir()
    assert (out / "drawings" / "unit.svg").read_text() == "<svg>new</svg>"
    assert (out / "drawings" / "unit (yours, 2031-05-06).svg").read_text() == "drawn late"
    assert sum("saved meanwhile" in each for each in told) == 3
    assert not left_over(tmp_path)


# Where it is refused


def refused(folder, command="plan"):
    with pytest.raises(Faults) as caught:
        write_folder(folder, NEW, command)
    (fault,) = caught.value.faults
    assert fault.place == "--out"
    said = say.refused(fault)
    assert said.mend
    return SimpleNamespace(file=fault.file, **asdict(said))


def test_a_folder_of_a_persons_own_is_left_alone(tmp_path):
    (tmp_path / "mine" / "drawings").mkdir(parents=True)
    (tmp_path / "mine" / "drawings" / "unit.svg").write_text("mine")
    (tmp_path / "mine" / "panels.csv").write_text("mine")
    before = seen(tmp_path)
    fault = refused(tmp_path / "mine")
    assert "2 files or folders that kerfwind did not write" in fault.found
    assert "earlier `kerfwind plan`" in fault.allowed
    assert f"--out {tmp_path}/mine/plan-results" in fault.mend
    assert seen(tmp_path) == before


def test_an_empty_folder_will_do_also_after_someone_looked_into_it(tmp_path):
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / ".DS_Store").write_text("x")
    write_folder(tmp_path / "out", NEW, "plan")
    assert (tmp_path / "out" / ".DS_Store").exists()


def test_results_of_another_command_are_left_alone(tmp_path):
    write_folder(tmp_path / "out", OLD, "plan")
    before = seen(tmp_path)
    assert "results of `kerfwind plan`" in refused(tmp_path / "out", "cut").found
    assert seen(tmp_path) == before


@pytest.mark.parametrize("text", ["", "{", "[]", '{"command": "plan"}', "[" * 100_000, "\0"])
def test_a_list_that_was_changed_is_no_list(tmp_path, text):
    write_folder(tmp_path / "out", OLD, "plan")
    (tmp_path / "out" / LIST).write_text(text)
    before = seen(tmp_path)
    fault = refused(tmp_path / "out")
    assert fault.file.endswith(LIST)
    assert seen(tmp_path) == before


def test_a_list_from_elsewhere_reaches_nothing_outside(tmp_path):
    write_folder(tmp_path / "out", OLD, "plan")
    (tmp_path / "mine.txt").write_text("mine")
    listed = json.loads((tmp_path / "out" / LIST).read_text())
    listed["sha256"] |= {"../mine.txt": "0", str(tmp_path / "mine.txt"): "0", "": "0"}
    (tmp_path / "out" / LIST).write_text(json.dumps(listed))
    write_folder(tmp_path / "out", NEW, "plan")
    assert (tmp_path / "mine.txt").read_text() == "mine"


def test_links_are_not_followed_to_another_place(tmp_path):
    target = tmp_path / "elsewhere"
    target.mkdir()
    (target / "unit.svg").write_text("mine")
    (tmp_path / "link").symlink_to(target)
    (tmp_path / "broken").symlink_to(tmp_path / "nothing")
    for name in ("link", "link/", "broken", "broken/"):
        fault = refused(f"{tmp_path}/{name}")
        assert fault.found.startswith("a link to")
    out = tmp_path / "out"
    write_folder(out, OLD, "plan")
    for name, found in (
        ("drawings", "a link, where results go"),
        ("solids", "a link, where results go"),
        ("plan.pdf", "a link, where results go"),
        (LIST, "a list of what kerfwind wrote that cannot be read"),
    ):
        path = out / name
        away = tmp_path / "away"
        if path.exists():
            path.rename(away)
        path.symlink_to(target)
        before = seen(tmp_path)
        fault = refused(out)
        assert (fault.file, fault.found) == (str(path), found)
        assert seen(tmp_path) == before
        path.unlink()
        if away.exists():
            away.rename(path)
    write_folder(out, NEW, "plan")
    assert seen(target) == {"unit.svg": b"mine"}


def test_unusual_names_of_one_folder_are_that_folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "sub").mkdir()
    (tmp_path / "to sub").symlink_to("sub")
    for name in (
        "out",
        "out/",
        "./out",
        "sub/../out",
        "out/.",
        f"{tmp_path}//out",
        "to sub/../out",
    ):
        write_folder(name, {"a": name}, "plan")
        assert (tmp_path / "out" / "a").read_text() == name
    write_folder("to sub/deep", OLD, "plan")
    assert (tmp_path / "sub" / "deep" / "plan.pdf").exists()
    assert {p.name for p in tmp_path.iterdir()} == {"out", "sub", "to sub"}


def test_a_folder_that_someone_stands_in_is_refused(tmp_path, monkeypatch):
    out = tmp_path / "out"
    write_folder(out, OLD, "plan")
    monkeypatch.chdir(out / "drawings")
    for name in (".", "..", "../..", str(out)):
        assert "the folder that you are in" in refused(name).found
    assert "no name" in refused("").found
    write_folder("../other", OLD, "plan")
    shutil.rmtree(tmp_path / "out")
    with pytest.raises((Faults, OSError)):
        write_folder("here", OLD, "plan")


def test_what_is_no_folder_is_refused(tmp_path):
    (tmp_path / "file").write_text("mine")
    os.mkfifo(tmp_path / "pipe")
    for name in ("file", "pipe", "file/out", "file/out/deep", "file/"):
        assert "A file stands where a folder should be" in refused(f"{tmp_path}/{name}").mend
    assert "file" in refused("/dev/null").found
    assert (tmp_path / "file").read_text() == "mine"


def test_what_is_mounted_is_refused(tmp_path, monkeypatch):
    assert "mounted" in refused("/proc").found
    out = tmp_path / "out"
    write_folder(out, OLD, "plan")
    (out / "my disk").mkdir()
    told = "36 25 0:32 / {} rw - tmpfs none rw\n"
    mounts = tmp_path / "mountinfo"
    monkeypatch.setattr(result_folder, "_MOUNTS", mounts)
    for path in (out, out / "my disk", out / "plan.pdf"):
        mounts.write_text(told.format(str(path).replace(" ", "\\040")))
        assert "mounted" in refused(out).found
    mounts.unlink()
    write_folder(out, NEW, "plan")


def as_anyone(call):
    """Whether a call goes well for a person who may not do everything."""
    child = os.fork()
    if child == 0:
        code = 1
        try:
            if os.getuid() == 0:
                os.setgroups([])
                os.setgid(65534)
                os.setuid(65534)
            call()
            code = 0
        except BaseException as error:
            print(repr(error), flush=True)
        finally:
            os._exit(code)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0


@pytest.fixture
def open_path(tmp_path_factory):
    """A folder that anyone may enter."""
    base = Path("/dev/shm") if os.access("/dev/shm", os.W_OK) else Path("/tmp")
    path = base / f"kerfwind-test-{os.getpid()}"
    path.mkdir()
    path.chmod(0o777)
    yield path
    for each in [path, *path.rglob("*")]:
        if each.is_dir() and not each.is_symlink():
            each.chmod(0o777)
    shutil.rmtree(path)


@pytest.mark.parametrize("locked", ["", "out", "out/drawings", "out/photos"])
def test_a_folder_that_may_not_be_written_to_is_left_as_it_is(open_path, locked):
    assert as_anyone(lambda: lived_in(open_path / "out"))
    (open_path / locked).chmod(0o555)
    before = seen(open_path)

    def refuse():
        fault = refused(open_path / "out")
        assert "may not" in fault.found
        assert "permissions" in fault.mend

    assert as_anyone(refuse)
    assert seen(open_path) == before
    (open_path / locked).chmod(0o777)
    assert as_anyone(lambda: write_folder(open_path / "out", NEW, "plan"))
    assert lives_on(seen(open_path / "out"))


def test_another_persons_files_in_it_are_kept(open_path):
    if os.getuid():
        pytest.skip("wants two persons")
    assert as_anyone(lambda: lived_in(open_path / "out"))
    # Some systems do not let it have a second name: it is copied there.
    (open_path / "out" / "theirs.txt").write_text("theirs")
    assert as_anyone(lambda: write_folder(open_path / "out", NEW, "plan"))
    assert (open_path / "out" / "theirs.txt").read_text() == "theirs"
    # This one cannot be copied either; where it can have no second name, all stays as it is.
    (open_path / "out" / "secret.txt").write_text("secret")
    (open_path / "out" / "secret.txt").chmod(0o600)
    before = seen(open_path)
    went_well = as_anyone(lambda: write_folder(open_path / "out", OLD, "plan"))
    assert went_well or seen(open_path) == before
    assert (open_path / "out" / "secret.txt").read_text() == "secret"


# Two at once


def test_two_runs_into_one_folder_are_one_after_the_other(tmp_path):
    out = tmp_path / "out"
    children = []
    for number in range(4):
        child = os.fork()
        if child == 0:
            code = 1
            try:
                for _ in range(5):
                    write_folder(out, {f"{n}.txt": f"{number}" for n in range(6)}, "plan")
                code = 0
            finally:
                os._exit(code)
        children.append(child)
    assert [os.waitstatus_to_exitcode(os.waitpid(c, 0)[1]) for c in children] == [0] * 4
    assert len({p.read_text() for p in out.glob("*.txt")}) == 1
    assert [p.name for p in tmp_path.iterdir()] == ["out"]


def test_a_run_that_does_not_end_is_not_waited_for_long(tmp_path, monkeypatch):
    monkeypatch.setattr(disk, "_PATIENCE", 0)
    with disk.locked(tmp_path, lambda: None):
        before = left_over(tmp_path)
        with pytest.raises(OSError, match="another run") as caught:
            write_folder(tmp_path / "out", NEW, "plan")
        assert caught.value.filename == str(tmp_path)
        assert left_over(tmp_path) == before
    write_folder(tmp_path / "out", NEW, "plan")


# A run that ends before any of its system calls


def dying_at(monkeypatch, number, die):
    """Let the nth call that changes something not be made; how many calls there were."""
    count = [0]

    def wrapped(name, call):
        def counted(*inputs, **more):
            count[0] += 1
            if count[0] == number:
                if name == "write":
                    call(inputs[0], inputs[1][: len(inputs[1]) // 2])
                die()
            return call(*inputs, **more)

        return counted

    for name in CALLS:
        monkeypatch.setattr(disk, name, wrapped(name, getattr(disk, name)))
    return count


def killed_at(number, work):
    """Do some work in another process, which is killed before its nth call."""
    child = os.fork()
    if child == 0:
        code = 1
        try:
            with pytest.MonkeyPatch.context() as patch:
                dying_at(patch, number, lambda: os.kill(os.getpid(), signal.SIGKILL))
                work()
            code = 0
        finally:
            os._exit(code)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def every_kill(tmp_path, make, work, judge):
    """Kill the work before each call in turn, until it comes to its end; how many there were."""
    number = 0
    while True:
        number += 1
        place = tmp_path / str(number)
        place.mkdir()
        before = make(place)
        ended = killed_at(number, lambda place=place: work(place))
        assert ended in (0, -signal.SIGKILL)
        judge(place, before, number)
        if ended == 0:
            return number - 1
        shutil.rmtree(place)


@pytest.mark.parametrize("known", [True, False], ids=["exchange", "two renames"])
@pytest.mark.parametrize("links", [True, False], ids=["links", "copies"])
def test_a_run_killed_anywhere_leaves_the_old_or_the_new(tmp_path, monkeypatch, known, links):
    if not known:
        monkeypatch.setattr(disk, "exchange", lambda *_: False)
    if not links:
        monkeypatch.setattr(disk, "link", lambda *_: os.link("/", "/"))
    outcomes = {"old": 0, "new": 0, "away": 0}

    def judge(place, before, number):
        out = place / "out"
        if out.exists():
            after = seen(out)
            outcomes["old" if after == before else "new"] += 1
            assert after == before or lives_on(after), number
        else:
            # Only between two renames; the next run, of whatever, puts it back.
            assert not known
            outcomes["away"] += 1
        write_whole(place / "page.pdf", b"page")
        after = seen(out)
        assert after == before or lives_on(after), number
        assert not left_over(place), number
        write_folder(out, NEW, "plan")
        assert lives_on(seen(out)), number
        assert {p.name for p in place.iterdir()} == {"out", "page.pdf"}

    calls = every_kill(
        tmp_path,
        lambda place: lived_in(place / "out"),
        lambda place: write_folder(place / "out", NEW, "plan"),
        judge,
    )
    assert calls > 60
    assert outcomes["old"] > 40
    assert outcomes["new"] > 20
    assert (outcomes["away"] > 0) == (not known)


def test_a_first_run_killed_anywhere_leaves_all_or_nothing(tmp_path):
    def judge(place, before, number):
        out = place / "deep" / "out"
        assert not out.exists() or set(NEW) < set(seen(out)), number
        write_folder(out, OLD, "plan")
        assert set(OLD) < set(seen(out))
        assert not left_over(out.parent)

    calls = every_kill(
        tmp_path,
        lambda place: None,
        lambda place: write_folder(place / "deep" / "out", NEW, "plan"),
        judge,
    )
    assert calls > 30


@pytest.mark.parametrize("known", [True, False], ids=["exchange", "two renames"])
def test_a_run_that_clears_up_and_is_killed_itself_loses_nothing(tmp_path, monkeypatch, known):
    if not known:
        monkeypatch.setattr(disk, "exchange", lambda *_: False)
    # The first dies between the two renames, or right after the exchange.
    swap = next(
        n for n in range(1, 999) if killed_after_swap(tmp_path / f"look-{n}", n, known=known)
    )

    def make(place):
        before = lived_in(place / "out")
        assert killed_at(swap, lambda: write_folder(place / "out", NEW, "plan"))
        return before

    def judge(place, before, number):
        write_whole(place / "page.pdf", b"again")
        after = seen(place / "out")
        assert after == before or lives_on(after), number
        assert not left_over(place)

    calls = every_kill(
        tmp_path, make, lambda place: write_whole(place / "page.pdf", b"page"), judge
    )
    assert calls > 15


def killed_after_swap(place, number, *, known):
    place.mkdir()
    before = lived_in(place / "out")
    assert killed_at(number, lambda: write_folder(place / "out", NEW, "plan"))
    found = not (place / "out").exists() or (known and seen(place / "out") != before)
    shutil.rmtree(place)
    return found


@pytest.mark.parametrize("known", [True, False], ids=["exchange", "two renames"])
@pytest.mark.parametrize("error", [OSError(errno.EIO, "I/O error"), KeyboardInterrupt()])
def test_a_call_that_fails_anywhere_leaves_the_old_or_the_new(tmp_path, monkeypatch, known, error):
    number = 0
    failed = True

    def die():
        raise error

    while failed:
        number += 1
        place = tmp_path / str(number)
        before = lived_in(place / "out")
        with monkeypatch.context() as patch:
            if not known:
                patch.setattr(disk, "exchange", lambda *_: False)
            count = dying_at(patch, number, die)
            with contextlib.suppress(OSError, KeyboardInterrupt):
                write_folder(place / "out", NEW, "plan")
            failed = count[0] >= number
        after = seen(place / "out")
        assert after == before or lives_on(after), number
        write_folder(place / "out", NEW, "plan")
        assert lives_on(seen(place / "out"))
        assert not left_over(place)
    assert number > 60


def test_a_disk_that_fills_leaves_all_as_it_was_and_names_the_file(tmp_path, monkeypatch):
    before = lived_in(tmp_path / "out")

    def full(*_):
        raise OSError(errno.ENOSPC, "No space left on device")

    for name in ("write", "create", "link", "fsync", "mkdir"):
        with monkeypatch.context() as patch:
            patch.setattr(disk, name, full)
            if name == "link":
                patch.setattr(disk, "copy", full)
            with pytest.raises(OSError, match="No space") as caught:
                write_folder(tmp_path / "out", NEW, "plan")
        assert caught.value.filename.startswith(str(tmp_path))
        assert ".kerfwind" not in caught.value.filename
        assert seen(tmp_path / "out") == before
        assert not left_over(tmp_path)


def test_a_dead_run_beside_a_folder_that_someone_took_away_is_cleared_up(tmp_path, monkeypatch):
    monkeypatch.setattr(disk, "exchange", lambda *_: False)
    swap = next(
        n for n in range(1, 999) if killed_after_swap(tmp_path / f"look-{n}", n, known=False)
    )
    lived_in(tmp_path / "out")
    killed_at(swap, lambda: write_folder(tmp_path / "out", NEW, "plan"))
    # The person sees no folder, and puts a link to another in its place.
    (tmp_path / "other").mkdir()
    (tmp_path / "out").symlink_to("other")
    write_whole(tmp_path / "page.pdf", b"page")
    assert not list((tmp_path / "other").iterdir())
    found = [p.read_text() for p in tmp_path.rglob("*") if p.is_file() and "yours" in str(p)]
    assert set(found) == {f"my {name}" for name in (*MINE, *CHANGED)}
    assert not left_over(tmp_path)


def test_a_signal_waits_until_the_folder_is_whole_or_left(tmp_path):
    before = lived_in(tmp_path / "out")
    asked = []
    handler = signal.signal(signal.SIGTERM, lambda number, _: asked.append(number))
    build, put = result_folder._carry_over, result_folder._put_in_place

    def ask(call):
        def asking(*inputs):
            signal.raise_signal(signal.SIGTERM)
            return call(*inputs)

        return asking

    try:
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(result_folder, "_carry_over", ask(build))
            with pytest.raises(ending.Ended):
                write_folder(tmp_path / "out", NEW, "plan")
        assert seen(tmp_path / "out") == before
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(result_folder, "_put_in_place", ask(put))
            write_folder(tmp_path / "out", NEW, "plan")
        assert lives_on(seen(tmp_path / "out"))
    finally:
        signal.signal(signal.SIGTERM, handler)
    assert asked == [signal.SIGTERM] * 2
    assert not left_over(tmp_path)


def test_a_place_is_checked_before_anything_is_done(tmp_path):
    assert check_folder(tmp_path / "new", "plan") == tmp_path / "new"
    assert not (tmp_path / "new").exists()
