"""Every number that came from outside, with where it came from.

A room asks for a number by its key, ``fact("air.entry_loss.plain").value``, and cites
the same key in its findings. Each topic is a module of this package with two tuples,
``SOURCES`` and ``FACTS``.
"""

from __future__ import annotations

from functools import cache
from importlib import import_module

from .kinds import STANDINGS, Fact, Source, SourceStanding

__all__ = [
    "STANDINGS",
    "Fact",
    "Source",
    "SourceStanding",
    "all_facts",
    "all_sources",
    "cite",
    "fact",
    "source",
]

_TOPICS = ("general", "air", "hookup", "cart", "options", "cutting", "power", "breathing", "parts")


@cache
def _sources() -> dict[str, Source]:
    table: dict[str, Source] = {}
    for topic in _TOPICS:
        for each in import_module(f"{__name__}.{topic}").SOURCES:
            if each.key in table:
                raise ValueError(f"two sources are called {each.key!r}")
            table[each.key] = each
    return table


@cache
def _facts() -> dict[str, Fact]:
    table: dict[str, Fact] = {}
    for topic in _TOPICS:
        for each in import_module(f"{__name__}.{topic}").FACTS:
            if each.key in table:
                raise ValueError(f"two facts are called {each.key!r}")
            if each.source not in _sources():
                raise ValueError(f"fact {each.key!r} names no known source: {each.source!r}")
            table[each.key] = each
    return table


def source(key: str) -> Source:
    """The source called ``key``; KeyError when there is none."""
    return _sources()[key]


def fact(key: str) -> Fact:
    """The fact called ``key``; KeyError when there is none."""
    return _facts()[key]


def all_sources() -> tuple[Source, ...]:
    """Every source, in order of topic."""
    return tuple(_sources().values())


def all_facts() -> tuple[Fact, ...]:
    """Every fact, in order of topic."""
    return tuple(_facts().values())


def cite(key: str) -> str:
    """One line for a fact's or a source's key: citation, place and standing."""
    if key in _facts():
        found = _facts()[key]
        origin = _sources()[found.source]
        where = f", {found.where}" if found.where else ""
        return f"{origin.citation}{where} ({STANDINGS[found.standing or origin.standing]})"
    origin = _sources()[key]
    return f"{origin.citation} ({STANDINGS[origin.standing]})"
