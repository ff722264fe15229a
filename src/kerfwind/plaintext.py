"""Text as text: what a file holds, and what of it is seen."""

from __future__ import annotations

import json
import re
import unicodedata


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


#: Characters that are not seen but steer a terminal or the order of letters, part a word where
#: nothing seems to part it, or may stand in no XML: controls, line separators, lone surrogates,
#: those that Unicode says to leave unshown (Default_Ignorable_Code_Point of its Character
#: Database), marks of annotations, and code points that are no characters.
_UNSEEN = (
    "\x00-\x1f\x7f-\x9f\xad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180e\u200b\u200e\u200f"
    "\u2028-\u202e\u2060-\u206f\u3164\ud800-\udfff\ufdd0-\ufdef\ufeff\uffa0\ufff0-\ufffb"
    "\U0001bca0-\U0001bca3\U0001d173-\U0001d17a\U000e0000-\U000e00ff\U000e01f0-\U000e0fff"
    + "".join(
        f"{chr(plane + 0xFFFE)}{chr(plane + 0xFFFF)}" for plane in range(0, 0x110000, 0x10000)
    )
)
#: They join or part the shapes of letters in the scripts from Arabic on, and of small pictures.
_JOINERS = "\u200c\u200d"
#: They choose among the shapes of the character before them.
_SELECTORS = "\u180b-\u180d\u180f\ufe00-\ufe0f\U000e0100-\U000e01ef"
_FIRST_JOINED = "\u0600"
#: They set the direction of the letters about them, so that a name reads as another.
_DIRECTIONS = "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
_BY_ITSELF = re.compile(f"[{_UNSEEN}{_JOINERS}{_SELECTORS}]")
_JOINER, _SELECTOR = re.compile(f"[{_JOINERS}]"), re.compile(f"[{_SELECTORS}]")


def hidden(text: str) -> list[int]:
    """Where in a text characters stand that are not seen and do not belong to a seen one.

    Joiners are let be after a letter, mark or symbol of the scripts that need them, from Arabic
    on: words of Persian, Sinhala or Malayalam, and pictures of people at work, are misspelt
    without. Between Latin letters they only make two names look the same. Likewise selectors,
    one after whatever is seen.
    """
    if text.isascii() and text.isprintable():
        return []
    found = []
    for match in _BY_ITSELF.finditer(text):
        at, char = match.start(), match[0]
        before = text[at - 1] if at else ""
        kind = unicodedata.category(before)[0] if before else "Z"
        if _JOINER.match(char) and before >= _FIRST_JOINED and kind in "LMS":
            continue
        if _SELECTOR.match(char) and kind in "LMNPS" and not _SELECTOR.match(before):
            continue
        found.append(at)
    return found


def visible(text: str) -> str:
    """The text on one line, what is hidden in it shown as escapes such as ``\\x1b``."""
    places = set(hidden(text))
    if not places:
        return text
    return "".join(
        c.encode("unicode_escape").decode("ascii") if at in places else c
        for at, c in enumerate(text)
    )


def is_control(char: str) -> bool:
    """Whether a hidden character steers a terminal or the order of letters."""
    return unicodedata.category(char) in ("Cc", "Zl", "Zp") or char in _DIRECTIONS


def without_unseen(text: str) -> str:
    """The text without characters that are not seen, joiners and selectors among them."""
    return _BY_ITSELF.sub("", text)


def json_text(value: object, indent: int | None = None) -> str:
    """JSON in which letters of all scripts stand as they are, and what is hidden as escapes."""
    text = json.dumps(value, ensure_ascii=False, indent=indent)
    if not hidden(text.replace("\n", "")):
        return text
    places = {at for at in hidden(text) if text[at] != "\n"}
    return "".join(json.dumps(c)[1:-1] if at in places else c for at, c in enumerate(text))


def quoted(text: str) -> str:
    """A text in double quotes as TOML reads it."""
    return json_text(text)
