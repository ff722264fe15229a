"""Pages set from a template: apart from what fills them, so that another process takes it up at once."""

from __future__ import annotations

import json
from dataclasses import asdict
from importlib.resources import files
from typing import Literal

from .typeface import font_folder, wants_system


def typeset(template: str, data: object, drawings: dict[str, str]) -> bytes:
    """PDF bytes of one of the templates beside this module with its data and drawings.

    The same data and drawings give the same bytes, where the bundled typefaces have all their
    characters.
    """
    return set_pages(template, as_told(data), drawings)


def as_told(data: object) -> str:
    """The data of a template as text."""
    return json.dumps(data, ensure_ascii=False, default=asdict)


def set_pages(template: str, told: str, drawings: dict[str, str]) -> bytes:
    """As `typeset`, from data that are text already, for which nothing else has to be known."""
    return _set(template, told, drawings, "pdf")[0]


def pages_as_svg(template: str, told: str, drawings: dict[str, str]) -> list[bytes]:
    """Each page as SVG."""
    return _set(template, told, drawings, "svg")


def _set(
    template: str, told: str, drawings: dict[str, str], form: Literal["pdf", "svg"]
) -> list[bytes]:
    """One document, or each of its pages."""
    import typst

    here = files("kerfwind.printed")
    # All in memory: a run that is killed leaves nothing on the disk.
    parts = {file: text.encode("utf-8") for file, text in drawings.items()}
    parts |= {"main": (here / template).read_bytes(), "data.json": told.encode("utf-8")}
    parts["common.typ"] = (here / "common.typ").read_bytes()
    # Its types leave out files in memory.
    made = typst.compile(  # type: ignore[call-overload]
        parts,
        format=form,
        font_paths=[font_folder()],
        ignore_system_fonts=not wants_system("".join([told, *drawings.values()])),
    )
    # Of a single page it gives no list.
    return [bytes(each) for each in (made if isinstance(made, list) else [made])]
