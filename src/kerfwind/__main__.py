"""The command's entry."""

import gc
import io
import os
import sys
from contextlib import suppress

from .aside import end_all, prepare
from .ending import Ended, asked, listen

#: `EX_SOFTWARE` of the BSD exit statuses.
_OWN_FAULT = 70


def main() -> None:
    """Run the command."""
    # One command is one short life: collecting cycles early, and taking everything down
    # piece by piece at the end, would cost a tenth of it each.
    gc.set_threshold(100_000, 50, 50)
    # Its matrices are small, and the second core has work of its own.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    _stand_in_for_closed_streams()
    status = 0
    # After the signal nothing more is said: there may be no terminal any more.
    with suppress(Ended):
        listen()
        status = _status()
    end_all()
    number = asked()
    os._exit(status if number is None else 128 + number)


def _status() -> int:
    """Run the command, and print what it has said; its exit status."""
    status: object = 0
    try:
        from .cli import app

        if sys.argv[1:2] == ["plan"]:
            # What both processes need is imported once, what one needs by that one.
            from . import plan, printed, terminal  # noqa: F401

            prepare("skfem")
        app()
    except SystemExit as end:
        status = end.code
    except Exception as error:
        if sys.flags.dev_mode:
            raise
        status = _OWN_FAULT
        if asked() is not None:
            return status
        with suppress(OSError):
            print(_own_fault(error), file=sys.stderr)
    try:
        sys.stdout.flush()
    except BrokenPipeError:
        pass
    except OSError as error:
        from .answering import unwritten
        from .faults import BAD_INPUT

        status = BAD_INPUT
        with suppress(OSError):
            print(unwritten(error).text(), file=sys.stderr)
    with suppress(OSError):
        sys.stderr.flush()
    return status if isinstance(status, int) else 0 if status is None else 1


def _own_fault(error: Exception) -> str:
    at = error.__traceback__
    while at is not None and at.tb_next is not None:
        at = at.tb_next
    where = f"{os.path.basename(at.tb_frame.f_code.co_filename)}, line {at.tb_lineno}" if at else ""
    return (
        f"kerfwind itself failed: {type(error).__name__}: {error} ({where}).\n"
        "    This is a fault of the program, and no answer about your shop: trust nothing that it "
        "wrote just now.\n"
        "    mend:    Look for a number far out of the ordinary in the file, and please tell "
        "whoever keeps the program, with the file and these lines."
    )


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
