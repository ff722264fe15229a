"""One file by itself is written whole or not at all, and only a file is replaced."""

import errno
import os
import subprocess
import sys

import pytest

from kerfwind import disk
from kerfwind.wholefiles import write_whole
from tests.test_result_folder import as_anyone, every_kill, left_over, open_path  # noqa: F401


def test_a_file_is_new_or_replaced(tmp_path):
    page = tmp_path / "page.pdf"
    write_whole(page, "one ä")
    assert page.read_bytes() == "one ä".encode()
    page.chmod(0o640)
    write_whole(str(page), b"two")
    assert page.read_bytes() == b"two"
    assert page.stat().st_mode & 0o777 == 0o640
    assert [p.name for p in tmp_path.iterdir()] == ["page.pdf"]


def test_a_new_file_may_be_read_by_whom_the_person_lets(tmp_path):
    before = os.umask(0o027)
    try:
        write_whole(tmp_path / "page.pdf", b"one")
    finally:
        os.umask(before)
    assert (tmp_path / "page.pdf").stat().st_mode & 0o777 == 0o640


def test_a_link_stays_and_its_file_is_replaced(tmp_path):
    (tmp_path / "real").mkdir()
    (tmp_path / "real" / "page.pdf").write_text("old")
    (tmp_path / "one").symlink_to("real/page.pdf")
    (tmp_path / "two").symlink_to("one")
    (tmp_path / "new").symlink_to("real/new.pdf")
    write_whole(tmp_path / "two", "through")
    write_whole(tmp_path / "new", "made")
    assert os.readlink(tmp_path / "two") == "one"
    assert (tmp_path / "one").is_symlink()
    assert (tmp_path / "real" / "page.pdf").read_text() == "through"
    assert (tmp_path / "real" / "new.pdf").read_text() == "made"
    assert len(list((tmp_path / "real").iterdir())) == 2
    (tmp_path / "round").symlink_to("round")
    with pytest.raises(OSError, match="symbolic links"):
        write_whole(tmp_path / "round", "x")


def test_a_folder_is_refused(tmp_path):
    (tmp_path / "out").mkdir()
    (tmp_path / "to out").symlink_to("out")
    for name in ("out", "to out", "."):
        with pytest.raises(IsADirectoryError):
            write_whole(tmp_path / name, "x")
    with pytest.raises(FileNotFoundError):
        write_whole(tmp_path / "none" / "page.pdf", "x")
    assert not left_over(tmp_path)


def test_a_device_and_a_pipe_stay_what_they_are(tmp_path):
    write_whole("/dev/null", b"x" * 1_000_000)
    assert not os.path.isfile("/dev/null")
    with pytest.raises(OSError, match="No space"):
        write_whole("/dev/full", b"x")
    os.mkfifo(tmp_path / "pipe")
    reader = subprocess.Popen(["wc", "-c", tmp_path / "pipe"], stdout=subprocess.PIPE)
    write_whole(tmp_path / "pipe", b"x" * 1_000_000)
    assert reader.communicate()[0].split()[0] == b"1000000"
    assert not (tmp_path / "pipe").is_file()


PAGE = [sys.executable, "-m", "kerfwind", "measure-sheet", "--out", "/dev/stdout"]


def test_a_page_on_standard_output_is_the_page_alone(tmp_path):
    piped = subprocess.run(PAGE, capture_output=True, check=True)
    assert piped.stdout.startswith(b"%PDF")
    assert piped.stdout.rstrip().endswith(b"%%EOF")
    assert b"Wrote" in piped.stderr
    with (tmp_path / "page.pdf").open("wb") as page:
        page.write(b"before")
        page.flush()
        subprocess.run(PAGE, stdout=page, check=True)
        page.write(b"")
        page.seek(0, os.SEEK_END)
        page.write(b"after")
    assert (tmp_path / "page.pdf").read_bytes() == b"before" + piped.stdout + b"after"
    assert [p.name for p in tmp_path.iterdir()] == ["page.pdf"]


def test_a_file_that_may_not_be_written_to_stays(open_path):  # noqa: F811
    def refuse():
        with pytest.raises(PermissionError) as caught:
            write_whole(open_path / "page.pdf", "new")
        assert caught.value.filename == str(open_path / "page.pdf")

    (open_path / "page.pdf").write_text("old")
    (open_path / "page.pdf").chmod(0o444)
    assert as_anyone(refuse)
    (open_path / "page.pdf").chmod(0o666)
    open_path.chmod(0o555)
    assert as_anyone(refuse)
    assert (open_path / "page.pdf").read_text() == "old"
    open_path.chmod(0o777)
    assert as_anyone(lambda: write_whole(open_path / "page.pdf", "new"))
    assert (open_path / "page.pdf").read_text() == "new"


def test_a_full_disk_names_the_persons_file_and_leaves_it(tmp_path, monkeypatch):
    (tmp_path / "page.pdf").write_text("old")

    def full(*_):
        raise OSError(errno.ENOSPC, "No space left on device")

    for name in ("create", "write", "fsync", "rename"):
        with monkeypatch.context() as patch:
            patch.setattr(disk, name, full)
            with pytest.raises(OSError, match="No space") as caught:
                write_whole(tmp_path / "page.pdf", "new")
        assert caught.value.filename == str(tmp_path / "page.pdf")
        assert (tmp_path / "page.pdf").read_text() == "old"
        assert not left_over(tmp_path)


def test_a_run_killed_anywhere_leaves_the_old_or_the_new(tmp_path):
    def judge(place, before, number):
        assert (place / "page.pdf").read_text() in ("old", "new"), number
        write_whole(place / "another.pdf", "x")
        assert {p.name for p in place.iterdir()} == {"page.pdf", "another.pdf"}

    calls = every_kill(
        tmp_path,
        lambda place: (place / "page.pdf").write_text("old"),
        lambda place: write_whole(place / "page.pdf", "new"),
        judge,
    )
    assert calls > 6


def test_what_a_living_run_has_unfinished_is_left_to_it(tmp_path, monkeypatch):
    ours, theirs = os.pipe()
    goes_on, go_on = os.pipe()
    child = os.fork()
    if child == 0:
        rename = disk.rename

        def wait(*inputs):
            os.write(theirs, b".")
            os.read(goes_on, 1)
            rename(*inputs)

        try:
            monkeypatch.setattr(disk, "rename", wait)
            write_whole(tmp_path / "page.pdf", "one")
        finally:
            os._exit(0)
    os.read(ours, 1)
    before = sorted(left_over(tmp_path))
    assert len(before) == 2
    monkeypatch.setattr(disk, "_PATIENCE", 0)
    with pytest.raises(OSError, match="another run"):
        write_whole(tmp_path / "other.pdf", "two")
    assert sorted(left_over(tmp_path)) == before
    os.write(go_on, b".")
    os.waitpid(child, 0)
    assert (tmp_path / "page.pdf").read_text() == "one"
    assert not left_over(tmp_path)
