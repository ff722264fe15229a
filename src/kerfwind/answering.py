"""Answers on the command line: what is said, what went wrong and how to mend it."""

from __future__ import annotations

import errno
import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from . import disk
from .facts import Name
from .faults import BAD_INPUT, Faults, Refusal, refusal, shortened
from .plaintext import visible
from .screen import print_lines

if TYPE_CHECKING:
    from .words import Voice

#: Characters of one line of an answer: a file may hold a text of any length.
_MOST_SAID = 1000


def say(*lines: str) -> None:
    """Print lines on standard output; a full disk there is answered, too."""
    with answered():
        print_lines(*lines)


def wrong(*lines: str) -> None:
    """Print lines on standard error; where that has gone, with its terminal, to no one."""
    with suppress(OSError):
        print_lines(*lines, error=True)


@contextmanager
def answered(voice: Voice | None = None) -> Iterator[None]:
    """Turn what can go wrong with a person's input into an answer and exit status 2.

    ``voice`` is the reader's; English where no file that asks for another was read.
    """
    try:
        yield
    except Faults as error:
        wrong(*faults_lines(error, voice))
        raise typer.Exit(BAD_INPUT) from None
    except BrokenPipeError:
        raise typer.Exit(0) from None
    except ValueError as error:
        from .air import AirError

        if not isinstance(error, AirError):
            raise
        reader = _reader(voice)
        wrong(*refusal_lines(error.refusal, reader), reader.word("answer.nothing_written"))
        raise typer.Exit(BAD_INPUT) from None
    except OSError as error:
        wrong(*unwritten(error, voice))
        raise typer.Exit(BAD_INPUT) from None


def _reader(voice: Voice | None) -> Voice:
    from .words import Voice

    return voice or Voice()


def faults_lines(faults: Faults, reader: Voice | None = None) -> list[str]:
    """What is wrong, as lines for a terminal, and how much of it there is."""
    voice = _reader(reader)
    if faults.units:
        voice = replace(voice, units=faults.units)
    lines = [line for fault in faults.faults for line in refusal_lines(fault, voice)]
    if faults.more:
        lines.append(voice.word("answer.more", count=faults.more))
    count = len(faults.faults) + faults.more
    return [*lines, voice.word("answer.to_mend", count=count)]


def refusal_lines(fault: Refusal, voice: Voice) -> list[str]:
    """A refusal as lines for a terminal: what a file holds may steer it, and is shown as escapes."""
    said = voice.refusal(fault)
    named = [shortened(said.place, 200)] if said.place else []
    where = [fault.file] if fault.file else []
    if fault.line:
        line = voice.word("answer.line", file=Name(fault.file), line=Name(str(fault.line)))
        where = [line]
    rows = [", ".join([*where, *named])]
    rows += [
        f"    {voice.word('answer.found'):<8} {shortened(said.found, _MOST_SAID)}",
        f"    {voice.word('answer.allowed'):<8} {shortened(said.allowed, _MOST_SAID)}",
        f"    {voice.word('answer.mend'):<8} {shortened(said.mend, _MOST_SAID)}",
    ]
    return [visible(row) for row in rows]


#: Why a system refuses a file or folder, as far as that decides how to mend it.
_WHY = {
    errno.ENOSPC: "full",
    errno.EDQUOT: "full",
    errno.EEXIST: "file_for_folder",
    errno.ENOTDIR: "file_for_folder",
    errno.EACCES: "closed",
    errno.EPERM: "closed",
    # A container's lower layer, or a folder that is mounted in a way of its own.
    errno.EXDEV: "not_whole",
    errno.EBUSY: "not_whole",
    errno.EISDIR: "folder_for_file",
    errno.EAGAIN: "held",
    errno.EROFS: "read_only",
}


def unwritten(error: OSError, reader: Voice | None = None) -> list[str]:
    """What to say of a file or folder that the system refuses, as lines for a terminal."""
    name = error.filename2 or error.filename
    place = str(Path(os.fsdecode(name))) if isinstance(name, (str, bytes)) else ""
    told = refusal(
        "answer.unwritten",
        "" if place else "output",
        file=place,
        held="yes" if isinstance(error, disk.HeldError) else "no",
        told=Name(error.strerror or str(error)),
        why=_WHY.get(error.errno or 0, "other"),
    )
    return refusal_lines(told, _reader(reader))


def pdf_at(out: Path) -> None:
    """Refuse a place where no page can be written, before it is set."""
    if out.is_dir():
        raise Faults([refusal("answer.pdf_is_folder", "--out", file=str(out))])
    if not out.parent.is_dir():
        parent = Name(str(out.parent))
        raise Faults([refusal("answer.pdf_without_folder", "--out", file=str(out), parent=parent)])
