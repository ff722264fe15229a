"""What was acknowledged stays, can be taken back, and takes in what others change."""

import errno
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from kerfwind import disk
from kerfwind.app import history as room
from kerfwind.app.document import Conflict, Edit
from kerfwind.app.history import History, state_folder
from kerfwind.faults import Faults

ROOT = Path(__file__).parents[2]
GARAGE = (ROOT / "tests" / "shops" / "one_car.toml").read_text(encoding="utf-8")
KERF, BENDS = ("saw", "kerf"), ("tools", "planer", "bends")


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "shop" / "garage.toml"
    path.parent.mkdir()
    path.write_text(GARAGE, encoding="utf-8")
    return path


@pytest.fixture
def reopened(file, tmp_path):
    """The file's history, opened anew each time as after a restart."""
    opened = []

    def open_it():
        while opened:
            opened.pop().close()
        opened.append(History(file, tmp_path / "state"))
        return opened[-1]

    yield open_it
    while opened:
        opened.pop().close()


def kerf(old, new):
    return [Edit(KERF, old, new)]


def test_what_is_taken_is_in_the_file_after_the_next_save(reopened, file):
    history = reopened()
    assert history.saved
    taken = history.take("page", 1, kerf("1/8 in", "3 mm"))
    assert (taken.change.revision, history.revision, history.saved) == (1, 1, False)
    assert file.read_text(encoding="utf-8") == GARAGE
    assert history.save() is None
    assert history.saved
    assert file.read_text(encoding="utf-8") == GARAGE.replace('kerf = "1/8 in"', 'kerf = "3 mm"')
    assert [p.name for p in file.parent.iterdir()] == ["garage.toml"]


def test_a_run_that_ends_unsaved_loses_nothing(reopened, file):
    reopened().take("page", 1, kerf("1/8 in", "3 mm"))
    history = reopened()
    assert history.document.value(KERF) == "3 mm"
    assert not history.saved
    history.save()
    assert 'kerf = "3 mm"' in file.read_text(encoding="utf-8")
    assert reopened().saved


def test_what_is_sent_again_is_acknowledged_again_and_made_once(reopened):
    history = reopened()
    first = history.take("page", 1, kerf("1/8 in", "3 mm"))
    history.take("other", 1, kerf("3 mm", "1/8 in"))
    for each in (history, reopened()):
        again = each.take("page", 1, kerf("1/8 in", "3 mm"))
        assert again.again
        assert again.change == first.change
        assert each.document.value(KERF) == "1/8 in"
        assert each.revision == 2


def test_undo_and_redo_go_through_the_whole_history_across_restarts(reopened):
    history = reopened()
    texts = [history.text]
    for number, value in enumerate(["2 mm", "3 mm", "4 mm"], 1):
        history.take("page", number, kerf(history.document.value(KERF), value))
        texts.append(history.text)
        history.save()
    for number, text in enumerate(reversed(texts[:-1]), 10):
        history = reopened()
        history.undo("other", number)
        assert history.text == text
    assert history.undo("other", 20) is None
    assert history.undoable == ()
    for number, text in enumerate(texts[1:], 30):
        history = reopened()
        history.redo("page", number)
        assert history.text == text
    assert history.redo("page", 40) is None
    history.undo("page", 41)
    history.take("page", 42, [Edit(BENDS, 2, 3)])
    assert history.redo("page", 43) is None
    assert [e.place for e in history.undoable] == [BENDS]


def test_an_undo_that_is_sent_again_is_made_once(reopened):
    history = reopened()
    history.take("page", 1, kerf("1/8 in", "3 mm"))
    history.take("page", 2, kerf("3 mm", "4 mm"))
    history.undo("page", 3)
    assert history.undo("page", 3).again
    assert reopened().undo("page", 3).again
    assert reopened().document.value(KERF) == "3 mm"


def test_a_tool_that_is_dragged_comes_back_in_one_step(reopened):
    history = reopened()
    x = ("tools", "planer", "place", "x")
    history.take("page", 1, kerf("1/8 in", "3 mm"))
    for number in range(2, 6):
        history.take("page", number, [Edit(x, history.document.value(x), f"{number} ft")], "drag 1")
    history.undo("page", 6)
    assert history.document.value(x) == "16 ft 6 in"
    assert history.document.value(KERF) == "3 mm"
    history.redo("page", 7)
    assert history.document.value(x) == "5 ft"
    history.undo("page", 8)
    history.undo("page", 9)
    assert history.text == GARAGE


def test_a_removed_tool_comes_back_with_its_remarks_after_a_restart(reopened):
    history = reopened()
    name = ("tools", "bench table saw")
    history.take("page", 1, [Edit(name, history.document.value(name), None)])
    assert "not measured yet" not in history.text
    history = reopened()
    history.undo("page", 2)
    assert history.text == GARAGE


