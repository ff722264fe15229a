"""Reading a file whose size no one has promised."""

from __future__ import annotations

import os
import stat
from pathlib import Path


class TooLargeError(ValueError):
    """More bytes than may be read: ``size`` of them, 0 where no one can tell."""

    def __init__(self, size: int) -> None:
        super().__init__(f"{size:,} bytes" if size else "endless file")
        self.size = size


def read_at_most(path: Path, most: int) -> bytes:
    """The bytes of a file, a pipe or a device, at most ``most`` of them.

    Raises
    ------
    TooLargeError
        There are more; of a file that is known before any is read.
    OSError
        As `open` does.
    """
    with path.open("rb") as file:
        about = os.fstat(file.fileno())
        size = about.st_size if stat.S_ISREG(about.st_mode) else 0
        if size > most:
            raise TooLargeError(size)
        raw = file.read(most + 1)
    if len(raw) > most:
        raise TooLargeError(0)
    return raw
