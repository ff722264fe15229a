"""A cart's panels proven best, and a thousand panels in forty sizes."""

from __future__ import annotations

import random
import time
from typing import Any

from kerfwind.cutting import Nest, Panel, Saw, SheetKind, check_nest, cut_order, nest

INCH = 0.0254
SAW = Saw(kerf_m=0.125 * INCH, trim_m=0.25 * INCH)
FULL = SheetKind("4 by 8", 96 * INCH, 48 * INCH, "plywood", 0.018, 60.0)


def cart() -> list[Panel]:
    """Twelve panels of a rolling cart, most with their grain upright."""
    return [
        Panel("side", 40 * INCH, 18 * INCH, 2, grain="along", banded=("near",)),
        Panel("shelf", 20.5 * INCH, 18 * INCH, 3, grain="across"),
        Panel("back", 39 * INCH, 20.5 * INCH, 1, grain="along"),
        Panel("front rail", 20.5 * INCH, 4 * INCH, 2),
        Panel("cleat", 17 * INCH, 2.5 * INCH, 4),
    ]


def thousand() -> list[Panel]:
    """A thousand panels in forty sizes, half of them with grain."""
    chance = random.Random(7)
    return [
        Panel(
            f"size {k + 1}",
            chance.randint(120, 900) / 1000,
            chance.randint(60, 600) / 1000,
            25,
            grain="along" if k % 2 else "free",
        )
        for k in range(40)
    ]


def _timed(panels: list[Panel], budget: int) -> tuple[Nest, float]:
    start = time.perf_counter()
    made = nest(panels, [FULL], SAW, budget=budget)
    seconds = time.perf_counter() - start
    wrong = check_nest(made, panels, [FULL], SAW, cut_order(made, SAW))
    if wrong:
        raise AssertionError(wrong[:3])
    return made, seconds


def rows(full: bool, cal_seconds: float) -> list[dict[str, Any]]:
    """Times in units of the calibration workload."""
    made, seconds = _timed(cart(), 100)
    if not made.proven:
        raise AssertionError(f"the cart is not proven: {made.nearness}")
    found = [
        {
            "name": "cutting.cart",
            "value": seconds / cal_seconds,
            "unit": "cal",
            "reference": "at most 0.5 cal; proven best",
        }
    ]
    first, seconds = _timed(thousand(), 0)
    found.append(
        {
            "name": "cutting.thousand",
            "value": seconds / cal_seconds,
            "unit": "cal",
            "reference": f"at most 2 cal for a nest; {first.sheets_bought} sheets, "
            f"bound {first.bound_sheets}",
        }
    )
    better, seconds = _timed(thousand(), 5_500 if full else 1_100)
    found.append(
        {
            "name": "cutting.thousand_longer",
            "value": better.sheets_bought,
            "unit": "sheets",
            "reference": f"{first.sheets_bought} at first, bound {better.bound_sheets}; "
            f"{seconds:.0f} s",
        }
    )
    return found
