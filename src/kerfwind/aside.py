"""Calls carried out in a second process while the first goes on."""

from __future__ import annotations

import ctypes
import os
import pickle
import signal
import struct
import sys
from collections.abc import Callable, Sequence
from contextlib import suppress
from typing import Any, TypeVar

from .ending import ASKING, be_left_to_another

T = TypeVar("T")


#: Second processes that have not been seen to end.
_children: set[int] = set()
_PR_SET_PDEATHSIG = 1


def _forked() -> int:
    """As `os.fork`; the second process ends with the first, however that ends."""
    first = os.getpid()
    # Until the second process has its own handlers, a signal would let it go on as the first.
    before = signal.pthread_sigmask(signal.SIG_BLOCK, ASKING)
    child = os.fork()
    if child:
        _children.add(child)
        signal.pthread_sigmask(signal.SIG_SETMASK, before)
        return child
    _children.clear()
    be_left_to_another()
    signal.pthread_sigmask(signal.SIG_SETMASK, before)
    if sys.platform == "linux":
        ctypes.CDLL(None).prctl(_PR_SET_PDEATHSIG, signal.SIGKILL)
    if os.getppid() != first:
        os._exit(0)
    return 0


def end_all() -> None:
    """End the second processes that are still there, whatever they are at."""
    while _children:
        child = _children.pop()
        with suppress(ProcessLookupError, ChildProcessError):
            os.kill(child, signal.SIGKILL)
            os.waitpid(child, 0)


def _two_cores() -> bool:
    return sys.platform == "linux" and (os.cpu_count() or 1) > 1


def aside(call: Callable[..., T], *inputs: Any) -> Callable[[], T]:
    """Begin ``call(*inputs)`` on another core; the result is had by calling what is returned.

    Only for pure calls whose result can be pickled. Where the system cannot fork, or has one
    core, or the second process is lost, the call is made here, when its result is wanted.
    """
    if not _two_cores():
        return lambda: call(*inputs)
    sys.stdout.flush()
    sys.stderr.flush()
    ours, theirs = os.pipe()
    child = _forked()
    if child == 0:
        try:
            os.close(ours)
            with os.fdopen(theirs, "wb") as stream:
                stream.write(_answer(call, inputs))
        finally:
            # Without the first process's clean-up.
            os._exit(0)
    os.close(theirs)

    def wanted() -> T:
        with os.fdopen(ours, "rb") as stream:
            data = stream.read()
        os.waitpid(child, 0)
        _children.discard(child)
        return _taken(data, call, inputs)

    return wanted


def _answer(call: Callable[..., Any], inputs: Sequence[Any]) -> bytes:
    try:
        answer: tuple[bool, Any] = (True, call(*inputs))
    except Exception as error:
        answer = (False, error)
    return pickle.dumps(answer, protocol=pickle.HIGHEST_PROTOCOL)


def _taken(data: bytes, call: Callable[..., T], inputs: Sequence[Any]) -> T:
    if not data:
        return call(*inputs)
    well, value = pickle.loads(data)
    if well:
        return value  # type: ignore[no-any-return]
    raise value


class Mate:
    """A second process, which imports what only it needs while the first goes on.

    It takes calls one after another. Calls and answers go through files in memory; the pipes
    carry only their places, so that neither process waits for the other to read.
    """

    def __init__(self, modules: Sequence[str]) -> None:
        self._calls, self._answers = (os.memfd_create(n) for n in ("calls", "answers"))
        theirs, self._out = os.pipe()
        self._in, back = os.pipe()
        self._written = 0
        self._asked = 0
        self._had: list[bytes] = []
        sys.stdout.flush()
        sys.stderr.flush()
        if _forked() == 0:
            try:
                os.close(self._out)
                os.close(self._in)
                _let_go_of_the_terminal()
                self._serve(modules, theirs, back)
            finally:
                os._exit(0)
        os.close(theirs)
        os.close(back)

    def _serve(self, modules: Sequence[str], asked: int, back: int) -> None:
        import importlib

        for name in modules:
            importlib.import_module(name)
        written = 0
        while place := os.read(asked, _PLACE.size):
            start, length = _PLACE.unpack(place)
            call, inputs = pickle.loads(os.pread(self._calls, length, start))
            answer = _answer(call, inputs)
            os.pwrite(self._answers, answer, written)
            os.write(back, _PLACE.pack(written, len(answer)))
            written += len(answer)

    def ask(self, call: Callable[..., T], *inputs: Any) -> Callable[[], T]:
        """As `aside`, for inputs that can be pickled."""
        data = pickle.dumps((call, inputs), protocol=pickle.HIGHEST_PROTOCOL)
        try:
            os.pwrite(self._calls, data, self._written)
            os.write(self._out, _PLACE.pack(self._written, len(data)))
        except OSError:
            return aside(call, *inputs)
        self._written += len(data)
        number = self._asked
        self._asked += 1

        def wanted() -> T:
            while len(self._had) <= number:
                place = os.read(self._in, _PLACE.size)
                if not place:
                    return call(*inputs)
                start, length = _PLACE.unpack(place)
                self._had.append(os.pread(self._answers, length, start))
            return _taken(self._had[number], call, inputs)

        return wanted


def _let_go_of_the_terminal() -> None:
    """Nobody who reads what the first process prints should wait for the second to end."""
    nothing = os.open(os.devnull, os.O_RDWR)
    for stream in range(3):
        os.dup2(nothing, stream)


_PLACE = struct.Struct("<QQ")
_mate: Mate | None = None


def prepare(*modules: str) -> None:
    """Begin a second process that imports these modules, for `handed` to use."""
    global _mate
    if _two_cores():
        _mate = Mate(modules)


def prepared() -> bool:
    """Whether a second process waits for calls."""
    return _mate is not None


def handed(call: Callable[..., T], *inputs: Any, fork: bool = True) -> Callable[[], T]:
    """As `aside`, by the process that was prepared, where one was; inputs are pickled then.

    ``fork`` False: without one the call is made here, as for a library whose own threads
    would be lost in a fork.
    """
    if _mate is not None:
        return _mate.ask(call, *inputs)
    return aside(call, *inputs) if fork else lambda: call(*inputs)
