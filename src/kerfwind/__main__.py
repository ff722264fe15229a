"""The command's entry: a second process is begun before anything large is imported."""

import gc
import io
import os
import sys
from contextlib import suppress

from .aside import prepare

_BAD_INPUT = 2
_INTERRUPTED = 130


def main() -> None:
    """Run the command."""
    # One command is one short life: collecting cycles early, and taking everything down
    # piece by piece at the end, would cost a tenth of it each.
    gc.set_threshold(100_000, 50, 50)
    # Its matrices are small, and the second core has work of its own.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    _stand_in_for_closed_streams()
    status: object = 0
    try:
        if sys.argv[1:2] == ["plan"]:
            prepare("skfem", "kerfwind.plan", "kerfwind.printed.cart_figures")
        from .cli import app

        app()
    except SystemExit as end:
        status = end.code
    except KeyboardInterrupt:
        status = _INTERRUPTED
    try:
        sys.stdout.flush()
    except BrokenPipeError:
        pass
    except OSError as error:
        status = _BAD_INPUT
        with suppress(OSError):
            print(f"what is printed: {error.strerror}.", file=sys.stderr)
    with suppress(OSError):
        sys.stderr.flush()
    os._exit(status if isinstance(status, int) else 0 if status is None else 1)


def _stand_in_for_closed_streams() -> None:
    """Nothing is read and written where a stream was closed, and no file takes its number."""
    for number, name in enumerate(("stdin", "stdout", "stderr")):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)
        if getattr(sys, name) is None:
            setattr(sys, name, os.fdopen(number, "w" if number else "r", encoding="utf-8"))
        stream = getattr(sys, name)
        if number and isinstance(stream, io.TextIOWrapper):
            # A name or an arrow that the terminal has no character for must not end a plan.
            stream.reconfigure(errors="backslashreplace")


if __name__ == "__main__":
    main()
