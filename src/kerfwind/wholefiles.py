"""One file by itself is written whole or not at all."""

from __future__ import annotations

import errno
import os
import stat
import sys
import uuid
from contextlib import suppress
from pathlib import Path
from typing import TextIO

from . import disk
from .ending import put_off
from .result_folder import clear_up


def write_whole(path: str | Path, data: str | bytes) -> None:
    """Write a file, or leave the old one: through a file beside it, then renamed.

    A link is followed, and the file that it names is replaced. What is no file, such as a
    device, a pipe or a terminal, is written to as it is. A folder or a file that may not be
    written to raises `OSError`.
    """
    raw = data.encode("utf-8") if isinstance(data, str) else data
    try:
        old = os.stat(path)
    except FileNotFoundError:
        old = None
    if old is not None and stat.S_ISDIR(old.st_mode):
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))
    stream = _stream_at(path)
    if stream is not None:
        # Through its own descriptor, so that what is printed later comes after it.
        stream.flush()
        disk.write_to(stream.fileno(), raw)
    elif old is not None and not stat.S_ISREG(old.st_mode):
        handle = os.open(path, os.O_WRONLY)
        try:
            disk.write_to(handle, raw)
        finally:
            os.close(handle)
    elif old is not None and not os.access(path, os.W_OK):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(path))
    else:
        _replace(Path(os.path.realpath(path)), raw, old)


def is_standard_output(path: str | Path) -> bool:
    """Whether a path is what the program prints to, as ``/dev/stdout`` is."""
    return _stream_at(path) is sys.stdout


def _stream_at(path: str | Path) -> TextIO | None:
    for stream in (sys.stdout, sys.stderr):
        with suppress(OSError, ValueError):
            if os.path.samestat(os.stat(path), os.fstat(stream.fileno())):
                return stream
    return None


def _replace(target: Path, data: bytes, old: os.stat_result | None) -> None:
    try:
        with put_off() as stop_if_asked, disk.locked(target.parent, stop_if_asked) as unfinished:
            clear_up(unfinished)
            beside = target.parent / f"{disk.UNFINISHED}{uuid.uuid4().hex}"
            try:
                disk.write_new(beside, data, like=old)
                stop_if_asked()
                disk.rename(beside, target)
                disk.settle(target.parent)
            finally:
                with suppress(FileNotFoundError):
                    disk.unlink(beside)
    except OSError as error:
        # The person knows nothing of the file beside theirs.
        error.filename, error.filename2 = str(target), None
        raise
