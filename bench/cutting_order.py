"""The order at the saw, cut by its settings alone, and what ten thousand panels take."""

from __future__ import annotations

import random
import resource
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from bench.sawn import saw_up
from kerfwind.cutting import Panel, Saw, SheetKind, cut_order, nest

SAW = Saw(kerf_m=0.0032, trim_m=0.006)
FULL = SheetKind("full", 2.44, 1.22, price=60.0)


def lists(number: int, seed: int) -> Iterator[list[Panel]]:
    """Lists of four to fourteen sizes, one to eight of each."""
    chance = random.Random(seed)
    for _ in range(number):
        yield [
            Panel(
                f"p{i}",
                chance.randint(80, 1400) / 1000,
                chance.randint(60, 700) / 1000,
                chance.randint(1, 8),
                grain=chance.choice(["along", "free", "free"]),
            )
            for i in range(chance.randint(4, 14))
        ]


def written(folder: Path, panels: int) -> Path:
    """A list of so many panels, each of a size of its own."""
    chance = random.Random(panels)
    path = folder / f"{panels}.csv"
    rows = (
        f"p{i},{chance.randint(100, 700)} mm,{chance.randint(60, 500)} mm" for i in range(panels)
    )
    path.write_text("name,length,width\n" + "\n".join(rows) + "\n")
    return path


def whole_command(panels: int) -> tuple[float, float]:
    """CPU seconds of the whole command, and the most memory that it held [MB]."""
    with tempfile.TemporaryDirectory() as folder:
        path = written(Path(folder), panels)
        words = ["cut", str(path), "--out", f"{folder}/out", "--effort", "0"]
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        child = subprocess.Popen(
            [sys.executable, "-m", "kerfwind", *words], stdout=subprocess.DEVNULL
        )
        _, status, used = _wait(child)
        if status:
            raise AssertionError(f"{panels} panels: exit status {status}")
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        took = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
        return took, used / 1024


def _wait(child: subprocess.Popen[bytes]) -> tuple[int, int, float]:
    import os

    pid, status, used = os.wait4(child.pid, 0)
    child.returncode = status
    return pid, status, float(used.ru_maxrss)


def rows(full: bool, cal_seconds: float) -> list[dict[str, Any]]:
    """Panels left over and pieces about, over thirty lists; and the whole command at scale."""
    panels = left_over = settings = cuts = slivers = 0
    most_open = []
    for each in lists(30, 14):
        made = nest(each, [FULL], SAW)
        sawn = saw_up(made, cut_order(made, SAW), SAW)
        if sawn.wrong:
            raise AssertionError(sawn.wrong[:3])
        panels += sawn.panels
        left_over += sawn.left_over
        settings += sawn.settings
        cuts += sawn.cuts
        slivers += sawn.slivers
        most_open.append(sawn.most_open)
    found = [
        {
            "name": "cutting.rest_panels",
            "value": left_over / panels,
            "unit": "",
            "reference": f"0: share of panels whose size is a leftover; {panels:,} panels, "
            f"{cuts:,} cuts, {settings:,} settings, {slivers} slivers under 10 mm",
        },
        {
            "name": "cutting.open_pieces",
            "value": statistics.median(most_open),
            "unit": "pieces",
            "reference": f"at most 8: median over 30 lists of the most part-cut pieces about; "
            f"worst {max(most_open)}",
        },
    ]
    if full:
        few, _ = whole_command(1_000)
        many, memory = whole_command(10_000)
        found.append(
            {
                "name": "cutting.ten_thousand_ratio",
                "value": many / few,
                "unit": "",
                "reference": f"at most 14: CPU of ten thousand panels over one thousand; "
                f"{many:.0f} s against {few:.0f} s, {memory:.0f} MB at most",
            }
        )
    return found
