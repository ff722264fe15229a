"""The command's entry."""

import gc
import io
import os
import sys
from contextlib import suppress

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
    number = asked()
    os._exit(status if number is None else 128 + number)


def _status() -> int:
    """Run the command, and print what it has said; its exit status."""
    status: object = 0
    planning = sys.argv[1:2] == ["plan"]
    if planning:
        from .second_process import end_worker, start_worker
    try:
        if planning:
            # Before any thread, and so early that both processes import at the same time.
            start_worker("kerfwind.one_cart", "kerfwind.search.sheet_choice")
        from .cli import app

        # What was wrong with the words of the command is printed as all else is.
        status = app(standalone_mode=False)
    except SystemExit as end:
        status = end.code
    except Exception as error:
        misused = _misuse(error)
        if misused is None and sys.flags.dev_mode:
            raise
        if asked() is not None:
            return _OWN_FAULT
        from .screen import print_lines

        status, text = misused or (_OWN_FAULT, _own_fault(error))
        with suppress(OSError):
            print_lines(*text.split("\n"), error=True)
    try:
        sys.stdout.flush()
    except BrokenPipeError:
        pass
    except OSError as error:
        from .answering import unwritten, wrong
        from .faults import BAD_INPUT

        status = BAD_INPUT
        with suppress(OSError):
            wrong(*unwritten(error))
    with suppress(OSError):
        sys.stderr.flush()
    if planning:
        end_worker()
    return status if isinstance(status, int) else 0 if status is None else 1


def _misuse(error: Exception) -> tuple[int, str] | None:
    """Exit status and text where the words of the command are at fault, else None."""
    from typer import BadParameter

    # Of the library under it, which has been one of its own and another's.
    base = next(c for c in BadParameter.__mro__ if c.__name__ == "ClickException")
    if not isinstance(error, base):
        return None
    text = io.StringIO()
    error.show(file=text)  # type: ignore[attr-defined]
    return error.exit_code, text.getvalue().removesuffix("\n")  # type: ignore[attr-defined]


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
