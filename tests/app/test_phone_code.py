"""The code that a phone's camera reads from the terminal, or from the page on the computer."""

from __future__ import annotations

import io
from importlib.resources import files

import numpy as np
import pytest
import zxingcpp
from PIL import Image
from starlette.requests import Request
from typer.testing import CliRunner

from kerfwind.app import run
from kerfwind.app.door import Door
from kerfwind.app.guard import new_secret
from kerfwind.app.server import Desk, make_app
from kerfwind.cli import app

#: Upper and lower half of each letter of the code; what is printed is light on a dark terminal.
_HALVES = {"█": (255, 255), "▀": (255, 0), "▄": (0, 255), " ": (0, 0)}


@pytest.mark.parametrize("port", [80, 43017])
def test_the_code_leads_to_the_address_with_the_secret(monkeypatch, tmp_path, port):
    phone = f"http://192.168.178.203:{port}/?key={new_secret()}"

    def open_page(path, *, told, **options):
        assert options["phone"]
        told(run.Address(f"http://127.0.0.1:{port}/", phone))

    monkeypatch.setattr(run, "open_page", open_page)
    done = CliRunner().invoke(app, ["open", str(tmp_path / "shop.toml"), "--phone"])
    assert done.exit_code == 0, done.output
    assert phone in done.output.replace("\n", "")
    lines = [line for line in done.output.splitlines() if line and set(line) <= set(_HALVES)]
    rows = [[_HALVES[c][half] for c in line] for line in lines for half in (0, 1)]
    seen = np.kron(np.array(rows, dtype=np.uint8), np.ones((4, 4), dtype=np.uint8))
    (code,) = zxingcpp.read_barcodes(seen)
    assert code.text == phone
    assert code.format == zxingcpp.BarcodeFormat.QRCode


def page_of(desk, host="127.0.0.1") -> str:
    """The page's frame; it is made without waiting for anything."""
    asked = Request({"type": "http", "server": (host, 80)})
    with pytest.raises(StopIteration) as done:
        desk.page(asked).send(None)
    return done.value.value.body.decode()


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_the_page_shows_the_code_where_the_work_is(browser, shop, theme):
    secret = new_secret()
    desk = Desk(shop)
    desk.door = Door(make_app(desk))
    desk.door.address = f"http://192.168.178.203:43017/?key={secret}"
    css = (files("kerfwind.app") / "static" / "app.css").read_text()
    context = browser.new_context(color_scheme=theme)
    page = context.new_page()
    page.set_content(page_of(desk))
    page.add_style_tag(content=css)
    code = page.locator("#phone svg")
    assert not code.is_visible()
    page.evaluate("document.body.dataset.at = 'bench'")
    (read,) = zxingcpp.read_barcodes(Image.open(io.BytesIO(code.screenshot())))
    assert read.text == desk.door.address
    assert "not encrypted" in page.locator("#phone").inner_text()
    page.set_viewport_size({"width": 390, "height": 844})
    assert not code.is_visible()
    context.close()
    desk.history.close()


def test_without_a_phone_there_is_no_code(shop):
    desk = Desk(shop)
    assert "<svg" not in page_of(desk)
    assert "Let a phone in" in page_of(desk)
    desk.history.close()


def test_a_phone_is_shown_no_code(shop):
    desk = Desk(shop)
    desk.door = Door(make_app(desk))
    desk.door.address = f"http://192.168.178.203:43017/?key={new_secret()}"
    assert 'id="phone"' not in page_of(desk, "192.168.178.203")
    desk.history.close()
