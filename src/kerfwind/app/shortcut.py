"""A starter on the desktop, so that the page is opened without a terminal."""

from __future__ import annotations

import os
import re
import shlex
import sys
from pathlib import Path

from ..filenames import numbered
from ..wholefiles import write_whole

#: What a double-quoted argument of a desktop entry must have a backslash before.
_RESERVED = re.compile(r'(["`$\\])')


def make_shortcut(file: Path, folder: Path | None = None, system: str = sys.platform) -> Path:
    """Put a starter for a shop file on the desktop; where it is.

    Parameters
    ----------
    folder
        Where to put it; the desktop without, or the home folder where there is none.
    system
        As `sys.platform` names it.

    Raises
    ------
    OSError
        It cannot be written.
    """
    place = folder or desktop()
    program, target = sys.executable, os.path.abspath(file)
    if system == "win32":
        ending, text = ".bat", batch(program, target)
    elif system == "darwin":
        ending, text = ".command", command(program, target)
    else:
        ending, text = ".desktop", desktop_entry(program, target)
    paths = numbered(place / f"kerfwind{ending}")
    path = next(p for p in paths if not os.path.lexists(p) or _opens_the_same(p, text))
    write_whole(path, text.encode("utf-8"))
    if system != "win32":
        path.chmod(0o755)
    return path


def _opens_the_same(path: Path, text: str) -> bool:
    """Whether a file is a starter like this one but for the program that it runs."""
    try:
        there = path.read_bytes().decode("utf-8")
    except (OSError, UnicodeDecodeError):
        return False
    program = re.compile(".*(?= -m kerfwind open )")
    return program.sub("", there) == program.sub("", text)


def desktop(home: Path | None = None) -> Path:
    """The person's desktop; the home folder where there is none.

    On Linux its name is in ``user-dirs.dirs`` (xdg-user-dirs), since it is in their language.
    """
    home = home or Path.home()
    config = Path(os.environ.get("XDG_CONFIG_HOME") or home / ".config")
    try:
        named = (config / "user-dirs.dirs").read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError):
        named = ""
    found = re.search(r'^XDG_DESKTOP_DIR="(?:\$HOME/)?(.*)"$', named, re.MULTILINE)
    for place in (home / found[1] if found else home, home / "Desktop"):
        if place != home and place.is_dir():
            return place
    return home


def desktop_entry(program: str, file: str) -> str:
    """A starter as Linux desktops read it (Desktop Entry Specification 1.5)."""

    def quoted(argument: str) -> str:
        # A value of its own escapes a backslash once more; a percent sign would be a field code.
        escaped = _RESERVED.sub(r"\\\1", argument).replace("\\", "\\\\")
        return '"' + escaped.replace("%", "%%") + '"'

    return (
        "[Desktop Entry]\n"
        "Type=Application\n"
        "Version=1.5\n"
        "Name=kerfwind\n"
        f"Exec={quoted(program)} -m kerfwind open {quoted(file)}\n"
        "Terminal=true\n"
        "Categories=Engineering;\n"
    )


def command(program: str, file: str) -> str:
    """A starter as macOS opens it."""
    return f"#!/bin/sh\nexec {shlex.quote(program)} -m kerfwind open {shlex.quote(file)}\n"


def batch(program: str, file: str) -> str:
    """A starter as Windows opens it; names in any script."""
    program, file = program.replace("%", "%%"), file.replace("%", "%%")
    return f'@echo off\r\nchcp 65001 >nul\r\n"{program}" -m kerfwind open "{file}"\r\n'
