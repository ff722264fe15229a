"""Numbers behind the power room."""

from __future__ import annotations

from .kinds import Fact, Source

SOURCES: tuple[Source, ...] = ()

FACTS: tuple[Fact, ...] = ()
