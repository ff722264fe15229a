"""A text file by its bytes: its text, or why there is none."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from . import limits
from .facts import Name, state
from .faults import Faults, refusal
from .rawfile import TooLargeError, read_at_most

_MARK = "\ufeff"


@dataclass(frozen=True)
class TextFile:
    """A text to the letter, with the mark of its encoding where it begins with one."""

    text: str
    encoding: str

    @property
    def plain(self) -> str:
        """The text without the mark."""
        return self.text.removeprefix(_MARK)

    def raw(self, text: str) -> bytes:
        """Another text in the same encoding."""
        return text.encode(self.encoding)


def read_text(path: str | Path, most: int = limits.SHOP_BYTES) -> TextFile:
    """The text of a shop file.

    Raises
    ------
    Faults
        The file cannot be read, is too large, or is no text.
    """
    file = Path(path)
    name = str(path)
    try:
        raw = read_at_most(file, most)
    except TooLargeError as error:
        raise Faults([refusal("shop.file.large", file=name, size=error.size, most=most)]) from None
    except IsADirectoryError:
        raise Faults([refusal("shop.file.folder", file=name)]) from None
    except FileNotFoundError:
        raise Faults([refusal("shop.file.missing", file=name, given=Name(name))]) from None
    except OSError as error:
        why = Name(error.strerror) if error.strerror else state("shop.file.closed")
        raise Faults([refusal("shop.file.unread", file=name, why=why)]) from None
    return text_of(raw, name)


def text_of(raw: bytes, name: str) -> TextFile:
    """The text that bytes are.

    Raises
    ------
    Faults
        They are no text.
    """
    marks = {b"\xff\xfe": "utf-16-le", b"\xfe\xff": "utf-16-be"}
    encoding = marks.get(raw[:2], "utf-8")
    try:
        text = raw.decode(encoding)
    except UnicodeDecodeError as error:
        if encoding != "utf-8":
            raise Faults([refusal("shop.file.cut_short", file=name)]) from None
        if b"\0" in raw[:4096]:
            raise Faults([refusal("shop.file.binary", file=name)]) from None
        line = raw[: error.start].count(b"\n") + 1
        byte = Name(f"0x{raw[error.start]:02x}")
        raise Faults([refusal("shop.file.not_utf8", file=name, line=line, byte=byte)]) from None
    if "\0" in text:
        marked = encoding != "utf-8"
        raise Faults(
            [refusal("shop.file.cut_short" if marked else "shop.file.unmarked", file=name)]
        )
    return TextFile(text, encoding)
