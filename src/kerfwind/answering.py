"""Answers on the command line: what is said, what went wrong and how to mend it."""

from __future__ import annotations

import errno
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import typer

from .faults import BAD_INPUT, Fault, Faults
from .wholefiles import GATHERED


def say(text: str) -> None:
    """Print on standard output; a full disk there is answered, too."""
    with answered():
        print(text)


def wrong(text: str) -> None:
    """Print on standard error."""
    print(text, file=sys.stderr)


@contextmanager
def answered() -> Iterator[None]:
    """Turn what can go wrong with a person's input into an answer and exit status 2."""
    try:
        yield
    except Faults as error:
        count = len(error.faults) + error.more
        wrong(error.text())
        wrong(f"{count:,} thing{'s' if count > 1 else ''} to mend. Nothing was written.")
        raise typer.Exit(BAD_INPUT) from None
    except BrokenPipeError:
        raise typer.Exit(0) from None
    except ValueError as error:
        from .air import AirError

        if not isinstance(error, AirError):
            raise
        wrong(f"{error}. Nothing was written.")
        raise typer.Exit(BAD_INPUT) from None
    except OSError as error:
        wrong(unwritten(error).text())
        raise typer.Exit(BAD_INPUT) from None


def unwritten(error: OSError) -> Fault:
    """What to say of a file or folder that the system refuses."""
    name = error.filename2 or error.filename
    place = Path(os.fsdecode(name)) if isinstance(name, (str, bytes)) else None
    if place is not None:
        # Files are written beside their place first; the person knows the place alone.
        beside = [i for i, part in enumerate(place.parts) if part.startswith(GATHERED)]
        if beside:
            place = Path(*place.parts[: beside[0]])
        elif place.name.startswith("."):
            place = place.parent
    mend = {
        errno.ENOSPC: "Make room on the disk, or choose a place on another.",
        errno.EDQUOT: "Make room on the disk, or choose a place on another.",
        errno.EEXIST: "A file stands where a folder should be: choose another name.",
        errno.ENOTDIR: "A file stands where a folder should be: choose another name.",
        errno.EACCES: "Choose a place that you may write to, or change its permissions.",
        errno.EPERM: "Choose a place that you may write to, or change its permissions.",
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
