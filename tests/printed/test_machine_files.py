"""Files for machines in the results' folder."""

from __future__ import annotations

from typer.testing import CliRunner

from kerfwind.cli import app
from kerfwind.printed.writing import machine_files_of
from kerfwind.words import Voice
from tests.drawing.samples import whole_cart


def test_every_panel_is_written():
    cart = whole_cart("backframe")
    files = machine_files_of(cart, cart.panels, Voice())
    assert all(len(data) > 300 for data in files.values())
    assert {"panels/a-post.dxf", "solids/c-caster-block.stl", "solids/a-post.3mf"} <= files.keys()
    assert len(files) == 3 * len(cart.panels) + 2
    table = files["solids/panels.csv"].splitlines()
    assert len(table) == len(cart.panels) + 1


def test_the_help_names_the_option():
    text = CliRunner().invoke(app, ["plan", "--help"], env={"COLUMNS": "200"}).output
    assert "--all" in text
    assert "DXF" in text
