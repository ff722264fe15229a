"""Files are written whole or not at all: one by itself, or several together."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

#: What the folder's name begins with while files are gathered in it.
GATHERED = ".kerfwind-"


def write_whole(path: str | Path, data: str | bytes) -> None:
    """Write a file, or leave the old one: through a file beside it, then renamed."""
    target = Path(path)
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(_bytes(data))
            stream.flush()
            os.fsync(stream.fileno())
        os.chmod(name, target.stat().st_mode & 0o777 if target.exists() else 0o644)
        os.replace(name, target)
    except BaseException:
        if os.path.exists(name):
            os.unlink(name)
        raise


@contextmanager
def gathered(folder: Path, replaced: Sequence[str] = ()) -> Iterator[Path]:
    """A new folder to write into; what is in it at the end takes its place in ``folder``.

    Whatever fails or is interrupted before, such as on a full disk, leaves ``folder`` as it was.

    Parameters
    ----------
    replaced
        Patterns of files in ``folder`` that go then, where none of the new ones has their name.
    """
    folder.mkdir(parents=True, exist_ok=True)
    work = Path(tempfile.mkdtemp(prefix=GATHERED, dir=folder))
    try:
        yield work
        moves = {p: folder / p.relative_to(work) for p in work.rglob("*") if p.is_file()}
        for target in moves.values():
            target.parent.mkdir(parents=True, exist_ok=True)
        for path, target in moves.items():
            path.replace(target)
        kept = set(moves.values())
        for pattern in replaced:
            for old in folder.glob(pattern):
                if old not in kept:
                    old.unlink()
    finally:
        shutil.rmtree(work, ignore_errors=True)


def gather(path: Path, data: str | bytes) -> None:
    """One of the files that `gathered` puts in their places; its folder is made where missing."""
    path.parent.mkdir(parents=True, exist_ok=True)
    try:
        path.write_bytes(_bytes(data))
    except OSError as error:
        # A full disk does not say of itself which file it had no room for.
        error.filename = error.filename or str(path)
        raise


def _bytes(data: str | bytes) -> bytes:
    return data.encode("utf-8") if isinstance(data, str) else data
