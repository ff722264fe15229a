"""Calls made in a second process while the first goes on."""

from __future__ import annotations

import multiprocessing
import os
import signal
import sys
import threading
from collections import deque
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager, suppress
from functools import partial
from importlib import import_module
from multiprocessing.connection import wait
from typing import Any, TypeVar

from .ending import ASKING, be_left_to_another

T = TypeVar("T")

#: An answer that is waited for, and the call that it comes from.
_Asked = tuple[Future[Any], Callable[..., Any], tuple[Any, ...]]


class Worker:
    """A second process that makes calls one after another.

    Several threads may share it: each call gets its own answer. It ends with the process
    that began it, however that one ends, and leaves Ctrl-C to it.
    """

    def __init__(self, *modules: str, stands_back: int = 0) -> None:
        """Begin it; it imports ``modules`` at once, before the first call."""
        self.method = _start_method()
        context = multiprocessing.get_context(self.method)
        self._lock = threading.Lock()
        self._waiting: deque[_Asked] = deque()
        self._busy = False
        self._pool = ProcessPoolExecutor(
            1, mp_context=context, initializer=_settle_in, initargs=(stands_back,)
        )
        with _signals_kept_back():
            self.run(_import_all, modules)

    def run(self, call: Callable[..., T], *inputs: Any) -> Callable[[], T]:
        """Begin ``call(*inputs)`` there; its result is had by calling what is returned.

        Call, inputs and result are pickled; inputs must stay as they are until then. An error
        in the call is raised where the result is wanted. What the process did not come to
        by then, or lost because it was ended from outside, is made here.
        """
        answer = Future[T]()
        with self._lock:
            self._waiting.append((answer, call, inputs))
        self._begin_next()
        return partial(_answer, answer, call, inputs)

    def let_go(self) -> None:
        """Leave undone what it has not come to; whoever wants it after all makes it himself."""
        with self._lock:
            waiting = list(self._waiting)
            self._waiting.clear()
        for answer, _, _ in waiting:
            answer.cancel()

    def end(self) -> None:
        """End it; calls that it has not come to are then made where they are wanted."""
        self.let_go()
        self._pool.shutdown(cancel_futures=True)

    def _begin_next(self) -> None:
        """Hand the process its next call: only when it is free, for the pool takes none back."""
        with self._lock:
            if self._busy:
                return
            while self._waiting:
                answer, call, inputs = self._waiting.popleft()
                if not answer.set_running_or_notify_cancel():
                    continue
                try:
                    made = self._pool.submit(call, *inputs)
                except (BrokenProcessPool, RuntimeError):
                    answer.set_exception(BrokenProcessPool())
                    continue
                self._busy = True
                break
            else:
                return
        made.add_done_callback(partial(self._pass_on, answer))

    def _pass_on(self, answer: Future[Any], made: Future[Any]) -> None:
        with self._lock:
            self._busy = False
        self._begin_next()
        error = BrokenProcessPool() if made.cancelled() else made.exception()
        if error is None:
            answer.set_result(made.result())
        else:
            answer.set_exception(error)


def _answer(answer: Future[T], call: Callable[..., T], inputs: tuple[Any, ...]) -> T:
    if answer.cancelled() or answer.cancel():
        return call(*inputs)
    try:
        return answer.result()
    except BrokenProcessPool:
        return call(*inputs)


def _start_method() -> str:
    """A fork costs a tenth of a new interpreter, but would lose every thread that runs."""
    if sys.platform == "linux" and len(os.listdir("/proc/self/task")) == 1:
        return "fork"
    return "spawn"


@contextmanager
def _signals_kept_back() -> Iterator[None]:
    """Signals wait until the process has begun: till then it would take them as the first does."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, ASKING)
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _settle_in(stands_back: int) -> None:
    """What the second process does first."""
    if stands_back and hasattr(os, "nice"):
        os.nice(stands_back)
    be_left_to_another()
    if hasattr(signal, "pthread_sigmask"):
        signal.pthread_sigmask(signal.SIG_UNBLOCK, ASKING)
    # Nobody who reads what the first process prints should wait for the second to end.
    nothing = os.open(os.devnull, os.O_RDWR)
    for stream in range(3):
        os.dup2(nothing, stream)
    threading.Thread(target=_end_with_the_first, daemon=True).start()


def _end_with_the_first() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        # A pipe's end: it is ready as soon as the first process is gone, killed or not.
        wait([parent.sentinel])
        os._exit(1)


def _import_all(modules: tuple[str, ...]) -> None:
    for name in modules:
        with suppress(ImportError):
            import_module(name)


_worker: Worker | None = None


def start_worker(*modules: str, stands_back: int = 0) -> None:
    """Begin the second process for `run_beside`, where there is a second core.

    It imports ``modules`` at once. Begun before anything large is imported it costs least. It
    ``stands_back`` by so much, as `os.nice` counts, where others want the core as well.
    """
    global _worker
    if _worker is None and (os.cpu_count() or 1) > 1:
        _worker = Worker(*modules, stands_back=stands_back)


def worker_ready() -> bool:
    """Whether a second process takes calls."""
    return _worker is not None


def end_worker() -> None:
    """To be called by a first process that leaves without Python's own clean-up.

    A fork ends by itself; a new interpreter shares semaphores that must be given back.
    """
    global _worker
    if _worker is not None and _worker.method != "fork":
        _worker.end()
        _worker = None


def run_beside(call: Callable[..., T], *inputs: Any) -> Callable[[], T]:
    """As `Worker.run`, by the process that `start_worker` began; without one, made here when wanted."""
    return partial(call, *inputs) if _worker is None else _worker.run(call, *inputs)


def let_go() -> None:
    """Calls that the second process has not come to are made only where they are wanted."""
    if _worker is not None:
        _worker.let_go()
