"""The process that plans: it takes a shop file's text and gives back what the page shows.

The server begins it as a new interpreter, so that a search in it never holds up the page,
and begins another where it ends. Of several texts sent while it plans, the last counts.
"""

from __future__ import annotations

import multiprocessing.process
import os
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from multiprocessing.connection import Connection
from typing import Any

from ..second_process import start_worker
from .ticks import Work

#: A place on the page, and its parts in order: each with its name and its HTML.
Parts = list[tuple[str, str]]


@dataclass(frozen=True)
class Ask:
    """What the server wants to be shown.

    Attributes
    ----------
    number
        Counts the server's questions; the answers bear it.
    revision
        Of the text.
    places
        Names of the places that somebody looks at.
    text
        The shop file's text; None where it is the one that was sent before.
    work
        What is ticked in the shop.
    aside
        The text of the plan that was put aside; empty for none.
    """

    number: int
    revision: int
    places: tuple[str, ...]
    text: str | None
    name: str
    work: Work = field(default_factory=Work)
    aside: str = ""


@dataclass(frozen=True)
class Shown:
    """What the page shows.

    Attributes
    ----------
    checking
        Whether more is still to come for this revision.
    places
        The parts of each place that was asked for.
    """

    number: int
    revision: int
    checking: bool
    places: dict[str, Parts] = field(default_factory=dict)


@dataclass(frozen=True)
class Fetch:
    """A file that the page or the person wants."""

    number: int
    what: str
    text: str
    name: str


@dataclass(frozen=True)
class Fetched:
    """Its bytes and kind; without bytes it could not be made, and ``why`` says so in words."""

    number: int
    content: bytes | None
    kind: str = "application/octet-stream"
    name: str = ""
    why: str = ""


class Superseded(Exception):
    """A newer text is waiting."""


def serve(pipe: Connection) -> None:
    """Answer what comes through the pipe, until it is closed."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    # The server may end this process at any time, and the second one ends with it.
    multiprocessing.process.current_process()._config["daemon"] = False  # type: ignore[attr-defined]
    start_worker("kerfwind.plan")
    from .planner import Planner

    planner = Planner()
    while True:
        try:
            asked = _latest(pipe)
        except (EOFError, OSError):
            return
        for each in asked:
            try:
                if isinstance(each, Fetch):
                    pipe.send(planner.fetch(each))
                else:
                    _show(planner, each, pipe)
            except Superseded:
                continue
            except (BrokenPipeError, OSError):
                return


def _show(planner: Any, ask: Ask, pipe: Connection) -> None:
    def newer() -> None:
        if pipe.poll():
            raise Superseded

    for shown in planner.show(ask, newer):
        pipe.send(shown)


def _latest(pipe: Connection) -> list[Ask | Fetch]:
    """All that waits: every file asked for, and of the questions the last.

    What an earlier one brought that the last has not, its text, is not lost.
    """
    waiting: list[Any] = [pipe.recv()]
    while pipe.poll():
        waiting.append(pipe.recv())
    asks = [each for each in waiting if isinstance(each, Ask)]
    fetches: list[Ask | Fetch] = [each for each in waiting if isinstance(each, Fetch)]
    if not asks:
        return fetches
    last = asks[-1]
    text = next((a.text for a in reversed(asks) if a.text is not None), None)
    return [*fetches, replace(last, text=text)]


Newer = Callable[[], None]
