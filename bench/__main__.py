"""`make bench` and `make bench-full`: run, print a table, write `bench/results.json`."""

from __future__ import annotations

import argparse
import datetime
import importlib
import json
import pkgutil
import sys
import time
from pathlib import Path
from typing import Any

import bench
from bench.calibration import calibrate

RESULTS = Path(__file__).with_name("results.json")


def modules(only: str) -> list[str]:
    """Benchmark modules: those of this package that have `rows`."""
    names = sorted(m.name for m in pkgutil.iter_modules(bench.__path__))
    return [n for n in names if n not in ("__main__", "calibration") and only in n]


def main() -> int:
    """Run the benchmarks asked for."""
    parser = argparse.ArgumentParser(prog="python -m bench", description=__doc__)
    parser.add_argument("--full", action="store_true", help="also what takes long")
    parser.add_argument("--only", default="", help="modules whose name contains this")
    options = parser.parse_args()
    from rich.console import Console
    from rich.table import Table

    console = Console()
    cal = calibrate()
    console.print(f"1 cal = {cal:.3f} s on this machine now")
    today = datetime.date.today().isoformat()
    rows: list[dict[str, Any]] = []
    names = modules(options.only)
    if "plan" in names:
        names.remove("plan")
        names.insert(0, "plan")
    for name in names:
        module = importlib.import_module(f"bench.{name}")
        if not hasattr(module, "rows"):
            continue
        start = time.perf_counter()
        for row in module.rows(options.full, cal):
            rows.append({"reference": "", **row, "date": today})
        console.print(f"  {name}: {time.perf_counter() - start:.0f} s", style="dim")
    table = Table(title="Benchmarks")
    for column in ("name", "value", "unit", "reference"):
        table.add_column(column, justify="right" if column == "value" else "left")
    for row in rows:
        table.add_row(row["name"], f"{row['value']:.6g}", row["unit"], str(row["reference"]))
    console.print(table)
    kept = json.loads(RESULTS.read_text()) if RESULTS.exists() else []
    fresh = {row["name"]: row for row in rows}
    # Rows keep their places, the main job's first; new ones come at the end.
    merged = [fresh.pop(row["name"], row) for row in kept] + list(fresh.values())
    RESULTS.write_text(json.dumps(merged, indent=1, ensure_ascii=False) + "\n")
    console.print(f"Written to {RESULTS.relative_to(Path.cwd())}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
