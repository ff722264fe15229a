"""Bounds and nests against published instances.

Instances as collected in 2DPackLib (Iori, de Lima, Martello, Monaci 2022).
"""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.say import text

from kerfwind.cutting import Nest, Panel, Progress, Saw, SheetKind, check_nest, cut_order, nest

DATA = Path(__file__).parent / "data" / "instances.txt"
SAW = Saw(kerf_m=0.0)


def instances() -> dict[str, tuple[list[Panel], list[SheetKind]]]:
    made = {}
    for line in DATA.read_text().splitlines():
        if line.startswith("#"):
            continue
        name, width, height, *rows = line.split(";")
        panels = []
        for at, row in enumerate(rows):
            w, h, *quantity = (int(v) for v in row.split(","))
            panels.append(
                Panel(f"p{at}", w / 1000, h / 1000, quantity[0] if quantity else 1, "board")
            )
        sheets = [SheetKind("s", int(width) / 1000, int(height) / 1000, "board")]
        made[name] = (panels, sheets)
    return made


INSTANCES = instances()


def area_bound(panels: list[Panel], sheet: SheetKind) -> int:
    total = sum(round(p.length_m * 1000) * round(p.width_m * 1000) * p.quantity for p in panels)
    return -(-total // (round(sheet.length_m * 1000) * round(sheet.width_m * 1000)))


@pytest.mark.parametrize("name", INSTANCES)
def test_first_nest_replays_and_bound_holds(name: str) -> None:
    panels, sheets = INSTANCES[name]
    made = nest(panels, sheets, SAW, budget=0)
    assert check_nest(made, panels, sheets, SAW, cut_order(made, SAW)) == []
    assert area_bound(panels, sheets[0]) <= made.bound_sheets <= made.sheets_bought


def test_pairs_that_cannot_share_a_sheet() -> None:
    # a02: 28 of 2357 x 935 and 8 of 2117 x 775 on 2750 x 1220; no two of these fit together.
    panels, sheets = INSTANCES["a02"]
    made = nest(panels, sheets, SAW, budget=0)
    assert made.bound_sheets == 36
    assert made.sheets_bought == 36
    assert made.proven
    assert "fewest possible, proven" in text(made.nearness)


@pytest.fixture(scope="module")
def searched() -> tuple[Nest, list[Progress]]:
    panels, sheets = INSTANCES["cl04_060_03"]
    seen: list[Progress] = []

    def watch(progress: Progress) -> bool:
        seen.append(progress)
        return True

    return nest(panels, sheets, SAW, budget=400, seed=3, watch=watch), seen


def test_the_long_search_is_right_watched_and_repeatable(
    searched: tuple[Nest, list[Progress]],
) -> None:
    made, seen = searched
    panels, sheets = INSTANCES["cl04_060_03"]
    assert check_nest(made, panels, sheets, SAW, cut_order(made, SAW)) == []
    assert made.sheets_bought <= nest(panels, sheets, SAW, budget=0).sheets_bought
    assert seen[-1].evaluations <= 400 + 100
    assert [p.evaluations for p in seen] == sorted(p.evaluations for p in seen)
    assert nest(panels, sheets, SAW, budget=400, seed=3) == made


def test_the_search_can_be_stopped() -> None:
    panels, sheets = INSTANCES["cl04_060_03"]
    calls = 0

    def stop(_: Progress) -> bool:
        nonlocal calls
        calls += 1
        return calls < 3

    made = nest(panels, sheets, SAW, budget=20_000, watch=stop)
    assert made.stopped
    assert calls == 3
    assert check_nest(made, panels, sheets, SAW, cut_order(made, SAW)) == []
