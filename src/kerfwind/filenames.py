"""Names of files, made from a person's words: readable, and only ever names."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator
from itertools import count
from pathlib import Path

from .plaintext import without_unseen

#: In UTF-8, with its suffix [bytes]: leaves room for what programs and drives add to it.
MOST_BYTES = 80
_NAMELESS = "unnamed"
#: Names of devices on some systems, whatever suffix follows.
_DEVICES = frozenset(
    ["con", "prn", "aux", "nul", "conin", "conout", "clock"]
    + [f"{port}{number}" for port in ("com", "lpt") for number in range(10)]
)
_QUOTES = "'’ʼ`´\""
_KEPT, _ENDS = " -_.,+&()", " -_."
#: In the place of what is left out, until a dash is.
_GONE = "\0"


def file_stem(words: str, *, before: str = "", after: str = "", suffix: str = "") -> str:
    """A file name without its suffix: letters and numbers of any script, spaces, a few signs.

    Parameters
    ----------
    before, after
        The program's own text around the words, which is never cut.
    suffix
        The longest that the file will bear, so that the whole has at most `MOST_BYTES`.
    """
    room = MOST_BYTES - len(f"{before}{after}{suffix}".encode())
    kept = _cut(_readable(words), room) or _NAMELESS
    stem = f"{before}{kept}{after}"
    if _device(stem):
        lead = "file-"
        stem = f"{before}{lead}{_cut(kept, room - len(lead))}{after}"
    return stem


def numbered(path: Path) -> Iterator[Path]:
    """A path, and then with a number after its name: ``page.pdf``, ``page-2.pdf`` and so on."""
    yield path
    for number in count(2):
        yield path.with_stem(f"{path.stem}-{number}")


class FileNames:
    """Hands out the stems of one folder's files, each once.

    Two differ for drives, too, that take large and small letters, or letters with their marks
    in one piece or two, for the same.
    """

    def __init__(self, taken: Iterable[str] = ()) -> None:
        self._taken = {_folded(stem) for stem in taken}

    def stem(self, words: str, *, before: str = "", after: str = "", suffix: str = "") -> str:
        """As `file_stem`, with a number after the words where it was handed out before."""
        stem, number = file_stem(words, before=before, after=after, suffix=suffix), 1
        while _folded(stem) in self._taken:
            number += 1
            stem = file_stem(words, before=before, after=f"-{number}{after}", suffix=suffix)
        self._taken.add(_folded(stem))
        return stem


def _readable(words: str) -> str:
    kept: list[str] = []
    for char in without_unseen(re.sub(r"\s+", " ", unicodedata.normalize("NFC", words))):
        kind = unicodedata.category(char)[0]
        if char in _QUOTES:
            continue
        # A mark belongs to the letter before it.
        marks = kind == "M" and kept and unicodedata.category(kept[-1])[0] in "LMN"
        kept.append(char if kind in "LN" or marks or char in _KEPT else _GONE)
    text = re.sub(r"(?<![^\W_])\.|\.(?![^\W_])", _GONE, "".join(kept))
    text = re.sub(rf" *{_GONE}[{_GONE} ]*", "-", text)
    return unicodedata.normalize("NFC", text).strip(_ENDS)


def _cut(text: str, room: int) -> str:
    """As much of a text as ``room`` bytes take, no letter parted from its marks."""
    short = text.encode()[: max(room, 0)].decode(errors="ignore")
    if len(short) < len(text) and unicodedata.category(text[len(short)])[0] == "M":
        while short and unicodedata.category(short[-1])[0] == "M":
            short = short[:-1]
        short = short[:-1]
    return short.strip(_ENDS)


def _device(stem: str) -> bool:
    return unicodedata.normalize("NFKC", stem.partition(".")[0]).casefold() in _DEVICES


def _folded(stem: str) -> str:
    """The same for all stems that some drive takes for one name."""
    text = unicodedata.normalize("NFD", stem.upper()).casefold()
    return unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", text).casefold())
