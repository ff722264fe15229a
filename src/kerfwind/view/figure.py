"""A drawing with what is said of it."""

from __future__ import annotations

from dataclasses import dataclass

from ..drawing import Drawing


@dataclass(frozen=True)
class Figure:
    """A drawing with the name of its file, and what stands above and below it."""

    file: str
    drawing: Drawing
    title: str = ""
    caption: str = ""
