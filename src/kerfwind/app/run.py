"""Starting the page: a port on this computer, or on the local network for a phone."""

from __future__ import annotations

import ipaddress
import socket
import threading
import webbrowser
from collections.abc import Callable
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

import uvicorn

from ..faults import Faults
from ..wholefiles import write_whole
from .guard import Guard, new_secret
from .history import folder_of
from .server import Desk, make_app

LOOPBACK = "127.0.0.1"
#: In the file's folder of state: where its page is.
_NOTED = "address"


@dataclass(frozen=True)
class Address:
    """Where the page is: for this computer, and for a phone where it is asked for.

    ``already`` where another run of the program has it open.
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
        Also on the local network, to whoever has the secret in the address.
    told
        Called with the address as soon as it answers.
    """
    if not path.exists():
        write_whole(path, starter())
    try:
        desk = Desk(path)
    except Faults as faults:
        elsewhere = opened_by_another(path) if faults.faults[0].kind == "app.file.held" else ""
        if not elsewhere or phone:
            raise
        told(Address(elsewhere, already=True))
        if browse:
            webbrowser.open(elsewhere)
        return
    bound = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    bound.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    bound.bind(("0.0.0.0" if phone else LOOPBACK, port))
    # Whoever comes before all is ready waits, and is not turned away.
    bound.listen()
    number = bound.getsockname()[1]
    secret = new_secret() if phone else ""
    near = local_address() if phone else ""
    hosts = {f"{LOOPBACK}:{number}", f"localhost:{number}", *([f"{near}:{number}"] if near else [])}
    app = Guard(make_app(desk), frozenset(hosts), secret)
    key = f"?key={secret}" if secret else ""
    address = Address(
        f"http://{LOOPBACK}:{number}/{key}", f"http://{near}:{number}/{key}" if near else ""
    )
    desk.phone = address.phone
    noted = desk.history.folder / _NOTED
    # A secret is written nowhere.
    write_whole(noted, "" if secret else address.own)
    config = uvicorn.Config(
        app,
        log_level="error",
        access_log=False,
        ws="websockets-sansio",
        ws_max_size=1_000_000,
        timeout_graceful_shutdown=2,
        server_header=False,
    )
    server = uvicorn.Server(config)

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


def local_address() -> str:
    """This computer's address on its network; empty where it is on none.

    No packet is sent: the system only chooses the way that one would go.
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # A documentation address (RFC 5737).
            found = str(probe.getsockname()[0])
        except OSError:
            return ""
    return found if ipaddress.ip_address(found).is_private else ""
