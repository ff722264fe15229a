"""One call carried out in a second process while the first goes on."""

from __future__ import annotations

import os
import pickle
import sys
from collections.abc import Callable
from typing import Any, TypeVar

T = TypeVar("T")


def aside(call: Callable[..., T], *inputs: Any) -> Callable[[], T]:
    """Begin ``call(*inputs)`` on another core; the result is had by calling what is returned.

    Only for pure calls whose result can be pickled. Where the system cannot fork, or has one
    core, or the second process is lost, the call is made here, when its result is wanted.
    """
    if sys.platform != "linux" or (os.cpu_count() or 1) < 2:
        return lambda: call(*inputs)
    sys.stdout.flush()
    sys.stderr.flush()
    ours, theirs = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(ours)
        _work(theirs, call, inputs)
    os.close(theirs)

    def wanted() -> T:
        with os.fdopen(ours, "rb") as stream:
            data = stream.read()
        os.waitpid(child, 0)
        if not data:
            return call(*inputs)
        well, value = pickle.loads(data)
        if well:
            return value  # type: ignore[no-any-return]
        raise value

    return wanted


def _work(pipe: int, call: Callable[..., Any], inputs: tuple[Any, ...]) -> None:
    """In the second process: compute, send, and leave without the first one's clean-up."""
    try:
        try:
            answer: tuple[bool, Any] = (True, call(*inputs))
        except Exception as error:
            answer = (False, error)
        with os.fdopen(pipe, "wb") as stream:
            stream.write(pickle.dumps(answer, protocol=pickle.HIGHEST_PROTOCOL))
    finally:
        os._exit(0)
