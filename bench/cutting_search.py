"""Sheets taken by the search on two published sets of instances.

Berkey and Wang (1987) and Martello and Vigo (1998), 500 instances in ten classes, and
Macedo, Alves and Valério de Carvalho (2010), 43 instances from furniture makers, both as
collected in 2DPackLib (Iori, de Lima, Martello, Monaci 2022). Turning allowed, no kerf.
Every nest is replayed cut by cut before it counts.
"""

from __future__ import annotations

import os
import time
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from kerfwind.cutting import Panel, Saw, SheetKind, check_nest, cut_order, nest

#: Effort worth about one second an instance on one worker.
ONE_SECOND = 1_000

FILES = {"class": "bin_packing_class.txt", "furniture": "bin_packing_furniture.txt"}

REFERENCES = {
    "class": "at most 7,050 with one second, 7,000 aimed at with ten; area bound 5,980; record "
    "for any pattern 6,988 (Gonçalves and Resende 2013); a packing library's best of 16: 7,135",
    "furniture": "at most 850 with one second, 830 aimed at with ten; area bound 814; a packing "
    "library's best of 8: 914",
}


@dataclass(frozen=True)
class Instance:
    """One line of a file: the sheet, and the parts with their numbers."""

    name: str
    sheet: tuple[int, int]
    parts: tuple[tuple[int, int, int], ...]


@dataclass(frozen=True)
class Outcome:
    """What the search made of an instance."""

    name: str
    sheets: int
    bound: int
    seconds: float


def data_folder() -> Path:
    """Where the files are: KERFWIND_DATA, or ``../shared/data`` beside the repository."""
    here = Path(__file__).resolve().parent.parent
    return Path(os.environ.get("KERFWIND_DATA", here.parent / "shared" / "data"))


def read_instances(path: Path) -> list[Instance]:
    """Every instance of a file, equal parts counted together."""
    made = []
    for line in path.read_text().splitlines():
        if not line.strip() or line.startswith("#"):
            continue
        name, width, height, *rows = line.strip().split(";")
        count: dict[tuple[int, int], int] = {}
        for row in rows:
            w, h, *quantity = (int(v) for v in row.split(","))
            count[w, h] = count.get((w, h), 0) + (quantity[0] if quantity else 1)
        parts = tuple((w, h, q) for (w, h), q in count.items())
        made.append(Instance(name, (int(width), int(height)), parts))
    return made


def solve(instance: Instance, budget: int) -> Outcome:
    """Nest one instance and replay it; a nest that is wrong is an error."""
    panels = [Panel(f"p{at}", w / 1000, h / 1000, q) for at, (w, h, q) in enumerate(instance.parts)]
    sheets = [SheetKind("s", instance.sheet[0] / 1000, instance.sheet[1] / 1000)]
    saw = Saw(kerf_m=0.0)
    start = time.perf_counter()
    made = nest(panels, sheets, saw, budget=budget)
    seconds = time.perf_counter() - start
    wrong = check_nest(made, panels, sheets, saw, cut_order(made, saw))
    if wrong:
        raise AssertionError(f"{instance.name}: {wrong[:3]}")
    return Outcome(instance.name, made.sheets_bought, made.bound_sheets, seconds)


def warm_up() -> None:
    """Compile, so that the first instance does not pay for it."""
    parts = ((706, 286, 8), (706, 516, 16), (986, 433, 10), (1120, 486, 12), (1120, 986, 12))
    solve(Instance("warm", (2750, 1220), parts), 250)


def _one(job: tuple[Instance, int]) -> Outcome:
    return solve(*job)


def solve_all(instances: Sequence[Instance], budget: int, workers: int) -> list[Outcome]:
    """All instances, on so many processes."""
    jobs = [(each, budget) for each in instances]
    warm_up()
    if workers == 1:
        return [_one(job) for job in jobs]
    with ProcessPoolExecutor(workers, initializer=warm_up) as pool:
        return list(pool.map(_one, jobs, chunksize=1))


def _row(name: str, outcomes: Sequence[Outcome], reference: str) -> list[dict[str, Any]]:
    sheets = sum(o.sheets for o in outcomes)
    bound = sum(o.bound for o in outcomes)
    proven = sum(o.sheets == o.bound for o in outcomes)
    longest = max(o.seconds for o in outcomes)
    mean = sum(o.seconds for o in outcomes) / len(outcomes)
    told = (
        f"{reference}; proven lower bound {bound:,}, {proven} of {len(outcomes)} instances proven; "
        f"{mean:.2f} s an instance, at most {longest:.1f} s"
    )
    return [{"name": name, "value": sheets, "unit": "sheets", "reference": told}]


def rows(full: bool, cal_seconds: float) -> list[dict[str, Any]]:
    """Rows of the benchmark: a sample of 30 with one second, or everything with one and ten."""
    folder = data_folder()
    made: list[dict[str, Any]] = []
    for key, file in FILES.items():
        path = folder / file
        if not path.exists():
            print(f"  {path.name} is not in {folder}: left out; KERFWIND_DATA says where it is")
            continue
        instances = read_instances(path)
        if not full:
            few = instances[:: len(instances) // 25][:25] if key == "class" else instances[::9][:5]
            outcomes = solve_all(few, ONE_SECOND, 1)
            made += _row(f"cutting.{key}_sample_sheets_1s", outcomes, f"sample of {len(few)}")
            continue
        for label, budget in (("1s", ONE_SECOND), ("10s", 10 * ONE_SECOND)):
            outcomes = solve_all(instances, budget, 2)
            made += _row(f"cutting.{key}_sheets_{label}", outcomes, REFERENCES[key])
    return made
