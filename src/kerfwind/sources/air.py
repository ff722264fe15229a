"""Numbers behind the air room."""

from __future__ import annotations

from .kinds import Fact, Source

SOURCES: tuple[Source, ...] = ()

FACTS: tuple[Fact, ...] = ()
