"""A browser for the session; for each test a shop file, its server and a page."""

from __future__ import annotations

import http.client
import json
import os
import re
import secrets
import shutil
import signal
import socket
import subprocess
import sys
import time
import tomllib
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest
from websockets.sync.client import connect

from tests.app.cable import Cable

ROOT = Path(__file__).parents[2]
#: Where Chromium and what is built on it go by, the plain one first.
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "msedge")
_FLAGS = [
    "--no-sandbox",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--use-gl=angle",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
]
#: The command; its local network is this computer by another name, whatever network there is.
_OPEN = (
    sys.executable,
    "-c",
    "from kerfwind.app import door; door.local_address = lambda: '127.0.0.2'\n"
    "from kerfwind.__main__ import main; main()",
    "open",
    "--no-browser",
)
#: The slowest answer is waited for so long [ms]; nothing is measured by it.
PATIENCE_MS = 180_000


def found_browser() -> str:
    """The first browser that is there; without one the tests end and say what to install."""
    for name in BROWSERS:
        if path := shutil.which(name):
            return path
    pytest.fail("No Chromium was found: install it (on Debian: apt-get install chromium).", False)


@pytest.fixture(scope="session")
def browser():
    """One browser for all tests of a process."""
    from playwright.sync_api import sync_playwright

    path = found_browser()
    with sync_playwright() as play:
        started = play.chromium.launch(executable_path=path, args=_FLAGS)
        yield started
        started.close()


class Server:
    """The command that a person gives, on a port of its own."""

    def __init__(self, file: Path, *options: str) -> None:
        self.file, self.options = file, options
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self.state = file.parent / "state"
        self.start()

    def start(self) -> None:
        """Begin it, and wait until it says where it is."""
        env = {**os.environ, "XDG_STATE_HOME": str(self.state), "PYTHONUNBUFFERED": "1"}
        self.process = subprocess.Popen(
            [*_OPEN, str(self.file), "--port", str(self.port), *self.options],
            env=env,
            stdout=subprocess.PIPE,
            text=True,
        )
        assert self.process.stdout is not None
        self.said = ""
        addresses: list[str] = []
        while len(addresses) < 1 + ("--phone" in self.options):
            line = self.process.stdout.readline()
            assert line, f"the server ended: {self.said}"
            self.said += line
            addresses = re.findall(r"http://\S+", self.said)
        self.address, self.phone = addresses[0], addresses[-1]

    def kill(self) -> None:
        """As a cut of power does: nothing is said to it."""
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()
        self.process.stdout.close()

    def end(self) -> None:
        """As Ctrl-C does."""
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGINT)
            try:
                self.process.wait(PATIENCE_MS / 1000)
            except subprocess.TimeoutExpired:
                self.kill()
            self.process.stdout.close()


_REMARK = "# My own remark."
SHOP = f"""\
{_REMARK}
[about]
name = "A small shop"

[vacuum]
name = "shop vacuum"
tank = "9 US gal"
amps = "9.5 A"
filter = "clogged"

[vacuum.suction]
sealed = "65 inH2O"
open_airflow = "110 cfm"

[separator.bucket]
volume = "5 US gal"

[[hoses]]
name = "big hose"
bore = "2-1/4 in"
length = "8 ft"

[[tools]]
name = "sander"
hood = "pad holes"
port = {{ inside = "1 in", outside = "1-1/4 in", length = "1 in" }}
place = {{ x = "9 ft", y = "6 ft" }}

[[tools]]
name = "mitre saw"
hood = "mitre boot"
place = {{ x = "4 ft", y = "9 ft" }}
"""


@pytest.fixture
def shop(tmp_path) -> Path:
    """A shop file with two tools."""
    file = tmp_path / "shop.toml"
    file.write_text(SHOP)
    return file


