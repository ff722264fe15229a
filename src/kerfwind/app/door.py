"""The way in for a phone: a port on the local network, open only while somebody wants it."""

from __future__ import annotations

import asyncio
import contextlib
import ipaddress
import socket
from collections.abc import Iterator

import uvicorn
from starlette.types import ASGIApp

from .guard import Guard, new_secret

#: This computer, for itself alone.
LOOPBACK = "127.0.0.1"
#: Pages that are open there have so long to end [s].
_GRACE_S = 2


class _Beside(uvicorn.Server):
    """A server beside the one that hears Ctrl-C."""

    @contextlib.contextmanager
    def capture_signals(self) -> Iterator[None]:
        """Signals are the other's."""
        yield


class Door:
    """Serves the page on the local network too, to whoever has its secret.

    Attributes
    ----------
    app
        What is served on this computer alone.
    port
        Tried first; 0 for any that is free.
    address
        Where a phone comes in, with the secret; empty while it is shut.
    """

    def __init__(self, app: ASGIApp, port: int = 0) -> None:
        self.app, self.port = app, port
        self.address = ""
        self._bound: socket.socket | None = None
        self._server: _Beside | None = None
        self._serving: asyncio.Task[None] | None = None

    def unlock(self) -> str:
        """Take a port and a new secret; the address, or empty where there is no network.

        It is answered there from `serve` on.
        """
        if self.address:
            return self.address
        near = local_address()
        if not near:
            return ""
        bound = _bound(near, self.port) or _bound(near, 0)
        if bound is None:
            return ""
        host = f"{near}:{bound.getsockname()[1]}"
        secret = new_secret()
        guarded = Guard(self.app, frozenset({host}), secret)
        self._bound, self._server = bound, _Beside(serving(guarded, begins=False))
        self.address = f"http://{host}/?key={secret}"
        return self.address

    def serve(self) -> None:
        """Answer, in the running event loop, where it was unlocked."""
        if self._server is not None and self._bound is not None and self._serving is None:
            work = self._server.serve(sockets=[self._bound])
            self._serving = asyncio.get_running_loop().create_task(work)

    async def shut(self) -> None:
        """End what was let in; the secret is worth nothing any more."""
        server, task, bound = self._server, self._serving, self._bound
        self.address, self._server, self._serving, self._bound = "", None, None, None
        if server is not None:
            server.should_exit = True
        if task is not None:
            await task
        if bound is not None:
            bound.close()


def serving(app: ASGIApp, *, begins: bool) -> uvicorn.Config:
    """How the page is served, wherever it is; with the one that ``begins`` the app starts and ends."""
    return uvicorn.Config(
        app,
        lifespan="on" if begins else "off",
        log_level="error",
        access_log=False,
        ws="websockets-sansio",
        ws_max_size=1_000_000,
        timeout_graceful_shutdown=_GRACE_S,
        server_header=False,
    )


def listen(host: str, port: int) -> socket.socket:
    """A port that is bound: whoever comes before all is ready waits, and is not turned away.

    Raises
    ------
    OSError
        It is taken.
    """
    bound = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        bound.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        bound.bind((host, port))
        bound.listen()
    except BaseException:
        bound.close()
        raise
    return bound


def _bound(host: str, port: int) -> socket.socket | None:
    try:
        return listen(host, port)
    except OSError:
        return None


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
