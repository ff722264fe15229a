"""Memory that large work has left behind, given back to the system."""

from __future__ import annotations

import ctypes
import gc
import sys
from contextlib import suppress


def give_back() -> None:
    """Let the system have what is free; where the C library knows no such call, it stays ours."""
    gc.collect()
    if sys.platform == "linux":
        with suppress(OSError, AttributeError):
            ctypes.CDLL(None).malloc_trim(0)
