"""The code that a phone's camera reads from the terminal."""

from __future__ import annotations

import numpy as np
import pytest
import zxingcpp
from typer.testing import CliRunner

from kerfwind.app import run
from kerfwind.cli import app

#: Upper and lower half of each letter of the code; what is printed is light on a dark terminal.
_HALVES = {"█": (255, 255), "▀": (255, 0), "▄": (0, 255), " ": (0, 0)}


@pytest.mark.parametrize("port", [80, 43017])
def test_the_code_leads_to_the_address_with_the_secret(monkeypatch, tmp_path, port):
    from kerfwind.app.guard import new_secret

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