def test_edits_in_conflict_change_nothing_and_can_be_sent_anew(reopened):
    history = reopened()
    with pytest.raises(Conflict) as caught:
        history.take("page", 1, [Edit(BENDS, 2, 3), *kerf("9 mm", "3 mm")])
    assert caught.value.found == "1/8 in"
    assert history.text == GARAGE
    assert not history.take("page", 1, kerf("1/8 in", "3 mm")).again


def test_what_could_not_be_read_again_is_refused(reopened):
    history = reopened()
    deep: object = "x"
    for _ in range(20):
        deep = [deep]
    for new in (deep, 10**60, "x" * 1_000_001):
        with pytest.raises(Faults):
            history.take("page", 1, [Edit(("about", "author"), "A. Maker", new)])
    assert history.text == GARAGE
    assert reopened().text == GARAGE


def test_a_full_disk_is_told_and_nothing_changes(reopened, monkeypatch):
    history = reopened()
    history.take("page", 1, kerf("1/8 in", "3 mm"))

    def full(handle, data):
        os.write(handle, bytes(data)[: len(data) // 2])
        raise OSError(errno.ENOSPC, "no room")

    with monkeypatch.context() as patched:
        patched.setattr(disk, "write_to", full)
        with pytest.raises(OSError, match="no room"):
            history.take("page", 2, kerf("3 mm", "4 mm"))
    assert history.document.value(KERF) == "3 mm"
    history.take("page", 3, [Edit(BENDS, 2, 3)])
    history = reopened()
    assert (history.document.value(KERF), history.document.value(BENDS)) == ("3 mm", 3)


def test_a_torn_last_line_of_the_journal_is_let_go(reopened, tmp_path):
    history = reopened()
    history.take("page", 1, kerf("1/8 in", "3 mm"))
    history.take("page", 2, kerf("3 mm", "4 mm"))
    (journal,) = tmp_path.glob("state/*/journal.jsonl")
    history.close()
    whole = journal.read_bytes()
    for end in (len(whole) - 1, len(whole) - 20, whole.index(b"\n") + 1):
        journal.write_bytes(whole[:end])
        with History(history.path, tmp_path / "state") as short:
            assert short.document.value(KERF) == "3 mm"
            short.take("page", 3, [Edit(BENDS, short.document.value(BENDS), 5)])
        with History(history.path, tmp_path / "state") as short:
            assert short.document.value(BENDS) == 5
            assert not short.take("page", 2, kerf("3 mm", "4 mm")).again
    journal.write_bytes(whole)


def test_what_another_changed_while_it_was_closed_is_merged(reopened, file):
    reopened().take("page", 1, kerf("1/8 in", "3 mm"))
    theirs = GARAGE.replace("bends = 3\n", "bends = 1  # straight now\n", 1) + "\n# Mine.\n"
    file.write_text(theirs, encoding="utf-8")
    history = reopened()
    assert history.text == theirs.replace('kerf = "1/8 in"', 'kerf = "3 mm"')
    assert history.clashes == ()
    history.save()
    assert file.read_text(encoding="utf-8") == history.text
    history = reopened()
    assert history.revision == 2
    # It is a change like any other, and can be taken back.
    history.undo("page", 2)
    assert history.document.value(("tools", "random-orbit sander", "bends")) == 3
    assert "# Mine." in history.text


def test_an_older_copy_that_someone_put_back_is_taken_as_their_change(reopened, file):
    history = reopened()
    history.take("page", 1, kerf("1/8 in", "3 mm"))
    history.save()
    file.write_text(GARAGE, encoding="utf-8")
    history = reopened()
    assert history.text == GARAGE
    assert history.revision == 2


def test_a_place_that_both_changed_is_asked_about_until_someone_sets_it(reopened, file):
    history = reopened()
    history.take("page", 1, kerf("1/8 in", "3 mm"))
    file.write_text(GARAGE.replace('kerf = "1/8 in"', 'kerf = "2 mm"'), encoding="utf-8")
    outside = history.save()
    (clash,) = outside.change.clashes
    assert (clash.place, clash.ours, clash.theirs) == (KERF, "3 mm", "2 mm")
    assert 'kerf = "2 mm"' in file.read_text(encoding="utf-8")
    history = reopened()
    assert history.clashes == (clash,)
    history.take("page", 2, [Edit(clash.place, clash.theirs, clash.ours)])
    assert history.clashes == ()
    assert reopened().clashes == ()


def test_their_answer_settles_a_question_too(reopened, file):
    history = reopened()
    history.take("page", 1, kerf("1/8 in", "3 mm"))
    file.write_text(GARAGE.replace('kerf = "1/8 in"', 'kerf = "2 mm"'), encoding="utf-8")
    history.look()
    history.take("page", 2, kerf("2 mm", "2 mm"))
    assert reopened().clashes == ()


def test_a_file_that_is_no_toml_for_a_while_is_left_alone(reopened, file):
    history = reopened()
    history.take("page", 1, kerf("1/8 in", "3 mm"))
    broken = GARAGE.replace("[room]", "[room")
    file.write_text(broken, encoding="utf-8")
    outside = history.save()
    assert outside.faults.faults[0].line == GARAGE[: GARAGE.index("[room]")].count("\n") + 1
    assert history.look() is None
    history.take("page", 2, [Edit(BENDS, 2, 3)])
    history.save()
    assert file.read_text(encoding="utf-8") == broken
    history = reopened()
    assert history.faults is not None
    assert history.document.value(BENDS) == 3
    file.write_text(GARAGE.replace("8 ft", "9 ft"), encoding="utf-8")
    history.save()
    assert history.faults is None
    text = file.read_text(encoding="utf-8")
    assert text == history.text
    assert '"9 ft"' in text
    assert 'kerf = "3 mm"' in text


def test_a_file_that_was_taken_away_is_written_anew(reopened, file):
    history = reopened()
    history.take("page", 1, kerf("1/8 in", "3 mm"))
    file.unlink()
    assert reopened().document.value(KERF) == "3 mm"
    history = reopened()
    assert not history.saved
    history.save()
    assert file.read_text(encoding="utf-8") == history.text


def test_a_file_that_cannot_be_written_stays_in_the_journal(reopened, file, monkeypatch):
    history = reopened()
    history.take("page", 1, kerf("1/8 in", "3 mm"))

    def closed(path, data):
        raise PermissionError(errno.EACCES, "no", str(path))

    with monkeypatch.context() as patched:
        patched.setattr(room, "write_whole", closed)
        with pytest.raises(PermissionError):
            history.save()
    assert not history.saved
    assert reopened().document.value(KERF) == "3 mm"


def test_a_file_is_open_once(reopened, file, tmp_path):
    reopened()
    link = tmp_path / "link.toml"
    link.symlink_to(file)
    for path in (file, link):
        with pytest.raises(Faults) as caught:
            History(path, tmp_path / "state")
        assert caught.value.faults[0].kind == "app.file.held"


def test_encoding_and_line_ends_stay(file, tmp_path):
    for encoding in ("utf-8-sig", "utf-16"):
        file.write_bytes(GARAGE.replace("\n", "\r\n").encode(encoding))
        raw = file.read_bytes()
        with History(file, tmp_path / encoding) as history:
            history.take("page", 1, kerf("1/8 in", "3 mm"))
            history.save()
            assert file.read_bytes() == raw.decode(encoding).replace(
                'kerf = "1/8 in"', 'kerf = "3 mm"'
            ).encode(encoding)
            history.undo("page", 2)
            history.save()
            assert file.read_bytes() == raw


def test_the_journal_is_bounded_and_keeps_what_the_file_lacks(reopened, monkeypatch, tmp_path):
    monkeypatch.setattr(room, "MOST_CHANGES", 10)
    history = reopened()
    for number in range(60):
        history.take("page", number, [Edit(BENDS, history.document.value(BENDS), number + 10)])
        if number == 40:
            history.save()
    (journal,) = tmp_path.glob("state/*/journal.jsonl")
    revisions = [json.loads(line)["revision"] for line in journal.read_text().splitlines()]
    assert len(revisions) <= 21
    assert set(range(42, 61)) <= set(revisions)
    history = reopened()
    assert history.document.value(BENDS) == 69
    assert history.since(55)[0].revision == 56
    assert history.since(3) is None
    history.save()
    history = reopened()
    assert history.undo("page", 100)
    assert history.document.value(BENDS) == 68


def test_nothing_lies_beside_the_file_and_the_journal_is_the_persons_alone(
    reopened, file, tmp_path, monkeypatch
):
    reopened().take("page", 1, kerf("1/8 in", "3 mm"))
    assert [p.name for p in file.parent.iterdir()] == ["garage.toml"]
    (folder,) = tmp_path.glob("state/*")
    assert folder.stat().st_mode & 0o077 == 0
    monkeypatch.setenv("XDG_STATE_HOME", "/somewhere")
    assert state_folder() == Path("/somewhere/kerfwind")
    monkeypatch.setenv("XDG_STATE_HOME", "not/absolute")
    monkeypatch.setenv("HOME", "/home/me")
    assert state_folder() == Path("/home/me/.local/state/kerfwind")


@pytest.mark.skipif(sys.platform == "win32", reason="it needs a fork")
def test_what_was_acknowledged_outlives_kills_at_random_moments(tmp_path):
    file = tmp_path / "garage.toml"
    file.write_text(GARAGE, encoding="utf-8")
    command = [sys.executable, "-m", "tests.app.killed", str(file), str(tmp_path / "state")]
    path = os.pathsep.join([str(ROOT / "src"), str(ROOT)])
    run = subprocess.run(
        [*command, "15", "3"],
        env={**os.environ, "PYTHONPATH": path},
        capture_output=True,
        text=True,
        cwd=ROOT,
    )
    assert run.returncode == 0, run.stderr
    assert int(run.stdout) > 0
