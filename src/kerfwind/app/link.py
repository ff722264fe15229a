"""The server's end of the engine's process: asks, hears, and begins it again where it ends."""

from __future__ import annotations

import asyncio
import multiprocessing
import threading
from collections.abc import Callable
from multiprocessing.connection import Connection
from typing import Any

from .asking import Ask, Doing, Fetch, Fetched, Shown, Stop
from .engine import be_engine
from .ticks import Work

#: One that ended so often without a whole answer between is not begun again by itself.
MOST_ENDS = 3


class Engine:
    """One engine process.

    ``on_shown``, ``on_doing`` and ``on_ended`` are called in the event loop; ``on_ended`` when
    the process has ended, which was begun again unless `given_up`.
    """

    def __init__(
        self,
        on_shown: Callable[[Shown], None],
        on_doing: Callable[[Doing], None],
        on_ended: Callable[[], None],
    ) -> None:
        self.on_shown, self.on_doing, self.on_ended = on_shown, on_doing, on_ended
        self._loop = asyncio.get_running_loop()
        self._waiting: dict[int, asyncio.Future[Fetched]] = {}
        self._number = 0
        self._pipe: Connection | None = None
        self._process: Any = None
        self._ended = False
        self._ends = 0
        self.start()

    @property
    def given_up(self) -> bool:
        """Whether it ended again and again, and waits to be begun by somebody."""
        return self._ends >= MOST_ENDS

    def start(self) -> None:
        """Begin a new process; an interpreter of its own, since threads run here."""
        context = multiprocessing.get_context("spawn")
        self._pipe, theirs = context.Pipe()
        self._process = context.Process(target=be_engine, args=(theirs,), daemon=True)
        self._process.start()
        theirs.close()
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

    def _take(self, answer: Shown | Doing | Fetched) -> None:
        if isinstance(answer, Fetched):
            waiting = self._waiting.pop(answer.number, None)
            if waiting is not None and not waiting.done():
                waiting.set_result(answer)
        elif isinstance(answer, Doing):
            self.on_doing(answer)
        else:
            if not answer.checking:
                self._ends = 0
            self.on_shown(answer)

    def _again(self) -> None:
        if self._ended:
            return
        for number, waiting in self._waiting.items():
            if not waiting.done():
                waiting.set_result(Fetched(number, None))
        self._waiting.clear()
        self._ends += 1
        if not self.given_up:
            self.start()
        self.on_ended()

    def begin_anew(self) -> None:
        """Begin it once more after it was given up."""
        if self.given_up:
            self._ends = 0
            self.start()

    def ask(
        self,
        revision: int,
        places: tuple[str, ...],
        text: str,
        name: str,
        work: Work,
        aside: str,
        *,
        anew: bool = False,
    ) -> int:
        """Ask for what these places show; the question's number."""
        self._number += 1
        self._send(Ask(self._number, revision, places, text, name, work, aside, anew))
        return self._number

    def stop(self, number: int) -> None:
        """The rest of a question's answer is not wanted."""
        self._send(Stop(number))

    async def fetch(self, what: str, text: str, name: str) -> Fetched:
        """A file; without content where it cannot be made."""
        self._number += 1
        if self.given_up:
            return Fetched(self._number, None)
        number = self._number
        waiting = self._waiting[number] = self._loop.create_future()
        self._send(Fetch(number, what, text, name))
        answer: Fetched = await waiting
        return answer

    def _send(self, message: Ask | Fetch | Stop) -> None:
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
