"""The process that plans: it takes a shop file's text and gives back what the page shows.

The server begins it as a new interpreter, so that a search in it never holds up the page,
and begins another where it ends. Of several texts sent while it plans, the last counts.
"""

from __future__ import annotations

import gc
import multiprocessing.process
import os
import traceback
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import replace
from multiprocessing.connection import Connection
from threading import Lock
from typing import Any

from ..second_process import end_worker, start_worker
from .asking import Ask, Doing, Fetch, Fetched, Shown, Stop, Stopped, Superseded


def be_engine(pipe: Connection) -> None:
    """`serve`, and the end of the process when nobody is left to answer."""
    serve(pipe)
    # Python's own way out would wait for the second process, which waits for this one.
    end_worker()
    os._exit(0)


def serve(pipe: Connection) -> None:
    """Answer what comes through the pipe, until it is closed."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    # The server may end this process at any time, and the second one ends with it.
    multiprocessing.process.current_process()._config["daemon"] = False  # type: ignore[attr-defined]
    # What it makes comes after the first answer, which the page and the browser work for.
    start_worker("kerfwind.plan", stands_back=15)
    from .fetching import PRINTED
    from .planner import Planner

    planner, post = Planner(), Post(pipe)
    # A plan makes many objects that live: looking for rings among them is seldom worth it.
    gc.set_threshold(20_000, 20, 20)
    # What prints takes seconds: an edit meanwhile is answered all the same.
    printing = ThreadPoolExecutor(1)
    while True:
        try:
            for each in post.next():
                if isinstance(each, Ask):
                    _show(planner, each, post)
                elif each.what in PRINTED:
                    printing.submit(_print, each, planner.prepared(each), post)
                else:
                    post.send(planner.fetch(each))
        except (EOFError, OSError):
            printing.shutdown(wait=False, cancel_futures=True)
            return


def _print(fetch: Fetch, make: Callable[[], Fetched], post: Post) -> None:
    try:
        made = make()
    except Exception:
        traceback.print_exc()
        made = Fetched(fetch.number, None)
    with suppress(OSError):
        post.send(made)


def _show(planner: Any, ask: Ask, post: Post) -> None:
    def doing(what: str, at: int, of: int) -> None:
        post.send(Doing(ask.number, what, at, of))

    try:
        for shown in planner.show(ask, lambda: post.newer(ask), doing):
            post.send(shown)
        if not gc.get_freeze_count() and planner.whole:
            # What was made until now mostly stays: no edit waits for a look through all of it.
            gc.collect()
            gc.freeze()
    except Superseded:
        post.put_back(ask)


class Post:
    """What comes through the pipe and is not answered yet, in its order."""

    def __init__(self, pipe: Connection) -> None:
        self.pipe = pipe
        self._sending = Lock()
        self._waiting: list[Ask | Fetch] = []

    def send(self, answer: Shown | Doing | Fetched) -> None:
        """Send one answer whole, whichever thread has it."""
        with self._sending:
            self.pipe.send(answer)

    def next(self) -> list[Ask | Fetch]:
        """All that waits: every file asked for, and of the questions the last.

        What an earlier one brought that the last has not, its text, is not lost.
        """
        if not self._waiting:
            self._take(self.pipe.recv())
        while self.pipe.poll():
            self._take(self.pipe.recv())
        waiting, self._waiting = self._waiting, []
        asks = [each for each in waiting if isinstance(each, Ask)]
        fetches: list[Ask | Fetch] = [each for each in waiting if isinstance(each, Fetch)]
        if not asks:
            return fetches
        text = next((a.text for a in reversed(asks) if a.text is not None), None)
        return [*fetches, replace(asks[-1], text=text, anew=any(a.anew for a in asks))]

    def newer(self, ask: Ask) -> None:
        """Look whether something came while ``ask`` is worked out.

        Raises
        ------
        Superseded
            Something else waits.
        Stopped
            The rest of this one is not wanted.
        """
        stopped = False
        while self.pipe.poll():
            each = self.pipe.recv()
            stopped |= isinstance(each, Stop) and each.number == ask.number
            self._take(each)
        if self._waiting:
            raise Superseded
        if stopped:
            raise Stopped

    def put_back(self, ask: Ask) -> None:
        """What was left for a file that somebody waits for is still to be answered."""
        self._waiting.insert(0, ask)

    def _take(self, each: Ask | Fetch | Stop) -> None:
        # A stop that comes when all is answered has nothing to stop.
        if not isinstance(each, Stop):
            self._waiting.append(each)