class Shared:
    """One server for all tests that leave it running; each finds the shop as it was at first."""

    def __init__(self, folder: Path) -> None:
        self.file = folder / "shop.toml"
        self.server: Server | None = None

    def as_at_first(self) -> Server:
        """Put back what the test before changed, through the page's own door."""
        if self.server is None or self.server.process.poll() is not None:
            self.file.write_text(SHOP)
            self.server = Server(self.file)
        near = f"127.0.0.1:{self.server.port}"
        with connect(f"ws://{near}/live", origin=f"http://{near}", open_timeout=None) as socket:
            client = secrets.token_hex(8)
            ways = [{"t": "work", "what": "anew"}, {"t": "aside", "what": "forget"}]
            for seq, way in enumerate(ways):
                socket.send(json.dumps({**way, "client": client, "seq": seq}))
                while json.loads(socket.recv(PATIENCE_MS / 1000))["t"] != "ack":
                    pass
        link = http.client.HTTPConnection(near, timeout=PATIENCE_MS / 1000)
        link.request("POST", "/bring", body=SHOP.encode())
        assert link.getresponse().status == 200
        link.close()
        for _ in range(PATIENCE_MS // 50):
            with suppress(tomllib.TOMLDecodeError):
                text = self.file.read_text()
                if tomllib.loads(text) == tomllib.loads(SHOP):
                    return self.server if _REMARK in text else self._anew()
            time.sleep(0.05)
        raise AssertionError(self.file.read_text())

    def _anew(self) -> Server:
        """A remark that a test took away is in no data that could be put back."""
        self.end()
        shutil.rmtree(self.file.parent / "state")
        self.server = None
        return self.as_at_first()

    def end(self) -> None:
        """No test wants it any more."""
        if self.server is not None:
            self.server.end()


@pytest.fixture(scope="session")
def shared(tmp_path_factory) -> Iterator[Shared]:
    """The server that tests share."""
    held = Shared(tmp_path_factory.mktemp("shared"))
    yield held
    held.end()


@pytest.fixture
def server(shared) -> Server:
    """A page on this computer, its shop as at first."""
    return shared.as_at_first()


@pytest.fixture
def own_server(shop) -> Iterator[Server]:
    """One that the test may kill or end."""
    running = Server(shop)
    yield running
    running.end()


@pytest.fixture
def cable() -> Iterator[Cable]:
    """What the browser is joined to the server by."""
    laid = Cable()
    yield laid
    laid.end()


class Visit:
    """A page that a person looks at."""

    def __init__(self, page, server: Server) -> None:
        self.page, self.server = page, server
        self.errors: list[str] = []
        # A cut connection is told of by the browser too.
        self._foreseen = ["WebSocket", "net::ERR"]
        page.set_default_timeout(PATIENCE_MS)
        page.on("pageerror", lambda error: self.errors.append(str(error)))
        page.on("console", self._heard)

    def _heard(self, message) -> None:
        text = message.text
        if message.type == "error" and not any(each in text for each in self._foreseen):
            self.errors.append(text)

    def foresee(self, *words: str) -> None:
        """An error that the test brings about, whenever the browser comes to tell of it."""
        self._foreseen += words

    def go(self, place: str = "") -> None:
        """Open the page, or another place of it, and wait until all is checked."""
        self.page.goto(self.server.address + (f"#{place}" if place else ""))
        self.settled(place)

    def settled(self, place: str = "") -> None:
        """Wait until what is shown has been checked."""
        shown = f"[data-shown={place}]" if place else "[data-shown]"
        self.page.wait_for_selector(f"body[data-checking=no][data-old=no] main{shown} section")

    def saved(self) -> None:
        """Wait until nothing is left to be acknowledged."""
        self.page.wait_for_selector("#connection[data-state=saved]")

    def field(self, key: str):
        """A field, its folds opened."""
        self.page.wait_for_selector(f"#{key}", state="attached")
        self.page.locator(f"#{key}").evaluate(
            "e => { for (let a = e; a; a = a.parentElement) if (a.tagName === 'DETAILS') a.open = true }"
        )
        return self.page.locator(f"#{key}")

    def write(self, key: str, text: str) -> None:
        """Type into a field and leave it."""
        field = self.field(key)
        field.fill(text)
        field.press("Tab")

    def text(self, selector: str) -> str:
        """What stands there."""
        return self.page.locator(selector).inner_text()

    def wait_file(self, wanted) -> str:
        """Wait until the file on the disk is as wanted."""
        for _ in range(PATIENCE_MS // 100):
            text = self.server.file.read_text()
            if wanted(text):
                return text
            self.page.wait_for_timeout(100)
        raise AssertionError(text)


@pytest.fixture
def visiting(browser):
    """Opens pages on a server; errors in their scripts fail the test."""
    contexts, visits = [], []

    def visit(server: Server, *, width: int = 1280, height: int = 900, **options) -> Visit:
        context = browser.new_context(viewport={"width": width, "height": height}, **options)
        contexts.append(context)
        visits.append(Visit(context.new_page(), server))
        return visits[-1]

    yield visit
    for context in contexts:
        context.close()
    assert not [error for v in visits for error in v.errors]


@pytest.fixture
def visit(visiting, server) -> Visit:
    """A page of the server, opened and checked."""
    opened = visiting(server)
    opened.go("shop")
    return opened


@pytest.fixture
def own_visit(visiting, own_server) -> Visit:
    """The same of a server that the test may kill or end."""
    opened = visiting(own_server)
    opened.go("shop")
    return opened
