"""The one way to the terminal: every line that is printed goes through here.

What a person wrote is text here, never markup or a command to the terminal: what is not seen
of it is shown as escapes.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any

from rich.console import Console
from rich.text import Text

from .plaintext import visible

#: Characters to a line where no one watches: enough for the tables.
_PIPED_WIDTH = 110


def print_lines(*lines: str, error: bool = False) -> None:
    """Print lines on standard output or standard error."""
    for line in lines:
        print(visible(line), file=sys.stderr if error else sys.stdout)


def styled(*parts: str | tuple[str, str]) -> Text:
    """Texts after one another on one line, plain or each with its style."""
    return Text.assemble(
        *(visible(p) if isinstance(p, str) else (visible(p[0]), p[1]) for p in parts)
    )


def stacked(lines: Sequence[Text]) -> Text:
    """Lines under one another, as one cell of a table."""
    return Text("\n").join(lines)


class Screen(Console):
    """Standard output for tables and styled lines: plain when piped, coloured for a person.

    Its reader may leave: what is left to say is then said to no one, and the exit status stays
    that of the answer.
    """

    def __init__(self) -> None:
        super().__init__(markup=False, emoji=False, highlight=False)
        if not self.is_terminal:
            self.width = _PIPED_WIDTH

    def render_str(self, text: str, *args: Any, **how: Any) -> Text:
        """As the base class, with what is hidden shown."""
        return super().render_str(visible(text), *args, **how)

    def on_broken_pipe(self) -> None:
        """Goes on in silence."""
        self.quiet = True
        nothing = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nothing, sys.stdout.fileno())


@contextmanager
def progress() -> Iterator[Callable[[str], None]]:
    """A callback that names the stage at work; silent where no one watches."""
    console = Console(stderr=True, markup=False, emoji=False)
    if not console.is_terminal:
        yield lambda text: None
        return
    with console.status(styled("reading")) as status:
        yield lambda text: status.update(styled(text))
