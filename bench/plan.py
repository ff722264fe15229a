"""The main job, timed as a person runs it: a whole process from start to files."""

from __future__ import annotations

import compileall
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

import kerfwind
from bench.calibration import calibrate
from kerfwind.plan import make_plan
from kerfwind.shop import parse_shop
from kerfwind.stages import Stages

SHOP = Path(__file__).parents[1] / "tests" / "shops" / "one_car.toml"


def rows(full: bool, cal_seconds: float) -> list[dict[str, Any]]:
    """`plan.process`, the median of five runs of `kerfwind plan` on a kept shop, and `plan.warm_title`.

    The modules are compiled before, as an installer leaves them. Each run is held against the
    workload just before and after it: a machine that others share changes its pace.
    """
    compileall.compile_dir(str(Path(kerfwind.__file__).parent), quiet=1)
    ratios = []
    beside = calibrate(1)
    for _ in range(5):
        with tempfile.TemporaryDirectory() as folder:
            start = time.perf_counter()
            subprocess.run(
                [sys.executable, "-m", "kerfwind", "plan", str(SHOP), "--out", folder],
                check=True,
                capture_output=True,
            )
            took, before = time.perf_counter() - start, beside
        beside = calibrate(1)
        ratios.append(took / ((before + beside) / 2))
    return [
        {
            "name": "plan.process",
            "value": round(sorted(ratios)[2], 3),
            "unit": "cal",
            "reference": "at most 2.6",
        },
        {
            "name": "plan.warm_title",
            "value": round(_new_title() / cal_seconds, 4),
            "unit": "cal",
            "reference": "a plan again after a new title, in the same process; at most 0.05",
        },
    ]


def _new_title() -> float:
    """Seconds that a plan takes again after a new title, read anew: the median of nine."""
    text = SHOP.read_text(encoding="utf-8")
    stages = Stages()
    make_plan(parse_shop(text), stages=stages)
    times = []
    for number in range(9):
        changed = text.replace('name = "One-car garage"', f'name = "Title {number}"', 1)
        start = time.perf_counter()
        make_plan(parse_shop(changed), stages=stages)
        times.append(time.perf_counter() - start)
    return sorted(times)[4]
