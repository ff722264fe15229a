"""Characters that the bundled typefaces lack: a name in another script, a small picture.

The same file gives the same bytes while the bundled typefaces suffice. Where they do not, the
computer's own typefaces help out, and what those lack too is named, since paper would show
empty boxes.
"""

from __future__ import annotations

import json
import re
import unicodedata
from functools import cache
from importlib.resources import files

from ..drawing.textsize import measured

#: A character that no typeface has: what looks like it is missing.
_NONE = "\U0010fffd"
_PAGES = """#set page(width: auto, height: auto)
#set text(font: "Source Sans Pro")
#for c in json(bytes(sys.inputs.chars)) { page(text(c)) }
"""
_BEYOND_ASCII = re.compile(r"[^\x00-\x7f]")
_MOST = 400  # distinct characters looked at


def font_folder() -> str:
    """Where the bundled typeface is."""
    return str(files("kerfwind.drawing") / "fonts")


def wants_system(text: str) -> bool:
    """Whether the computer's own typefaces are needed for some of this."""
    return not text.isascii() and bool(_lacking(_foreign(text), system=False))


def lacking(text: str) -> str:
    """The characters of a text that no typeface at hand has, in order."""
    if not wants_system(text):
        return ""
    return _lacking(_foreign(text), system=True)


def _foreign(text: str) -> str:
    """Characters that are seen and that the bundled typeface lacks."""
    seen = (c for c in sorted(set(_BEYOND_ASCII.findall(text))) if not measured(c))
    return "".join([c for c in seen if unicodedata.category(c)[0] not in "CMZ"][:_MOST])


@cache
def _lacking(chars: str, *, system: bool) -> str:
    """Those that are drawn as a missing one is."""
    if not chars:
        return ""
    import typst

    # Its types leave out that a page in memory goes with folders of typefaces.
    pages = typst.compile(  # type: ignore[call-overload]
        _PAGES.encode("utf-8"),
        format="svg",
        font_paths=[font_folder()],
        ignore_system_fonts=not system,
        sys_inputs={"chars": json.dumps([_NONE, *chars])},
    )
    shapes = [re.findall(rb'xlink:href="#(\w+)"', bytes(each)) for each in pages]
    return "".join(c for c, shape in zip(chars, shapes[1:], strict=True) if shape == shapes[0])
