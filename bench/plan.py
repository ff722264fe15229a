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

EXAMPLE = Path(__file__).parents[1] / "examples" / "garage.toml"


def rows(full: bool, cal_seconds: float) -> list[dict[str, Any]]:
    """`plan.process`: the median of five runs of `kerfwind plan` on the example.

    The modules are compiled before, as an installer leaves them.
    """
    compileall.compile_dir(str(Path(kerfwind.__file__).parent), quiet=1)
    times = []
    for _ in range(5):
        with tempfile.TemporaryDirectory() as folder:
            start = time.perf_counter()
            subprocess.run(
                [sys.executable, "-m", "kerfwind", "plan", str(EXAMPLE), "--out", folder],
                check=True,
                capture_output=True,
            )
            times.append(time.perf_counter() - start)
    return [
        {
            "name": "plan.process",
            "value": round(sorted(times)[2] / cal_seconds, 3),
            "unit": "cal",
            "reference": "at most 3",
        }
    ]
