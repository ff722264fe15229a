"""How a run ends when it is asked to: Ctrl-C, a kill, a terminal that is closed."""

from __future__ import annotations

import signal
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

#: Signals that ask for an end, where the system has them.
ASKING = [
    getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name)
]
_asked: list[int] = []
#: Seconds in which a second request is taken for the first one's.
_SAME = 1.0


class Ended(BaseException):
    """A signal asked for the end."""

    def __init__(self, number: int) -> None:
        super().__init__(number)
        self.number = number


def listen() -> None:
    """Let signals that ask for an end raise `Ended`, so that what is unfinished is cleared up.

    A signal that whoever began the run has had ignored stays so.
    """
    last = -_SAME

    def ask(number: int, _: object) -> None:
        nonlocal last
        # A second Ctrl-C must not cut short what clears up after the first.
        if time.monotonic() - last >= _SAME:
            last = time.monotonic()
            _asked.append(number)
            raise Ended(number)

    for number in ASKING:
        if signal.getsignal(number) is not signal.SIG_IGN:
            signal.signal(number, ask)


def asked() -> int | None:
    """The signal that has asked for the end, if any: what went wrong after it is no fault."""
    return _asked[0] if _asked else None


def be_left_to_another() -> None:
    """In a second process: the first one decides when it ends."""
    for number in ASKING:
        signal.signal(number, signal.SIG_IGN if number == signal.SIGINT else signal.SIG_DFL)


@contextmanager
def put_off() -> Iterator[Callable[[], None]]:
    """Signals wait until the end of this, or until the function that is given is called."""
    waiting: list[int] = []
    before = {}
    if threading.current_thread() is threading.main_thread():
        for number in ASKING:
            if signal.getsignal(number) not in (signal.SIG_IGN, None):
                before[number] = signal.signal(number, lambda n, _: waiting.append(n))

    def stop_if_asked() -> None:
        if waiting:
            raise Ended(waiting[0])

    try:
        yield stop_if_asked
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
        if waiting:
            signal.raise_signal(waiting[0])
