"""Starting the page: a port on this computer, or on the local network for a phone."""

from __future__ import annotations

import threading
import webbrowser
from collections.abc import Callable
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

import uvicorn

from ..faults import Faults
from ..wholefiles import write_whole
from .door import LOOPBACK, Door, listen, serving
from .guard import Guard
from .history import folder_of
from .server import Desk, make_app

#: In the file's folder of state: where its page is.
_NOTED = "address"


@dataclass(frozen=True)
class Address:
    """Where the page is: for this computer, and for a phone where it is asked for.

    ``already`` where another run of the program has it open; from there a phone is let in.
    """

    own: str
    phone: str = ""
    already: bool = False


def open_page(
    path: Path,
    *,
    port: int = 0,
    phone: bool = False,
    browse: bool = True,
    told: Callable[[Address], None] = lambda address: None,
) -> None:
    """Serve a shop file's page until it is ended (Ctrl-C).

    Parameters
    ----------
    port
        0 for any that is free.
    phone
        A phone is let in from the start; else it can be from the page.
    told
        Called with the address as soon as it answers.
    """
    if not path.exists():
        write_whole(path, starter())
    try:
        desk = Desk(path)
    except Faults as faults:
        elsewhere = opened_by_another(path) if faults.faults[0].kind == "app.file.held" else ""
        if not elsewhere:
            raise
        told(Address(elsewhere, already=True))
        if browse:
            webbrowser.open(elsewhere)
        return
    bound = listen(LOOPBACK, port)
    number = bound.getsockname()[1]
    pages = make_app(desk)
    desk.door = Door(pages, number)
    # Where there is no network, the phone's address is empty.
    address = Address(f"http://{LOOPBACK}:{number}/", desk.door.unlock() if phone else "")
    write_whole(desk.history.folder / _NOTED, address.own)
    names = frozenset({f"{LOOPBACK}:{number}", f"localhost:{number}"})
    server = uvicorn.Server(serving(Guard(pages, names), begins=True))

    def begin() -> None:
        told(address)
        if browse:
            webbrowser.open(address.own)

    threading.Timer(0.3, begin).start()
    server.run(sockets=[bound])


def opened_by_another(path: Path) -> str:
    """Where the run that has the file open shows it; empty where that is not known."""
    try:
        return (folder_of(path) / _NOTED).read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError):
        return ""


def starter() -> str:
    """What a new file begins with: the worked example, to be changed at once."""
    return (files("kerfwind.shop") / "starter.toml").read_text(encoding="utf-8")
