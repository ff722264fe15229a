"""What is installed from a wheel has all that the page needs, away from the clone."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

from hatchling.builders.wheel import WheelBuilder

ROOT = Path(__file__).parents[2]
_READ = """
import kerfwind.app.server as server, kerfwind.app.run as run
from importlib.resources import files
print(server.__file__)
assert "[[tools]]" in server.example() and "[[tools]]" in run.starter()
assert (files("kerfwind.app") / "static" / "app.js").read_text()
from kerfwind.words import Voice
assert Voice().word("app.saved")
"""


def test_the_wheel_works_outside_the_clone(tmp_path):
    (wheel,) = WheelBuilder(str(ROOT)).build(directory=str(tmp_path), versions=["standard"])
    with zipfile.ZipFile(wheel) as packed:
        names = set(packed.namelist())
        packed.extractall(tmp_path / "site")
    for kept in ("static", "places"):
        for file in (ROOT / "src/kerfwind/app" / kept).rglob("*"):
            if file.is_file() and "__pycache__" not in file.parts:
                assert file.relative_to(ROOT / "src").as_posix() in names
    assert "kerfwind/app/example.toml" in names
    assert any(n.startswith("kerfwind/drawing/fonts/") and n.endswith(".ttf") for n in names)
    assert "kerfwind/shop/starter.toml" in names
    env = {**os.environ, "PYTHONPATH": str(tmp_path / "site")}
    told = subprocess.run(
        [sys.executable, "-c", _READ], cwd=tmp_path, env=env, capture_output=True, text=True
    )
    assert told.returncode == 0, told.stderr
    assert str(tmp_path) in told.stdout
