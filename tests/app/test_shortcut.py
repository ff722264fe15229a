"""A starter on the desktop runs what it says, whatever the file is called."""

from __future__ import annotations

import configparser
import re
import subprocess
import sys

import pytest

from kerfwind.app.shortcut import batch, desktop, make_shortcut

NAMES = ["my shop.toml", 'a "b" $HOME `x`.toml', "100 %.toml", "Werkstatt ä.toml"]


@pytest.mark.parametrize("name", NAMES)
def test_a_linux_starter_names_the_file(tmp_path, name):
    made = make_shortcut(tmp_path / name, tmp_path, "linux")
    assert made.stat().st_mode & 0o111
    entry = configparser.RawConfigParser()
    entry.read(made, encoding="utf-8")
    line = entry["Desktop Entry"]["Exec"]
    # The value's own backslashes first, then the quotes of arguments, then field codes.
    plain = line.replace("\\\\", "\\").replace("%%", "%")
    quoted = [re.sub(r"\\(.)", r"\1", q) for q in re.findall(r'"((?:[^"\\]|\\.)*)"', plain)]
    assert quoted == [sys.executable, str(tmp_path / name)]
    assert '" -m kerfwind open "' in plain


@pytest.mark.parametrize("name", NAMES)
def test_a_starter_for_macos_is_run_by_the_shell(tmp_path, name):
    made = make_shortcut(tmp_path / name, tmp_path, "darwin")
    assert made.name.endswith(".command")
    told = made.read_text().replace("exec ", "printf '%s\\n' ")
    words = subprocess.run(["sh", "-c", told], capture_output=True, text=True).stdout
    assert words.splitlines() == [sys.executable, "-m", "kerfwind", "open", str(tmp_path / name)]


@pytest.mark.parametrize("system", ["linux", "darwin", "win32"])
def test_each_shop_has_its_starter_and_nobody_elses_file_goes(tmp_path, system, monkeypatch):
    first = make_shortcut(tmp_path / "a.toml", tmp_path, system)
    theirs = first.with_stem("kerfwind-2")
    theirs.write_text("what a person wrote")
    second = make_shortcut(tmp_path / "b.toml", tmp_path, system)
    assert second.stem == "kerfwind-3"
    monkeypatch.setattr(sys, "executable", "/elsewhere/python 3")
    assert make_shortcut(tmp_path / "a.toml", tmp_path, system) == first
    assert "/elsewhere/python 3" in first.read_text()
    assert theirs.read_text() == "what a person wrote"


def test_a_starter_for_windows_keeps_percent_signs():
    assert '"C:\\a\\100 %%.toml"' in batch("C:\\python.exe", "C:\\a\\100 %.toml")


def test_the_desktop_is_found_under_its_own_name(tmp_path, monkeypatch):
    monkeypatch.delenv("XDG_CONFIG_HOME", raising=False)
    assert desktop(tmp_path) == tmp_path
    (tmp_path / "Desktop").mkdir()
    assert desktop(tmp_path) == tmp_path / "Desktop"
    (tmp_path / ".config").mkdir()
    (tmp_path / "Schreibtisch").mkdir()
    (tmp_path / ".config" / "user-dirs.dirs").write_text('XDG_DESKTOP_DIR="$HOME/Schreibtisch"\n')
    assert desktop(tmp_path) == tmp_path / "Schreibtisch"
