"""A plate for a switched outlet strip on the outside, with a tie for its cord."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..cart.fitted import Fitted
from ..cart.loads import at
from ..fact_samples import spread_fact
from ..facts import Amount, Band, Term, facts, state
from ..finding import finding
from ..joinery.model import HardwareItem, Step, Taken
from ..solids import Opening, box
from ..sources import fact
from .places import HostFace, OptionPlace, OptionShape, Site, seen_from

_IN = 0.0254


@dataclass(frozen=True)
class _Strip:
    """Where the strip lies on the plate: along it and up [m]."""

    u: tuple[float, float]
    v: tuple[float, float]


def switch_shapes(site: Site, wood: HostFace) -> list[OptionShape]:
    """Plates for the outlet strip that a face has room for, with the strip upright or level."""
    rule = site.rule
    long, wide, deep = (fact(f"cart.strip.{k}").value for k in ("length", "width", "depth"))
    plugs = fact("cart.strip.plugs").value
    low, high = fact("cart.switch.reach").span
    end, side = 2 * _IN, 0.625 * _IN
    a, b = rule.up(long + end + 0.25 * _IN), rule.up(wide + 2 * side)
    shapes = []
    for u, v in ((b, a), (a, b)):
        strip = (
            _Strip((side, side + wide), (end, end + long))
            if v > u
            else _Strip((end, end + long), (side, side + wide))
        )
        middle = (strip.v[0] + strip.v[1]) / 2
        shapes.append(
            OptionShape(
                u,
                v,
                ((0.0, u, 0.0, site.t + deep, 0.0, v),),
                ((*strip.u, site.t, site.t + deep + plugs, *strip.v),),
                want_v=fact("cart.switch.reach").value - middle,
                span_v=(low - middle, high - middle),
                data=strip,
            )
        )
    return shapes


def build_switch(site: Site, spot: OptionPlace) -> tuple[Step, Fitted]:
    """Build the plate in its place and put the outlet strip on it."""
    strip: _Strip = spot.shape.data
    u, v = spot.shape.plate_u, spot.shape.plate_v
    # Two holes through which a tie holds the cord, at the end where it leaves.
    apart, end = 0.75 * _IN, 1.0 * _IN
    if v > u:
        places = [(u / 2 - apart / 2, end), (u / 2 + apart / 2, end)]
    else:
        places = [(end, v / 2 - apart / 2), (end, v / 2 + apart / 2)]
    d = 0.008 if site.bench.metric else 0.3125 * _IN
    site.bench.panel(
        "switch plate",
        u,
        v,
        {"switch plate": spot.upright(0.0, 0.0, 0.0)},
        grain="free",
        openings=tuple(Opening(x, y, d, d, d / 2) for x, y in places),
        note=state("options.switch.holes"),
    )
    joint = site.mount("switch", "switch plate", spot.wood.host)
    deep = fact("cart.strip.depth").value
    a = spot.point(strip.u[0], site.t, strip.v[0])
    b = spot.point(strip.u[1], site.t + deep, strip.v[1])
    body = box(
        "outlet strip",
        [min(p) for p in zip(a, b, strict=True)],
        [max(p) for p in zip(a, b, strict=True)],
        "round",
        0.6,
    )
    x, y, z = (float(c) for c in body.centroid_m)
    load = at(body.name, spread_fact("cart.strip.mass", site.draw), x, y, z)
    reach = fact("cart.switch.reach")
    low, high = reach.span
    amps = math.ceil(site.shop.vacuum.amps.high_si)
    stands = finding(
        "cart.options.switch",
        "stands",
        "good" if low <= z <= high else "advice",
        Term("option", "switch"),
        facts=facts(middle=Amount(z, "length"), reach=Band(reach.value, low, high, "length")),
        sources=("cart.switch.reach",),
    )
    item = HardwareItem(
        "outlet-strip",
        state("options.switch.strip", rated=Amount(amps, "current", "short")),
        1,
        (state("options.switch.strip.use"),),
        kind="outlet strip",
    )
    step = Step(
        0,
        state("options.switch.title"),
        (
            state("options.switch.fix", host=Term("panel", spot.wood.host)),
            *seen_from(spot.wood.side),
        ),
        (state("options.switch.mind"),),
        ("switch plate", "outlet strip"),
        (joint.key,),
        takes=(Taken(item.key, 1),),
    )
    return step, Fitted((body,), (load,), (stands,), (item,))
