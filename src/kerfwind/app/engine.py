"""The process that plans: it takes a shop file's text and gives back what the page shows.

The server begins it as a new interpreter, so that a search in it never holds up the page,
and begins another where it ends. Of several texts sent while it plans, the last counts.
"""

from __future__ import annotations

import multiprocessing.process
import os
from dataclasses import replace
from multiprocessing.connection import Connection
from typing import Any

from ..second_process import start_worker
from .asking import Ask, Fetch, Superseded


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
