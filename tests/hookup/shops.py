"""Shops, ends and fittings made up for the tests of this room."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np

from kerfwind.quantity import Quantity, parse
from kerfwind.shop import End, Fitting, Hose, Shop, Tool, parse_shop
from kerfwind.shop.catalogue.fittings import Offer


def size(value: str | float, path: str = "", *, assumed: bool = False) -> Quantity:
    """A length: a text, or a number in millimetres."""
    quantity = parse(value if isinstance(value, str) else f"{value} mm", "length", path=path)
    return quantity.standing_as("assumed") if assumed else quantity


def end(
    inside: str | float,
    outside: str | float,
    path: str = "",
    *,
    length: str | float = 40,
    taper: str = "0 °",
    assumed: bool = False,
    **rest: Any,
) -> End:
    """An end; diameters in millimetres."""
    return End(
        inside=size(inside, f"{path}.inside", assumed=assumed),
        outside=size(outside, f"{path}.outside", assumed=assumed),
        length=size(length, f"{path}.length"),
        taper=parse(taper, "angle", path=f"{path}.taper"),
        **rest,
    )


def fitting(
    name: str, a: End, b: End, count: int = 1, length: float = 90.0, **rest: Any
) -> Fitting:
    """A straight fitting."""
    bore = min(a.inside.best_si, b.inside.best_si) * 1e3
    return Fitting(
        name=name,
        end_a=a,
        end_b=b,
        count=count,
        bore=size(bore),
        length=size(length),
        turn=parse("0 °", "angle"),
        **rest,
    )


@cache
def base() -> Shop:
    """A shop read from a file, whose unit is joined without any fitting."""
    return parse_shop("""
[vacuum]
inlet = { inside = "57.5 mm", outside = "63 mm", length = "40 mm", taper = "0 °" }
[separator.cyclone]
inlet = { inside = "47.5 mm", outside = "53 mm", length = "40 mm", taper = "0 °" }
outlet = { inside = "47.5 mm", outside = "53 mm", length = "40 mm", taper = "0 °" }
[[hoses]]
name = "big hose"
bore = "58 mm"
length = "8 ft"
tool_end = { inside = "57 mm", outside = "62.6 mm", length = "50 mm", taper = "0 °" }
unit_end = { inside = "53.2 mm", outside = "59.5 mm", length = "45 mm", taper = "0 °" }
[[hoses]]
name = "thin hose"
bore = "35 mm"
length = "12 ft"
tool_end = { inside = "35 mm", outside = "40 mm", length = "45 mm", taper = "0 °" }
unit_end = { inside = "53.2 mm", outside = "57 mm", length = "45 mm", taper = "0 °" }
[[hoses]]
name = "link"
use = "link"
bore = "58 mm"
length = "3 ft"
tool_end = { inside = "53.2 mm", outside = "59.5 mm", length = "45 mm", taper = "0 °" }
unit_end = { inside = "51 mm", outside = "57.2 mm", length = "45 mm", taper = "0 °" }
[[tools]]
name = "planer"
hood = "planer hood"
port = { inside = "97 mm", outside = "101.6 mm", length = "45 mm", taper = "0 °" }
[[tools]]
name = "sander"
hood = "pad holes"
port = { inside = "30 mm", outside = "35 mm", length = "28 mm", taper = "0 °" }
""").shop


def with_parts(
    tools: dict[str, End], hoses: tuple[Hose, ...] | None = None, fittings: tuple[Fitting, ...] = ()
) -> Shop:
    """The base shop with other tools, hoses and fittings."""
    pattern: Tool = base().tools[0]
    made = tuple(pattern.model_copy(update={"name": n, "port": p}) for n, p in tools.items())
    changes: dict[str, Any] = {"tools": made, "fittings": fittings}
    if hoses is not None:
        changes["hoses"] = hoses
    return base().model_copy(update=changes)


def hose(name: str, end_: End, bore: float = 57.0) -> Hose:
    """A tool hose whose unit end goes onto the separator."""
    pattern = base().hoses[0]
    return pattern.model_copy(update={"name": name, "tool_end": end_, "bore": size(bore)})


def random_shop(seed: int, tools: int, parts: int) -> tuple[Shop, tuple[Offer, ...]]:
    """A small shop whose ends come in few sizes, so that chance fits are common."""
    rng = np.random.default_rng(seed)
    # Too wide for a stepped cuff, so that fittings are worth their price.
    sizes = np.array([70.0, 75.0, 80.0, 90.0, 95.0])

    def chance_end() -> End:
        outside = float(rng.choice(sizes)) + float(rng.uniform(-1.0, 1.0))
        inside = outside - float(rng.choice([4.5, 5.5]))
        goes = str(rng.choice(["either", "either", "in", "over"]))
        material = str(rng.choice(["rigid", "rigid", "rubber"]))
        return end(inside, outside, goes=goes, material=material)

    made = [
        fitting(
            f"part {i}",
            chance_end(),
            chance_end(),
            int(rng.integers(1, 3)),
            float(rng.uniform(40, 140)),
            kind=str(rng.choice(["reducer", "coupling", "cuff"])),
        )
        for i in range(parts)
    ]
    owned = tuple(f for i, f in enumerate(made) if i % 2 == 0)
    sold = tuple(Offer(f, p, p, p) for f in made[1::2] for p in [float(rng.integers(3, 13))])
    hoses = [base().hoses[2], hose("first", chance_end())]
    if rng.random() < 0.3:
        hoses.append(hose("second", chance_end(), float(rng.choice([35.0, 57.0]))))
    ports = {f"tool {i}": chance_end() for i in range(tools)}
    if rng.random() < 0.4:
        # Two tools with like ports can share a fitting.
        ports["tool 1"] = ports["tool 0"].model_copy()
    return with_parts(ports, tuple(hoses), owned), sold
