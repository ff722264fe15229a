"""What a text file holds, however the program that saved it encodes it."""

from __future__ import annotations


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
