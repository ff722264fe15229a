"""A hundred invented shops of forty tools and four hundred fittings, each solved whole."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Any

import numpy as np

from kerfwind.hookup import Weights, choose
from kerfwind.hookup.choosing import solve
from kerfwind.quantity import Draw, Quantity
from kerfwind.shop import End, Fitting, Hose, Shop, Tool, parse_shop, read_shop
from kerfwind.shop.catalogue.fittings import Offer

_EXAMPLE = Path(__file__).parents[1] / "examples" / "garage.toml"
TOOLS, FITTINGS, SHOPS = 40, 400, 100
_BASE = """
[vacuum]
inlet = { inside = "57.5 mm", outside = "63 mm" }
[separator.cyclone]
inlet = { inside = "47.5 mm", outside = "53 mm" }
outlet = { inside = "47.5 mm", outside = "53 mm" }
[[tools]]
name = "planer"
hood = "planer hood"
"""
#: Outside diameters that ports, hoses and fittings crowd about [mm].
_CROWDS = np.array([35.0, 38.0, 41.0, 48.0, 57.0, 60.0, 63.0, 76.0, 100.0, 102.0])
_KINDS = ("reducer", "coupling", "cuff", "hose end")
_SHARES = (0.75, 0.1, 0.1, 0.05)


def _size(best: float, error: float, path: str) -> Quantity:
    return Quantity(best, best - error, best + error, "length", "normal", 0.0, "", path)


def _end(rng: np.random.Generator, path: str, about: float | None = None) -> End:
    middle = float(rng.choice(_CROWDS)) if about is None else about
    outside = (middle + float(rng.normal(0, 0.8))) / 1e3
    wall = float(rng.uniform(1.6, 3.2)) / 1e3
    return End.model_construct(
        nominal=None,
        inside=_size(outside - 2 * wall, 3e-4, f"{path}.inside"),
        outside=_size(outside, 3e-4, f"{path}.outside"),
        length=_size(float(rng.uniform(0.025, 0.05)), 0.0, f"{path}.length"),
        taper=Quantity(0.01, 0.0, 0.02, "angle", "flat", 0.0, "", f"{path}.taper"),
        material=str(rng.choice(["rigid", "rigid", "rigid", "rubber"])),
        joint="plain",
        goes=str(rng.choice(["either", "in", "over"])),
    )


def _fitting(rng: np.random.Generator, name: str) -> Fitting:
    a, b = _end(rng, f"{name}.end_a"), _end(rng, f"{name}.end_b")
    return Fitting.model_construct(
        name=name,
        kind=str(rng.choice(_KINDS, p=_SHARES)),
        end_a=a,
        end_b=b,
        count=int(rng.integers(1, 3)),
        bore=_size(min(a.inside.best_si, b.inside.best_si), 0.0, ""),
        length=_size(float(rng.uniform(0.05, 0.14)), 0.0, ""),
        turn=Quantity(0.0, 0.0, 0.0, "angle"),
    )


def shop_of(seed: int) -> tuple[Shop, tuple[Offer, ...]]:
    """One shop: a tenth of the fittings owned, the rest on sale; two tool hoses and a link."""
    rng = np.random.default_rng(seed)
    base = parse_shop(_BASE).shop
    pattern: Tool = base.tools[0]
    tools = tuple(
        pattern.model_copy(update={"name": f"tool {i}", "port": _end(rng, f"tool {i}")})
        for i in range(TOOLS)
    )
    fittings = [_fitting(rng, f"fitting {i}") for i in range(FITTINGS)]
    owned = tuple(fittings[: FITTINGS // 10])
    sold = tuple(
        Offer(f, price, price, price)
        for f in fittings[FITTINGS // 10 :]
        for price in [float(rng.uniform(3, 14))]
    )
    hoses: list[Hose] = []
    # Ends that suit a big and a thin hose; those at the unit meet what they go on.
    for name, use, bore, tool_end, unit_end in (
        ("big", "tool", 0.058, 60.0, 59.0),
        ("thin", "tool", 0.035, 38.0, 59.0),
        ("link", "link", 0.058, 59.0, 57.2),
    ):
        old = base.hoses[0]
        hoses.append(
            old.model_copy(
                update={
                    "name": name,
                    "use": use,
                    "bore": _size(bore, 0.0, ""),
                    "tool_end": _end(rng, f"{name}.tool_end", tool_end),
                    "unit_end": _end(rng, f"{name}.unit_end", unit_end),
                }
            )
        )
    return base.model_copy(update={"tools": tools, "fittings": owned, "hoses": tuple(hoses)}), sold


def measure(count: int, limit_s: float) -> list[tuple[float, bool, float]]:
    """For each shop: seconds, whether proven optimal, and the gap as a share."""
    done = []
    for seed in range(count):
        shop, sold = shop_of(seed)
        start = time.perf_counter()
        _, best, _ = solve(shop, Draw(1), Weights(), sold, runner_up=False, time_s=limit_s)
        took = time.perf_counter() - start
        gap = (best.weight - best.bound) / max(best.weight, 1e-9)
        done.append((took, gap <= 1e-4, max(gap, 0.0)))
    return done


def _ten_tools(cal_seconds: float) -> dict[str, Any]:
    """The example's hookups with the runner-up, the shop being read: best of three."""
    shop = read_shop(_EXAMPLE).shop
    took = []
    for _ in range(3):
        start = time.perf_counter()
        choose(shop, Draw(200))
        took.append(time.perf_counter() - start)
    return {
        "name": "hookup.ten_tools",
        "value": min(took) / cal_seconds,
        "unit": "cal",
        "reference": "below 0.3",
    }


def rows(full: bool, cal_seconds: float) -> list[dict[str, Any]]:
    """The 95th of a hundred times in cal, how many were proven, and the widest gap.

    Proven: no answer is better by more than a ten-thousandth.
    """
    count = SHOPS if full else 10
    done = measure(count, 2 * cal_seconds)
    times = sorted(t / cal_seconds for t, _, _ in done)
    at = max(0, -(-95 * count // 100) - 1)
    within = sum(ok and t <= 2 * cal_seconds for t, ok, _ in done)
    name = "hookup.forty_tools" if full else "hookup.forty_tools.ten_shops"
    return [
        _ten_tools(cal_seconds),
        {"name": name, "value": times[at], "unit": "cal", "reference": "at most 2"},
        {
            "name": f"{name}.proven",
            "value": within / count,
            "unit": "share",
            "reference": "at least 0.95",
        },
        {
            "name": f"{name}.widest_gap",
            "value": max(g for _, _, g in done),
            "unit": "share",
            "reference": "0 where proven",
        },
    ]
