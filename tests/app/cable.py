"""A connection that can be cut: a proxy (SOCKS 5, RFC 1928) that the browser goes through."""

from __future__ import annotations

import socket
import threading
from contextlib import suppress


class Cable:
    """Carries what goes through it until it is cut, and again once it is mended."""

    def __init__(self) -> None:
        self._listening = socket.create_server(("127.0.0.1", 0))
        self.address = f"socks5://127.0.0.1:{self._listening.getsockname()[1]}"
        self._ends: list[socket.socket] = []
        self.whole = True
        threading.Thread(target=self._accept, daemon=True).start()

    def cut(self) -> None:
        """Nothing goes through, and what was joined ends."""
        self.whole = False
        for end in self._ends:
            with suppress(OSError):
                end.shutdown(socket.SHUT_RDWR)
        self._ends.clear()

    def mend(self) -> None:
        """New connections go through."""
        self.whole = True

    def end(self) -> None:
        """No more."""
        self.cut()
        self._listening.close()

    def _accept(self) -> None:
        while True:
            try:
                near, _ = self._listening.accept()
            except OSError:
                return
            threading.Thread(target=self._join, args=(near,), daemon=True).start()

    def _join(self, near: socket.socket) -> None:
        with near, suppress(OSError, IndexError):
            near.recv(257)
            near.sendall(b"\x05\x00")
            asked = near.recv(262)
            if not self.whole:
                return
            with socket.create_connection(("127.0.0.1", int.from_bytes(asked[-2:], "big"))) as far:
                near.sendall(b"\x05\x00\x00\x01\x00\x00\x00\x00\x00\x00")
                self._ends += [near, far]
                back = threading.Thread(target=_carry, args=(near, far), daemon=True)
                back.start()
                _carry(far, near)
                back.join()


def _carry(from_: socket.socket, to: socket.socket) -> None:
    with suppress(OSError):
        while got := from_.recv(65536):
            to.sendall(got)
    for end in (from_, to):
        with suppress(OSError):
            end.shutdown(socket.SHUT_RDWR)
