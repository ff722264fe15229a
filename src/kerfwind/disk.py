"""The system calls by which files and folders are changed, one function each.

All that is written goes through here, so that a test can end a run before any of them.
"""

from __future__ import annotations

import ctypes
import errno
import os
import shutil
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from functools import cache
from pathlib import Path

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

#: What the names of unfinished files and folders begin with. Whoever holds the lock of the
#: folder that they lie in may take them to be of a run that is dead.
UNFINISHED = ".kerfwind-"
_LOCK = UNFINISHED + "lock"

_AT_FDCWD = -100
_RENAME_EXCHANGE = 2
#: How a system or a disk says that it knows no exchange.
_NO_EXCHANGE = (errno.ENOSYS, errno.EINVAL, errno.EOPNOTSUPP, errno.EPERM)
#: Seconds between two looks at a lock, and until a run that holds it is no longer waited for.
_LOOK, _PATIENCE = 0.02, 10.0


def create(path: Path) -> int:
    """A new file to write to, by its descriptor; none may be there."""
    return os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)


def extend(path: Path) -> int:
    """A file that is written to at its end, by its descriptor; a new one if there is none."""
    return os.open(path, os.O_RDWR | os.O_CREAT | os.O_APPEND | getattr(os, "O_BINARY", 0), 0o600)


def cut(handle: int, size: int) -> None:
    """Leave only so many bytes of a file."""
    os.ftruncate(handle, size)


def write(handle: int, data: bytes | memoryview) -> int:
    """Write some of the data; the number of bytes written."""
    return os.write(handle, data)


def fsync(handle: int) -> None:
    """Return once the file or folder is on the disk."""
    os.fsync(handle)


def mkdir(path: Path) -> None:
    """Make a folder."""
    os.mkdir(path)


def mkdtemp(parent: Path) -> Path:
    """Make a folder for what is unfinished."""
    return Path(tempfile.mkdtemp(prefix=UNFINISHED, dir=parent))


def link(path: Path, name: Path) -> None:
    """Give a file a second name."""
    os.link(path, name)


def symlink(target: str, name: Path) -> None:
    """Make a link."""
    os.symlink(target, name)


def copy(path: Path, name: Path) -> None:
    """Copy a file and what is known about it, and see it on the disk."""
    shutil.copy2(path, name)
    settle(name)


def liken(
    path: Path, like: os.stat_result, model: Path | None = None, *, new: bool = False
) -> None:
    """Give a file or folder the owner and permissions of another, as far as one may.

    ``model``: from there the rest that is known about a folder, too, but its times where it
    is ``new``.
    """
    if hasattr(os, "chown"):
        with suppress(OSError):
            os.chown(path, like.st_uid, like.st_gid)
    if model is None:
        os.chmod(path, like.st_mode & 0o7777)
    else:
        shutil.copystat(model, path)
    if new:
        os.utime(path)


def rename(path: Path, name: Path) -> None:
    """Rename a file or folder; what has the new name, file or empty folder, goes."""
    os.replace(path, name)


def exchange(one: Path, other: Path) -> bool:
    """Let two folders change names in one step; False where system or disk cannot."""
    call = _renameat2()
    if call is None:
        return False
    if call(_AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other), _RENAME_EXCHANGE) == 0:
        return True
    number = ctypes.get_errno()
    if number in _NO_EXCHANGE:
        return False
    raise OSError(number, os.strerror(number), str(other))


@cache
def _renameat2() -> Callable[..., int] | None:
    if sys.platform != "linux":
        return None
    call = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None)
    if call is not None:
        call.argtypes = [
            ctypes.c_int,
            ctypes.c_char_p,
            ctypes.c_int,
            ctypes.c_char_p,
            ctypes.c_uint,
        ]
    return call


def unlink(path: Path) -> None:
    """Take a file away."""
    os.unlink(path)


def rmdir(path: Path) -> None:
    """Take an empty folder away."""
    os.rmdir(path)


def write_new(path: Path, data: bytes, like: os.stat_result | None = None) -> None:
    """Write a file that was not there, and see it on the disk."""
    handle = create(path)
    try:
        write_to(handle, data)
        fsync(handle)
    finally:
        os.close(handle)
    if like is not None:
        liken(path, like)


def write_to(handle: int, data: bytes) -> None:
    """Write all of the data to an open file."""
    rest = memoryview(data)
    while rest:
        rest = rest[write(handle, rest) :]


def settle(path: Path) -> None:
    """See a file, or the names that a folder holds, on the disk; some systems see to it."""
    if sys.platform == "win32":
        return
    handle = os.open(path, os.O_RDONLY)
    try:
        fsync(handle)
    except OSError as error:
        # Disks of other systems may know no such thing for a folder.
        if error.errno not in (errno.EINVAL, errno.EBADF, errno.EOPNOTSUPP):
            raise
    finally:
        os.close(handle)


def remove_tree(folder: Path) -> None:
    """Take a folder and all in it away; no link is followed."""
    for entry in list(os.scandir(folder)):
        if entry.is_dir(follow_symlinks=False):
            remove_tree(Path(entry.path))
        else:
            unlink(Path(entry.path))
    rmdir(folder)


class HeldError(OSError):
    """Another run writes in the same folder."""


@contextmanager
def locked(folder: Path, stop_if_asked: Callable[[], None]) -> Iterator[list[Path]]:
    """While this lasts no other run writes in the folder; what dead runs left unfinished in it.

    ``stop_if_asked`` is called while another run is waited for.

    Raises
    ------
    HeldError
        Another run did not end within some seconds.
    """
    path = folder / _LOCK
    until = time.monotonic() + _PATIENCE
    while (handle := hold(path)) is None:
        if time.monotonic() > until:
            raise HeldError(errno.EWOULDBLOCK, "another run is writing there", str(folder))
        stop_if_asked()
        time.sleep(_LOOK)
    try:
        yield sorted(p for p in folder.glob(f"{UNFINISHED}*") if p != path)
    finally:
        # Elsewhere an open file can be taken away, so that no one gets the lock of a file that
        # has no name. A lock that another person left in a folder for all stays theirs.
        try:
            with suppress(OSError):
                if sys.platform != "win32":
                    unlink(path)
        finally:
            os.close(handle)
        with suppress(OSError):
            if sys.platform == "win32":
                unlink(path)


def hold(path: Path) -> int | None:
    """An open file that is locked, and still has its name; None while another run has it.

    It is locked until it is closed, or the run ends.
    """
    handle = _opened(path)
    if handle is None:
        return None
    try:
        if sys.platform == "win32":
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        if os.path.samestat(os.fstat(handle), os.stat(path)):
            return handle
    except (BlockingIOError, PermissionError, FileNotFoundError):
        pass
    os.close(handle)
    return None


def _opened(path: Path) -> int | None:
    follow = getattr(os, "O_NOFOLLOW", 0)
    try:
        return os.open(path, os.O_RDWR | os.O_CREAT | os.O_EXCL | follow, 0o666)
    except FileExistsError:
        pass
    try:
        return os.open(path, os.O_RDWR | follow)
    except FileNotFoundError:
        return None
    except PermissionError:
        return os.open(path, os.O_RDONLY | follow)
