"""Files for machines in the results' folder."""

from __future__ import annotations

import errno

import pytest
from typer.testing import CliRunner

from kerfwind.cli import app
from kerfwind.printed.writing import MACHINE_FILES, machine_files_of
from kerfwind.wholefiles import gather, gathered
from tests.drawing.samples import whole_cart


def test_every_panel_is_written():
    cart = whole_cart("backframe")
    files = machine_files_of(cart)
    assert all(len(data) > 300 for data in files.values())
    assert {"panels/a-post.dxf", "solids/c-caster-block.stl", "solids/a-post.3mf"} <= files.keys()
    assert len(files) == 3 * len(cart.panels) + 2
    table = files["solids/panels.csv"].splitlines()
    assert len(table) == len(cart.panels) + 1


def test_an_earlier_plans_files_go_and_others_stay(tmp_path):
    for name in ("panels/a-side.dxf", "panels/mine.txt", "solids/cart.glb"):
        gather(tmp_path / name, "old")
    with gathered(tmp_path, MACHINE_FILES) as work:
        gather(work / "panels/b-post.dxf", "new")
    left = {str(p.relative_to(tmp_path)) for p in tmp_path.rglob("*") if p.is_file()}
    assert left == {"panels/b-post.dxf", "panels/mine.txt"}


def test_a_disk_that_fills_leaves_all_as_it_was(tmp_path):
    def fill() -> None:
        with gathered(tmp_path, ("drawings/*.svg",)) as work:
            gather(work / "drawings/unit.svg", "half")
            raise OSError(errno.ENOSPC, "No space left on device")

    gather(tmp_path / "drawings/unit.svg", "old")
    with pytest.raises(OSError, match="No space"):
        fill()
    assert [p for p in tmp_path.rglob("*") if p.is_file()] == [tmp_path / "drawings/unit.svg"]
    assert (tmp_path / "drawings/unit.svg").read_text() == "old"


def test_the_help_names_the_option():
    text = CliRunner().invoke(app, ["plan", "--help"], env={"COLUMNS": "200"}).output
    assert "--all" in text
    assert "DXF" in text
