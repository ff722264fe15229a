"""The server's end of the engine's process: asks, hears, and begins it again where it ends."""

from __future__ import annotations

import asyncio
import multiprocessing
import threading
from collections.abc import Callable
from multiprocessing.connection import Connection
from typing import Any

from .asking import Ask, Fetch, Fetched, Shown
from .engine import serve
from .ticks import Work

#: An engine that ends so soon after its start, so often, is not begun again by itself [s].
_SOON_S, _MOST = 10.0, 3


class Engine:
    """One engine process.

    ``on_shown`` and ``on_stopped`` are called in the event loop.
    """

    def __init__(self, on_shown: Callable[[Shown], None], on_stopped: Callable[[], None]) -> None:
        self.on_shown, self.on_stopped = on_shown, on_stopped
        self._loop = asyncio.get_running_loop()
        self._waiting: dict[int, asyncio.Future[Fetched]] = {}
        self._number = 0
        self._pipe: Connection | None = None
        self._process: Any = None
        self._ended = False
        self._starts: list[float] = []
        self.start()

    def start(self) -> None:
        """Begin a new process; an interpreter of its own, since threads run here."""
        context = multiprocessing.get_context("spawn")
        self._pipe, theirs = context.Pipe()
        self._process = context.Process(target=serve, args=(theirs,), daemon=True)
        self._process.start()
        theirs.close()
        self._starts.append(self._loop.time())
        threading.Thread(target=self._hear, args=(self._pipe,), daemon=True).start()

    def _hear(self, pipe: Connection) -> None:
        while True:
            try:
                answer = pipe.recv()
            except (EOFError, OSError):
                break
            self._loop.call_soon_threadsafe(self._take, answer)
        if not self._ended:
            self._loop.call_soon_threadsafe(self._again)

    def _take(self, answer: Shown | Fetched) -> None:
        if isinstance(answer, Fetched):
            waiting = self._waiting.pop(answer.number, None)
            if waiting is not None and not waiting.done():
                waiting.set_result(answer)
        else:
            self.on_shown(answer)

    def _again(self) -> None:
        for number, waiting in self._waiting.items():
            if not waiting.done():
                waiting.set_result(Fetched(number, None))
        self._waiting.clear()
        recent = [t for t in self._starts if self._loop.time() - t < _SOON_S]
        if self._ended or len(recent) >= _MOST:
            self.on_stopped()
            return
        self.start()
        self.on_stopped()

    def ask(
        self, revision: int, places: tuple[str, ...], text: str, name: str, work: Work, aside: str
    ) -> int:
        """Ask for what these places show; the question's number."""
        self._number += 1
        self._send(Ask(self._number, revision, places, text, name, work, aside))
        return self._number

    async def fetch(self, what: str, text: str, name: str) -> Fetched:
        """A file."""
        self._number += 1
        number = self._number
        waiting = self._waiting[number] = self._loop.create_future()
        self._send(Fetch(number, what, text, name))
        answer: Fetched = await waiting
        return answer

    def _send(self, message: Ask | Fetch) -> None:
        assert self._pipe is not None
        try:
            self._pipe.send(message)
        except (BrokenPipeError, OSError):
            # It is begun again as soon as its end is heard, and asked anew.
            return

    def end(self) -> None:
        """End it."""
        self._ended = True
        if self._process is not None:
            self._process.kill()
        if self._pipe is not None:
            self._pipe.close()
