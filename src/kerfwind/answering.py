"""Answers on the command line: what is said, what went wrong and how to mend it."""

from __future__ import annotations

import errno
import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import typer

from .faults import BAD_INPUT, Fault, Faults, Refusal
from .quantity import UnitChoice
from .screen import print_lines


def say(*lines: str) -> None:
    """Print lines on standard output; a full disk there is answered, too."""
    with answered():
        print_lines(*lines)


def wrong(*lines: str) -> None:
    """Print lines on standard error; where that has gone, with its terminal, to no one."""
    with suppress(OSError):
        print_lines(*lines, error=True)


@contextmanager
def answered(units: UnitChoice = "in") -> Iterator[None]:
    """Turn what can go wrong with a person's input into an answer and exit status 2.

    ``units`` are the reader's.
    """
    try:
        yield
    except Faults as error:
        count = len(error.faults) + error.more
        wrong(*(line for f in error.faults for line in _as_fault(f, units).lines()))
        if error.more:
            wrong(f"and {error.more:,} more.")
        wrong(f"{count:,} thing{'s' if count > 1 else ''} to mend. Nothing was written.")
        raise typer.Exit(BAD_INPUT) from None
    except BrokenPipeError:
        raise typer.Exit(0) from None
    except ValueError as error:
        from .air import AirError

        if not isinstance(error, AirError):
            raise
        wrong(*_as_fault(error.refusal, units).lines(), "Nothing was written.")
        raise typer.Exit(BAD_INPUT) from None
    except OSError as error:
        wrong(*unwritten(error).lines())
        raise typer.Exit(BAD_INPUT) from None


def _as_fault(fault: Fault | Refusal, units: UnitChoice) -> Fault:
    """A fault in words."""
    if isinstance(fault, Fault):
        return fault
    from .words import Voice

    said = Voice(units=units).refusal(fault)
    where = (fault.file, fault.line, said.place) if fault.file else (said.place, 0, "")
    return Fault(*where, said.found, said.allowed, said.mend)


def unwritten(error: OSError) -> Fault:
    """What to say of a file or folder that the system refuses."""
    name = error.filename2 or error.filename
    place = Path(os.fsdecode(name)) if isinstance(name, (str, bytes)) else None
    mend = {
        errno.ENOSPC: "Make room on the disk, or choose a place on another.",
        errno.EDQUOT: "Make room on the disk, or choose a place on another.",
        errno.EEXIST: "A file stands where a folder should be: choose another name.",
        errno.ENOTDIR: "A file stands where a folder should be: choose another name.",
        errno.EACCES: "Choose a place that you may write to, or change its permissions.",
        errno.EPERM: "Choose a place that you may write to, or change its permissions.",
        # A container's lower layer, or a folder that is mounted in a way of its own.
        errno.EXDEV: "The folder cannot be replaced as a whole here: name a new one.",
        errno.EBUSY: "The folder cannot be replaced as a whole here: name a new one.",
        errno.EISDIR: "A folder stands where a file should be: choose another name.",
        errno.EAGAIN: "Wait until the other run has ended, then run this again.",
        errno.EROFS: "Choose a place that you may write to.",
    }.get(error.errno or 0, "Check the folder, its permissions and the space on its disk.")
    return Fault(
        "what is printed or written" if place is None else str(place),
        0,
        "",
        error.strerror or str(error),
        "a place that can be written to, with room for the files",
        mend,
    )


def pdf_at(out: Path) -> None:
    """Refuse a place where no page can be written, before it is set."""
    allowed, mend = "a PDF file in a folder that is there", "Name the file, such as page.pdf."
    found = ""
    if out.is_dir():
        found = "a folder"
    elif not out.parent.is_dir():
        found, mend = f"no folder `{out.parent}`", "Make it first, or choose another place."
    if found:
        raise Faults([Fault(str(out), 0, "--out", found, allowed, mend)])
