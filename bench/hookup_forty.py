"""A hundred invented shops of forty tools, and a drawer of four hundred owned fittings.

All choose from what they own and from the whole catalogue.
"""

from __future__ import annotations

import time
from pathlib import Path
from typing import Any

import numpy as np

from kerfwind.hookup import Weights, choose
from kerfwind.hookup.choosing import solve_shop
from kerfwind.quantity import Draw, Quantity
from kerfwind.shop import End, Fitting, Hose, Shop, Tool, parse_shop, read_shop

_SHOP = Path(__file__).parents[1] / "tests" / "shops" / "one_car.toml"
TOOLS, OWNED, SHOPS = 40, 60, 100
DRAWER, DRAWERS = 400, 5
PROVEN = 1e-4
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


def shop_of(seed: int, tools: int = TOOLS, owned: int = OWNED) -> Shop:
    """One shop: two tool hoses and a link, ports and fittings of all sizes."""
    rng = np.random.default_rng(seed)
    base = parse_shop(_BASE).shop
    pattern: Tool = base.tools[0]
    with_ports = tuple(
        pattern.model_copy(update={"name": f"tool {i}", "port": _end(rng, f"tool {i}")})
        for i in range(tools)
    )
    fittings = tuple(_fitting(rng, f"fitting {i}") for i in range(owned))
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
    return base.model_copy(
        update={"tools": with_ports, "fittings": fittings, "hoses": tuple(hoses)}
    )


def measure(count: int, owned: int, cal_seconds: float) -> list[tuple[float, float]]:
    """For each shop: time of the best answer in cal, and its gap as a share."""
    done = []
    for seed in range(count):
        shop = shop_of(seed, owned=owned)
        start = time.perf_counter()
        best = solve_shop(shop, Draw(200), Weights(), runner_up=False).best
        took = (time.perf_counter() - start) / cal_seconds
        done.append((took, max(0.0, best.weight - best.bound) / best.weight))
    return done


def _ten_tools(cal_seconds: float) -> dict[str, Any]:
    """The example's hookups with the runner-up, the shop being read: best of three."""
    shop = read_shop(_SHOP).shop
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
    """Times of forty tools and of a large drawer, the share proven and the widest gap.

    Proven: no answer is better by more than a ten-thousandth.
    """
    count = SHOPS if full else 10
    done = measure(count, OWNED, cal_seconds)
    times = sorted(took for took, _ in done)
    name = "hookup.forty_tools" if full else "hookup.forty_tools.ten_shops"
    drawers = measure(DRAWERS if full else 1, DRAWER, cal_seconds)
    return [
        _ten_tools(cal_seconds),
        {
            "name": name,
            "value": times[-(-95 * count // 100) - 1],
            "unit": "cal",
            "reference": "95th of a hundred at most 2",
        },
        {
            "name": f"{name}.proven",
            "value": sum(gap <= PROVEN for _, gap in done) / count,
            "unit": "share",
            "reference": "1",
        },
        {
            "name": "hookup.drawer_400",
            "value": max(took for took, _ in drawers),
            "unit": "cal",
            "reference": "at most 20",
        },
        {
            "name": "hookup.drawer_400.widest_gap",
            "value": max(gap for _, gap in drawers),
            "unit": "share",
            "reference": "0 where proven",
        },
    ]
