"""Files for machines in the results' folder."""

from __future__ import annotations

from typer.testing import CliRunner

from kerfwind.cli import app
from kerfwind.printed.writing import clear_machine_files, write_machine_files
from tests.drawing.samples import whole_cart


def test_every_panel_is_written_and_an_earlier_plan_goes(tmp_path):
    cart = whole_cart("backframe")
    written = write_machine_files(cart, tmp_path)
    assert all(p.stat().st_size > 300 for p in written)
    names = {str(p.relative_to(tmp_path)) for p in written}
    assert "panels/a-post.dxf" in names
    assert "solids/c-caster-block.stl" in names
    assert "solids/a-post.3mf" in names
    assert len(names) == 3 * len(cart.panels) + 2
    table = (tmp_path / "solids" / "panels.csv").read_text().splitlines()
    assert len(table) == len(cart.panels) + 1
    mine = tmp_path / "panels" / "mine.txt"
    mine.write_text("kept")
    clear_machine_files(tmp_path)
    assert not any(p.exists() for p in written)
    assert mine.exists()


def test_the_help_names_the_option():
    text = CliRunner().invoke(app, ["plan", "--help"], env={"COLUMNS": "200"}).output
    assert "--all" in text
    assert "DXF" in text
