"""What a text file holds, however the program that saved it encodes it."""

from __future__ import annotations

import os
import stat
from pathlib import Path

from .faults import Fault, Faults


def raw_text(path: Path, most: int, name: str, what: str) -> bytes:
    """The bytes of a file, a pipe or a device, at most ``most`` of them.

    Raises
    ------
    Faults
        There are more; of a file that is known before any is read. ``what`` is what a file
        of such a size is not, in words.
    OSError
        As `open` does.
    """
    with path.open("rb") as file:
        about = os.fstat(file.fileno())
        size = about.st_size if stat.S_ISREG(about.st_mode) else 0
        raw = file.read(most + 1) if size <= most else b""
    if size <= most and len(raw) <= most:
        return raw
    found = f"{size:,} bytes" if size > most else f"more than {most:,} bytes"
    raise Faults([Fault(name, 0, "", found, f"up to {most:,} bytes", what)])


def decoded(raw: bytes, *more: str) -> str | None:
    """The text of a file: UTF-8, UTF-16 where it says so, or one of ``more`` encodings.

    None where it is no text.
    """
    marked = raw[:2] in (b"\xff\xfe", b"\xfe\xff")
    for encoding in ("utf-16",) if marked else ("utf-8-sig", *more):
        try:
            text = raw.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\x00" not in text:
            return text
    return None


def delimiter_of(text: str) -> str:
    """What parts the cells of a CSV: of semicolon, tab and comma the most frequent in its first row."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    found = max(";\t,", key=first.count)
    return found if found in first else ","
